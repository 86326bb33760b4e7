#pragma once
// Positions of few men, drawn at random or all in turn, and what their value must be by looking one move
// ahead.

#include "solve/endgame_tables.hpp"

#include "from_text.hpp"

#include <algorithm>
#include <optional>
#include <random>
#include <string>
#include <string_view>
#include <vector>

namespace endgame_test {

using Outcome = solve::EndgameValue::Outcome;
using Value = solve::EndgameValue;

using from_text::fen;
using from_text::position;

/// "KQkr": White's men in capitals.
inline std::vector<board::Piece> men(std::string_view letters) {
    std::vector<board::Piece> list;
    for (const char letter : letters) {
        list.push_back(board::read_piece(letter).value());
    }
    return list;
}

/// Nothing when the men drawn cannot stand so.
inline std::optional<board::Position> draw(std::mt19937_64& random, const std::vector<board::Piece>& men) {
    board::Setup setup;
    const bool swap = random() % 2 != 0;
    for (const board::Piece man : men) {
        const board::Square square = board::square_at(static_cast<int>(random() % 64));
        if (setup.at(square)) {
            return std::nullopt;
        }
        setup.put(square, {swap ? !man.color : man.color, man.role});
    }
    setup.turn = random() % 2 != 0 ? board::Color::white : board::Color::black;
    const auto made = board::Position::from(setup);
    return made.ok() ? std::optional(*made) : std::nullopt;
}

/// Greater is better for the side to move.
inline int worth(const Value& value) {
    switch (value.outcome) {
    case Outcome::win:
        return 1000 - value.plies_to_mate;
    case Outcome::loss:
        return value.plies_to_mate - 1000;
    default:
        return 0;
    }
}

/// The rules of the game and the values one move on.
inline Value one_move_ahead(const solve::EndgameTables& tables, const board::Position& position) {
    const board::MoveList moves = position.legal_moves();
    if (moves.empty()) {
        return {position.in_check() ? Outcome::loss : Outcome::draw, 0};
    }
    std::optional<Value> best;
    for (const board::Move move : moves) {
        Value value = tables.probe(position.after(move)).value();
        if (value.outcome != Outcome::draw) {
            value = {value.outcome == Outcome::win ? Outcome::loss : Outcome::win, value.plies_to_mate + 1};
        }
        if (!best || worth(value) > worth(*best)) {
            best = value;
        }
    }
    return *best;
}

/// Counts positions and reports the first few that are valued otherwise than by looking one move ahead.
class Comparison {
  public:
    explicit Comparison(const solve::EndgameTables& tables) : m_tables(tables) {}
    void look(const board::Position& position) {
        const std::optional<Value> value = m_tables.probe(position);
        ++m_seen;
        m_won += value && value->outcome == Outcome::win ? 1 : 0;
        if ((!value || *value != one_move_ahead(m_tables, position)) && m_wrong++ < 3) {
            UNSCOPED_INFO(fen(position));
        }
    }
    [[nodiscard]] int seen() const { return m_seen; }
    [[nodiscard]] int won() const { return m_won; }
    [[nodiscard]] int wrong() const { return m_wrong; }

  private:
    const solve::EndgameTables& m_tables;
    int m_seen = 0;
    int m_won = 0;
    int m_wrong = 0;
};

} // namespace endgame_test

template <> struct Catch::StringMaker<solve::EndgameValue> {
    static std::string convert(const solve::EndgameValue& value) {
        const char* const words[] = {"loss", "draw", "win"};
        return std::string(words[static_cast<int>(value.outcome)]) + " in " +
               std::to_string(value.plies_to_mate);
    }
};
