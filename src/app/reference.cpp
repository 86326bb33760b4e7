#include "app/reference.hpp"

#include "app/version.hpp"
#include "board/fen.hpp"
#include "collection/document.hpp"
#include "motif/motif.hpp"
#include "report/report.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>

#include <utility>

namespace app {
namespace {

/// Text of the catalogue between Markdown: what would be markup is not, and a row of a table stays one.
std::string plain(std::string_view text) {
    constexpr std::string_view markup = "\\`*_{}[]<>|#~";
    std::string result;
    for (const char c : text) {
        if (markup.find(c) != std::string_view::npos) {
            result += '\\';
        }
        result += c == '\n' ? ' ' : c;
    }
    while (result.ends_with(' ')) {
        result.pop_back();
    }
    return result;
}

/// In a row of a table even code must not hold a bar.
std::string code(std::string_view text) {
    std::string result = "`";
    for (const char c : text) {
        result += c == '|' ? "\\|" : std::string(1, c);
    }
    return result + '`';
}

/// Bytes that no page of text holds are spelt out.
std::string visible(std::string_view text) {
    std::string result;
    for (const char c : text) {
        const bool acts = (c >= 0 && c < ' ' && c != '\n' && c != '\t') || c == 0x7F;
        result += acts ? report::harmless(std::string(1, c)) : std::string(1, c);
    }
    return result;
}

std::string fenced(std::string_view text, std::string_view language) {
    const std::string fence(text.find("```") == std::string_view::npos ? 3 : 4, '`');
    return fmt::format("\n{}{}\n{}{}{}\n", fence, language, visible(text), text.ends_with('\n') ? "" : "\n",
                       fence);
}

/// What others link to: "#key/cook", "#motif/fork".
std::string anchor(std::string_view id) {
    return fmt::format("<a id=\"{}\"></a>\n", id);
}

std::string link(std::string_view id, std::string_view words) {
    return fmt::format("[{}](#{})", words, id);
}

/// The first diagram of an example, where it has one that can be read.
std::string diagram_of(const rules::Example& example) {
    const collection::Document document = collection::read(example.file, example.text, {});
    for (const collection::Puzzle& puzzle : document.puzzles) {
        if (puzzle.position) {
            return fenced(report::diagram(*puzzle.position, board::Color::white), "text");
        }
        if (puzzle.reading.usable) {
            return fenced(report::diagram(puzzle.reading.setup, board::Color::white), "text");
        }
    }
    return {};
}

/// Where each fault is told, by which message.
std::string found_text(const rules::Example& example) {
    std::string text;
    for (const rules::Example::Wanted& wanted : example.wanted) {
        text += text.empty() ? "\n- " : "- ";
        text += wanted.line == 0 ? "" : fmt::format("line {}: ", wanted.line);
        text += wanted.rule.empty() ? "" : link(wanted.rule, code(wanted.rule)) + ", ";
        text += code(wanted.message_id);
        text += wanted.play.empty() ? "\n" : ", shown by " + code(wanted.play) + '\n';
    }
    return text;
}

/// `drawn`: the diagram of the example above, which is not drawn again.
std::string text_of(std::string_view heading, const rules::Example& example, std::string& drawn) {
    std::string text = fmt::format("\n#### {}: {}\n", heading, plain(example.title));
    if (!example.unreadable.empty()) {
        return text + fmt::format("\nThe file cannot be opened: {}.\n", plain(example.unreadable)) +
               found_text(example);
    }
    if (!example.config.empty()) {
        text += "\nWith this `.sidelint.yaml`:\n" + fenced(example.config, "yaml");
    }
    const bool yaml = example.file.ends_with(".yaml");
    text += example.text.empty() ? "\nNothing.\n" : fenced(example.text, yaml ? "yaml" : "text");
    const std::string above = std::exchange(drawn, diagram_of(example));
    return text + found_text(example) + (drawn == above ? "" : drawn);
}

std::string text_of(std::string_view heading, const rules::MotifEntry::Shown& shown) {
    const board::FenReading reading = board::read_fen(shown.fen, board::Start::by_letters);
    return fmt::format("\n#### {}: {}\n", heading, plain(shown.title)) +
           (reading.usable ? fenced(report::diagram(reading.setup, board::Color::white), "text") : "") +
           fmt::format("\n{}, {}\n", code(shown.fen), code(shown.line));
}

/// Where books differ: what is gone by here, and how to take the wider reading.
std::string disputed_text(const rules::MotifEntry& motif) {
    const rules::MotifEntry::Disputed& disputed = motif.disputed;
    if (disputed.chosen.empty()) {
        return {};
    }
    std::string text = fmt::format("\nBooks differ:\n\n- here: {}\n", plain(disputed.chosen));
    text += disputed.narrower.empty() ? "" : fmt::format("- narrower: {}\n", plain(disputed.narrower));
    return disputed.wider.empty()
               ? text
               : text + fmt::format("- wider: {} `themes: {{wide: [{}]}}` in the configuration takes it.\n",
                                    plain(disputed.wider), motif.motif);
}

std::string family_text(std::string_view words, const std::vector<const rules::MotifEntry*>& motifs) {
    std::vector<std::string> links;
    links.reserve(motifs.size());
    for (const rules::MotifEntry* const motif : motifs) {
        links.push_back(link(motif->id, plain(motif->name)));
    }
    return links.empty() ? "" : fmt::format("\n{} {}.\n", words, fmt::join(links, ", "));
}

std::string fix_words(const rules::RuleEntry& rule) {
    return rule.fix == "none"   ? "none"
           : rule.fix == "safe" ? "`sidelint fix` corrects it where that is safe"
                                : "`sidelint fix` suggests a correction";
}

std::string row_of(const rules::RuleEntry& rule) {
    return fmt::format("| {} | {} | {} |\n", link(rule.id, code(rule.id)), rules::name(rule.severity),
                       plain(rule.summary));
}

/// Counts of both tables, and what stands in them.
std::string contents(const rules::Catalogue& catalogue) {
    std::string text = "\n## Rules\n\n| rule | level | |\n| --- | --- | --- |\n";
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        text += row_of(rule);
    }
    text += "\n## Motifs\n\n| theme | |\n| --- | --- |\n";
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        text += fmt::format("| {} | {} |\n", link(motif.id, plain(motif.name)), plain(motif.summary));
    }
    return text;
}

