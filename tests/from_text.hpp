#pragma once
// Boards from text; what cannot be read fails the running test.

#include "board/fen.hpp"
#include "board/san.hpp"

#include "catch.hpp"

#include <string>
#include <string_view>

namespace from_text {

inline board::Setup setup(std::string_view fen, board::Start start = board::Start::by_letters) {
    const board::FenReading reading = board::read_fen(fen, start);
    INFO(fen);
    REQUIRE(reading.usable);
    return reading.setup;
}

inline board::Position position(std::string_view fen, board::Start start = board::Start::by_letters) {
    const auto made = board::Position::from(setup(fen, start));
    INFO(fen);
    REQUIRE(made.ok());
    return *made;
}

inline board::Move move(const board::Position& position, std::string_view san) {
    INFO(san);
    const auto read = board::read_san(san);
    REQUIRE(read.has_value());
    const auto resolved = board::resolve(position, *read);
    REQUIRE(resolved.ok());
    return *resolved;
}

inline std::string fen(const board::Position& position) {
    return board::write_fen(position.setup());
}

} // namespace from_text
