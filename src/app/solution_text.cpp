#include "app/solution_text.hpp"

#include "board/san.hpp"
#include "collection/builder.hpp"
#include "collection/glyphs.hpp"
#include "rules/check.hpp"
#include "rules/faults.hpp"
#include "rules/play.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace app {
namespace {

using collection::MoveStatus;
using rules::NodeVerdict;
using rules::PuzzleView;
using solve::Answer;

struct LineRow {
    std::string move; ///< set in by its depth in the tree
    std::string verdict;
};

std::string verdict_text(const PuzzleView& view, const NodeVerdict& verdict) {
    const solve::Judgement& judged = verdict.judgement;
    const board::Position after = rules::position_after(view, verdict.node);
    if (judged.answer == Answer::open) {
        return "open";
    }
    const std::string known = fmt::format(" ({})", solve::name(judged.certainty));
    if (judged.answer == Answer::yes) {
        const bool mates = judged.value.mate_in && *judged.value.mate_in > 0;
        const std::string what = after.is_checkmate() ? "mate"
                                 : mates              ? fmt::format("mates in {} more", *judged.value.mate_in)
                                                      : "reaches the goal";
        return what + known + (verdict.inside_try && verdict.by_solver ? ", though said to fail" : "");
    }
    const std::string shown = judged.line.empty() || !after.has_legal_move()
                                  ? ""
                                  : ": " + rules::numbered(after, judged.line.front());
    return "misses the goal" + shown + known;
}

/// "any": the replies that it stands for.
std::string covered_text(const PuzzleView& view, std::size_t node) {
    constexpr std::size_t most = 6;
    const board::Position before = rules::position_after(view, view.puzzle().solution.nodes[node].parent);
    std::vector<std::string> replies;
    for (const board::Move move : rules::covered_replies(view, node)) {
        replies.push_back(board::write_san(before, move));
    }
    return replies.empty() ? "stands for no reply" : "stands for " + rules::listed(replies, most);
}

/// What follows "any" is no one position.
bool behind_a_word(const PuzzleView& view, std::size_t node) {
    const auto& nodes = view.puzzle().solution.nodes;
    while (node != 0 && nodes[node].status != MoveStatus::any) {
        node = nodes[node].parent;
    }
    return node != 0;
}

std::string verdict_text(const PuzzleView& view, std::size_t node) {
    const MoveStatus status = view.puzzle().solution.nodes[node].status;
    if (status == MoveStatus::any) {
        return covered_text(view, node);
    }
    if (status != MoveStatus::legal) {
        return status == MoveStatus::illegal     ? "not legal here"
               : status == MoveStatus::ambiguous ? "fits several moves"
               : behind_a_word(view, node)       ? ""
                                                 : "not played";
    }
    const NodeVerdict* const verdict = rules::verdict_of(view, node);
    return verdict == nullptr ? "" : verdict_text(view, *verdict);
}

/// The line from `node` on; what replaces a move follows it, one step further in.
void add_line(const PuzzleView& view, std::size_t node, std::size_t inset, std::vector<LineRow>& rows) {
    const auto& nodes = view.puzzle().solution.nodes;
    while (true) {
        std::string move(2 * inset, ' ');
        move += rules::numbered(view, node);
        for (const int glyph : nodes[node].glyphs) {
            move += collection::suffix_of(glyph);
        }
        rows.push_back({std::move(move), verdict_text(view, node)});
        const auto& siblings = nodes[nodes[node].parent].children;
        for (std::size_t i = 1; i < siblings.size() && siblings.front() == node; ++i) {
            add_line(view, siblings[i], inset + 1, rows);
        }
        if (nodes[node].children.empty()) {
            return;
        }
        node = nodes[node].children.front();
    }
}

std::string findings_text(const collection::Document& document, const rules::Catalogue& catalogue,
                          const rules::Settings& settings) {
    auto checked =
        rules::check_puzzle(document, document.puzzles.front(), catalogue, settings, rules::Summarise::no);
    rules::put_in_order(checked.findings);
    std::string text;
    for (const rules::Finding& finding : checked.findings) {
        text += fmt::format("  {} {}: {}\n", rules::name(finding.severity), finding.rule, finding.message);
    }
    return "Findings\n" + (text.empty() ? "  none\n" : text);
}

} // namespace

collection::Document typed_puzzle(const std::string& fen, const std::string& movetext,
                                  const std::optional<collection::Goal>& goal) {
    collection::Document document;
    document.path = "solution";
    const std::string stated = goal ? collection::write_goal(*goal) : "";
    const std::string variant =
        board::read_fen(fen, board::Start::by_letters).setup.home.is_shuffled() ? "Chess960" : "";
    document.bytes = fmt::format("{}\n{}\n{}\n{}\n", fen, stated, movetext, variant);
    document.lines = collection::LineIndex(document.bytes);
    const auto part = [&](std::size_t begin, std::size_t size) {
        return collection::Source(document.bytes, {begin, begin + size});
    };
    collection::Puzzle puzzle;
    puzzle.span = {0, document.bytes.size()};
    collection::set_fen(puzzle, part(0, fen.size()));
    collection::set_variant(puzzle, part(document.bytes.size() - variant.size() - 1, variant.size()));
    if (goal) {
        collection::set_goal(puzzle, part(fen.size() + 1, stated.size()));
    }
    collection::set_solution(puzzle, part(fen.size() + stated.size() + 2, movetext.size()));
    collection::finish(puzzle, document.path, 1);
    document.puzzles.push_back(std::move(puzzle));
    return document;
}

std::string solution_text(const collection::Document& document, const rules::Catalogue& catalogue,
                          const rules::Settings& settings) {
    const PuzzleView view(document, document.puzzles.front(), catalogue, settings);
    std::vector<LineRow> rows;
    if (!view.puzzle().solution.empty()) {
        add_line(view, view.puzzle().solution.nodes[0].children.front(), 1, rows);
    }
    std::size_t width = 0;
    for (const LineRow& row : rows) {
        width = std::max(width, row.move.size());
    }
    std::string text = "The solution, move by move\n";
    for (const LineRow& row : rows) {
        text +=
            row.verdict.empty() ? row.move + '\n' : fmt::format("{:<{}}  {}\n", row.move, width, row.verdict);
    }
    return text + '\n' + findings_text(document, catalogue, settings);
}

} // namespace app
