#include "report/head.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {
namespace {

constexpr std::size_t margin = 9; // "     5 | "
constexpr std::size_t dots = 3;   // "..." where something is cut

/// A line by its code points, as they will be printed.
class Line {
  public:
    explicit Line(std::string_view text) : m_text(text) {
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t size = first_code_point(text.substr(at)).size;
            at += size;
            m_bytes.push_back(at);
            m_cells.push_back(m_cells.back() + width(harmless(text.substr(at - size, size))));
        }
    }
    [[nodiscard]] std::size_t size() const { return m_bytes.size() - 1; } ///< code points
    [[nodiscard]] std::size_t cells(std::size_t from, std::size_t to) const {
        return m_cells[to] - m_cells[from];
    }
    [[nodiscard]] std::string_view part(std::size_t from, std::size_t to) const {
        return m_text.substr(m_bytes[from], m_bytes[to] - m_bytes[from]);
    }
    /// The smallest index from which on to `to` it takes no more than `cells`.
    [[nodiscard]] std::size_t back(std::size_t to, std::size_t cells) const {
        const std::size_t least = m_cells[to] - std::min(m_cells[to], cells);
        return static_cast<std::size_t>(std::lower_bound(m_cells.begin(), m_cells.end(), least) -
                                        m_cells.begin());
    }
    /// The largest index up to which from `from` on it takes no more than `cells`.
    [[nodiscard]] std::size_t forth(std::size_t from, std::size_t cells) const {
        const auto behind = std::upper_bound(m_cells.begin(), m_cells.end(), m_cells[from] + cells);
        return static_cast<std::size_t>(behind - m_cells.begin()) - 1;
    }

  private:
    std::string_view m_text;
    std::vector<std::size_t> m_bytes{0}; ///< where each begins, and the end
    std::vector<std::size_t> m_cells{0}; ///< cells before each, and of all
};

/// Code points that are shown.
struct Window {
    std::size_t from, to;
};

Window window_around(const Line& line, std::size_t place, std::size_t place_end, std::size_t columns) {
    const std::size_t all = line.size();
    if (columns == 0 || line.cells(0, all) + margin <= columns) {
        return {0, all};
    }
    const std::size_t room = std::max(columns, margin + 4 * dots) - margin;
    if (line.cells(0, place_end) + dots <= room) {
        return {0, line.forth(0, room - dots)};
    }
    if (line.cells(place, all) + dots <= room * 2 / 3) {
        return {line.back(all, room - dots), all};
    }
    const std::size_t from = line.back(place, (room - 2 * dots) / 3);
    const std::size_t to = line.forth(from, room - 2 * dots);
    return {from, to};
}

/// The source line without what takes no column; empty when there is nothing to show.
std::string source_of(const rules::Finding& finding) {
    std::string source = finding.excerpt;
    if (source.starts_with("\xEF\xBB\xBF")) {
        source.erase(0, 3);
    }
    std::replace(source.begin(), source.end(), '\t', ' ');
    return source.find_first_not_of(' ') == std::string::npos ? "" : source;
}

/// Code points of the line that the finding is about.
Window place_in(const rules::Finding& finding, const Line& line) {
    const auto index_of = [&](std::size_t column) {
        return std::min(column - std::min(column, finding.excerpt_column), line.size());
    };
    const bool one_line = finding.end.line == finding.begin.line;
    const std::size_t place = index_of(finding.begin.column);
    return {place, std::max(place, one_line ? index_of(finding.end.column) : line.size())};
}

} // namespace

std::optional<MarkedLine> marked_line(const rules::Finding& finding) {
    const std::string source = source_of(finding);
    if (source.empty()) {
        return std::nullopt;
    }
    const Line line(source);
    const Window place = place_in(finding, line);
    const std::size_t to = std::min(std::max(place.to, place.from + 1), line.size());
    return MarkedLine{finding.excerpt_column > 1, std::string(line.part(0, place.from)),
                      std::string(line.part(place.from, to)), std::string(line.part(to, line.size()))};
}

Written<Plain> excerpt(const rules::Finding& finding, const Look& look) {
    Written<Plain> drawn;
    const std::string source = source_of(finding);
    if (source.empty()) {
        return drawn;
    }
    const Line line(source);
    const auto [place, place_end] = place_in(finding, line);
    const Window shown = window_around(line, place, place_end, look.width);
    const bool cut_before = shown.from > 0 || finding.excerpt_column > 1;

    drawn << Untrusted(fmt::format("{:>6} | ", finding.begin.line))
          << (cut_before ? Literal("...") : Literal("")) << Untrusted(line.part(shown.from, shown.to))
          << (shown.to < line.size() ? Literal("...\n") : Literal("\n"));
    if (place >= line.size()) {
        return drawn; // the place lies behind the part that is shown
    }
    const std::size_t under_to = std::clamp(place_end, place, std::max(place, shown.to));
    drawn << "       | ";
    drawn.times((cut_before ? dots : 0) + width(harmless(line.part(shown.from, place))), " ");
    Written<Plain> carets;
    carets.times(std::max<std::size_t>(line.cells(place, under_to), 1), "^");
    return drawn << set_off(carets, tone_of(finding), look) << "\n";
}

} // namespace report
