#include "collection/builder.hpp"
#include "collection/edit.hpp"
#include "collection/readers.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <utility>

namespace collection {

namespace {

/// Cuts rows of RFC 4180 out of a text: quotes may hold separators, line ends and doubled quotes.
class RowReader {
  public:
    RowReader(std::string_view document, Span part, char separator)
        : m_text(document.substr(0, part.end)), m_at(part.begin), m_separator(separator) {}

    /// Blank rows are passed over. False at the end.
    bool next(std::vector<MappedText>& cells) {
        cells.clear();
        while (m_at < m_text.size() && is_blank(m_text[m_at]) && m_text[m_at] != m_separator) {
            ++m_at;
        }
        if (m_at == m_text.size()) {
            return false;
        }
        do {
            cells.push_back(m_at < m_text.size() && m_text[m_at] == '"' ? quoted_cell() : plain_cell());
            if (m_at < m_text.size() && m_text[m_at] == '"') {
                ++m_at;
            }
        } while (next_cell());
        return true;
    }

    [[nodiscard]] std::vector<Fault> take_faults() { return std::exchange(m_faults, {}); }

  private:
    bool next_cell() {
        if (m_at == m_text.size() || m_text[m_at] != m_separator) {
            m_at = next_line(m_text, m_at);
            return false;
        }
        ++m_at;
        return true;
    }

    std::size_t plain_end(std::size_t at) const {
        while (at < m_text.size() && m_text[at] != m_separator && !is_line_end(m_text[at])) {
            ++at;
        }
        return at;
    }

    MappedText plain_cell() {
        const std::size_t begin = m_at;
        m_at = plain_end(m_at);
        return cell({begin, m_at});
    }

    MappedText cell(Span span) const {
        MappedText cell;
        cell.span = span;
        cell.append(m_text.substr(span.begin, span.end - span.begin), span.begin);
        return cell;
    }

    /// Stops at the closing quote. A quote that never closes properly is taken for the cell's end on its own
    /// line.
    MappedText quoted_cell() {
        MappedText cell;
        const std::size_t open = m_at;
        std::size_t at = open + 1;
        while (at < m_text.size() && at - open <= max_line_bytes) {
            const std::size_t quote = find_any(m_text, "\"", at);
            cell.append(m_text.substr(at, quote - at), at);
            const std::size_t after = std::min(quote + 1, m_text.size());
            if (after < m_text.size() && m_text[after] == '"') {
                cell.append("\"", quote);
                at = after + 1;
                continue;
            }
            if (quote < m_text.size() && ends_cell(after)) {
                cell.span = {open + 1, quote};
                m_at = quote;
                return cell;
            }
            break;
        }
        return spoilt_cell(open);
    }

    bool ends_cell(std::size_t at) const {
        return at == m_text.size() || m_text[at] == m_separator || is_line_end(m_text[at]);
    }

    MappedText spoilt_cell(std::size_t open) {
        add_fault(m_faults, {Fault::Kind::syntax,
                             {open, open + 1},
                             "The quotes of this cell do not pair",
                             "Close the quote at the cell's end, and double quotes inside"});
        m_at = plain_end(open + 1);
        const bool closed = m_at > open + 1 && m_text[m_at - 1] == '"';
        return cell({open + 1, closed ? m_at - 1 : m_at});
    }

    std::string_view m_text;
    std::size_t m_at;
    char m_separator;
    std::vector<Fault> m_faults;
};

char separator_of(std::string_view path, std::string_view header) {
    if (equals_ignoring_case(path.substr(path.size() - std::min<std::size_t>(path.size(), 4)), ".tsv")) {
        return '\t';
    }
    char best = ',';
    for (const char candidate : {';', '\t'}) {
        const auto count = [header](char c) { return std::count(header.begin(), header.end(), c); };
        best = count(candidate) > count(best) ? candidate : best;
    }
    return best;
}

class Rows {
  public:
    Rows(Document& document, const TableMapping& mapping, const TableColumns& columns)
        : m_document(document), m_mapping(mapping), m_columns(columns) {}

    bool add(std::vector<MappedText>& cells, std::vector<Fault> faults) {
        m_cells = &cells;
        Puzzle puzzle;
        puzzle.span = {cells.front().span.begin, cells.back().span.end};
        puzzle.faults = std::move(faults);
        if (cells.size() > m_columns.names.size()) {
            add_fault(puzzle, Fault::Kind::syntax, cells[m_columns.names.size()].span,
                      "More cells than the header has columns",
                      "Put cells with separators in them into quotes");
        }
        fill(puzzle);
        return add_puzzle(m_document, std::move(puzzle));
    }

    /// The column's place, or the number of columns when it is not there.
    [[nodiscard]] std::size_t column(const std::string& name) const {
        const auto& names = m_columns.names;
        const auto exact = std::find(names.begin(), names.end(), name);
        const auto found = exact != names.end()
                               ? exact
                               : std::find_if(names.begin(), names.end(), [&name](const std::string& other) {
                                     return equals_ignoring_case(other, name);
                                 });
        return name.empty() ? names.size() : static_cast<std::size_t>(found - names.begin());
    }

  private:
    /// Calls `use` with the cell when there is one, and remembers that the column is taken.
    template <class Use> void with(const std::string& name, Use use) {
        const std::size_t place = column(name);
        if (place < m_columns.names.size()) {
            m_taken[place] = true;
            if (place < m_cells->size()) {
                use(Source((*m_cells)[place]).trimmed());
            }
        }
    }

