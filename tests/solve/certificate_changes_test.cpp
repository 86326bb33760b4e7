// A certificate falls with every change of a move, a line, the length or the diagram, but for changes that
// prove the same; a second reader says which these are.

#include "brute.hpp"
#include "certificate_text.hpp"
#include "reference/solve_reading.hpp"

using namespace certificate_text;
using solve_test::move;
using solve_test::position;

namespace {

#ifdef NDEBUG
constexpr std::size_t others_each = 3; // other moves that each move of a long tree is changed to
constexpr std::size_t short_tree = 60; // lines up to which it is changed to all of them
#else
constexpr std::size_t others_each = 1;
constexpr std::size_t short_tree = 20;
#endif

Lines certificate_lines(const Position& at, Move key, int moves) {
    INFO(solve_test::fen(at) << ' ' << board::write_san(at, key));
    const auto written = solve::write_certificate({at, key, moves}, solve_reference::ample);
    REQUIRE(written.ok());
    REQUIRE(fault(*written).empty());
    return lines_of(*written);
}

struct ChangesTally {
    int refused = 0;
    int another_mate = 0; ///< the last move of a branch: another mates as well
    int same_replies = 0; ///< another answer to which the lines beneath are replies and answers just so
    int unknown = 0;
};

class Changes {
  public:
    explicit Changes(const Lines& lines) : m_lines(lines), m_steps(steps_of(lines)), m_random(17) {}

    ChangesTally make() {
        for (std::size_t i = 0; i < m_steps.size(); ++i) {
            INFO(m_lines[key_line + i]);
            answers(i);
            replies(i);
            no_moves(i);
        }
        return m_tally;
    }

  private:
    /// All legal moves but one, or a few of them.
    std::vector<Move> others(const Position& at, Move printed) {
        std::vector<Move> moves;
        for (const Move other : at.legal_moves()) {
            if (other != printed) {
                moves.push_back(other);
            }
        }
        while (m_lines.size() > short_tree && moves.size() > others_each) {
            moves.erase(moves.begin() + static_cast<std::ptrdiff_t>(m_random.below(moves.size())));
        }
        return moves;
    }

    Lines with(std::size_t i, const std::string& reply, const std::string& answer) const {
        const Step& step = m_steps[i];
        Lines changed = m_lines;
        changed[key_line + i] = step.indent + (step.reply ? reply + ' ' : "") + answer + step.rest;
        return changed;
    }

    /// Another answer: the tree may prove the mate with it as well.
    void answers(std::size_t i) {
        const Step& step = m_steps[i];
        const Position at = step.answered();
        const std::string reply = step.reply ? board::write_san(step.before, step.reply) : "";
        for (const Move other : others(at, step.answer)) {
            const std::string san = board::write_san(at, other);
            INFO("answer " << san);
            const Lines changed = with(i, reply, san);
            const bool holds = solve::check_certificate(text_of(changed)).ok();
            CHECK(holds == SecondReader(changed).height().has_value());
            m_tally.refused += holds ? 0 : 1;
            if (holds) {
                classify(i, at.after(other));
            }
        }
    }

    /// Admissible are another mate at the end of a branch, and an answer that leaves exactly the replies
    /// beneath.
    void classify(std::size_t i, const Position& after) {
        std::vector<std::string> beneath;
        const std::size_t level = m_steps[i].reply ? level_of(m_lines[key_line + i]) + 1 : 0;
        for (std::size_t j = key_line + i + 1; j < m_lines.size() && level_of(m_lines[j]) >= level; ++j) {
            if (level_of(m_lines[j]) == level) {
                beneath.push_back(words_of(m_lines[j])[0]);
            }
        }
        std::sort(beneath.begin(), beneath.end());
        const bool same = beneath == solve_test::sans(after, after.legal_moves());
        CHECK(m_steps[i].rest.empty()); // no two moves lead to one position
        CHECK(same);
        (!same ? m_tally.unknown : after.is_checkmate() ? m_tally.another_mate : m_tally.same_replies) += 1;
    }

    /// Another reply: then the one that stood there is missing, or stands there twice.
    void replies(std::size_t i) {
        const Step& step = m_steps[i];
        for (const Move other : step.reply ? others(step.before, step.reply) : std::vector<Move>()) {
            const Lines changed =
                with(i, board::write_san(step.before, other), words_of(m_lines[key_line + i])[1]);
            INFO(changed[key_line + i]);
            CHECK_FALSE(solve::check_certificate(text_of(changed)).ok());
            ++m_tally.refused;
        }
    }

