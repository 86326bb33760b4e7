#include "motif/luring.hpp"

#include "motif/geometry.hpp"

namespace motif {

std::optional<Luring> luring_at(const Study& study, std::size_t ply) {
    if (!study.has(ply + 2) || study.castles(ply) || study.castles(ply + 1)) {
        return std::nullopt;
    }
    const board::Move reply = study.move(ply + 1);
    const bool takes = study.captured(ply + 1) && reply.to() == study.move(ply).to();
    Luring luring{ply, reply.from(), reply.to(), false, study.gives_check(ply)};
    luring.offer = takes && study.captured_worth(ply + 1) > study.captured_worth(ply);
    return luring;
}

std::optional<board::Position> lured_back(const Study& study, const Luring& luring) {
    const board::Position& position = study.at(luring.ply + 2);
    auto back = relocated(position, luring.to, luring.from);
    if (!back) { // its king would stand in the very check it left: lift the man that gave it
        const auto calm = without(position, study.move(luring.ply).to());
        back = calm ? relocated(*calm, luring.to, luring.from) : std::nullopt;
    }
    return back && back->turn() == study.us() ? back : std::nullopt;
}

bool pays(const Study& study, const Luring& luring) {
    const int base = study.balance(luring.ply);
    const bool later = study.wins() || study.settled(study.plies()) - base >= 1;
    return later && study.sound(luring.ply, base);
}

} // namespace motif
