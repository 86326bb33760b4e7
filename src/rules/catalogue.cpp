#include "rules/catalogue.hpp"

#include "rules/catalogue_text.hpp"

#include <algorithm>
#include <cctype>

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
    if (const YAML::Node examples = node["examples"]) {
        entry.yes = shown_of(examples["yes"]);
        entry.no = shown_of(examples["no"]);
    }
    return entry;
}

} // namespace

std::string folded(std::string_view theme) {
    std::string result;
    bool gap = false;
    for (const char c : theme) {
        const auto u = static_cast<unsigned char>(c);
        if (std::isalnum(u) != 0 || u >= 0x80) {
            if (gap && !result.empty()) {
                result += ' ';
            }
            gap = false;
            result += static_cast<char>(std::tolower(u));
        } else {
            gap = true;
        }
    }
    return result;
}

const Message* RuleEntry::message(std::string_view message_id) const {
    const auto found =
        std::find_if(messages.begin(), messages.end(), [&](const Message& m) { return m.id == message_id; });
    return found == messages.end() ? nullptr : &*found;
}

board::Result<Catalogue, std::string> Catalogue::read(WithExamples examples) {
    Catalogue catalogue;
    for (const CatalogueText& file : catalogue_texts()) {
        try {
            const YAML::Node node =
                YAML::Load(std::string(examples == WithExamples::yes ? file.text : file.head));
            if (file.path.starts_with("motif/")) {
                catalogue.m_motifs.push_back(motif_entry_of(node));
            } else {
                catalogue.m_rules.push_back(rule_of(node));
            }
        } catch (const YAML::Exception& fault) {
            return board::failure(fmt::format("rules/{}:{}: {}", file.path, fault.mark.line + 1, fault.msg));
        }
    }
    const auto by_id = [](const auto& a, const auto& b) { return a.id < b.id; };
    std::sort(catalogue.m_rules.begin(), catalogue.m_rules.end(), by_id);
    std::sort(catalogue.m_motifs.begin(), catalogue.m_motifs.end(), by_id);
    for (const MotifEntry& entry : catalogue.m_motifs) {
        catalogue.m_aliases[folded(entry.motif)] = entry.motif;
        catalogue.m_aliases[folded(entry.name)] = entry.motif;
        for (const std::string& alias : entry.aliases) {
            catalogue.m_aliases.emplace(folded(alias), entry.motif);
        }
    }
    return catalogue;
}

const RuleEntry* Catalogue::rule(std::string_view id) const {
    const auto found =
        std::lower_bound(m_rules.begin(), m_rules.end(), id,
                         [](const RuleEntry& rule, std::string_view key) { return rule.id < key; });
    return found != m_rules.end() && found->id == id ? &*found : nullptr;
}

const MotifEntry* Catalogue::motif(std::string_view machine_name) const {
    const auto found = std::find_if(m_motifs.begin(), m_motifs.end(),
                                    [&](const MotifEntry& entry) { return entry.motif == machine_name; });
    return found == m_motifs.end() ? nullptr : &*found;
}

std::optional<std::string> Catalogue::motif_of(std::string_view theme) const {
    const auto found = m_aliases.find(folded(theme));
    return found == m_aliases.end() ? std::nullopt : std::optional(found->second);
}

std::vector<std::string> Catalogue::near(std::string_view text) const {
    std::vector<std::string> names;
    for (const RuleEntry& rule : m_rules) {
        names.push_back(rule.id);
    }
    for (const MotifEntry& motif : m_motifs) {
        names.push_back(motif.motif);
    }
    return nearest(text, names);
}

} // namespace rules
