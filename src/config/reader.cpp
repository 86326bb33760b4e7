#include "config/reader.hpp"

#include "collection/text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace config {
namespace {

std::string_view kind_of(const YamlNode& node) {
    switch (node.kind) {
    case YamlNode::Kind::null:
        return "nothing";
    case YamlNode::Kind::scalar:
        return "a single value";
    case YamlNode::Kind::list:
        return "a list";
    case YamlNode::Kind::map:
        break;
    }
    return "a map";
}

/// "2", "2.5", "2.05" in hundredths.
std::optional<int> hundredths(std::string_view text) {
    int value = 0;
    int decimals = -1;
    bool any = false;
    for (const char c : text) {
        if (c == '.' && decimals < 0) {
            decimals = 0;
            continue;
        }
        if (!collection::is_digit(c) || value > 9'999 || decimals == 2) {
            return std::nullopt;
        }
        any = true;
        value = value * 10 + (c - '0');
        decimals += decimals < 0 ? 0 : 1;
    }
    for (int missing = std::max(decimals, 0); missing < 2; ++missing) {
        value *= 10;
    }
    return any ? std::optional(value) : std::nullopt;
}

} // namespace

std::string in_quotes(std::string_view text) {
    constexpr std::size_t most = 60;
    return fmt::format("'{}{}'", text.substr(0, most), text.size() > most ? "..." : "");
}

void Reader::fail(const YamlNode& at, std::string message, std::string cure) {
    m_errors.push_back({Error::Kind::config, std::move(message),
                        fmt::format("{}:{}:{}", m_name, at.place.line, at.place.column), std::move(cure)});
}

void Reader::fail_unknown(const YamlNode& at, std::string_view what, std::string_view text,
                          const std::vector<std::string>& known) {
    constexpr std::size_t few = 8;
    const std::vector<std::string> near = rules::nearest(text, known);
    std::string cure;
    if (!near.empty()) {
        cure = fmt::format("did you mean {}?", fmt::join(near, " or "));
    } else if (known.size() <= few) {
        cure = fmt::format("known here: {}", fmt::join(known, ", "));
    }
    fail(at, fmt::format("unknown {} {}", what, in_quotes(text)), std::move(cure));
}

std::optional<std::string> Reader::text(const YamlNode& node) {
    if (node.kind != YamlNode::Kind::scalar) {
        fail(node, fmt::format("a single value is wanted here, not {}", kind_of(node)));
        return std::nullopt;
    }
    return node.text;
}

std::span<const YamlNode> Reader::items(const YamlNode& node) {
    if (node.kind == YamlNode::Kind::null) {
        return {};
    }
    return node.kind == YamlNode::Kind::list ? std::span(node.items) : std::span(&node, 1);
}

std::vector<std::string> Reader::texts(const YamlNode& node) {
    std::vector<std::string> result;
    for (const YamlNode& item : items(node)) {
        if (auto one = text(item)) {
            result.push_back(std::move(*one));
        }
    }
    return result;
}

std::string Reader::seen_from_root(const std::string& glob) const {
    if (m_folder.empty()) {
        return glob;
    }
    const bool any_folder = glob.find('/') == std::string::npos;
    return fmt::format("{}/{}{}", m_folder, any_folder ? "**/" : "",
                       glob.front() == '/' ? glob.substr(1) : glob);
}

std::optional<std::string> Reader::glob(const YamlNode& node) {
    const auto pattern = text(node);
    if (!pattern) {
        return std::nullopt;
    }
    const bool climbs =
        *pattern == ".." || pattern->starts_with("../") || pattern->find("/../") != std::string::npos;
    if (pattern->empty() || climbs) {
        fail(node, fmt::format("{} fits no file", in_quotes(*pattern)),
             "patterns are relative to the folder of this file: \"sets/**\", \"*.pgn\"");
        return std::nullopt;
    }
    return seen_from_root(*pattern);
}

std::vector<std::string> Reader::globs(const YamlNode& node) {
    std::vector<std::string> result;
    for (const YamlNode& item : items(node)) {
        if (auto one = glob(item)) {
            result.push_back(std::move(*one));
        }
    }
    return result;
}

std::optional<bool> Reader::yes_no(const YamlNode& node) {
    const auto value = text(node);
    if (value && *value != "yes" && *value != "no" && *value != "true" && *value != "false") {
        fail(node, fmt::format("{} is neither yes nor no", in_quotes(*value)));
        return std::nullopt;
    }
    return value ? std::optional(*value == "yes" || *value == "true") : std::nullopt;
}

std::optional<int> Reader::pawns(const YamlNode& node) {
    const auto value = text(node);
    const auto number = value ? hundredths(*value) : std::nullopt;
    if (value && !number) {
        fail(node, fmt::format("{} is no number of pawns", in_quotes(*value)),
             "a number from 0 to 99 with at most two decimals, like 2.0");
    }
    return number;
}

std::optional<std::size_t> Reader::choice(const YamlNode& node,
                                          const std::array<std::string_view, 3>& choices) {
    const auto value = text(node);
    if (!value) {
        return std::nullopt;
    }
    std::vector<std::string> known;
    for (const std::string_view one : choices) {
        if (one.empty()) {
            break; // fewer than three
        }
        if (one == *value) {
            return known.size();
        }
        known.emplace_back(one);
    }
    fail(node, fmt::format("{} is none of {}", in_quotes(*value), fmt::join(known, ", ")));
    return std::nullopt;
}

bool Reader::is_map(const YamlNode& node) {
    if (node.kind == YamlNode::Kind::map || node.kind == YamlNode::Kind::null) {
        return true;
    }
    fail(node, fmt::format("keys with values are wanted here, not {}", kind_of(node)));
    return false;
}

} // namespace config
