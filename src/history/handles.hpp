#pragma once
// The only file that includes libgit2: its types as owned values, and its start and end.

#include <git2.h>

#include <memory>

namespace history {

/// libgit2 started on construction and ended on destruction; libgit2 counts, so several may live at once.
class Library {
  public:
    Library() : m_started(git_libgit2_init()) {}
    ~Library() {
        if (started()) {
            git_libgit2_shutdown();
        }
    }
    Library(const Library&) = delete;
    Library& operator=(const Library&) = delete;
    [[nodiscard]] bool started() const { return m_started > 0; }

  private:
    int m_started;
};

template <auto free> struct FreedBy {
    template <class T> void operator()(T* handle) const { free(handle); }
};
template <class T, auto free> using Handle = std::unique_ptr<T, FreedBy<free>>;

using RepositoryHandle = Handle<git_repository, git_repository_free>;
using ObjectHandle = Handle<git_object, git_object_free>;
using CommitHandle = Handle<git_commit, git_commit_free>;
using TreeHandle = Handle<git_tree, git_tree_free>;
using TreeEntryHandle = Handle<git_tree_entry, git_tree_entry_free>;
using BlobHandle = Handle<git_blob, git_blob_free>;
using IndexHandle = Handle<git_index, git_index_free>;
using OdbHandle = Handle<git_odb, git_odb_free>;
using ReferenceHandle = Handle<git_reference, git_reference_free>;
using ConfigHandle = Handle<git_config, git_config_free>;
using ConfigIteratorHandle = Handle<git_config_iterator, git_config_iterator_free>;

/// Hands the address of a plain pointer to libgit2 and keeps what it wrote there.
template <class Owner> class Received {
  public:
    explicit Received(Owner& owner) : m_owner(owner) {}
    ~Received() { m_owner.reset(m_raw); }
    Received(const Received&) = delete;
    Received& operator=(const Received&) = delete;
    operator typename Owner::pointer *() { return &m_raw; } // NOLINT: made for argument lists

  private:
    Owner& m_owner;
    typename Owner::pointer m_raw = nullptr;
};

/// git_commit_lookup(into(commit), ...)
template <class Owner> [[nodiscard]] Received<Owner> into(Owner& owner) {
    return Received<Owner>(owner);
}

/// An id array libgit2 filled.
struct OidArray {
    git_oidarray ids{nullptr, 0};
    OidArray() = default;
    ~OidArray() { git_oidarray_dispose(&ids); }
    OidArray(const OidArray&) = delete;
    OidArray& operator=(const OidArray&) = delete;
};

/// A buffer libgit2 filled.
struct Buffer {
    git_buf buf{nullptr, 0, 0};
    Buffer() = default;
    ~Buffer() { git_buf_dispose(&buf); }
    Buffer(const Buffer&) = delete;
    Buffer& operator=(const Buffer&) = delete;
};

} // namespace history
