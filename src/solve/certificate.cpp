#include "solve/certificate.hpp"

#include "board/fen.hpp"
#include "board/san.hpp"

#include <algorithm>
#include <map>

namespace solve {
namespace {

using board::Move;
using board::MoveList;
using board::Position;
using Scope = MateProver::Scope;

class Writer {
  public:
    Writer(MateProver& prover, Scope scope, std::size_t most_lines)
        : m_prover(prover), m_scope(scope), m_most_lines(most_lines) {}

    Certified<std::string> write(const MateClaim& claim);

  private:
    /// A position of the defender with all its replies in the text.
    struct Written {
        Position position;
        std::size_t line;
    };

    void add(std::string_view line);
    [[nodiscard]] bool replies(Position& position, int left, std::size_t level);
    [[nodiscard]] bool answer(Position& position, int left, std::string line, std::size_t level);
    [[nodiscard]] Move mating_move(Position& position, int length);
    [[nodiscard]] std::vector<Move> by_replies(Position& position) const;
    [[nodiscard]] bool refuse(CertificateRefusal why) {
        m_refusal = why;
        return false;
    }

    MateProver& m_prover;
    Scope m_scope;
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
    if (claim.moves < 1 || claim.moves > most_certificate_moves || !claim.position.is_legal(claim.key)) {
        return board::failure(CertificateRefusal::no_mate);
    }
    add("sidelint certificate 1");
    add("fen " + board::write_fen(claim.position.setup()));
    add("goal mate in " + std::to_string(claim.moves));
    add("key " + board::write_san(claim.position, claim.key));
    Position after = claim.position.after(claim.key);
    const auto left = m_prover.shortest_after(after, claim.moves - 1, m_scope);
    if (!left) {
        return board::failure(m_prover.stopped() ? CertificateRefusal::budget_ended
                                                 : CertificateRefusal::no_mate);
    }
    if (m_lines > m_most_lines) {
        return board::failure(CertificateRefusal::too_long);
    }
    if (*left > 0 && !replies(after, *left, 0)) {
        return board::failure(m_refusal);
    }
    return std::move(m_text);
}

/// All replies of the defender, who is mated in `left` more moves at most; `level` indents them.
bool Writer::replies(Position& position, int left, std::size_t level) {
    for (const Move reply : position.legal_moves()) {
        std::string line = std::string(2 * level, ' ') + board::write_san(position, reply);
        const auto undo = position.make(reply);
        const bool written = answer(position, left, std::move(line), level);
        position.unmake(reply, undo);
        if (!written) {
            return false;
        }
    }
    return true;
}

/// The rest of a reply's line, and what follows the answer.
bool Writer::answer(Position& position, int left, std::string line, std::size_t level) {
    const auto length = m_prover.shortest(position, left, m_scope);
    const Move move = length ? mating_move(position, *length) : Move();
    if (!move) {
        return refuse(CertificateRefusal::budget_ended); // it was proved: only the budget can fail
    }
    if (m_lines >= m_most_lines) {
        return refuse(CertificateRefusal::too_long);
    }
    line += ' ' + board::write_san(position, move);
    Position after = position.after(move);
    const auto known = m_written.find(after.hash());
    if (*length > 1 && known != m_written.end() && known->second.position.same_as(after)) {
        add(line + " = " + std::to_string(known->second.line));
        return true;
    }
    add(line);
    if (*length == 1) {
        return true;
    }
    const std::size_t number = m_lines;
    if (!replies(after, *length - 1, level + 1)) {
        return false;
    }
    m_written.insert_or_assign(after.hash(), Written{after, number});
    return true;
}

/// A move that mates in `length`; no move when the budget ended.
Move Writer::mating_move(Position& position, int length) {
    for (const Move move : by_replies(position)) {
        const auto undo = position.make(move);
        const bool mates = m_prover.survives_not(position, length - 1, m_scope);
        position.unmake(move, undo);
        if (mates) {
            return move;
        }
        if (m_prover.stopped()) {
            break;
        }
    }
    return {};
}

/// What is written already first, then what leaves the fewest replies: both keep the tree small. Mates by
/// checks may end in quiet moves that an endgame table knows.
std::vector<Move> Writer::by_replies(Position& position) const {
    std::vector<std::pair<std::size_t, Move>> ranked;
    for (const Move move : position.legal_moves()) {
        const auto undo = position.make(move);
        const bool late = m_scope == Scope::checks && !position.in_check();
        const bool known = m_written.contains(position.hash());
        ranked.emplace_back(known  ? 0
                            : late ? MoveList::capacity + 1
                                   : position.count_legal_moves() + 1,
                            move);
        position.unmake(move, undo);
    }
    std::stable_sort(ranked.begin(), ranked.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Move> moves;
    for (const auto& [rank, move] : ranked) {
        moves.push_back(move);
    }
    return moves;
}

} // namespace

Certified<std::string> write_certificate(const MateClaim& claim, MateProver& prover, Scope scope,
                                         std::size_t most_lines) {
    return Writer(prover, scope, most_lines).write(claim);
}

Certified<std::string> write_certificate(const MateClaim& claim, const Budget& budget,
                                         const EndgameTables* tables, std::size_t most_lines) {
    constexpr int short_mate = 3; // by every move as quickly as by checks
    Account account(budget.puzzle);
    Endgames endgames(tables, budget.table_men);
    endgames.serve(claim.position);
    MateProver prover(budget.mate / 2, account, endgames);
    if (claim.moves > short_mate) {
        const Account::Share part(account, budget.puzzle / 4);
        if (auto certificate = write_certificate(claim, prover, Scope::checks, most_lines)) {
            return certificate;
        }
    }
    return write_certificate(claim, prover, Scope::all, most_lines);
}

} // namespace solve
