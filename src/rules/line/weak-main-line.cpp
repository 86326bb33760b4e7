#include "rules/weak_reply.hpp"

#include "rules/play.hpp"
#include "rules/rule.hpp"

namespace rules::line {

namespace {

std::string_view message_of(const PuzzleView& view, const WeakReply& weak) {
    if (!view.goal_stated()) {
        return "inferred";
    }
    return weak.kind == WeakReply::Kind::shorter    ? "shorter"
           : weak.kind == WeakReply::Kind::by_class ? "class"
                                                    : "value";
}

} // namespace

void weak_main_line(const PuzzleView& view, Findings& findings) {
    if (view.settings().lines == Lines::key || !view.weak_reply()) {
        return;
    }
    const std::optional<WeakReply>& weak = view.weak_reply();
    const std::string better = numbered(position_after(view, weak->node), weak->better.front());
    findings
        .add(view, view.puzzle().solution.nodes[weak->printed].span, message_of(view, *weak),
             {{"reply", numbered(view, weak->printed)},
              {"better", better},
              {"worse", value_text(weak->worse)},
              {"best", value_text(weak->best)}})
        .about(numbered(view, weak->printed))
        .known(weak->certainty)
        .shown(*view.position(), line_through(view, weak->node, weak->better))
        .mend("print " + better + " as a sideline, or as the main line");
}

} // namespace rules::line
