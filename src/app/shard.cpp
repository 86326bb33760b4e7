#include "app/shard.hpp"

#include "rules/identity.hpp"

namespace app {

bool Shard::holds(const collection::Document& document, const collection::Puzzle& puzzle) const {
    if (of == 1) {
        return true;
    }
    const std::uint64_t hash = rules::stable_hash(rules::identity_of(document, puzzle));
    return (hash ^ hash >> 32U) % of == number - 1;
}

} // namespace app
