// What puzzles cost: processor time and nodes a puzzle, and what was found. Takes the options of `sidelint
// check`; one thread.
// The first run builds the endgame tables it needs and keeps them; measure the second.
//   bench_suite --effort review --config .sidelint.yaml FILE...

#include "app/cache_folder.hpp"
#include "app/options.hpp"
#include "app/subject.hpp"
#include "rules/check.hpp"
#include "solve/endgame_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <iostream>
#include <map>
#include <numeric>
#include <string>
#include <vector>

namespace {

/// Milliseconds this thread has computed so far.
double thread_time() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

/// What one number was over all the puzzles of a file.
class Sample {
  public:
    explicit Sample(std::vector<double> values) : m_values(std::move(values)) {
        std::sort(m_values.begin(), m_values.end());
    }
    [[nodiscard]] double sum() const { return std::accumulate(m_values.begin(), m_values.end(), 0.0); }
    [[nodiscard]] double mean() const { return sum() / static_cast<double>(m_values.size()); }
    /// Nearest rank: the smallest value that `share` of all do not exceed.
    [[nodiscard]] double percentile(double share) const {
        const auto rank = static_cast<std::size_t>(std::ceil(share * static_cast<double>(m_values.size())));
        return m_values[std::max<std::size_t>(rank, 1) - 1];
    }

  private:
    std::vector<double> m_values; ///< ascending, not empty
};

void measure(const collection::Document& document, const rules::Catalogue& catalogue,
             const rules::Settings& settings) {
    std::vector<double> times;
    std::vector<double> nodes;
    std::map<std::string, std::size_t> found;
    for (const collection::Puzzle& puzzle : document.puzzles) {
        const double begin = thread_time();
        const rules::Checked checked =
            rules::check_puzzle(document, puzzle, catalogue, settings, rules::Summarise::yes);
        times.push_back(thread_time() - begin);
        nodes.push_back(checked.summary ? static_cast<double>(checked.summary->nodes) : 0);
        for (const rules::Finding& finding : checked.findings) {
            ++found[finding.rule + " " + finding.message_id];
        }
        for (const std::string& fault : checked.broken) {
            ++found["broken: " + fault];
        }
    }
    fmt::print("{} ({})\n  puzzles {}\n", document.path, solve::name(settings.effort), times.size());
    if (times.empty()) {
        return;
    }
    const Sample time(std::move(times));
    const Sample work(std::move(nodes));
    fmt::print("  CPU seconds {:.2f}\n  ms a puzzle: median {:.1f}, mean {:.1f}, p90 {:.1f}, p99 {:.1f}, max "
               "{:.1f}\n",
               time.sum() / 1e3, time.percentile(0.5), time.mean(), time.percentile(0.9),
               time.percentile(0.99), time.percentile(1));
    fmt::print("  nodes a puzzle: median {:.0f}, mean {:.0f}\n", work.percentile(0.5), work.mean());
    for (const auto& [rule, count] : found) {
        fmt::print("  {:6} {}\n", count, rule);
    }
    std::fflush(stdout);
}

int fail(std::span<const app::Error> errors) {
    app::tell(std::cerr, errors);
    return app::exit_status(errors, app::Gate::passed);
}

int run(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "check");
    const auto command = app::read_command_line(arguments);
    if (!command) {
        return fail(std::array{command.error()});
    }
    const auto* const options = std::get_if<app::CheckOptions>(&*command);
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (options == nullptr || options->wants_history() || !catalogue) {
        return fail(std::array{app::usage_error("files and options of check only, and no history")});
    }
    app::Environment environment;
    environment.folder = std::filesystem::current_path().string();
    for (const char* name : {"HOME", "XDG_CACHE_HOME"}) { // where the tables of earlier runs are
        if (const char* const value = std::getenv(name)) {
            environment.variables.emplace(name, value);
        }
    }
    const auto subject = app::load_files(*options, environment, *catalogue, {}, 1);
    if (!subject) {
        return fail(subject.error());
    }
    const solve::EndgameTables endgames(app::cache_folder(environment));
    for (const collection::Document& document : subject->documents) {
        rules::Settings settings = subject->policy.for_file(document.path);
        settings.endgames = &endgames;
        measure(document, *catalogue, settings);
    }
    return fail(subject->errors);
}

} // namespace

int main(int argc, char** argv) {
    return run({argv + 1, argv + argc});
}
