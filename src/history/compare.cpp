// New, still, gone: findings are matched by what they are about, never by where they stand.
#include "history/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <numeric>
#include <unordered_map>

namespace history {

namespace {

using rules::Finding;
using rules::Status;

/// Puzzles of one state by the name a finding has for them, and what both states call them.
class Names {
  public:
    enum class State : std::uint8_t { before, after };
    Names(std::span<const Pair> pairs, State state);

    /// A name for the finding's puzzle that holds in both states; its own for puzzles that were not paired.
    [[nodiscard]] std::string puzzle(const Finding& finding) const;
    /// Both states' names for every puzzle of this id.
    [[nodiscard]] std::vector<std::string> puzzles_called(const std::string& id) const;
    /// The finding's puzzle is not in the other state.
    [[nodiscard]] bool only_here(const Finding& finding) const;

  private:
    struct Known {
        std::size_t pair;
        const collection::Puzzle* puzzle;
        bool only_here;
    };
    [[nodiscard]] const Known* find(const Finding& finding) const;
    static std::string key(std::string_view file, std::string_view id) {
        return fmt::format("{}\n{}", file, id);
    }
    static std::string name_of(std::size_t pair) { return fmt::format("\n{}", pair); }

    std::unordered_map<std::string, std::vector<Known>> m_by_place;    // looked up only
    std::unordered_map<std::string, std::vector<std::size_t>> m_by_id; // looked up only
};

Names::Names(std::span<const Pair> pairs, State state) {
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        const PuzzleRef& here = state == State::before ? pairs[i].before : pairs[i].after;
        const PuzzleRef& there = state == State::before ? pairs[i].after : pairs[i].before;
        if (here) {
            const std::string& id = here.puzzle->id.value;
            m_by_place[key(here.document->path, id)].push_back({i, here.puzzle, !there});
            m_by_id[id].push_back(i);
        }
    }
}

/// Of puzzles that share an id in one file, the one the finding stands in.
const Names::Known* Names::find(const Finding& finding) const {
    const auto found = m_by_place.find(key(finding.file, finding.puzzle));
    if (found == m_by_place.end()) {
        return nullptr;
    }
    const std::vector<Known>& known = found->second;
    const auto holds = [&](const Known& one) {
        return one.puzzle->span.begin <= finding.span.begin && finding.span.begin < one.puzzle->span.end;
    };
    const auto inside = std::find_if(known.begin(), known.end(), holds);
    return inside == known.end() ? &known.front() : &*inside;
}

std::string Names::puzzle(const Finding& finding) const {
    const Known* known = find(finding);
    return known == nullptr ? key(finding.file, finding.puzzle) : name_of(known->pair);
}

bool Names::only_here(const Finding& finding) const {
    const Known* known = find(finding);
    return known != nullptr && known->only_here;
}

std::vector<std::string> Names::puzzles_called(const std::string& id) const {
    std::vector<std::string> names;
    if (const auto found = m_by_id.find(id); found != m_by_id.end()) {
        for (const std::size_t pair : found->second) {
            names.push_back(name_of(pair));
        }
    }
    return names;
}

/// Files whose puzzles went to another file, old name to new: the file they went to most.
std::map<std::string, std::string, std::less<>> renamed_files(std::span<const Pair> pairs) {
    std::map<std::string, std::map<std::string, std::size_t>> went; // before, after, puzzles
    std::map<std::string, bool> lives;
    for (const Pair& pair : pairs) {
        if (pair.after) {
            lives[pair.after.document->path] = true;
        }
        if (pair.before && pair.after) {
            ++went[pair.before.document->path][pair.after.document->path];
        }
    }
    std::map<std::string, std::string, std::less<>> renamed;
    for (const auto& [before, afters] : went) {
        if (!lives.contains(before)) {
            renamed[before] =
                std::max_element(afters.begin(), afters.end(), [](const auto& a, const auto& b) {
                    return a.second < b.second;
                })->first;
        }
    }
    return renamed;
}

/// Rules that compare puzzles with each other; the subject may be another puzzle's id.
bool is_about_several(const Finding& finding) {
    return finding.rule.starts_with("set/");
}

/// Groups of things said to belong together.
class Groups {
  public:
    void join(const std::string& a, const std::string& b) { m_parents[root(a)] = root(b); }
    [[nodiscard]] std::string root(const std::string& name) {
        std::string at = name;
        for (auto found = m_parents.find(at); found != m_parents.end() && found->second != at;
             found = m_parents.find(at)) {
            at = found->second;
        }
        if (at != name) {
            m_parents[name] = at;
        }
        return at;
    }

  private:
    std::unordered_map<std::string, std::string> m_parents; // looked up only
};

class Comparison {
  public:
    Comparison(std::vector<Finding> before, std::vector<Finding> after, std::span<const Pair> pairs)
        : m_before(std::move(before)), m_after(std::move(after)), m_names_before(pairs, Names::State::before),
          m_names_after(pairs, Names::State::after), m_renamed(renamed_files(pairs)) {}

    std::vector<Finding> make();

