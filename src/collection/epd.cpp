#include "collection/builder.hpp"
#include "collection/edit.hpp"
#include "collection/readers.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

namespace collection {

namespace {

struct Operation {
    std::string_view code;
    Source operands; ///< trimmed; without the quotes when it is one string
};

bool is_comment_code(std::string_view word) {
    return word.size() == 2 && word[0] == 'c' && is_digit(word[1]);
}

/// One line: four fields of a position (or the six of a FEN), then operations "code operand ... ;".
class LineReader {
  public:
    LineReader(Document& document, Span line)
        : m_document(document), m_text(std::string_view(document.bytes).substr(0, line.end)),
          m_at(line.begin) {}

    Puzzle read() {
        skip_blanks();
        m_puzzle.span = {m_at, m_text.size()};
        set_fen(m_puzzle, Source(m_document.bytes, {m_at, position_end()}));
        std::vector<Operation> operations;
        while (const std::optional<Operation> operation = next_operation()) {
            operations.push_back(*operation);
            if (equals_ignoring_case(operation->code, "variant")) {
                set_variant(m_puzzle, operation->operands);
            }
        }
        for (const Operation& operation : operations) {
            take(operation);
        }
        conclude();
        return std::move(m_puzzle);
    }

  private:
    void skip_blanks() {
        while (m_at < m_text.size() && is_blank(m_text[m_at])) {
            ++m_at;
        }
    }

    std::size_t word_end(std::size_t at) const {
        while (at < m_text.size() && !is_blank(m_text[at]) && m_text[at] != ';') {
            ++at;
        }
        return at;
    }

    /// Four words, and one or two more that are numbers.
    std::size_t position_end() {
        std::size_t end = m_at;
        for (int field = 0; field < 6; ++field) {
            skip_blanks();
            const std::size_t last = word_end(m_at);
            const std::string_view word = m_text.substr(m_at, last - m_at);
            const bool counter = !word.empty() && std::all_of(word.begin(), word.end(), is_digit);
            if (word.empty() || (field >= 4 && !counter)) {
                break;
            }
            end = last;
            m_at = last;
        }
        m_at = end;
        return end;
    }

    std::optional<Operation> next_operation() {
        while (m_at < m_text.size() && (is_blank(m_text[m_at]) || m_text[m_at] == ';')) {
            ++m_at;
        }
        if (m_at == m_text.size()) {
            return std::nullopt;
        }
        const std::size_t code_end = word_end(m_at);
        const std::string_view code = m_text.substr(m_at, code_end - m_at);
        m_at = code_end;
        skip_blanks();
        return Operation{code, operands(code)};
    }

    /// Up to the semicolon that is not inside a string.
    Source operands(std::string_view code) {
        const std::size_t begin = m_at;
        if (m_at < m_text.size() && m_text[m_at] == '"') {
            return string_operand();
        }
        while (m_at < m_text.size() && m_text[m_at] != ';') {
            const std::size_t end = word_end(m_at);
            if (code == "id" && m_at > begin && is_comment_code(m_text.substr(m_at, end - m_at))) {
                break; // "id X.01 c0 remark;": the semicolon between was forgotten
            }
            m_at = end;
            skip_blanks();
        }
        return Source(m_document.bytes, {begin, m_at}).trimmed();
    }

    Source string_operand() {
        const std::size_t begin = m_at + 1;
        const std::size_t close = find_any(m_text, "\"", begin);
        if (close == m_text.size()) {
            add_fault(m_puzzle, Fault::Kind::syntax, {m_at, m_at + 1}, "The string is not closed",
                      "Write \" at its end");
        }
        const Source value = Source(m_document.bytes, {begin, close});
        m_at = std::min(close + 1, m_text.size());
        return value;
    }

    void take(const Operation& operation) {
        const std::string_view code = operation.code;
        if (code == "bm" && !m_best) {
            m_best = operation.operands;
        } else if (code == "pv" && !m_line) {
            m_line = operation.operands;
        } else if (code == "am") {
            add_avoided(m_puzzle, operation.operands);
        } else if (code == "id") {
            set_id(m_puzzle, operation.operands);
        } else if (code == "dm" && take_mate(operation.operands)) {
            return;
        } else {
            add_field(m_puzzle, to_utf8(code), operation.operands);
            if (is_comment_code(code)) {
                add_caption(m_puzzle, operation.operands);
            }
        }
    }

    /// "dm N": the side to move mates in N moves. Other values (0, being mated) ask for nothing.
    bool take_mate(const Source& operand) {
        const std::string_view text = operand.text();
        int moves = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), moves);
        if (error != std::errc() || end != text.data() + text.size() || moves < 1 || m_puzzle.goal) {
            return false;
        }
        m_puzzle.goal = Stated<Goal>{{GoalKind::mate, moves, GoalUnit::pawn}, operand.span()};
        return true;
    }

    /// A line that starts with a best move is the solution; else the best move is, and the line a remark.
    void conclude() {
        if (m_line) {
            set_solution(m_puzzle, *m_line);
        }
        if (!m_best) {
            return;
        }
        const std::size_t faults = m_puzzle.faults.size();
        const bool with_line = !m_puzzle.solution.empty();
        set_keys(m_puzzle, *m_best);
        if (with_line && m_puzzle.faults.size() > faults) {
            m_puzzle.solution = {};
            m_puzzle.accepted.clear();
            set_keys(m_puzzle, *m_best);
            add_field(m_puzzle, "pv", *m_line);
        }
    }

    Document& m_document;
    std::string_view m_text; ///< the document up to the line's end, so that offsets are the document's
    std::size_t m_at;
    Puzzle m_puzzle;
    std::optional<Source> m_best;
    std::optional<Source> m_line;
};

} // namespace

void read_epd(Document& document, Span part) {
    const std::string_view text = std::string_view(document.bytes).substr(0, part.end);
    for (std::size_t at = part.begin; at < text.size(); at = next_line(text, at)) {
        const auto [begin, end] = trimmed(text.substr(at, line_end(text, at) - at));
        if (begin == end || text[at + begin] == '#') {
            continue;
        }
        if (!add_puzzle(document, LineReader(document, {at + begin, at + end}).read())) {
            return;
        }
    }
}

/// A string of EPD has no escapes: what would end it or its operation cannot be written.
std::optional<Edit> replacing_in_epd(const Document& document, Span span, std::string_view old,
                                     std::string_view text) {
    const std::string_view there = std::string_view(document.bytes).substr(span.begin, span.end - span.begin);
    const bool plain = text.find_first_of("\";") == std::string_view::npos;
    return plain && there == old ? std::optional(Edit{span, std::string(text)}) : std::nullopt;
}

} // namespace collection
