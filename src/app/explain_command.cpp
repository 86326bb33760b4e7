// sidelint explain: what the catalogue knows, for people.

#include "app/commands.hpp"
#include "app/config_origin.hpp"
#include "app/output.hpp"
#include "app/reference.hpp"
#include "app/words.hpp"
#include "board/fen.hpp"
#include "rules/check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

namespace app {
namespace {

std::string example_text(std::string_view heading, const std::vector<rules::Example>& examples) {
    if (examples.empty()) {
        return {};
    }
    const rules::Example& example = examples.front();
    return fmt::format("\n{}: {}\n{}", heading, example.title, indented(example.text, "    "));
}

std::string rule_text(const rules::RuleEntry& rule) {
    std::string text = folded(fmt::format("{}: {}\n\n{}\n", rule.id, rule.summary, wrapped(rule.why, "  ")));
    text += fmt::format("severity   {}\n", rules::name(rule.severity));
    text += folded(fmt::format("certainty  {}\n", rule.certainty));
    text += fmt::format("status     {}, since {}\n", rule.status, rule.since);
    if (rule.fix != "none") {
        text +=
            fmt::format("fix        {}\n", rule.fix == "safe" ? "sidelint fix corrects it where that is safe"
                                                              : "sidelint fix suggests a correction");
    }
    text += rule.options.empty() ? "" : "\nOptions\n";
    for (const rules::OptionSpec& option : rule.options) {
        text +=
            fmt::format("  {} (default {})\n{}", option.name,
                        option.fallback.empty() ? "none" : option.fallback, wrapped(option.meaning, "    "));
    }
    text += rule.messages.empty() ? "" : "\nMessages\n";
    for (const rules::Message& message : rule.messages) {
        const std::string other =
            message.severity ? fmt::format(" ({})", rules::name(*message.severity)) : "";
        text += fmt::format("  {}{}\n{}", message.id, other, wrapped(message.text, "    "));
    }
    text += example_text("Found in", rule.bad) + example_text("All right", rule.good);
    text += rule.see.empty() ? "" : folded(fmt::format("\nSee also: {}\n", fmt::join(rule.see, ", ")));
    return text;
}

std::string shown_text(std::string_view heading, const std::vector<rules::MotifEntry::Shown>& examples) {
    if (examples.empty()) {
        return {};
    }
    const rules::MotifEntry::Shown& shown = examples.front();
    std::string text = fmt::format("\n{}: {}\n", heading, shown.title);
    const board::FenReading reading = board::read_fen(shown.fen, board::Start::by_letters);
    if (reading.usable) {
        text += indented(report::diagram(reading.setup, board::Color::white), "    ");
    }
    return text + fmt::format("    {}\n    {}\n", shown.fen, shown.line);
}

std::string names_text(std::string_view words, const std::vector<const rules::MotifEntry*>& motifs) {
    std::vector<std::string> names;
    names.reserve(motifs.size());
    for (const rules::MotifEntry* const motif : motifs) {
        names.push_back(motif->name);
    }
    return names.empty() ? "" : folded(fmt::format("\n{}: {}\n", words, fmt::join(names, ", ")));
}

/// Where books differ: what is gone by here, and how to take the wider reading.
std::string disputed_in_brief(const rules::MotifEntry& motif) {
    const rules::MotifEntry::Disputed& disputed = motif.disputed;
    if (disputed.chosen.empty()) {
        return {};
    }
    std::string text = fmt::format("\nDisputed\n{}", wrapped("Here: " + disputed.chosen, "  "));
    text += disputed.narrower.empty() ? "" : wrapped("Narrower: " + disputed.narrower, "  ");
    return disputed.wider.empty()
               ? text
               : text +
                     wrapped(fmt::format("Wider: {} `themes: {{wide: [{}]}}` in the configuration takes it.",
                                         disputed.wider, motif.motif),
                             "  ");
}

std::string motif_text(const rules::MotifEntry& motif, const rules::Catalogue& catalogue) {
    std::string text =
        folded(fmt::format("{}: {}\n\n{}", motif.motif, motif.summary, wrapped(motif.why, "  ")));
    if (!motif.aliases.empty()) {
        text += folded(fmt::format("\nAlso called: {}\n", fmt::join(motif.aliases, ", ")));
    }
    text += motif.checked ? "" : "\nNot checked.\n";
    const Family family = family_of(motif, catalogue);
    text += names_text("Also bears out", family.above) + names_text("Borne out by", family.below);
    text += disputed_in_brief(motif);
    return text + shown_text("Counts", motif.yes) + shown_text("Counts in the wider reading", motif.wide) +
           shown_text("Does not count", motif.no);
}

std::string list_text(const rules::Catalogue& catalogue) {
    std::vector<std::vector<std::string>> rules;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        rules.push_back({"  " + rule.id, std::string(rules::name(rule.severity)), rule.summary});
    }
    std::vector<std::vector<std::string>> motifs;
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        motifs.push_back({"  " + motif.motif, motif.summary});
    }
    return "Rules\n" + folded(in_columns(rules)) + "\nMotifs\n" + folded(in_columns(motifs)) +
           "\nsidelint explain NAME says more about one of them.\n";
}

