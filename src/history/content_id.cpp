#include "history/content_id.hpp"

#include "history/handles.hpp"

#include <stdexcept>

namespace history {

std::string content_id(std::string_view bytes) {
    static const Library library;
    git_oid id;
    if (git_odb_hash(&id, bytes.data(), bytes.size(), GIT_OBJECT_BLOB) != 0) {
        throw std::runtime_error("the git library does not hash");
    }
    return {reinterpret_cast<const char*>(id.id), sizeof id.id}; // NOLINT: bytes are bytes
}

} // namespace history
