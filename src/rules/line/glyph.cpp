#include "collection/glyphs.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/standing.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

namespace rules::line {

namespace {

using board::Color;
using collection::GoalKind;
using collection::MoveStatus;
using solve::Answer;
using solve::Judgement;

enum class Degree : std::uint8_t { level, unclear, slight, moderate, decisive };

/// What a sign says of the position after its move.
struct Claim {
    Degree degree = Degree::unclear;
    Color side = Color::white; ///< who is said to be better; not for level and unclear
    std::string_view sign;
    [[nodiscard]] bool sided() const { return degree >= Degree::slight; }
};

// Numbers: PGN standard 1994, section 10. Signs: as commonly printed without the symbols of the series.
std::optional<Claim> claim_of(int glyph) {
    constexpr int level = 10;
    constexpr int unclear = 13;
    constexpr int first_sided = 14;
    constexpr std::array<std::string_view, 8> signs{"+=", "=+", "+/-", "-/+", "+-", "-+", "$20", "$21"};
    constexpr std::array degrees{Degree::slight, Degree::moderate, Degree::decisive, Degree::decisive};
    if (glyph >= level && glyph < unclear) {
        return Claim{Degree::level, Color::white, "="};
    }
    if (glyph == unclear) {
        return Claim{Degree::unclear, Color::white, "$13"};
    }
    const auto at = static_cast<std::size_t>(glyph - first_sided);
    if (glyph < first_sided || at >= signs.size()) {
        return std::nullopt;
    }
    return Claim{degrees.at(at / 2), at % 2 == 0 ? Color::white : Color::black, signs.at(at)};
}

/// A verdict seen from `side`; its line begins in the position after the move.
struct Seen {
    Color side;
    Judgement judgement;
};

class Signs {
  public:
    Signs(const PuzzleView& view, Findings& findings) : m_view(view), m_findings(findings) {}

    void judge() {
        judge_contradictions();
        if (!m_view.can_judge_play()) {
            return;
        }
        mark_silent();
        for (std::size_t node = 1; node < nodes().size(); ++node) {
            if (nodes()[node].status != MoveStatus::legal || nodes()[node].glyphs.empty() || m_silent[node] ||
                contradicts_itself(node)) {
                continue;
            }
            judge_mark(node);
            const std::optional<Claim> claim = value_claim(node);
            if (claim && may_ask_more(m_view)) {
                judge_value(node, *claim);
            }
        }
    }

  private:
    [[nodiscard]] const std::vector<collection::TreeNode>& nodes() const {
        return m_view.puzzle().solution.nodes;
    }

    [[nodiscard]] bool has(std::size_t node, int glyph) const {
        const std::vector<int>& glyphs = nodes()[node].glyphs;
        return std::find(glyphs.begin(), glyphs.end(), glyph) != glyphs.end();
    }

    [[nodiscard]] bool praised(std::size_t node) const { return has(node, 1) || has(node, 3); }
    [[nodiscard]] bool blamed(std::size_t node) const { return has(node, 2) || has(node, 4); }

    [[nodiscard]] std::optional<Claim> value_claim(std::size_t node) const {
        for (const int glyph : nodes()[node].glyphs) {
            if (const auto claim = claim_of(glyph)) {
                return claim;
            }
        }
        return std::nullopt;
    }

    Finding& add(std::size_t node, std::string_view message, Arguments arguments) {
        return m_findings.add(m_view, nodes()[node].span, message, arguments).about(told(node));
    }

    [[nodiscard]] std::string told(std::size_t node) const {
        return nodes()[node].status == MoveStatus::legal ? numbered(m_view, node)
                                                         : clipped(nodes()[node].text);
    }

    // Signs against each other
    // ---------------------------------------------------------------------------------------

    /// "!" and "!!" mean the same in degrees, and so do "?" and "??"; "!?" and "?!" are of their own.
    [[nodiscard]] std::optional<std::pair<std::string_view, std::string_view>>
    marks_at_odds(std::size_t node) const {
        const auto kind = [](int glyph) { return glyph <= 4 ? glyph % 2 : glyph; };
        int first = 0;
        for (const int glyph : nodes()[node].glyphs) {
            if (glyph < 1 || glyph > 6) {
                continue;
            }
            if (first != 0 && kind(glyph) != kind(first)) {
                return std::pair{collection::suffix_of(first), collection::suffix_of(glyph)};
            }
            first = first == 0 ? glyph : first;
        }
        return std::nullopt;
    }

