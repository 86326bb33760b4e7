// JUnit XML. There is no official schema: this is what the strict one of Windy Road and the one of Jenkins'
// xUnit plug-in both accept. Times and host are fixed, so that equal runs write equal bytes.

#include "report/cases.hpp"
#include "report/head.hpp"

namespace report {
namespace {

using XmlText = Written<Xml>;

/// What a log would say of a finding, without its diagram.
void add_finding(XmlText& page, const rules::Finding& finding) {
    page << Untrusted(first_line(finding).text()) << "\n";
    if (!finding.play.empty()) {
        page << "    play    " << Untrusted(finding.play) << "\n";
    }
    if (!finding.cure.empty()) {
        page << "    cure    " << Untrusted(finding.cure) << "\n";
    }
}

void add_fault(XmlText& page, Literal element, const Case& one) {
    const rules::Finding& first = *one.first_fault();
    page << "      <" << element << " type=\"" << Untrusted(first.rule) << "\" message=\""
         << Untrusted(first.message) << "\">\n";
    for (const rules::Finding* finding : one.findings) {
        if (finding->status != rules::Status::still) {
            add_finding(page, *finding);
        }
    }
    page << "      </" << element << ">\n";
}

void add_case(XmlText& page, const Case& one, std::string_view file) {
    page << "    <testcase name=\"" << Untrusted(one.name) << "\" classname=\"" << Untrusted(file)
         << "\" time=\"0\"";
    const Case::Outcome outcome = one.outcome();
    if (outcome == Case::Outcome::passed) {
        page << "/>\n";
        return;
    }
    page << ">\n";
    switch (outcome) {
    case Case::Outcome::failed:
        add_fault(page, "failure", one);
        break;
    case Case::Outcome::unreadable:
        add_fault(page, "error", one);
        break;
    case Case::Outcome::open:
        page << "      <skipped message=\"" << Untrusted(one.first_open()->message) << "\"/>\n";
        break;
    case Case::Outcome::passed:
        break;
    }
    page << "    </testcase>\n";
}

/// What fails no case but is worth reading: notes, and what was there before.
void add_the_rest(XmlText& page, const Suite& suite) {
    page << "    <system-out>";
    for (const Case& one : suite.cases) {
        const bool told = one.first_fault() != nullptr;
        for (const rules::Finding* finding : one.findings) {
            if (!told || finding->status == rules::Status::still) {
                add_finding(page, *finding);
            }
        }
    }
    page << "</system-out>\n    <system-err/>\n";
}

void add_suite(XmlText& page, const Suite& suite, std::size_t number) {
    page << "  <testsuite name=\"" << Untrusted(suite.file) << "\" package=\"\" id=\"" << number
         << "\" hostname=\"localhost\" timestamp=\"1970-01-01T00:00:00\" tests=\"" << suite.cases.size()
         << "\" failures=\"" << suite.count(Case::Outcome::failed) << "\" errors=\""
         << suite.count(Case::Outcome::unreadable) << "\" skipped=\"" << suite.count(Case::Outcome::open)
         << "\" time=\"0\">\n    <properties/>\n";
    for (const Case& one : suite.cases) {
        add_case(page, one, suite.file);
    }
    add_the_rest(page, suite);
    page << "  </testsuite>\n";
}

} // namespace

std::string junit(const Report& report) {
    std::vector<Suite> suites = suites_of(report);
    if (suites.empty()) { // readers take a file without cases for a run that failed
        suites.push_back({"sidelint", {Case{"nothing to check", 0, {}}}});
    }
    XmlText page;
    page << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites>\n";
    for (std::size_t i = 0; i < suites.size(); ++i) {
        add_suite(page, suites[i], i);
    }
    page << "</testsuites>\n";
    return std::move(page).text();
}

} // namespace report