    /// What is no legal move, or not spelt as one.
    void no_moves(std::size_t i) {
        const Step& step = m_steps[i];
        const std::string reply = step.reply ? board::write_san(step.before, step.reply) : "";
        const std::string answer = board::write_san(step.answered(), step.answer);
        static const std::vector<std::string> all{"Ka9",  "--", "O-O-O-O", "e9=Q#", "Kd4",
                                                  "Qh7#", "a3", "Nxb5+",   "O-O",   "h1=Q#"};
        const std::size_t every = m_lines.size() > short_tree ? 4 : 1;
        std::vector<std::string> wrong;
        for (std::size_t j = i % every; j < all.size(); j += every) {
            wrong.push_back(all[j]);
        }
        for (const std::string& text : wrong) {
            refuse(i, reply, legal(step.answered(), text) ? "-" : text);
            if (step.reply) {
                refuse(i, legal(step.before, text) ? "-" : text, answer);
            }
        }
        for (const auto& text :
             {answer + '#', answer + '+', answer + '!', answer.substr(0, answer.size() - 1)}) {
            refuse(i, reply, legal(step.answered(), text) ? "-" : text);
        }
    }

    static bool legal(const Position& at, const std::string& text) {
        const auto sans = solve_test::sans(at, at.legal_moves());
        return std::find(sans.begin(), sans.end(), text) != sans.end();
    }

    void refuse(std::size_t i, const std::string& reply, const std::string& answer) {
        const Lines changed = with(i, reply, answer);
        INFO(changed[key_line + i]);
        CHECK_FALSE(solve::check_certificate(text_of(changed)).ok());
        ++m_tally.refused;
    }

    const Lines& m_lines;
    std::vector<Step> m_steps;
    solve_test::Random m_random;
    ChangesTally m_tally;
};

/// A line dropped, doubled, moved to its neighbour's place or cut off; the text cut off behind it or within
/// it.
void check_lines(const Lines& lines) {
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const auto place = static_cast<std::ptrdiff_t>(i);
        INFO(i + 1 << ": " << lines[i]);
        Lines changed = lines;
        changed.erase(changed.begin() + place);
        CHECK_FALSE(fault(text_of(changed)).empty());
        changed = lines;
        changed.insert(changed.begin() + place, lines[i]);
        CHECK_FALSE(fault(text_of(changed)).empty());
        changed = lines;
        changed.resize(i);
        CHECK_FALSE(fault(text_of(changed)).empty());
        changed.push_back(lines[i].substr(0, lines[i].size() - 1));
        CHECK_FALSE(fault(text_of(changed)).empty());
        if (i > key_line &&
            i + 1 < lines.size()) { // replies may come in any order, lines of different depth not
            changed = lines;
            std::swap(changed[i], changed[i + 1]);
            CHECK(fault(text_of(changed)).empty() == SecondReader(changed).height().has_value());
        }
    }
}

void check_lengths(const Lines& lines) {
    const auto height = SecondReader(lines).height();
    REQUIRE(height.has_value());
    for (int moves = 1; moves <= 100; ++moves) {
        INFO(moves);
        CHECK(fault(with_goal(lines, moves)).empty() == (moves >= *height));
    }
}

/// The same tree from another diagram: one man gone, on the other side, or another man; the other side to
/// move.
void check_diagrams(const Lines& lines) {
    const board::Setup setup = position(std::string_view(lines[1]).substr(4)).setup();
    int held = 0;
    const auto check = [&](const board::Setup& other) {
        Lines changed = lines;
        changed[1] = "fen " + board::write_fen(other);
        INFO(changed[1]);
        const bool playable = Position::from(other).ok();
        const bool holds = fault(text_of(changed)).empty();
        CHECK(holds == (playable && SecondReader(changed).height().has_value()));
        held += holds ? 1 : 0;
    };
    int asked = 0;
    for (int i = 0; i < 64; ++i) {
        const board::Square square = board::square_at(i);
        for (const char man : std::string(".PNBRQKpnbrqk")) {
            board::Setup other = setup;
            other.remove(square);
            const auto piece = board::read_piece(man);
            if (piece) {
                other.put(square, *piece);
            }
            if (other.at(square) != setup.at(square) && ++asked % (lines.size() > short_tree ? 5 : 1) == 0) {
                check(other);
            }
        }
    }
    CHECK(held < asked / 2); // a man that stands in nobody's way is no part of the proof
    board::Setup turned = setup;
    turned.turn = !setup.turn;
    check(turned);
}

} // namespace

