#include "rules/rule.hpp"

#include "board/san.hpp"
#include "rules/mending.hpp"
#include "rules/play.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

namespace rules::line {

namespace {

using collection::MoveStatus;
using collection::TreeNode;

/// "e2e4" as tables have it: coordinates are a notation of their own and not held to SAN.
bool is_coordinate(std::string_view text) {
    return (text.size() == 4 || text.size() == 5) && board::read_square(text.substr(0, 2)) &&
           board::read_square(text.substr(2, 2));
}

std::string_view signs_of(std::string_view san) {
    const std::size_t sign = san.find_first_of("+#");
    return sign == std::string_view::npos ? std::string_view() : san.substr(sign);
}

std::string_view without_signs(std::string_view san) {
    return san.substr(0, san.find_first_of("+#"));
}

/// What is wrong with `written` where `san` should stand; empty when nothing is.
std::string fault_of(std::string_view written, std::string_view san) {
    if (written == san) {
        return {};
    }
    if (without_signs(written) != without_signs(san)) {
        return fmt::format("for {}", san);
    }
    const std::string_view sign = signs_of(san);
    return sign == "#"                 ? "without its mate sign"
           : sign.empty()              ? "with a sign although it gives no check"
           : signs_of(written).empty() ? "without its check sign"
                                       : "with a sign it does not deserve";
}

struct Slip {
    collection::Span span;
    std::string what;
    std::string due; ///< what should stand at `span`
};

void judge_moves(const PuzzleView& view, const std::vector<board::Position>& before,
                 std::vector<Slip>& slips) {
    const auto& nodes = view.puzzle().solution.nodes;
    for (std::size_t node = 1; node < nodes.size(); ++node) {
        if (nodes[node].status != MoveStatus::legal || is_coordinate(nodes[node].text)) {
            continue;
        }
        const std::string san = board::write_san(before[node], nodes[node].move);
        const std::string fault = fault_of(nodes[node].text, san);
        if (!fault.empty()) {
            slips.push_back({nodes[node].span, clipped(nodes[node].text) + " " + fault, san});
        }
    }
}

/// What is added to the diagram's move number to get the printed one. A solution may count from 1 whatever
/// the diagram says, and a diagram without counters says 1 whatever the game said.
int offset_of(const PuzzleView& view, const TreeNode& first) {
    const int stated = view.position()->fullmove();
    const bool free = stated == 1 || (first.number && first.number->number == 1);
    return free && first.number ? first.number->number - stated : 0;
}

/// The author's dots are kept unless they are wrong.
std::string number_due(const PuzzleView& view, const collection::NumberMark& mark, int due, bool side_wrong) {
    const std::string_view there =
        std::string_view(view.document().bytes).substr(mark.span.begin, mark.span.end - mark.span.begin);
    const std::size_t digits = std::min(there.find_first_not_of("0123456789"), there.size());
    return fmt::format("{}{}", due, side_wrong ? "." : there.substr(digits));
}

void judge_numbers(const PuzzleView& view, const std::vector<board::Position>& before,
                   std::vector<Slip>& slips) {
    const auto& nodes = view.puzzle().solution.nodes;
    const std::size_t first = key_node(view);
    const int offset = first == 0 ? 0 : offset_of(view, nodes[first]);
    for (std::size_t node = 1; node < nodes.size(); ++node) {
        if (!nodes[node].number || nodes[node].status != MoveStatus::legal) {
            continue;
        }
        const int due = before[node].fullmove() + offset;
        const bool black = before[node].turn() == board::Color::black;
        // A wrong side before the first move is turn/disagreement's; a number before Black's reply may have
        // one dot.
        const bool side_wrong = nodes[node].number->black && !black && nodes[node].parent != 0;
        if (nodes[node].number->number != due || side_wrong) {
            slips.push_back({nodes[node].number->span,
                             fmt::format("{} numbered {} instead of {}{}", clipped(nodes[node].text),
                                         nodes[node].number->number, due, black ? "..." : "."),
                             number_due(view, *nodes[node].number, due, side_wrong)});
        }
    }
}

/// The first move after `parent` that stands beside itself: as two variations, or as a variation of its own.
std::optional<std::size_t> repeated(const PuzzleView& view, std::size_t parent) {
    const auto& nodes = view.puzzle().solution.nodes;
    for (const std::size_t child : nodes[parent].children) {
        if (nodes[child].status == MoveStatus::legal && printed(view, parent, nodes[child].move) != child) {
            return child;
        }
    }
    return std::nullopt;
}

void judge_repeats(const PuzzleView& view, Findings& findings) {
    const auto& nodes = view.puzzle().solution.nodes;
    std::size_t told = 0;
    for (std::size_t parent = 0; parent < nodes.size() && told < most_told; ++parent) {
        const auto node = repeated(view, parent);
        if (!node) {
            continue;
        }
        ++told;
        const std::size_t main = nodes[parent].children.front();
        const bool of_line = nodes[main].status == MoveStatus::legal && nodes[main].move == nodes[*node].move;
        const std::string move = numbered(view, *node);
        findings.add(view, nodes[*node].span, of_line ? "repeats" : "twice", {{"move", move}})
            .about(move)
            .known(solve::Certainty::proved)
            .mend("put the two together");
    }
}

} // namespace

void notation(const PuzzleView& view, Findings& findings) {
    if (!view.position() || view.side_in_doubt() || view.puzzle().key_only) {
        return;
    }
    judge_repeats(view, findings);
    std::vector<Slip> slips;
    const std::vector<board::Position> before = positions_before(view);
    judge_moves(view, before, slips);
    judge_numbers(view, before, slips);
    if (slips.empty()) {
        return;
    }
    std::sort(slips.begin(), slips.end(), [](const Slip& a, const Slip& b) { return a.span < b.span; });
    std::vector<std::string> told;
    std::transform(slips.begin(), slips.end(), std::back_inserter(told),
                   [](const Slip& slip) { return slip.what; });
    Mending mending(view);
    for (const Slip& slip : slips) {
        mending.replace(slip.span, slip.due);
    }
    Finding& finding = findings.add(view, slips.front().span, "notation", {{"slips", listed(told, 3)}});
    finding.about("notation").known(solve::Certainty::proved);
    finding.fix = mending.fix(Fix::Kind::safe);
}

} // namespace rules::line
