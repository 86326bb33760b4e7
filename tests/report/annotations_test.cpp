#include "catch.hpp"
#include "sample.hpp"

#include <map>
#include <sstream>

namespace {

/// A workflow command as the runner reads it (actions/runner, src/Runner.Common/ActionCommand.cs, 2025): the
/// name up to a blank, properties parted by commas up to "::", then the data; escapes undone with "%25" last.
struct Command {
    std::string name;
    std::map<std::string, std::string> properties;
    std::string data;
};

std::string unescaped(std::string text, const std::vector<std::pair<std::string, std::string>>& escapes) {
    for (const auto& [from, to] : escapes) {
        for (std::size_t at = text.find(from); at != std::string::npos;
             at = text.find(from, at + to.size())) {
            text.replace(at, from.size(), to);
        }
    }
    return text;
}

Command read(const std::string& line) {
    Command command;
    REQUIRE(line.starts_with("::"));
    const std::size_t end = line.find("::", 2);
    REQUIRE(end != std::string::npos);
    const std::string head = line.substr(2, end - 2);
    command.name = head.substr(0, head.find(' '));
    std::istringstream properties(head.substr(std::min(head.size(), command.name.size() + 1)));
    for (std::string property; std::getline(properties, property, ',');) {
        const std::size_t equals = property.find('=');
        REQUIRE(equals != std::string::npos);
        command.properties[property.substr(0, equals)] =
            unescaped(property.substr(equals + 1),
                      {{"%0D", "\r"}, {"%0A", "\n"}, {"%3A", ":"}, {"%2C", ","}, {"%25", "%"}});
    }
    command.data = unescaped(line.substr(end + 2), {{"%0D", "\r"}, {"%0A", "\n"}, {"%25", "%"}});
    return command;
}

std::vector<Command> commands_of(const report::Report& report) {
    std::vector<Command> commands;
    std::istringstream lines(report::annotations(report));
    for (std::string line; std::getline(lines, line);) {
        commands.push_back(read(line));
    }
    return commands;
}

} // namespace

TEST_CASE("annotations: one a puzzle, the gravest first, nothing that is gone") {
    const auto commands = commands_of(sample::mixed());
    REQUIRE(commands.size() == 4);
    CHECK(commands[0].name == "error");
    CHECK(commands[0].properties ==
          std::map<std::string, std::string>{{"file", "sets/first term.yaml"},
                                             {"line", "5"},
                                             {"endLine", "5"},
                                             {"col", "14"},
                                             {"endColumn", "18"},
                                             {"title", "harbour-001: key/cook and 1 more"}});
    CHECK(commands[0].data ==
          "key/cook: Qd8# solves it as well as the key Ra8#\n    1.Qd8#\n"
          "theme/missing: the line shows 'back-rank mate', which no theme says\n    1.Qd8#");
    CHECK(commands[1].name == "notice"); // new, before what was there
    CHECK(commands[2].name == "error");
    CHECK(commands[2].properties.at("title") == "harbour-003: key/refuted");
    CHECK(commands[2].data.find("(was there before)") != std::string::npos);
    CHECK(commands[3].name == "warning");
    CHECK(commands[3].properties.at("title") == "file/syntax");
}

TEST_CASE("annotations: columns only where a place is within one line") {
    report::Report report = sample::plain();
    report.findings = {sample::cook()};
    report.findings[0].end = {6, 1};
    const auto commands = commands_of(report);
    CHECK(commands[0].properties.at("endLine") == "6");
    CHECK_FALSE(commands[0].properties.contains("col"));
}

TEST_CASE("annotations: ten of a level, and the last one counts the rest") {
    report::Report report = sample::plain();
    report.findings.clear();
    for (int i = 0; i < 13; ++i) {
        for (const auto severity :
             {rules::Severity::error, rules::Severity::warning, rules::Severity::note}) {
            rules::Finding finding = sample::cook();
            finding.puzzle = std::string(rules::name(severity)) + std::to_string(i);
            finding.severity = severity;
            finding.begin.line = finding.end.line = 5 + static_cast<std::size_t>(i);
            report.findings.push_back(finding);
        }
    }
    const auto commands = commands_of(report);
    REQUIRE(commands.size() == 30);
    CHECK(commands[0].data.find(" more places") == std::string::npos);
    CHECK(commands[9].data.ends_with("\nand 3 more places with errors: see the log"));
    CHECK(commands[19].data.ends_with("\nand 3 more places with warnings: see the log"));
    CHECK(commands[29].data.ends_with("\nand 3 more places with notes: see the log"));
    report.findings.resize(30);
    CHECK(report::annotations(report).find(" more places") == std::string::npos);
}

TEST_CASE("annotations: nothing found is nothing; hostile text comes back as the log would show it") {
    CHECK(report::annotations(report::Report()).empty());
    const auto commands = commands_of(sample::hostile());
    REQUIRE(commands.size() == 1);
    const std::string shown = report::harmless(sample::hostile_text());
    CHECK(commands[0].name == "error");
    CHECK(commands[0].properties.at("file") == shown);
    CHECK(commands[0].properties.size() == 6);
    CHECK(commands[0].data == shown + "\n    " + shown);
}
