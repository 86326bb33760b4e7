#include "rules/mending.hpp"

#include "board/fen.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <array>

namespace rules {

namespace {

using collection::SideStatement;
using collection::Span;

/// Words of a FEN: text and where it begins.
std::vector<std::pair<std::string_view, std::size_t>> fields_of(std::string_view fen) {
    std::vector<std::pair<std::string_view, std::size_t>> fields;
    for (std::size_t at = fen.find_first_not_of(' '); at < fen.size(); at = fen.find_first_not_of(' ', at)) {
        const std::size_t end = std::min(fen.find(' ', at), fen.size());
        fields.emplace_back(fen.substr(at, end - at), at);
        at = end;
    }
    return fields;
}

/// Which fields of a FEN differ: turn, castling, en passant, half-moves, move number.
std::array<bool, 5> differing(const board::Setup& a, const board::Setup& b) {
    return {a.turn != b.turn, a.castling.bits() != b.castling.bits(), a.en_passant != b.en_passant,
            a.halfmoves != b.halfmoves, a.fullmove != b.fullmove};
}

/// The same word for another side: "w" and "b", "White" and "Black", "White to move".
std::string with_side(std::string_view statement, board::Color side) {
    const bool white = side == board::Color::white;
    if (statement == "w" || statement == "b") {
        return white ? "w" : "b";
    }
    const std::string small = collection::lower(statement);
    for (const std::string_view word : {"white", "black"}) {
        if (small.starts_with(word)) {
            const bool capital = statement.front() != small.front();
            return std::string(white ? (capital ? "White" : "white") : (capital ? "Black" : "black")) +
                   std::string(statement.substr(word.size()));
        }
    }
    return {};
}

} // namespace

void Mending::replace(Span span, std::string_view old, std::string_view text) {
    const auto edit = collection::replacing(m_view.document(), m_view.puzzle(), span, old, text);
    if (edit) {
        m_edits.push_back(*edit);
    } else {
        give_up();
    }
}

void Mending::replace(Span span, std::string_view text) {
    const std::string_view bytes = m_view.document().bytes;
    replace(span, bytes.substr(span.begin, span.end - span.begin), text);
}

void Mending::replace_fen_fields(const board::Setup& wanted) {
    const collection::Puzzle& puzzle = m_view.puzzle();
    const auto written = fields_of(puzzle.fen.value);
    const std::string canonical = board::write_fen(wanted);
    const auto due = fields_of(canonical);
    const std::array<bool, 5> differs = differing(puzzle.reading.setup, wanted);
    if (wanted.by_color != puzzle.reading.setup.by_color || wanted.by_role != puzzle.reading.setup.by_role) {
        give_up(); // a man is misplaced: which one is not for a program to say
    }
    for (std::size_t i = 1; i < due.size() && !m_impossible; ++i) {
        if (!differs[i - 1]) {
            continue;
        }
        if (i >= written.size()) {
            give_up();
            return;
        }
        const std::size_t begin = puzzle.fen.span.begin + written[i].second;
        replace({begin, begin + written[i].first.size()}, written[i].first, due[i].first);
    }
}

void Mending::let_move(board::Color side) {
    if (m_view.puzzle().lead_in) {
        give_up(); // the FEN is not the diagram's
    }
    const std::string_view bytes = m_view.document().bytes;
    for (const SideStatement& stated : m_view.puzzle().sides) {
        if (stated.color == side) {
            continue;
        }
        const std::string_view there = bytes.substr(stated.span.begin, stated.span.end - stated.span.begin);
        std::string text;
        if (stated.source == SideStatement::Source::move_number) {
            const std::size_t digits = std::min(there.find_first_not_of("0123456789"), there.size());
            text = std::string(there.substr(0, digits)) + (side == board::Color::white ? "." : "...");
        } else if (stated.source != SideStatement::Source::caption) {
            text = with_side(there, side);
        }
        if (text.empty()) {
            give_up();
            return;
        }
        replace(stated.span, there, text);
    }
}

std::optional<Fix> Mending::fix(Fix::Kind kind) const {
    if (m_impossible || m_edits.empty()) {
        return std::nullopt;
    }
    Fix result{kind, m_edits, {}};
    const auto by_place = [](const collection::Edit& a, const collection::Edit& b) {
        return a.span < b.span;
    };
    std::sort(result.edits.begin(), result.edits.end(), by_place);
    result.edits.erase(std::unique(result.edits.begin(), result.edits.end()), result.edits.end());
    for (std::size_t i = 1; i < result.edits.size(); ++i) {
        if (result.edits[i].span.begin < result.edits[i - 1].span.end) {
            return std::nullopt; // two values that each need quotes of their own around one scalar
        }
    }
    return result;
}

bool all_can_be_played(const collection::MoveTree& tree) {
    using collection::MoveStatus;
    return std::all_of(tree.nodes.begin() + 1, tree.nodes.end(), [](const collection::TreeNode& node) {
        return node.status == MoveStatus::legal || node.status == MoveStatus::any ||
               node.status == MoveStatus::null;
    });
}

} // namespace rules
