#include "app/remembered.hpp"

#include "app/build_id.hpp"
#include "app/packed.hpp"
#include "app/version.hpp"
#include "history/content_id.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace app {
namespace {

using collection::Document;
using collection::Puzzle;
using nlohmann::json;

/// Texts put together so that no two lists give the same bytes.
class Joined {
  public:
    Joined& add(std::string_view text) {
        m_text += fmt::format("{}:", text.size());
        m_text += text;
        return *this;
    }
    Joined& add(int number) { return add(std::to_string(number)); }
    [[nodiscard]] const std::string& text() const { return m_text; }

  private:
    std::string m_text;
};

void add_settings(Joined& all, const rules::Settings& settings) {
    all.add(solve::name(settings.effort)).add(settings.win_at).add(settings.near);
    all.add(static_cast<int>(settings.uniqueness)).add(rules::name(settings.lines));
    all.add(settings.endgames != nullptr ? "tables" : "");
    for (const auto& [rule, level] : settings.levels) {
        all.add(rule).add(rules::name(level));
    }
    all.add("options");
    for (const auto& [rule, options] : settings.options) {
        all.add(rule);
        for (const auto& [option, value] : options) {
            all.add(option).add(value);
        }
    }
    all.add("themes");
    for (const auto& [word, motifs] : settings.themes) {
        all.add(word).add(static_cast<int>(motifs.size()));
        for (const std::string& motif : motifs) {
            all.add(motif);
        }
    }
    all.add("wide");
    for (const std::string& motif : settings.wide) {
        all.add(motif);
    }
}

void add_mappings(Joined& all, const collection::ReadOptions& read) {
    for (const collection::TableMapping& table : read.tables) {
        for (const std::string* name :
             {&table.files, &table.id, &table.fen, &table.solution, &table.goal, &table.themes, &table.accept,
              &table.to_move, &table.allow, &table.theme_separator}) {
            all.add(*name);
        }
        all.add(static_cast<int>(table.moves))
            .add(static_cast<int>(table.first_move))
            .add(table.key_only ? 1 : 0);
    }
    all.add("tags");
    for (const collection::TagMapping& tags : read.tags) {
        for (const std::string* name :
             {&tags.files, &tags.id, &tags.key, &tags.goal, &tags.themes, &tags.key_prefix}) {
            all.add(*name);
        }
    }
}

Joined joined(std::string_view path, const rules::Policy& policy, const rules::Settings& settings,
              rules::Summarise summarise) {
    Joined all;
    all.add(version).add(build_id()).add(summarise == rules::Summarise::yes ? 1 : 0);
    add_settings(all, settings);
    add_mappings(all, policy.read);
    all.add(path); // mappings are chosen by it, and puzzles without an id are called by it
    return all;
}

Frame frame_of(const Puzzle& puzzle) {
    return {puzzle.span.begin, puzzle.span.end};
}

/// Nothing when one of them cannot be kept.
std::optional<json> pack_all(const std::vector<rules::Finding>& findings, const Puzzle& puzzle) {
    json all = json::array();
    for (const rules::Finding& finding : findings) {
        if (!fits(finding, frame_of(puzzle))) {
            return std::nullopt;
        }
        all.push_back(pack(finding, frame_of(puzzle)));
    }
    return all;
}

rules::Finding placed_finding(const json& value, const Document& document, const Puzzle& puzzle) {
    rules::Finding finding = unpack_finding(value, frame_of(puzzle));
    rules::place(finding, document, finding.span);
    return finding;
}

rules::PuzzleSummary placed_summary(const json& value, const Document& document, const Puzzle& puzzle) {
    rules::PuzzleSummary summary = unpack_summary(value);
    summary.id = puzzle.id.value;
    summary.file = document.path;
    summary.line = document.place(puzzle.span.begin).line;
    return summary;
}

} // namespace

std::string context_of(const Document& document, const rules::Policy& policy, const rules::Settings& settings,
                       rules::Summarise summarise) {
    Joined all = joined(document.path, policy, settings, summarise);
    all.add(static_cast<int>(document.format));
    std::size_t at = 0;
    for (const Puzzle& puzzle : document.puzzles) {
        const std::size_t begin = std::max(at, std::min(puzzle.span.begin, document.bytes.size()));
        all.add(std::string_view(document.bytes).substr(at, begin - at));
        at = std::max(at, std::min(puzzle.span.end, document.bytes.size()));
    }
    all.add(std::string_view(document.bytes).substr(at));
    return history::content_id(all.text());
}

std::string key_of(const Document& document, const Puzzle& puzzle, std::string_view context) {
    Joined all;
    all.add(context).add(puzzle.id.value);
    all.add(std::string_view(document.bytes).substr(puzzle.span.begin, puzzle.span.end - puzzle.span.begin));
    return history::content_id(all.text());
}

std::string key_of_file(std::string_view path, std::string_view bytes, const rules::Policy& policy,
                        const rules::Settings& settings, rules::Summarise summarise) {
    Joined all = joined(path, policy, settings, summarise);
    all.add("file").add(history::content_id(bytes));
    return history::content_id(all.text());
}

std::string context_of_marks(const rules::Policy& policy) {
    Joined all;
    all.add(version).add(build_id());
    add_mappings(all, policy.read);
    for (const auto* globs : {&policy.include, &policy.exclude}) {
        all.add("files");
        for (const std::string& glob : *globs) {
            all.add(glob);
        }
    }
    return history::content_id(all.text());
}

std::string key_of_folder(std::string_view context, std::string_view path) {
    Joined all;
    all.add("folder").add(context).add(path);
    return history::content_id(all.text());
}

std::optional<std::string> packed(const rules::Checked& checked, const Puzzle& puzzle) {
    const auto findings = pack_all(checked.findings, puzzle);
    const auto allowed = pack_all(checked.allowed, puzzle);
    if (!findings || !allowed || !checked.broken.empty()) {
        return std::nullopt;
    }
    const json all =
        json::array({*findings, *allowed, checked.summary ? pack(*checked.summary) : json(nullptr)});
    const std::vector<std::uint8_t> bytes = json::to_msgpack(all);
    return std::string(bytes.begin(), bytes.end());
}

std::optional<rules::Checked> unpacked(std::string_view bytes, const Document& document,
                                       const Puzzle& puzzle) {
    try {
        const json all = json::from_msgpack(bytes);
        rules::Checked checked;
        for (const json& finding : all.at(0)) {
            checked.findings.push_back(placed_finding(finding, document, puzzle));
        }
        for (const json& finding : all.at(1)) {
            checked.allowed.push_back(placed_finding(finding, document, puzzle));
        }
        if (!all.at(2).is_null()) {
            checked.summary = placed_summary(all.at(2), document, puzzle);
        }
        return checked;
    } catch (const std::exception&) {
        return std::nullopt; // the puzzle is checked as if nothing were known
    }
}

} // namespace app