using Json = nlohmann::ordered_json;

Json examples_json(const std::vector<rules::Example>& examples) {
    Json list = Json::array();
    for (const rules::Example& example : examples) {
        Json found = Json::array();
        for (const rules::Example::Wanted& wanted : example.wanted) {
            found.push_back({{"rule", wanted.rule},
                             {"message", wanted.message_id},
                             {"line", wanted.line},
                             {"subject", wanted.subject},
                             {"play", wanted.play}});
        }
        list.push_back({{"title", example.title},
                        {"file", example.file},
                        {"text", example.text},
                        {"config", example.config},
                        {"unreadable", example.unreadable},
                        {"finds", std::move(found)}});
    }
    return list;
}

Json json_of(const rules::RuleEntry& rule) {
    Json options = Json::array();
    for (const rules::OptionSpec& option : rule.options) {
        options.push_back({{"name", option.name}, {"default", option.fallback}, {"meaning", option.meaning}});
    }
    Json messages = Json::array();
    for (const rules::Message& message : rule.messages) {
        messages.push_back({{"id", message.id},
                            {"text", message.text},
                            {"level", rules::name(message.severity.value_or(rule.severity))}});
    }
    return {{"id", rule.id},
            {"summary", rule.summary},
            {"why", rule.why},
            {"level", rules::name(rule.severity)},
            {"since", rule.since},
            {"certainty", rule.certainty},
            {"status", rule.status},
            {"fix", rule.fix},
            {"options", options},
            {"messages", messages},
            {"see", rule.see},
            {"bad", examples_json(rule.bad)},
            {"good", examples_json(rule.good)}};
}

Json shown_json(const std::vector<rules::MotifEntry::Shown>& examples) {
    Json list = Json::array();
    for (const rules::MotifEntry::Shown& shown : examples) {
        list.push_back({{"title", shown.title}, {"fen", shown.fen}, {"line", shown.line}});
    }
    return list;
}

Json disputed_json(const rules::MotifEntry::Disputed& disputed) {
    return disputed.chosen.empty() ? Json()
                                   : Json{{"chosen", disputed.chosen},
                                          {"narrower", disputed.narrower},
                                          {"wider", disputed.wider}};
}

Json json_of(const rules::MotifEntry& motif) {
    return {{"id", motif.motif},
            {"name", motif.name},
            {"summary", motif.summary},
            {"why", motif.why},
            {"aliases", motif.aliases},
            {"checked", motif.checked},
            {"disputed", disputed_json(motif.disputed)},
            {"yes", shown_json(motif.yes)},
            {"wide", shown_json(motif.wide)},
            {"no", shown_json(motif.no)}};
}

} // namespace

