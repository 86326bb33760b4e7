#include "history/worktree.hpp"

#include "collection/document.hpp"
#include "history/descriptor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>
#include <system_error>

namespace history {

namespace {

bool is_link(int folder, const std::string& name) {
    struct stat status {};
    return ::fstatat(folder, name.c_str(), &status, AT_SYMLINK_NOFOLLOW) == 0 && S_ISLNK(status.st_mode);
}

} // namespace

collection::Result<std::optional<Descriptor>> open_beneath(const std::string& root, std::string_view path) {
    Descriptor at(::open(root.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (!at.ok()) {
        return board::failure(unreadable(root, system_reason(errno)));
    }
    for (std::string_view rest = path;;) {
        const std::size_t slash = rest.find('/');
        const std::string name(rest.substr(0, slash));
        const bool last = slash == std::string_view::npos;
        if (name.empty() || name == "." || name == "..") {
            return board::failure(unreadable(path, "not a path beneath the root"));
        }
        const int flags = O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK | (last ? 0 : O_DIRECTORY);
        Descriptor next(::openat(at.get(), name.c_str(), flags));
        if (!next.ok()) {
            const int number = errno;
            if (is_link(at.get(), name)) {
                return board::failure(
                    unreadable(path, last ? "it is a symbolic link" : "a symbolic link leads there"));
            }
            if (number == ENOENT || number == ENOTDIR) {
                return std::optional<Descriptor>{};
            }
            return board::failure(unreadable(path, system_reason(number)));
        }
        at = std::move(next);
        if (last) {
            return std::optional(std::move(at));
        }
        rest.remove_prefix(slash + 1);
    }
}

collection::Result<std::string> read_all(const Descriptor& file, std::string_view path,
                                         std::size_t expected) {
    std::string bytes;
    std::size_t filled = 0;
    bytes.resize(expected + 1);
    for (;;) {
        const ssize_t got = ::read(file.get(), bytes.data() + filled, bytes.size() - filled);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            return board::failure(unreadable(path, system_reason(errno)));
        }
        filled += static_cast<std::size_t>(got);
        if (got == 0) {
            break;
        }
        if (filled > collection::max_file_bytes) {
            return board::failure(unreadable(path, "it is longer than 256 MiB"));
        }
        if (filled == bytes.size()) {
            bytes.resize(bytes.size() * 2);
        }
    }
    bytes.resize(filled);
    return bytes;
}

collection::Error unreadable(std::string_view path, std::string_view why) {
    collection::Error error;
    error.kind = collection::Error::Kind::io;
    error.message = fmt::format("cannot be read: {}", why);
    error.place = path;
    return error;
}

std::string system_reason(int number) {
    return std::generic_category().message(number);
}

collection::Result<std::optional<std::string>> read_beneath(const std::string& root, std::string_view path) {
    auto opened = open_beneath(root, path);
    if (!opened) {
        return board::failure(opened.error());
    }
    if (!opened->has_value()) {
        return std::optional<std::string>{};
    }
    const Descriptor& file = **opened;
    struct stat status {};
    if (::fstat(file.get(), &status) != 0) {
        return board::failure(unreadable(path, system_reason(errno)));
    }
    if (!S_ISREG(status.st_mode)) {
        return board::failure(unreadable(path, "it is not a regular file"));
    }
    const auto size = static_cast<std::size_t>(std::max<decltype(status.st_size)>(status.st_size, 0));
    if (size > collection::max_file_bytes) {
        return board::failure(unreadable(path, "it is longer than 256 MiB"));
    }
    auto bytes = read_all(file, path, size);
    if (!bytes) {
        return board::failure(bytes.error());
    }
    return std::optional(std::move(bytes).value());
}

} // namespace history
