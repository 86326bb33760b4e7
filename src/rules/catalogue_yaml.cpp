// The YAML of rules/ as entries. A run reads them as the build has packed them: YAML would take it longer
// than a usual check.
#include "rules/catalogue_text.hpp"
#include "rules/finding.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <yaml-cpp/yaml.h>

namespace rules {

namespace {

std::string text_of(const YAML::Node& node, const char* key) {
    const YAML::Node value = node[key];
    return value ? value.as<std::string>() : std::string();
}

std::vector<std::string> list_of(const YAML::Node& node, const char* key) {
    const YAML::Node value = node[key];
    return value ? value.as<std::vector<std::string>>() : std::vector<std::string>();
}

Severity severity_of(const YAML::Node& node) {
    const auto severity = read_severity(node.as<std::string>());
    if (!severity) {
        throw YAML::RepresentationException(node.Mark(), "not a severity: " + node.as<std::string>());
    }
    return *severity;
}

std::vector<Message> messages_of(const YAML::Node& node) {
    std::vector<Message> messages;
    for (const auto& entry : node) {
        Message message;
        message.id = entry.first.as<std::string>();
        if (entry.second.IsMap()) {
            message.text = text_of(entry.second, "text");
            message.severity = severity_of(entry.second["severity"]);
        } else {
            message.text = entry.second.as<std::string>();
        }
        messages.push_back(std::move(message));
    }
    return messages;
}

std::vector<OptionSpec> options_of(const YAML::Node& node) {
    std::vector<OptionSpec> options;
    for (const auto& entry : node) {
        options.push_back({entry.first.as<std::string>(), text_of(entry.second, "default"),
                           text_of(entry.second, "meaning")});
    }
    return options;
}

std::vector<Example> examples_of(const YAML::Node& node) {
    std::vector<Example> examples;
    for (const auto& entry : node) {
        Example example;
        example.title = text_of(entry, "title");
        example.file = entry["file"] ? text_of(entry, "file") : "example.yaml";
        example.text = text_of(entry, "text");
        example.config = text_of(entry, "config");
        example.unreadable = text_of(entry, "unreadable");
        for (const auto& wanted : entry["finds"]) {
            example.wanted.push_back({text_of(wanted, "rule"), text_of(wanted, "message"),
                                      wanted["line"] ? wanted["line"].as<std::size_t>() : 0,
                                      text_of(wanted, "subject"), text_of(wanted, "play")});
        }
        examples.push_back(std::move(example));
    }
    return examples;
}

RuleEntry rule_of(const YAML::Node& node) {
    RuleEntry rule;
    rule.id = text_of(node, "id");
    rule.summary = text_of(node, "summary");
    rule.why = text_of(node, "why");
    rule.severity = severity_of(node["severity"]);
    rule.certainty = text_of(node, "certainty");
    rule.since = text_of(node, "since");
    rule.status = text_of(node, "status");
    rule.options = options_of(node["options"]);
    rule.messages = messages_of(node["messages"]);
    rule.fix = text_of(node, "fix");
    rule.see = list_of(node, "see");
    rule.bad = examples_of(node["bad"]);
    rule.good = examples_of(node["good"]);
    return rule;
}

std::vector<MotifEntry::Shown> shown_of(const YAML::Node& node) {
    std::vector<MotifEntry::Shown> shown;
    for (const auto& entry : node) {
        shown.push_back({text_of(entry, "title"), text_of(entry, "fen"), text_of(entry, "line")});
    }
    return shown;
}

MotifEntry motif_entry_of(const YAML::Node& node) {
    MotifEntry entry;
    entry.id = text_of(node, "id");
    entry.motif = entry.id.substr(entry.id.find('/') + 1);
    entry.name = text_of(node, "name");
    entry.summary = text_of(node, "summary");
    entry.why = text_of(node, "why");
    entry.aliases = list_of(node, "aliases");
    entry.checked = !node["checked"] || text_of(node, "checked") != "no";
    if (const YAML::Node disputed = node["disputed"]) {
        entry.disputed = {text_of(disputed, "chosen"), text_of(disputed, "narrower"),
                          text_of(disputed, "wider")};
    }
    if (const YAML::Node examples = node["examples"]) {
        entry.yes = shown_of(examples["yes"]);
        entry.no = shown_of(examples["no"]);
        entry.wide = shown_of(examples["wide"]);
    }
    return entry;
}

} // namespace

board::Result<CatalogueEntries, std::string> read_entries(std::span<const CatalogueText> files) {
    CatalogueEntries entries;
    for (const CatalogueText& file : files) {
        try {
            const YAML::Node node = YAML::Load(std::string(file.text));
            if (file.path.starts_with("motif/")) {
                entries.motifs.push_back(motif_entry_of(node));
            } else {
                entries.rules.push_back(rule_of(node));
            }
        } catch (const YAML::Exception& fault) {
            return board::failure(fmt::format("rules/{}:{}: {}", file.path, fault.mark.line + 1, fault.msg));
        }
    }
    const auto by_id = [](const auto& a, const auto& b) { return a.id < b.id; };
    std::sort(entries.rules.begin(), entries.rules.end(), by_id);
    std::sort(entries.motifs.begin(), entries.motifs.end(), by_id);
    return entries;
}

} // namespace rules