std::string reference_markdown(const rules::RuleEntry& rule) {
    std::string text = fmt::format("\n{}\n### {}\n\n{}.\n\n{}\n\n", anchor(rule.id), rule.id,
                                   plain(rule.summary), plain(rule.why));
    text += fmt::format("- level: {}\n- certainty: {}\n- status: {}, since {}\n- correction: {}\n",
                        rules::name(rule.severity), plain(rule.certainty), rule.status, rule.since,
                        fix_words(rule));
    text += rule.options.empty() ? "" : "\n| option | default | |\n| --- | --- | --- |\n";
    for (const rules::OptionSpec& option : rule.options) {
        text += fmt::format("| {} | {} | {} |\n", code(option.name),
                            option.fallback.empty() ? "none" : code(option.fallback), plain(option.meaning));
    }
    text += rule.messages.empty() ? "" : "\n| message | what it says | level |\n| --- | --- | --- |\n";
    for (const rules::Message& message : rule.messages) {
        text += fmt::format("| {} | {} | {} |\n", code(message.id), plain(message.text),
                            rules::name(message.severity.value_or(rule.severity)));
    }
    std::string drawn;
    for (const rules::Example& example : rule.bad) {
        text += text_of("Found in", example, drawn);
    }
    for (const rules::Example& example : rule.good) {
        text += text_of("All right", example, drawn);
    }
    std::vector<std::string> others;
    for (const std::string& other : rule.see) {
        others.push_back(link(other, code(other)));
    }
    return text + (others.empty() ? "" : fmt::format("\nSee also {}.\n", fmt::join(others, ", ")));
}

Family family_of(const rules::MotifEntry& motif, const rules::Catalogue& catalogue) {
    Family family;
    for (const rules::MotifEntry& other : catalogue.motifs()) {
        if (!motif.checked || other.motif == motif.motif) {
            continue;
        }
        if (motif::supports(motif.motif, other.motif)) {
            family.above.push_back(&other);
        } else if (motif::supports(other.motif, motif.motif)) {
            family.below.push_back(&other);
        }
    }
    return family;
}

std::string reference_markdown(const rules::MotifEntry& motif, const rules::Catalogue& catalogue) {
    std::string text = fmt::format("\n{}\n### {}\n\n{}\n\n{}\n", anchor(motif.id), plain(motif.name),
                                   plain(motif.summary), plain(motif.why));
    std::vector<std::string> aliases;
    for (const std::string& alias : motif.aliases) {
        aliases.push_back(plain(alias));
    }
    text += aliases.empty() ? "" : fmt::format("\nAlso called {}.\n", fmt::join(aliases, ", "));
    text += motif.checked ? "" : "\nNot checked: accepted as it stands.\n";
    const Family family = family_of(motif, catalogue);
    text += family_text("Also bears out", family.above) + family_text("Borne out by", family.below);
    text += disputed_text(motif);
    for (const rules::MotifEntry::Shown& shown : motif.yes) {
        text += text_of("Counts", shown);
    }
    for (const rules::MotifEntry::Shown& shown : motif.wide) {
        text += text_of("Counts in the wider reading", shown);
    }
    for (const rules::MotifEntry::Shown& shown : motif.no) {
        text += text_of("Does not count", shown);
    }
    return text;
}

std::string reference_markdown(const rules::Catalogue& catalogue) {
    std::string text =
        fmt::format(
            "# Rules and motifs of sidelint {}\n\nWritten by `sidelint explain --all --format "
            "markdown`. Every example is one of the program's own tests; below it stand the line and the "
            "message of what is found. In a message `{{move}}` and the like stand for what the puzzle "
            "has.\n",
            version) +
        contents(catalogue) + "\n## Every rule\n";
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        text += reference_markdown(rule);
    }
    text += "\n## Every motif\n";
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        text += reference_markdown(motif, catalogue);
    }
    return text;
}

std::string reference_json(const rules::RuleEntry& rule) {
    return json_of(rule).dump(2) + '\n';
}

std::string reference_json(const rules::MotifEntry& motif) {
    return json_of(motif).dump(2) + '\n';
}

std::string reference_json(const rules::Catalogue& catalogue) {
    Json rules = Json::array();
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        rules.push_back(json_of(rule));
    }
    Json motifs = Json::array();
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        motifs.push_back(json_of(motif));
    }
    return Json{{"version", version}, {"rules", std::move(rules)}, {"motifs", std::move(motifs)}}.dump(2) +
           '\n';
}

} // namespace app
