// One row a rule: its id and its function, which stands in src/rules/<family>/<name>.cpp. A test holds the
// table against the files here and in rules/.

#include "rules/rule.hpp"

#include <algorithm>
#include <array>

namespace rules {

namespace file {
void syntax(const DocumentView& view, Findings& findings);
void unreadable(const DocumentView& view, Findings& findings);
void unreasoned_allowance(const PuzzleView& view, Findings& findings);
void unused_allowance(const PuzzleView& view, std::span<const Finding> found, Findings& findings);
} // namespace file

namespace key {
void cook(const PuzzleView& view, Findings& findings);
void illegal(const PuzzleView& view, Findings& findings);
void missing(const PuzzleView& view, Findings& findings);
void open(const PuzzleView& view, Findings& findings);
void refuted(const PuzzleView& view, Findings& findings);
void second_win(const PuzzleView& view, Findings& findings);
void short_mate(const PuzzleView& view, Findings& findings);
void wrong_goal(const PuzzleView& view, Findings& findings);
} // namespace key

namespace line {
void ambiguous(const PuzzleView& view, Findings& findings);
void dual(const PuzzleView& view, Findings& findings);
void equivalent(const PuzzleView& view, Findings& findings);
void fails(const PuzzleView& view, Findings& findings);
void glyph(const PuzzleView& view, Findings& findings);
void illegal(const PuzzleView& view, Findings& findings);
void missing_defence(const PuzzleView& view, Findings& findings);
void notation(const PuzzleView& view, Findings& findings);
void only_move(const PuzzleView& view, Findings& findings);
void result(const PuzzleView& view, Findings& findings);
void runs_on(const PuzzleView& view, Findings& findings);
void stops_early(const PuzzleView& view, Findings& findings);
void try_refutation(const PuzzleView& view, Findings& findings);
void try_works(const PuzzleView& view, Findings& findings);
void weak_main_line(const PuzzleView& view, Findings& findings);
} // namespace line

namespace set {
void duplicate_id(const CollectionView& view, Findings& findings);
void duplicate_position(const CollectionView& view, Findings& findings);
void en_passant_field(const CollectionView& view, Findings& findings);
void missing_field(const PuzzleView& view, Findings& findings);
} // namespace set

namespace diagram {
void castling_rights(const PuzzleView& view, Findings& findings);
void counters(const PuzzleView& view, Findings& findings);
void en_passant(const PuzzleView& view, Findings& findings);
void game_over(const PuzzleView& view, Findings& findings);
void impossible_check(const PuzzleView& view, Findings& findings);
void kings(const PuzzleView& view, Findings& findings);
void no_last_move(const PuzzleView& view, Findings& findings);
void opponent_in_check(const PuzzleView& view, Findings& findings);
void pawn_ranks(const PuzzleView& view, Findings& findings);
void too_many_pieces(const PuzzleView& view, Findings& findings);
void unreachable(const PuzzleView& view, Findings& findings);
} // namespace diagram

namespace text {
void caption_goal(const PuzzleView& view, Findings& findings);
void caption_turn(const PuzzleView& view, Findings& findings);
void count(const DocumentView& view, Findings& findings);
void outcome(const PuzzleView& view, Findings& findings);
} // namespace text

namespace theme {
void missing(const PuzzleView& view, Findings& findings);
void order(const PuzzleView& view, Findings& findings);
void unknown(const PuzzleView& view, Findings& findings);
void unsupported(const PuzzleView& view, Findings& findings);
} // namespace theme

namespace turn {
void disagreement(const PuzzleView& view, Findings& findings);
void swapped(const PuzzleView& view, Findings& findings);
} // namespace turn

std::span<const Rule> registry() {
    static constexpr std::array table{
        Rule{"file/syntax", &file::syntax},
        Rule{"file/unreadable", &file::unreadable},
        Rule{"file/unreasoned-allowance", &file::unreasoned_allowance},
        Rule{"file/unused-allowance", &file::unused_allowance},
        Rule{"key/cook", &key::cook},
        Rule{"key/illegal", &key::illegal},
        Rule{"key/missing", &key::missing},
        Rule{"key/open", &key::open},
        Rule{"key/refuted", &key::refuted},
        Rule{"key/second-win", &key::second_win},
        Rule{"key/short-mate", &key::short_mate},
        Rule{"key/wrong-goal", &key::wrong_goal},
        Rule{"line/ambiguous", &line::ambiguous},
        Rule{"line/dual", &line::dual},
        Rule{"line/equivalent", &line::equivalent},
        Rule{"line/fails", &line::fails},
        Rule{"line/glyph", &line::glyph},
        Rule{"line/illegal", &line::illegal},
        Rule{"line/missing-defence", &line::missing_defence},
        Rule{"line/notation", &line::notation},
        Rule{"line/only-move", &line::only_move},
        Rule{"line/result", &line::result},
        Rule{"line/runs-on", &line::runs_on},
        Rule{"line/stops-early", &line::stops_early},
        Rule{"line/try-refutation", &line::try_refutation},
        Rule{"line/try-works", &line::try_works},
        Rule{"line/weak-main-line", &line::weak_main_line},
        Rule{"set/duplicate-id", &set::duplicate_id},
        Rule{"set/duplicate-position", &set::duplicate_position},
        Rule{"set/en-passant-field", &set::en_passant_field},
        Rule{"set/missing-field", &set::missing_field},
        Rule{"setup/castling-rights", &diagram::castling_rights},
        Rule{"setup/counters", &diagram::counters},
        Rule{"setup/en-passant", &diagram::en_passant},
        Rule{"setup/game-over", &diagram::game_over},
        Rule{"setup/impossible-check", &diagram::impossible_check},
        Rule{"setup/kings", &diagram::kings},
        Rule{"setup/no-last-move", &diagram::no_last_move},
        Rule{"setup/opponent-in-check", &diagram::opponent_in_check},
        Rule{"setup/pawn-ranks", &diagram::pawn_ranks},
        Rule{"setup/too-many-pieces", &diagram::too_many_pieces},
        Rule{"setup/unreachable", &diagram::unreachable},
        Rule{"text/caption-goal", &text::caption_goal},
        Rule{"text/caption-turn", &text::caption_turn},
        Rule{"text/count", &text::count},
        Rule{"text/outcome", &text::outcome},
        Rule{"theme/missing", &theme::missing},
        Rule{"theme/order", &theme::order},
        Rule{"theme/unknown", &theme::unknown},
        Rule{"theme/unsupported", &theme::unsupported},
        Rule{"turn/disagreement", &turn::disagreement},
        Rule{"turn/swapped", &turn::swapped},
    };
    return table;
}

const Rule* find_rule(std::string_view id) {
    const std::span<const Rule> all = registry();
    const auto found =
        std::lower_bound(all.begin(), all.end(), id,
                         [](const Rule& rule, std::string_view wanted) { return rule.id < wanted; });
    return found != all.end() && found->id == id ? &*found : nullptr;
}

} // namespace rules
