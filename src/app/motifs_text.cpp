#include "app/motifs_text.hpp"

#include "board/san.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace app {
namespace {

std::string row(const board::Position& position, std::span<const board::Move> line,
                const motif::Evidence& evidence) {
    return fmt::format("  {:<10}  {}, {}: {}\n", motif::name(evidence.strength), evidence.motif,
                       board::write_line(position, line.first(evidence.ply + 1)), evidence.why);
}

bool has(const std::vector<motif::Evidence>& found, std::string_view motif) {
    return std::any_of(found.begin(), found.end(),
                       [&](const motif::Evidence& evidence) { return evidence.motif == motif; });
}

} // namespace

std::string motifs_text(const board::Position& position, std::span<const board::Move> line,
                        const std::vector<motif::Evidence>& found) {
    std::string text;
    for (const motif::Evidence& evidence : found) {
        if (evidence.level != motif::Level::seen) {
            text += row(position, line, evidence);
        }
    }
    return fmt::format("Motifs of {}\n{}", board::write_line(position, line),
                       text.empty() ? "  none\n" : text);
}

std::string variation_motifs_text(const board::Position& position, const solve::Problem& problem,
                                  const std::vector<motif::Evidence>& found, solve::Solver& solver) {
    if (problem.moves != 2 || !problem.variations) {
        return {};
    }
    std::string text;
    std::vector<motif::Evidence> told = found;
    for (const solve::Variation& variation : *problem.variations) {
        if (variation.answer.moves.empty()) {
            continue;
        }
        const motif::SolutionLine line{position,
                                       {problem.key, variation.reply, variation.answer.moves.front()}};
        for (const motif::Evidence& evidence : motif::find(line, solver)) {
            const bool main = evidence.strength == motif::Strength::main;
            if (main && evidence.level == motif::Level::decisive && !has(told, evidence.motif)) {
                const std::string played = board::write_line(position, line.moves);
                text += fmt::format("  {}, {}: {}\n", evidence.motif, played, evidence.why);
                told.push_back(evidence);
            }
        }
    }
    return text.empty() ? "" : "\nIn other variations\n" + text;
}

} // namespace app
