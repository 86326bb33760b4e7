// The schema and the commented file, both made from the table of keys.

#include "config/config.hpp"
#include "config/keys.hpp"
#include "config/rules.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace config {
namespace {

/// Our own texts only: quotes and backslashes are all there is to escape.
std::string json_text(std::string_view text) {
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            result += '\\';
        }
        result += c;
    }
    return result + '"';
}

std::string json_list(const std::vector<std::string>& texts) {
    std::vector<std::string> texts_in_json;
    texts_in_json.reserve(texts.size());
    for (const std::string& text : texts) {
        texts_in_json.push_back(json_text(text));
    }
    return fmt::format("[{}]", fmt::join(texts_in_json, ", "));
}

template <class Target> std::vector<KeySpec> specs_of(Keys<Target> keys) {
    std::vector<KeySpec> specs;
    for (const Key<Target>& key : keys) {
        specs.push_back(key.spec);
    }
    return specs;
}

std::vector<KeySpec> joined(std::vector<KeySpec> first, const std::vector<KeySpec>& second) {
    first.insert(first.end(), second.begin(), second.end());
    return first;
}

std::string object_of(const std::vector<KeySpec>& specs, const rules::Catalogue& catalogue);

std::string list_of(const std::string& item) {
    return fmt::format(R"("type": "array", "items": {})", item);
}

std::string rule_of(const rules::RuleEntry& rule) {
    std::string options;
    for (const rules::OptionSpec& option : rule.options) {
        options +=
            fmt::format(R"(, {}: {{"type": ["string", "number", "boolean", "array"], "description": {}}})",
                        json_text(option.name), json_text(option.meaning));
    }
    const std::string levels = json_list(level_names());
    return fmt::format(
        R"({{"description": {}, "anyOf": [{{"enum": {}}}, {{"type": "object", "additionalProperties": false, )"
        R"("properties": {{"level": {{"enum": {}}}{}}}}}]}})",
        json_text(rule.summary), levels, levels, options);
}

std::string rules_of(const rules::Catalogue& catalogue) {
    std::vector<std::string> properties;
    for (const std::string& name : rule_names(catalogue)) {
        const rules::RuleEntry* const rule = catalogue.rule(name);
        properties.push_back(fmt::format(
            "{}: {}", json_text(name),
            rule == nullptr ? fmt::format(R"({{"enum": {}}})", json_list(level_names())) : rule_of(*rule)));
    }
    return fmt::format(R"("type": "object", "additionalProperties": false, "properties": {{{}}})",
                       fmt::join(properties, ",\n"));
}

std::string aliases_of(const rules::Catalogue& catalogue) {
    std::vector<std::string> motifs;
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        motifs.push_back(motif.motif);
    }
    return fmt::format(
        R"("type": "object", "additionalProperties": {{"type": ["string", "array"], "items": {{"type": "string"}}, )"
        R"("examples": {}}})",
        json_list(motifs));
}

std::string shape_of(const KeySpec& spec, const rules::Catalogue& catalogue) {
    switch (spec.shape) {
    case Shape::anything:
    case Shape::text:
        return R"("type": "string")";
    case Shape::text_list:
        return R"("type": ["array", "string"], "items": {"type": "string"})";
    case Shape::number:
        return R"("type": "number", "minimum": 0, "maximum": 99)";
    case Shape::yes_no:
        return R"("enum": ["yes", "no", true, false])";
    case Shape::choice: {
        std::vector<std::string> choices;
        for (const std::string_view choice : spec.choices) {
            if (!choice.empty()) {
                choices.emplace_back(choice);
            }
        }
        return fmt::format(R"("enum": {})", json_list(choices));
    }
    case Shape::rules:
        return rules_of(catalogue);
    case Shape::themes:
        return object_of(specs_of(theme_keys()), catalogue);
    case Shape::aliases:
        return aliases_of(catalogue);
    case Shape::columns:
        return object_of(specs_of(column_keys()), catalogue);
    case Shape::tables:
        return list_of(fmt::format("{{{}}}", object_of(specs_of(table_keys()), catalogue)));
    case Shape::tags:
        return list_of(fmt::format("{{{}}}", object_of(specs_of(tag_keys()), catalogue)));
    case Shape::overrides:
        return list_of(fmt::format(
            "{{{}}}", object_of(joined(specs_of(override_keys()), specs_of(settings_keys())), catalogue)));
    }
    return {};
}

std::string object_of(const std::vector<KeySpec>& specs, const rules::Catalogue& catalogue) {
    std::vector<std::string> properties;
    properties.reserve(specs.size());
    for (const KeySpec& spec : specs) {
        properties.push_back(fmt::format(R"({}: {{"description": {}, {}}})", json_text(spec.name),
                                         json_text(spec.meaning), shape_of(spec, catalogue)));
    }
    return fmt::format("\"type\": \"object\", \"additionalProperties\": false, \"properties\": {{\n{}\n}}",
                       fmt::join(properties, ",\n"));
}

std::string commented(std::string_view lines) {
    std::string text;
    while (!lines.empty()) {
        const std::size_t end = lines.find('\n');
        text += fmt::format("# {}\n", lines.substr(0, end));
        lines.remove_prefix(end == std::string_view::npos ? lines.size() : end + 1);
    }
    return text;
}

} // namespace

std::string schema(const rules::Catalogue& catalogue) {
    return fmt::format("{{\"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n\"title\": "
                       "\".sidelint.yaml\",\n{}}}\n",
                       object_of(joined(specs_of(settings_keys()), specs_of(top_keys())), catalogue));
}

std::string starting_file() {
    std::string text = "# How this repository's puzzles are checked. Every key may be left out; what stands "
                       "here is the default\n"
                       "# or an example. `sidelint explain` lists the rules.\n";
    for (const KeySpec& spec : joined(specs_of(settings_keys()), specs_of(top_keys()))) {
        if (spec.fallback.empty() && spec.example.empty()) {
            continue;
        }
        text += fmt::format("\n# {}\n", spec.meaning);
        text += spec.fallback.empty() ? fmt::format("# {}:\n{}", spec.name, commented(spec.example))
                                      : fmt::format("# {}: {}\n", spec.name, spec.fallback);
    }
    return text;
}

} // namespace config
