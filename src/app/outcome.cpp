#include "app/outcome.hpp"

#include "app/packed.hpp"

#include <cstring>
#include <stdexcept>

namespace app {

using nlohmann::json;

namespace {

json pack_all(const std::vector<rules::Finding>& findings) {
    json all = json::array();
    for (const rules::Finding& finding : findings) {
        all.push_back(pack_whole(finding));
    }
    return all;
}

std::vector<rules::Finding> unpack_all(const json& values) {
    std::vector<rules::Finding> findings;
    for (const json& finding : values) {
        findings.push_back(unpack_whole(finding));
    }
    return findings;
}

} // namespace

std::string pack_outcome(const FileOutcome& outcome) {
    json summaries = json::array();
    for (const rules::PuzzleSummary& summary : outcome.summaries) {
        summaries.push_back(pack_whole(summary));
    }
    const std::string marks(reinterpret_cast<const char*>(outcome.marks.data()), // NOLINT: bytes are bytes
                            outcome.marks.size() * sizeof(rules::Mark));
    const std::vector<std::uint8_t> bytes = json::to_msgpack(json::array(
        {outcome.puzzles, marks, pack_all(outcome.findings), pack_all(outcome.allowed), summaries}));
    return {bytes.begin(), bytes.end()};
}

std::optional<FileOutcome> unpack_outcome(std::string_view bytes) {
    try {
        const json all = json::from_msgpack(bytes);
        constexpr std::size_t parts = 5;
        if (!all.is_array() || all.size() != parts) {
            return std::nullopt;
        }
        FileOutcome outcome;
        outcome.puzzles = all[0].get<std::size_t>();
        const auto& marks = all[1].get_ref<const std::string&>();
        outcome.marks.resize(marks.size() / sizeof(rules::Mark));
        std::memcpy(outcome.marks.data(), marks.data(), outcome.marks.size() * sizeof(rules::Mark));
        outcome.findings = unpack_all(all[2]);
        outcome.allowed = unpack_all(all[3]);
        for (const json& summary : all[4]) {
            outcome.summaries.push_back(unpack_whole_summary(summary));
        }
        return outcome;
    } catch (const std::exception&) {
        return std::nullopt; // the file is checked as if nothing were known
    }
}

} // namespace app