    /// Two signs on one move that cannot both be meant.
    [[nodiscard]] std::optional<std::pair<std::string_view, std::string_view>>
    at_odds(std::size_t node) const {
        if (const auto marks = marks_at_odds(node)) {
            return marks;
        }
        const std::optional<Claim> first = value_claim(node);
        if (!first || first->degree == Degree::unclear) {
            return std::nullopt;
        }
        for (const int glyph : nodes()[node].glyphs) {
            const std::optional<Claim> other = claim_of(glyph);
            if (other && other->degree != Degree::unclear &&
                (other->sided() != first->sided() || (other->sided() && other->side != first->side))) {
                return std::pair{first->sign, other->sign};
            }
        }
        return std::nullopt;
    }

    [[nodiscard]] bool contradicts_itself(std::size_t node) const { return at_odds(node).has_value(); }

    void judge_contradictions() {
        std::size_t count = 0;
        for (std::size_t node = 1; node < nodes().size() && count < most_told; ++node) {
            if (const auto pair = at_odds(node)) {
                ++count;
                add(node, "contradiction",
                    {{"move", told(node)},
                     {"first", std::string(pair->first)},
                     {"second", std::string(pair->second)}})
                    .mend("keep the one that is meant");
            }
        }
    }

    // What others tell
    // -----------------------------------------------------------------------------------------------

    void mark_silent() {
        m_silent = told_of(m_view);
        const solve::MoveVerdict* const verdict = m_view.table().of(*m_view.key());
        m_claims_goal = m_view.goal().kind != GoalKind::best || m_view.goal_stated();
        m_key_works = verdict != nullptr && verdict->reaches_goal == Answer::yes;
    }

    // ! and ? on the solver's moves
    // ----------------------------------------------------------------------------------

    void judge_mark(std::size_t node) {
        const bool by_solver = m_view.puzzle().solution.depth(node) % 2 == 1;
        if (!by_solver || !m_claims_goal || !m_key_works || (!praised(node) && !blamed(node))) {
            return;
        }
        if (node == key_node(m_view)) {
            if (blamed(node)) {
                blame_of_key(node);
            }
        } else if (nodes()[node].parent != 0 && blamed(node)) {
            judge_blame(node);
        } else if (nodes()[node].parent != 0) {
            judge_praise(node);
        }
    }

    void blame_of_key(std::size_t node) {
        const solve::MoveVerdict& key = *m_view.table().of(*m_view.key());
        if (is_hollow(m_view, key.value, key.certainty)) {
            return;
        }
        add(node, "key",
            {{"move", numbered(m_view, node)},
             {"sign", has(node, 4) ? "??" : "?"},
             {"goal", collection::write_goal(m_view.goal())}})
            .known(key.certainty)
            .shown(*m_view.position(), key.line)
            .mend("take the sign off, or put the key first");
    }

    /// Some move of the solver's before `node` is said to fail.
    [[nodiscard]] bool inside_try(std::size_t node) const {
        const collection::MoveTree& tree = m_view.puzzle().solution;
        for (std::size_t at = nodes()[node].parent; at != 0; at = nodes()[at].parent) {
            if (tree.depth(at) % 2 == 1 && tree.marked_as_failing(at)) {
                return true;
            }
        }
        return false;
    }

    /// The solver's move that is printed instead of `node` and is not said to fail.
    [[nodiscard]] std::optional<std::size_t> printed_instead(std::size_t node) const {
        for (const std::size_t other : nodes()[nodes()[node].parent].children) {
            if (other != node && nodes()[other].status == MoveStatus::legal &&
                !m_view.puzzle().solution.marked_as_failing(other)) {
                return other;
            }
        }
        return std::nullopt;
    }

    [[nodiscard]] static bool no_worse(const Judgement& a, const Judgement& b) {
        if (a.answer != Answer::yes || b.answer != Answer::yes) {
            return false;
        }
        if (b.value.mate_in && *b.value.mate_in > 0) {
            return a.value.mate_in && *a.value.mate_in > 0 && *a.value.mate_in <= *b.value.mate_in;
        }
        return a.value.score >= b.value.score;
    }

