#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/play.hpp"

namespace rules::key {

void short_mate(const PuzzleView& view, Findings& findings) {
    if (!view.can_judge_play() || view.goal().kind != collection::GoalKind::mate) {
        return;
    }
    const solve::KeyTable& table = view.table();
    const solve::MoveVerdict* const key = table.of(*view.key());
    const int stated = view.goal().moves;
    if (!table.shortest_mate || *table.shortest_mate >= stated || key == nullptr ||
        key->value.mate_in == table.shortest_mate) {
        return; // when the key itself is that short, the stated length is wrong: key/wrong-goal
    }
    std::vector<std::string> moves;
    const solve::MoveVerdict* first = nullptr;
    for (const solve::MoveVerdict& rival : table.moves) {
        if (rival.value.mate_in == table.shortest_mate) {
            first = first == nullptr ? &rival : first;
            moves.push_back(board::write_san(*view.position(), rival.move));
        }
    }
    if (first == nullptr) {
        return;
    }
    findings
        .add(view, view.key_span(), view.goal_stated() ? "shorter" : "quicker",
             {{"moves", listed(moves, 3)},
              {"verb", moves.size() == 1 ? "mates" : "mate"},
              {"length", std::to_string(*table.shortest_mate)},
              {"stated", std::to_string(stated)}})
        .about(moves.front())
        .known(solve::Certainty::proved)
        .shown(*view.position(), first->line)
        .mend("print the shorter mate, or change the diagram so that it fails");
}

} // namespace rules::key
