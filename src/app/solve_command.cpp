// sidelint solve: every first move of one diagram, what it is worth and how that is known.

#include "app/cache_folder.hpp"
#include "app/commands.hpp"
#include "app/key_table_text.hpp"
#include "app/motifs_text.hpp"
#include "app/output.hpp"
#include "app/problem_text.hpp"
#include "app/solution_text.hpp"
#include "app/words.hpp"
#include "board/fen.hpp"
#include "board/san.hpp"
#include "motif/motif.hpp"
#include "rules/aim.hpp"
#include "rules/policy.hpp"
#include "solve/certificate.hpp"
#include "solve/endgame_tables.hpp"
#include "solve/solver.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>

namespace app {
namespace {

using collection::Goal;

/// Diagram, question and answer.
struct Solved {
    board::Position position;
    std::optional<Goal> goal;
    solve::Question question;
    solve::KeyTable table;
};

std::string_view in_words(board::SetupFault fault) {
    switch (fault) {
    case board::SetupFault::kings:
        return "each side needs exactly one king";
    case board::SetupFault::adjacent_kings:
        return "the kings stand next to each other";
    case board::SetupFault::pawn_ranks:
        return "a pawn stands on the first or last rank";
    case board::SetupFault::opponent_in_check:
        return "the side that is not to move is in check";
    case board::SetupFault::castling_rights:
        return "castling rights without king and rook at home";
    case board::SetupFault::en_passant:
        break;
    }
    return "the en-passant square fits no double step";
}

std::string all_faults(board::SetupFaults faults) {
    std::vector<std::string_view> words;
    for (const auto fault : {board::SetupFault::kings, board::SetupFault::adjacent_kings,
                             board::SetupFault::pawn_ranks, board::SetupFault::opponent_in_check,
                             board::SetupFault::castling_rights, board::SetupFault::en_passant}) {
        if (faults.has(fault)) {
            words.push_back(in_words(fault));
        }
    }
    return fmt::format("{}", fmt::join(words, "; "));
}

Result<board::Position> read_position(const std::string& fen) {
    const board::FenReading reading = board::read_fen(fen, board::Start::by_letters);
    const auto spoils = [](const board::FenFault& fault) { return fault.kind != board::FenFaultKind::style; };
    const auto fault = std::find_if(reading.faults.begin(), reading.faults.end(), spoils);
    if (!reading.usable || fault != reading.faults.end()) {
        Error error = usage_error(fault == reading.faults.end() ? "no diagram" : fault->what,
                                  "sidelint solve \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\"");
        error.place = fault == reading.faults.end() ? "FEN" : fmt::format("FEN:{}", fault->begin + 1);
        return board::failure(std::move(error));
    }
    auto position = board::Position::from(reading.setup);
    if (!position) {
        Error error = usage_error("this diagram cannot be played: " + all_faults(position.error()));
        error.place = "FEN";
        return board::failure(std::move(error));
    }
    return *position;
}

Result<std::optional<board::Move>> read_key(const board::Position& position,
                                            const std::optional<std::string>& text) {
    if (!text) {
        return std::optional<board::Move>();
    }
    if (const auto san = board::read_san(*text)) {
        if (const auto move = board::resolve(position, *san)) {
            return std::optional(*move);
        }
    }
    if (const auto move = board::read_coordinate(position, *text)) {
        return std::optional(*move);
    }
    return board::failure(usage_error(fmt::format("--key: {} is no legal move here", *text)));
}

/// The key as it is named, or the first move of the author's solution.
Result<std::optional<board::Move>> key_of(const board::Position& position, const SolveOptions& options,
                                          const std::optional<collection::Document>& author) {
    if (!author) {
        return read_key(position, options.key);
    }
    const collection::MoveTree& tree = author->puzzles.front().solution;
    if (tree.main_line().empty()) {
        return board::failure(usage_error(
            tree.empty() ? "--solution: there is no move in it"
                         : fmt::format("--solution: {} is no legal move here", tree.nodes[1].text),
            "--solution \"1. Ra8#\""));
    }
    return std::optional(tree.nodes[tree.main_line().front()].move);
}

/// The goal as the solver is asked; without a goal, a win where there is one, else the best there is.
solve::Aim aim_for(const board::Position& position, const std::optional<Goal>& goal,
                   const rules::Settings& settings, solve::Solver& solver) {
    if (const auto aim = goal ? rules::aim_of(*goal, position, 0, settings.win_at) : std::nullopt) {
        return *aim;
    }
    const solve::Value best = solver.value(position, position.turn()).value;
    const bool won = best.mate_in ? *best.mate_in > 0 : best.score >= settings.win_at;
    return won && !goal ? solve::Aim::value(settings.win_at) : rules::aim_near(best, settings.near);
}

solve::Question question_for(const board::Position& position, const std::optional<Goal>& goal,
                             std::optional<board::Move> key, solve::Solver& solver) {
    const rules::Settings settings; // no configuration is asked
    const solve::Aim aim = aim_for(position, goal, settings, solver);
    solve::Question question;
    question.mate_in = aim.mate_in;
    question.goal_score = aim.score;
    question.near = settings.near;
    question.key = key;
    question.draw_suffices = goal && rules::draw_suffices(*goal);
    return question;
}

std::vector<motif::Evidence> motifs_of(const Solved& solved, solve::Solver& solver) {
    const solve::MoveVerdict* const best = solved.table.best();
    if (best == nullptr) {
        return {};
    }
    motif::SolutionLine line{solved.position, best->line};
    line.key_alone = solved.table.key_stands_out() && best == &solved.table.moves.front();
    return motif::find(line, solver);
}

/// Play of a composed mate, where its length is that of the goal: of the key, or of the best move when the
/// key falls short.
std::optional<solve::Problem> problem_of(const Solved& solved, solve::Solver& solver) {
    const int moves = solved.question.mate_in.value_or(0);
    if (moves < 2 || moves > longest_problem || solved.table.shortest_mate != moves) {
        return std::nullopt;
    }
    const solve::MoveVerdict& first = solved.table.moves.front();
    const board::Move key = first.value.mate_in == moves ? first.move : solved.table.best()->move;
    return solver.problem(solved.position, {key, moves});
}

/// Play as a problem and motifs, in this order; the motifs of the line are looked for first, the rest has the
/// nodes that they leave.
std::string play_text(const Solved& solved, solve::Solver& solver) {
    const std::vector<motif::Evidence> motifs = motifs_of(solved, solver);
    const std::optional<solve::Problem> problem = problem_of(solved, solver);
    std::string text = problem ? problem_text(solved.position, *problem) : "";
    text += text.empty() ? "" : "\n";
    const solve::MoveVerdict* const best = solved.table.best();
    if (best != nullptr && !best->line.empty()) {
        text += motifs_text(solved.position, best->line, motifs);
    }
    return problem ? text + variation_motifs_text(solved.position, *problem, motifs, solver) : text;
}

std::string head_text(const Solved& solved, const SolveOptions& options) {
    std::string text = report::diagram(solved.position, board::Color::white) + '\n';
    text +=
        fmt::format("Goal: {}. Effort: {}", solved.goal ? collection::write_goal(*solved.goal) : "not stated",
                    solve::name(options.effort));
    text += fmt::format(", {} nodes.\n", solved.table.nodes);
    const solve::KeyTable& table = solved.table;
    if (table.shortest_mate) {
        text += fmt::format("Shortest mate found: {} {}{}.\n", *table.shortest_mate,
                            *table.shortest_mate == 1 ? "move" : "moves",
                            table.mate_search_complete ? ", search complete" : "");
    } else if (table.mate_search_complete && table.mate_searched_to > 0) {
        text += fmt::format("No mate within {} {} (proved).\n", table.mate_searched_to,
                            table.mate_searched_to == 1 ? "move" : "moves");
    }
    return text + '\n';
}

std::string over_text(const board::Position& position) {
    const std::string_view how = position.is_checkmate()   ? "checkmate"
                                 : position.is_stalemate() ? "stalemate"
                                                           : "a dead position";
    return fmt::format("{}\nNothing to solve: this is {}.\n", report::diagram(position, board::Color::white),
                       how);
}

Error not_certified(solve::CertificateRefusal why, std::string_view claim) {
    std::string message;
    std::string cure;
    switch (why) {
    case solve::CertificateRefusal::no_mate:
        message = fmt::format("no certificate: {} is wrong", claim);
        cure = "name a key that mates, or a longer goal";
        break;
    case solve::CertificateRefusal::budget_ended:
        message = fmt::format("no certificate: the budget ended before {} was proved and written out", claim);
        cure = "--effort press searches further";
        break;
    case solve::CertificateRefusal::too_long:
        message = fmt::format("no certificate: the proof of {} has more than {} lines", claim,
                              solve::most_certificate_lines);
        break;
    case solve::CertificateRefusal::too_deep:
        message = fmt::format("no certificate: {} takes more than {} moves, for which there is no room",
                              claim, solve::most_certificate_moves);
        break;
    }
    return {Error::Kind::io, std::move(message), {}, std::move(cure)};
}

/// The proof that the key, or without one the best move, mates as the goal says, or else as fast as it does.
Result<std::string> certificate_of(const Solved& solved, solve::Effort effort,
                                   const solve::EndgameTables& endgames) {
    const solve::KeyTable& table = solved.table;
    const solve::MoveVerdict* chosen = solved.question.key ? table.of(*solved.question.key) : table.best();
    const bool mate_goal = solved.goal && solved.goal->kind == collection::GoalKind::mate;
    const std::string san = board::write_san(solved.position, chosen->move);
    if (!mate_goal && chosen->value.mate_in.value_or(0) <= 0) {
        return board::failure(Error{Error::Kind::io,
                                    fmt::format("no certificate: no mate by {} is found", san),
                                    {},
                                    "state the goal: --goal \"mate in 3\""});
    }
    const int moves = mate_goal ? solved.goal->moves : *chosen->value.mate_in;
    const auto written =
        solve::write_certificate({solved.position, chosen->move, moves}, solve::budget_of(effort), &endgames);
    if (!written) {
        return board::failure(not_certified(written.error(), fmt::format("mate in {} by {}", moves, san)));
    }
    return *written;
}

std::vector<Error> print_solution(const collection::Document& author, solve::Effort effort,
                                  const solve::EndgameTables& endgames, const Streams& streams,
                                  std::size_t columns) {
    const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    if (!catalogue) {
        return {{Error::Kind::internal, catalogue.error(), {}, {}}};
    }
    rules::Settings settings; // no configuration is asked
    settings.endgames = &endgames;
    settings.effort = effort;
    return print(streams, '\n' + folded(solution_text(author, *catalogue, settings), columns));
}

std::vector<Error> print_certificate(const Result<std::string>& certificate, const std::string& file,
                                     const Streams& streams, const Environment& environment) {
    if (!certificate) {
        return {certificate.error()};
    }
    return file == "-" ? print(streams, *certificate)
                       : write_file((std::filesystem::path(environment.folder) / file).string(),
                                    "the certificate", *certificate);
}

} // namespace

int run_solve(const SolveOptions& options, const Streams& streams, const Environment& environment) {
    const auto position = read_position(options.fen);
    if (!position) {
        return end_with(streams, std::array{position.error()});
    }
    if (!position->has_legal_move() || position->is_dead()) {
        if (options.certificate) {
            return end_with(streams,
                            std::array{Error{Error::Kind::io, "no certificate: the game is over", {}, {}}});
        }
        return print_and_end(streams, over_text(*position));
    }
    const auto author = options.solution
                            ? std::optional(typed_puzzle(options.fen, *options.solution, options.goal))
                            : std::nullopt;
    const auto key = key_of(*position, options, author);
    if (!key) {
        return end_with(streams, std::array{key.error()});
    }
    const solve::EndgameTables endgames(cache_folder(environment));
    solve::Solver solver(solve::budget_of(options.effort), &endgames);
    Solved solved{*position, options.goal, question_for(*position, options.goal, *key, solver), {}};
    solved.table = solver.table(*position, solved.question);
    std::vector<Error> errors;
    if (options.certificate != "-") { // which is then all there is on standard output
        const std::size_t columns = width_for(streams, environment);
        const std::string text =
            head_text(solved, options) +
            key_table_text(solved.position, solved.table, solved.question.key.has_value()) + '\n' +
            play_text(solved, solver);
        errors = print(streams, folded(text, columns));
        if (author && errors.empty()) {
            errors = print_solution(*author, options.effort, endgames, streams, columns);
        }
    }
    if (options.certificate && errors.empty()) {
        errors = print_certificate(certificate_of(solved, options.effort, endgames), *options.certificate,
                                   streams, environment);
    }
    return end_with(streams, errors);
}

} // namespace app