    void fill(Puzzle& puzzle) {
        m_taken.assign(m_columns.names.size(), false);
        const Notation notation =
            m_mapping.moves == TableMapping::Moves::coordinate ? Notation::coordinate : Notation::san;
        with(m_mapping.fen, [&](const Source& cell) { set_fen(puzzle, cell); });
        with("variant", [&](const Source& cell) {
            set_variant(puzzle, cell);
            add_field(puzzle, "variant", cell);
        });
        with(m_mapping.solution, [&](const Source& cell) { fill_solution(puzzle, cell, notation); });
        with(m_mapping.id, [&](const Source& cell) { set_id(puzzle, cell); });
        with(m_mapping.goal, [&](const Source& cell) { set_goal(puzzle, cell); });
        with(m_mapping.to_move, [&](const Source& cell) { set_side(puzzle, cell); });
        with(m_mapping.accept, [&](const Source& cell) { add_accepted(puzzle, cell); });
        with(m_mapping.themes,
             [&](const Source& cell) { add_themes(puzzle, cell, m_mapping.theme_separator); });
        with(m_mapping.allow, [&](const Source& cell) { add_allowances(puzzle, cell); });
        for (std::size_t i = 0; i < m_columns.names.size() && i < m_cells->size(); ++i) {
            const Source cell = Source((*m_cells)[i]).trimmed();
            if (!m_taken[i] && !cell.text().empty()) {
                add_field(puzzle, m_columns.names[i], cell);
            }
        }
    }

    void fill_solution(Puzzle& puzzle, const Source& cell, Notation notation) {
        const bool lead_in = m_mapping.first_move == TableMapping::FirstMove::opponent;
        if (m_mapping.key_only) {
            set_keys(puzzle, cell, notation);
        } else {
            set_solution(puzzle, cell, notation, lead_in ? FirstMove::opponent : FirstMove::solver);
        }
    }

    Document& m_document;
    const TableMapping& m_mapping;
    const TableColumns& m_columns;
    std::vector<MappedText>* m_cells = nullptr;
    std::vector<bool> m_taken;
};

/// Every column that the mapping names must be there: a misspelt one would silently check nothing.
bool check_columns(Document& document, const TableMapping& mapping, const Rows& rows,
                   const TableColumns& columns, Span header) {
    bool complete = true;
    for (const std::string* name : {&mapping.fen, &mapping.id, &mapping.solution, &mapping.goal,
                                    &mapping.themes, &mapping.accept, &mapping.to_move, &mapping.allow}) {
        if (!name->empty() && rows.column(*name) == columns.names.size()) {
            add_fault(document.faults,
                      {Fault::Kind::field, header, "The table has no column " + in_quotes(*name),
                       "Name the columns in the first row as the configuration does"});
            complete = complete && name != &mapping.fen;
        }
    }
    if (columns.names.size() > max_list) {
        add_fault(document.faults,
                  {Fault::Kind::limit,
                   header,
                   "The table has more than " + std::to_string(max_list) + " columns and was not read",
                   {}});
        return false;
    }
    return complete && !mapping.fen.empty();
}

} // namespace

void read_table(Document& document, Span part, const TableMapping& mapping, TableColumns& columns) {
    const std::string_view text = std::string_view(document.bytes).substr(0, part.end);
    if (columns.names.empty()) {
        columns.separator =
            separator_of(document.path, text.substr(part.begin, line_end(text, part.begin) - part.begin));
    }
    RowReader reader(document.bytes, part, columns.separator);
    std::vector<MappedText> cells;
    if (columns.names.empty()) {
        if (!reader.next(cells)) {
            return;
        }
        for (const MappedText& cell : cells) {
            columns.names.push_back(to_utf8(trim(cell.text)));
        }
        const Span header{cells.front().span.begin, cells.back().span.end};
        columns.usable = check_columns(document, mapping, Rows(document, mapping, columns), columns, header);
    }
    Rows rows(document, mapping, columns);
    while (columns.usable && reader.next(cells)) {
        if (!rows.add(cells, reader.take_faults())) {
            return;
        }
    }
}

std::optional<Edit> replacing_in_table(const Document& document, const Puzzle& puzzle, Span span,
                                       std::string_view old, std::string_view text) {
    const std::string_view bytes = document.bytes;
    const auto quoted_before = [&](std::size_t at) { return at > 0 && bytes[at - 1] == '"'; };
    const std::size_t begin = puzzle.span.begin - (quoted_before(puzzle.span.begin) ? 1 : 0);
    const char separator = separator_of(document.path, bytes.substr(0, line_end(bytes, 0)));
    std::vector<MappedText> cells;
    RowReader reader(bytes, {begin, bytes.size()}, separator);
    reader.next(cells);
    const auto cell = std::find_if(cells.begin(), cells.end(), [span](const MappedText& one) {
        return one.span.begin <= span.begin && span.end <= one.span.end;
    });
    if (cell == cells.end() || !reader.take_faults().empty()) {
        return std::nullopt;
    }
    const std::optional<std::size_t> at = place_of(Source(*cell), span, old);
    if (!at) {
        return std::nullopt;
    }
    if (quoted_before(cell->span.begin)) {
        return Edit{span, doubled(text, '"')};
    }
    if (text.find(separator) == std::string_view::npos && text.find('"') == std::string_view::npos) {
        return Edit{span, std::string(text)};
    }
    std::string whole = cell->text;
    return Edit{cell->span, '"' + doubled(whole.replace(*at, old.size(), text), '"') + '"'};
}

} // namespace collection
