// sidelint diff: what a change did, puzzle by puzzle.

#include "app/commands.hpp"
#include "app/examine.hpp"
#include "app/output.hpp"
#include "report/changes.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <ostream>

namespace app {
namespace {

using history::Change;
using history::Pair;
using history::PuzzleRef;
using report::PuzzleChange;

/// Finds the pair a finding belongs to by the place it stands at.
class Places {
  public:
    explicit Places(std::span<const Pair> pairs) {
        for (std::size_t i = 0; i < pairs.size(); ++i) {
            add(m_before, pairs[i].before, i);
            add(m_after, pairs[i].after, i);
        }
    }
    [[nodiscard]] std::optional<std::size_t> pair_of(const rules::Finding& finding) const {
        const auto& files = finding.status == rules::Status::gone ? m_before : m_after;
        const auto file = files.find(finding.file);
        if (finding.puzzle.empty() || file == files.end()) {
            return std::nullopt;
        }
        const auto behind = file->second.upper_bound(finding.span.begin);
        return behind == file->second.begin() ? std::nullopt : std::optional(std::prev(behind)->second);
    }

  private:
    using Files = std::map<std::string_view, std::map<std::size_t, std::size_t>>; // file, first byte, pair
    static void add(Files& files, const PuzzleRef& puzzle, std::size_t pair) {
        if (puzzle) {
            files[puzzle.document->path][puzzle.puzzle->span.begin] = pair;
        }
    }
    Files m_before;
    Files m_after;
};

/// The solver's diagram, else what the FEN shows.
std::optional<board::Setup> diagram_of(const PuzzleRef& puzzle) {
    if (!puzzle || !puzzle.puzzle->reading.usable) {
        return std::nullopt;
    }
    return puzzle.puzzle->position ? puzzle.puzzle->position->setup() : puzzle.puzzle->reading.setup;
}

PuzzleChange change_of(const Pair& pair) {
    const PuzzleRef& shown = pair.after ? pair.after : pair.before;
    PuzzleChange change;
    change.change = pair.change;
    change.id = shown.puzzle->id.value;
    change.file = shown.document->path;
    change.line = shown.document->place(shown.puzzle->span.begin).line;
    change.diagram_before = diagram_of(pair.before);
    change.diagram = diagram_of(pair.after);
    if (!pair.before || !pair.after) {
        change.summary = history::in_short(*shown.puzzle);
        return change;
    }
    if (pair.before.document->path != change.file) {
        change.file_before = pair.before.document->path;
    }
    if (pair.before.puzzle->id_stated && pair.before.puzzle->id.value != change.id) {
        change.id_before = pair.before.puzzle->id.value;
    }
    change.fields = history::describe(pair);
    if (!change.id_before.empty()) {
        std::erase_if(change.fields, [](const history::FieldChange& field) { return field.field == "id"; });
    }
    return change;
}

void take(PuzzleChange& change, const rules::Finding& finding) {
    switch (finding.status) {
    case rules::Status::fresh:
        change.fresh.push_back(finding);
        break;
    case rules::Status::gone:
        change.gone.push_back(finding);
        break;
    case rules::Status::still:
    case rules::Status::none:
        ++change.still;
        break;
    }
}

std::string name_of_later(const CheckOptions& where) {
    return where.staged ? "the index" : where.commit ? *where.commit : "the worktree";
}

PuzzleChange same() {
    PuzzleChange change;
    change.change = Change::same;
    return change;
}

report::Changes changes_of(const Subject& subject, const report::Report& report, const CheckOptions& where) {
    report::Changes changes;
    changes.version = report.version;
    changes.effort = report.effort;
    changes.before = subject.comparison->name;
    changes.after = name_of_later(where);
    changes.remarks = report.remarks;
    const auto pairs = history::pair_puzzles(subject.comparison->before, subject.documents);
    const Places places(pairs);
    std::vector<PuzzleChange> all;
    for (const Pair& pair : pairs) {
        all.push_back(pair.change == Change::same ? same() : change_of(pair));
        changes.unchanged += pair.change == Change::same ? 1U : 0U;
    }
    for (const rules::Finding& finding : report.findings) {
        const auto pair = places.pair_of(finding);
        if (pair && all[*pair].change != Change::same) {
            take(all[*pair], finding);
        } else if (finding.status != rules::Status::still) {
            changes.elsewhere.push_back(finding);
        }
    }
    std::copy_if(std::make_move_iterator(all.begin()), std::make_move_iterator(all.end()),
                 std::back_inserter(changes.puzzles),
                 [](const PuzzleChange& change) { return change.change != Change::same; });
    return changes;
}

/// What is new, as a report: comments belong beside what a change has brought.
report::Report news_of(const report::Changes& changes) {
    report::Report report;
    report.version = changes.version;
    report.effort = changes.effort;
    report.against_name = changes.before;
    const auto take = [&report](const std::vector<rules::Finding>& findings) {
        std::copy_if(findings.begin(), findings.end(), std::back_inserter(report.findings),
                     [](const rules::Finding& finding) { return finding.status == rules::Status::fresh; });
    };
    for (const PuzzleChange& puzzle : changes.puzzles) {
        take(puzzle.fresh);
    }
    take(changes.elsewhere);
    rules::put_in_order(report.findings);
    return report;
}

std::string written_as(DiffOptions::Kind kind, const report::Changes& changes, const report::Look& look) {
    switch (kind) {
    case DiffOptions::Kind::text:
        return report::changes_text(changes, look);
    case DiffOptions::Kind::json:
        return report::changes_json(changes);
    case DiffOptions::Kind::markdown:
        return report::changes_markdown(changes);
    case DiffOptions::Kind::html:
        return report::changes_html(changes);
    case DiffOptions::Kind::annotations:
        break;
    }
    return report::annotations(news_of(changes));
}

void write(const report::Changes& changes, const DiffOptions& options, const Streams& streams,
           const Environment& environment, Errors& errors) {
    for (const DiffOptions::Output& output : options.outputs) {
        const bool file = !output.file.empty();
        report::Look look;
        if (!file) {
            look.colour = colour_for(options.where.colour, streams, environment);
            look.width = width_for(streams, environment);
        }
        const std::string text = written_as(output.kind, changes, look);
        const std::string path = (std::filesystem::path(environment.folder) / output.file).string();
        for (Error& error : file ? write_file(path, "the report", text) : print(streams, text)) {
            errors.push_back(std::move(error));
        }
    }
}

} // namespace

int run_diff(const DiffOptions& options, const Streams& streams, const Environment& environment) {
    auto loaded = load_and_examine(load_states, options.where, streams, environment);
    if (!loaded) {
        return end_with(streams, loaded.error());
    }
    Examined examined = std::move(loaded).value();
    write(changes_of(examined.subject, examined.report, options.where), options, streams, environment,
          examined.errors);
    return end_with(streams, examined.errors);
}

} // namespace app
