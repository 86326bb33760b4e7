#include "report/overview.hpp"

#include "report/head.hpp"
#include "report/utf8.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace report {
namespace {

/// Counts by a key that sorts as the rows should.
template <class Key, class Name>
CountTable counted(std::string_view by, const std::map<Key, std::size_t>& counts, Name name) {
    CountTable table{by, {}};
    for (const auto& [key, puzzles] : counts) {
        table.rows.push_back({name(key), puzzles});
    }
    return table;
}

CountTable most_first(CountTable table) {
    std::stable_sort(table.rows.begin(), table.rows.end(),
                     [](const auto& a, const auto& b) { return a.puzzles > b.puzzles; });
    return table;
}

/// By the second field of a FEN, whatever else is wrong with it.
int side_rank(const rules::PuzzleSummary& puzzle) {
    const std::size_t blank = puzzle.fen.find(' ');
    const char side =
        blank == std::string::npos || blank + 1 == puzzle.fen.size() ? '?' : puzzle.fen[blank + 1];
    return side == 'w' ? 0 : side == 'b' ? 1 : 2;
}

std::string side_name(int rank) {
    constexpr std::array names{"White", "Black", "not stated"};
    return names.at(static_cast<std::size_t>(rank));
}

std::string length_of(std::size_t moves) {
    return moves == 0 ? "no line" : plural(moves, "move");
}

/// As a rank, so that what is certain comes first.
int certainty_of(const rules::PuzzleSummary& puzzle) {
    constexpr int not_judged = 3;
    if (!puzzle.key) {
        return not_judged;
    }
    switch (puzzle.key->certainty) {
    case solve::Certainty::proved:
        return 0;
    case solve::Certainty::searched:
        return 1;
    case solve::Certainty::open:
        break;
    }
    return 2;
}

std::string certainty_name(int rank) {
    constexpr std::array names{"proved", "searched", "open", "not judged"};
    return names.at(static_cast<std::size_t>(rank));
}

} // namespace

std::vector<CountTable> overview_of(const Report& report) {
    std::map<std::string, std::size_t> chapters;
    std::map<std::string, std::size_t> motifs;
    std::map<int, std::size_t> sides;
    std::map<std::string, std::size_t> goals;
    std::map<std::size_t, std::size_t> lengths;
    std::map<int, std::size_t> certainties;
    for (const rules::PuzzleSummary& puzzle : report.summaries) {
        ++chapters[puzzle.file];
        std::set<std::string_view> shown;
        for (const auto& motif : puzzle.motifs) {
            if (shown.insert(motif.motif).second) {
                ++motifs[motif.motif];
            }
        }
        ++sides[side_rank(puzzle)];
        ++goals[puzzle.goal.empty() ? "none" : puzzle.goal];
        ++lengths[puzzle.moves];
        ++certainties[certainty_of(puzzle)];
    }
    const auto itself = [](const std::string& name) { return name; };
    return {counted("chapter", chapters, itself),
            most_first(counted("motif", motifs, itself)),
            counted("side to move", sides, side_name),
            most_first(counted("goal", goals, itself)),
            counted("length", lengths, length_of),
            counted("certainty of the key", certainties, certainty_name)};
}

Written<Plain> overview_text(const Report& report, std::size_t columns) {
    const std::vector<CountTable> tables = overview_of(report);
    std::size_t widest = 0;
    for (const CountTable& table : tables) {
        widest = std::max(widest, table.by.size());
        for (const CountTable::Row& row : table.rows) {
            widest = std::max(widest, width(harmless(row.name)));
        }
    }
    constexpr std::size_t around = 4 + 9; // indent and count
    const std::size_t room = columns == 0 ? widest : std::max(columns, around + 20) - around;
    widest = std::min(widest, room); // the count of a longer name stands behind it
    Written<Plain> text;
    text << "Overview of " << Untrusted(plural(report.summaries.size(), "puzzle")) << "\n";
    for (const CountTable& table : tables) {
        if (table.rows.empty()) {
            continue;
        }
        text << "\n    " << Untrusted(table.by);
        text.times(widest - table.by.size(), " ") << "  puzzles\n";
        for (const CountTable::Row& row : table.rows) {
            text << "    " << Untrusted(row.name);
            text.times(widest - std::min(widest, width(harmless(row.name))), " ")
                << Untrusted(fmt::format("  {:>7}", row.puzzles)) << "\n";
        }
    }
    text << "\n";
    return text;
}

} // namespace report
