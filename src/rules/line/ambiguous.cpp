#include "rules/rule.hpp"

#include "rules/play.hpp"
#include "rules/unplayable.hpp"

namespace rules::line {

void ambiguous(const PuzzleView& view, Findings& findings) {
    if (!view.position() || view.side_in_doubt()) {
        return;
    }
    const auto& nodes = view.puzzle().solution.nodes;
    std::size_t told = 0;
    for (std::size_t node = 1; node < nodes.size() && told < most_told; ++node) {
        if (nodes[node].status != collection::MoveStatus::ambiguous || node == key_node(view)) {
            continue; // the key itself: key/illegal
        }
        ++told;
        const Unplayable fault = why_not(position_after(view, nodes[node].parent), nodes[node].text);
        const std::string move = numbered(view, node);
        findings.add(view, nodes[node].span, "ambiguous", {{"move", move}, {"why", fault.why}})
            .about(move)
            .known(solve::Certainty::proved)
            .shown(*view.position(), view.puzzle().solution.moves_to(nodes[node].parent))
            .mend("name the man by its file or rank");
    }
}

} // namespace rules::line
