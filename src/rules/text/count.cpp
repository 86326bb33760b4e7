#include "rules/play.hpp"
#include "rules/rule.hpp"

#include <algorithm>
#include <map>

namespace rules::text {

namespace {

using collection::Fault;
using collection::Phrase;
using collection::PhraseKind;
using Heading = collection::Stated<std::string>;

/// How many puzzles the words announce; nothing when they name several numbers, or none.
std::optional<int> announced(std::string_view text) {
    std::optional<int> number;
    for (const Phrase& phrase : collection::read_phrases(text).phrases) {
        if (phrase.kind != PhraseKind::count || phrase.doubted) {
            continue;
        }
        if (number) {
            return std::nullopt;
        }
        number = phrase.number;
    }
    return number;
}

/// Puzzles may be there that were not read.
bool read_in_part(const collection::Document& document) {
    return std::any_of(document.faults.begin(), document.faults.end(), [](const Fault& fault) {
        return fault.kind == Fault::Kind::syntax || fault.kind == Fault::Kind::limit;
    });
}

void judge(const DocumentView& view, const Heading& heading, std::size_t puzzles, std::string_view where,
           Findings& findings) {
    const std::optional<int> number = announced(heading.value);
    if (!number || static_cast<std::size_t>(*number) == puzzles || puzzles == 0) {
        return;
    }
    findings
        .add(view.document, heading.span, where,
             {{"heading", clipped(heading.value)},
              {"stated", std::to_string(*number)},
              {"count", std::to_string(puzzles)}})
        .about(heading.value)
        .known(solve::Certainty::proved);
}

/// A chapter is a run of puzzles that name the same one.
void judge_chapters(const DocumentView& view, std::string_view field, Findings& findings) {
    std::map<std::string, std::pair<Heading, std::size_t>> chapters;
    for (const collection::Puzzle& puzzle : view.document.puzzles) {
        if (const collection::Field* const chapter = puzzle.field(field)) {
            const auto place =
                chapters.try_emplace(chapter->value, Heading{chapter->value, chapter->span}, 0).first;
            ++place->second.second;
        }
    }
    for (const auto& [name, chapter] : chapters) {
        judge(view, chapter.first, chapter.second, "chapter", findings);
    }
}

} // namespace

void count(const DocumentView& view, Findings& findings) {
    if (read_in_part(view.document)) {
        return;
    }
    if (view.document.title) {
        judge(view, *view.document.title, view.document.puzzles.size(), "title", findings);
    }
    for (const std::string_view field : {"chapter", "section", "heading", "event"}) {
        judge_chapters(view, field, findings);
    }
}

} // namespace rules::text
