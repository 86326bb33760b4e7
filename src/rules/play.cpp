#include "rules/play.hpp"

#include "board/san.hpp"

#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>

namespace rules {

bool is_read_off(const PuzzleView& view) {
    return !view.goal_stated() && view.goal().kind != collection::GoalKind::mate;
}

bool scores_tell(const PuzzleView& view) {
    return scores_tell(*view.position());
}

bool scores_tell(const board::Position& position) {
    const board::Bitboard pawns = position.pieces(board::Role::pawn);
    const int men = position.occupied().count();
    const int pieces = men - pawns.count() - 2;
    constexpr int few = 7;
    return men > few && (pieces > 2 || men > few + 2);
}

bool is_hollow(const PuzzleView& view, const solve::Value& value, solve::Certainty certainty) {
    return certainty != solve::Certainty::proved && !value.mate_in && !scores_tell(view);
}

bool is_idle(const PuzzleView& view, const solve::Value& value, solve::Certainty certainty) {
    if (!is_read_off(view) || value.mate_in || certainty == solve::Certainty::proved) {
        return false;
    }
    constexpr int few = 4;
    const board::Position& diagram = *view.position();
    const int pieces = (diagram.occupied() & ~diagram.pieces(board::Role::pawn)).count() - 2;
    const int gain = value.score - 100 * solve::balance(diagram, view.solver_side());
    return pieces <= few && gain < view.settings().win_at;
}

bool ends_in_chase(const board::Position& start, board::Color solver, const solve::Line& line) {
    board::Position position = start;
    int checks = 0; // without a pause, up to the end
    for (const board::Move move : line) {
        if (position.turn() == solver) {
            checks = position.gives_check(move) ? checks + 1 : 0;
        }
        position.make(move);
    }
    return checks >= 3 && position.has_legal_move();
}

bool tells(const board::Position& position, const solve::Judgement& judged) {
    return judged.certainty == solve::Certainty::proved || judged.value.mate_in ||
           (scores_tell(position) && !ends_in_chase(position, board::Color::white, judged.line) &&
            !ends_in_chase(position, board::Color::black, judged.line));
}

const NodeVerdict* verdict_of(const PuzzleView& view, std::size_t node) {
    const auto& verdicts = view.walk();
    const auto found = std::lower_bound(
        verdicts.begin(), verdicts.end(), node,
        [](const NodeVerdict& verdict, std::size_t wanted) { return verdict.node < wanted; });
    return found != verdicts.end() && found->node == node ? &*found : nullptr;
}

bool is_accepted(const PuzzleView& view, board::Move move) {
    const auto& accepted = view.accepted();
    return std::find(accepted.begin(), accepted.end(), move) != accepted.end();
}

bool said_to_fail(const PuzzleView& view, board::Move move) {
    const auto node = printed(view, 0, move);
    if (node && view.puzzle().solution.marked_as_failing(*node)) {
        return true;
    }
    const auto& avoided = view.puzzle().avoided;
    return std::any_of(avoided.begin(), avoided.end(), [&](const collection::Stated<std::string>& stated) {
        const auto san = board::read_san(stated.value);
        const auto resolved =
            san ? board::resolve(*view.position(), *san) : board::failure(board::SanFailure{});
        return resolved.ok() && *resolved == move;
    });
}

std::optional<std::size_t> printed(const PuzzleView& view, std::size_t node, board::Move move) {
    const auto& nodes = view.puzzle().solution.nodes;
    for (const std::size_t child : nodes[node].children) {
        if (nodes[child].status == collection::MoveStatus::legal && nodes[child].move == move) {
            return child;
        }
    }
    return std::nullopt;
}

std::size_t key_node(const PuzzleView& view) {
    const auto& first = view.puzzle().solution.nodes[0].children;
    return first.empty() ? 0 : first.front();
}

bool may_ask_more(const PuzzleView& view) {
    return view.solver().nodes_used() < solve::budget_of(view.settings().effort).puzzle / 2;
}

std::optional<solve::Judgement> overlooked(const PuzzleView& view) {
    if (view.goal_stated() || view.goal().kind != collection::GoalKind::best) {
        return std::nullopt;
    }
    const solve::MoveVerdict* const key = view.table().of(*view.key());
    if (key == nullptr || key->reaches_goal != solve::Answer::no) {
        return std::nullopt; // a key that still may do it: a deep one is seen late
    }
    const auto& moves = view.table().moves;
    const bool any = std::any_of(moves.begin(), moves.end(), [](const solve::MoveVerdict& rival) {
        return rival.standing == solve::Standing::better;
    });
    if (!any) {
        return std::nullopt;
    }
    solve::Judgement best = view.solver().value(*view.position(), view.solver_side());
    // Nobody claimed a win: what only just decides may as well not, and is told as better (key/second-win).
    const int decided = view.settings().win_at + view.settings().near;
    const bool decides = best.value.mate_in ? *best.value.mate_in > 0 : best.value.score >= decided;
    const bool told = best.answer != solve::Answer::open && decides &&
                      !is_hollow(view, best.value, best.certainty) &&
                      !is_idle(view, best.value, best.certainty) && !best.line.empty() &&
                      best.line.front() != *view.key() && !is_accepted(view, best.line.front());
    return told ? std::optional(std::move(best)) : std::nullopt;
}

std::optional<solve::MoveVerdict> confirmed(const PuzzleView& view, const solve::MoveVerdict& rival,
                                            int least) {
    if (rival.certainty == solve::Certainty::proved || rival.value_is == solve::ValueIs::exact ||
        rival.value.mate_in) {
        return rival;
    }
    const solve::Judgement worth =
        view.solver().value(view.position()->after(rival.move), view.solver_side());
    if (worth.answer == solve::Answer::open) {
        return rival;
    }
    if (worth.value.mate_in ? *worth.value.mate_in < 0 : worth.value.score < least) {
        return std::nullopt;
    }
    solve::MoveVerdict exact = rival;
    exact.value = worth.value;
    if (exact.value.mate_in) {
        ++*exact.value.mate_in; // counted from the position after the move
    }
    exact.value_is = solve::ValueIs::exact;
    exact.depth = worth.depth + 1;
    exact.line = {rival.move};
    exact.line.insert(exact.line.end(), worth.line.begin(), worth.line.end());
    return exact;
}

std::vector<board::Position> positions_before(const PuzzleView& view) {
    const auto& nodes = view.puzzle().solution.nodes;
    std::vector<board::Position> before(nodes.size(), *view.position());
    for (std::size_t node = 1; node < nodes.size(); ++node) { // parents come before their children
        const std::size_t parent = nodes[node].parent;
        before[node] = before[parent];
        if (parent != 0 && nodes[parent].status == collection::MoveStatus::legal) {
            before[node].make(nodes[parent].move);
        }
    }
    return before;
}

board::Position position_after(const PuzzleView& view, std::size_t node) {
    return view.puzzle().solution.position_at(*view.position(), node);
}

solve::Line line_through(const PuzzleView& view, std::size_t node, const solve::Line& tail) {
    solve::Line line = view.puzzle().solution.moves_to(node);
    line.insert(line.end(), tail.begin(), tail.end());
    return line;
}

std::size_t moves_up_to(const PuzzleView& view, std::size_t node) {
    return view.puzzle().solution.moves_to(node).size();
}

namespace {

std::string with_number(const board::Position& before, std::string_view text) {
    return fmt::format("{}{}{}", before.fullmove(), before.turn() == board::Color::white ? "." : "...", text);
}

} // namespace

std::string numbered(const PuzzleView& view, std::size_t node) {
    const collection::TreeNode& entry = view.puzzle().solution.nodes[node];
    const board::Position before = position_after(view, entry.parent);
    return entry.status == collection::MoveStatus::legal ? numbered(before, entry.move)
                                                         : with_number(before, clipped(entry.text));
}

std::string numbered(const board::Position& before, board::Move move) {
    return with_number(before, board::write_san(before, move));
}

std::string clipped(std::string_view text) {
    constexpr std::size_t longest = 40;
    if (text.size() <= longest) {
        return std::string(text);
    }
    std::size_t end = longest;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) {
        --end;
    }
    return std::string(text.substr(0, end)) + "...";
}

