#include "board/generator.hpp"

namespace board {

namespace {

template <Wanted wanted, detail::Check check = detail::Check::heeded, class Sink>
void generate(const Position& position, Sink& sink) {
    if (position.turn() == Color::white) {
        Generator<Color::white, check>(position).template run<wanted>(sink);
    } else {
        Generator<Color::black, check>(position).template run<wanted>(sink);
    }
}

} // namespace

MoveList Position::legal_moves() const {
    MoveList list;
    ListSink sink(list);
    generate<Wanted::all>(*this, sink);
    return list;
}

MoveList Position::legal_captures() const {
    MoveList list;
    ListSink sink(list);
    generate<Wanted::captures>(*this, sink);
    return list;
}

MoveList Position::moves_ignoring_check() const {
    MoveList list;
    ListSink sink(list);
    generate<Wanted::all, detail::Check::ignored>(*this, sink);
    return list;
}

std::size_t Position::count_legal_moves() const {
    CountSink sink;
    generate<Wanted::all>(*this, sink);
    return sink.count();
}

bool Position::has_legal_move() const {
    AnySink sink;
    generate<Wanted::all>(*this, sink);
    return sink.full();
}

bool Position::is_legal(Move move) const {
    return legal_moves().contains(move);
}

} // namespace board
