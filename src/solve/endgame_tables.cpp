#include "solve/endgame_tables.hpp"

#include "solve/endgame_build.hpp"
#include "solve/endgame_cache.hpp"

#include <array>
#include <atomic>
#include <mutex>
#include <utility>

namespace solve {

using board::Color, board::Position, board::Square;
using endgame::Code;
using Outcome = EndgameValue::Outcome;

/// A table is built under its place's lock; the tables it leads into never lead back, so the locks cannot
/// meet in a ring. Once built it is found through `ready` without a lock.
struct EndgameTables::Shelf {
    struct Place {
        std::mutex building;
        std::unique_ptr<const endgame::Table> table;
        std::atomic<const endgame::Table*> ready = nullptr;
    };
    std::optional<std::filesystem::path> folder;
    std::array<Place, endgame::slots> places;

    const endgame::Table& get(std::size_t slot) {
        const endgame::Table* const ready = places[slot].ready.load(std::memory_order_acquire);
        return ready != nullptr ? *ready : make(slot);
    }

    const endgame::Table& make(std::size_t slot) {
        Place& place = places[slot];
        const std::scoped_lock lock(place.building);
        if (place.table == nullptr) {
            place.table = std::make_unique<const endgame::Table>(load_or_build(endgame::materials[slot]));
            place.ready.store(place.table.get(), std::memory_order_release);
        }
        return *place.table;
    }

    endgame::Table load_or_build(const endgame::Material& material) {
        if (folder) {
            if (std::optional<endgame::Table> kept = endgame::read_cached(*folder, material)) {
                return std::move(*kept);
            }
        }
        endgame::Table built =
            endgame::build(material, [this](std::size_t slot) -> const endgame::Table& { return get(slot); });
        if (folder) {
            endgame::write_cached(*folder, built);
        }
        return built;
    }
};

namespace {

EndgameValue decoded(Code code) {
    if (code == endgame::drawn) {
        return {};
    }
    return {endgame::wins(code) ? Outcome::win : Outcome::loss, endgame::plies_of(code)};
}

/// How much the side to move likes it.
int worth(const EndgameValue& value) {
    constexpr int beyond = 1000;
    switch (value.outcome) {
    case Outcome::win:
        return beyond - value.plies_to_mate;
    case Outcome::loss:
        return value.plies_to_mate - beyond;
    default:
        return 0;
    }
}

/// Before a move, from the value after it.
EndgameValue before(const EndgameValue& after) {
    switch (after.outcome) {
    case Outcome::win:
        return {Outcome::loss, after.plies_to_mate + 1};
    case Outcome::loss:
        return {Outcome::win, after.plies_to_mate + 1};
    default:
        return after;
    }
}

struct Men {
    std::array<std::size_t, 2> codes{endgame::nobody, endgame::nobody};
    std::array<Square, 2> squares{Square::a1, Square::a1};
};

Men men_beside_kings(const Position& position) {
    Men men;
    std::size_t found = 0;
    for (const Square square : position.occupied() & ~position.pieces(board::Role::king)) {
        men.codes[found] = endgame::code_of(*position.at(square));
        men.squares[found++] = square;
    }
    return men;
}

endgame::Placement place(const Position& position, const Men& men, const endgame::Fold& fold) {
    const int flip = fold.flipped ? 56 : 0;
    const auto turned = [flip](Square square) { return board::square_at(index(square) ^ flip); };
    const Color stronger = fold.flipped ? Color::black : Color::white;
    return {{turned(position.king(stronger)), turned(position.king(!stronger)),
             turned(men.squares[fold.swapped ? 1 : 0]), turned(men.squares[fold.swapped ? 0 : 1])},
            fold.flipped ? !position.turn() : position.turn()};
}

} // namespace

EndgameTables::EndgameTables(std::optional<std::filesystem::path> cache_folder)
    : m_shelf(std::make_unique<Shelf>()) {
    if (cache_folder && !cache_folder->empty()) {
        m_shelf->folder = std::move(cache_folder);
    }
}
EndgameTables::~EndgameTables() = default;
EndgameTables::EndgameTables(EndgameTables&&) noexcept = default;
EndgameTables& EndgameTables::operator=(EndgameTables&&) noexcept = default;

const endgame::Table& EndgameTables::table(std::size_t slot) const {
    return m_shelf->get(slot);
}

std::optional<EndgameValue> EndgameTables::probe(const Position& position) const {
    if (position.occupied().count() > most_men || !position.castling().empty()) {
        return std::nullopt;
    }
    const Men men = men_beside_kings(position);
    const endgame::Fold& fold = endgame::folds[men.codes[0]][men.codes[1]];
    const EndgameValue value = decoded(m_shelf->get(fold.slot)[place(position, men, fold)]);
    return position.en_passant() ? with_capture_in_passing(position, value) : value;
}

/// Tables know no rights to take in passing: `otherwise` is the value without the right. Whoever takes so has
/// a pawn against a bare king and cannot lose, so the better of the two is right even where there is no other
/// move.
EndgameValue EndgameTables::with_capture_in_passing(const Position& position, EndgameValue otherwise) const {
    EndgameValue best = otherwise;
    for (const board::Move move : position.legal_captures()) {
        if (move.kind() == board::MoveKind::en_passant) {
            const EndgameValue taken = before(*probe(position.after(move)));
            best = worth(taken) > worth(best) ? taken : best;
        }
    }
    return best;
}

} // namespace solve
