#pragma once
// What happened on the board: one detector a motif, run over one line of a solution.

#include "board/position.hpp"
#include "solve/solver.hpp"

#include <cstdint>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace motif {

/// The diagram and the plies of one line; even plies (0, 2, ...) are the solver's.
struct SolutionLine {
    board::Position start;
    std::vector<board::Move> moves;
    bool set_play = false; ///< the moves begin with the defender's, as if the solver's ply 0 were left out
    /// Where the defender captured with the move before the diagram, when that move is known.
    std::optional<board::Square> lead_in_capture = std::nullopt;
    /// Every other first move is clearly less (solve::KeyTable), when that has been found out.
    std::optional<bool> key_alone = std::nullopt;
};

enum class Level : std::uint8_t {
    seen,       ///< the geometry is there
    functional, ///< and the gain or mate of the line flows from it
    decisive,   ///< and without the feature the line no longer works
};

/// What a motif is to its puzzle.
enum class Strength : std::uint8_t {
    incidental, ///< there, but nothing flows from it, or no one would look for the puzzle under it
    supporting, ///< the line needs it beside another
    main,       ///< what the puzzle is about; several when none tells more than the others
};
[[nodiscard]] std::string_view name(Strength strength);

/// Why a motif is claimed.
struct Evidence {
    std::string motif;   ///< machine name: "knight-fork"
    std::size_t ply = 0; ///< index into moves; in set play one more
    Level level = Level::seen;
    solve::Certainty certainty = solve::Certainty::proved;
    std::vector<board::Square> targets;
    std::string why; ///< "the knight on e7 attacks the king on g8 and the queen on c8"
    Strength strength = Strength::incidental; ///< filled by find()
    bool wider = false; ///< only in the wider reading of a motif that the literature disputes
};

/// Motifs taken in their wider reading (`disputed:` in rules/motif).
using Wide = std::set<std::string, std::less<>>;

/// Positions and measures of a line, computed once and shared by all detectors (study.hpp).
class Study;

/// One motif, or a family that reports under its most specific name ("fork" also reports "royal-fork").
struct Detector {
    std::string_view name;
    void (*detect)(const Study& study, std::vector<Evidence>& found);
};
/// Explicit table, sorted by name.
[[nodiscard]] std::span<const Detector> detectors();

/// Everything found on the line, by ply then name; the strongest evidence a motif. `solver` answers
/// drop-tests and pass-tests out of the puzzle's budget.
[[nodiscard]] std::vector<Evidence> find(const SolutionLine& line, solve::Solver& solver,
                                         const Wide& wide = {});

/// Every name find() may report and the general words above them ("pin", "sacrifice", "clearance"), sorted.
[[nodiscard]] std::vector<std::string_view> names();
/// Does evidence for `evidence_motif` also bear out the tag `declared`? True for equal names and for the
/// general words above a special one: a royal fork is a knight fork is a fork; any pin bears out "pin".
[[nodiscard]] bool supports(std::string_view evidence_motif, std::string_view declared);
/// Of one family: a pawn fork and a royal fork.
[[nodiscard]] bool related(std::string_view a, std::string_view b);

} // namespace motif
