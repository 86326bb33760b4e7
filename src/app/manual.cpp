// sidelint manual: the help as a manual page, written from the same tree of commands (roff's man macros).

#include "app/command_tree.hpp"
#include "app/commands.hpp"
#include "app/version.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <chrono>

namespace app {
namespace {

/// Text that roff prints as it is: no escape, no control line, a minus that can be copied.
std::string roff(std::string_view text) {
    std::string result;
    bool at_start = true;
    for (const char c : text) {
        if (at_start && (c == '.' || c == '\'')) {
            result += "\\&";
        }
        result += c == '\\' ? "\\e" : c == '-' ? "\\-" : std::string(1, c);
        at_start = c == '\n';
    }
    return result;
}

std::string bold(std::string_view text) {
    return fmt::format("\\fB{}\\fR", roff(text));
}

std::string italic(std::string_view text) {
    return fmt::format("\\fI{}\\fR", roff(text));
}

/// A footer: lines that end in a colon are headings, what follows is set as it stands.
std::string as_it_stands(std::string_view text) {
    while (text.ends_with('\n')) {
        text.remove_suffix(1);
    }
    return text.empty() ? "" : fmt::format(".nf\n{}\n.fi\n", roff(text));
}

bool is_positional(const CLI::Option& option) {
    return option.get_positional();
}

/// "-q, --quiet", "--format KIND[=FILE]"
std::string names_of(const CLI::Option& option) {
    std::string names;
    const auto add = [&names](const std::string& name) { names += (names.empty() ? "" : ", ") + bold(name); };
    for (const std::string& name : option.get_snames()) {
        add("-" + name);
    }
    for (const std::string& name : option.get_lnames()) {
        add("--" + name);
    }
    const std::string& value = option.get_option_text();
    return value.empty() ? names : names + ' ' + italic(value);
}

std::string sentence(const std::string& text) {
    return roff(text) + (text.ends_with('.') || text.ends_with('?') ? "" : ".");
}

std::string entry(const std::string& names, const std::string& meaning) {
    return fmt::format(".TP\n{}\n{}\n", names, sentence(meaning));
}

std::string options_of(const CLI::App& command) {
    std::string text;
    for (const CLI::Option* option : command.get_options()) {
        if (is_positional(*option)) {
            text += entry(italic(option->get_name(true)), option->get_description());
        }
    }
    for (const CLI::Option* option : command.get_options()) {
        if (!is_positional(*option) && !option->get_group().empty()) {
            text += entry(names_of(*option), option->get_description());
        }
    }
    return text;
}

std::string usage_of(const CLI::App& command, const std::string& name) {
    std::string text = bold(name);
    for (const CLI::Option* option : command.get_options()) {
        if (is_positional(*option)) {
            const std::string several = option->get_items_expected_max() > 1 ? " ..." : "";
            const std::string word = italic(option->get_name(true) + several);
            text += option->get_required() ? ' ' + word : fmt::format(" [{}]", word);
        }
    }
    return text + " [" + italic("options") + "]";
}

/// `footer`: of the command above, which those without one of their own inherit.
std::string command_text(const CLI::App& command, const std::string& before, const std::string& footer) {
    const std::string name = before + ' ' + command.get_name();
    std::string text = fmt::format(".SS {}\n{}\n.PP\n{}\n", roff(name), usage_of(command, name),
                                   sentence(command.get_description()));
    text += options_of(command);
    if (const std::string own = command.get_footer(); own != footer) {
        text += ".PP\n" + as_it_stands(own);
    }
    for (const CLI::App* inner : command.get_subcommands(nullptr)) {
        text += command_text(*inner, name, command.get_footer());
    }
    return text;
}

/// The program's own footer, each of its headings a section.
std::string sections_of(const std::string& footer) {
    std::string text;
    std::string body;
    const auto flush = [&] {
        text += as_it_stands(body);
        body.clear();
    };
    for (std::size_t at = 0; at < footer.size();) {
        const std::size_t end = std::min(footer.find('\n', at), footer.size());
        const std::string line = footer.substr(at, end - at);
        at = end + 1;
        if (line.ends_with(':') && !line.starts_with(' ')) {
            flush();
            std::string heading = line.substr(0, line.size() - 1);
            std::transform(heading.begin(), heading.end(), heading.begin(),
                           [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
            text += fmt::format(".SH {}\n", heading);
        } else if (!line.empty()) {
            body += line + '\n';
        }
    }
    flush();
    return text;
}

/// By SOURCE_DATE_EPOCH (reproducible-builds.org), seconds since 1970; without one there is no date, so that
/// the same program writes the same page.
std::string date_of(const Environment& environment) {
    const auto found = environment.variables.find("SOURCE_DATE_EPOCH");
    if (found == environment.variables.end()) {
        return {};
    }
    long long seconds = 0;
    const std::string& text = found->second;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), seconds);
    constexpr long long last = 253'402'300'799; // of the year 9999
    if (fault != std::errc() || end != text.data() + text.size() || seconds < 0 || seconds > last) {
        return {};
    }
    constexpr long long seconds_a_day = 86'400;
    const std::chrono::year_month_day day{std::chrono::sys_days{std::chrono::days{seconds / seconds_a_day}}};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                       static_cast<unsigned>(day.day()));
}

constexpr const char* surroundings = R"(.SH FILES
.TP
.I .sidelint.yaml
The configuration: the nearest from the paths checked upward to the root of the repository.
\fBsidelint init\fR writes a commented one.
.TP
.I ~/.cache/sidelint
What earlier runs found, and endgame tables; in
.I $XDG_CACHE_HOME/sidelint
where that is set.
It changes the time a run takes and nothing else.
.SH ENVIRONMENT
.TP
.B NO_COLOR
No colour on a terminal.
.TP
.B CLICOLOR_FORCE
Colour elsewhere, too.
.TP
.B COLUMNS
Width of the terminal.
.TP
.B GITHUB_STEP_SUMMARY
A report written to the file it names is put behind what stands there.
.TP
.B SOURCE_DATE_EPOCH
The date of \fBsidelint manual\fR.
)";

} // namespace

int run_manual(const Streams& streams, const Environment& environment) {
    Raw raw;
    CLI::App app;
    add_commands(app, raw);
    std::string page = fmt::format(".TH SIDELINT 1 \"{}\" \"sidelint {}\"\n.SH NAME\nsidelint \\- check "
                                   "repositories of chess puzzles\n.SH SYNOPSIS\n",
                                   date_of(environment), version);
    std::string_view line_break;
    for (const CLI::App* command : app.get_subcommands(nullptr)) {
        page += fmt::format("{}{}\n", line_break, usage_of(*command, "sidelint " + command->get_name()));
        line_break = ".br\n";
    }
    page += fmt::format(".SH DESCRIPTION\n{}\n.SH COMMANDS\n", roff(app.get_description()));
    for (const CLI::App* command : app.get_subcommands(nullptr)) {
        page += command_text(*command, "sidelint", app.get_footer());
    }
    page += sections_of(app.get_footer());
    return print_and_end(streams, page + surroundings);
}

} // namespace app
