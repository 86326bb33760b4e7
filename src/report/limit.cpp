#include "report/limit.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace report {

bool Limit::tells(const rules::Finding& finding) {
    if (m_most == 0) {
        return true;
    }
    Tally& tally = m_tallies[{finding.rule, finding.status}];
    if (tally.told < m_most) {
        ++tally.told;
        return true;
    }
    ++tally.left;
    tally.files.insert(finding.file);
    return false;
}

Written<Plain> Limit::left_out(std::size_t columns) const {
    Written<Plain> text;
    std::size_t all = 0;
    std::size_t widest = std::string_view("rule").size();
    for (const auto& [key, tally] : m_tallies) {
        all += tally.left;
        widest = std::max(widest, tally.left > 0 ? key.first.size() : 0);
    }
    if (all == 0) {
        return text;
    }
    constexpr std::size_t indent = 4;
    const std::string words =
        fmt::format("Left out: {} of rules with more than {} (--limit 0 tells all, --format brief each in a "
                    "line, --rule switches a rule off)",
                    plural(all, "finding"), m_most);
    wrap(text, 0, Untrusted(words), indent, columns);
    text << "\n";
    text << Untrusted(fmt::format("    {:<{}}  {:>7}  {:>8}  in files", "rule", widest, "told", "left out"))
         << "\n";
    for (const auto& [key, tally] : m_tallies) {
        if (tally.left > 0) {
            text << Untrusted(fmt::format("    {:<{}}  {:>7}  {:>8}  {:>8}", key.first, widest, tally.told,
                                          tally.left, tally.files.size()));
            if (key.second != rules::Status::none) {
                text << "  " << Untrusted(rules::name(key.second));
            }
            text << "\n";
        }
    }
    text << "\n";
    return text;
}

} // namespace report
