// A job's summary in GitHub Flavored Markdown: counts first, then what is new, the rest folded away. A
// summary over the limit would be dropped as a whole, so rows are left out and counted.

#include "report/escapers.hpp"
#include "report/head.hpp"
#include "report/overview.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <vector>

namespace report {
namespace {

using Summary = Written<Markdown>;

constexpr std::size_t reserve = 1024; // for what closes a section and tells of rows left out

Summary code(std::string_view text) {
    Summary page;
    page << "<code>" << Untrusted(text) << "</code>";
    return page;
}

Summary row_of(const rules::Finding& finding) {
    Summary row;
    row << "| " << Untrusted(rules::name(finding.severity)) << " | "
        << code(fmt::format("{}:{}:{}", finding.file, finding.begin.line, finding.begin.column)) << " | ";
    if (!finding.puzzle.empty()) {
        row << code(finding.puzzle);
    }
    row << " | " << code(finding.rule) << " | " << Untrusted(finding.message);
    if (finding.certainty) {
        row << " (" << Untrusted(solve::name(*finding.certainty)) << ")";
    }
    if (!finding.play.empty()) {
        row << "<br>" << code(finding.play);
    }
    row << " |\n";
    return row;
}

/// Rows as long as they fit, errors before the rest; counts the others.
class Tables {
  public:
    explicit Tables(std::size_t most) : m_most(most) {}

    void add(Summary& page, const Report& report, rules::Status status) {
        std::vector<std::size_t> asked;
        for (std::size_t i = 0; i < report.findings.size(); ++i) {
            if (report.findings[i].status == status) {
                asked.push_back(i);
            }
        }
        if (m_left_out > 0) { // nor will any row of this one find room
            m_left_out += asked.size();
            page << "Left out.\n\n";
            return;
        }
        std::stable_sort(asked.begin(), asked.end(), [&](std::size_t a, std::size_t b) {
            return report.findings[a].severity > report.findings[b].severity;
        });
        page << "| | place | puzzle | rule | finding |\n| --- | --- | --- | --- | --- |\n";
        std::map<std::size_t, Summary> rows; // by place
        for (std::size_t size = page.size(); rows.size() < asked.size();) {
            const std::size_t i = asked[rows.size()];
            Summary row = row_of(report.findings[i]);
            size += row.size();
            if (size + reserve > m_most) {
                break;
            }
            rows.emplace(i, std::move(row));
        }
        for (const auto& [i, row] : rows) {
            page << row;
        }
        m_left_out = asked.size() - rows.size();
        page << "\n";
    }
    [[nodiscard]] std::size_t left_out() const { return m_left_out; }

  private:
    std::size_t m_most;
    std::size_t m_left_out = 0;
};

void add_folded(Summary& page, Tables& tables, const Report& report, Literal title, rules::Status status,
                std::size_t count) {
    if (count > 0) {
        page << "<details><summary>" << title << ": " << count << "</summary>\n\n";
        tables.add(page, report, status);
        page << "</details>\n\n";
    }
}

/// Small tables that tell much: each has room of its own, whatever the findings take.
Summary overview_page(const Report& report, std::size_t most_a_table, std::size_t& left_out) {
    Summary page;
    page << "<details><summary>Overview of " << Untrusted(plural(report.summaries.size(), "puzzle"))
         << "</summary>\n\n";
    for (const CountTable& table : overview_of(report)) {
        if (table.rows.empty()) {
            continue;
        }
        page << "| " << Untrusted(table.by) << " | puzzles |\n| --- | ---: |\n";
        const std::size_t end = page.size() + most_a_table;
        std::size_t told = 0;
        for (; told < table.rows.size() && page.size() < end; ++told) {
            page << "| " << Untrusted(table.rows[told].name) << " | " << table.rows[told].puzzles << " |\n";
        }
        left_out += table.rows.size() - told;
        page << "\n";
    }
    page << "</details>\n\n";
    return page;
}

void add_counts(Summary& page, const Report& report, const Counts& counts) {
    page << "## sidelint: " << Untrusted(plural(counts.error, "error")) << ", "
         << Untrusted(plural(counts.warning, "warning")) << ", " << Untrusted(plural(counts.note, "note"))
         << "\n\n"
         << Untrusted(plural(report.puzzles, "puzzle")) << " checked in "
         << Untrusted(plural(report.files, "file")) << " (" << Untrusted(report.effort) << " effort).";
    if (!report.against_name.empty()) {
        page << " Against " << code(report.against_name) << ": " << counts.fresh << " new, " << counts.still
             << " still there, " << counts.gone << " gone; " << Untrusted(plural(report.unchanged, "puzzle"))
             << " unchanged.";
    }
    if (report.allowed > 0) {
        page << " Silenced by allowances: " << Untrusted(plural(report.allowed, "finding")) << ".";
    }
    page << "\n\n";
}

void add_remarks(Summary& page, const Report& report, std::size_t most) {
    std::size_t told = 0;
    for (const std::string& remark : report.remarks) {
        Summary line;
        line << "- " << Untrusted(remark) << "\n";
        if (page.size() + line.size() + reserve / 2 > most) {
            break;
        }
        page << line;
        ++told;
    }
    if (const std::size_t left = report.remarks.size() - told; left > 0) {
        page << "- and " << Untrusted(plural(left, "more remark")) << ": see the log\n";
    }
    page << (report.remarks.empty() ? Literal("") : Literal("\n"));
}

} // namespace

std::string markdown(const Report& report, std::size_t most) {
    const Counts counts = count(report);
    Summary page;
    add_counts(page, report, counts);
    std::size_t left_out = 0;
    const Summary overview = report.overview ? overview_page(report, most / 16, left_out) : Summary();
    Tables tables(most - std::min(most, overview.size()));
    if (counts.fresh > 0) {
        page << "### New: " << counts.fresh << "\n\n";
        tables.add(page, report, rules::Status::fresh);
    }
    const std::size_t uncompared = report.findings.size() - counts.fresh - counts.still - counts.gone;
    if (uncompared > 0) {
        page << "### Findings: " << uncompared << "\n\n";
        tables.add(page, report, rules::Status::none);
    }
    add_folded(page, tables, report, "Still there", rules::Status::still, counts.still);
    add_folded(page, tables, report, "Gone", rules::Status::gone, counts.gone);
    page << overview;
    if (left_out += tables.left_out(); left_out > 0) {
        page << "**" << Untrusted(plural(left_out, "row"))
             << " left out**, for a summary may not be longer: json and html hold them all.\n\n";
    }
    add_remarks(page, report, most);
    return std::move(page).text();
}

} // namespace report
