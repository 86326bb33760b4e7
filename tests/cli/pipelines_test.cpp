// The shell parts of ci/pipelines, run with the real program as their CI would run them.
#include "harness.hpp"
#include "holds.hpp"

#include <yaml-cpp/yaml.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

using harness::cooked;
using harness::puzzles;
using harness::sound;
using harness::sound_too;

namespace fs = std::filesystem;

namespace {

const std::string pipelines = SIDELINT_SOURCE_DIR "/ci/pipelines/";

/// A repository whose last commit breaks one puzzle, and `sidelint` on the PATH.
class Job {
  public:
    Job() {
        fs::create_directories(bin());
        fs::create_symlink(SIDELINT_PROGRAM, bin() / "sidelint");
        m_repository.check_in({{"a.yaml", {puzzles({cooked("old"), sound("one"), sound_too("two")})}}});
        m_repository.check_in({{"a.yaml", {puzzles({cooked("old"), sound("one"), cooked("two")})}}});
    }
    [[nodiscard]] fs::path root() const { return m_repository.root(); }

    int run(const std::string& script, const std::string& variables = "") const {
        std::ofstream(root().string() + ".sh") << script;
        const std::string command = "cd '" + root().string() + "' && env -i HOME='" + root().string() +
                                    "-home' PATH='" + bin().string() + ":/usr/bin:/bin' " + variables +
                                    " sh -eu '" + root().string() + ".sh' >'" + log() + "' 2>&1";
        return std::system(command.c_str()) == 0 ? 0 : 1;
    }
    [[nodiscard]] std::string told() const {
        std::ifstream file(log());
        return {std::istreambuf_iterator<char>(file), {}};
    }

  private:
    [[nodiscard]] fs::path bin() const { return root().string() + "-bin"; }
    [[nodiscard]] std::string log() const { return root().string() + ".log"; }
    scratch::Repository m_repository;
};

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
        text.replace(at, from.size(), to);
    }
    return text;
}

/// The script of the step of that name.
std::string step(const YAML::Node& job, const std::string& name) {
    for (const YAML::Node& one : job["steps"]) {
        if (one["name"] && one["name"].as<std::string>() == name) {
            return one["run"].as<std::string>();
        }
    }
    return {};
}

} // namespace

TEST_CASE("GitHub's template: four parts and their report, which fails for what the change breaks") {
    const Job job;
    const YAML::Node file = YAML::LoadFile(pipelines + "github.yaml");
    const std::string check = step(file["jobs"]["check"], "check");
    REQUIRE_FALSE(check.empty());
    const YAML::Node parts = file["jobs"]["check"]["strategy"]["matrix"]["part"];
    REQUIRE(parts.size() == 4);
    for (const YAML::Node& part : parts) {
        INFO(job.told());
        CHECK(job.run(replaced(check, "${{ matrix.part }}", part.as<std::string>()), "CI=true") == 0);
    }
    CHECK(job.run(step(file["jobs"]["report"], "report"),
                  "GITHUB_STEP_SUMMARY=summary.md GITHUB_ACTIONS=true") == 1);
    CHECK(holds(job.told(), "::error file=a.yaml"));
    CHECK(holds(job.told(), "(new"));
    CHECK(fs::exists(job.root() / "summary.md"));
    CHECK(fs::exists(job.root() / "puzzles.html"));
}

TEST_CASE("GitLab's template: the same") {
    const Job job;
    const YAML::Node file = YAML::LoadFile(pipelines + "gitlab.yaml");
    for (const std::string part : {"1", "2", "3", "4"}) {
        CHECK(job.run(file["check"]["script"][0].as<std::string>(),
                      "CI=true CI_NODE_INDEX=" + part + " CI_NODE_TOTAL=4") == 0);
    }
    CHECK(job.run(file["report"]["script"][0].as<std::string>()) == 1);
    CHECK(holds(job.told(), "Against"));
    CHECK(fs::exists(job.root() / "quality.json"));
    CHECK(fs::exists(job.root() / "puzzles.xml"));
}

TEST_CASE("the script for any CI: a base is named, or found") {
    const Job job;
    CHECK(job.run("exec '" + pipelines + "any.sh'", "CI=true") == 1);
    CHECK(holds(job.told(), "New: "));
    CHECK(job.run("exec '" + pipelines + "any.sh'", "REV=HEAD") == 0);
    CHECK(job.run("exec '" + pipelines + "any.sh'", "REV=nowhere") == 1);
    CHECK(holds(job.told(), "nowhere"));
}

TEST_CASE(
    "the hook for the pre-commit framework has the fields it requires, and its command line is one of ours") {
    const YAML::Node hooks = YAML::LoadFile(SIDELINT_SOURCE_DIR "/.pre-commit-hooks.yaml");
    REQUIRE(hooks.size() == 1);
    for (const char* const field :
         {"id", "name", "entry", "language"}) { // pre-commit.com, "Creating new hooks"
        CHECK(hooks[0][field]);
    }
    const Job job;
    CHECK(job.run(hooks[0]["entry"].as<std::string>()) == 0); // nothing is staged
}
