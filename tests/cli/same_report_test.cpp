// A report is a function of the bytes and the configuration: how many threads share the work shows nowhere.
#include "harness.hpp"

#include <filesystem>

using harness::Ran;
using harness::Shelf;

namespace {

namespace fs = std::filesystem;

#ifdef NDEBUG
constexpr const char* effort = "review";
#else
constexpr const char* effort = "draft"; // the solver is many times slower with assertions or sanitizers
#endif

void copy_sample(const Shelf& shelf) {
    fs::copy(fs::path(SIDELINT_SOURCE_DIR) / "sample-collection", shelf.path() / "club",
             fs::copy_options::recursive);
    fs::rename(shelf.path() / "club" / ".sidelint.yaml", shelf.path() / ".sidelint.yaml");
}

/// Every format, good and broken, cheap and dear puzzles side by side, findings across files.
void fill_mixed(const Shelf& shelf) {
    shelf.write("mixed/a.yaml",
                harness::puzzles({harness::cooked("a1"), harness::sound("a2"), harness::cooked("a2")}));
    shelf.write("mixed/b.pgn", "[Event \"Harbour club: White to move\"]\n[PuzzleId \"b1\"]\n[SetUp \"1\"]\n"
                               "[FEN \"1k6/1p6/7R/8/5K2/4Q3/8/8 b - - 0 1\"]\n[Goal \"mate in 2\"]\n\n"
                               "1. Rh7 (1. Qe8+? Kc7 $6) Kc8 2. Qe8# *\n\n"
                               "[Event \"?\"]\n[FEN \"8/8/8/8/8/8/8/8 w - - 0 1\"]\n\n1. e4 {no king} *\n");
    shelf.write("mixed/c.epd", "r5k1/pp1q1ppp/2n5/8/6N1/6QP/PPP2PP1/6K1 w - - bm Nf6+; id \"c1\";\n"
                               "6k1/5ppp/8/3q4/8/2N5/5PPP/6K1 w - - bm Nxd5 Nb5; id \"a1\";\n"
                               "this is no position;\n"
                               "8/8/8/4k3/8/4K3/4P3/8 w - - bm Kd3; id \"caf\xe9\";\n");
    shelf.write("mixed/d.csv", "id,fen,moves,goal,themes\n"
                               "d1,2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 b - - 0 1,g8h8 d5e7 h7h6 e7c8,win,pin;fork\n"
                               "d2,2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1,d5e7 g8f8,win queen\n");
    shelf.write("mixed/e.pgn", std::string("\xff\xfe\0\1", 4) + "[FEN ");
    shelf.write("mixed/f.yaml", "puzzles: [{id: a1, fen: \"x\"}, 7, {]\n");
}

Ran checked(const Shelf& shelf, const std::string& format, const std::string& jobs) {
    return shelf.run(
        {"check", "--effort", effort, "--format", format, "--detail", "puzzles", "--jobs", jobs});
}

} // namespace

TEST_CASE("one, two and seven jobs write the same report of the sample collection and a mixed folder") {
    const Shelf shelf;
    copy_sample(shelf);
    fill_mixed(shelf);
    const Ran one = checked(shelf, "json", "1");
    const nlohmann::json report = harness::json_of(one);
    CHECK(report["summary"]["files"] >= 10); // all of it was looked at
    CHECK(report["puzzles"].size() >= 40);
    CHECK(report["findings"].size() >= 15);
    for (const char* jobs : {"2", "7"}) {
        INFO(jobs << " jobs");
        const Ran more = checked(shelf, "json", jobs);
        CHECK(more.status == one.status);
        CHECK(more.err == one.err);
        CHECK((more.out == one.out)); // in brackets: nobody wants to read both
    }
}
