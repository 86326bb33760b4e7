#include "solve/certificate_check.hpp"

#include "board/fen.hpp"
#include "board/san.hpp"

#include <algorithm>
#include <array>
#include <bitset>
#include <charconv>
#include <map>
#include <optional>
#include <span>
#include <vector>

namespace solve {
namespace {

using board::Move;
using board::MoveList;
using board::Position;

using Fault = std::optional<CertificateFault>; ///< nothing: the line is in order

constexpr std::string_view title = "sidelint certificate ";
constexpr std::string_view version = "1";
constexpr std::size_t indent = 2; // blanks a level

/// A position of the defender whose replies are being read.
struct Node {
    Position position;
    std::size_t line; ///< where the move that led here stands
    MoveList replies{};
    std::bitset<MoveList::capacity> answered{};
    int height = 0; ///< solver's moves of the longest branch read so far
};

/// A position of the defender with all its replies read.
struct Closed {
    Position position;
    int height;
};

std::string in_quotes(std::string_view text) {
    constexpr std::size_t shown = 16;
    return '\'' + std::string(text.substr(0, shown)) + (text.size() > shown ? "...'" : "'");
}

/// A number as the writer spells it, at most `most`.
std::optional<std::size_t> read_number(std::string_view text, std::size_t most) {
    std::size_t number = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), number);
    const bool whole = fault == std::errc() && end == text.data() + text.size() && text.front() != '0';
    return whole && number <= most ? std::optional(number) : std::nullopt;
}

/// The legal move that is spelt exactly so.
std::optional<Move> read_move(const Position& position, std::string_view text) {
    const auto san = board::read_san(text);
    if (!san) {
        return std::nullopt;
    }
    const auto move = board::resolve(position, *san);
    return move && board::write_san(position, *move) == text ? std::optional(*move) : std::nullopt;
}

/// The words between single blanks; more words than fit are no line of ours.
struct Words {
    std::array<std::string_view, 4> word{};
    std::size_t count = 0;
};

std::optional<Words> split(std::string_view text) {
    Words words;
    while (words.count < words.word.size()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        if (end == 0) {
            return std::nullopt;
        }
        words.word[words.count++] = text.substr(0, end);
        if (end == text.size()) {
            return words;
        }
        text.remove_prefix(end + 1);
    }
    return std::nullopt;
}

class Checker {
  public:
    explicit Checker(std::string_view text) : m_rest(text) {}

    board::Result<Checked, CertificateFault> run() {
        Fault found = header();
        while (!found && !m_rest.empty()) {
            found = next_line();
            found = found ? found : body_line();
        }
        found = found ? found : close_down_to(0);
        if (found) {
            return board::failure(std::move(*found));
        }
        return m_checked;
    }

  private:
    [[nodiscard]] CertificateFault fault(std::string what) const { return {m_number, std::move(what)}; }

    /// The next line without its end into m_line.
    Fault next_line() {
        ++m_number;
        const std::size_t end = std::min(m_rest.find('\n'), m_rest.size());
        m_line = m_rest.substr(0, end);
        m_rest.remove_prefix(std::min(end + 1, m_rest.size()));
        if (!m_line.empty() && m_line.back() == '\r') {
            m_line.remove_suffix(1);
        }
        if (m_number > most_certificate_lines) {
            return fault("more than " + std::to_string(most_certificate_lines) + " lines");
        }
        if (m_line.size() > longest_certificate_line) {
            return fault("longer than any line of a certificate");
        }
        return std::nullopt;
    }

    /// The next line's text behind `word`.
    Fault next_field(std::string_view word) {
        if (Fault found = next_line()) {
            return found;
        }
        if (!m_line.starts_with(word)) {
            return fault("'" + std::string(word) + "...' is expected here");
        }
        m_line.remove_prefix(word.size());
        return std::nullopt;
    }

    Fault header() {
        Fault found = next_field(title);
        if (!found && m_line != version) {
            found = fault("version " + in_quotes(m_line) + " is not known");
        }
        found = found ? found : next_field("fen ");
        found = found ? found : diagram();
        found = found ? found : next_field("goal mate in ");
        found = found ? found : goal();
        found = found ? found : next_field("key ");
        return found ? found : key();
    }

    Fault diagram() {
        const board::FenReading reading = board::read_fen(m_line, board::Start::by_letters);
        if (!reading.usable || !reading.faults.empty()) {
            return fault(reading.faults.empty() ? "no diagram" : reading.faults.front().what);
        }
        const auto position = Position::from(reading.setup);
        if (!position) {
            return fault("this diagram cannot be played");
        }
        m_root = *position;
        m_checked.fen = board::write_fen(m_root.setup());
        return std::nullopt;
    }

