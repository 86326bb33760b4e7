#include "app/output.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
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

std::string written_as(ReportKind kind, const report::Report& report, report::Colour colour,
                       report::Closing closing) {
    switch (kind) {
    case ReportKind::text:
        return report::text(report, colour, closing);
    case ReportKind::brief:
        return report::brief(report);
    case ReportKind::json:
        break;
    }
    return report::json(report);
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

std::vector<Error> write_reports(const report::Report& report, const CheckOptions& options,
                                 const Streams& streams, const Environment& environment) {
    std::vector<Error> errors;
    const report::Closing closing = options.quiet ? report::Closing::no : report::Closing::yes;
    for (const Output& output : options.outputs) {
        if (!output.file.empty()) {
            const std::string path = (fs::path(environment.folder) / output.file).string();
            append(errors, write_file(path, "the report",
                                      written_as(output.kind, report, report::Colour::no, closing)));
        }
    }
    for (const Output& output : options.outputs) {
        if (output.file.empty()) {
            const report::Colour colour = colour_for(options.colour, streams, environment);
            append(errors, print(streams, written_as(output.kind, report, colour, closing)));
        }
    }
    return errors;
}

} // namespace app
