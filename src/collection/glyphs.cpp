#include "collection/glyphs.hpp"

#include <algorithm>
#include <array>

namespace collection {

namespace {

constexpr int no_number = 0; // a sign without a number of its own in the standard

struct Sign {
    std::string_view text;
    int glyph;
};

// Numbers: PGN standard 1994, section 10. Signs: the code of the Informant series, as commonly printed.
// Where a sign has a number for each colour, or for shades, the first is taken: only value and box are
// claims.
constexpr std::array signs{
    Sign{"!!", 3},        Sign{"??", 4},        Sign{"!?", 5},        Sign{"?!", 6},
    Sign{"!", 1},         Sign{"?", 2},         Sign{"‼", 3},         Sign{"⁇", 4},
    Sign{"⁉", 5},         Sign{"⁈", 6},         Sign{"□", 8},         Sign{"⩲", 14},
    Sign{"⩱", 15},        Sign{"±", 16},        Sign{"∓", 17},        Sign{"+−", 18},
    Sign{"−+", 19},       Sign{"+–", 18},       Sign{"–+", 19},       Sign{"∞", 13},
    Sign{"⊙", no_number}, Sign{"↑", no_number}, Sign{"→", no_number}, Sign{"⇆", no_number},
    Sign{"⌓", no_number}, Sign{"△", no_number}, Sign{"∆", no_number}, Sign{"⊕", no_number},
};

constexpr std::array evaluations{
    Sign{"+/-", 16}, Sign{"-/+", 17}, Sign{"+/=", 14}, Sign{"=/+", 15}, Sign{"+--", 18}, Sign{"--+", 19},
    Sign{"+-", 18},  Sign{"-+", 19},  Sign{"+=", 14},  Sign{"=+", 15},  Sign{"=", 10},
};

template <std::size_t N> const Sign* sign_at_end(const std::array<Sign, N>& list, std::string_view word) {
    const auto found = std::find_if(list.begin(), list.end(), [word](const Sign& sign) {
        return word.size() >= sign.text.size() && word.substr(word.size() - sign.text.size()) == sign.text;
    });
    return found == list.end() ? nullptr : &*found;
}

/// "!!!" and the like are heaped for effect: they mean the pair they begin with, or nothing when mixed.
int glyph_of_heap(std::string_view heap) {
    const bool same = heap.find_first_not_of(heap.front()) == std::string_view::npos;
    return !same ? no_number : heap.front() == '!' ? 3 : 4;
}

} // namespace

std::string_view suffix_of(int glyph) {
    constexpr int last = 6; // the standard's own suffixes, which come first in each kind
    const auto* const found =
        std::find_if(signs.begin(), signs.end(), [glyph](const Sign& sign) { return sign.glyph == glyph; });
    return glyph >= 1 && glyph <= last ? found->text : std::string_view();
}

Suffix read_suffix(std::string_view word) {
    Suffix suffix;
    const auto take = [&](int glyph, std::size_t length) {
        if (glyph != no_number) {
            suffix.glyphs.push_back(glyph);
        }
        suffix.length += length;
        word.remove_suffix(length);
    };
    while (!word.empty()) {
        const std::size_t last = word.find_last_not_of("!?");
        const std::size_t heap = word.size() - (last == std::string_view::npos ? 0 : last + 1);
        const Sign* const sign = sign_at_end(signs, word);
        if (heap > 2) {
            take(glyph_of_heap(word.substr(word.size() - heap)), heap);
        } else if (sign != nullptr) {
            take(sign->glyph, sign->text.size());
        } else {
            break;
        }
    }
    std::reverse(suffix.glyphs.begin(), suffix.glyphs.end());
    return suffix;
}

Suffix read_evaluation(std::string_view word) {
    const Sign* const sign = sign_at_end(evaluations, word);
    if (sign == nullptr) {
        return {};
    }
    return {{sign->glyph}, sign->text.size()};
}

bool is_remark(std::string_view word) {
    constexpr std::array<std::string_view, 6> remarks{"N", "D", "mate", "mate.", "ch", "ch."};
    return std::find(remarks.begin(), remarks.end(), word) != remarks.end();
}

} // namespace collection
