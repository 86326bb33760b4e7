#pragma once
// Endgame tables that are built once for all tests of this program.

#include "solve/endgame_tables.hpp"

inline const solve::EndgameTables& shared_tables() {
    static const solve::EndgameTables tables(std::nullopt);
    return tables;
}
