#pragma once
// The detectors, one a motif or a family of motifs; registry.cpp lists them. A family reports its most
// specific name.

#include "motif/study.hpp"

namespace motif {

using Found = std::vector<Evidence>;

/// The same evidence once more, for those who use the word `motif` in a wider sense.
inline void also_called(Evidence evidence, std::string_view motif, Found& found) {
    evidence.motif = motif;
    evidence.wider = true;
    found.push_back(std::move(evidence));
}

void detect_advanced_passed_pawn(const Study& study, Found& found);
void detect_back_rank_mate(const Study& study, Found& found);
void detect_battery(const Study& study, Found& found);
void detect_bristol(const Study& study, Found& found);
void detect_castling(const Study& study, Found& found);
void detect_clearance(const Study& study, Found& found);      // square-clearance, line-clearance
void detect_crossing_lines(const Study& study, Found& found); // grimshaw, novotny
void detect_decoy(const Study& study, Found& found);
void detect_deflection(const Study& study, Found& found); // also overloaded-unit
void detect_desperado(const Study& study, Found& found);
void detect_discovery(const Study& study, Found& found); // discovered-attack, discovered-check, double-check
void detect_double_purpose_threat(const Study& study, Found& found);
void detect_driving_off_the_guard(const Study& study, Found& found);
void detect_edge_mates(const Study& study,
                       Found& found); // corridor, ladder, anastasia, greco, arabian, hook, opera
void detect_en_passant(const Study& study, Found& found);
void detect_exchange_sacrifice(const Study& study, Found& found);
void detect_exploiting_a_pin(const Study& study, Found& found);
void detect_further_mates(const Study& study, Found& found); // mayet, lolli, suffocation, ...
void detect_fork(const Study& study, Found& found);          // also knight-, royal-, family- and pawn-fork
void detect_indian(const Study& study, Found& found);
void detect_insufficiently_guarded_piece(const Study& study, Found& found);
void detect_interference(const Study& study, Found& found);
void detect_keys(const Study& study, Found& found); // threat-key, block-key, flight-giving-key
void detect_king_hunt(const Study& study, Found& found);
void detect_legal_mate(const Study& study, Found& found);
void detect_loose_piece(const Study& study, Found& found);
void detect_obstruction(const Study& study, Found& found);
void detect_opposition(const Study& study, Found& found);
void detect_pawn_breakthrough(const Study& study, Found& found);
void detect_perpetual_check(const Study& study, Found& found);
void detect_pin(const Study& study, Found& found); // absolute-pin, relative-pin
void detect_promotion(const Study& study, Found& found);
void detect_pure_mate(const Study& study, Found& found); // also model-mate, ideal-mate
void detect_queen_sacrifice(const Study& study, Found& found);
void detect_quiet_move(const Study& study, Found& found);
void detect_removing_the_guard(const Study& study, Found& found);
void detect_self_block(const Study& study, Found& found);
void detect_sham_sacrifice(const Study& study, Found& found);
void detect_shape_mates(const Study& study,
                        Found& found); // smothered, boden, two-bishops, epaulette, dovetail, ...
void detect_skewer(const Study& study, Found& found);
void detect_stalemate_resource(const Study& study, Found& found);
void detect_switchback(const Study& study, Found& found);
void detect_trapped_piece(const Study& study, Found& found);
void detect_triangulation(const Study& study, Found& found);
void detect_underpromotion(const Study& study, Found& found);
void detect_windmill(const Study& study, Found& found);
void detect_x_ray(const Study& study, Found& found);
void detect_zugzwang(const Study& study, Found& found);    // also mutual-zugzwang
void detect_zwischenzug(const Study& study, Found& found); // also in-between-check

} // namespace motif
