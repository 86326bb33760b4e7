// Two states of the repository: what differs between them is read from git.

#include "app/akin.hpp"
#include "app/subject.hpp"
#include "config/config.hpp"
#include "history/repository.hpp"
#include "rules/check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

namespace app {
namespace {

using history::Repository;
using history::State;

struct Sides {
    State before;
    State after;
};

/// GitHub tells the commit before a push in a file only. Quotes inside its texts are escaped, so that
/// `"before"` is a key.
std::string before_of_event(const std::string& path) {
    constexpr std::size_t most = std::size_t{32} << 20U;
    std::ifstream file(path, std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(file), {});
    std::size_t at = text.size() > most ? std::string::npos : text.find("\"before\"");
    if (at == std::string::npos) {
        return {};
    }
    at = text.find_first_not_of(" \t\r\n:", at + 8);
    if (at == std::string::npos || text[at] != '"') {
        return {};
    }
    const std::size_t end = text.find_first_not_of("0123456789abcdef", at + 1);
    const bool is_id = end != std::string::npos && text[end] == '"' && end - at - 1 >= 40;
    return is_id ? text.substr(at + 1, end - at - 1) : "";
}

history::Environment variables_for_history(const Environment& environment) {
    history::Environment variables = environment.variables;
    const auto event = variables.find("GITHUB_EVENT_PATH");
    if (event != variables.end() && !variables.contains("GITHUB_EVENT_BEFORE")) {
        if (std::string before = before_of_event(event->second); !before.empty()) {
            variables["GITHUB_EVENT_BEFORE"] = std::move(before);
        }
    }
    return variables;
}

Result<State> later_side(const Repository& repository, const CheckOptions& options) {
    if (options.staged) {
        return repository.index();
    }
    if (options.commit) {
        return repository.commit(*options.commit);
    }
    if (repository.root().empty()) {
        return board::failure(
            usage_error("a bare repository has no files to check", "name a commit: --commit REV"));
    }
    return repository.worktree();
}

Result<State> earlier_side(const Repository& repository, const CheckOptions& options, const State& later,
                           const Environment& environment) {
    if (options.base) {
        return *options.base;
    }
    if (options.against) {
        return *options.against == "auto" ? repository.choose_base(variables_for_history(environment))
                                          : repository.commit(*options.against);
    }
    if (options.staged) {
        return repository.head();
    }
    const auto parent = repository.parent(later);
    if (!parent) {
        return board::failure(parent.error());
    }
    return parent->value_or(State{State::Kind::nothing, {}, "nothing (a first commit)"});
}

Result<Sides> sides_of(const Repository& repository, const CheckOptions& options,
                       const Environment& environment) {
    auto after = later_side(repository, options);
    if (!after) {
        return board::failure(after.error());
    }
    auto before = earlier_side(repository, options, *after, environment);
    if (!before && options.or_all) {
        return Sides{State{State::Kind::nothing, {}, fmt::format("nothing ({})", before.error().message)},
                     std::move(after).value()};
    }
    if (!before) {
        return board::failure(before.error());
    }
    return Sides{std::move(before).value(), std::move(after).value()};
}

std::vector<FileText> read_all(const Repository& repository, const State& state,
                               const std::vector<history::FileState>& files) {
    std::vector<FileText> texts;
    texts.reserve(files.size());
    for (const history::FileState& file : files) {
        texts.push_back({file.path, repository.bytes(state, file)});
    }
    return texts;
}

using FoundConfiguration = board::Result<Configuration, Errors>;

FoundConfiguration configuration_of(const Repository& repository, const State& state,
                                    const Workspace& workspace, const CheckOptions& options,
                                    const Environment& environment, const rules::Catalogue& catalogue) {
    return find_configuration(options, environment, workspace, catalogue,
                              [&](std::string_view path) { return repository.bytes_at(state, path); });
}

/// What `later` lets pass that `earlier` does not, for the end of a remark.
std::string looser_in(const rules::Policy& earlier, const rules::Policy& later,
                      const rules::Catalogue& catalogue, std::string_view when) {
    const auto lines = config::loosened(earlier, later, catalogue);
    return lines.empty() ? std::string() : fmt::format("; less strict {}: {}", when, fmt::join(lines, "; "));
}

/// Says so when the earlier state was configured otherwise, and what the later one lets pass; or, when a
/// revision was named whose configuration counts, what the later state's own would.
void compare_configurations(const Repository& repository, const Sides& sides, const Workspace& workspace,
                            const CheckOptions& options, const Configuration& now,
                            const rules::Catalogue& catalogue, Subject& subject) {
    const State& other_state = options.config_from ? sides.after : sides.before;
    if (options.config || other_state.kind == State::Kind::nothing) {
        return;
    }
    auto other = configuration_of(repository, other_state, workspace, options, {}, catalogue);
    const bool readable = other.ok();
    if (readable && other->place == now.place && other->text == now.text) {
        return;
    }
    const std::string& place = now.place.empty() && readable ? other->place : now.place;
    std::string remark;
    if (options.config_from) {
        remark = fmt::format("judged by the configuration of {}; that of {} differs", *options.config_from,
                             sides.after.name);
        remark += readable ? looser_in(now.policy, other->policy, catalogue, "there") : "";
    } else {
        remark = fmt::format("{} differs from that of {}: both states are judged by the later one", place,
                             sides.before.name);
        remark += readable ? looser_in(other->policy, now.policy, catalogue, "now") : "";
        if (readable && !config::loosened(other->policy, now.policy, catalogue).empty()) {
            subject.former = other->policy;
        }
    }
    subject.remarks.push_back(std::move(remark));
}

bool asks_about_the_whole(const rules::Policy& policy, const rules::Catalogue& catalogue) {
    return std::any_of(rules::registry().begin(), rules::registry().end(), [&](const rules::Rule& rule) {
        const rules::RuleEntry* const entry = catalogue.rule(rule.id);
        return std::holds_alternative<rules::CollectionRule>(rule.check) && entry != nullptr &&
               rules::on_somewhere(*entry, policy);
    });
}

/// What differs between two states: the files to be compared, and those that nobody asked for.
struct Changed {
    std::vector<history::FileState> before;
    std::vector<history::FileState> after;
    std::vector<history::FileState> others;   ///< as they are in the later state
    std::set<std::string, std::less<>> paths; ///< of all of them
};

Result<Changed> changed_files(const Repository& repository, const Sides& sides, const Workspace& workspace,
                              Subject& subject) {
    const auto changes = repository.changes(sides.before, sides.after, subject.policy, subject.remarks);
    if (!changes) {
        return board::failure(changes.error());
    }
    Changed changed;
    for (const history::FileChange& change : *changes) {
        const std::string& path = (change.after ? change.after : change.before)->path;
        if (!may_hold_puzzles(path, subject.policy)) {
            continue;
        }
        changed.paths.insert(path);
        const bool asked = asked_for(workspace, path);
        if (change.before && asked) {
            changed.before.push_back(*change.before);
        }
        if (change.after) {
            (asked ? changed.after : changed.others).push_back(*change.after);
        }
    }
    return changed;
}

/// The later state holds a file that was asked for.
Result<bool> holds_any(const Repository& repository, const State& state, const Workspace& workspace,
                       const rules::Policy& policy) {
    std::vector<std::string> ignored;
    const auto all = repository.files(state, policy, ignored);
    if (!all) {
        return board::failure(all.error());
    }
    return std::any_of(all->begin(), all->end(), [&](const history::FileState& file) {
        return may_hold_puzzles(file.path, policy) && asked_for(workspace, file.path);
    });
}

/// Files that did not change, but hold a puzzle like one that did.
Result<std::vector<history::FileState>> akin_to_changed(const Repository& repository, const Sides& sides,
                                                        const Changed& changed, const Recall& recall,
                                                        std::size_t jobs, Subject& subject) {
    if (sides.before.kind != State::Kind::commit) {
        return std::vector<history::FileState>{};
    }
    AkinTo wanted{sides.before, {}, [&](std::string_view path) { return !changed.paths.contains(path); }};
    for (const auto* documents : {&subject.comparison->before, &subject.documents}) {
        for (const collection::Document& document : *documents) {
            const auto marks = rules::marks_of(document);
            wanted.marks.insert(wanted.marks.end(), marks.begin(), marks.end());
        }
    }
    std::sort(wanted.marks.begin(), wanted.marks.end());
    return akin_files(repository, wanted, subject.policy, recall.memory, jobs, subject.errors);
}

/// Both sides of what differs, and of everything else what the rules about the whole have to see.
std::optional<Error> read_sides(const Repository& repository, const Sides& sides, const Workspace& workspace,
                                const CheckOptions& options, const rules::Catalogue& catalogue,
                                const Recall& recall, std::size_t jobs, Subject& subject) {
    const auto found = changed_files(repository, sides, workspace, subject);
    if (!found) {
        return found.error();
    }
    const Changed& changed = *found;
    const bool differ = !changed.before.empty() || !changed.after.empty();
    if (!differ && !options.allow_empty) {
        const auto any = holds_any(repository, sides.after, workspace, subject.policy);
        if (!any || !*any) {
            return any ? nothing_matched(workspace, subject.policy) : any.error();
        }
    }
    Comparison& comparison = *subject.comparison;
    const auto documents_of = [&](const State& state, const std::vector<history::FileState>& files) {
        return read_documents(read_all(repository, state, files), subject.policy, jobs, subject.errors);
    };
    comparison.before = documents_of(sides.before, changed.before);
    subject.documents = documents_of(sides.after, changed.after);
    if (differ && asks_about_the_whole(subject.policy, catalogue)) {
        const auto akin = akin_to_changed(repository, sides, changed, recall, jobs, subject);
        if (!akin) {
            return akin.error();
        }
        comparison.the_same = documents_of(sides.before, *akin);
        for (collection::Document& other : documents_of(sides.after, changed.others)) {
            comparison.the_same.push_back(std::move(other));
        }
    }
    return std::nullopt;
}

void drop_doubled(std::vector<std::string>& remarks) {
    std::vector<std::string> kept;
    for (std::string& remark : remarks) {
        if (std::find(kept.begin(), kept.end(), remark) == kept.end()) {
            kept.push_back(std::move(remark));
        }
    }
    remarks = std::move(kept);
}

} // namespace

LoadedSubject load_states(const CheckOptions& options, const Environment& environment,
                          const rules::Catalogue& catalogue, const Recall& recall, std::size_t jobs) {
    const auto trust = options.trust_repository ? history::Trust::anyone : history::Trust::owner_only;
    const auto repository = Repository::open(common_folder(environment, options.paths), trust);
    if (!repository) {
        return board::failure(Errors{repository.error()});
    }
    const std::string& root = repository->root();
    const auto workspace =
        find_workspace(environment, options.paths, root.empty() ? environment.folder : root);
    if (!workspace) {
        return board::failure(Errors{workspace.error()});
    }
    const auto sides = sides_of(*repository, options, environment);
    if (!sides) {
        return board::failure(Errors{sides.error()});
    }
    const auto judging =
        options.config_from ? repository->commit(*options.config_from) : Result<State>(sides->after);
    if (!judging) {
        return board::failure(Errors{judging.error()});
    }
    auto configuration = configuration_of(*repository, *judging, *workspace, options, environment, catalogue);
    if (!configuration) {
        return board::failure(std::move(configuration).error());
    }
    Subject subject;
    subject.policy = configuration->policy;
    subject.comparison.emplace();
    subject.comparison->name = sides->before.name;
    if (sides->before.kind == State::Kind::commit) {
        subject.comparison->commit = sides->before.commit;
    }
    compare_configurations(*repository, *sides, *workspace, options, *configuration, catalogue, subject);
    if (auto fault = read_sides(*repository, *sides, *workspace, options, catalogue, recall, jobs, subject)) {
        return board::failure(Errors{std::move(*fault)});
    }
    drop_doubled(subject.remarks);
    return subject;
}

} // namespace app
