// Every detector over every example of every motif, held against a table in the repository: a new cell is a
// regression or an overlap to be looked at. To accept the cells of today run: test_motif "[approve-matrix]"

#include "catch.hpp"
#include "examples.hpp"

#include <fstream>
#include <sstream>

namespace {

const char* const table_path = SIDELINT_SOURCE_DIR "/tests/motif/matrix.txt";

/// "fork | yes | the queen checks and takes the loose rook | fork!@0": ! decisive, @ the ply; what is only
/// seen is left out.
std::string table() {
    std::ostringstream out;
    out << "# motif | example | title | evidence at least functional, with its ply\n";
    for (const examples::Entry& entry : examples::catalogue()) {
        for (const examples::Example& example : entry.examples) {
            out << entry.file << " | "
                << (example.yes    ? "yes"
                    : example.wide ? "wide"
                                   : "no")
                << " | " << example.title << " |";
            for (const motif::Evidence& evidence : examples::evidence(example)) {
                if (evidence.level != motif::Level::seen) {
                    const bool decisive = evidence.level == motif::Level::decisive;
                    out << ' ' << evidence.motif << (decisive ? "!" : "") << '@' << evidence.ply;
                }
            }
            out << '\n';
        }
    }
    return out.str();
}

std::vector<std::string> lines_of(std::istream& in) {
    std::vector<std::string> lines;
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

} // namespace

TEST_CASE("all detectors over all examples give the cells that were looked at", "[motif][matrix]") {
    std::ifstream file(table_path);
    REQUIRE(file);
    const std::vector<std::string> expected = lines_of(file);
    std::istringstream now(table());
    const std::vector<std::string> found = lines_of(now);
    CHECK(found.size() == expected.size());
    for (std::size_t i = 0; i < std::min(found.size(), expected.size()); ++i) {
        CHECK(found[i] == expected[i]);
    }
}

TEST_CASE("accept the cells of today", "[.approve-matrix]") {
    std::ofstream file(table_path);
    file << table();
    CHECK(file);
}
