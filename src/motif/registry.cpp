#include "motif/detectors.hpp"

#include <algorithm>
#include <array>

namespace motif {
namespace {

constexpr Detector table[] = {
    {"advanced-passed-pawn", detect_advanced_passed_pawn},
    {"back-rank-mate", detect_back_rank_mate},
    {"castling", detect_castling},
    {"clearance", detect_clearance},
    {"corridor-mate", detect_edge_mates},
    {"decoy", detect_decoy},
    {"deflection", detect_deflection},
    {"discovered-attack", detect_discovery},
    {"double-purpose-threat", detect_double_purpose_threat},
    {"en-passant", detect_en_passant},
    {"exchange-sacrifice", detect_exchange_sacrifice},
    {"exploiting-a-pin", detect_exploiting_a_pin},
    {"fork", detect_fork},
    {"interference", detect_interference},
    {"loose-piece", detect_loose_piece},
    {"obstruction", detect_obstruction},
    {"perpetual-check", detect_perpetual_check},
    {"pin", detect_pin},
    {"promotion", detect_promotion},
    {"queen-sacrifice", detect_queen_sacrifice},
    {"quiet-move", detect_quiet_move},
    {"removing-the-guard", detect_removing_the_guard},
    {"sham-sacrifice", detect_sham_sacrifice},
    {"skewer", detect_skewer},
    {"smothered-mate", detect_shape_mates},
    {"stalemate-resource", detect_stalemate_resource},
    {"trapped-piece", detect_trapped_piece},
    {"underpromotion", detect_underpromotion},
    {"x-ray", detect_x_ray},
    {"zugzwang", detect_zugzwang},
    {"zwischenzug", detect_zwischenzug},
};

constexpr std::string_view all_names[] = {
    "absolute-pin",
    "advanced-passed-pawn",
    "anastasia-mate",
    "arabian-mate",
    "back-rank-mate",
    "boden-mate",
    "castling",
    "clearance",
    "corridor-mate",
    "decoy",
    "deflection",
    "discovered-attack",
    "discovered-check",
    "double-check",
    "double-purpose-threat",
    "dovetail-mate",
    "en-passant",
    "epaulette-mate",
    "exchange-sacrifice",
    "exploiting-a-pin",
    "family-fork",
    "fork",
    "greco-mate",
    "hook-mate",
    "in-between-check",
    "interference",
    "knight-fork",
    "ladder-mate",
    "loose-piece",
    "obstruction",
    "opera-mate",
    "overloaded-unit",
    "pawn-fork",
    "perpetual-check",
    "promotion",
    "queen-sacrifice",
    "quiet-move",
    "relative-pin",
    "removing-the-guard",
    "royal-fork",
    "sham-sacrifice",
    "skewer",
    "smothered-mate",
    "stalemate-resource",
    "swallow-tail-mate",
    "trapped-piece",
    "two-bishops-mate",
    "underpromotion",
    "x-ray",
    "zugzwang",
    "zwischenzug",
};

struct Kinship {
    std::string_view special;
    std::string_view general;
};

/// One step up; supports() climbs. "pin" and "sacrifice" are words for tags only: find() reports
/// the special ones.
constexpr Kinship kinships[] = {
    {"absolute-pin", "pin"},
    {"advanced-passed-pawn", "promotion"},
    {"anastasia-mate", "corridor-mate"},
    {"back-rank-mate", "corridor-mate"},
    {"discovered-check", "discovered-attack"},
    {"double-check", "discovered-check"},
    {"exchange-sacrifice", "sham-sacrifice"},
    {"exploiting-a-pin", "absolute-pin"},
    {"family-fork", "royal-fork"},
    {"greco-mate", "corridor-mate"},
    {"in-between-check", "zwischenzug"},
    {"knight-fork", "fork"},
    {"ladder-mate", "corridor-mate"},
    {"obstruction", "interference"},
    {"opera-mate", "back-rank-mate"},
    {"overloaded-unit", "deflection"},
    {"pawn-fork", "fork"},
    {"queen-sacrifice", "sham-sacrifice"},
    {"relative-pin", "pin"},
    {"royal-fork", "knight-fork"},
    {"sham-sacrifice", "sacrifice"},
    {"underpromotion", "promotion"},
};

} // namespace

std::span<const Detector> detectors() {
    return table;
}

std::span<const std::string_view> names() {
    return all_names;
}

bool supports(std::string_view evidence_motif, std::string_view declared) {
    if (evidence_motif == declared) {
        return true;
    }
    return std::any_of(std::begin(kinships), std::end(kinships), [&](const Kinship& kinship) {
        return kinship.special == evidence_motif && supports(kinship.general, declared);
    });
}

} // namespace motif
