#pragma once
// One part of a run that several machines share.

#include "collection/document.hpp"

#include <cstdint>

namespace app {

struct Shard {
    unsigned number = 1; ///< from 1
    unsigned of = 1;

    /// By the hash of what the puzzle is called, so that new files leave the others where they were. Every
    /// puzzle belongs to one part.
    [[nodiscard]] bool holds(const collection::Document& document, const collection::Puzzle& puzzle) const;
    /// What is not about one puzzle is checked once.
    [[nodiscard]] bool is_first() const { return number == 1; }
};

} // namespace app
