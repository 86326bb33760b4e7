// sidelint verify: do certificates of mates hold?

#include "app/commands.hpp"
#include "app/output.hpp"
#include "solve/certificate_check.hpp"

#include <fmt/format.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

namespace app {
namespace {

namespace fs = std::filesystem;

/// No certificate within the format's bounds is larger.
constexpr std::size_t most_bytes = solve::most_certificate_lines * (solve::longest_certificate_line + 2);

/// Also from a pipe or a device.
Result<std::string> read_certificate(const Environment& environment, const std::string& name) {
    const fs::path path = fs::path(environment.folder) / name;
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) {
        return board::failure(io_error(name, "cannot read: this is a folder"));
    }
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    std::string text;
    std::array<char, 1U << 16U> buffer{};
    while (file && text.size() <= most_bytes) {
        file.read(buffer.data(), buffer.size());
        text.append(buffer.data(), static_cast<std::size_t>(file.gcount()));
    }
    if (text.size() > most_bytes) {
        return board::failure(
            io_error(name, fmt::format("larger than {} bytes: no certificate is", most_bytes)));
    }
    if (!file.eof()) {
        return board::failure(
            io_error(name, fmt::format("cannot read: {}", errno == 0 ? "unknown" : std::strerror(errno))));
    }
    return text;
}

} // namespace

int run_verify(const VerifyOptions& options, const Streams& streams, const Environment& environment) {
    std::vector<Error> errors;
    std::string told;
    Gate gate = Gate::passed;
    for (const std::string& name : options.files) {
        const auto text = read_certificate(environment, name);
        if (!text) {
            errors.push_back(text.error());
            continue;
        }
        const std::string place = report::harmless(name);
        if (const auto checked = solve::check_certificate(*text)) {
            told += fmt::format("{}: holds: mate in {} by {}, {} {}, from {}\n", place, checked->moves,
                                checked->key, checked->positions,
                                checked->positions == 1 ? "position" : "positions", checked->fen);
        } else {
            const auto& fault = checked.error();
            told +=
                fmt::format("{}:{}: does not hold: {}\n", place, fault.line, report::harmless(fault.what));
            gate = Gate::failed;
        }
    }
    for (Error& error : print(streams, told)) {
        errors.push_back(std::move(error));
    }
    tell(streams.err, errors);
    return exit_status(errors, gate);
}

} // namespace app
