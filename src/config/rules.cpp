#include "config/rules.hpp"

#include "config/keys.hpp"
#include "rules/facts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <charconv>

namespace config {
namespace {

bool is_number(std::string_view text) {
    double ignored = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), ignored);
    return fault == std::errc() && end == text.data() + text.size();
}

/// The default shows what kind of value an option takes.
std::string_view refusal(const rules::OptionSpec& option, const std::string& value) {
    const bool takes_yes_no = option.fallback == "yes" || option.fallback == "no";
    if (takes_yes_no && value != "yes" && value != "no") {
        return "yes or no";
    }
    return is_number(option.fallback) && !is_number(value) ? "a number" : "";
}

void read_level(Reader& reader, const YamlNode& value, const std::string& rule, rules::Override& into) {
    const auto text = reader.text(value);
    if (!text) {
        return;
    }
    if (const auto level = rules::read_severity(*text)) {
        into.levels[rule] = *level;
    } else {
        reader.fail_unknown(value, "level", *text, level_names());
    }
}

void read_option(Reader& reader, const YamlEntry& entry, const rules::RuleEntry& rule,
                 rules::Override& into) {
    std::vector<std::string> known{"level"};
    for (const rules::OptionSpec& option : rule.options) {
        known.push_back(option.name);
        if (option.name != entry.key.text) {
            continue;
        }
        const std::string value = fmt::format("{}", fmt::join(reader.texts(entry.value), ","));
        if (const std::string_view wanted = refusal(option, value); !wanted.empty()) {
            reader.fail(entry.value,
                        fmt::format("{} wants {} here, not {}", option.name, wanted, in_quotes(value)));
        } else {
            into.options[rule.id][option.name] = value;
        }
        return;
    }
    reader.fail_unknown(entry.key, fmt::format("option of {}", rule.id), entry.key.text, known);
}

} // namespace

std::vector<std::string> rule_names(const rules::Catalogue& catalogue) {
    std::vector<std::string> names;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        const std::string family = rule.id.substr(0, rule.id.find('/')) + "/*";
        if (std::find(names.begin(), names.end(), family) == names.end()) {
            names.push_back(family);
        }
        names.push_back(rule.id);
    }
    return names;
}

void read_rules(Reader& reader, const YamlNode& value, rules::Override& into) {
    if (!reader.is_map(value)) {
        return;
    }
    const std::vector<std::string> known = rule_names(reader.catalogue());
    for (const YamlEntry& entry : value.entries) {
        const std::string& name = entry.key.text;
        if (std::find(known.begin(), known.end(), name) == known.end()) {
            reader.fail_unknown(entry.key, "rule", name, known);
            continue;
        }
        const rules::RuleEntry* const rule = reader.catalogue().rule(name);
        if (entry.value.kind != YamlNode::Kind::map || rule == nullptr) {
            read_level(reader, entry.value, name, into);
            continue;
        }
        for (const YamlEntry& inner : entry.value.entries) {
            if (inner.key.text == "level") {
                read_level(reader, inner.value, name, into);
            } else {
                read_option(reader, inner, *rule, into);
            }
        }
    }
}

void read_themes(Reader& reader, const YamlNode& value, rules::Policy& into) {
    reader.read(value, theme_keys(), into.settings);
}

void read_aliases(Reader& reader, const YamlNode& value, rules::Settings& into) {
    if (!reader.is_map(value)) {
        return;
    }
    std::vector<std::string> known;
    for (const rules::MotifEntry& motif : reader.catalogue().motifs()) {
        known.push_back(motif.motif);
    }
    for (const YamlEntry& entry : value.entries) {
        std::vector<std::string>& meant = into.themes[rules::folded(entry.key.text)];
        for (const YamlNode& item : reader.items(entry.value)) {
            const auto text = reader.text(item);
            if (text && !reader.catalogue().motif_of(*text) && !rules::fact_of(*text)) {
                reader.fail_unknown(item, "motif", *text, known);
            } else if (text) {
                meant.push_back(*text);
            }
        }
    }
}

void read_wide(Reader& reader, const YamlNode& value, rules::Settings& into) {
    std::vector<std::string> known;
    for (const rules::MotifEntry& motif : reader.catalogue().motifs()) {
        if (!motif.disputed.wider.empty()) {
            known.push_back(motif.motif);
        }
    }
    for (const YamlNode& item : reader.items(value)) {
        const auto text = reader.text(item);
        const auto motif = text ? reader.catalogue().motif_of(*text) : std::nullopt;
        if (motif && std::find(known.begin(), known.end(), *motif) != known.end()) {
            into.wide.insert(*motif);
        } else if (text) {
            reader.fail_unknown(item, "motif with a wider reading", *text, known);
        }
    }
}

void read_ignored(Reader& reader, const YamlNode& value, rules::Settings& into) {
    for (const std::string& word : reader.texts(value)) {
        into.themes[rules::folded(word)].clear();
    }
}

} // namespace config
