#include "solve/certificate.hpp"

#include "board/fen.hpp"
#include "board/san.hpp"
#include "solve/certificate_guide.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <span>

namespace solve {
namespace {

using board::Move;
using board::Position;

class Writer {
  public:
    Writer(Guide& guide, std::size_t most_lines) : m_guide(guide), m_most_lines(most_lines) {}

    Certified<std::string> write(const MateClaim& claim);

  private:
    /// A position of the defender with all its replies in the text.
    struct Written {
        Position position;
        std::size_t line;
        int height; ///< moves of the attacker on the longest branch
    };
    /// Moves of the attacker on the longest branch of what was written; nothing: refused.
    using Height = std::optional<int>;

    void add(std::string_view line);
    [[nodiscard]] Height replies(Position& position, int left, std::size_t level);
    [[nodiscard]] Height answer(Position& position, int left, std::string line, std::size_t level);
    [[nodiscard]] std::optional<MatingMove> mating_move(Position& position, int left);
    [[nodiscard]] const Written* written(const Position& position, int left) const;
    [[nodiscard]] Height refuse(CertificateRefusal why) {
        m_refusal = why;
        return std::nullopt;
    }

    Guide& m_guide;
    std::size_t m_most_lines;
    std::string m_text;
    std::size_t m_lines = 0;
    std::map<board::Hash, Written> m_written;
    CertificateRefusal m_refusal = CertificateRefusal::no_mate;
};

void Writer::add(std::string_view line) {
    m_text += line;
    m_text += '\n';
    ++m_lines;
}

Certified<std::string> Writer::write(const MateClaim& claim) {
    add("sidelint certificate 1");
    add("fen " + board::write_fen(claim.position.setup()));
    add("goal mate in " + std::to_string(claim.moves));
    add("key " + board::write_san(claim.position, claim.key));
    Position after = claim.position.after(claim.key);
    const auto mated = m_guide.mated_within(after, claim.moves - 1);
    if (!mated || !*mated) {
        return board::failure(mated ? CertificateRefusal::no_mate : CertificateRefusal::budget_ended);
    }
    if (m_lines > m_most_lines) {
        return board::failure(CertificateRefusal::too_long);
    }
    if (!replies(after, claim.moves - 1, 0)) {
        return board::failure(m_refusal);
    }
    return std::move(m_text);
}

/// All replies of the defender, who is mated in `left` more moves at most; `level` indents them.
Writer::Height Writer::replies(Position& position, int left, std::size_t level) {
    int height = 0;
    for (const Move reply : position.legal_moves()) {
        std::string line = std::string(2 * level, ' ') + board::write_san(position, reply);
        const auto undo = position.make(reply);
        const Height behind = answer(position, left, std::move(line), level);
        position.unmake(reply, undo);
        if (!behind) {
            return std::nullopt;
        }
        height = std::max(height, *behind);
    }
    return height;
}

/// The rest of a reply's line, and what follows the answer.
Writer::Height Writer::answer(Position& position, int left, std::string line, std::size_t level) {
    if (m_lines >= m_most_lines) {
        return refuse(CertificateRefusal::too_long);
    }
    const auto chosen = mating_move(position, left);
    if (!chosen) {
        return refuse(CertificateRefusal::budget_ended); // it was proved: only the budget can fail
    }
    line += ' ' + board::write_san(position, chosen->move);
    Position after = position.after(chosen->move);
    if (const Written* const known = written(after, left - 1)) {
        add(line + " = " + std::to_string(known->line));
        return known->height + 1;
    }
    add(line);
    if (after.is_checkmate()) {
        return 1;
    }
    const std::size_t number = m_lines;
    const Height height = replies(after, chosen->left, level + 1);
    if (!height) {
        return std::nullopt;
    }
    m_written.insert_or_assign(after.hash(), Written{after, number, *height});
    return *height + 1;
}

/// What follows the position at that line of the text, when it ends within `left` moves.
const Writer::Written* Writer::written(const Position& position, int left) const {
    const auto known = m_written.find(position.hash());
    const bool fits = known != m_written.end() && known->second.height <= left;
    return fits && known->second.position.same_as(position) ? &known->second : nullptr;
}

/// Mate, else what leads to a text that is there already, else what leaves the fewest replies: all keep the
/// tree small.
std::optional<MatingMove> Writer::mating_move(Position& position, int left) {
    std::vector<std::pair<std::size_t, Move>> ranked;
    Move known;
    for (const Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        known = !known && written(position, left - 1) != nullptr ? move : known;
        const std::size_t replies = position.count_legal_moves();
        const bool mate = replies == 0 && position.in_check();
        position.unmake(move, undo);
        if (mate) {
            return MatingMove{move, 0};
        }
        ranked.emplace_back(replies, move);
    }
    if (known) {
        return MatingMove{known, left - 1};
    }
    std::stable_sort(ranked.begin(), ranked.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Move> liked(ranked.size());
    std::transform(ranked.begin(), ranked.end(), liked.begin(), [](const auto& pair) { return pair.second; });
    return m_guide.answer(position, left, liked);
}

/// One way to prove a mate and write it down.
struct Way {
    Guide* guide;
    Nodes nodes; ///< all it may spend
    bool denies; ///< what it calls no mate is none
};

/// The first way that comes to its end. A proof that was found but is too long says more than a budget that
/// ended elsewhere; found so in two ways it is called so.
Certified<std::string> write_in_one_of(std::span<const Way> ways, const MateClaim& claim, Account& account,
                                       std::size_t most_lines) {
    CertificateRefusal refusal = CertificateRefusal::budget_ended;
    for (const Way& way : ways) {
        const Account::Share share(account, way.nodes);
        auto certificate = Writer(*way.guide, most_lines).write(claim);
        const bool again = refusal == CertificateRefusal::too_long;
        if (certificate || (certificate.error() == CertificateRefusal::no_mate && way.denies) ||
            (certificate.error() == CertificateRefusal::too_long && again)) {
            return certificate;
        }
        refusal = certificate.error() == CertificateRefusal::too_long ? certificate.error() : refusal;
    }
    return board::failure(refusal);
}

} // namespace

std::string_view name(CertificateRefusal refusal) {
    switch (refusal) {
    case CertificateRefusal::no_mate:
        return "no_mate";
    case CertificateRefusal::budget_ended:
        return "budget_ended";
    case CertificateRefusal::too_long:
        return "too_long";
    case CertificateRefusal::too_deep:
        break;
    }
    return "too_deep";
}

Certified<std::string> write_certificate(const MateClaim& claim, const Budget& budget,
                                         const EndgameTables* tables, std::size_t most_lines) {
    if (claim.moves < 1 || !claim.position.is_legal(claim.key)) {
        return board::failure(CertificateRefusal::no_mate);
    }
    Account account(budget.puzzle);
    Endgames endgames(tables, budget.table_men);
    endgames.serve(claim.position);
    MateProver prover(budget.mate / 2, account, endgames);
    LongMateProver long_prover(budget.mate, account, endgames);
    CompleteGuide by_checks(prover, MateProver::Scope::checks);
    LongGuide by_numbers(long_prover, prover, account);
    CompleteGuide by_all(prover, MateProver::Scope::all);
    const std::array<Way, 3> ways{{{&by_checks, budget.puzzle / 4, false},
                                   {&by_numbers, budget.puzzle / 2, true},
                                   {&by_all, budget.puzzle, true}}};
    constexpr int short_mate = 3; // by every move as quickly as by checks
    const MateClaim held{claim.position, claim.key, std::min(claim.moves, most_certificate_moves)};
    auto certificate =
        write_in_one_of(std::span(ways).subspan(claim.moves > short_mate ? 0 : 2), held, account, most_lines);
    const bool cut = !certificate && held.moves < claim.moves;
    return cut && certificate.error() == CertificateRefusal::no_mate
               ? board::failure(CertificateRefusal::too_deep)
               : std::move(certificate);
}

} // namespace solve
