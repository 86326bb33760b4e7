#pragma once
// Exact values of endings with few men, from tables that are built when first asked for. The fifty-move rule
// is left out: a win is a mate that the best defence cannot prevent, however late.

#include "board/position.hpp"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>

namespace solve {

namespace endgame {
struct Table;
}

/// For the side to move.
struct EndgameValue {
    enum class Outcome : std::uint8_t { loss, draw, win };
    Outcome outcome = Outcome::draw;
    /// Moves of both sides until mate with best play, the winner hurrying and the loser delaying; 0 when
    /// mated already, and for draws.
    int plies_to_mate = 0;
    friend bool operator==(const EndgameValue&, const EndgameValue&) = default;
};

/// Shared by all threads. The answers are the same in whatever order they are asked for, with and without a
/// cache.
class EndgameTables {
  public:
    static constexpr int most_men = 4; ///< kings included

    /// Tables once built are kept in `cache_folder`; without one in memory only. A folder that cannot be read
    /// or written is no error: the tables are built then.
    explicit EndgameTables(std::optional<std::filesystem::path> cache_folder);
    ~EndgameTables();
    EndgameTables(EndgameTables&&) noexcept;
    EndgameTables& operator=(EndgameTables&&) noexcept;

    /// Exact value of any position of up to `most_men` men without castling rights; nothing otherwise. The
    /// first question about a material builds its table and those it leads into, which can take seconds.
    [[nodiscard]] std::optional<EndgameValue> probe(const board::Position& position) const;

    /// The whole table of a slot (endgame_material.hpp).
    [[nodiscard]] const endgame::Table& table(std::size_t slot) const;

  private:
    [[nodiscard]] EndgameValue with_capture_in_passing(const board::Position& position,
                                                       EndgameValue otherwise) const;
    struct Shelf;
    std::unique_ptr<Shelf> m_shelf;
};

} // namespace solve
