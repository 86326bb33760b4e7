#include "app/output.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <istream>
#include <iterator>
#include <memory>
#include <ostream>

namespace app {
namespace {

namespace fs = std::filesystem;

struct Closer {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, Closer>;

std::string reason() {
    return std::strerror(errno);
}

/// Everything written, flushed and closed.
bool write_and_close(File file, std::string_view text) {
    const bool written = std::fwrite(text.data(), 1, text.size(), file.get()) == text.size();
    return std::fclose(file.release()) == 0 && written;
}

struct Fresh {
    File file;
    fs::path path;
};

/// A file that was not there before: a name planted in a hostile checkout is passed over, never followed.
Fresh fresh_file_beside(const fs::path& path) {
    constexpr int tries = 100;
    for (int i = 0; i < tries; ++i) {
        fs::path beside = path;
        beside += fmt::format(".{}.part", i);
        errno = 0;
        if (File file{std::fopen(beside.c_str(), "wbx")}) {
            return {std::move(file), beside};
        }
        if (errno != EEXIST) {
            break;
        }
    }
    return {};
}

/// Of a page: each costs a browser more than a finding without one, and ten thousand findings shall open at
/// once.
constexpr std::size_t most_boards = 400;

std::string written_as(ReportKind kind, const report::Report& report, const rules::Catalogue& catalogue,
                       const CheckOptions& options, const report::Look& look) {
    switch (kind) {
    case ReportKind::text:
        return report::text(report, look);
    case ReportKind::brief:
        return report::brief(report);
    case ReportKind::json:
        return report::json(report);
    case ReportKind::json_lines:
        return report::json_lines(report);
    case ReportKind::sarif:
        return report::sarif(report, catalogue, options.sarif);
    case ReportKind::junit:
        return report::junit(report);
    case ReportKind::code_quality:
        return report::code_quality(report);
    case ReportKind::annotations:
        return report::annotations(report);
    case ReportKind::markdown:
        return report::markdown(report);
    case ReportKind::html:
        return report::html(report, most_boards);
    case ReportKind::part:
        break; // written by who knows the shard
    }
    return {};
}

/// What earlier commands of a job's step wrote into its summary, which ours is put behind; nothing of other
/// files.
std::string summary_so_far(const std::string& path, const Environment& environment) {
    const auto named = environment.variables.find("GITHUB_STEP_SUMMARY");
    if (named == environment.variables.end() || named->second != path) {
        return {};
    }
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

void append(std::vector<Error>& errors, std::vector<Error> more) {
    errors.insert(errors.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

bool is_set(const Environment& environment, std::string_view name) {
    const auto found = environment.variables.find(name);
    return found != environment.variables.end() && !found->second.empty();
}

} // namespace

report::Colour colour_for(ColourChoice choice, const Streams& streams, const Environment& environment) {
    const auto value = [&](std::string_view name) {
        const auto found = environment.variables.find(name);
        return found == environment.variables.end() ? std::string() : found->second;
    };
    if (choice != ColourChoice::automatic) {
        return choice == ColourChoice::always ? report::Colour::yes : report::Colour::no;
    }
    if (is_set(environment, "NO_COLOR")) {
        return report::Colour::no;
    }
    if (is_set(environment, "CLICOLOR_FORCE") && value("CLICOLOR_FORCE") != "0") {
        return report::Colour::yes;
    }
    const bool terminal = streams.out_is == Terminal::yes && value("TERM") != "dumb";
    return terminal ? report::Colour::yes : report::Colour::no;
}

std::vector<Error> write_file(const std::string& path, std::string_view what, std::string_view text) {
    const auto failed = [&](const std::string& why) {
        return std::vector{io_error(path, fmt::format("cannot write {}: {}", what, why))};
    };
    std::error_code fault;
    const fs::file_status status = fs::status(path, fault);
    if (fs::is_directory(status)) {
        return failed("this is a folder");
    }
    if (fs::exists(status) && !fs::is_regular_file(status)) { // a device: nothing to rename over
        errno = 0;
        File device{std::fopen(path.c_str(), "wb")};
        const bool written = device && write_and_close(std::move(device), text);
        return written ? std::vector<Error>{} : failed(reason());
    }
    Fresh fresh = fresh_file_beside(path);
    if (!fresh.file) {
        return failed(reason());
    }
    errno = 0;
    const bool written = write_and_close(std::move(fresh.file), text);
    const std::string why = reason();
    if (written) {
        fs::rename(fresh.path, path, fault);
    }
    if (written && !fault) {
        return {};
    }
    std::error_code ignored;
    fs::remove(fresh.path, ignored);
    return failed(written ? fault.message() : why);
}

std::vector<Error> print(const Streams& streams, std::string_view text) {
    errno = 0;
    streams.out << text << std::flush;
    if (streams.out || errno == EPIPE) {
        return {};
    }
    return {io_error("standard output",
                     "cannot write: " + (errno == 0 ? std::string("the stream is closed") : reason()))};
}

std::size_t width_for(const Streams& streams, const Environment& environment) {
    constexpr std::size_t least = 40;
    if (streams.out_is == Terminal::no) {
        return 0;
    }
    std::size_t columns = streams.columns;
    if (const auto set = environment.variables.find("COLUMNS"); set != environment.variables.end()) {
        const char* const end = set->second.data() + set->second.size();
        std::size_t number = 0;
        const auto [read_to, fault] = std::from_chars(set->second.data(), end, number);
        columns = fault == std::errc() && read_to == end && number > 0 ? number : columns;
    }
    return columns == 0 ? 0 : std::max(columns, least);
}

CheckOptions with_input(CheckOptions options, const Streams& streams) {
    if (options.wants_input()) {
        options.input.emplace();
        if (streams.in != nullptr) {
            options.input->assign(std::istreambuf_iterator<char>(*streams.in), {});
        }
    }
    return options;
}

bool wants_every_puzzle(const CheckOptions& options) {
    return options.overview || options.detail == report::Detail::puzzles ||
           std::any_of(options.outputs.begin(), options.outputs.end(), [](const Output& output) {
               return output.kind == ReportKind::junit || output.kind == ReportKind::part;
           });
}

std::vector<Error> write_reports(const report::Report& report, const rules::Catalogue& catalogue,
                                 const CheckOptions& options, const Streams& streams,
                                 const Environment& environment) {
    std::vector<Error> errors;
    report::Look look;
    look.closing = options.quiet ? report::Closing::no : report::Closing::yes;
    look.men = options.men;
    look.limit = options.limit;
    for (const Output& output : options.outputs) {
        if (!output.file.empty() && output.kind != ReportKind::part) {
            const std::string path = (fs::path(environment.folder) / output.file).string();
            append(errors, write_file(path, "the report",
                                      summary_so_far(path, environment) +
                                          written_as(output.kind, report, catalogue, options, look)));
        }
    }
    look.colour = colour_for(options.colour, streams, environment);
    look.width = width_for(streams, environment);
    for (const Output& output : options.outputs) {
        if (output.file.empty()) {
            append(errors, print(streams, written_as(output.kind, report, catalogue, options, look)));
        }
    }
    return errors;
}

} // namespace app
