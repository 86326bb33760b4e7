#include "scratch.hpp"

#include "catch.hpp"
#include "holds.hpp"

#include <array>
#include <chrono>
#include <cstdlib>
#include <fstream>

// For the sanitizers only: libgit2 1.5 forgets to free what a regular expression was matched with, and its
// lists when a walk fails at a shallow border. The full stack is needed to tell these from leaks of ours.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:pcre2_match_data_create\nleak:git_merge_bases\n";
}
extern "C" const char* __asan_default_options();
extern "C" const char* __asan_default_options() {
    return "fast_unwind_on_malloc=0";
}

namespace scratch {

namespace {

namespace fs = std::filesystem;

/// Fails the test with what libgit2 says.
void must(int code) {
    INFO((git_error_last() == nullptr ? "" : git_error_last()->message));
    REQUIRE(code >= 0);
}

const fs::path& home() {
    static const Folder folder;
    return folder.path();
}

/// libgit2 for the whole run, with no configuration but the repositories' own.
void be_hermetic() {
    static const history::Library library;
    for (const int level : {GIT_CONFIG_LEVEL_PROGRAMDATA, GIT_CONFIG_LEVEL_SYSTEM, GIT_CONFIG_LEVEL_XDG,
                            GIT_CONFIG_LEVEL_GLOBAL}) {
        must(git_libgit2_opts(GIT_OPT_SET_SEARCH_PATH, level, home().c_str()));
    }
    for (const char* name :
         {"GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE", "GIT_COMMON_DIR", "GIT_OBJECT_DIRECTORY",
          "GIT_ALTERNATE_OBJECT_DIRECTORIES", "GIT_CEILING_DIRECTORIES", "GIT_NAMESPACE"}) {
        ::unsetenv(name);
    }
}

git_oid id_of(const std::string& hex) {
    git_oid id;
    must(git_oid_fromstr(&id, hex.c_str()));
    return id;
}

std::string hex_of(const git_oid& id) {
    std::array<char, GIT_OID_HEXSZ + 1> text{};
    return git_oid_tostr(text.data(), text.size(), &id);
}

} // namespace

Folder::Folder() {
    std::string pattern = (fs::temp_directory_path() / "sidelint-XXXXXX").string();
    REQUIRE(::mkdtemp(pattern.data()) != nullptr);
    m_path = fs::canonical(pattern);
}

Folder::~Folder() {
    std::error_code ignored;
    fs::remove_all(m_path, ignored);
}

Variable::Variable(std::string name, const std::string& value) : m_name(std::move(name)) {
    ::setenv(m_name.c_str(), value.c_str(), 1);
}

Variable::~Variable() {
    ::unsetenv(m_name.c_str());
}

UserConfig::UserConfig(const std::string& text) {
    std::ofstream(home() / ".gitconfig") << text;
}
UserConfig::~UserConfig() {
    fs::remove(home() / ".gitconfig");
}

Repository::Repository(Shape shape) {
    be_hermetic();
    git_repository_init_options options;
    must(git_repository_init_options_init(&options, GIT_REPOSITORY_INIT_OPTIONS_VERSION));
    options.flags = GIT_REPOSITORY_INIT_MKPATH;
    if (shape == Shape::bare) {
        options.flags |= GIT_REPOSITORY_INIT_BARE;
    }
    options.initial_head = "main";
    must(git_repository_init_ext(into(m_repository), root().c_str(), &options));
}

git_oid Repository::store(const Item& item) const {
    if (item.mode == 0160000) {
        return id_of(item.bytes);
    }
    git_oid id;
    must(git_blob_create_from_buffer(&id, m_repository.get(), item.bytes.data(), item.bytes.size()));
    return id;
}

std::string Repository::commit(const Files& files, const std::vector<std::string>& parents, const char* ref) {
    history::IndexHandle index;
    must(git_index_new(into(index)));
    for (const auto& [path, item] : files) {
        git_index_entry entry{};
        entry.path = path.c_str();
        entry.mode = item.mode;
        entry.id = store(item);
        must(git_index_add(index.get(), &entry));
    }
    git_oid tree_id;
    must(git_index_write_tree_to(&tree_id, index.get(), m_repository.get()));
    history::TreeHandle tree;
    must(git_tree_lookup(into(tree), m_repository.get(), &tree_id));
    std::vector<history::CommitHandle> owned(parents.size());
    std::vector<const git_commit*> plain;
    for (std::size_t i = 0; i < parents.size(); ++i) {
        const git_oid id = id_of(parents[i]);
        must(git_commit_lookup(into(owned[i]), m_repository.get(), &id));
        plain.push_back(owned[i].get());
    }
    std::string name = "Somebody";
    std::string mail = "somebody@example.org";
    const git_signature who{name.data(), mail.data(), {1'700'000'000 + 60 * ++m_commits, 0, '+'}};
    git_oid id;
    must(git_commit_create(&id, m_repository.get(), nullptr, &who, &who, nullptr, "a change", tree.get(),
                           plain.size(), plain.data()));
    if (ref != nullptr) {
        history::ReferenceHandle made;
        const std::string target = std::string(ref) == "HEAD" ? "refs/heads/main" : ref;
        must(git_reference_create(into(made), m_repository.get(), target.c_str(), &id, 1, nullptr));
    }
    return hex_of(id);
}

void Repository::stage(const Files& files) const {
    history::IndexHandle index;
    must(git_repository_index(into(index), m_repository.get()));
    must(git_index_clear(index.get()));
    for (const auto& [path, item] : files) {
        git_index_entry entry{};
        entry.path = path.c_str();
        entry.mode = item.mode;
        entry.id = store(item);
        must(git_index_add(index.get(), &entry));
    }
    must(git_index_write(index.get()));
}

void Repository::stage(git_index_entry entry, const std::string& bytes) const {
    history::IndexHandle index;
    must(git_repository_index(into(index), m_repository.get()));
    entry.id = store({bytes});
    must(git_index_add(index.get(), &entry));
    must(git_index_write(index.get()));
}

void Repository::write(const std::string& path, const std::string& bytes) const {
    const fs::path file = fs::path(root()) / path;
    fs::create_directories(file.parent_path());
    std::ofstream(file, std::ios::binary) << bytes;
}

std::string Repository::check_in(const Files& files) {
    std::vector<std::string> parents;
    git_oid tip;
    if (git_reference_name_to_id(&tip, m_repository.get(), "HEAD") == 0) {
        parents.push_back(hex_of(tip));
    }
    const std::string id = commit(files, parents);
    for (const auto& [path, item] : files) {
        if (item.mode == 0100644) {
            write(path, item.bytes);
        }
    }
    stage(files);
    return id;
}

void Repository::refresh_index(const Files& files) const {
    history::IndexHandle index;
    must(git_repository_index(into(index), m_repository.get()));
    for (const auto& [path, item] : files) {
        // Older than the index, or nobody may trust the file's time.
        fs::last_write_time(fs::path(root()) / path,
                            fs::file_time_type::clock::now() - std::chrono::hours(1));
        must(git_index_add_bypath(index.get(), path.c_str()));
    }
    must(git_index_write(index.get()));
}

void Repository::set_config(const char* name, const char* value) const {
    history::ConfigHandle config;
    must(git_repository_config(into(config), m_repository.get()));
    must(git_config_set_string(config.get(), name, value));
}

void Repository::branch(const std::string& ref, const std::string& commit) const {
    const git_oid id = id_of(commit);
    history::ReferenceHandle made;
    must(git_reference_create(into(made), m_repository.get(), ref.c_str(), &id, 1, nullptr));
}

void Repository::forget(const std::string& id) const {
    REQUIRE(fs::remove(git_folder() / "objects" / id.substr(0, 2) / id.substr(2)));
}

void Repository::make_shallow(const std::vector<std::string>& border) const {
    std::ofstream file(git_folder() / "shallow");
    for (const std::string& id : border) {
        file << id << '\n';
    }
}

history::Repository Repository::open(history::Trust trust) const {
    auto opened = history::Repository::open(root(), trust);
    INFO((opened.ok() ? "" : opened.error().message));
    REQUIRE(opened.ok());
    return std::move(opened).value();
}

std::string told(const std::vector<history::FileChange>& changes) {
    std::string text;
    for (const history::FileChange& change : changes) {
        text += text.empty() ? "" : " ";
        text += !change.before ? "+" : !change.after ? "-" : "~";
        text += change.after ? change.after->path : change.before->path;
    }
    return text;
}

} // namespace scratch
