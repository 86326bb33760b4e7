// Formats that have no validator of their own, read back by programs that are not ours: JSON Lines and Code
// Quality by Python's json module and Debian's python3-jsonschema, annotations by the runner's published
// rules, first lines by Python's re with the matcher that is shipped, text in colour by a terminal
// (python3-pyte).
#include "catch.hpp"
#include "outside.hpp"
#include "sample.hpp"

#include <fstream>
#include <iterator>

namespace {

/// Ends of lines that only some readers see, noncharacters, and more text than a buffer holds.
std::string hostile_and_long() {
    std::string text =
        "%0A::error file=x,line=1::y\xE2\x80\xA8z\xE2\x80\xA9\xC2\x85\x0B\x0C\x1C\x7F\xEF\xBB\xBF\xEF"
        "\xBF\xBF\xF3\xA0\x81\xA1 , : = ; \t\\ \\u0041 \xF0\x9F\x90\xB4\r\n";
    text += '\0';
    for (int i = 0; i < 3'000; ++i) {
        text += i % 7 == 0 ? "\xE6\xA3\x8B " : "word";
    }
    return text;
}

std::vector<report::Report> samples() {
    report::Report all = sample::mixed();
    all.detail = report::Detail::puzzles;
    all.overview = true;
    report::Report doubled = sample::plain();
    doubled.findings.assign(3, sample::cook());
    report::Report nothing;
    nothing.effort = "review";
    return {all, doubled, nothing, sample::hostile(), sample::hostile(hostile_and_long())};
}

/// Each sample's JSON report and what `write` makes of it.
template <class Write> std::vector<std::string> beside_json(std::vector<std::string> texts, Write write) {
    for (const report::Report& report : samples()) {
        texts.push_back(report::json(report));
        texts.push_back(write(report));
    }
    return texts;
}

std::string matcher() {
    std::ifstream file(SIDELINT_SOURCE_DIR "/ci/problem-matcher.json", std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// Of a known rule, as all findings are.
report::Report of_a_rule(report::Report report) {
    for (rules::Finding& finding : report.findings) {
        finding.rule = "key/cook";
    }
    return report;
}

std::string text_of(const report::Report& report, report::Colour colour, std::size_t width) {
    report::Look look;
    look.colour = colour;
    look.width = width;
    look.men = report::Men::figurines;
    look.limit = 1;
    return report::text(report, look);
}

/// In colour and without on terminals of 60, 80 and 200 columns.
std::vector<std::string> on_terminals(const report::Report& report) {
    std::vector<std::string> texts;
    for (const std::size_t width : outside::terminals) {
        texts.push_back(text_of(report, report::Colour::yes, width));
        texts.push_back(text_of(report, report::Colour::no, width));
    }
    return texts;
}

} // namespace

TEST_CASE("jsonl: Python reads every line, and all together what the JSON report holds") {
    CHECK(outside::read_back("second_reader.py jsonl",
                             beside_json({report::json_schema()}, report::json_lines)) == "");
    std::string cut = report::json_lines(sample::mixed());
    cut.erase(0, cut.find('\n') + 1);
    CHECK(outside::read_back("second_reader.py jsonl",
                             {report::json_schema(), report::json(sample::mixed()), cut}) != "");
}

TEST_CASE("code-quality: Python reads what the JSON report holds, in the documented shape, each print once") {
    const std::string schema = outside::schema("code-quality.json");
    CHECK(outside::read_back("second_reader.py code-quality", beside_json({schema}, report::code_quality)) ==
          "");
    std::string wrong = report::code_quality(sample::plain());
    wrong.replace(wrong.find("major"), 5, "error");
    wrong.replace(wrong.find("00b2"), 4, "00a1");
    const std::string faults =
        outside::read_back("second_reader.py code-quality", {schema, report::json(sample::plain()), wrong});
    CHECK(faults.find("0/severity") != std::string::npos);
    CHECK(faults.find("not unique") != std::string::npos);
}

TEST_CASE("annotations: a second reader of the runner's rules sees what the JSON report holds") {
    CHECK(outside::read_back("second_reader.py annotations", beside_json({}, report::annotations)) == "");
    std::string wrong = report::annotations(sample::mixed());
    wrong.replace(wrong.find("%3A"), 3, ":%2C");
    CHECK(outside::read_back("second_reader.py annotations", {report::json(sample::mixed()), wrong}) != "");
}

TEST_CASE("brief and text: Python's re finds every finding by the matcher that is shipped") {
    std::vector<std::string> texts{matcher()};
    for (const report::Report& report : samples()) {
        const report::Report known = of_a_rule(report);
        texts.insert(texts.end(),
                     {report::json(known), report::brief(known), report::json(known), report::text(known)});
    }
    CHECK(outside::read_back("second_reader.py matcher", texts) == "");
    CHECK(outside::read_back("second_reader.py matcher",
                             {matcher(), texts[1], "gone.yaml:1:1: note key/cook: x\n"}) != "");
}

TEST_CASE("text: a terminal shows in colour what it shows without, legible on dark and light, and is asked "
          "for no more") {
    report::Report report = sample::mixed();
    report.overview = true;
    report.findings.push_back(report.findings.back()); // one is left out
    report.findings.front().squares = {board::Square::a1, board::Square::h1};
    CHECK(outside::read_back("terminal.py fits 60 80 200", on_terminals(report)) == "");
    CHECK(outside::read_back("terminal.py flows 60 80 200", on_terminals(sample::hostile())) == "");
}

TEST_CASE("the terminal sees what is wrong") {
    const std::string faults =
        outside::read_back("terminal.py fits 5 5 5 5 5 5",
                           {"\x1b[1mab\n", "ab\n",
                            "a\xC2\x9B"
                            "2Jb\n",
                            "ab\n",
                            "\x1b]0;x\x07"
                            "ab\n",
                            "ab\n", "\x1b[33mab\x1b[0m\n", "ab\n", "abcdef\n", "abcdef\n", "ac\n", "ab\n"});
    INFO(faults);
    for (const char* fault : {"something is left over", "'erase_in_display'", "a title", "hard to read",
                              "['abcdef']", "colour changes what is read"}) {
        CHECK(faults.find(fault) != std::string::npos);
    }
}
