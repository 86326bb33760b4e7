#include "puzzles.hpp"

#include <fmt/format.h>

namespace puzzles {

collection::Document read(const std::string& path, const std::string& text) {
    return collection::read(path, text, {});
}

collection::Document yaml(const std::string& path, const std::vector<Puzzle>& puzzles) {
    std::string text = "puzzles:\n";
    for (const Puzzle& puzzle : puzzles) {
        text += fmt::format("  - fen: \"{}\"\n", puzzle.fen);
        text += puzzle.id.empty() ? "" : fmt::format("    id: {}\n", puzzle.id);
        text += puzzle.solution.empty() ? "" : fmt::format("    solution: \"{}\"\n", puzzle.solution);
        text += puzzle.more.empty() ? "" : fmt::format("    {}\n", puzzle.more);
    }
    return read(path, text);
}

std::string told(const std::vector<history::Pair>& pairs) {
    std::vector<std::string> parts;
    for (const history::Pair& pair : pairs) {
        if (!pair.before) {
            parts.push_back("+" + pair.after.puzzle->id.value);
        } else if (!pair.after) {
            parts.push_back("-" + pair.before.puzzle->id.value);
        } else {
            const std::string& before = pair.before.puzzle->id.value;
            const std::string& after = pair.after.puzzle->id.value;
            parts.push_back(fmt::format(
                "{}{} {}{}", after, before == after ? "" : "<" + before, history::name(pair.change),
                pair.fields.empty() ? "" : fmt::format(" ({})", fmt::join(pair.fields, ", "))));
        }
    }
    return fmt::format("{}", fmt::join(parts, ", "));
}

std::string paired(const Documents& before, const Documents& after) {
    return told(history::pair_puzzles(before, after));
}

} // namespace puzzles
