#pragma once
// The only file that includes libgit2: its types as owned values, and its start and end.

#include <git2.h>

#include <utility>

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

/// A libgit2 object with one owner. Not a unique_ptr because libgit2 writes into pointers, and what it wrote
/// must be there at once: `lookup(into(a), ...) == 0 && use(a.get())`.
template <class T, auto free> class Handle {
  public:
    Handle() = default;
    ~Handle() { reset(); }
    Handle(Handle&& other) noexcept : m_object(std::exchange(other.m_object, nullptr)) {}
    Handle& operator=(Handle&& other) noexcept {
        if (this != &other) {
            reset();
            m_object = std::exchange(other.m_object, nullptr);
        }
        return *this;
    }
    [[nodiscard]] T* get() const { return m_object; }
    explicit operator bool() const { return m_object != nullptr; }

    /// Where libgit2 shall put an object; what was held is let go.
    friend T** into(Handle& handle) {
        handle.reset();
        return &handle.m_object;
    }

  private:
    void reset() {
        if (m_object != nullptr) {
            free(std::exchange(m_object, nullptr));
        }
    }
    T* m_object = nullptr;
};

using RepositoryHandle = Handle<git_repository, git_repository_free>;
using ObjectHandle = Handle<git_object, git_object_free>;
using CommitHandle = Handle<git_commit, git_commit_free>;
using TreeHandle = Handle<git_tree, git_tree_free>;
using TreeEntryHandle = Handle<git_tree_entry, git_tree_entry_free>;
using BlobHandle = Handle<git_blob, git_blob_free>;
using IndexHandle = Handle<git_index, git_index_free>;
using OdbHandle = Handle<git_odb, git_odb_free>;
using ReferenceHandle = Handle<git_reference, git_reference_free>;
using PatchHandle = Handle<git_patch, git_patch_free>;
using ConfigHandle = Handle<git_config, git_config_free>;
using ConfigIteratorHandle = Handle<git_config_iterator, git_config_iterator_free>;

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
