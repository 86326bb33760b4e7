#include "rules/sentences.hpp"

#include "rules/play.hpp"

#include <algorithm>

namespace rules {

namespace {

using collection::MoveStatus;
using collection::Phrase;
using collection::PhraseKind;

bool is_of_lines(PhraseKind kind) {
    return kind != PhraseKind::side_to_move && kind != PhraseKind::count && kind != PhraseKind::other_kind &&
           kind != PhraseKind::win_sign && kind != PhraseKind::draw_sign && kind != PhraseKind::hold;
}

void add_claims(std::size_t node, const collection::Comment& comment, std::vector<Sentence>& into) {
    const collection::PhrasesRead read = collection::read_phrases(comment.text);
    if (read.doubtful || read.phrases.size() != 1 || !is_of_lines(read.phrases.front().kind)) {
        return;
    }
    const Phrase& phrase = read.phrases.front();
    const bool as_it_stands = comment.span.end - comment.span.begin == comment.text.size();
    const collection::Span span =
        as_it_stands ? collection::Span{comment.span.begin + phrase.begin, comment.span.begin + phrase.end}
                     : comment.span;
    into.push_back(
        {node, phrase, span, clipped(comment.text.substr(phrase.begin, phrase.end - phrase.begin))});
}

} // namespace

std::vector<Sentence> sentences_of(const PuzzleView& view) {
    std::vector<Sentence> found;
    const auto& nodes = view.puzzle().solution.nodes;
    for (std::size_t node = 1; node < nodes.size(); ++node) {
        if (nodes[node].status != MoveStatus::legal) {
            continue;
        }
        for (const collection::Comment& comment : nodes[node].comments) {
            add_claims(node, comment, found);
        }
    }
    return found;
}

// PGN standard 1994, section 10: 7 forced (all others lose quickly), 8 singular (no reasonable alternative).
// The printed box means either; held against the board is the weaker claim.
bool boxed(const collection::TreeNode& node) {
    return std::any_of(node.glyphs.begin(), node.glyphs.end(),
                       [](int glyph) { return glyph == 7 || glyph == 8; });
}

std::vector<bool> called_only(const PuzzleView& view) {
    const auto& nodes = view.puzzle().solution.nodes;
    std::vector<bool> called(nodes.size(), false);
    std::transform(nodes.begin(), nodes.end(), called.begin(), boxed);
    for (const Sentence& sentence : sentences_of(view)) {
        called[sentence.node] =
            called[sentence.node] || sentence.phrase.kind == collection::PhraseKind::only_move;
    }
    return called;
}

} // namespace rules
