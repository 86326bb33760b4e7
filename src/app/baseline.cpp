#include "app/baseline.hpp"

#include "app/version.hpp"
#include "rules/check.hpp"
#include "rules/identity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

namespace app {
namespace {

using report::BaselineEntry;
using rules::Finding;

/// Which puzzles and files were looked at, and how.
class Looked {
  public:
    Looked(const Subject& subject, const rules::Catalogue& catalogue, const report::Report& report);

    /// The identity of what a finding is about.
    [[nodiscard]] std::string identity(const Finding& finding) const;
    /// The entry's rule ran, with no less effort, on its puzzle or on all there is, and left nothing open.
    [[nodiscard]] bool at(const BaselineEntry& entry) const;

  private:
    [[nodiscard]] bool rule_ran(const BaselineEntry& entry, const std::string& file) const;

    const Subject& m_subject;
    const rules::Catalogue& m_catalogue;
    std::map<std::string_view, const collection::Document*> m_documents;
    std::map<std::string, std::string> m_files; ///< identity to file
    std::set<std::string> m_open;               ///< identities of puzzles that key/open speaks of
};

Looked::Looked(const Subject& subject, const rules::Catalogue& catalogue, const report::Report& report)
    : m_subject(subject), m_catalogue(catalogue) {
    for (const collection::Document& document : subject.documents) {
        m_documents[document.path] = &document;
        if (subject.shard.is_first()) {
            m_files[document.path] = document.path;
        }
        for (const collection::Puzzle& puzzle : document.puzzles) {
            if (subject.shard.holds(document, puzzle)) {
                m_files[rules::identity_of(document, puzzle)] = document.path;
            }
        }
    }
    for (const Finding& finding : report.findings) {
        if (finding.rule == "key/open") {
            m_open.insert(identity(finding));
        }
    }
}

std::string Looked::identity(const Finding& finding) const {
    const auto document = m_documents.find(finding.file);
    if (finding.puzzle.empty() || document == m_documents.end()) {
        return finding.puzzle.empty() ? finding.file : finding.puzzle;
    }
    const auto& puzzles = document->second->puzzles;
    const auto behind = std::upper_bound(
        puzzles.begin(), puzzles.end(), finding.span.begin,
        [](std::size_t at, const collection::Puzzle& puzzle) { return at < puzzle.span.begin; });
    return behind == puzzles.begin() ? finding.puzzle
                                     : rules::identity_of(*document->second, *std::prev(behind));
}

bool Looked::rule_ran(const BaselineEntry& entry, const std::string& file) const {
    const rules::RuleEntry* const rule = m_catalogue.rule(entry.rule);
    const rules::Settings settings = m_subject.policy.for_file(file);
    const auto effort = solve::read_effort(entry.effort);
    return rule != nullptr && rules::level_of(*rule, settings).first != rules::Severity::off && effort &&
           settings.effort >= *effort;
}

bool Looked::at(const BaselineEntry& entry) const {
    if (m_subject.comparison) {
        return false; // only what differs was checked
    }
    const auto file = m_files.find(entry.puzzle);
    if (file == m_files.end()) {
        return m_subject.everything && m_subject.shard.of == 1; // the puzzle is gone
    }
    return rule_ran(entry, file->second) && !m_open.contains(entry.puzzle);
}

/// 0.9.0 comes before 0.10.0.
bool is_older(std::string_view a, std::string_view b) {
    const auto numbers = [](std::string_view text) {
        std::vector<std::size_t> parts(1, 0);
        for (const char c : text) {
            if (c == '.') {
                parts.push_back(0);
            } else if (c >= '0' && c <= '9') {
                parts.back() = parts.back() * 10 + static_cast<std::size_t>(c - '0');
            }
        }
        return parts;
    };
    return numbers(a) < numbers(b);
}

} // namespace

Result<std::vector<BaselineEntry>> load_baseline(const std::string& file, const Environment& environment) {
    const std::string path = (std::filesystem::path(environment.folder) / file).string();
    std::ifstream stream(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(stream), {}};
    if (!stream.is_open() || stream.bad()) {
        return board::failure(Error{Error::Kind::config, "cannot read this baseline", file,
                                    "sidelint baseline accept FILE --reason TEXT writes one"});
    }
    return report::read_baseline(bytes, file);
}

std::vector<BaselineEntry> entries_of(const report::Report& report, const Subject& subject,
                                      const std::string& reason) {
    const rules::Catalogue none;
    const Looked looked(subject, none, report);
    std::vector<BaselineEntry> entries;
    for (const Finding& finding : report.findings) {
        if (finding.status != rules::Status::gone) {
            entries.push_back({finding.fingerprint, looked.identity(finding), finding.rule,
                               finding.message_id + (finding.subject.empty() ? "" : ": " + finding.subject),
                               std::string(version),
                               std::string(solve::name(subject.policy.for_file(finding.file).effort)), reason,
                               0});
        }
    }
    return entries;
}

Answered accept(report::Report& report, const Subject& subject, const rules::Catalogue& catalogue,
                const std::vector<BaselineEntry>& entries) {
    const Looked looked(subject, catalogue, report);
    std::map<std::string, std::size_t> found;
    std::map<std::string, std::size_t> accepted; ///< still to be taken out
    for (const Finding& finding : report.findings) {
        found[finding.fingerprint] += finding.status == rules::Status::gone ? 0U : 1U;
    }
    Answered answered;
    for (const BaselineEntry& entry : entries) {
        std::size_t& left = found[entry.fingerprint];
        const bool answers = left > 0;
        if (answers) {
            --left;
            ++accepted[entry.fingerprint];
        }
        (answers || !looked.at(entry) ? answered.kept : answered.stale).push_back(entry);
    }
    report.accepted = std::erase_if(report.findings, [&](const Finding& finding) {
        const auto taken = accepted.find(finding.fingerprint);
        const bool out =
            finding.status != rules::Status::gone && taken != accepted.end() && taken->second > 0;
        if (out) {
            --taken->second;
        }
        return out;
    });
    return answered;
}

std::vector<std::string> remarks_on(const Answered& answered, const report::Report& report,
                                    const std::string& file) {
    std::vector<std::string> remarks;
    for (const BaselineEntry& entry : answered.stale) {
        remarks.push_back(
            fmt::format("{}:{}: {} no longer says this of {}: sidelint baseline prune drops the entry", file,
                        entry.line, entry.rule, entry.puzzle));
    }
    const auto weaker =
        std::find_if(answered.kept.begin(), answered.kept.end(), [&](const BaselineEntry& entry) {
            const auto effort = solve::read_effort(entry.effort);
            const auto now = solve::read_effort(report.effort);
            return is_older(entry.version, version) || (effort && now && *effort < *now);
        });
    if (weaker != answered.kept.end() && !report.findings.empty()) {
        remarks.push_back(fmt::format("{} holds findings of version {} at {} effort, this run is {} at {}: "
                                      "what it finds beyond them may be "
                                      "newly provable, not newly wrong",
                                      file, weaker->version, weaker->effort, version, report.effort));
    }
    return remarks;
}

} // namespace app
