#include "rules/marks.hpp"

#include "board/fen.hpp"
#include "rules/en_passant_custom.hpp"
#include "rules/identity.hpp"

#include <algorithm>

namespace rules {

std::vector<Mark> marks_of(const collection::Document& document) {
    std::vector<Mark> marks;
    for (const collection::Puzzle& puzzle : document.puzzles) {
        if (puzzle.id_stated) {
            marks.push_back(stable_hash(puzzle.id.value, stable_hash("id ")));
        }
        if (puzzle.position) {
            marks.push_back(stable_hash(normal_form(*puzzle.position), stable_hash("position ")));
        }
    }
    const auto tells = [](const auto& puzzle) { return customs_of(puzzle) != any_custom; };
    if (std::any_of(document.puzzles.begin(), document.puzzles.end(), tells)) {
        marks.push_back(stable_hash("en-passant field"));
    }
    return marks;
}

std::vector<Mark> shared_marks(std::vector<Mark> marks) {
    std::sort(marks.begin(), marks.end());
    std::vector<Mark> shared;
    for (std::size_t i = 1; i < marks.size(); ++i) {
        if (marks[i] == marks[i - 1] && (shared.empty() || shared.back() != marks[i])) {
            shared.push_back(marks[i]);
        }
    }
    return shared;
}

std::string normal_form(const board::Position& position) {
    board::Setup setup = position.setup();
    setup.en_passant = position.en_passant();
    setup.halfmoves = 0;
    setup.fullmove = 1;
    return board::write_fen(setup);
}

} // namespace rules