std::string everything(const rules::Catalogue& catalogue) {
    const std::string rule = '\n' + std::string(line_width, '-') + "\n\n";
    std::string text;
    for (const rules::RuleEntry& entry : catalogue.rules()) {
        text += (text.empty() ? "" : rule) + rule_text(entry);
    }
    for (const rules::MotifEntry& entry : catalogue.motifs()) {
        text += (text.empty() ? "" : rule) + motif_text(entry, catalogue);
    }
    return text;
}

/// What it is set to here, when a configuration says something about it: level, options, and for which files
/// other ones count.
std::string in_force_text(const rules::RuleEntry& rule, const Configuration& configuration) {
    const Origins origins(configuration, CheckOptions());
    const rules::Policy& policy = configuration.policy;
    std::vector<std::vector<std::string>> rows;
    const auto add = [&](const std::string& path, const std::string& files) {
        const rules::Settings settings = path.empty() ? policy.settings : policy.for_file(path);
        const std::string level(rules::name(rules::level_of(rule, settings).first));
        rows.push_back({"  level" + files, level, origins.of_level(rule.id, path)});
        for (const rules::OptionSpec& option : rule.options) {
            rows.push_back({fmt::format("  {}{}", option.name, files),
                            rules::option_of(rule, option.name, settings),
                            origins.of_option(rule.id, option.name, path)});
        }
    };
    add("", "");
    for (const rules::Override& change : policy.overrides) {
        if (change.levels.contains(rule.id) || change.options.contains(rule.id) ||
            change.levels.contains(rule.id.substr(0, rule.id.find('/')) + "/*")) {
            add(change.files.substr(change.files.starts_with('/') ? 1 : 0), " in " + change.files);
        }
    }
    const bool all_default =
        std::all_of(rows.begin(), rows.end(), [](const auto& row) { return row.back() == "default"; });
    return all_default ? "" : "\nIn force here\n" + in_columns(rows);
}

std::string text_of(const rules::RuleEntry& rule, const Configuration& configuration) {
    return rule_text(rule) + in_force_text(rule, configuration);
}

Result<std::string> text_about(const std::string& subject, ExplainOptions::Format format,
                               const rules::Catalogue& catalogue, const Configuration& configuration) {
    if (const rules::RuleEntry* const rule = catalogue.rule(subject)) {
        return format == ExplainOptions::Format::text   ? text_of(*rule, configuration)
               : format == ExplainOptions::Format::json ? reference_json(*rule)
                                                        : reference_markdown(*rule);
    }
    constexpr std::string_view folder = "motif/";
    const std::string theme = subject.starts_with(folder) ? subject.substr(folder.size()) : subject;
    if (const auto name = catalogue.motif_of(theme)) {
        const rules::MotifEntry& motif = *catalogue.motif(*name);
        return format == ExplainOptions::Format::text   ? motif_text(motif, catalogue)
               : format == ExplainOptions::Format::json ? reference_json(motif)
                                                        : reference_markdown(motif, catalogue);
    }
    std::vector<std::string> near = catalogue.near(subject);
    for (const rules::RuleEntry& rule : catalogue.rules()) { // "cook" for "key/cook"
        if (near.empty() && rule.id.ends_with('/' + subject)) {
            near.push_back(rule.id);
        }
    }
    return board::failure(usage_error(fmt::format("no rule or motif is called '{}'", subject),
                                      near.empty()
                                          ? "sidelint explain lists them all"
                                          : fmt::format("did you mean {}?", fmt::join(near, " or "))));
}

/// The nearest configuration from the working directory upward.
board::Result<Configuration, Errors> configuration_for(const Environment& environment,
                                                       const rules::Catalogue& catalogue) {
    const auto workspace = find_workspace(environment, {}, std::nullopt);
    if (!workspace) {
        return board::failure(Errors{workspace.error()});
    }
    return configuration_here(CheckOptions(), environment, *workspace, catalogue);
}

} // namespace

int run_explain(const ExplainOptions& options, const Streams& streams, const Environment& environment) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::yes);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    if (options.format != ExplainOptions::Format::text && (options.all || options.subject.empty())) {
        return print_and_end(streams, options.format == ExplainOptions::Format::json
                                          ? reference_json(*catalogue)
                                          : reference_markdown(*catalogue));
    }
    if (options.all) {
        return print_and_end(streams, everything(*catalogue));
    }
    if (options.subject.empty()) {
        return print_and_end(streams, list_text(*catalogue));
    }
    const auto configuration = configuration_for(environment, *catalogue);
    const auto text = text_about(options.subject, options.format, *catalogue,
                                 configuration ? *configuration : Configuration());
    if (!text) {
        return end_with(streams, std::array{text.error()});
    }
    std::vector<Error> errors = print(streams, *text);
    if (!configuration) { // what the rule means is told all the same
        errors.insert(errors.end(), configuration.error().begin(), configuration.error().end());
    }
    return end_with(streams, errors);
}

} // namespace app
