#include "app/shard.hpp"

#include "rules/identity.hpp"

namespace app {

bool Shard::holds(const collection::Document& document, const collection::Puzzle& puzzle) const {
    if (of == 1) {
        return true;
    }
    std::uint64_t hash = 0xcbf29ce484222325; // FNV-1a: the same on every machine
    for (const char c : rules::identity_of(document, puzzle)) {
        hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3;
    }
    return (hash ^ hash >> 32U) % of == number - 1;
}

} // namespace app
