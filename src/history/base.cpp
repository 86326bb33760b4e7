// Which state to compare with when nobody names one. The variables are those the CI systems document; from
// memory for all but GitHub and GitLab.
#include "history/opened.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace history {

namespace {

constexpr std::array<std::string_view, 14> variables{
    "CI",
    "GITHUB_BASE_REF",
    "GITHUB_EVENT_BEFORE",
    "GITHUB_REF",
    "GITHUB_REF_NAME",
    "GITHUB_SHA",
    "CI_MERGE_REQUEST_DIFF_BASE_SHA",
    "CI_MERGE_REQUEST_EVENT_TYPE",
    "CI_COMMIT_BEFORE_SHA",
    "CI_COMMIT_BRANCH",
    "CI_DEFAULT_BRANCH",
    "CHANGE_TARGET",
    "BITBUCKET_PR_DESTINATION_BRANCH",
    "SYSTEM_PULLREQUEST_TARGETBRANCH",
};

/// Variables that name the branch a pull request wants to go into.
constexpr std::array<std::string_view, 4> targets{
    "GITHUB_BASE_REF", "CHANGE_TARGET", "BITBUCKET_PR_DESTINATION_BRANCH", "SYSTEM_PULLREQUEST_TARGETBRANCH"};

/// Variables that name the commit before a push.
constexpr std::array<std::string_view, 2> variables_before{"GITHUB_EVENT_BEFORE", "CI_COMMIT_BEFORE_SHA"};

/// The state, with the reason for it in its name.
State because(State state, std::string_view why) {
    state.name = state.kind == State::Kind::nothing ? fmt::format("nothing ({})", why)
                                                    : fmt::format("{} ({})", brief(state.commit), why);
    return state;
}

State nothing_because(std::string_view why) {
    return because({State::Kind::nothing, "", ""}, why);
}

class Choice {
  public:
    Choice(const Repository& repository, git_repository* handle, const Environment& environment, State head)
        : m_repository(repository), m_handle(handle), m_environment(environment), m_head(std::move(head)) {}

    Result<State> make() const;

  private:
    std::string_view value(std::string_view variable) const;
    /// The first variable of `names` that says something.
    std::string_view first_set(std::span<const std::string_view> names) const;

    Result<State> from_merge_request() const;
    Result<State> from_pull_request(std::string_view variable) const;
    Result<State> from_push(std::string_view variable) const;
    Result<State> from_default_branch(std::string_view why, bool first_push) const;
    Result<std::optional<State>> from_upstream() const;
    Result<State> from_parent(std::string_view why) const;

    bool is_made_up_merge() const;
    Result<State> branch(std::string_view name) const;
    std::string default_branch() const;
    std::string current_branch() const;
    Result<State> parted_from(const State& other, std::string_view why) const;