  private:
    [[nodiscard]] std::string key_before(const Finding& finding) const;
    [[nodiscard]] std::string key_after(const Finding& finding) const;
    static std::string key(const Finding& finding, const std::string& place, const Names& names);
    void match();
    [[nodiscard]] Groups groups_before() const;
    [[nodiscard]] bool was_known(const Finding& finding, Groups& groups) const;
    void match_groups();

    std::vector<Finding> m_before;
    std::vector<Finding> m_after;
    Names m_names_before;
    Names m_names_after;
    std::map<std::string, std::string, std::less<>> m_renamed;
};

std::string Comparison::key(const Finding& finding, const std::string& place, const Names& names) {
    std::string subject = finding.subject;
    if (is_about_several(finding) && subject == finding.puzzle) {
        subject = "\nits own id";
    } else if (is_about_several(finding)) {
        // Another puzzle, whatever its id is in this state.
        if (const auto others = names.puzzles_called(subject); others.size() == 1) {
            subject = others.front();
        }
    }
    return fmt::format("{}\n{}\n{}\n{}", finding.rule, finding.message_id, subject, place);
}

std::string Comparison::key_before(const Finding& finding) const {
    if (!finding.puzzle.empty()) {
        return key(finding, m_names_before.puzzle(finding), m_names_before);
    }
    const auto renamed = m_renamed.find(finding.file);
    return key(finding, renamed == m_renamed.end() ? finding.file : renamed->second, m_names_before);
}

std::string Comparison::key_after(const Finding& finding) const {
    return key(finding, finding.puzzle.empty() ? finding.file : m_names_after.puzzle(finding), m_names_after);
}

/// As many as there were before of one key are still there; those beyond are new.
void Comparison::match() {
    std::unordered_map<std::string, std::vector<std::size_t>> waiting; // looked up only
    for (std::size_t i = m_before.size(); i-- > 0;) {
        m_before[i].status = Status::gone;
        waiting[key_before(m_before[i])].push_back(i);
    }
    for (Finding& finding : m_after) {
        const auto found = waiting.find(key_after(finding));
        if (found == waiting.end() || found->second.empty()) {
            finding.status = Status::fresh;
            continue;
        }
        finding.status = Status::still;
        m_before[found->second.back()].status = Status::still;
        found->second.pop_back();
    }
}

std::string said(const Finding& finding, std::string_view of) {
    return fmt::format("{}\n{}\n{}", finding.rule, finding.message_id, of);
}

Groups Comparison::groups_before() const {
    Groups groups;
    for (const Finding& finding : m_before) {
        if (is_about_several(finding)) {
            const std::string self = said(finding, m_names_before.puzzle(finding));
            groups.join(self, said(finding, finding.subject));
            for (const std::string& other : m_names_before.puzzles_called(finding.subject)) {
                groups.join(said(finding, other), self);
            }
        }
    }
    return groups;
}

/// Before, the finding's puzzle and the one it is held against belonged to one group.
bool Comparison::was_known(const Finding& finding, Groups& groups) const {
    const std::string self = m_names_after.puzzle(finding);
    const std::string group = groups.root(said(finding, self));
    std::vector<std::string> others = m_names_after.puzzles_called(finding.subject);
    std::erase(others, self);
    if (others.empty()) { // it stands in a file that did not change
        return groups.root(said(finding, finding.subject)) == group;
    }
    return std::any_of(others.begin(), others.end(),
                       [&](const std::string& other) { return groups.root(said(finding, other)) == group; });
}

/// Puzzles that were found alike before stay so in whatever order they stand now, and whichever of them is
/// blamed.
void Comparison::match_groups() {
    Groups groups = groups_before();
    std::unordered_map<std::string, std::vector<std::size_t>> waiting; // looked up only
    for (std::size_t i = m_before.size(); i-- > 0;) {
        const Finding& finding = m_before[i];
        if (finding.status == Status::gone && is_about_several(finding) &&
            !m_names_before.only_here(finding)) {
            waiting[groups.root(said(finding, m_names_before.puzzle(finding)))].push_back(i);
        }
    }
    for (Finding& finding : m_after) {
        if (finding.status != Status::fresh || !is_about_several(finding) ||
            m_names_after.only_here(finding) || !was_known(finding, groups)) {
            continue;
        }
        const auto found = waiting.find(groups.root(said(finding, m_names_after.puzzle(finding))));
        if (found != waiting.end() && !found->second.empty()) {
            finding.status = Status::still;
            m_before[found->second.back()].status = Status::still;
            found->second.pop_back();
        }
    }
}

std::vector<Finding> Comparison::make() {
    match();
    match_groups();
    std::vector<Finding> result = std::move(m_after);
    for (Finding& finding : m_before) {
        if (finding.status == Status::gone) {
            result.push_back(std::move(finding));
        }
    }
    std::stable_sort(result.begin(), result.end(), rules::before);
    return result;
}

} // namespace

std::vector<rules::Finding> compare(std::vector<rules::Finding> before, std::vector<rules::Finding> after,
                                    std::span<const Pair> pairs) {
    return Comparison(std::move(before), std::move(after), pairs).make();
}

} // namespace history
