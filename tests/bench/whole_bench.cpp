// What whole runs cost: a commit of 5 files in a repository of 20,000, and a second run over 100,000 puzzles.
// Makes its repository with the real git, in a folder that goes away, and asks git the like beside it.
//   bench_whole [--files 20000] [--puzzles 100000] [--runs 21] [--flat] [--program PATH]
// The times are of whole processes, start and end included. One machine gives them in one go, or they do not
// compare.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

extern char** environ; // NOLINT: the name POSIX gives

namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

constexpr std::size_t commits = 50;
constexpr std::size_t changed_a_commit = 5;

struct Options {
    std::size_t files = 20'000;
    std::size_t puzzles = 100'000;
    std::size_t runs = 21;
    bool flat = false; ///< all files in one folder
    std::string program = SIDELINT_PROGRAM;
};

/// Rank by rank, digits for empty squares.
std::string placement(const std::array<std::array<char, 8>, 8>& board) {
    std::string text;
    for (const auto& rank : board) {
        int empty = 0;
        text += text.empty() ? "" : "/";
        for (const char man : rank) {
            if (man == ' ') {
                ++empty;
                continue;
            }
            text += empty > 0 ? std::to_string(empty) : "";
            text += man;
            empty = 0;
        }
        text += empty > 0 ? std::to_string(empty) : "";
    }
    return text;
}

/// A mate on the back rank by Rd1-d8, with pawns here and there: half a million different ones.
std::string diagram(std::size_t number) {
    std::array<std::array<char, 8>, 8> board{}; // from the eighth rank down
    for (auto& rank : board) {
        rank.fill(' ');
    }
    const auto digit = [&](std::size_t of) {
        const std::size_t result = number % of;
        number /= of;
        return result;
    };
    for (const std::size_t file : {0U, 1U, 2U, 4U}) {
        if (const std::size_t white = digit(4); white > 0) {
            board[7 - white][file] = 'P';
        }
        if (const std::size_t black = digit(4); black > 0) {
            board[black][file] = 'p';
        }
    }
    for (const std::size_t file : {5U, 6U, 7U}) {
        board[6 - digit(2)][file] = 'P';
        board[1][file] = 'p';
    }
    board[0][6] = 'k';
    board[7][3] = 'R';
    board[7][6] = 'K';
    return placement(board) + " w - - 0 1";
}

std::string entry(std::size_t id, std::size_t position) {
    return fmt::format(
        "  - id: bench-{:06}\n    fen: \"{}\"\n    goal: mate in 1\n    solution: \"1.Rd8#\"\n", id,
        diagram(position));
}

std::string game(std::size_t id) {
    return fmt::format("[PuzzleId \"bench-{:06}\"]\n[SetUp \"1\"]\n[FEN \"{}\"]\n[Goal \"mate in 1\"]\n\n"
                       "1. Rd8# *\n\n",
                       id, diagram(id));
}

