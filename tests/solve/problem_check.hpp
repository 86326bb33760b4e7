#pragma once
// The play of a problem held against a solver that tries everything and knows nothing but the rules
// (brute.hpp).

#include "solve/problem.hpp"

#include <map>

namespace solve_test {

/// How often what was met: a comparison that never met a dual says nothing about duals.
struct PlayTally {
    std::map<solve::Ways, int> ways;
    int blocks = 0;
    int threats = 0;
    int complete_blocks = 0;
    int mutates = 0;
    int changed = 0;
    int tries = 0;
    int weak_tries = 0;
    int blunders = 0; ///< fail to one or two replies and show no mate
};

/// Everything told about that key and length is right, and nothing is missing.
void check_by_trying(const board::Position& at, board::Move key, int moves, PlayTally& tally);

} // namespace solve_test
