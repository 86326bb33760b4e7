#include "collection/puzzle.hpp"

#include "collection/text.hpp"

#include <algorithm>

namespace collection {

const Field* Puzzle::field(std::string_view name) const {
    const auto found = std::find_if(fields.begin(), fields.end(), [name](const Field& field) {
        return equals_ignoring_case(field.name, name);
    });
    return found == fields.end() ? nullptr : &*found;
}

} // namespace collection
