#include "rules/faults.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"

namespace rules::line {

namespace {

std::string_view message_of(const PuzzleView& view, const LineFault& fault) {
    if (!view.goal_stated()) {
        return "inferred";
    }
    if (view.puzzle().solution.nodes[fault.node].parent == 0) {
        return "alternative";
    }
    return fault.kind == LineFault::Kind::slower        ? "slower"
           : fault.kind == LineFault::Kind::falls_short ? "short"
                                                        : "fails";
}

} // namespace

void fails(const PuzzleView& view, Findings& findings) {
    for (const LineFault& fault : view.line_faults()) {
        if (is_unforeseen(view, fault) || is_covered(view, fault)) {
            continue; // line/missing-defence, line/equivalent
        }
        const collection::TreeNode& node = view.puzzle().solution.nodes[fault.node];
        const solve::Line& line = fault.judgement.line;
        const std::string move = numbered(view, fault.node);
        findings
            .add(view, node.span, message_of(view, fault),
                 {{"move", move},
                  {"goal", collection::write_goal(view.goal())},
                  {"value", value_text(fault.judgement.value)},
                  {"answer", line.empty() ? "the defender holds"
                                          : numbered(position_after(view, fault.node), line.front())}})
            .about(move)
            .known(fault.judgement.certainty)
            .shown(*view.position(), line_through(view, fault.node, line), moves_up_to(view, fault.node))
            .mend(node.parent == 0 ? "mark it as a try, or take it out" : "correct the line");
    }
}

} // namespace rules::line
