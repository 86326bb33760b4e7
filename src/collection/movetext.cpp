#include "collection/movetext.hpp"

#include "collection/document.hpp"
#include "collection/glyphs.hpp"
#include "collection/move_word.hpp"
#include "collection/text.hpp"

#include <algorithm>

namespace collection {

namespace {

constexpr int highest_glyph = 255; // PGN standard 1994, section 10: 0 to 255
constexpr std::string_view ellipsis = "…";
constexpr std::string_view delimiters = "(){}[];$,*\"";

class MovetextReader {
  public:
    MovetextReader(const Source& source, const std::optional<board::Position>& start, Notation notation,
                   FirstMove first)
        : m_source(source), m_text(source.text()), m_notation(notation),
          m_lead_in_due(first == FirstMove::opponent) {
        m_out.diagram = start;
        m_line.here = start;
        constexpr std::size_t bytes_a_move = 6; // with number and blank, as a rule
        m_out.tree.nodes.reserve(std::min<std::size_t>(m_text.size() / bytes_a_move, 64) + 2);
    }

    Movetext read() {
        while (m_at < m_text.size() && !m_stopped) {
            step();
        }
        if (!m_stack.empty() && !m_stopped) {
            fault(Fault::Kind::syntax, m_line.open, m_line.open + 1, "The variation is not closed",
                  "Write \")\" at its end");
        }
        note_first_number(); // "1... *" speaks without a move
        m_out.end = m_at;
        return std::move(m_out);
    }

  private:
    /// A line being read: the main line or a variation.
    struct Line {
        std::size_t node = 0;
        std::optional<board::Position> before; ///< the position that `node`'s move was played in
        std::optional<board::Position> here;   ///< after it; empty when it could not be played
        bool fresh = true;                     ///< no move yet
        std::size_t open = 0;                  ///< where its "(" stands
    };

    void fault(Fault::Kind kind, std::size_t begin, std::size_t end, std::string what,
               std::string cure = {}) {
        add_fault(m_out.faults, {kind, m_source.span(begin, end), std::move(what), std::move(cure)});
    }

    /// What signs and comments belong to.
    TreeNode& current() { return m_out.tree.nodes[m_beside.value_or(m_line.node)]; }

    /// A bracket ends what "or" has begun.
    void forget_or() {
        m_alike = false;
        m_beside.reset();
    }

    void step() {
        if (const std::size_t blank = blank_length(m_text, m_at); blank > 0) {
            m_at += blank;
            return;
        }
        switch (m_text[m_at]) {
        case '{':
            return brace_comment();
        case ';':
            return line_comment();
        case '(':
            return open();
        case ')':
            return close();
        case '$':
            return numbered_glyph();
        case '*':
            return result("*", m_at + 1);
        case '}':
        case ']':
        case '"':
            return stray(m_at + 1);
        case '[':
            return stray(find_any(m_text.substr(0, line_end(m_text, m_at)), "]", m_at) + 1);
        case '%':
            if (m_at == 0 || is_line_end(m_text[m_at - 1])) {
                m_at = line_end(m_text, m_at); // an escape (section 6)
                return;
            }
            return word();
        default:
            return dots() ? void() : word();
        }
    }

    void stray(std::size_t end) {
        end = std::min(end, m_text.size());
        fault(Fault::Kind::syntax, m_at, end,
              "Nothing of movetext: " + in_quotes(m_text.substr(m_at, end - m_at)),
              "Put remarks into braces");
        m_at = end;
    }

    // Comments
    // --------------------------------------------------------------------------------------------------

    void brace_comment() {
        const std::size_t close = m_text.find('}', m_at);
        const std::size_t end = std::min(close, m_text.size());
        if (close == std::string_view::npos) {
            fault(Fault::Kind::syntax, m_at, m_at + 1, "The comment is not closed", "Write \"}\" at its end");
        }
        comment(m_at + 1, end);
        m_at = std::min(end + 1, m_text.size());
    }

    void line_comment() {
        const std::size_t end = line_end(m_text, m_at);
        comment(m_at + 1, end);
        m_at = end;
    }

    void comment(std::size_t begin, std::size_t end) {
        const Source part = m_source.part(begin, end).trimmed();
        if (part.text().empty() || !within_limit()) {
            return;
        }
        std::vector<Comment>& home = m_line.fresh && !m_stack.empty() ? m_pending : current().comments;
        home.push_back({to_utf8(part.text()), part.span()});
    }

    /// Nodes and comments together, since a comment takes two bytes to write.
    bool within_limit() {
        if (++m_elements <= max_tree_nodes) {
            return true;
        }
        if (!m_stopped) {
            fault(Fault::Kind::limit, m_at, m_at + 1,
                  "The solution has more than " + std::to_string(max_tree_nodes) +
                      " moves and comments; the rest was not read");
        }
        m_stopped = true;
        return false;
    }

    // Variations
    // ------------------------------------------------------------------------------------------------

