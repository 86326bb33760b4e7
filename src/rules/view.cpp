#include "rules/view.hpp"

#include "board/san.hpp"
#include "collection/text.hpp"
#include "rules/aim.hpp"
#include "rules/catalogue.hpp"
#include "rules/check.hpp"
#include "rules/company.hpp"
#include "rules/faults.hpp"
#include "rules/problem_lines.hpp"
#include "rules/sides.hpp"
#include "rules/weak_reply.hpp"

#include <algorithm>

namespace rules {

using collection::Goal;
using collection::GoalKind;

struct PuzzleView::Cache {
    std::optional<std::vector<setup::Contradiction>> contradictions;
    std::optional<bool> side_in_doubt;
    std::optional<bool> caption_mistaken;
    bool mate_looked_for = false;
    std::optional<int> shown_mate; ///< of a goal that is inferred
    std::optional<std::vector<board::Move>> accepted;
    std::optional<solve::KeyTable> table;
    std::optional<solve::Aim> near_key; ///< for the goals held against the key
    std::optional<std::vector<NodeVerdict>> walk;
    std::optional<std::vector<LineFault>> line_faults;
    bool replies_weighed = false;
    std::optional<WeakReply> weak_reply;
    std::optional<Company> company;
    std::optional<std::vector<motif::Evidence>> motifs;
    std::optional<std::vector<motif::Evidence>> motifs_of_sidelines;
    std::optional<std::vector<motif::Evidence>> motifs_of_problem_play;
    std::optional<solve::Solver> solver;
};

PuzzleView::PuzzleView(const collection::Document& document, const collection::Puzzle& puzzle,
                       const Catalogue& catalogue, const Settings& settings)
    : m_document(document), m_puzzle(puzzle), m_catalogue(catalogue), m_settings(settings),
      m_cache(std::make_unique<Cache>()) {}

PuzzleView::~PuzzleView() = default;

board::Color PuzzleView::solver_side() const {
    return position() ? position()->turn() : m_puzzle.reading.setup.turn;
}

solve::Solver& PuzzleView::solver() const {
    if (!m_cache->solver) {
        m_cache->solver.emplace(solve::budget_of(m_settings.effort), m_settings.endgames);
    }
    return *m_cache->solver;
}

bool PuzzleView::side_in_doubt() const {
    if (!m_cache->side_in_doubt) {
        m_cache->side_in_doubt =
            (statements_disagree(m_puzzle) && !caption_mistaken()) ||
            (!key() && playable(m_puzzle, !solver_side()).all); // only the other side can play it
    }
    return *m_cache->side_in_doubt;
}

bool PuzzleView::caption_mistaken() const {
    if (!m_cache->caption_mistaken) {
        m_cache->caption_mistaken = only_captions_differ(m_puzzle) && side_supported(*this) == solver_side();
    }
    return *m_cache->caption_mistaken;
}

namespace {

/// `position: partial`, in whatever way the format states a field.
setup::Extent extent_of(const collection::Puzzle& puzzle) {
    const collection::Field* const stated = puzzle.field("position");
    return stated != nullptr && collection::equals_ignoring_case(stated->value, "partial")
               ? setup::Extent::partial
               : setup::Extent::whole;
}

} // namespace

const std::vector<setup::Contradiction>& PuzzleView::contradictions() const {
    if (!m_cache->contradictions) {
        m_cache->contradictions = m_puzzle.reading.usable
                                      ? setup::contradictions(m_puzzle.reading.setup, extent_of(m_puzzle))
                                      : std::vector<setup::Contradiction>{};
    }
    return *m_cache->contradictions;
}

std::optional<board::Move> PuzzleView::key() const {
    if (!position() || m_puzzle.solution.nodes[0].children.empty()) {
        return std::nullopt;
    }
    const collection::TreeNode& node = m_puzzle.solution.nodes[m_puzzle.solution.nodes[0].children.front()];
    return node.status == collection::MoveStatus::legal ? std::optional(node.move) : std::nullopt;
}

collection::Span PuzzleView::key_span() const {
    const auto& root = m_puzzle.solution.nodes[0];
    return root.children.empty() ? m_puzzle.solution_span
                                 : m_puzzle.solution.nodes[root.children.front()].span;
}

bool PuzzleView::can_judge_play() const {
    const bool testable = !m_puzzle.goal || m_puzzle.goal->value.kind != GoalKind::not_checked;
    return position() && position()->has_legal_move() && key() && testable && !side_in_doubt();
}

const std::vector<board::Move>& PuzzleView::accepted() const {
    if (!m_cache->accepted) {
        std::vector<board::Move> moves;
        for (const auto& text : m_puzzle.accepted) {
            const auto san = board::read_san(text.value);
            if (!san || !position()) {
                continue;
            }
            if (const auto move = board::resolve(*position(), *san)) {
                moves.push_back(*move);
            }
        }
        m_cache->accepted = std::move(moves);
    }
    return *m_cache->accepted;
}

namespace {

/// Solver's moves in the main line when it ends in mate by the solver.
std::optional<int> mates_at_the_end(const collection::Puzzle& puzzle) {
    const std::vector<std::size_t> line = puzzle.solution.main_line();
    if (line.empty() || line.size() % 2 == 0 ||
        !puzzle.solution.position_at(*puzzle.position, line.back()).is_checkmate()) {
        return std::nullopt;
    }
    return static_cast<int>((line.size() + 1) / 2);
}

/// Length of the shortest mate when `key` begins one.
std::optional<int> fastest_mate(solve::Solver& solver, const board::Position& position, board::Move key,
                                int longest) {
    const solve::Mates mates = solver.mates(position, longest);
    const bool begins = std::find(mates.keys.begin(), mates.keys.end(), key) != mates.keys.end();
    return begins ? mates.length : std::nullopt;
}

} // namespace

/// A mate nobody stated: proved, and shown by the line, or by a key that mates fastest.
std::optional<int> PuzzleView::shown_mate() const {
    if (!m_cache->mate_looked_for && !m_puzzle.goal && position() && key()) {
        m_cache->mate_looked_for = true;
        // A key without a line that is proved to mate fastest was meant to mate; a line that stops earlier
        // says otherwise.
        const std::optional<int> moves =
            m_puzzle.key_only
                ? fastest_mate(solver(), *position(), *key(), solve::budget_of(m_settings.effort).mate_moves)
                : mates_at_the_end(m_puzzle);
        if (moves &&
            solver().reaches(position()->after(*key()), solver_side(), solve::Aim::mate(*moves - 1)).answer ==
                solve::Answer::yes) {
            m_cache->shown_mate = moves;
        }
    }
    return m_cache->shown_mate;
}

Goal PuzzleView::goal() const {
    if (m_puzzle.goal) {
        return m_puzzle.goal->value;
    }
    if (const auto moves = shown_mate()) {
        return Goal{GoalKind::mate, *moves};
    }
    if (!position() || !key()) {
        return Goal{GoalKind::best};
    }
    const solve::MoveVerdict* const verdict = table().of(*key());
    const solve::Value& worth = verdict->value;
    const bool decides = worth.mate_in ? *worth.mate_in > 0 : verdict->reaches_goal == solve::Answer::yes;
    return Goal{decides ? GoalKind::win : GoalKind::best};
}

solve::Aim PuzzleView::aim(int moves_played) const {
    if (const auto aim = aim_of(goal(), *position(), moves_played, m_settings.win_at)) {
        return *aim;
    }
    if (!m_cache->near_key) {
        const auto worth = solver().value(position()->after(*key()), solver_side()).value;
        m_cache->near_key = aim_near(worth, m_settings.near);
    }
    return *m_cache->near_key;
}

const solve::KeyTable& PuzzleView::table() const {
    if (!m_cache->table) {
        solve::Question question;
        question.near = m_settings.near;
        question.key = key();
        question.mate_in = shown_mate();
        question.goal_score = m_settings.win_at; // without a goal: is the key a win, and does it stand out?
        if (m_puzzle.goal) {
            const solve::Aim whole = aim(0);
            question.mate_in = whole.mate_in;
            question.goal_score = whole.score;
            question.draw_suffices = rules::draw_suffices(m_puzzle.goal->value);
        }
        m_cache->table = solver().table(*position(), question);
    }
    return *m_cache->table;
}

const std::vector<NodeVerdict>& PuzzleView::walk() const {
    if (m_cache->walk) {
        return *m_cache->walk;
    }
    std::vector<NodeVerdict> verdicts;
    const auto& nodes = m_puzzle.solution.nodes;
    struct Step {
        std::size_t node;
        board::Position position;
        std::size_t depth; ///< plies behind
        bool inside_try;
    };
    std::vector<Step> open;
    if (can_judge_play()) {
        open.push_back({0, *position(), 0, false});
    }
    while (!open.empty()) {
        const Step step = open.back();
        open.pop_back();
        const collection::TreeNode& node = nodes[step.node];
        const bool by_solver = step.depth % 2 == 1;
        const bool ends_on_defender = !by_solver && node.children.empty() && step.node != 0;
        if (by_solver || ends_on_defender) {
            const int played = static_cast<int>((step.depth + 1) / 2);
            verdicts.push_back({step.node, by_solver, step.inside_try,
                                solver().reaches(step.position, solver_side(), aim(played))});
        }
        for (auto child = node.children.rbegin(); child != node.children.rend(); ++child) {
            if (nodes[*child].status == collection::MoveStatus::legal) {
                const bool fails =
                    step.inside_try || (step.depth % 2 == 0 && m_puzzle.solution.marked_as_failing(*child));
                open.push_back({*child, step.position.after(nodes[*child].move), step.depth + 1, fails});
            }
        }
    }
    std::sort(verdicts.begin(), verdicts.end(),
              [](const NodeVerdict& a, const NodeVerdict& b) { return a.node < b.node; });
    m_cache->walk = std::move(verdicts);
    return *m_cache->walk;
}

const std::vector<LineFault>& PuzzleView::line_faults() const {
    if (!m_cache->line_faults) {
        m_cache->line_faults = find_line_faults(*this);
    }
    return *m_cache->line_faults;
}

const Company& PuzzleView::company() const {
    if (!m_cache->company) {
        m_cache->company = find_company(*this);
    }
    return *m_cache->company;
}

const std::optional<WeakReply>& PuzzleView::weak_reply() const {
    if (!m_cache->replies_weighed) {
        m_cache->replies_weighed = true;
        m_cache->weak_reply = find_weak_reply(*this);
    }
    return m_cache->weak_reply;
}

namespace {

/// Where a lead-in took something: a man of the opponent's stands where one of the solver's stood before.
std::optional<board::Square> lead_in_capture(const collection::Puzzle& puzzle) {
    if (!puzzle.lead_in || !puzzle.position || !puzzle.reading.usable) {
        return std::nullopt;
    }
    const board::Color solver = puzzle.position->turn();
    for (const board::Square square : puzzle.position->pieces(!solver)) {
        const auto before = puzzle.reading.setup.at(square);
        if (before && before->color == solver) {
            return square;
        }
    }
    return std::nullopt;
}

} // namespace

const std::vector<motif::Evidence>& PuzzleView::motifs() const {
    if (!m_cache->motifs) {
        motif::SolutionLine line{*position(), {}};
        line.lead_in_capture = lead_in_capture(m_puzzle);
        if (can_judge_play()) {
            line.key_alone = table().key_stands_out();
        }
        for (const std::size_t node : m_puzzle.solution.main_line()) {
            line.moves.push_back(m_puzzle.solution.nodes[node].move);
        }
        m_cache->motifs = motif::find(line, solver(), m_settings.wide);
    }
    return *m_cache->motifs;
}

const std::vector<motif::Evidence>& PuzzleView::motifs_of_sidelines() const {
    if (m_cache->motifs_of_sidelines) {
        return *m_cache->motifs_of_sidelines;
    }
    constexpr std::size_t most = 32; // lines; a reader's patience ends earlier
    std::vector<motif::Evidence> found;
    std::size_t lines = 0;
    const auto& nodes = m_puzzle.solution.nodes;
    for (std::size_t node = 1; node < nodes.size() && lines < most; ++node) {
        const auto& siblings = nodes[nodes[node].parent].children;
        if (nodes[node].status != collection::MoveStatus::legal || siblings.front() == node) {
            continue; // only where a line branches off
        }
        motif::SolutionLine line{*position(), m_puzzle.solution.moves_to(node)};
        for (const std::size_t next : m_puzzle.solution.main_line(node)) {
            line.moves.push_back(nodes[next].move);
        }
        const auto more = motif::find(line, solver(), m_settings.wide);
        found.insert(found.end(), more.begin(), more.end());
        ++lines;
    }
    m_cache->motifs_of_sidelines = std::move(found);
    return *m_cache->motifs_of_sidelines;
}

const std::vector<motif::Evidence>& PuzzleView::motifs_of_problem_play() const {
    if (m_cache->motifs_of_problem_play) {
        return *m_cache->motifs_of_problem_play;
    }
    constexpr int longest = 4; // a longer one has more play than a budget holds
    std::vector<motif::Evidence> found;
    const int moves = can_judge_play() && goal().kind == GoalKind::mate ? goal().moves : 0;
    const bool quiet = moves >= 2 && !position()->gives_check(*key()) && !position()->is_capture(*key());
    if (quiet && moves <= longest) {
        const solve::Problem problem = solver().problem(*position(), {*key(), moves});
        const bool solves = problem.key_solves == solve::Answer::yes;
        for (const ProblemLine& line :
             solves ? lines_of(*position(), problem, solver()) : std::vector<ProblemLine>()) {
            for (motif::Evidence& evidence : motif::find(line.line, solver(), m_settings.wide)) {
                if (evidence.level != motif::Level::seen) {
                    found.push_back(std::move(evidence));
                }
            }
        }
    }
    m_cache->motifs_of_problem_play = std::move(found);
    return *m_cache->motifs_of_problem_play;
}

std::string PuzzleView::option(std::string_view rule, std::string_view name) const {
    const RuleEntry* const entry = m_catalogue.rule(rule);
    return entry == nullptr ? "" : option_of(*entry, name, m_settings);
}

} // namespace rules