    Fault goal() {
        const auto moves = m_line.empty() ? std::nullopt : read_number(m_line, most_certificate_moves);
        if (!moves) {
            return fault("the goal is no mate in 1 to " + std::to_string(most_certificate_moves));
        }
        m_checked.moves = static_cast<int>(*moves);
        return std::nullopt;
    }

    Fault key() {
        const auto move = read_move(m_root, m_line);
        if (!move) {
            return fault("the key " + in_quotes(m_line) + " is no legal move, or is spelt otherwise");
        }
        m_checked.key = board::write_line(m_root, std::span(&*move, 1));
        return reach(m_root.after(*move));
    }

    Fault body_line() {
        const std::size_t blanks = std::min(m_line.find_first_not_of(' '), m_line.size());
        const std::size_t level = blanks / indent + 1; // 1: replies to the key
        if (blanks % indent != 0 || level > m_open.size()) {
            return fault("no position is open at this indentation");
        }
        if (Fault found = close_down_to(level)) {
            return found;
        }
        const auto words = split(m_line.substr(blanks));
        if (!words || words->count % 2 != 0 || (words->count == 4 && words->word[2] != "=")) {
            return fault("a reply and its answer are expected here, or these and '= line'");
        }
        return branch(*words);
    }

    /// "reply answer" or "reply answer = line", beneath the innermost open position.
    Fault branch(const Words& words) {
        Node& node = m_open.back();
        const auto reply = read_move(node.position, words.word[0]);
        if (!reply) {
            return fault("the reply " + in_quotes(words.word[0]) +
                         " is no legal move, or is spelt otherwise");
        }
        const auto place = static_cast<std::size_t>(
            std::find(node.replies.begin(), node.replies.end(), *reply) - node.replies.begin());
        if (node.answered[place]) {
            return fault("the reply " + in_quotes(words.word[0]) + " is answered twice");
        }
        node.answered.set(place);
        Position position = node.position.after(*reply);
        const auto answer = read_move(position, words.word[1]);
        if (!answer) {
            return fault("the answer " + in_quotes(words.word[1]) +
                         " is no legal move, or is spelt otherwise");
        }
        if (static_cast<int>(m_open.size()) + 1 > m_checked.moves) {
            return fault("this is move " + std::to_string(m_open.size() + 1) + " of a mate in " +
                         std::to_string(m_checked.moves));
        }
        position.make(*answer);
        return words.count == 4 ? refer(position, words.word[3]) : reach(position);
    }

    /// The solver has moved to `position`, and what follows it is written out.
    Fault reach(const Position& position) {
        ++m_checked.positions;
        if (position.is_checkmate()) {
            count_branch(0);
            return std::nullopt;
        }
        if (!position.has_legal_move()) {
            return fault("this is stalemate");
        }
        m_open.push_back({position, m_number});
        m_open.back().replies = position.legal_moves();
        return std::nullopt;
    }

    /// The solver has moved to a position that is written out at an earlier line.
    Fault refer(const Position& position, std::string_view text) {
        const auto line = read_number(text, most_certificate_lines);
        const auto found = line ? m_closed.find(*line) : m_closed.end();
        if (found == m_closed.end()) {
            return fault(in_quotes(text) + " is no earlier line with all its replies");
        }
        if (!found->second.position.same_as(position)) {
            return fault("line " + std::to_string(*line) + " is another position");
        }
        if (static_cast<int>(m_open.size()) + 1 + found->second.height > m_checked.moves) {
            return fault("from line " + std::to_string(*line) + " it takes too many moves");
        }
        count_branch(found->second.height);
        return std::nullopt;
    }

    /// A position `height` of the solver's moves before mate was reached from the innermost open one.
    void count_branch(int height) {
        if (!m_open.empty()) {
            m_open.back().height = std::max(m_open.back().height, height + 1);
        }
    }

    /// Ends the innermost positions until `level` are open.
    Fault close_down_to(std::size_t level) {
        while (m_open.size() > level) {
            const Node& node = m_open.back();
            for (std::size_t i = 0; i < node.replies.size(); ++i) {
                if (!node.answered[i]) {
                    return CertificateFault{node.line, "the reply " +
                                                           board::write_san(node.position, node.replies[i]) +
                                                           " is not answered"};
                }
            }
            const Closed closed{node.position, node.height};
            m_closed.emplace(node.line, closed);
            m_open.pop_back();
            count_branch(closed.height);
        }
        return std::nullopt;
    }

    std::string_view m_rest; ///< lines to come
    std::string_view m_line;
    std::size_t m_number = 0; ///< of m_line
    Position m_root;
    std::vector<Node> m_open;               ///< from the key inwards
    std::map<std::size_t, Closed> m_closed; ///< by line
    Checked m_checked;
};

} // namespace

board::Result<Checked, CertificateFault> check_certificate(std::string_view text) {
    return Checker(text).run();
}

} // namespace solve
