#include "rules/account.hpp"
#include "rules/gain.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/sentences.hpp"
#include "rules/standing.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace rules::text {

namespace {

using board::Color;
using board::Position;
using collection::PhraseKind;
using collection::PhraseUnit;
using solve::Answer;
using solve::Judgement;

/// In pawns: the least that the words allow, and from where on they are too modest.
struct Range {
    int least;
    int modest;
};

/// A minor piece for a pawn is still "a piece", and a rook still is; a queen may cost a rook.
Range range_of(PhraseUnit unit) {
    constexpr int never = 1000;
    constexpr std::array<Range, 6> ranges{{{1, 3}, {2, 6}, {1, 4}, {4, 8}, {4, 13}, {1, never}}};
    return ranges.at(static_cast<std::size_t>(unit));
}

/// A sentence, and whom it speaks of.
struct Claim {
    const Sentence& sentence;
    Color side; ///< who is said to win
    Position after;
};

/// Without a name the words speak of the move they follow. After a defender's move "wins" may mean either.
std::optional<Color> side_of(const PuzzleView& view, const Sentence& sentence) {
    const bool loss = sentence.phrase.kind == PhraseKind::loss;
    if (sentence.phrase.side) {
        return loss ? !*sentence.phrase.side : *sentence.phrase.side;
    }
    const bool by_solver = view.puzzle().solution.depth(sentence.node) % 2 == 1;
    const Color mover = by_solver ? view.solver_side() : !view.solver_side();
    if (loss) {
        return !mover;
    }
    return by_solver || sentence.phrase.kind == PhraseKind::draw ? std::optional(mover) : std::nullopt;
}

class Words {
  public:
    Words(const PuzzleView& view, Findings& findings) : m_view(view), m_findings(findings) {}

    void judge(const Claim& claim) {
        switch (claim.sentence.phrase.kind) {
        case PhraseKind::unit:
        case PhraseKind::loss:
        case PhraseKind::ahead:
            return judge_men(claim);
        case PhraseKind::mate:
            return judge_mate(claim);
        case PhraseKind::win:
            return judge_win(claim);
        case PhraseKind::draw:
            return judge_draw(claim);
        default:
            return;
        }
    }

  private:
    void tell(const Claim& claim, std::string_view message, const Judgement& judgement, std::string what,
              Color winner) {
        const std::size_t node = claim.sentence.node;
        m_findings
            .add(m_view, claim.sentence.span, message,
                 {{"words", claim.sentence.words},
                  {"move", numbered(m_view, node)},
                  {"side", std::string(side_name(winner))},
                  {"what", std::move(what)}})
            .about(numbered(m_view, node))
            .known(judgement.certainty)
            .shown(*m_view.position(), line_through(m_view, node, judgement.line), moves_up_to(m_view, node));
    }

    // Men
    // ----------------------------------------------------------------------------------------------------

    /// Balances that a gain may be counted from: the diagram's, and that where the variation branches off.
    [[nodiscard]] std::pair<int, int> counted_from(const Claim& claim) const {
        if (claim.sentence.phrase.kind == PhraseKind::ahead) {
            return {0, 0};
        }
        const auto& nodes = m_view.puzzle().solution.nodes;
        std::size_t first = claim.sentence.node;
        while (first != 0 && nodes[nodes[first].parent].children.front() == first) {
            first = nodes[first].parent;
        }
        const int diagram = solve::balance(*m_view.position(), claim.side);
        const int branch =
            first == 0 ? diagram : solve::balance(position_after(m_view, nodes[first].parent), claim.side);
        return std::minmax(diagram, branch);
    }

