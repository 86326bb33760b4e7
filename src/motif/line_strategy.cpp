// Bristol and Indian: a line piece runs over a square of its line, and a second man makes use of that.

#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Bitboard;
using board::Square;

struct Run {
    Square from, to;
};

/// A move of a line piece, neither check nor capture.
std::optional<Run> run_at(const Study& study, std::size_t ply) {
    const Square from = study.move(ply).from();
    if (study.gives_check(ply) || study.captured(ply) || study.castles(ply) ||
        !line_men(study.at(ply), study.us()).contains(from)) {
        return std::nullopt;
    }
    return Run{from, study.move(ply).to()};
}

/// The follower comes along the same line from behind, over the square left, and stops short of the runner.
bool follows(const Run& run, board::Move move) {
    const Bitboard path = board::between(move.from(), move.to());
    return path.contains(run.from) && board::between(run.from, run.to).contains(move.to());
}

/// Lifted off the mate, the runner is not missed: he only got out of the way.
bool runner_idle(const Study& study, std::size_t ply) {
    const auto stands = study.follow(study.move(ply).to(), ply + 1, study.plies());
    const auto idle = stands ? without(study.last(), *stands) : std::nullopt;
    return idle && idle->is_checkmate();
}

/// The solver's moves at which a man comes to a square the runner passed and later leaves it with the
/// runner's check.
std::optional<Square> shut_and_opened(const Study& study, std::size_t ply, const Run& run) {
    for (std::size_t shut = ply + 2; study.has(shut + 2); shut += 2) {
        const Square critical = study.move(shut).to();
        if (!board::between(run.from, run.to).contains(critical) || study.move(shut).from() == run.to ||
            study.gives_check(shut)) {
            continue;
        }
        for (std::size_t open = shut + 2; study.has(open); open += 2) {
            if (study.move(open).from() == critical && study.at(open + 1).checkers().contains(run.to)) {
                return critical;
            }
        }
    }
    return std::nullopt;
}

} // namespace

void detect_bristol(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 2); ply += 2) {
        const auto run = run_at(study, ply);
        if (!run) {
            continue;
        }
        for (std::size_t later = ply + 2; later <= ply + 4 && study.has(later); later += 2) {
            if (!follows(*run, study.move(later))) {
                continue;
            }
            const bool pure = study.mates() && study.mate_forced(ply) && runner_idle(study, ply);
            found.push_back({"bristol",
                             ply,
                             pure ? Level::decisive : Level::seen,
                             solve::Certainty::proved,
                             {run->from, run->to, study.move(later).to()},
                             fmt::format("the {} runs to {} so that the {} can follow to {}",
                                         man(study.at(ply), run->from), board::name(run->to),
                                         man(study.at(later), study.move(later).from()),
                                         board::name(study.move(later).to()))});
            break;
        }
    }
}

void detect_indian(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 4); ply += 2) {
        const auto run = run_at(study, ply);
        const auto critical = run ? shut_and_opened(study, ply, *run) : std::nullopt;
        if (!critical) {
            continue;
        }
        found.push_back(
            {"indian",
             ply,
             study.mate_forced(ply) ? Level::decisive : Level::seen,
             solve::Certainty::proved,
             {run->from, run->to, *critical},
             fmt::format("the {} runs over {} to {}; its line is shut there and opened with check",
                         man(study.at(ply), run->from), board::name(*critical), board::name(run->to))});
    }
}

} // namespace motif