TEST_CASE("certificates fall with every change of a move, a line, the length or the diagram") {
    struct Proved {
        const char* what;
        const char* fen;
        const char* key;
        int moves;
    };
    // The first two from memory, the third published; endings of our own, their lengths the tables'.
    const auto proved = GENERATE(values<Proved>({
        {"P. Morphy, New York Clipper, 1856", "kbK5/pp6/1P6/8/8/8/8/R7 w - - 0 1", "Ra6", 2},
        {"Edward Lasker and Thomas, London, 1912",
         "rn3rk1/pbppq1pp/1p2pb2/4N2Q/3PN3/3B4/PPP2PPP/R3K2R w KQ - 5 11", "Qxh7+", 7},
        {"G. Heathcote, Hampstead and Highgate Express, 1900",
         "7b/2BpN3/K5p1/6N1/2pk1p2/Q7/3n1Ppq/8 w - - 0 1", "Ba5", 2},
        {"a rook", "7k/8/5K2/8/8/8/8/R7 w - - 0 1", "Kg6", 2},
        {"Black's rook", "r7/8/8/8/8/5k2/8/7K b - - 0 7", "Kg3", 2},
        {"the back rank", "1r4k1/5ppp/8/8/8/8/5PPP/6K1 b - - 3 20", "Rb1", 1},
        {"a rook waits", "7k/5p2/5K2/8/8/8/7p/R7 w - - 0 1", "Rh1", 4},
        {"bishop and knight", "2B5/8/8/8/8/8/2NK4/7k w - - 0 1", "Ne3", 10},
        {"two bishops", "8/1K4B1/8/8/8/5B2/8/1k6 w - - 0 1", "Be4+", 13},
        {"queen against rook", "7r/8/6K1/2Q5/5k2/8/8/8 w - - 0 1", "Qd4+", 9},
        {"a pawn to promote", "8/8/2P1K3/1k6/8/8/8/8 w - - 0 1", "c7", 9},
    }));
    INFO(proved.what);
    const Position at = position(proved.fen);
    const Lines lines = certificate_lines(at, move(at, proved.key), proved.moves);
    CHECK(SecondReader(lines).height() == proved.moves);
    const ChangesTally tally = Changes(lines).make();
    UNSCOPED_INFO(lines.size() << " lines: " << tally.refused << " changes refused, " << tally.another_mate
                               << " other mates, " << tally.same_replies << " answers with the same replies");
    CHECK(tally.unknown == 0);
    CHECK(tally.refused > 6 * static_cast<int>(lines.size() - key_line));
    CHECK(tally.refused > 10 * (tally.another_mate + tally.same_replies));
    check_lines(lines);
    check_lengths(lines);
    check_diagrams(lines);
}

TEST_CASE("certificates of composed problems fall with every change of a move") {
    const auto problems = solve_reference::rows("solve-composed.tsv");
    ChangesTally all;
    for (std::size_t i = 0; i < problems.size(); i += solve_reference::every) {
        const auto& fields = problems[i];
        INFO(fields[0] << ", " << fields[1] << ": " << fields[2]);
        const Position at = position(fields[2]);
        const int length = std::stoi(fields[3]);
        const solve::Mates mates = solve::Solver(solve_reference::ample).mates(at, length);
        REQUIRE_FALSE(mates.keys.empty());
        const Lines lines = certificate_lines(at, mates.keys.front(), length);
        CHECK(SecondReader(lines).height() == length);
        const ChangesTally tally = Changes(lines).make();
        CHECK(tally.unknown == 0);
        all.refused += tally.refused;
        all.another_mate += tally.another_mate;
        all.same_replies += tally.same_replies;
        check_lengths(lines);
    }
    UNSCOPED_INFO(all.refused << " refused, " << all.another_mate << " other mates, " << all.same_replies
                              << " same replies");
    CHECK((solve_reference::every > 1 || all.another_mate > 0)); // where two moves mate, either will do
    CHECK(all.refused > 50 * (all.another_mate + all.same_replies));
}