    /// Mates are line/try-works'; elsewhere the move must be worth what the printed one is worth.
    void judge_blame(std::size_t node) {
        const NodeVerdict* const verdict = verdict_of(m_view, node);
        const std::optional<std::size_t> other = printed_instead(node);
        if (m_view.goal().kind == GoalKind::mate || verdict == nullptr ||
            verdict->judgement.answer != Answer::yes || !other || inside_try(node) || !may_ask_more(m_view)) {
            return;
        }
        const Color solver = m_view.solver_side();
        const board::Position after = position_after(m_view, node);
        const Judgement worth = m_view.solver().value(after, solver);
        const Judgement rival = m_view.solver().value(position_after(m_view, *other), solver);
        if (!no_worse(worth, rival) || !tells(after, worth)) {
            return;
        }
        add(node, "blamed",
            {{"move", numbered(m_view, node)},
             {"sign", has(node, 4) ? "??" : "?"},
             {"other", numbered(m_view, *other)},
             {"value", value_text(worth.value)},
             {"other_value", value_text(rival.value)}})
            .known(solve::weaker(worth.certainty, rival.certainty))
            .shown(*m_view.position(), line_through(m_view, node, worth.line));
    }

    /// Outside tries line/fails tells of a move that fails, whatever sign it carries.
    void judge_praise(std::size_t node) {
        const NodeVerdict* const verdict = verdict_of(m_view, node);
        if (verdict == nullptr || !verdict->inside_try || verdict->judgement.answer != Answer::no ||
            !may_ask_more(m_view)) {
            return;
        }
        const int played = static_cast<int>((m_view.puzzle().solution.depth(node) + 1) / 2);
        const board::Position before = position_after(m_view, nodes()[node].parent);
        const Judgement best = m_view.solver().reaches(before, m_view.solver_side(), m_view.aim(played - 1));
        if (best.answer != Answer::yes || best.line.empty() || best.line.front() == nodes()[node].move ||
            !tells(before, best) || !tells(before, verdict->judgement)) {
            return;
        }
        add(node, "praised",
            {{"move", numbered(m_view, node)},
             {"sign", has(node, 3) ? "!!" : "!"},
             {"better", numbered(before, best.line.front())},
             {"goal", collection::write_goal(m_view.goal())}})
            .known(solve::weaker(best.certainty, verdict->judgement.certainty))
            .shown(*m_view.position(), line_through(m_view, nodes()[node].parent, best.line));
    }

    // Signs of value
    // ------------------------------------------------------------------------------------------------

    void judge_value(std::size_t node, const Claim& claim) {
        const board::Position after = position_after(m_view, node);
        if (claim.sided()) {
            if (const auto worth = won(m_view, after, !claim.side)) {
                return tell_value(node, claim, "opposite", {!claim.side, *worth});
            }
            const auto worth =
                claim.degree == Degree::decisive ? drawn(m_view, after, claim.side) : std::nullopt;
            if (worth) {
                return tell_value(node, claim, "drawn", {claim.side, *worth});
            }
        }
        if (claim.degree > Degree::slight) {
            return;
        }
        for (const Color side : {Color::white, Color::black}) {
            const auto worth = claim.sided() && side != claim.side ? std::nullopt : won(m_view, after, side);
            const bool sure = worth && (worth->certainty == solve::Certainty::proved || worth->value.mate_in);
            if (worth && (sure || claim.degree == Degree::level)) {
                const bool level = claim.degree == Degree::level;
                return tell_value(node, claim, level && sure ? "level" : "decided", {side, *worth});
            }
        }
    }

    [[nodiscard]] std::string worth_text(std::size_t node, const Seen& seen) const {
        return position_after(m_view, node).is_checkmate()
                   ? "it is mate"
                   : fmt::format("{} for {}", value_text(seen.judgement.value), side_name(seen.side));
    }

    void tell_value(std::size_t node, const Claim& claim, std::string_view message, const Seen& seen) {
        add(node, message,
            {{"move", numbered(m_view, node)},
             {"sign", std::string(claim.sign)},
             {"side", std::string(side_name(seen.side))},
             {"value", worth_text(node, seen)}})
            .known(seen.judgement.certainty)
            .shown(*m_view.position(), line_through(m_view, node, seen.judgement.line));
    }

    const PuzzleView& m_view;
    Findings& m_findings;
    std::vector<bool> m_silent;
    bool m_claims_goal = false;
    bool m_key_works = false;
};

} // namespace

void glyph(const PuzzleView& view, Findings& findings) {
    Signs(view, findings).judge();
}

} // namespace rules::line
