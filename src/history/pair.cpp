// Which puzzle became which. Stages from the surest sign to the weakest; each takes the first that fits, in
// order.
#include "history/compare.hpp"
#include "history/meaning.hpp"
#include "history/rising.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <tuple>
#include <unordered_map>

namespace history {

namespace {

using Key = std::optional<std::size_t>;
constexpr std::size_t none = static_cast<std::size_t>(-1);

/// One puzzle of one state, with what it is recognised by.
struct Member {
    PuzzleRef ref;
    std::size_t ordinal = 0; ///< in its file
    std::size_t partner = none;
    Facts facts;
    Key id; ///< only a stated one
    std::size_t file = 0;
    std::size_t meaning = 0; ///< all facts but the id
    Key position;
    Key moves;
};

std::size_t hash_of(std::string_view text) {
    return std::hash<std::string_view>()(text);
}
std::size_t mixed(std::size_t a, std::size_t b) {
    return (a ^ (b + 0x9e3779b97f4a7c15U + (a << 6U) + (a >> 2U))) * 31U;
}

Key hash_unless_empty(std::string_view text) {
    return text.empty() ? std::nullopt : Key(hash_of(text));
}

Member member_of(const collection::Document& document, const collection::Puzzle& puzzle,
                 std::size_t ordinal) {
    Member member;
    member.ref = {&document, &puzzle};
    member.ordinal = ordinal;
    member.facts = facts_of(puzzle);
    member.id = puzzle.id_stated ? Key(hash_of(puzzle.id.value)) : std::nullopt;
    member.file = hash_of(document.path);
    for (std::size_t i = 1; i < member.facts.size(); ++i) {
        member.meaning =
            mixed(mixed(member.meaning, hash_of(member.facts[i].first)), hash_of(member.facts[i].second));
    }
    member.position = hash_unless_empty(telling_position(puzzle));
    member.moves = hash_unless_empty(main_moves(puzzle));
    return member;
}

std::vector<Member> members_of(std::span<const collection::Document> documents) {
    std::vector<Member> members;
    for (const collection::Document& document : documents) {
        for (std::size_t i = 0; i < document.puzzles.size(); ++i) {
            members.push_back(member_of(document, document.puzzles[i], i));
        }
    }
    return members;
}

/// Squares that differ, the later and the earlier member: the nearest sort first.
using Likenesses = std::vector<std::tuple<int, std::size_t, std::size_t>>;

class Pairing {
  public:
    Pairing(std::span<const collection::Document> before, std::span<const collection::Document> after)
        : m_before(members_of(before)), m_after(members_of(after)) {}

    std::vector<Pair> make();

  private:
    void pair(std::size_t before, std::size_t after) {
        m_before[before].partner = after;
        m_after[after].partner = before;
    }
    /// Pairs the members of one key, first with first.
    template <class KeyOf> void match(KeyOf key_of);
    void pair_nearest(Likenesses likenesses);
    void match_alike(const std::vector<std::size_t>& befores, const std::vector<std::size_t>& afters);
    void match_alike_within_files();
    void match_alike_across_files();
    void mark_moved(std::vector<Pair>& pairs) const;
    static Pair judged(const Member& before, const Member& after);
    static std::vector<std::size_t> unpaired(const std::vector<Member>& members);

