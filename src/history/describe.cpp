#include "history/describe.hpp"

#include "collection/text.hpp"
#include "history/meaning.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace history {

namespace {

using collection::Puzzle;
using Texts = std::vector<std::string>;

/// The text of a fact, empty when the puzzle says nothing of it.
std::string fact(const Facts& facts, std::string_view name) {
    Texts found;
    for (const auto& [field, text] : facts) {
        if (field == name && !text.empty()) {
            found.push_back(text);
        }
    }
    return fmt::format("{}", fmt::join(found, "; "));
}

Texts lines_of(std::string_view text) {
    Texts lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        lines.emplace_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

Texts describe_set(const std::string& before, const std::string& after) {
    const Texts was = lines_of(before);
    const Texts is = lines_of(after);
    Texts words;
    const auto tell = [&](const Texts& a, const Texts& b, std::string_view what) {
        for (const std::string& one : a) {
            if (std::find(b.begin(), b.end(), one) == b.end()) {
                words.push_back(fmt::format("{} {}", one, what));
            }
        }
    };
    tell(is, was, "added");
    tell(was, is, "dropped");
    return words.empty() ? Texts{"one of them stands another number of times"} : words;
}

Texts describe_text(const std::string& before, const std::string& after) {
    constexpr std::size_t short_enough = 60; // prose is held against prose line by line
    if (before.empty() || after.empty()) {
        return {before.empty() ? fmt::format("{} added", after) : fmt::format("{} dropped", before)};
    }
    if (before.size() + after.size() > short_enough) {
        return {"now: " + after, "before: " + before};
    }
    return {fmt::format("{} instead of {}", after, before)};
}

Texts describe_diagrams(const Pair& pair, const Facts& before, const Facts& after) {
    const auto was = diagram_of(*pair.before.puzzle);
    const auto is = diagram_of(*pair.after.puzzle);
    const Texts words = was && is ? describe_position(*was, *is) : Texts{};
    return words.empty() ? describe_text(fact(before, "position"), fact(after, "position")) : words;
}

/// Moves that are written another way, the first few.
Texts describe_notation(const Puzzle& before, const Puzzle& after) {
    constexpr std::size_t most = 3;
    const auto& was = before.solution.nodes;
    const auto& is = after.solution.nodes;
    Texts words;
    for (std::size_t i = 1; i < std::min(was.size(), is.size()) && words.size() < most; ++i) {
        if (was[i].status == collection::MoveStatus::legal && is[i].status == collection::MoveStatus::legal &&
            was[i].move == is[i].move && was[i].text != is[i].text) {
            words.push_back(fmt::format("{} instead of {}", is[i].text, was[i].text));
        }
    }
    return words.empty() ? Texts{"moves or numbers written another way"} : words;
}

Texts words_for(const std::string& field, const Pair& pair, const Facts& before, const Facts& after) {
    if (field == "position") {
        return describe_diagrams(pair, before, after);
    }
    if (field == "solution") {
        return describe_solution(*pair.before.puzzle, *pair.after.puzzle);
    }
    if (field == "notation") {
        return describe_notation(*pair.before.puzzle, *pair.after.puzzle);
    }
    const bool is_set =
        field == "themes" || field == "accepted" || field == "avoided" || field == "allowances";
    return is_set ? describe_set(fact(before, field), fact(after, field))
                  : describe_text(fact(before, field), fact(after, field));
}

} // namespace

std::vector<FieldChange> describe(const Pair& pair) {
    if (!pair.before || !pair.after) {
        return {};
    }
    const Facts before = facts_of(*pair.before.puzzle);
    const Facts after = facts_of(*pair.after.puzzle);
    std::vector<FieldChange> changes;
    const bool moves_differ =
        std::find(pair.fields.begin(), pair.fields.end(), "solution") != pair.fields.end();
    for (const std::string& field : pair.fields) {
        if (field != "notation" || !moves_differ) { // other moves are written otherwise anyway
            changes.push_back({field, words_for(field, pair, before, after)});
        }
    }
    return changes;
}

std::string in_short(const Puzzle& puzzle) {
    Texts parts;
    if (const auto diagram = diagram_of(puzzle)) {
        parts.push_back(fmt::format("{} to move", board::name(diagram->turn)));
    }
    if (puzzle.goal) {
        parts.push_back(collection::write_goal(puzzle.goal->value));
    }
    if (!puzzle.solution.empty()) {
        parts.push_back(main_line_text(puzzle));
    }
    Texts themes;
    for (const auto& theme : puzzle.themes) {
        themes.push_back(theme.value);
    }
    if (!themes.empty()) {
        parts.push_back(fmt::format("themes {}", fmt::join(themes, ", ")));
    }
    return fmt::format("{}", fmt::join(parts, "; "));
}

} // namespace history
