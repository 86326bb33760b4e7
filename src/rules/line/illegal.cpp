#include "rules/rule.hpp"

#include "rules/play.hpp"
#include "rules/unplayable.hpp"

namespace rules::line {

namespace {

using collection::MoveStatus;

/// "any" is for the defender to say.
std::string_view message_of(MoveStatus status, bool by_solver) {
    switch (status) {
    case MoveStatus::any:
        return by_solver ? "unreadable" : "";
    case MoveStatus::illegal:
        return "illegal";
    case MoveStatus::unreadable:
        return "unreadable";
    case MoveStatus::null:
        return "pass";
    default:
        return {}; // legal, line/ambiguous, or behind a move that is told already
    }
}

} // namespace

void illegal(const PuzzleView& view, Findings& findings) {
    if (!view.position() || view.side_in_doubt()) {
        return;
    }
    const auto& nodes = view.puzzle().solution.nodes;
    std::size_t told = 0;
    for (std::size_t node = 1; node < nodes.size() && told < most_told; ++node) {
        const std::string_view message =
            message_of(nodes[node].status, view.puzzle().solution.depth(node) % 2 == 1);
        if (message.empty() || node == key_node(view)) {
            continue; // the key itself: key/illegal
        }
        ++told;
        const Unplayable fault = why_not(position_after(view, nodes[node].parent), nodes[node].text);
        const std::string move = numbered(view, node);
        findings.add(view, nodes[node].span, message, {{"move", move}, {"why", fault.why}})
            .about(move)
            .known(solve::Certainty::proved)
            .shown(*view.position(), view.puzzle().solution.moves_to(nodes[node].parent))
            .mend(suggestion(fault));
    }
}

} // namespace rules::line
