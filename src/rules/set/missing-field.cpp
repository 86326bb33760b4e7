#include "rules/rule.hpp"

#include <algorithm>
#include <cctype>

namespace rules::set {

namespace {

/// "Id, source" as "id" and "source".
std::vector<std::string> names_in(std::string_view list) {
    std::vector<std::string> names(1);
    for (const char c : list) {
        if (c == ',') {
            names.emplace_back();
        } else {
            names.back() += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        }
    }
    for (std::string& name : names) {
        const std::size_t begin = std::min(name.find_first_not_of(" \t"), name.size());
        name = name.substr(begin, name.find_last_not_of(" \t") + 1 - begin); // npos + 1 is 0
    }
    std::erase(names, "");
    return names;
}

/// The PGN standard writes what nobody knows as "?", a date as "????.??.??".
bool says_something(std::string_view value) {
    return value.find_first_not_of(" \t?.") != value.npos;
}

bool has(const collection::Puzzle& puzzle, std::string_view name) {
    if (name == "fen" || name == "solution") {
        return true; // file/syntax and key/missing report these
    }
    if (name == "id") {
        return puzzle.id_stated;
    }
    if (name == "goal") {
        return puzzle.goal.has_value();
    }
    if (name == "themes") {
        return !puzzle.themes.empty();
    }
    if (name == "accept") {
        return !puzzle.accepted.empty();
    }
    if (name == "to-move") {
        return std::any_of(puzzle.sides.begin(), puzzle.sides.end(), [](const auto& side) {
            return side.source == collection::SideStatement::Source::field;
        });
    }
    const collection::Field* const field = puzzle.field(name);
    return field != nullptr && says_something(field->value);
}

} // namespace

void missing_field(const PuzzleView& view, Findings& findings) {
    for (const std::string& name : names_in(view.option("set/missing-field", "fields"))) {
        if (!has(view.puzzle(), name)) {
            findings.add(view, view.puzzle().span, "missing", {{"field", name}})
                .about(name)
                .mend("add the " + name + ", or take it from the fields of set/missing-field");
        }
    }
}

} // namespace rules::set