    std::vector<Member> m_before;
    std::vector<Member> m_after;
};

template <class KeyOf> void Pairing::match(KeyOf key_of) {
    struct Queue {
        std::vector<std::size_t> members;
        std::size_t next = 0;
    };
    std::unordered_map<std::size_t, Queue> waiting; // looked up only, never walked
    for (const std::size_t i : unpaired(m_before)) {
        if (const Key key = key_of(m_before[i])) {
            waiting[*key].members.push_back(i);
        }
    }
    if (waiting.empty()) {
        return;
    }
    for (const std::size_t i : unpaired(m_after)) {
        const Key key = key_of(m_after[i]);
        const auto found = key ? waiting.find(*key) : waiting.end();
        if (found != waiting.end() && found->second.next < found->second.members.size()) {
            pair(found->second.members[found->second.next++], i);
        }
    }
}

std::vector<std::size_t> Pairing::unpaired(const std::vector<Member>& members) {
    std::vector<std::size_t> result;
    for (std::size_t i = 0; i < members.size(); ++i) {
        if (members[i].partner == none) {
            result.push_back(i);
        }
    }
    return result;
}

/// Squares that differ when two puzzles are alike enough to be one that was edited.
std::optional<int> likeness(const Member& before, const Member& after) {
    const auto diagram_before = diagram_of(*before.ref.puzzle);
    const auto diagram_after = diagram_of(*after.ref.puzzle);
    if (!diagram_before || !diagram_after) {
        return std::nullopt;
    }
    const int squares = distance(*diagram_before, *diagram_after);
    const bool same_moves = before.moves && before.moves == after.moves;
    const bool told_apart = before.id && after.id && before.id != after.id;
    const bool telling = before.position && after.position;
    // One man set elsewhere changes two squares; the same play bears up to three such changes.
    const bool alike = told_apart   ? same_moves && squares <= 2
                       : same_moves ? squares <= 6
                                    : telling && squares <= 2;
    return alike ? std::optional(squares) : std::nullopt;
}

void Pairing::pair_nearest(Likenesses likenesses) {
    std::sort(likenesses.begin(), likenesses.end());
    for (const auto& [squares, j, i] : likenesses) {
        if (m_before[i].partner == none && m_after[j].partner == none) {
            pair(i, j);
        }
    }
}

/// All pairs of a file's leftovers, or, when they are many, each with those about as far down in the other
/// state.
void Pairing::match_alike(const std::vector<std::size_t>& befores, const std::vector<std::size_t>& afters) {
    constexpr std::size_t all_pairs = 40'000;
    constexpr std::size_t window = 32;
    const bool all = befores.size() * afters.size() <= all_pairs;
    Likenesses candidates;
    for (std::size_t j = 0; j < afters.size(); ++j) {
        const std::size_t middle = j * befores.size() / afters.size();
        const std::size_t first = all || middle < window ? 0 : middle - window;
        const std::size_t last = all ? befores.size() : std::min(befores.size(), middle + window);
        for (std::size_t i = first; i < last; ++i) {
            if (const auto squares = likeness(m_before[befores[i]], m_after[afters[j]])) {
                candidates.emplace_back(*squares, afters[j], befores[i]);
            }
        }
    }
    pair_nearest(std::move(candidates));
}

void Pairing::match_alike_within_files() {
    std::unordered_map<std::size_t, std::vector<std::size_t>> befores; // looked up only
    std::unordered_map<std::size_t, std::vector<std::size_t>> afters;  // looked up only
    std::vector<std::size_t> files;
    for (const std::size_t i : unpaired(m_before)) {
        befores[m_before[i].file].push_back(i);
    }
    for (const std::size_t j : unpaired(m_after)) {
        auto& members = afters[m_after[j].file];
        if (members.empty()) {
            files.push_back(m_after[j].file);
        }
        members.push_back(j);
    }
    for (const std::size_t file : files) {
        match_alike(befores[file], afters[file]);
    }
}

/// Across files likeness alone is too little: the play must be the same.
void Pairing::match_alike_across_files() {
    constexpr std::size_t most = 32;
    std::unordered_map<std::size_t, std::vector<std::size_t>> by_moves; // looked up only
    for (const std::size_t i : unpaired(m_before)) {
        if (m_before[i].moves) {
            by_moves[*m_before[i].moves].push_back(i);
        }
    }
    Likenesses candidates;
    for (const std::size_t j : unpaired(m_after)) {
        const auto found = m_after[j].moves ? by_moves.find(*m_after[j].moves) : by_moves.end();
        if (found == by_moves.end()) {
            continue;
        }
        for (std::size_t tried = 0; tried < std::min(most, found->second.size()); ++tried) {
            const std::size_t i = found->second[tried];
            if (const auto squares = likeness(m_before[i], m_after[j])) {
                candidates.emplace_back(*squares, j, i);
            }
        }
    }
    pair_nearest(std::move(candidates));
}

Pair Pairing::judged(const Member& before, const Member& after) {
    Pair pair{before.ref, after.ref, Change::same, differing(before.facts, after.facts)};
    const bool elsewhere = before.ref.document->path != after.ref.document->path;
    if (!pair.fields.empty()) {
        pair.change = Change::changed;
        if (elsewhere) {
            pair.fields.emplace_back("file");
        }
    } else if (elsewhere) {
        pair.change = Change::moved;
    }
    return pair;
}

/// Within a file the fewest puzzles moved that explain the new order.
void Pairing::mark_moved(std::vector<Pair>& pairs) const {
    for (std::size_t begin = 0, end = 0; begin < m_after.size(); begin = end) {
        std::vector<std::size_t> places; // of puzzles that were in this file before
        std::vector<std::size_t> ordinals;
        for (; end < m_after.size() && m_after[end].ref.document == m_after[begin].ref.document; ++end) {
            const Member& after = m_after[end];
            if (after.partner != none && m_before[after.partner].file == after.file) {
                places.push_back(end);
                ordinals.push_back(m_before[after.partner].ordinal);
            }
        }
        const std::vector<bool> stays = longest_rising(ordinals);
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (!stays[i] && pairs[places[i]].change == Change::same) {
                pairs[places[i]].change = Change::moved;
            }
        }
    }
}

std::vector<Pair> Pairing::make() {
    const auto here = [](const Member& member, Key key) {
        return key ? Key(mixed(member.file, *key)) : std::nullopt;
    };
    const auto id_with = [](const Member& member, Key key) {
        return member.id && key ? Key(mixed(*member.id, *key)) : std::nullopt;
    };
    match([&](const Member& m) { return here(m, id_with(m, m.meaning)); });
    match([&](const Member& m) { return here(m, id_with(m, m.position)); });
    match([&](const Member& m) { return id_with(m, m.meaning); });
    match([&](const Member& m) { return id_with(m, m.position); });
    // A renumbered collection: the diagram says more than an id that now belongs to a neighbour.
    match([&](const Member& m) { return here(m, m.meaning); });
    match([&](const Member& m) { return here(m, m.position); });
    match([&](const Member& m) { return Key(m.meaning); });
    match([&](const Member& m) { return m.position; });
    match([&](const Member& m) { return here(m, m.id); });
    match([&](const Member& m) { return m.id; });
    match_alike_within_files();
    match_alike_across_files();

    std::vector<Pair> pairs;
    for (const Member& after : m_after) {
        pairs.push_back(after.partner == none ? Pair{{}, after.ref, Change::added, {}}
                                              : judged(m_before[after.partner], after));
    }
    mark_moved(pairs);
    for (const std::size_t i : unpaired(m_before)) {
        pairs.push_back({m_before[i].ref, {}, Change::removed, {}});
    }
    return pairs;
}

} // namespace

std::string_view name(Change change) {
    switch (change) {
    case Change::added:
        return "added";
    case Change::removed:
        return "removed";
    case Change::same:
        return "same";
    case Change::moved:
        return "moved";
    case Change::changed:
        return "changed";
    }
    return "";
}

std::vector<Pair> pair_puzzles(std::span<const collection::Document> before,
                               std::span<const collection::Document> after) {
    return Pairing(before, after).make();
}

} // namespace history
