// sidelint explain: what the catalogue knows, for people.

#include "app/commands.hpp"
#include "board/fen.hpp"
#include "rules/catalogue.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <sstream>

namespace app {
namespace {

constexpr std::size_t line_width = 88;

/// Running text broken at blanks, every line behind `margin`.
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

/// Lines as they are, every one behind `margin`.
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

std::string example_text(std::string_view heading, const std::vector<rules::Example>& examples) {
    if (examples.empty()) {
        return {};
    }
    const rules::Example& example = examples.front();
    return fmt::format("\n{}: {}\n{}", heading, example.title, indented(example.text, "    "));
}

std::string rule_text(const rules::RuleEntry& rule) {
    std::string text = fmt::format("{}: {}\n\n{}\n", rule.id, rule.summary, wrapped(rule.why, "  "));
    text += fmt::format("severity   {}\n", rules::name(rule.severity));
    text += fmt::format("certainty  {}\n", rule.certainty);
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
    text += rule.see.empty() ? "" : fmt::format("\nSee also: {}\n", fmt::join(rule.see, ", "));
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

/// Its place in the family: what it is a kind of, and its own kinds.
std::string family_text(const rules::MotifEntry& motif, const rules::Catalogue& catalogue) {
    std::vector<std::string> above;
    std::vector<std::string> below;
    for (const rules::MotifEntry& other : catalogue.motifs()) {
        if (other.motif == motif.motif) {
            continue;
        }
        if (motif::supports(motif.motif, other.motif)) {
            above.push_back(other.name);
        } else if (motif::supports(other.motif, motif.motif)) {
            below.push_back(other.name);
        }
    }
    return (above.empty() ? "" : fmt::format("\nAlso bears out: {}\n", fmt::join(above, ", "))) +
           (below.empty() ? "" : fmt::format("\nBorne out by: {}\n", fmt::join(below, ", ")));
}

std::string motif_text(const rules::MotifEntry& motif, const rules::Catalogue& catalogue) {
    std::string text = fmt::format("{}: {}\n\n{}", motif.motif, motif.summary, wrapped(motif.why, "  "));
    if (!motif.aliases.empty()) {
        text += fmt::format("\nAlso called: {}\n", fmt::join(motif.aliases, ", "));
    }
    text += motif.checked ? family_text(motif, catalogue) : "\nNot checked.\n";
    return text + shown_text("Counts", motif.yes) + shown_text("Does not count", motif.no);
}

std::string list_text(const rules::Catalogue& catalogue) {
    std::size_t widest = 0;
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        widest = std::max(widest, rule.id.size());
    }
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        widest = std::max(widest, motif.motif.size());
    }
    std::string text = "Rules\n";
    for (const rules::RuleEntry& rule : catalogue.rules()) {
        text +=
            fmt::format("  {:<{}}  {:<7}  {}\n", rule.id, widest, rules::name(rule.severity), rule.summary);
    }
    text += "\nMotifs\n";
    for (const rules::MotifEntry& motif : catalogue.motifs()) {
        text += fmt::format("  {:<{}}  {}\n", motif.motif, widest, motif.summary);
    }
    return text + "\nsidelint explain NAME says more about one of them.\n";
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

Result<std::string> text_about(const std::string& subject, const rules::Catalogue& catalogue) {
    if (const rules::RuleEntry* const rule = catalogue.rule(subject)) {
        return rule_text(*rule);
    }
    constexpr std::string_view folder = "motif/";
    const std::string theme = subject.starts_with(folder) ? subject.substr(folder.size()) : subject;
    if (const auto name = catalogue.motif_of(theme)) {
        return motif_text(*catalogue.motif(*name), catalogue);
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

} // namespace

int run_explain(const ExplainOptions& options, const Streams& streams) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::yes);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    if (options.all) {
        return print_and_end(streams, everything(*catalogue));
    }
    if (options.subject.empty()) {
        return print_and_end(streams, list_text(*catalogue));
    }
    const auto text = text_about(options.subject, *catalogue);
    return text ? print_and_end(streams, *text) : end_with(streams, std::array{text.error()});
}

} // namespace app
