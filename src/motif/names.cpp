// The motifs by name: the family each belongs to and how much it tells.

#include "motif/names.hpp"

#include "motif/motif.hpp"

#include <algorithm>

namespace motif {
namespace {

struct Name {
    std::string_view motif;
    Weight weight;
    std::string_view general; ///< one step up in the family; empty for the head of one
};

constexpr Name rows[] = {
    {"absolute-pin", Weight::telling, "pin"},
    {"advanced-passed-pawn", Weight::helping, "promotion"},
    {"anastasia-mate", Weight::telling, "corridor-mate"},
    {"anderssen-mate", Weight::telling, ""},
    {"arabian-mate", Weight::telling, ""},
    {"back-rank-mate", Weight::telling, "corridor-mate"},
    {"battery", Weight::aside, ""},
    {"blackburne-mate", Weight::telling, ""},
    {"block-key", Weight::aside, ""},
    {"boden-mate", Weight::telling, ""},
    {"bristol", Weight::telling, "line-clearance"},
    {"castling", Weight::helping, ""},
    {"clearance", Weight::helping, ""},
    {"corridor-mate", Weight::aside, ""},
    {"damiano-mate", Weight::telling, ""},
    {"decoy", Weight::telling, ""},
    {"deflection", Weight::telling, ""},
    {"desperado", Weight::helping, ""},
    {"discovered-attack", Weight::telling, ""},
    {"discovered-check", Weight::telling, "discovered-attack"},
    {"double-check", Weight::telling, "discovered-check"},
    {"double-purpose-threat", Weight::telling, ""},
    {"dovetail-mate", Weight::telling, ""},
    {"driving-off-the-guard", Weight::telling, ""},
    {"en-passant", Weight::helping, ""},
    {"epaulette-mate", Weight::telling, ""},
    {"exchange-sacrifice", Weight::helping, "sham-sacrifice"},
    {"exploiting-a-pin", Weight::telling, "absolute-pin"},
    {"family-fork", Weight::telling, "royal-fork"},
    {"flight-giving-key", Weight::aside, ""},
    {"fork", Weight::telling, ""},
    {"greco-mate", Weight::telling, "corridor-mate"},
    {"grimshaw", Weight::telling, "obstruction"},
    {"hook-mate", Weight::telling, ""},
    {"ideal-mate", Weight::aside, "model-mate"},
    {"in-between-check", Weight::telling, "zwischenzug"},
    {"indian", Weight::telling, ""},
    {"insufficiently-guarded-piece", Weight::aside, ""},
    {"interference", Weight::telling, ""},
    {"king-hunt", Weight::telling, ""},
    {"knight-fork", Weight::telling, "fork"},
    {"ladder-mate", Weight::telling, "corridor-mate"},
    {"legal-mate", Weight::telling, ""},
    {"line-clearance", Weight::helping, "clearance"},
    {"lolli-mate", Weight::telling, ""},
    {"loose-piece", Weight::helping, ""},
    {"mayet-mate", Weight::telling, "opera-mate"},
    {"model-mate", Weight::aside, "pure-mate"},
    {"morphy-mate", Weight::telling, ""},
    {"mutual-zugzwang", Weight::telling, "zugzwang"},
    {"novotny", Weight::telling, "obstruction"},
    {"obstruction", Weight::telling, "interference"},
    {"opera-mate", Weight::telling, "back-rank-mate"},
    {"opposition", Weight::telling, ""},
    {"overloaded-unit", Weight::telling, "deflection"},
    {"pawn-breakthrough", Weight::telling, ""},
    {"pawn-fork", Weight::telling, "fork"},
    {"perpetual-check", Weight::telling, ""},
    {"pillsbury-mate", Weight::telling, ""},
    {"pin", Weight::telling, ""},
    {"promotion", Weight::helping, ""},
    {"pure-mate", Weight::aside, ""},
    {"queen-sacrifice", Weight::helping, "sham-sacrifice"},
    {"quiet-move", Weight::helping, ""},
    {"relative-pin", Weight::telling, "pin"},
    {"removing-the-guard", Weight::telling, ""},
    {"royal-fork", Weight::telling, "knight-fork"},
    {"sacrifice", Weight::helping, ""},
    {"self-block", Weight::aside, ""},
    {"sham-sacrifice", Weight::helping, "sacrifice"},
    {"skewer", Weight::telling, ""},
    {"smothered-mate", Weight::telling, ""},
    {"square-clearance", Weight::helping, "clearance"},
    {"stalemate-resource", Weight::telling, ""},
    {"suffocation-mate", Weight::telling, ""},
    {"swallow-tail-mate", Weight::telling, ""},
    {"switchback", Weight::aside, ""},
    {"threat-key", Weight::aside, ""},
    {"trapped-piece", Weight::telling, ""},
    {"triangulation", Weight::telling, ""},
    {"two-bishops-mate", Weight::telling, ""},
    {"two-rooks-on-the-seventh", Weight::telling, ""},
    {"underpromotion", Weight::telling, "promotion"},
    {"windmill", Weight::telling, "discovered-check"},
    {"x-ray", Weight::helping, ""},
    {"zugzwang", Weight::telling, ""},
    {"zwischenzug", Weight::telling, ""},
};

const Name* row_of(std::string_view motif) {
    const auto* const row = std::lower_bound(std::begin(rows), std::end(rows), motif,
                                             [](const Name& a, std::string_view b) { return a.motif < b; });
    return row != std::end(rows) && row->motif == motif ? row : nullptr;
}

} // namespace

std::vector<std::string_view> names() {
    std::vector<std::string_view> all;
    for (const Name& row : rows) {
        all.push_back(row.motif);
    }
    return all;
}

bool supports(std::string_view evidence_motif, std::string_view declared) {
    if (evidence_motif == declared) {
        return true;
    }
    const Name* const row = row_of(evidence_motif);
    return row != nullptr && !row->general.empty() && supports(row->general, declared);
}

bool related(std::string_view a, std::string_view b) {
    const auto head = [](std::string_view motif) {
        const Name* row = row_of(motif);
        while (row != nullptr && !row->general.empty()) {
            motif = row->general;
            row = row_of(motif);
        }
        return motif;
    };
    return head(a) == head(b);
}

Weight weight_of(std::string_view motif) {
    const Name* const row = row_of(motif);
    return row == nullptr ? Weight::aside : row->weight;
}

std::string_view name(Strength strength) {
    return strength == Strength::main         ? "main"
           : strength == Strength::supporting ? "supporting"
                                              : "incidental";
}

} // namespace motif
