#include "motif/detectors.hpp"

namespace motif {
namespace {

constexpr Detector table[] = {
    {"advanced-passed-pawn", detect_advanced_passed_pawn},
    {"back-rank-mate", detect_back_rank_mate},
    {"battery", detect_battery},
    {"bristol", detect_bristol},
    {"castling", detect_castling},
    {"clearance", detect_clearance},
    {"corridor-mate", detect_edge_mates},
    {"decoy", detect_decoy},
    {"deflection", detect_deflection},
    {"desperado", detect_desperado},
    {"discovered-attack", detect_discovery},
    {"double-purpose-threat", detect_double_purpose_threat},
    {"driving-off-the-guard", detect_driving_off_the_guard},
    {"en-passant", detect_en_passant},
    {"exchange-sacrifice", detect_exchange_sacrifice},
    {"exploiting-a-pin", detect_exploiting_a_pin},
    {"fork", detect_fork},
    {"grimshaw", detect_crossing_lines},
    {"indian", detect_indian},
    {"insufficiently-guarded-piece", detect_insufficiently_guarded_piece},
    {"interference", detect_interference},
    {"king-hunt", detect_king_hunt},
    {"legal-mate", detect_legal_mate},
    {"loose-piece", detect_loose_piece},
    {"obstruction", detect_obstruction},
    {"opposition", detect_opposition},
    {"pawn-breakthrough", detect_pawn_breakthrough},
    {"perpetual-check", detect_perpetual_check},
    {"pin", detect_pin},
    {"promotion", detect_promotion},
    {"pure-mate", detect_pure_mate},
    {"queen-sacrifice", detect_queen_sacrifice},
    {"quiet-move", detect_quiet_move},
    {"removing-the-guard", detect_removing_the_guard},
    {"self-block", detect_self_block},
    {"sham-sacrifice", detect_sham_sacrifice},
    {"skewer", detect_skewer},
    {"smothered-mate", detect_shape_mates},
    {"stalemate-resource", detect_stalemate_resource},
    {"suffocation-mate", detect_further_mates},
    {"switchback", detect_switchback},
    {"threat-key", detect_keys},
    {"trapped-piece", detect_trapped_piece},
    {"triangulation", detect_triangulation},
    {"underpromotion", detect_underpromotion},
    {"windmill", detect_windmill},
    {"x-ray", detect_x_ray},
    {"zugzwang", detect_zugzwang},
    {"zwischenzug", detect_zwischenzug},
};

} // namespace

std::span<const Detector> detectors() {
    return table;
}

} // namespace motif