    void open() {
        const std::size_t inner = std::min(m_text.find_first_not_of("!?", m_at + 1), m_text.size());
        if (inner > m_at + 1 && inner < m_text.size() && m_text[inner] == ')') {
            m_at = inner + 1; // "(!)": a shade of a sign, no claim
            return;
        }
        if (m_line.fresh) {
            fault(Fault::Kind::syntax, m_at, m_at + 1,
                  "A variation must stand behind the move that it replaces");
            m_at = variation_end(m_text, m_at);
            return;
        }
        if (m_stack.size() == max_variation_depth) {
            fault(Fault::Kind::limit, m_at, m_at + 1,
                  "Variations are nested more than " + std::to_string(max_variation_depth) +
                      " deep; this one was not read");
            m_at = variation_end(m_text, m_at);
            return;
        }
        m_number.reset();
        forget_or();
        m_stack.push_back(m_line);
        const Line& outer = m_stack.back();
        m_line = Line{m_out.tree.nodes[outer.node].parent, std::nullopt, outer.before, true, m_at};
        ++m_at;
    }

    void close() {
        if (m_stack.empty()) {
            return stray(m_at + 1);
        }
        if (trim(m_text.substr(m_line.open + 1, m_at - m_line.open - 1)).empty()) {
            fault(Fault::Kind::stray, m_line.open, m_at + 1, "The variation is empty", "Take it out");
        }
        m_line = m_stack.back();
        m_stack.pop_back();
        m_number.reset();
        forget_or();
        hand_over_comments();
        ++m_at;
    }

    void hand_over_comments() {
        std::vector<Comment>& home = current().comments;
        home.insert(home.end(), std::make_move_iterator(m_pending.begin()),
                    std::make_move_iterator(m_pending.end()));
        m_pending.clear();
    }

    // Glyphs and numbers
    // ----------------------------------------------------------------------------------------

    void numbered_glyph() {
        const std::size_t end = std::min(m_text.find_first_not_of("0123456789", m_at + 1), m_text.size());
        const int number = number_of(m_text.substr(m_at + 1, end - m_at - 1));
        if (end == m_at + 1 || number > highest_glyph) {
            fault(Fault::Kind::syntax, m_at, end,
                  "No such glyph: " + in_quotes(m_text.substr(m_at, end - m_at)),
                  "Write $ and a number from 0 to 255");
        } else {
            add_glyphs({number}, end);
        }
        m_at = end;
    }

    void add_glyphs(const std::vector<int>& glyphs, std::size_t end) {
        constexpr std::size_t most = 64; // a move
        constexpr int of_moves = 9;      // up to this they speak of the move before them (section 10)
        if (m_line.fresh &&
            std::any_of(glyphs.begin(), glyphs.end(), [](int g) { return g > 0 && g <= of_moves; })) {
            fault(Fault::Kind::stray, m_at, end,
                  "A sign without a move: " + in_quotes(m_text.substr(m_at, end - m_at)),
                  "Write it behind its move");
        }
        if (m_line.fresh && !m_stack.empty()) {
            return; // before a variation's first move: it could only fall on the wrong move
        }
        std::vector<int>& home = current().glyphs;
        home.insert(home.end(), glyphs.begin(), glyphs.end());
        home.resize(std::min(home.size(), most));
    }

    /// "...", "…": part of the number before them, or strays that mean nothing.
    bool dots() {
        const std::size_t begin = m_at;
        int count = 0;
        while (m_at < m_text.size()) {
            if (m_text[m_at] == '.') {
                ++m_at;
                ++count;
            } else if (m_text.substr(m_at, ellipsis.size()) == ellipsis) {
                m_at += ellipsis.size();
                count += 3;
            } else {
                break;
            }
        }
        if (m_number && m_at > begin) {
            m_dots += count;
            m_number->black = m_dots > 1;
            m_number->span.end = m_source.span(begin, m_at).end;
        }
        return m_at > begin;
    }

    void number(std::size_t end) {
        m_number = NumberMark{number_of(m_text.substr(m_at, end - m_at)), false, m_source.span(m_at, end)};
        m_dots = 0;
        m_at = end;
        dots();
    }

    // Words
    // -----------------------------------------------------------------------------------------------------

    std::size_t word_end() const {
        std::size_t end = m_at;
        while (end < m_text.size() && blank_length(m_text, end) == 0) {
            const bool bracketed =
                m_text[end] == '(' && end > m_at && end + 2 < m_text.size() && m_text[end + 2] == ')' &&
                std::string_view("QRBNqrbn").find(m_text[end + 1]) != std::string_view::npos;
            if (bracketed) {
                end += 3; // "e8(Q)"
            } else if (delimiters.find(m_text[end]) != std::string_view::npos) {
                break;
            } else {
                ++end;
            }
        }
        return std::max(end, m_at + 1);
    }

