#include "rules/faults.hpp"
#include "rules/play.hpp"
#include "rules/rule.hpp"
#include "rules/standing.hpp"

#include "board/san.hpp"

namespace rules::line {

namespace {

using board::Move;
using board::Position;
using collection::MoveStatus;
using solve::Answer;
using solve::Judgement;

constexpr std::size_t most_at_one_word = 3; // named at one word

/// Where the words stand that cover the replies to `node`.
std::size_t word_at(const PuzzleView& view, std::size_t node) {
    const auto& nodes = view.puzzle().solution.nodes;
    for (const std::size_t child : nodes[node].children) {
        if (nodes[child].status == MoveStatus::any) {
            return child;
        }
    }
    return nodes[node].children.front();
}

void judge_escapes(const PuzzleView& view, Findings& findings) {
    for (const LineFault& fault : view.line_faults()) {
        if (!is_covered(view, fault)) {
            continue;
        }
        const std::string reply = numbered(position_after(view, fault.node), fault.judgement.line.front());
        findings
            .add(view, view.puzzle().solution.nodes[word_at(view, fault.node)].span, "escapes",
                 {{"reply", reply},
                  {"move", numbered(view, fault.node)},
                  {"goal", collection::write_goal(view.goal())}})
            .about(reply)
            .known(fault.judgement.certainty)
            .shown(*view.position(), line_through(view, fault.node, fault.judgement.line),
                   moves_up_to(view, fault.node));
    }
}

/// "any", or a move behind "or", after a move that works, outside tries, that is answered.
struct Word {
    std::size_t node;
    std::size_t answer;
    int played;      ///< solver's moves before it
    Position before; ///< the defender is to move
};

/// What answers the words at `node`: for a move behind "or" the answer to the move before it.
std::optional<std::size_t> answer_to(const PuzzleView& view, std::size_t node) {
    const auto& nodes = view.puzzle().solution.nodes;
    const bool shares = nodes[node].alike && nodes[node].children.empty();
    const std::size_t answered = shares ? nodes[nodes[node].parent].children.front() : node;
    const bool words = nodes[node].status == MoveStatus::any ||
                       (nodes[node].alike && nodes[node].status == MoveStatus::legal);
    return words && !nodes[answered].children.empty() ? std::optional(nodes[answered].children.front())
                                                      : std::nullopt;
}

std::vector<Move> replies_of(const PuzzleView& view, const Word& word) {
    const collection::TreeNode& entry = view.puzzle().solution.nodes[word.node];
    return entry.status == MoveStatus::any ? covered_replies(view, word.node) : std::vector{entry.move};
}

bool behind_a_try(const PuzzleView& view, std::size_t node) {
    const auto& solution = view.puzzle().solution;
    for (; node != 0; node = solution.nodes[node].parent) {
        if (solution.marked_as_failing(node)) {
            return true;
        }
    }
    return false;
}

std::vector<Word> words_of(const PuzzleView& view) {
    const auto& solution = view.puzzle().solution;
    const std::vector<bool> told = told_of(view);
    std::vector<Word> words;
    for (std::size_t node = 1; node < solution.nodes.size(); ++node) {
        const collection::TreeNode& entry = solution.nodes[node];
        const std::size_t depth = solution.depth(node);
        const auto answer = answer_to(view, node);
        if (answer && depth % 2 == 0 && !told[entry.parent] && !behind_a_try(view, entry.parent)) {
            words.push_back({node, *answer, static_cast<int>(depth / 2), position_after(view, entry.parent)});
        }
    }
    return words;
}

/// The printed answer does not do after this reply, and another does; its play, the reply first.
std::optional<Judgement> other_answer(const PuzzleView& view, const Word& word, const board::San& answer,
                                      Move reply) {
    const Position after = word.before.after(reply);
    if (const auto move = board::resolve(after, answer)) {
        const Position answered = after.after(*move);
        const auto judged = view.solver().reaches(answered, view.solver_side(), view.aim(word.played + 1));
        if (judged.answer != Answer::no || !tells(answered, judged)) {
            return std::nullopt;
        }
    }
    auto best = view.solver().reaches(after, view.solver_side(), view.aim(word.played));
    if (best.answer != Answer::yes || best.line.empty()) {
        return std::nullopt;
    }
    best.line.insert(best.line.begin(), reply);
    return best;
}

void judge_answer(const PuzzleView& view, const Word& word, Findings& findings) {
    const auto& nodes = view.puzzle().solution.nodes;
    const auto answer = board::read_san(nodes[word.answer].text);
    if (!answer || answer->null) {
        return;
    }
    std::vector<std::string> replies;
    std::optional<Judgement> shown;
    for (const Move reply : replies_of(view, word)) {
        if (!may_ask_more(view)) {
            break;
        }
        if (auto other = other_answer(view, word, *answer, reply)) {
            replies.push_back(numbered(word.before, reply));
            shown = shown ? std::move(shown) : std::move(other);
        }
    }
    if (!shown) {
        return;
    }
    findings
        .add(view, nodes[word.node].span, "another",
             {{"word", nodes[word.node].alike ? "or" : clipped(nodes[word.node].text)},
              {"replies", listed(replies, most_at_one_word)},
              {"answer", clipped(nodes[word.answer].text)}})
        .about(replies.front())
        .known(shown->certainty)
        .shown(*view.position(), line_through(view, nodes[word.node].parent, shown->line),
               moves_up_to(view, nodes[word.node].parent))
        .mend("print them as sidelines");
}

/// Looked for first: without such words no question is worth its nodes.
bool claims_anything(const PuzzleView& view) {
    const auto& nodes = view.puzzle().solution.nodes;
    for (std::size_t node = 0; node < nodes.size(); ++node) {
        if (nodes[node].alike || covers_replies(view, node)) {
            return true;
        }
    }
    return false;
}

} // namespace

void equivalent(const PuzzleView& view, Findings& findings) {
    const bool worthwhile = claims_anything(view) && view.can_judge_play();
    const solve::MoveVerdict* const key = worthwhile ? view.table().of(*view.key()) : nullptr;
    if (key == nullptr || key->reaches_goal != Answer::yes) {
        return;
    }
    judge_escapes(view, findings);
    for (const Word& word : words_of(view)) {
        judge_answer(view, word, findings);
    }
}

} // namespace rules::line
