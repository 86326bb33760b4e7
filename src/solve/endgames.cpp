#include "solve/endgames.hpp"

namespace solve {

using Outcome = EndgameValue::Outcome;

std::optional<int> Endgames::score(const board::Position& position, int ply) const {
    const auto exact = value(position);
    if (!exact) {
        return std::nullopt;
    }
    const int mate = mate_score - ply - exact->plies_to_mate;
    return exact->outcome == Outcome::draw ? 0 : exact->outcome == Outcome::win ? mate : -mate;
}

Line Endgames::best_play(const board::Position& position, std::size_t longest) const {
    Line line;
    board::Position at = position;
    auto exact = value(at);
    while (exact && exact->plies_to_mate > 0 && line.size() < longest) {
        for (const board::Move move : at.legal_moves()) {
            const auto next = value(at.after(move));
            const bool turns = next && next->outcome != exact->outcome && next->outcome != Outcome::draw;
            if (turns && next->plies_to_mate == exact->plies_to_mate - 1) {
                line.push_back(move);
                break;
            }
        }
        at.make(line.back());
        exact = value(at);
    }
    return line;
}

} // namespace solve
