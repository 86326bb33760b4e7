#include "app/part.hpp"

#include "app/build_id.hpp"
#include "app/packed.hpp"
#include "app/remembered.hpp"
#include "history/content_id.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <tuple>

namespace app {
namespace {

using nlohmann::json;

constexpr int part_format = 2;
constexpr unsigned most_parts = 4096;

std::string hex(std::string_view bytes) {
    std::string text;
    for (const char byte : bytes) {
        text += fmt::format("{:02x}", static_cast<unsigned char>(byte));
    }
    return text;
}

json pack(const report::Report& report) {
    json findings = json::array();
    for (const rules::Finding& finding : report.findings) {
        findings.push_back(pack_whole(finding));
    }
    json summaries = json::array();
    for (const rules::PuzzleSummary& summary : report.summaries) {
        summaries.push_back(pack_whole(summary));
    }
    return {{"version", report.version},
            {"effort", report.effort},
            {"against", report.against ? json(*report.against) : json()},
            {"against_name", report.against_name},
            {"files", report.files},
            {"puzzles", report.puzzles},
            {"unchanged", report.unchanged},
            {"allowed", report.allowed},
            {"accepted", report.accepted},
            {"complete", report.complete},
            {"remarks", report.remarks},
            {"findings", findings},
            {"summaries", summaries}};
}

report::Report unpack_report(const json& value) {
    report::Report report;
    report.version = value.at("version").get<std::string>();
    report.effort = value.at("effort").get<std::string>();
    if (const json& against = value.at("against"); !against.is_null()) {
        report.against = against.get<std::string>();
    }
    report.against_name = value.at("against_name").get<std::string>();
    report.files = value.at("files").get<std::size_t>();
    report.puzzles = value.at("puzzles").get<std::size_t>();
    report.unchanged = value.at("unchanged").get<std::size_t>();
    report.allowed = value.at("allowed").get<std::size_t>();
    report.accepted = value.at("accepted").get<std::size_t>();
    report.complete = value.at("complete").get<bool>();
    report.remarks = value.at("remarks").get<std::vector<std::string>>();
    for (const json& finding : value.at("findings")) {
        report.findings.push_back(unpack_whole(finding));
    }
    for (const json& summary : value.at("summaries")) {
        report.summaries.push_back(unpack_whole_summary(summary));
    }
    return report;
}

void add(std::string& all, const std::vector<collection::Document>& documents, const rules::Policy& policy) {
    for (const collection::Document& document : documents) {
        all += context_of(document, policy, policy.for_file(document.path), rules::Summarise::no);
        all += history::content_id(document.bytes);
    }
}

Error cannot_join(std::string message, std::string cure) {
    return {Error::Kind::io, std::move(message), {}, std::move(cure)};
}

} // namespace

std::string made_of(const Subject& subject) {
    std::string all = build_id();
    add(all, subject.documents, subject.policy);
    all += subject.comparison ? subject.comparison->name : "";
    if (subject.comparison) {
        add(all, subject.comparison->before, subject.policy);
        add(all, subject.comparison->the_same, subject.policy);
    }
    return hex(history::content_id(all));
}

std::string write_part(const Part& part) {
    const json root = {{"part of a sidelint report", part_format},
                       {"shard", json::array({part.shard.number, part.shard.of})},
                       {"made", part.made},
                       {"report", pack(part.report)}};
    const std::vector<std::uint8_t> bytes = json::to_msgpack(root);
    return {bytes.begin(), bytes.end()};
}

Result<Part> read_part(const std::string& text, const std::string& name) {
    try {
        const json root = json::from_msgpack(text);
        Part part;
        part.shard = {root.at("shard").at(0).get<unsigned>(), root.at("shard").at(1).get<unsigned>()};
        part.made = root.at("made").get<std::string>();
        if (root.at("part of a sidelint report") == part_format && part.shard.number >= 1 &&
            part.shard.number <= part.shard.of && part.shard.of <= most_parts) {
            part.report = unpack_report(root.at("report"));
            return part;
        }
    } catch (const std::exception&) { // told below
    }
    return board::failure(io_error(name, "this is no part of a report",
                                   "sidelint check --shard 1/4 --format part=FILE writes one"));
}

Result<report::Report> joined(std::vector<Part> parts, std::span<const std::string> names) {
    const unsigned of = parts.front().shard.of;
    std::vector<std::string> there(of);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (parts[i].made != parts.front().made || parts[i].shard.of != of) {
            return board::failure(
                cannot_join(fmt::format("{} and {} are not parts of one run", names.front(), names[i]),
                            "every part needs the same program, configuration, effort, files and revision, "
                            "and the same N of K/N"));
        }
        std::string& place = there[parts[i].shard.number - 1];
        if (!place.empty()) {
            return board::failure(cannot_join(
                fmt::format("{} and {} are both part {} of {}", place, names[i], parts[i].shard.number, of),
                "name each part once"));
        }
        place = names[i];
    }
    for (unsigned i = 0; i < of; ++i) {
        if (there[i].empty()) {
            return board::failure(
                cannot_join(fmt::format("part {} of {} is missing", i + 1, of),
                            fmt::format("sidelint check --shard {}/{} --format part=FILE", i + 1, of)));
        }
    }
    std::sort(parts.begin(), parts.end(),
              [](const Part& a, const Part& b) { return a.shard.number < b.shard.number; });
    report::Report report = std::move(parts.front().report);
    for (std::size_t i = 1; i < parts.size(); ++i) {
        report::Report& more = parts[i].report;
        std::move(more.findings.begin(), more.findings.end(), std::back_inserter(report.findings));
        std::move(more.summaries.begin(), more.summaries.end(), std::back_inserter(report.summaries));
        report.puzzles += more.puzzles;
        report.unchanged += more.unchanged;
        report.allowed += more.allowed;
        report.accepted += more.accepted;
        for (std::string& remark : more.remarks) {
            if (std::find(report.remarks.begin(), report.remarks.end(), remark) == report.remarks.end()) {
                report.remarks.push_back(std::move(remark));
            }
        }
        report.complete = report.complete && more.complete;
    }
    rules::put_in_order(report.findings);
    std::stable_sort(report.summaries.begin(), report.summaries.end(), [](const auto& a, const auto& b) {
        return std::tie(a.file, a.line) < std::tie(b.file, b.line);
    });
    return report;
}

} // namespace app
