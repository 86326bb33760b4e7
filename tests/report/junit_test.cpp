#include "catch.hpp"
#include "outside.hpp"
#include "sample.hpp"

using outside::xpath;

namespace {

/// By both schemas that are in use; empty when there is nothing wrong.
std::string schema_faults(const std::string& written) {
    return outside::xml_faults(written, outside::schema("junit-windyroad.xsd")) +
           outside::xml_faults(written, outside::schema("junit-10-jenkins-xunit.xsd"));
}

std::string mixed_junit() {
    return report::junit(sample::mixed());
}

} // namespace

TEST_CASE("junit: valid by both schemas, in full, empty and hostile") {
    CHECK(schema_faults(mixed_junit()).empty());
    CHECK(schema_faults(report::junit(sample::plain())).empty());
    CHECK(schema_faults(report::junit(report::Report())).empty());
    CHECK(schema_faults(report::junit(sample::hostile())).empty());
    std::string broken = mixed_junit();
    broken.replace(broken.find(" time=\"0\""), 9, " file=\"x\"");
    CHECK_FALSE(schema_faults(broken).empty());
}

TEST_CASE("junit: a suite a file, a case a puzzle, and those pass that nothing is wrong with") {
    const std::string written = mixed_junit();
    CHECK(xpath(written, "count(//testsuite)") == "3");
    CHECK(xpath(written, "string(//testsuite[1]/@name)") == "sets/first term.yaml");
    CHECK(xpath(written, "string(//testsuite[3]/testcase/@name)") == "H\xC3\xA4"
                                                                     "fen 7");
    CHECK(xpath(written, "string(//testsuite[1]/@tests)") == "4");
    CHECK(xpath(written, "string(//testsuite[1]/@failures)") == "1");
    CHECK(xpath(written, "count(//testcase[@name='harbour-002']/*)") == "0");
    CHECK(xpath(written, "string(//testcase[@name='harbour-002']/@classname)") == "sets/first term.yaml");
    CHECK(xpath(written, "count(//testcase[@name='harbour-003 (line 30)'])") == "1"); // the id was taken
    CHECK(xpath(written, "count(//failure)") == "1");
}

TEST_CASE("junit: a failure is the gravest fault, and tells all of its puzzle") {
    const std::string written = mixed_junit();
    CHECK(xpath(written, "string(//testcase[@name='harbour-001']/failure/@type)") == "key/cook");
    CHECK(xpath(written, "string(//failure/@message)") == "Qd8# solves it as well as the key Ra8#");
    const std::string told = xpath(written, "string(//failure)");
    CHECK(told.find("sets/first term.yaml:5:14: error key/cook: ") != std::string::npos);
    CHECK(told.find("sets/first term.yaml:3:5: warning theme/missing: ") != std::string::npos);
    CHECK(told.find("cure    accept it or change the diagram") != std::string::npos);
}

TEST_CASE("junit: what was there before, what is gone, and what stayed open fail nothing") {
    const std::string written = mixed_junit();
    CHECK(xpath(written, "count(//testcase[@name='harbour-003']/*)") == "0");
    CHECK(xpath(written, "string(//testsuite[1]/system-out)").find("key/refuted") != std::string::npos);
    CHECK(xpath(written, "count(//testsuite[2]/testcase[@name='the file itself']/*)") == "0");
    CHECK(written.find("(gone") == std::string::npos);
    CHECK(xpath(written, "string(//testsuite[3]/testcase/skipped/@message)")
              .starts_with("the budget ended before"));
    CHECK(xpath(written, "string(//testsuite[3]/@skipped)") == "1");
}

TEST_CASE("junit: a file that could not be read is an error, and nothing to check is a case that passes") {
    report::Report report;
    report.findings = {sample::unreadable()};
    report.findings[0].rule = "file/unreadable";
    report.findings[0].severity = rules::Severity::error;
    CHECK(xpath(report::junit(report), "string(//testsuite/@errors)") == "1");
    CHECK(xpath(report::junit(report), "string(//testcase/error/@message)") == "a bracket is never closed");
    CHECK(xpath(report::junit(report::Report()), "count(//testcase)") == "1");
}

TEST_CASE("junit: hostile text comes back, but for what XML cannot hold") {
    std::string wanted;
    for (const char c : sample::hostile_text()) {
        const bool impossible = c == '\x1b' || c == '\xFF';
        wanted += impossible ? std::string("\xEF\xBF\xBD") : std::string(1, c);
    }
    const std::string written = report::junit(sample::hostile());
    CHECK(xpath(written, "string(//failure/@message)") == wanted);
    CHECK(xpath(written, "string(//failure/@type)") == wanted);
    CHECK(xpath(written, "string(//testcase/@name)") == wanted);
    CHECK(xpath(written, "string(//testsuite/@name)") == wanted);
    CHECK(xpath(written, "count(//*)") == "7"); // no element of the text's own
}
