#include "board/fen.hpp"
#include "history/describe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace history {

namespace {

using board::Piece;
using board::Setup;
using board::Square;

struct Man {
    Piece piece;
    Square square;
};

std::string text_of(const Man& man) {
    return fmt::format("{} {} {}", name(man.piece.color), name(man.piece.role), name(man.square));
}

/// Men of `a` that do not stand in `b`, by square.
std::vector<Man> only_in(const Setup& a, const Setup& b) {
    std::vector<Man> men;
    for (int i = 0; i < 64; ++i) {
        const Square square = board::square_at(i);
        const auto piece = a.at(square);
        if (piece && piece != b.at(square)) {
            men.push_back({*piece, square});
        }
    }
    return men;
}

int steps(Square a, Square b) {
    return std::max(std::abs(file_of(a) - file_of(b)), std::abs(rank_of(a) - rank_of(b)));
}

/// The nearest man of the same kind among `men`, first by square.
std::vector<Man>::const_iterator nearest(const std::vector<Man>& men, const Man& to) {
    auto best = men.end();
    for (auto man = men.begin(); man != men.end(); ++man) {
        if (man->piece == to.piece &&
            (best == men.end() || steps(man->square, to.square) < steps(best->square, to.square))) {
            best = man;
        }
    }
    return best;
}

/// Men that went elsewhere; those that came and those that are gone stay in the lists.
std::vector<std::string> moved(std::vector<Man>& gone, std::vector<Man>& come) {
    std::vector<std::string> words;
    std::vector<Man> left;
    for (const Man& man : gone) {
        const auto there = nearest(come, man);
        if (there == come.end()) {
            left.push_back(man);
            continue;
        }
        words.push_back(fmt::format("{} to {}", text_of(man), name(there->square)));
        come.erase(there);
    }
    gone = std::move(left);
    return words;
}

std::string castling_of(const Setup& setup) {
    const std::string fen = board::write_fen(setup);
    const std::size_t begin = fen.find(' ', fen.find(' ') + 1) + 1;
    const std::string letters = fen.substr(begin, fen.find(' ', begin) - begin);
    return letters == "-" ? "none" : letters;
}

std::string passed(const Setup& setup) {
    return setup.en_passant ? name(*setup.en_passant) : "none";
}

void add_fields(const Setup& before, const Setup& after, std::vector<std::string>& words) {
    if (before.turn != after.turn) {
        words.push_back(fmt::format("{} to move instead of {}", name(after.turn), name(before.turn)));
    }
    if (before.castling.bits() != after.castling.bits()) {
        words.push_back(fmt::format("castling {} instead of {}", castling_of(after), castling_of(before)));
    }
    if (before.en_passant != after.en_passant) {
        words.push_back(fmt::format("en passant {} instead of {}", passed(after), passed(before)));
    }
}

} // namespace

std::vector<std::string> describe_position(const Setup& before, const Setup& after) {
    constexpr std::size_t most = 8; // more, and it is another diagram
    std::vector<Man> gone = only_in(before, after);
    std::vector<Man> come = only_in(after, before);
    std::vector<std::string> words = moved(gone, come);
    for (const Man& man : gone) {
        const auto other =
            std::find_if(come.begin(), come.end(), [&](const Man& one) { return one.square == man.square; });
        if (other == come.end()) {
            words.push_back(fmt::format("{} gone", text_of(man)));
        } else {
            words.push_back(fmt::format("{} {} instead of {} {} on {}", name(other->piece.color),
                                        name(other->piece.role), name(man.piece.color), name(man.piece.role),
                                        name(man.square)));
            come.erase(other);
        }
    }
    for (const Man& man : come) {
        words.push_back(fmt::format("{} new", text_of(man)));
    }
    if (words.size() > most) {
        words = {fmt::format("another diagram: {} men moved, gone or new", words.size())};
    }
    add_fields(before, after, words);
    return words;
}

} // namespace history