    const Repository& m_repository;
    git_repository* m_handle;
    const Environment& m_environment;
    State m_head;
};

std::string_view Choice::value(std::string_view variable) const {
    const auto found = m_environment.find(variable);
    return found == m_environment.end() ? std::string_view() : std::string_view(found->second);
}

std::string_view Choice::first_set(std::span<const std::string_view> names) const {
    const auto found =
        std::find_if(names.begin(), names.end(), [&](std::string_view name) { return !value(name).empty(); });
    return found == names.end() ? std::string_view() : *found;
}

Result<State> Choice::make() const {
    if (!value("CI_MERGE_REQUEST_DIFF_BASE_SHA").empty()) {
        return from_merge_request();
    }
    if (const auto variable = first_set(targets); !variable.empty()) {
        return from_pull_request(variable);
    }
    if (const auto variable = first_set(variables_before); !variable.empty()) {
        return from_push(variable);
    }
    auto upstream = from_upstream();
    if (!upstream) {
        return board::failure(upstream.error());
    }
    if (!upstream->has_value()) {
        return from_parent("HEAD's parent; HEAD has no upstream branch");
    }
    // After a push CI stands on the upstream branch itself: comparing HEAD with HEAD would find nothing,
    // whatever it holds.
    const bool on_upstream = (*upstream)->commit == m_head.commit;
    return on_upstream && !value("CI").empty() ? from_parent("HEAD's parent; the upstream branch holds HEAD")
                                               : Result<State>(**upstream);
}

/// GitLab names the base itself; a pipeline on the merged result adds what others did, and its first parent
/// is the target.
Result<State> Choice::from_merge_request() const {
    const std::string_view type = value("CI_MERGE_REQUEST_EVENT_TYPE");
    if ((type == "merged_result" || type == "merge_train") && is_made_up_merge()) {
        return from_parent("the merge request's target, HEAD's first parent");
    }
    auto base = m_repository.commit(value("CI_MERGE_REQUEST_DIFF_BASE_SHA"));
    return base ? because(base.value(), "the merge request's base, from CI_MERGE_REQUEST_DIFF_BASE_SHA")
                : base;
}

/// HEAD is the merge CI made for the pull request, not one of the author's.
bool Choice::is_made_up_merge() const {
    auto commit = lookup_commit(m_handle, m_head);
    if (!commit || git_commit_parentcount(commit->get()) != 2) {
        return false;
    }
    const std::string_view ref = value("GITHUB_REF");
    const bool on_merge_ref = ref.starts_with("refs/pull/") && ref.ends_with("/merge");
    const bool sha_fits = value("GITHUB_SHA").empty() || value("GITHUB_SHA") == m_head.commit;
    return (on_merge_ref && sha_fits) || !value("CI_MERGE_REQUEST_EVENT_TYPE").empty();
}

Result<State> Choice::from_pull_request(std::string_view variable) const {
    if (variable == "GITHUB_BASE_REF" && is_made_up_merge()) {
        return from_parent(fmt::format("the pull request's base {}, HEAD's first parent", value(variable)));
    }
    auto target = branch(value(variable));
    return target ? parted_from(target.value(), fmt::format("from {}", variable)) : target;
}

Result<State> Choice::from_push(std::string_view variable) const {
    const std::string_view before = value(variable);
    if (before.find_first_not_of('0') == std::string_view::npos) {
        return from_default_branch(fmt::format("{} is empty: a first push", variable), true);
    }
    auto base = m_repository.commit(before);
    if (base) {
        return because(base.value(), fmt::format("the commit before this push, from {}", variable));
    }
    if (is_shallow(m_handle)) {
        Error error = base.error();
        error.cure = fmt::format(
            "git fetch --depth=1 origin {}; in CI: fetch-depth: 0 (GitHub), GIT_DEPTH: 0 (GitLab)", before);
        return board::failure(std::move(error));
    }
    return from_default_branch(fmt::format("{} is gone: a forced push", brief(before)), false);
}

/// The remote's branch counts before one of the same name here, which may be old.
Result<State> Choice::branch(std::string_view name) const {
    if (name.starts_with("refs/heads/")) {
        name.remove_prefix(std::string_view("refs/heads/").size());
    }
    auto remote = m_repository.commit(fmt::format("refs/remotes/origin/{}", name));
    if (!remote) {
        return m_repository.commit(name);
    }
    remote.value().name = fmt::format("origin/{}", name);
    return remote;
}

std::string Choice::default_branch() const {
    if (!value("CI_DEFAULT_BRANCH").empty()) {
        return std::string(value("CI_DEFAULT_BRANCH"));
    }
    ReferenceHandle head;
    constexpr std::string_view prefix = "refs/remotes/origin/";
    if (git_reference_lookup(into(head), m_handle, "refs/remotes/origin/HEAD") == 0) {
        const char* target = git_reference_symbolic_target(head.get());
        if (target != nullptr && std::string_view(target).starts_with(prefix)) {
            return target + prefix.size();
        }
    }
    for (const char* usual : {"main", "master"}) {
        if (m_repository.commit(fmt::format("refs/remotes/origin/{}", usual))) {
            return usual;
        }
    }
    return "";
}

std::string Choice::current_branch() const {
    constexpr std::array<std::string_view, 2> names{"CI_COMMIT_BRANCH", "GITHUB_REF_NAME"};
    if (const auto variable = first_set(names); !variable.empty()) {
        return std::string(value(variable));
    }
    ReferenceHandle head;
    return git_repository_head(into(head), m_handle) == 0 ? git_reference_shorthand(head.get()) : "";
}

Result<State> Choice::from_default_branch(std::string_view why, bool first_push) const {
    const std::string name = default_branch();
    if (name.empty()) {
        return board::failure(
            refused(fmt::format("cannot tell what to compare with: {}, and no default branch is known", why),
                    "name it: --against REV"));
    }
    if (name != current_branch()) {
        auto target = branch(name);
        return target ? parted_from(target.value(), why) : target;
    }
    if (first_push) {
        return nothing_because(fmt::format("{} of the default branch", why));
    }
    return board::failure(
        refused(fmt::format("cannot tell what to compare with: {} of the default branch", why),
                "name it: --against REV"));
}

Result<State> Choice::parted_from(const State& other, std::string_view why) const {
    auto base = m_repository.merge_base(other, m_head);
    if (base) {
        base.value().name.back() = ','; // of the bracket merge_base has put its reason into
        base.value().name += fmt::format(" {})", why);
    }
    return base;
}

Result<std::optional<State>> Choice::from_upstream() const {
    ReferenceHandle head;
    ReferenceHandle upstream;
    if (git_repository_head_detached(m_handle) != 0 || git_repository_head(into(head), m_handle) != 0 ||
        git_branch_upstream(into(upstream), head.get()) != 0) {
        return std::optional<State>{};
    }
    auto tip = m_repository.commit(git_reference_name(upstream.get()));
    if (!tip) {
        return board::failure(tip.error());
    }
    tip.value().name = git_reference_shorthand(upstream.get());
    auto base = parted_from(tip.value(), "HEAD's upstream branch");
    return base ? Result<std::optional<State>>(base.value()) : board::failure(base.error());
}

Result<State> Choice::from_parent(std::string_view why) const {
    auto parent = m_repository.parent(m_head);
    if (!parent) {
        return board::failure(parent.error());
    }
    return parent->has_value() ? because(**parent, why) : nothing_because("HEAD is the first commit");
}

/// Latest first, then by id: an order that depends on nothing but the commits.
Result<State> first_of(git_repository* repository, const git_oidarray& ids) {
    std::vector<std::pair<git_time_t, std::string>> order;
    for (std::size_t i = 0; i < ids.count; ++i) {
        CommitHandle commit;
        if (const int code = git_commit_lookup(into(commit), repository, &ids.ids[i]); code != 0) {
            return board::failure(missing(repository, fmt::format("the commit {}", hex(ids.ids[i])), code));
        }
        order.emplace_back(-git_commit_time(commit.get()), hex(ids.ids[i]));
    }
    const std::string id = std::min_element(order.begin(), order.end())->second;
    return State{State::Kind::commit, id, ""};
}

} // namespace