    void judge_men(const Claim& claim) {
        const Range range = range_of(claim.sentence.phrase.unit);
        const auto [low, high] = counted_from(claim);
        motif::Settler settler;
        const int men = kept(settler, claim.after, claim.side);
        const bool less = men < low + range.least;
        const bool more = men >= high + range.modest;
        if (!less && !more) {
            return;
        }
        const Judgement worth = m_view.solver().value(claim.after, claim.side);
        if (worth.answer == Answer::open || worth.value.mate_in || !tells(claim.after, worth)) {
            return;
        }
        constexpr int slack = 50; // hundredths: small terms, not men
        if (less && worth.value.score < 100 * (low + range.least) - slack) {
            tell(claim, "less", worth, men_text(claim, worth), claim.side);
        } else if (more && worth.value.score >= 100 * (high + range.modest) - slack) {
            tell(claim, "more", worth, men_text(claim, worth), claim.side);
        }
    }

    /// What has changed hands once the play is settled.
    [[nodiscard]] std::string men_text(const Claim& claim, const Judgement& worth) const {
        Position end = claim.after;
        for (const board::Move move : worth.line) {
            end.make(move);
        }
        if (claim.sentence.phrase.kind == PhraseKind::ahead) {
            const int balance = solve::balance(end, claim.side);
            return balance == 0
                       ? "men are even"
                       : fmt::format("{} is ahead by {}", side_name(balance > 0 ? claim.side : !claim.side),
                                     std::abs(balance) == 1
                                         ? "a pawn"
                                         : std::to_string(std::abs(balance)) + " pawns' worth");
        }
        return account_of(*m_view.position(), end, claim.side);
    }

    // Mates
    // --------------------------------------------------------------------------------------------------

    /// Authors count the move that the words follow, or do not: both are heard.
    void judge_mate(const Claim& claim) {
        const int moves = claim.sentence.phrase.number;
        const auto& budget = solve::budget_of(m_view.settings().effort);
        if (moves > budget.mate_moves || !claim.after.has_legal_move()) {
            return;
        }
        const auto within = [&](int number) {
            return m_view.solver().reaches(claim.after, claim.side, solve::Aim::mate(number));
        };
        const Judgement mate = within(moves);
        if (mate.answer == Answer::no && mate.certainty == solve::Certainty::proved) {
            return tell(claim, "no_mate", mate, {}, claim.side);
        }
        if (mate.answer != Answer::yes || moves < 3) {
            return;
        }
        const Judgement sooner = within(moves - 2);
        if (sooner.answer == Answer::yes && sooner.value.mate_in) {
            tell(claim, "sooner", sooner, std::to_string(*sooner.value.mate_in), claim.side);
        }
    }

    // Results
    // ------------------------------------------------------------------------------------------------

    void judge_win(const Claim& claim) {
        if (const auto worth = won(m_view, claim.after, !claim.side)) {
            return tell(claim, "opposite", *worth, value_text(worth->value), !claim.side);
        }
        if (const auto worth = drawn(m_view, claim.after, claim.side)) {
            tell(claim, "drawn", *worth, {}, claim.side);
        }
    }

    void judge_draw(const Claim& claim) {
        for (const Color side : {Color::white, Color::black}) {
            if (const auto worth = won(m_view, claim.after, side)) {
                const bool sure = worth->certainty == solve::Certainty::proved || worth->value.mate_in;
                const std::string value = claim.after.is_checkmate() ? "mate" : value_text(worth->value);
                return tell(claim, sure ? "opposite" : "decided", *worth, value, side);
            }
        }
    }

    const PuzzleView& m_view;
    Findings& m_findings;
};

} // namespace

void outcome(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play()) {
        return;
    }
    const std::vector<Sentence> sentences = sentences_of(view);
    if (sentences.empty()) {
        return;
    }
    const std::vector<bool> told = told_of(view);
    Words words(view, findings);
    for (const Sentence& sentence : sentences) {
        const std::optional<Color> side = side_of(view, sentence);
        if (side && !told[sentence.node] && may_ask_more(view)) {
            words.judge({sentence, *side, position_after(view, sentence.node)});
        }
    }
}

} // namespace rules::text
