#include "app/proofs.hpp"

#include "app/schedule.hpp"
#include "board/fen.hpp"
#include "board/san.hpp"
#include "solve/certificate.hpp"
#include "solve/endgames.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <optional>
#include <vector>

namespace app {
namespace {

using board::Position;
using solve::MateClaim;

constexpr std::size_t most_lines = 10'000; // a certificate; longer ones are for sidelint solve

/// The play of a finding, read back from its words.
struct Play {
    std::vector<Position> positions; ///< the one before each move, and the last
    std::vector<board::Move> moves;
};

std::optional<Play> play_of(const rules::Finding& finding) {
    const auto start = Position::from(board::read_fen(finding.fen, board::Start::by_letters).setup);
    if (!start) {
        return std::nullopt;
    }
    Play play{{*start}, {}};
    for (const std::string& word : finding.line) {
        const auto san = board::read_san(word);
        const auto move =
            san ? board::resolve(play.positions.back(), *san) : board::failure(board::SanFailure{});
        if (!move) {
            return std::nullopt;
        }
        play.moves.push_back(*move);
        play.positions.push_back(play.positions.back().after(*move));
    }
    return play;
}

/// From the first move on that is claimed: the side that mates at the end of the line does so from there.
std::optional<MateClaim> claim_at_the_end(const Play& play, std::size_t first) {
    const Position& end = play.positions.back();
    if (!end.is_checkmate()) {
        return std::nullopt;
    }
    first += first < play.moves.size() && play.positions[first].turn() == end.turn() ? 1 : 0;
    if (first >= play.moves.size()) {
        return std::nullopt;
    }
    const std::size_t plies = play.moves.size() - first;
    return MateClaim{play.positions[first], play.moves[first], static_cast<int>(plies + 1) / 2};
}

/// The line was cut short, but the tables know who mates, and how soon.
std::optional<MateClaim> claim_by_tables(const Play& play, std::size_t first,
                                         const solve::Endgames& endgames) {
    for (std::size_t i = first; i < std::min(first + 2, play.moves.size()); ++i) {
        const auto value = endgames.value(play.positions[i + 1]);
        if (value && value->outcome == solve::EndgameValue::Outcome::loss) {
            return MateClaim{play.positions[i], play.moves[i], value->plies_to_mate / 2 + 1};
        }
    }
    return std::nullopt;
}

std::optional<MateClaim> claim_of(const rules::Finding& finding, const solve::EndgameTables* tables,
                                  const solve::Budget& budget) {
    if (finding.certainty != solve::Certainty::proved || finding.line.empty()) {
        return std::nullopt;
    }
    const auto play = play_of(finding);
    if (!play) {
        return std::nullopt;
    }
    solve::Endgames endgames(tables, budget.table_men);
    endgames.serve(play->positions.front());
    const auto claim = claim_at_the_end(*play, finding.printed);
    return claim ? claim : claim_by_tables(*play, finding.printed, endgames);
}

report::Proof proof_of(const rules::Finding& finding, const rules::Settings& settings) {
    const solve::Budget budget = solve::budget_of(settings.effort);
    const auto claim = claim_of(finding, settings.endgames, budget);
    if (!claim) {
        return {};
    }
    const auto written = solve::write_certificate(*claim, budget, settings.endgames, most_lines);
    return written ? report::Proof{*written, {}}
                   : report::Proof{{}, std::string(solve::name(written.error()))};
}

} // namespace

std::vector<Error> write_proofs(report::Report& report, const rules::Policy& policy, std::size_t jobs) {
    report.proofs.assign(report.findings.size(), {});
    std::vector<std::string> faults(report.findings.size());
    for_each_index(report.findings.size(), jobs, [&](std::size_t i) {
        const rules::Finding& finding = report.findings[i];
        try {
            report.proofs[i] = proof_of(finding, policy.for_file(finding.file));
        } catch (const std::exception& fault) {
            faults[i] = fmt::format("internal error: certificate of {} on {}: {}", finding.rule,
                                    finding.puzzle, fault.what());
        }
    });
    std::vector<Error> errors;
    for (std::string& fault : faults) {
        if (!fault.empty()) {
            errors.push_back({Error::Kind::internal, std::move(fault), {}, "please report this"});
        }
    }
    return errors;
}

} // namespace app