/// A folder that goes away.
class Folder {
  public:
    Folder() {
        std::string pattern = (fs::temp_directory_path() / "sidelint-bench-XXXXXX").string();
        if (::mkdtemp(pattern.data()) == nullptr) {
            throw std::runtime_error("no folder for what is measured");
        }
        m_path = pattern;
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(m_path, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] const fs::path& path() const { return m_path; }

  private:
    fs::path m_path;
};

struct Cost {
    double wall = 0; ///< milliseconds
    double cpu = 0;
};

double cpu_of_children() {
    rusage used{};
    ::getrusage(RUSAGE_CHILDREN, &used);
    const auto milliseconds = [](const timeval& time) {
        return 1e3 * static_cast<double>(time.tv_sec) + 1e-3 * static_cast<double>(time.tv_usec);
    };
    return milliseconds(used.ru_utime) + milliseconds(used.ru_stime);
}

/// Runs it in `folder`, with `input` as its standard input, and wants status 0.
Cost run(const fs::path& folder, const Words& words, const char* input = "/dev/null") {
    std::vector<char*> arguments;
    for (const std::string& word : words) {
        arguments.push_back(const_cast<char*>(word.c_str())); // NOLINT: as exec has it
    }
    arguments.push_back(nullptr);
    fs::current_path(folder);
    posix_spawn_file_actions_t files{};
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_addopen(&files, STDIN_FILENO, input, O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    const double cpu = cpu_of_children();
    const auto begin = std::chrono::steady_clock::now();
    pid_t child = 0;
    int status = -1;
    if (::posix_spawnp(&child, arguments.front(), &files, nullptr, arguments.data(), environ) == 0) {
        ::waitpid(child, &status, 0);
    }
    const std::chrono::duration<double, std::milli> wall = std::chrono::steady_clock::now() - begin;
    posix_spawn_file_actions_destroy(&files);
    if (status != 0) {
        throw std::runtime_error(fmt::format("{} {} failed", words[0], words[1]));
    }
    return {wall.count(), cpu_of_children() - cpu};
}

void tell(std::string_view what, std::vector<Cost> costs) {
    const auto median = [&](double Cost::*part) {
        std::sort(costs.begin(), costs.end(),
                  [part](const Cost& a, const Cost& b) { return a.*part < b.*part; });
        return costs[costs.size() / 2].*part;
    };
    const double wall = median(&Cost::wall);
    const double least = costs.front().wall;
    fmt::print("{:<64} {:8.1f} {:8.1f} {:8.1f}\n", what, wall, least, median(&Cost::cpu));
    std::fflush(stdout);
}

std::string path_of(std::size_t file, bool flat) {
    constexpr std::size_t a_folder = 100;
    return flat ? fmt::format("{:06}.yaml", file)
                : fmt::format("set-{:03}/{:06}.yaml", file / a_folder, file);
}

/// What git fast-import reads: a first commit of all the files, then one after another that gives five of
/// them, far apart, another diagram.
void write_history(const fs::path& stream, const Options& options) {
    std::ofstream out(stream, std::ios::binary);
    for (std::size_t commit = 0; commit < commits; ++commit) {
        out << "commit refs/heads/main\ncommitter Bench <bench@example.org> " << 1'700'000'000 + 60 * commit
            << " +0000\ndata 8\na change\n";
        const std::size_t changed = commit == 0 ? options.files : changed_a_commit;
        for (std::size_t i = 0; i < changed; ++i) {
            const std::size_t file =
                commit == 0 ? i : (commit * changed_a_commit + i) * 7919 % options.files; // 7919 is a prime
            const std::size_t position =
                commit == 0 ? i : options.files + commit * changed_a_commit + i; // as none before
            const std::string text = "puzzles:\n" + entry(file, position);
            out << "M 100644 inline " << path_of(file, options.flat) << "\ndata " << text.size() << '\n'
                << text << '\n';
        }
    }
}

fs::path make_repository(const fs::path& folder, const Options& options) {
    const fs::path repository = folder / "repository";
    fs::create_directories(repository);
    write_history(folder / "stream", options);
    run(repository, {"git", "init", "-q", "-b", "main"});
    run(repository, {"git", "fast-import", "--quiet"}, (folder / "stream").c_str());
    run(repository, {"git", "reset", "-q", "--hard"});
    return repository;
}

void measure_commits(const fs::path& folder, const Options& options) {
    const fs::path repository = make_repository(folder, options);
    const Words check{options.program, "check", "--cache", folder / "cache", "--effort", "draft"};
    const auto with = [&](const Words& more) {
        Words words = check;
        words.insert(words.end(), more.begin(), more.end());
        return words;
    };
    tell("the first check of a commit, nothing remembered",
         {run(repository, with({"--commit", fmt::format("HEAD~{}", commits - 2)}))});
    std::vector<Cost> along;
    std::vector<Cost> again;
    std::vector<Cost> staged;
    std::vector<Cost> version;
    std::vector<Cost> git;
    std::vector<Cost> git_staged;
    for (std::size_t back = commits - 2; back-- > 0;) {
        along.push_back(run(repository, with({"--commit", fmt::format("HEAD~{}", back)})));
    }
    // By turns with git; what is staged afterwards, for the memory keeps of each folder the state last asked
    // for.
    for (std::size_t i = 0; i < options.runs; ++i) {
        version.push_back(run(repository, {options.program, "--version"}));
        again.push_back(run(repository, with({"--commit", "HEAD"})));
        git.push_back(run(repository, {"git", "diff", "--name-only", "HEAD~1", "HEAD"}));
    }
    for (std::size_t i = 0; i < changed_a_commit; ++i) {
        const std::string path = path_of(i * 1237 % options.files, options.flat);
        std::ofstream(repository / path) << "puzzles:\n"
                                         << entry(i * 1237 % options.files, 2 * options.files + i);
    }
    run(repository, {"git", "add", "--all"});
    run(repository, with({"--staged"}));
    for (std::size_t i = 0; i < options.runs; ++i) {
        staged.push_back(run(repository, with({"--staged"})));
        git_staged.push_back(run(repository, {"git", "diff", "--name-only", "--staged"}));
    }
    tell("check --commit, one commit after another, solving included", along);
    tell("check --commit HEAD, its puzzles known", again);
    tell("check --staged, its puzzles known", staged);
    tell("git diff --name-only HEAD~1 HEAD", git);
    tell("git diff --name-only --staged", git_staged);
    tell("sidelint --version", version);
}

void write_collection(const fs::path& folder, std::size_t puzzles, std::string_view extension) {
    constexpr std::size_t a_file = 1000;
    fs::create_directories(folder);
    std::ofstream out;
    for (std::size_t i = 0; i < puzzles; ++i) {
        if (i % a_file == 0) {
            out.close();
            out.open(folder / fmt::format("{:03}.{}", i / a_file, extension));
            out << (extension == "yaml" ? "puzzles:\n" : "");
        }
        out << (extension == "yaml" ? entry(i, i) : game(i));
    }
}

void measure_warm(const fs::path& folder, const Options& options, std::string_view extension) {
    const fs::path collection = folder / extension;
    write_collection(collection, options.puzzles, extension);
    const Words check{options.program, "check", "--cache", folder / fmt::format("{}-cache", extension),
                      "--effort",      "draft"};
    tell(fmt::format("the first check of {} puzzles, {}", options.puzzles, extension),
         {run(collection, check)});
    std::vector<Cost> warm;
    for (std::size_t i = 0; i < std::min<std::size_t>(options.runs, 9); ++i) {
        warm.push_back(run(collection, check));
    }
    tell("the same again", warm);
}

Options read_options(const Words& words) {
    Options options;
    const std::vector<std::pair<std::string_view, std::size_t Options::*>> numbers{
        {"--files", &Options::files}, {"--puzzles", &Options::puzzles}, {"--runs", &Options::runs}};
    for (std::size_t i = 0; i < words.size(); ++i) {
        const auto number = std::find_if(numbers.begin(), numbers.end(),
                                         [&](const auto& known) { return known.first == words[i]; });
        if (words[i] == "--flat") {
            options.flat = true;
        } else if (i + 1 == words.size()) {
            throw std::runtime_error(words[i] + ": unknown, or without a value");
        } else if (words[i] == "--program") {
            options.program = fs::absolute(words[++i]);
        } else if (number != numbers.end()) {
            options.*(number->second) = std::stoul(words[++i]);
        } else {
            throw std::runtime_error(words[i] + ": unknown");
        }
    }
    return options;
}

} // namespace

int main(int argc, char** argv) {
    try {
        const Options options = read_options({argv + 1, argv + argc});
        const Folder folder;
        fmt::print("{:<64} {:>8} {:>8} {:>8}\n", "milliseconds a process", "median", "least", "CPU");
        if (options.files > 0) {
            fmt::print("{} files{}, {} commits of {}\n", options.files,
                       options.flat ? " in one folder" : ", 100 a folder", commits, changed_a_commit);
            measure_commits(folder.path(), options);
        }
        if (options.puzzles > 0) {
            measure_warm(folder.path(), options, "yaml");
            measure_warm(folder.path(), options, "pgn");
        }
        return 0;
    } catch (const std::exception& fault) {
        fmt::print(stderr, "bench_whole: {}\n", fault.what());
        return 1;
    }
}
