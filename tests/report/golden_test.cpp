// One set of findings in every format, held against tests/report/golden. After a change that is meant, renew
// them with
//   SIDELINT_RENEW_GOLDEN=1 build/release/tests/test_report "golden*"
// and read what git diff shows.
#include "catch.hpp"
#include "sample.hpp"

#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>
#include <iterator>

namespace {

report::Report all_of_it() {
    report::Report report = sample::mixed();
    report.detail = report::Detail::puzzles;
    return report;
}

/// Without what the catalogue says of rules, which is held elsewhere and grows.
std::string sarif() {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(catalogue);
    auto log =
        nlohmann::ordered_json::parse(report::sarif(sample::mixed(), *catalogue, {"golden", true, 100}));
    log["runs"][0]["tool"]["driver"]["rules"] = nlohmann::ordered_json::array();
    for (auto& result : log["runs"][0]["results"]) {
        result.erase("ruleIndex");
    }
    return log.dump(2) + '\n';
}

std::string narrow() {
    report::Look look;
    look.width = 60;
    look.men = report::Men::figurines;
    look.limit = 1;
    return report::text(sample::mixed(), look);
}

void hold(const std::string& name, const std::string& written) {
    INFO(name);
    const std::string path = SIDELINT_SOURCE_DIR "/tests/report/golden/" + name;
    if (std::getenv("SIDELINT_RENEW_GOLDEN") != nullptr) {
        std::ofstream(path, std::ios::binary) << written;
    }
    std::ifstream file(path, std::ios::binary);
    const std::string golden{std::istreambuf_iterator<char>(file), {}};
    CHECK(written == golden);
}

} // namespace

TEST_CASE("golden: the sample set in every format") {
    hold("sample.txt", report::text(sample::mixed()));
    hold("sample-60-columns.txt", narrow());
    hold("sample.brief.txt", report::brief(sample::mixed()));
    hold("sample.json", report::json(all_of_it()));
    hold("sample.jsonl", report::json_lines(all_of_it()));
    hold("sample.sarif", sarif());
    hold("sample.junit.xml", report::junit(sample::mixed()));
    hold("sample.code-quality.json", report::code_quality(sample::mixed()));
    hold("sample.annotations.txt", report::annotations(sample::mixed()));
    hold("sample.md", report::markdown(sample::mixed()));
}
