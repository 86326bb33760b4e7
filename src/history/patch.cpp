#include "history/patch.hpp"

#include "history/opened.hpp"

#include <fmt/format.h>

namespace history {

collection::Result<std::string> unified_diff(const std::string& path, std::string_view before,
                                             std::string_view after) {
    const Library library;
    git_diff_options options;
    PatchHandle patch;
    Buffer text;
    const bool made = library.started() && git_diff_options_init(&options, GIT_DIFF_OPTIONS_VERSION) == 0 &&
                      (options.flags = GIT_DIFF_FORCE_TEXT, true) &&
                      git_patch_from_buffers(into(patch), before.data(), before.size(), path.c_str(),
                                             after.data(), after.size(), path.c_str(), &options) == 0 &&
                      git_patch_to_buf(&text.buf, patch.get()) == 0;
    if (!made) {
        return board::failure(
            refused(fmt::format("cannot compare two texts of {}: {}", path, last_message())));
    }
    return before == after ? std::string() : std::string(text.buf.ptr, text.buf.size);
}

} // namespace history
