#include "history/replace.hpp"

#include "history/descriptor.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>

namespace history {

namespace {

using collection::Error;

/// One file on its way to new bytes. The part file is removed unless it took the file's name.
class Replacement {
  public:
    Replacement(Descriptor folder, std::string_view path)
        : m_folder(std::move(folder)), m_path(path), m_name(m_path.substr(m_path.rfind('/') + 1)),
          m_part("." + m_name + ".sidelint-part") {}
    ~Replacement() {
        if (m_part_is_ours) {
            ::unlinkat(m_folder.get(), m_part.c_str(), 0);
        }
    }
    Replacement(const Replacement&) = delete;
    Replacement& operator=(const Replacement&) = delete;

    std::optional<Error> run(std::string_view before, std::string_view after);

  private:
    [[nodiscard]] Error failed(std::string_view why, std::string cure = {}) const {
        return {Error::Kind::io, fmt::format("cannot be written, and is left as it was: {}", why), m_path,
                std::move(cure)};
    }
    [[nodiscard]] Error failed_by_system(int number) const { return failed(system_reason(number)); }
    std::optional<Error> look(std::string_view before, std::string_view after, bool& done);
    std::optional<Error> write_part(std::string_view bytes);

    Descriptor m_folder;
    std::string m_path;
    std::string m_name;
    std::string m_part;
    struct stat m_status {};
    bool m_locked = false;
    bool m_part_is_ours = false;
};

/// Is it still the file that was read, and may it be written?
std::optional<Error> Replacement::look(std::string_view before, std::string_view after, bool& done) {
    const Descriptor file(
        ::openat(m_folder.get(), m_name.c_str(), O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK));
    if (!file.ok() || ::fstat(file.get(), &m_status) != 0) {
        return failed(errno == ELOOP ? "it is a symbolic link" : system_reason(errno));
    }
    if (!S_ISREG(m_status.st_mode)) {
        return failed("it is not a regular file");
    }
    auto bytes = read_all(file, m_path, static_cast<std::size_t>(m_status.st_size));
    if (!bytes) {
        return bytes.error();
    }
    if (*bytes == after) {
        done = true; // another run was here
        return std::nullopt;
    }
    if (*bytes != before) {
        return failed("it has changed since it was read", "run it again");
    }
    constexpr mode_t anyone_writes = 0222;
    if ((m_status.st_mode & anyone_writes) == 0 ||
        ::faccessat(m_folder.get(), m_name.c_str(), W_OK, 0) != 0) {
        return failed("it is read-only", "give write permission first (chmod u+w)");
    }
    return std::nullopt;
}

std::optional<Error> Replacement::write_part(std::string_view bytes) {
    constexpr int flags = O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC;
    constexpr mode_t private_mode = 0600;
    const auto open = [&] {
        return Descriptor(::openat(m_folder.get(), m_part.c_str(), flags, private_mode));
    };
    Descriptor part = open();
    if (!part.ok() && errno == EEXIST && m_locked && ::unlinkat(m_folder.get(), m_part.c_str(), 0) == 0) {
        part = open(); // nobody else is at work here: a run that was killed left it
    }
    if (!part.ok()) {
        return failed_by_system(errno);
    }
    m_part_is_ours = true;
    while (!bytes.empty()) {
        const ssize_t written = ::write(part.get(), bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written < 0) {
            return failed_by_system(errno);
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    constexpr mode_t permissions = 07777;
    const int ignored =
        ::fchown(part.get(), m_status.st_uid, m_status.st_gid); // only some may give files away
    static_cast<void>(ignored);
    if (::fchmod(part.get(), m_status.st_mode & permissions) != 0 || ::fsync(part.get()) != 0) {
        return failed_by_system(errno);
    }
    return ::close(part.release()) == 0 ? std::nullopt : std::optional(failed_by_system(errno));
}

std::optional<Error> Replacement::run(std::string_view before, std::string_view after) {
    m_locked = ::flock(m_folder.get(), LOCK_EX) == 0; // against other runs; released with the descriptor
    bool done = false;
    if (auto fault = look(before, after, done); fault || done) {
        return fault;
    }
    if (auto fault = write_part(after)) {
        return fault;
    }
    if (::renameat(m_folder.get(), m_part.c_str(), m_folder.get(), m_name.c_str()) != 0) {
        return failed_by_system(errno);
    }
    m_part_is_ours = false;
    ::fsync(m_folder.get()); // the new name; some file systems know no such thing
    return std::nullopt;
}

collection::Result<std::optional<Descriptor>> folder_of(const std::string& root, std::string_view path) {
    const std::size_t slash = path.rfind('/');
    if (slash != std::string_view::npos) {
        return open_beneath(root, path.substr(0, slash));
    }
    return std::optional<Descriptor>(std::in_place, ::open(root.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
}

} // namespace

std::optional<collection::Error> replace_beneath(const std::string& root, std::string_view path,
                                                 std::string_view before, std::string_view after) {
    auto folder = folder_of(root, path);
    if (!folder) {
        return folder.error();
    }
    std::optional<Descriptor> opened = std::move(folder).value();
    if (!opened || !opened->ok()) {
        return unreadable(path, "its folder is gone");
    }
    return Replacement(std::move(*opened), path).run(before, after);
}

} // namespace history
