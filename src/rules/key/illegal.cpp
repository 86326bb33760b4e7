#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"
#include "rules/unplayable.hpp"

namespace rules::key {

namespace {

using collection::MoveStatus;

/// The other side can play it, and something else says that it should: turn/swapped or turn/disagreement
/// speaks.
bool told_by_turn(const PuzzleView& view, std::string_view text) {
    const std::optional<board::Position> other = view.position()->passed();
    const auto san = board::read_san(text);
    return view.side_in_doubt() && other && san && board::resolve(*other, *san).ok();
}

std::string_view message_of(MoveStatus status) {
    const bool unreadable = status == MoveStatus::unreadable || status == MoveStatus::any;
    return status == MoveStatus::ambiguous ? "ambiguous" : unreadable ? "unreadable" : "illegal";
}

void judge_key(const PuzzleView& view, Findings& findings) {
    const collection::TreeNode& node = view.puzzle().solution.nodes[key_node(view)];
    if (node.status == MoveStatus::legal || told_by_turn(view, node.text)) {
        return;
    }
    const Unplayable fault = why_not(*view.position(), node.text);
    findings.add(view, node.span, message_of(node.status), {{"move", clipped(node.text)}, {"why", fault.why}})
        .about(clipped(node.text))
        .known(solve::Certainty::proved)
        .shown(*view.position(), {})
        .mend(suggestion(fault));
}

void judge_others(const PuzzleView& view, const std::vector<collection::Stated<std::string>>& moves,
                  Findings& findings) {
    for (const collection::Stated<std::string>& stated : moves) {
        const auto san = board::read_san(stated.value);
        if ((san && board::resolve(*view.position(), *san).ok()) ||
            board::read_coordinate(*view.position(), stated.value)) {
            continue;
        }
        const Unplayable fault = why_not(*view.position(), stated.value);
        findings.add(view, stated.span, "listed", {{"move", clipped(stated.value)}, {"why", fault.why}})
            .about(clipped(stated.value))
            .known(solve::Certainty::proved)
            .shown(*view.position(), {})
            .mend(suggestion(fault));
    }
}

} // namespace

void illegal(const PuzzleView& view, Findings& findings) {
    if (!view.position()) {
        return; // the diagram itself cannot be played: setup/*
    }
    if (key_node(view) != 0) {
        judge_key(view, findings);
    }
    if (!view.side_in_doubt()) {
        judge_others(view, view.puzzle().accepted, findings);
        judge_others(view, view.puzzle().avoided, findings);
    }
}

} // namespace rules::key