std::span<const std::string_view> base_variables() {
    return variables;
}

Result<State> Repository::merge_base(const State& one, const State& other) const {
    git_repository* repository = m_handles->repository.get();
    if (one.kind != State::Kind::commit || other.kind != State::Kind::commit) {
        return nothing_because(fmt::format("{} and {} share no commit", one.name, other.name));
    }
    auto commit_one = lookup_commit(repository, one);
    auto commit_other = lookup_commit(repository, other);
    if (!commit_one || !commit_other) {
        return board::failure(!commit_one ? commit_one.error() : commit_other.error());
    }
    OidArray found;
    const int code = git_merge_bases(&found.ids, repository, git_commit_id(commit_one->get()),
                                     git_commit_id(commit_other->get()));
    const std::string what = fmt::format("where {} and {} parted", one.name, other.name);
    if (code != 0 && is_shallow(repository)) {
        return board::failure(missing(repository, what, GIT_ENOTFOUND));
    }
    if (code == GIT_ENOTFOUND) {
        return board::failure(refused(fmt::format("{} and {} share no history", one.name, other.name),
                                      "name the revision to compare with: --against REV"));
    }
    if (code != 0) {
        return board::failure(missing(repository, what, code));
    }
    auto base = first_of(repository, found.ids);
    if (!base) {
        return base;
    }
    const std::string among =
        found.ids.count == 1 ? "" : fmt::format(", the latest of {} such commits", found.ids.count);
    return because(base.value(), what + among);
}

Result<State> Repository::choose_base(const Environment& environment) const {
    auto current = head();
    if (!current || current->kind == State::Kind::nothing) {
        return current;
    }
    return Choice(*this, m_handles->repository.get(), environment, current.value()).make();
}

} // namespace history
