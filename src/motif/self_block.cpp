#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace motif {
namespace {

using board::Move;
using board::Position;
using board::Square;

/// With the blocker off the board the mated king would go there, and nothing else would help.
bool only_flight(const Position& mate, Square blocker) {
    const auto open = without(mate, blocker);
    if (!open) {
        return false;
    }
    const Square king = mate.king(mate.turn());
    const board::MoveList replies = open->legal_moves();
    return !replies.empty() && std::all_of(replies.begin(), replies.end(), [&](Move reply) {
        return reply.from() == king && reply.to() == blocker;
    });
}

} // namespace

void detect_self_block(const Study& study, Found& found) {
    if (!study.mates() || study.plies() < 3) {
        return;
    }
    const std::size_t reply = study.plies() - 2;
    const Square blocker = study.move(reply).to();
    const Square king = study.last().king(study.them());
    if (blocker == king || board::distance(blocker, king) != 1 || study.castles(reply) ||
        !study.last().pieces(study.them()).contains(blocker)) {
        return;
    }
    Evidence evidence;
    evidence.motif = "self-block";
    evidence.ply = reply - 1; // the move that brought it about
    evidence.level = only_flight(study.last(), blocker) ? Level::decisive : Level::seen;
    evidence.targets = {blocker, king};
    evidence.why = fmt::format("the {} takes that square from its own king", man(study.last(), blocker));
    found.push_back(std::move(evidence));
}

} // namespace motif
