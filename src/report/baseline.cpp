#include "report/baseline.hpp"

#include "report/json_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

namespace report {
namespace {

using Entries = std::vector<BaselineEntry>;

constexpr std::size_t longest_line = std::size_t{64} << 10U;

struct Member {
    const char* name;
    std::string BaselineEntry::*text;
};
constexpr std::array<Member, 7> members{{{"puzzle", &BaselineEntry::puzzle},
                                         {"rule", &BaselineEntry::rule},
                                         {"claim", &BaselineEntry::claim},
                                         {"fingerprint", &BaselineEntry::fingerprint},
                                         {"version", &BaselineEntry::version},
                                         {"effort", &BaselineEntry::effort},
                                         {"reason", &BaselineEntry::reason}}};

/// False when it is no entry.
bool read_line(std::string_view line, BaselineEntry& entry) {
    const Json json = line.size() > longest_line ? Json() : Json::parse(line, nullptr, false);
    for (const Member& member : members) {
        const auto found = json.is_object() ? json.find(member.name) : json.end();
        if (!json.is_object() || found == json.end() || !found->is_string()) {
            return false;
        }
        entry.*member.text = found->get<std::string>();
    }
    return true;
}

auto order_of(const BaselineEntry& entry) {
    return std::tie(entry.puzzle, entry.rule, entry.claim, entry.fingerprint, entry.reason);
}

std::map<std::string, Entries> by_fingerprint(const Entries& entries) {
    std::map<std::string, Entries> result;
    for (const BaselineEntry& entry : entries) {
        result[entry.fingerprint].push_back(entry);
    }
    return result;
}

/// How many of one fingerprint stay.
std::size_t merged(std::size_t base, std::size_t ours, std::size_t theirs) {
    return ours == base ? theirs : theirs == base ? ours : std::max(ours, theirs);
}

} // namespace

collection::Result<Entries> read_baseline(std::string_view bytes, std::string_view name) {
    Entries entries;
    std::size_t number = 0;
    while (!bytes.empty()) {
        ++number;
        const std::size_t end = std::min(bytes.find('\n'), bytes.size());
        std::string_view line = bytes.substr(0, end);
        bytes.remove_prefix(std::min(end + 1, bytes.size()));
        if (line.ends_with('\r')) {
            line.remove_suffix(1);
        }
        if (line.empty()) {
            continue;
        }
        BaselineEntry entry;
        if (!read_line(line, entry)) {
            return board::failure(collection::Error{
                collection::Error::Kind::config, "this line is no entry of a baseline",
                fmt::format("{}:{}", name, number),
                "after a conflict: sidelint baseline merge; else take it out, or write the file anew with "
                "sidelint baseline accept"});
        }
        entry.line = number;
        entries.push_back(std::move(entry));
    }
    return entries;
}

std::string write_baseline(Entries entries) {
    std::stable_sort(entries.begin(), entries.end(), [](const BaselineEntry& a, const BaselineEntry& b) {
        return order_of(a) < order_of(b);
    });
    std::string text;
    for (const BaselineEntry& entry : entries) {
        Json json;
        for (const Member& member : members) {
            json[member.name] = entry.*member.text;
        }
        text += dumped(json, -1) + '\n';
    }
    return text;
}

Entries merge_baselines(const Entries& base, const Entries& ours, const Entries& theirs) {
    auto was = by_fingerprint(base);
    auto mine = by_fingerprint(ours);
    auto others = by_fingerprint(theirs);
    Entries result;
    for (const auto* side : {&mine, &others}) {
        for (const auto& [fingerprint, entries] : *side) {
            const std::size_t of_ours = mine[fingerprint].size();
            const std::size_t of_theirs = others[fingerprint].size();
            const std::size_t kept = merged(was[fingerprint].size(), of_ours, of_theirs);
            // Of those both have, ours is kept, with its reason.
            const bool told_by_ours = side == &others && of_ours >= kept;
            const bool told_by_theirs = side == &mine && of_ours < kept;
            if (!told_by_ours && !told_by_theirs) {
                result.insert(result.end(), entries.begin(),
                              entries.begin() + static_cast<std::ptrdiff_t>(kept));
            }
        }
    }
    return result;
}

} // namespace report
