#include "history/opened.hpp"

#include "collection/document.hpp"

#include <fmt/format.h>

namespace history {

namespace {

Error cannot_read_index() {
    const std::string reason = last_message();
    if (reason.find("'link'") != std::string::npos) {
        return refused("the index is split, which the git library cannot read",
                       "git update-index --no-split-index");
    }
    if (reason.find("'sdir'") != std::string::npos) {
        return refused("the index is sparse, which the git library cannot read",
                       "git sparse-checkout reapply --no-sparse-index");
    }
    return refused(fmt::format("cannot read the index: {}", reason));
}

} // namespace

Result<CommitHandle> lookup_commit(git_repository* repository, const State& state) {
    git_oid id;
    CommitHandle commit;
    int code = git_oid_fromstr(&id, state.commit.c_str());
    if (code == 0) {
        code = git_commit_lookup(into(commit), repository, &id);
    }
    if (code != 0) {
        return board::failure(missing(repository, fmt::format("the commit {}", state.name), code));
    }
    return commit;
}

Result<TreeHandle> tree_of(git_repository* repository, const State& state) {
    if (state.kind == State::Kind::nothing) {
        return TreeHandle();
    }
    auto commit = lookup_commit(repository, state);
    if (!commit) {
        return board::failure(commit.error());
    }
    TreeHandle tree;
    if (const int code = git_commit_tree(into(tree), commit->get()); code != 0) {
        return board::failure(missing(repository, fmt::format("the files of {}", state.name), code));
    }
    return tree;
}

Result<IndexHandle> open_index(git_repository* repository) {
    IndexHandle index;
    if (git_repository_index(into(index), repository) != 0 || git_index_read(index.get(), 0) != 0) {
        return board::failure(cannot_read_index());
    }
    if (git_repository_is_bare(repository) != 0 && git_index_entrycount(index.get()) == 0) {
        return board::failure(refused("a bare repository has no index", "name a commit: --commit REV"));
    }
    return index;
}

Result<std::string> read_blob(git_repository* repository, const git_oid& id, std::string_view path) {
    OdbHandle objects;
    std::size_t size = 0;
    git_object_t type = GIT_OBJECT_INVALID;
    int code = git_repository_odb(into(objects), repository);
    if (code == 0) {
        code = git_odb_read_header(&size, &type, objects.get(), &id);
    }
    if (code == 0 && size > collection::max_file_bytes) {
        return board::failure(
            refused(fmt::format("{} is longer than 256 MiB", path), "split it, or exclude it"));
    }
    BlobHandle blob;
    if (code == 0) {
        code = git_blob_lookup(into(blob), repository, &id);
    }
    if (code != 0) {
        return board::failure(missing(repository, fmt::format("the bytes of {}", path), code));
    }
    return std::string(static_cast<const char*>(git_blob_rawcontent(blob.get())),
                       git_blob_rawsize(blob.get()));
}

} // namespace history
