#include "app/remembered.hpp"

#include "app/build_id.hpp"
#include "app/version.hpp"
#include "history/content_id.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace app {
namespace {

using collection::Document;
using collection::Puzzle;
using collection::Span;
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
    for (const auto& [word, motif] : settings.themes) {
        all.add(word).add(motif);
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

json pack(const Span& span, const Puzzle& puzzle) {
    return json::array({span.begin - puzzle.span.begin, span.end - puzzle.span.begin});
}

bool is_within(const Span& span, const Puzzle& puzzle) {
    return puzzle.span.begin <= span.begin && span.begin <= span.end && span.end <= puzzle.span.end;
}

Span unpack_span(const json& value, const Puzzle& puzzle) {
    const Span span{value.at(0).get<std::size_t>() + puzzle.span.begin,
                    value.at(1).get<std::size_t>() + puzzle.span.begin};
    if (!is_within(span, puzzle)) {
        throw std::out_of_range("a place outside the puzzle");
    }
    return span;
}

/// A number that stands for one of an enumeration's values, the last of which is `last`.
template <class Enumeration> Enumeration unpack_one_of(const json& value, Enumeration last) {
    const int number = value.get<int>();
    if (number < 0 || number > static_cast<int>(last)) {
        throw std::out_of_range("no such value");
    }
    return static_cast<Enumeration>(number);
}

template <class T> json pack_optional(const std::optional<T>& value) {
    return value ? json(static_cast<int>(*value)) : json();
}

std::optional<int> unpack_optional(const json& value) {
    return value.is_null() ? std::nullopt : std::optional(value.get<int>());
}

json pack_fix(const rules::Finding& finding, const Puzzle& puzzle) {
    if (!finding.fix) {
        return {};
    }
    json edits = json::array();
    for (const collection::Edit& edit : finding.fix->edits) {
        edits.push_back(json::array({pack(edit.span, puzzle), edit.bytes}));
    }
    return json::array({static_cast<int>(finding.fix->kind), edits});
}

rules::Fix unpack_fix(const json& value, const Puzzle& puzzle) {
    rules::Fix fix;
    fix.kind = unpack_one_of(value.at(0), rules::Fix::Kind::suggested);
    for (const json& edit : value.at(1)) {
        fix.edits.push_back({unpack_span(edit.at(0), puzzle), edit.at(1).get<std::string>()});
    }
    return fix;
}

json pack(const rules::Finding& finding, const Puzzle& puzzle) {
    json squares = json::array();
    for (const board::Square square : finding.squares) {
        squares.push_back(board::index(square));
    }
    return json::array({finding.rule, finding.message_id, static_cast<int>(finding.severity),
                        pack_optional(finding.certainty), finding.message, finding.subject, finding.cure,
                        finding.puzzle, pack(finding.span, puzzle), finding.fen, squares, finding.line,
                        finding.play, finding.printed, finding.fingerprint, pack_fix(finding, puzzle)});
}

rules::Finding unpack_finding(const json& value, const Document& document, const Puzzle& puzzle) {
    constexpr std::size_t parts = 16;
    if (!value.is_array() || value.size() != parts) {
        throw std::out_of_range("no finding");
    }
    std::size_t at = 0;
    const auto next = [&]() -> const json& { return value[at++]; };
    const auto text = [&] { return next().get<std::string>(); };
    rules::Finding finding;
    finding.rule = text();
    finding.message_id = text();
    finding.severity = unpack_one_of(next(), rules::Severity::error);
    if (const json& certainty = next(); !certainty.is_null()) {
        finding.certainty = unpack_one_of(certainty, solve::Certainty::open);
    }
    finding.message = text();
    finding.subject = text();
    finding.cure = text();
    finding.puzzle = text();
    rules::place(finding, document, unpack_span(next(), puzzle));
    finding.fen = text();
    for (const json& square : next()) {
        finding.squares.push_back(unpack_one_of(square, board::Square::h8));
    }
    finding.line = next().get<std::vector<std::string>>();
    finding.play = text();
    finding.printed = next().get<std::size_t>();
    finding.fingerprint = text();
    if (const json& fix = next(); !fix.is_null()) {
        finding.fix = unpack_fix(fix, puzzle);
    }
    if (finding.printed > finding.line.size()) {
        throw std::out_of_range("more printed moves than moves");
    }
    return finding;
}

json pack(const rules::PuzzleSummary& summary) {
    json motifs = json::array();
    for (const rules::PuzzleSummary::Motif& motif : summary.motifs) {
        motifs.push_back(json::array({motif.motif, motif.ply, motif.declared}));
    }
    json key;
    if (summary.key) {
        key = json::array({summary.key->san, summary.key->verdict, static_cast<int>(summary.key->certainty),
                           pack_optional(summary.key->score), pack_optional(summary.key->mate_in)});
    }
    return json::array({summary.fen, summary.goal, summary.goal_stated, std::string(summary.goal_from),
                        summary.moves, key, motifs, summary.nodes});
}

rules::PuzzleSummary unpack_summary(const json& value, const Document& document, const Puzzle& puzzle) {
    rules::PuzzleSummary summary;
    summary.id = puzzle.id.value;
    summary.file = document.path;
    summary.line = document.place(puzzle.span.begin).line;
    summary.fen = value.at(0).get<std::string>();
    summary.goal = value.at(1).get<std::string>();
    summary.goal_stated = value.at(2).get<bool>();
    for (const std::string_view known : {"field", "caption", "line"}) {
        summary.goal_from = value.at(3) == known ? known : summary.goal_from;
    }
    summary.moves = value.at(4).get<std::size_t>();
    if (const json& key = value.at(5); !key.is_null()) {
        summary.key = rules::PuzzleSummary::Key{key.at(0).get<std::string>(), key.at(1).get<std::string>(),
                                                unpack_one_of(key.at(2), solve::Certainty::open),
                                                unpack_optional(key.at(3)), unpack_optional(key.at(4))};
    }
    for (const json& motif : value.at(6)) {
        summary.motifs.push_back(
            {motif.at(0).get<std::string>(), motif.at(1).get<std::size_t>(), motif.at(2).get<bool>()});
    }
    summary.nodes = value.at(7).get<solve::Nodes>();
    return summary;
}

/// Nothing when one of them cannot be kept.
std::optional<json> pack_all(const std::vector<rules::Finding>& findings, const Puzzle& puzzle) {
    json all = json::array();
    for (const rules::Finding& finding : findings) {
        const bool mended_within =
            !finding.fix ||
            std::all_of(finding.fix->edits.begin(), finding.fix->edits.end(),
                        [&](const collection::Edit& edit) { return is_within(edit.span, puzzle); });
        if (!is_within(finding.span, puzzle) || !mended_within) {
            return std::nullopt;
        }
        all.push_back(pack(finding, puzzle));
    }
    return all;
}

} // namespace

std::string context_of(const Document& document, const rules::Policy& policy, const rules::Settings& settings,
                       rules::Summarise summarise) {
    Joined all;
    all.add(version).add(build_id()).add(summarise == rules::Summarise::yes ? 1 : 0);
    all.add(static_cast<int>(document.format));
    add_settings(all, settings);
    add_mappings(all, policy.read);
    all.add(document.path); // mappings are chosen by it, and puzzles without an id are called by it
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
            checked.findings.push_back(unpack_finding(finding, document, puzzle));
        }
        for (const json& finding : all.at(1)) {
            checked.allowed.push_back(unpack_finding(finding, document, puzzle));
        }
        if (!all.at(2).is_null()) {
            checked.summary = unpack_summary(all.at(2), document, puzzle);
        }
        return checked;
    } catch (const std::exception&) {
        return std::nullopt; // the puzzle is checked as if nothing were known
    }
}

} // namespace app
