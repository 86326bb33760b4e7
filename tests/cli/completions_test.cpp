// The shells' completions are written by hand: they must know every option of --help, and no other.
#include "harness.hpp"

#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <sstream>

namespace {

using Names = std::set<std::string>;

/// The first group of every match.
Names all(const std::string& text, const std::string& pattern) {
    const std::regex expression(pattern);
    Names names;
    for (std::sregex_iterator at(text.begin(), text.end(), expression), end; at != end; ++at) {
        names.insert((*at)[1]);
    }
    return names;
}

const Names& commands() {
    static const Names names{"baseline", "check",  "diff",  "draw",   "explain", "fix",   "hook",
                             "init",     "manual", "merge", "schema", "solve",   "verify"};
    return names;
}

/// Long options of the program and of all its commands, without "--".
Names options() {
    const harness::Shelf shelf;
    std::string help = shelf.run({"--help"}).out;
    for (const std::string& command : commands()) {
        help += shelf.run({command, "--help"}).out;
    }
    std::string rows;
    std::istringstream lines(help);
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("  -")) {
            rows += line.substr(0, line.find(' ', 2)) + '\n'; // names only
        }
    }
    return all(rows, "--([a-z][a-z-]+)");
}

std::string completion(const std::string& name) {
    std::ifstream file(SIDELINT_SOURCE_DIR "/ci/completions/" + name);
    std::string text{std::istreambuf_iterator<char>(file), {}};
    REQUIRE_FALSE(text.empty());
    return text;
}

} // namespace

TEST_CASE("completions know every option of --help, and no other") {
    const Names known = options();
    REQUIRE(known.contains("fail-on"));
    REQUIRE(known.contains("version"));
    CHECK(all(completion("sidelint.bash"), "--([a-z][a-z-]+)") == known);
    CHECK(all(completion("_sidelint"), "--([a-z][a-z-]+)") == known);
    CHECK(all(completion("sidelint.fish"), " -l ([a-z][a-z-]+)") == known);
}

TEST_CASE("completions know every command") {
    const harness::Shelf shelf;
    CHECK(all(shelf.run({"--help"}).out, "\n  ([a-z]+)  ") == commands());
    for (const char* file : {"sidelint.bash", "_sidelint", "sidelint.fish"}) {
        const std::string text = completion(file);
        for (const std::string& command : commands()) {
            INFO(file << ' ' << command);
            CHECK(std::regex_search(text, std::regex("[ (]" + command + "[ :\\\\]")));
        }
    }
}
