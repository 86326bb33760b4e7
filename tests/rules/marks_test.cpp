#include "catch.hpp"

#include "rules/check.hpp"
#include "rules/marks.hpp"

#include <algorithm>
#include <set>

using namespace rules;

namespace {

collection::Document document(const std::string& path, const std::string& id, const std::string& fen) {
    return collection::read(path,
                            "puzzles:\n" + (id.empty() ? "  - fen: \"" : "  - id: " + id + "\n    fen: \"") +
                                fen + "\"\n    solution: \"1.Rd8\"\n",
                            {});
}

const std::string rook = "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";

/// Every finding of the rules about the whole, as one text.
std::string told(const std::vector<const collection::Document*>& documents) {
    const auto catalogue = Catalogue::read(WithExamples::no);
    REQUIRE(catalogue.ok());
    std::string text;
    for (const Finding& finding : check_collection(documents, *catalogue, {}).findings) {
        text += finding.file + ' ' + finding.rule + ": " + finding.message + '\n';
    }
    return text;
}

} // namespace

TEST_CASE("marks: a stated id and a position, whatever else the puzzle says") {
    const auto marks = marks_of(document("a.yaml", "one", rook));
    REQUIRE(marks.size() == 2);
    CHECK(marks_of(document("b.yaml", "one", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 17 40")) == marks);
    CHECK(marks_of(document("a.yaml", "", rook)).size() == 1);
    CHECK(marks_of(document("a.yaml", "", "nonsense")).empty());
    CHECK(shared_marks({5, 1, 5, 2, 1, 5}) == std::vector<Mark>{1, 5});
}

TEST_CASE("marks: rules about the whole say the same of the files that share one as of all there are") {
    const std::vector<collection::Document> all{
        document("a.yaml", "one", rook),
        document("b.yaml", "one", "1k6/ppp5/8/8/8/8/PPP5/1K1R4 w - - 0 1"),
        document("c.yaml", "two", "k7/8/1K6/8/8/8/8/3R4 w - - 0 1"),
        document("d.yaml", "three", "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 3 9"),
        document("e.yaml", "four", "1k6/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1"),
        document("f.yaml", "five",
                 "6k1/5ppp/8/3p4/8/8/5PPP/6KR w - d6 0 1"),                // filled after every double step,
        document("g.yaml", "six", "kB6/PN6/2P1P3/3pK3/8/8/8/8 w - - 0 1"), // left empty after a proved one
    };
    std::vector<Mark> marks;
    for (const collection::Document& one : all) {
        const auto more = marks_of(one);
        marks.insert(marks.end(), more.begin(), more.end());
    }
    const std::vector<Mark> shared = shared_marks(std::move(marks));
    std::vector<const collection::Document*> everything;
    std::vector<const collection::Document*> akin;
    for (const collection::Document& one : all) {
        everything.push_back(&one);
        const auto own = marks_of(one);
        if (std::any_of(own.begin(), own.end(),
                        [&](Mark mark) { return std::binary_search(shared.begin(), shared.end(), mark); })) {
            akin.push_back(&one);
        }
    }
    CHECK(akin.size() == 5); // all but c and e
    const std::string some = told(akin);
    CHECK(some == told(everything));
    CHECK(std::count(some.begin(), some.end(), '\n') == 3);
}
