#include "app/words.hpp"

#include "report/head.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

namespace app {

std::string wrapped(std::string_view text, std::string_view margin) {
    std::istringstream words{std::string(text)};
    std::string result;
    std::string line;
    for (std::string word; words >> word;) {
        if (!line.empty() && margin.size() + line.size() + 1 + word.size() > line_width) {
            result += fmt::format("{}{}\n", margin, line);
            line.clear();
        }
        line += line.empty() ? word : ' ' + word;
    }
    return line.empty() ? result : result + fmt::format("{}{}\n", margin, line);
}

std::string folded(std::string_view text, std::size_t columns) {
    report::Written<report::Plain> page;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        line = line.substr(0, line.find_last_not_of(' ') + 1);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (columns == 0 || report::width(line) <= columns) {
            page << report::Untrusted(line) << "\n";
            continue;
        }
        const std::size_t margin = line.find_first_not_of(' ');
        std::size_t head = margin;
        for (std::size_t gap = line.find("  ", margin); gap < columns / 2; gap = line.find("  ", head)) {
            head = line.find_first_not_of(' ', gap);
        }
        const std::size_t used = report::width(line.substr(0, head));
        page << report::Untrusted(line.substr(0, head));
        report::wrap(page, used, report::Untrusted(line.substr(head)), head == 0 ? 4 : used, columns);
        page << "\n";
    }
    return std::move(page).text();
}

std::string indented(std::string_view text, std::string_view margin) {
    std::string result;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        const std::string_view line = text.substr(0, end);
        result += line.empty() ? "\n" : fmt::format("{}{}\n", margin, report::harmless(line));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return result;
}

std::string in_columns(const std::vector<std::vector<std::string>>& rows) {
    std::vector<std::size_t> widths;
    for (const auto& row : rows) {
        widths.resize(std::max(widths.size(), row.size()));
        for (std::size_t i = 0; i + 1 < row.size(); ++i) {
            widths[i] = std::max(widths[i], report::width(report::harmless(row[i])));
        }
    }
    std::string text;
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string cell = report::harmless(row[i]);
            const bool last = i + 1 == row.size();
            text += cell + (last ? "" : std::string(widths[i] - report::width(cell) + 2, ' '));
        }
        text += '\n';
    }
    return text;
}

} // namespace app
