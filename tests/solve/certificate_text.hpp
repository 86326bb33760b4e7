#pragma once
// Certificates as lines, taken apart without the checker.

#include "positions.hpp"
#include "solve/certificate.hpp"

#include <map>
#include <set>
#include <sstream>

namespace certificate_text {

using board::Move;
using board::Position;
using Lines = std::vector<std::string>;

constexpr std::size_t goal_line = 2; // index into Lines
constexpr std::size_t key_line = 3;

inline Lines lines_of(const std::string& text) {
    Lines lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

inline std::string text_of(const Lines& lines) {
    std::string text;
    for (const std::string& line : lines) {
        text += line + '\n';
    }
    return text;
}

inline std::vector<std::string> words_of(const std::string& line) {
    std::istringstream in(line);
    std::vector<std::string> words;
    for (std::string word; in >> word;) {
        words.push_back(word);
    }
    return words;
}

inline std::size_t level_of(const std::string& line) {
    return std::min(line.find_first_not_of(' '), line.size()) / 2;
}

/// Why it does not hold; empty when it does.
inline std::string fault(const std::string& text) {
    const auto checked = solve::check_certificate(text);
    return checked ? "" : std::to_string(checked.error().line) + ": " + checked.error().what;
}

inline std::string with_goal(Lines lines, int moves) {
    lines[goal_line] = "goal mate in " + std::to_string(moves);
    return text_of(lines);
}

/// What a line of the tree says, of a certificate that holds.
struct Step {
    std::string indent; ///< or "key "
    Position before;    ///< the reply; of the key: the answer
    Move reply;
    Move answer;
    std::string rest; ///< " = 12" or nothing
    [[nodiscard]] Position answered() const { return reply ? before.after(reply) : before; }
};

/// The key's first, then one a line.
inline std::vector<Step> steps_of(const Lines& lines) {
    const Position root = solve_test::position(std::string_view(lines[1]).substr(4));
    std::vector<Step> steps{{"key ", root, Move(), solve_test::move(root, lines[key_line].substr(4)), ""}};
    std::vector<Position> open{root.after(steps.front().answer)};
    for (std::size_t i = key_line + 1; i < lines.size(); ++i) {
        const std::size_t level = level_of(lines[i]);
        const auto words = words_of(lines[i]);
        open.erase(open.begin() + static_cast<std::ptrdiff_t>(level) + 1, open.end());
        Step step{std::string(2 * level, ' '), open.back(), solve_test::move(open.back(), words[0]), {}, ""};
        step.answer = solve_test::move(step.answered(), words[1]);
        step.rest = words.size() == 4 ? " = " + words[3] : "";
        open.push_back(step.answered().after(step.answer));
        steps.push_back(step);
    }
    return steps;
}

/// Reads a certificate with a good head a second time, in another way than the checker: by recursion, moves
/// and positions by their spelling.
class SecondReader {
  public:
    explicit SecondReader(const Lines& lines) : m_lines(lines) {}

    /// Moves of the solver on the longest branch, the key's included; nothing: it does not hold.
    [[nodiscard]] std::optional<int> height() {
        const Position root = solve_test::position(std::string_view(m_lines[1]).substr(4));
        const int moves = std::stoi(m_lines[goal_line].substr(std::string("goal mate in ").size()));
        const auto key = spelt(root, m_lines[key_line].substr(4));
        const auto below = key ? behind(root.after(*key), key_line + 1, 0, moves - 1) : std::nullopt;
        return below && m_next == m_lines.size() ? std::optional(*below + 1) : std::nullopt;
    }

  private:
    struct Seen {
        std::string position;
        int height;
    };

    static std::optional<Move> spelt(const Position& position, const std::string& text) {
        for (const Move move : position.legal_moves()) {
            if (board::write_san(position, move) == text) {
                return move;
            }
        }
        return std::nullopt;
    }

    /// What tells positions apart: men, side to move, castling rights, and the moves there are.
    static std::string name_of(const Position& position) {
        const auto fen = words_of(solve_test::fen(position));
        std::string name = fen[0] + ' ' + fen[1] + ' ' + fen[2];
        for (const std::string& san : solve_test::sans(position, position.legal_moves())) {
            name += ' ' + san;
        }
        return name;
    }

    std::optional<int> behind(const Position& position, std::size_t number, std::size_t level, int left) {
        const auto sans = solve_test::sans(position, position.legal_moves());
        if (sans.empty()) {
            return position.in_check() ? std::optional(0) : std::nullopt;
        }
        std::set<std::string> unanswered(sans.begin(), sans.end());
        int height = 0;
        while (m_next < m_lines.size() && m_lines[m_next].find_first_not_of(' ') == 2 * level) {
            const auto words = words_of(m_lines[m_next++]);
            if (left == 0 || words.size() < 2 || unanswered.erase(words[0]) == 0) {
                return std::nullopt;
            }
            const auto below = branch(position.after(*spelt(position, words[0])), words, level, left);
            if (!below) {
                return std::nullopt;
            }
            height = std::max(height, *below + 1);
        }
        m_seen[std::to_string(number)] = {name_of(position), height};
        return unanswered.empty() ? std::optional(height) : std::nullopt;
    }

    std::optional<int> branch(Position position, const std::vector<std::string>& words, std::size_t level,
                              int left) {
        const auto answer = spelt(position, words[1]);
        if (!answer) {
            return std::nullopt;
        }
        position.make(*answer);
        if (words.size() == 2) {
            return behind(position, m_next, level + 1, left - 1);
        }
        const auto seen = words.size() == 4 && words[2] == "=" ? m_seen.find(words[3]) : m_seen.end();
        const bool fits =
            seen != m_seen.end() && seen->second.position == name_of(position) && seen->second.height < left;
        return fits ? std::optional(seen->second.height) : std::nullopt;
    }

    const Lines& m_lines;
    std::size_t m_next = key_line + 1;
    std::map<std::string, Seen> m_seen; ///< by number of line
};

} // namespace certificate_text
