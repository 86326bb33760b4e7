#include "history/meaning.hpp"

#include "collection/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>

namespace history {

namespace {

using collection::MoveStatus;
using collection::Puzzle;
using collection::TreeNode;

/// Facts every puzzle has, ahead of its own fields.
constexpr std::size_t usual_facts = 13;

/// Blanks at the ends dropped, others made one space: the layout of a text.
std::string flat(std::string_view text) {
    std::string result;
    bool gap = false;
    for (const char c : text) {
        if (collection::is_blank(c)) {
            gap = !result.empty();
            continue;
        }
        if (std::exchange(gap, false)) {
            result += ' ';
        }
        result += c;
    }
    return result;
}

/// Sorted, so that the order of tags means nothing; a line each.
std::string as_set(std::vector<std::string> texts) {
    std::sort(texts.begin(), texts.end());
    return fmt::format("{}", fmt::join(texts, "\n"));
}

std::string as_set(const std::vector<collection::Stated<std::string>>& texts) {
    std::vector<std::string> plain;
    plain.reserve(texts.size());
    for (const auto& text : texts) {
        plain.push_back(flat(text.value));
    }
    return as_set(std::move(plain));
}

std::string without_counters(board::Setup setup) {
    setup.halfmoves = 0;
    setup.fullmove = 1;
    return board::write_fen(setup);
}

/// Calls `visit(node, depth)` for all but the root, a line before its alternatives. The tree's depth is no
/// stack's depth here.
template <class Visit> void for_each_node(const collection::MoveTree& tree, Visit visit) {
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, 0}};
    while (!open.empty()) {
        const auto [index, depth] = open.back();
        open.pop_back();
        const TreeNode& node = tree.nodes[index];
        if (index != 0) {
            visit(node, depth);
        }
        for (auto child = node.children.rbegin(); child != node.children.rend(); ++child) {
            open.emplace_back(*child, depth + 1);
        }
    }
}

std::string comments_in_full(const TreeNode& node) {
    std::string text;
    for (const collection::Comment& comment : node.comments) {
        text += fmt::format(" {{{}}}", flat(comment.text));
    }
    return text;
}

/// Moves, glyphs and comments; with the depth of each the text tells one tree only.
std::string solution_of(const Puzzle& puzzle) {
    std::string text = puzzle.key_only ? "key" : "";
    text += comments_in_full(puzzle.solution.nodes.front());
    for_each_node(puzzle.solution, [&text](const TreeNode& node, std::size_t depth) {
        const bool played = node.status == MoveStatus::legal;
        text += fmt::format("\n{} {}", depth, played ? board::write_coordinate(node.move) : node.text);
        text += played && node.move.kind() == board::MoveKind::castling ? " castling" : "";
        for (const int glyph : node.glyphs) {
            text += fmt::format(" ${}", glyph);
        }
        text += comments_in_full(node);
    });
    return text;
}

/// How the moves are printed: "Rd8" or "Rd8#", and the numbers.
std::string notation_of(const Puzzle& puzzle) {
    std::string text;
    for_each_node(puzzle.solution, [&text](const TreeNode& node, std::size_t) {
        if (node.number) {
            text += fmt::format("{}{}", node.number->number, node.number->black ? "..." : ".");
        }
        text += node.text + ' ';
    });
    return text;
}

std::string sides_of(const Puzzle& puzzle) {
    std::string text;
    for (const collection::SideStatement& side : puzzle.sides) {
        if (side.source == collection::SideStatement::Source::field ||
            side.source == collection::SideStatement::Source::caption) {
            text += fmt::format("{} ", board::name(side.color));
        }
    }
    return text;
}

std::string allowances_of(const Puzzle& puzzle) {
    std::vector<std::string> texts;
    for (const collection::Allowance& allowance : puzzle.allowances) {
        texts.push_back(fmt::format("{}: {}", allowance.rule, flat(allowance.why)));
    }
    return as_set(std::move(texts));
}

} // namespace

Facts facts_of(const Puzzle& puzzle) {
    const board::FenReading& fen = puzzle.reading;
    Facts facts{
        {"id", puzzle.id_stated ? puzzle.id.value : ""},
        {"position", fen.usable ? without_counters(fen.setup) : flat(puzzle.fen.value)},
        {"counters", fen.usable ? fmt::format("{} {}", fen.setup.halfmoves, fen.setup.fullmove) : ""},
        {"lead-in", puzzle.lead_in ? flat(puzzle.lead_in->value) : ""},
        {"side", sides_of(puzzle)},
        {"goal", puzzle.goal ? collection::write_goal(puzzle.goal->value) : ""},
        {"solution", solution_of(puzzle)},
        {"notation", notation_of(puzzle)},
        {"result", puzzle.solution.result ? puzzle.solution.result->value : ""},
        {"accepted", as_set(puzzle.accepted)},
        {"avoided", as_set(puzzle.avoided)},
        {"themes", as_set(puzzle.themes)},
        {"allowances", allowances_of(puzzle)},
    };
    assert(facts.size() == usual_facts);
    for (const collection::Field& field : puzzle.fields) {
        facts.emplace_back(collection::lower(field.name), flat(field.value));
    }
    std::stable_sort(facts.begin() + usual_facts, facts.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    return facts;
}

std::vector<std::string> differing(const Facts& before, const Facts& after) {
    std::vector<std::string> names;
    const auto differs = [&](const std::string& name) {
        if (std::find(names.begin(), names.end(), name) == names.end()) {
            names.push_back(name);
        }
    };
    for (std::size_t i = 0; i < usual_facts; ++i) {
        if (before[i].second != after[i].second) {
            differs(before[i].first);
        }
    }
    for (std::size_t i = usual_facts, j = usual_facts; i < before.size() || j < after.size();) {
        const int order = i == before.size()  ? 1
                          : j == after.size() ? -1
                                              : before[i].first.compare(after[j].first);
        if (order != 0 || before[i].second != after[j].second) {
            differs(order <= 0 ? before[i].first : after[j].first);
        }
        i += order <= 0 ? 1 : 0;
        j += order >= 0 ? 1 : 0;
    }
    return names;
}

std::optional<board::Setup> diagram_of(const Puzzle& puzzle) {
    if (puzzle.position) {
        return puzzle.position->setup();
    }
    return puzzle.reading.usable ? std::optional(puzzle.reading.setup) : std::nullopt;
}

std::string telling_position(const Puzzle& puzzle) {
    const auto diagram = diagram_of(puzzle);
    if (!diagram) {
        return flat(puzzle.fen.value);
    }
    const std::string text = without_counters(*diagram);
    return text == without_counters(board::Position().setup()) ? "" : text;
}

std::string main_moves(const Puzzle& puzzle) {
    std::string text;
    for (const std::size_t node : puzzle.solution.main_line()) {
        text += board::write_coordinate(puzzle.solution.nodes[node].move);
    }
    return text;
}

int distance(const board::Setup& a, const board::Setup& b) {
    board::Bitboard different = (a.by_color[0] ^ b.by_color[0]) | (a.by_color[1] ^ b.by_color[1]);
    for (std::size_t role = 0; role < a.by_role.size(); ++role) {
        different |= a.by_role[role] ^ b.by_role[role];
    }
    return different.count();
}

} // namespace history
