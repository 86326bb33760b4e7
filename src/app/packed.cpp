#include "app/packed.hpp"

#include <algorithm>
#include <stdexcept>

namespace app {
namespace {

using collection::Span;
using nlohmann::json;

json pack(const Span& span, const Frame& frame) {
    return json::array({span.begin - frame.begin, span.end - frame.begin});
}

bool is_within(const Span& span, const Frame& frame) {
    return frame.begin <= span.begin && span.begin <= span.end && span.end <= frame.end;
}

Span unpack_span(const json& value, const Frame& frame) {
    const Span span{value.at(0).get<std::size_t>() + frame.begin,
                    value.at(1).get<std::size_t>() + frame.begin};
    if (!is_within(span, frame)) {
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

json pack_squares(const std::vector<board::Square>& squares) {
    json packed = json::array();
    for (const board::Square square : squares) {
        packed.push_back(board::index(square));
    }
    return packed;
}

std::vector<board::Square> unpack_squares(const json& value) {
    std::vector<board::Square> squares;
    for (const json& square : value) {
        squares.push_back(unpack_one_of(square, board::Square::h8));
    }
    return squares;
}

json pack_fix(const rules::Finding& finding, const Frame& frame) {
    if (!finding.fix) {
        return {};
    }
    json edits = json::array();
    for (const collection::Edit& edit : finding.fix->edits) {
        edits.push_back(json::array({pack(edit.span, frame), edit.bytes}));
    }
    return json::array({static_cast<int>(finding.fix->kind), edits});
}

rules::Fix unpack_fix(const json& value, const Frame& frame) {
    rules::Fix fix;
    fix.kind = unpack_one_of(value.at(0), rules::Fix::Kind::suggested);
    for (const json& edit : value.at(1)) {
        fix.edits.push_back({unpack_span(edit.at(0), frame), edit.at(1).get<std::string>()});
    }
    return fix;
}

json pack_place(collection::Place place) {
    return json::array({place.line, place.column});
}

collection::Place unpack_place(const json& value) {
    return {value.at(0).get<std::size_t>(), value.at(1).get<std::size_t>()};
}

rules::Status status_of(const std::string& name) {
    for (const auto status : {rules::Status::fresh, rules::Status::still, rules::Status::gone}) {
        if (rules::name(status) == name) {
            return status;
        }
    }
    return rules::Status::none;
}

} // namespace

bool fits(const rules::Finding& finding, const Frame& frame) {
    return is_within(finding.span, frame) &&
           (!finding.fix ||
            std::all_of(finding.fix->edits.begin(), finding.fix->edits.end(),
                        [&](const collection::Edit& edit) { return is_within(edit.span, frame); }));
}

json pack(const rules::Finding& finding, const Frame& frame) {
    return json::array({finding.rule, finding.message_id, static_cast<int>(finding.severity),
                        pack_optional(finding.certainty), finding.message, finding.subject, finding.cure,
                        finding.puzzle, pack(finding.span, frame), finding.fen, pack_squares(finding.squares),
                        finding.line, finding.play, finding.printed, finding.fingerprint,
                        pack_fix(finding, frame)});
}

rules::Finding unpack_finding(const json& value, const Frame& frame) {
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
    finding.span = unpack_span(next(), frame);
    finding.fen = text();
    finding.squares = unpack_squares(next());
    finding.line = next().get<std::vector<std::string>>();
    finding.play = text();
    finding.printed = next().get<std::size_t>();
    finding.fingerprint = text();
    if (const json& fix = next(); !fix.is_null()) {
        finding.fix = unpack_fix(fix, frame);
    }
    if (finding.printed > finding.line.size()) {
        throw std::out_of_range("more printed moves than moves");
    }
    return finding;
}

json pack(const rules::PuzzleSummary& summary) {
    json motifs = json::array();
    for (const rules::PuzzleSummary::Motif& motif : summary.motifs) {
        motifs.push_back(
            json::array({motif.motif, motif.ply, motif.declared, static_cast<int>(motif.strength),
                         static_cast<int>(motif.certainty), pack_squares(motif.squares), motif.why}));
    }
    json key;
    if (summary.key) {
        key = json::array({summary.key->san, summary.key->verdict, static_cast<int>(summary.key->certainty),
                           pack_optional(summary.key->score), pack_optional(summary.key->mate_in),
                           summary.key->mate_at_most});
    }
    return json::array({summary.fen, summary.goal, summary.goal_stated, std::string(summary.goal_from),
                        summary.moves, key, motifs, summary.nodes});
}

rules::PuzzleSummary unpack_summary(const json& value) {
    rules::PuzzleSummary summary;
    summary.fen = value.at(0).get<std::string>();
    summary.goal = value.at(1).get<std::string>();
    summary.goal_stated = value.at(2).get<bool>();
    for (const std::string_view known : {"field", "caption", "line"}) {
        summary.goal_from = value.at(3) == known ? known : summary.goal_from;
    }
    summary.moves = value.at(4).get<std::size_t>();
    if (const json& key = value.at(5); !key.is_null()) {
        summary.key = rules::PuzzleSummary::Key{key.at(0).get<std::string>(),
                                                key.at(1).get<std::string>(),
                                                unpack_one_of(key.at(2), solve::Certainty::open),
                                                unpack_optional(key.at(3)),
                                                unpack_optional(key.at(4)),
                                                key.at(5).get<bool>()};
    }
    for (const json& shown : value.at(6)) {
        summary.motifs.push_back({shown.at(0).get<std::string>(), shown.at(1).get<std::size_t>(),
                                  shown.at(2).get<bool>(), unpack_one_of(shown.at(3), motif::Strength::main),
                                  unpack_one_of(shown.at(4), solve::Certainty::open),
                                  unpack_squares(shown.at(5)), shown.at(6).get<std::string>()});
    }
    summary.nodes = value.at(7).get<solve::Nodes>();
    return summary;
}

json pack_whole(const rules::Finding& finding) {
    json places = json::array();
    for (const rules::Fix::Stretch& place : finding.fix.value_or(rules::Fix()).places) {
        places.push_back(json::array({pack_place(place.begin), pack_place(place.end)}));
    }
    return json::array({pack(finding, Frame{}), finding.file, pack_place(finding.begin),
                        pack_place(finding.end), finding.excerpt, finding.excerpt_column,
                        std::string(rules::name(finding.status)), places});
}

rules::Finding unpack_whole(const json& value) {
    rules::Finding finding = unpack_finding(value.at(0), Frame{});
    finding.file = value.at(1).get<std::string>();
    finding.begin = unpack_place(value.at(2));
    finding.end = unpack_place(value.at(3));
    finding.excerpt = value.at(4).get<std::string>();
    finding.excerpt_column = value.at(5).get<std::size_t>();
    finding.status = status_of(value.at(6).get<std::string>());
    for (const json& place : value.at(7)) {
        if (finding.fix) {
            finding.fix->places.push_back({unpack_place(place.at(0)), unpack_place(place.at(1))});
        }
    }
    return finding;
}

json pack_whole(const rules::PuzzleSummary& summary) {
    return json::array({pack(summary), summary.id, summary.file, summary.line});
}

rules::PuzzleSummary unpack_whole_summary(const json& value) {
    rules::PuzzleSummary summary = unpack_summary(value.at(0));
    summary.id = value.at(1).get<std::string>();
    summary.file = value.at(2).get<std::string>();
    summary.line = value.at(3).get<std::size_t>();
    return summary;
}

} // namespace app