std::string_view side_name(board::Color color) {
    return color == board::Color::white ? "White" : "Black";
}

std::string value_text(const solve::Value& value) {
    if (value.mate_in) {
        return fmt::format("{} in {}", *value.mate_in > 0 ? "mate" : "mated", std::abs(*value.mate_in));
    }
    const int tenths = (std::abs(value.score) + 5) / 10;
    const std::string_view sign = tenths == 0 ? "" : value.score > 0 ? "+" : "-";
    return fmt::format("{}{}.{}", sign, tenths / 10, tenths % 10);
}

std::string value_text(const solve::MoveVerdict& verdict) {
    const bool exact = verdict.value_is == solve::ValueIs::exact;
    if (const auto& length = verdict.value.mate_in) {
        return !exact && *length > 0 ? fmt::format("mate in at most {}", *length) : value_text(verdict.value);
    }
    const std::string_view bound = exact                                         ? ""
                                   : verdict.value_is == solve::ValueIs::at_most ? "at most "
                                                                                 : "at least ";
    return fmt::format("{}{}", bound, value_text(verdict.value));
}

std::string listed(const std::vector<std::string>& parts, std::size_t most, std::string_view last) {
    const std::size_t told = parts.size() <= most ? parts.size() : most;
    std::string text;
    for (std::size_t i = 0; i < told; ++i) {
        text += i == 0 ? "" : i + 1 == parts.size() ? fmt::format(" {} ", last) : ", ";
        text += parts[i];
    }
    return told == parts.size() ? text : fmt::format("{} and {} more", text, parts.size() - told);
}

} // namespace rules