    void word() {
        const std::size_t end = word_end();
        const std::string_view raw = m_text.substr(m_at, end - m_at);
        const std::size_t digits = std::min(raw.find_first_not_of("0123456789"), raw.size());
        const std::string_view behind = raw.substr(digits);
        if (digits > 0 &&
            (behind.empty() || behind.front() == '.' || behind.substr(0, ellipsis.size()) == ellipsis)) {
            return number(m_at + digits);
        }
        const std::string text = to_utf8(raw);
        if (const std::string_view marker = result_of(text); !marker.empty()) {
            return result(marker, end);
        }
        if (glue(text, end)) {
            return;
        }
        if (joins_moves(text) && !m_line.fresh) {
            m_alike = true;
            m_at = end;
            return;
        }
        const MoveWord word = cut_word(text, m_notation);
        if (!word.text.empty() && !is_remark(word.text)) {
            const std::size_t begin = raw_length(raw, word.begin);
            move(word.text, m_at + begin, m_at + raw_length(raw, word.begin + word.text.size()));
        }
        add_glyphs(word.glyphs, end);
        m_at = end;
    }

    /// A check sign or "e.p." with a blank before it belongs to the move.
    bool glue(std::string_view word, std::size_t end) {
        const bool part =
            word == "+" || word == "++" || word == "#" || word == "e.p." || word == "ep" || word == "†";
        if (part && !m_line.fresh) {
            current().text += word;
            current().span.end = m_source.span(m_at, end).end;
        }
        m_at = part ? end : m_at;
        return part;
    }

    void result(std::string_view marker, std::size_t end) {
        if (m_stack.empty()) {
            m_out.tree.result = Stated<std::string>{std::string(marker), m_source.span(m_at, end)};
            m_stopped = true;
        }
        m_at = end;
    }

    void move(const std::string& text, std::size_t begin, std::size_t end) {
        if (m_lead_in_due) {
            return lead_in(text, begin, end);
        }
        if (!within_limit()) {
            return;
        }
        const Line line = m_line;
        if (m_alike) { // beside the move before "or", and the line goes on from that one
            m_line = Line{m_out.tree.nodes[line.node].parent, std::nullopt, line.before, false, line.open};
        }
        PlayedMove played{board::Move(), MoveStatus::unchecked};
        if (m_line.here) {
            played = read_move(&*m_line.here, text, m_notation);
        }
        note_first_number();
        TreeNode node;
        node.parent = m_line.node;
        node.text = text;
        node.span = m_source.span(begin, end);
        node.move = played.move;
        node.status = played.status;
        node.number = m_number;
        node.alike = m_alike;
        add_node(std::move(node));
        if (m_alike) {
            m_beside = m_line.node;
            m_line = line;
            m_alike = false;
        }
    }

    void add_node(TreeNode node) {
        const std::size_t place = m_out.tree.nodes.size();
        m_out.tree.nodes[m_line.node].children.push_back(place);
        m_beside.reset();
        m_line.node = place;
        m_line.fresh = false;
        m_line.before = m_line.here;
        if (node.status == MoveStatus::legal) {
            m_line.here->make(node.move);
        } else {
            m_line.here.reset();
        }
        m_out.tree.nodes.push_back(std::move(node));
        m_number.reset();
        hand_over_comments();
    }

    void note_first_number() {
        if (m_out.tree.nodes.size() == 1 && m_number && m_dots > 0) {
            const board::Color color = m_number->black ? board::Color::black : board::Color::white;
            m_out.first_number = SideStatement{color, SideStatement::Source::move_number, m_number->span};
        }
    }

    void lead_in(const std::string& text, std::size_t begin, std::size_t end) {
        m_lead_in_due = false;
        m_number.reset();
        m_out.lead_in = Stated<std::string>{text, m_source.span(begin, end)};
        if (!m_line.here) {
            return;
        }
        const PlayedMove played = read_move(&*m_line.here, text, m_notation);
        m_out.lead_in_played = played.status == MoveStatus::legal;
        if (m_out.lead_in_played) {
            m_line.here->make(played.move);
        } else {
            m_line.here.reset();
            fault(Fault::Kind::field, begin, end,
                  "The move " + in_quotes(text) + ", which should lead into the diagram, cannot be played");
        }
        m_out.diagram = m_line.here;
    }

    Source m_source;
    std::string_view m_text;
    std::size_t m_at = 0;
    Notation m_notation;
    bool m_lead_in_due;
    bool m_stopped = false;
    bool m_alike = false;                ///< "or" was read: the next move stands beside the last
    std::optional<std::size_t> m_beside; ///< the move that did
    std::size_t m_elements = 0;
    Line m_line;
    std::vector<Line> m_stack;      ///< the lines that the present one interrupts
    std::vector<Comment> m_pending; ///< before the first move of a variation
    std::optional<NumberMark> m_number;
    int m_dots = 0;
    Movetext m_out;
};

} // namespace

void add_fault(std::vector<Fault>& faults, Fault fault) {
    constexpr std::size_t most = 100;
    if (faults.size() < most) {
        faults.push_back(std::move(fault));
    } else if (faults.size() == most) {
        faults.push_back({Fault::Kind::limit, fault.span, "More faults follow that are not listed", {}});
    }
}

Movetext read_movetext(const Source& source, const std::optional<board::Position>& start, Notation notation,
                       FirstMove first) {
    return MovetextReader(source, start, notation, first).read();
}

} // namespace collection
