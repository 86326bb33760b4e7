// sidelint merge: joins the parts of a run that several machines shared.

#include "app/commands.hpp"
#include "app/output.hpp"
#include "app/part.hpp"

#include <fmt/format.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace app {
namespace {

Result<Part> load(const std::string& name, const Environment& environment) {
    const auto path = std::filesystem::path(environment.folder) / name;
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    if (!file.is_open() || file.bad()) {
        return board::failure(
            io_error(name, fmt::format("cannot read: {}", errno == 0 ? "unknown" : std::strerror(errno))));
    }
    return read_part(text, name);
}

} // namespace

int run_merge(const MergeOptions& options, const Streams& streams, const Environment& environment) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return end_with(streams, std::array{Error{Error::Kind::internal, catalogue.error(), {}, {}}});
    }
    Conclusion conclusion;
    std::vector<Part> parts;
    for (const std::string& name : options.parts) {
        auto part = load(name, environment);
        if (part) {
            parts.push_back(std::move(part).value());
        } else {
            conclusion.errors.push_back(part.error());
        }
    }
    if (!conclusion.errors.empty()) {
        return end_with(streams, conclusion.errors);
    }
    const auto joint = joined(std::move(parts), options.parts);
    if (!joint) {
        return end_with(streams, std::array{joint.error()});
    }
    report::Report report = *joint;
    report.detail = options.how.detail;
    report.overview = options.how.overview;
    if (!report.complete) {
        conclusion.errors.push_back(
            {Error::Kind::io, "a part of the run could not be completed", {}, "its own log says why"});
    }
    return conclude(report, options.how, *catalogue, streams, environment, std::move(conclusion));
}

} // namespace app
