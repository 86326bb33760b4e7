#include "collection/builder.hpp"

#include "board/san.hpp"
#include "collection/document.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <array>

namespace collection {

namespace {

Stated<std::string> stated(const Source& source) {
    return {to_utf8(source.text()), source.span()};
}

/// Room for one more; says once that there is none.
template <class T> bool has_room(Puzzle& puzzle, const std::vector<T>& list, const Source& source) {
    if (list.size() < max_list) {
        return true;
    }
    if (puzzle.faults.empty() || puzzle.faults.back().kind != Fault::Kind::limit) {
        add_fault(puzzle, Fault::Kind::limit, source.span(),
                  "The list has more than " + std::to_string(max_list) + " entries; the rest was not read");
    }
    return false;
}

/// Key moves with a check sign after a blank ("Qd1 +") put together again.
std::vector<Source> moves_in(const Source& source) {
    std::vector<Source> moves;
    std::size_t last = 0; // where the last move begins in the text
    std::string_view text = source.text();
    for (std::size_t at = 0; at < text.size();) {
        if (is_blank(text[at]) || text[at] == ',') {
            ++at;
            continue;
        }
        std::size_t end = at;
        while (end < text.size() && !is_blank(text[end]) && text[end] != ',') {
            ++end;
        }
        const std::string_view word = text.substr(at, end - at);
        if (!moves.empty() && (word == "+" || word == "#" || word == "++" || word == "e.p.")) {
            moves.back() = source.part(last, end);
        } else {
            last = at;
            moves.push_back(source.part(at, end));
        }
        at = end;
    }
    return moves;
}

/// A move of a list: played on the diagram, signs after it ("Qd1!") left aside.
TreeNode read_key(const Puzzle& puzzle, const Source& source, Notation notation) {
    Movetext text = read_movetext(source, puzzle.position, notation);
    return text.tree.nodes.size() > 1 ? std::move(text.tree.nodes[1]) : TreeNode{};
}

/// As written, but for signs after it; coordinates become SAN, which is what such lists promise.
std::string listed_text(const Puzzle& puzzle, const Source& source, Notation notation) {
    const TreeNode node = read_key(puzzle, source, notation);
    if (node.text.empty()) {
        return to_utf8(source.text());
    }
    const bool plain =
        node.status != MoveStatus::legal ||
        read_move(&*puzzle.position, node.text, Notation::san_only).status == MoveStatus::legal;
    return plain ? node.text : board::write_san(*puzzle.position, node.move);
}

void add_moves(Puzzle& puzzle, std::vector<Stated<std::string>>& list, const std::vector<Source>& moves,
               Notation notation) {
    for (const Source& move : moves) {
        if (!has_room(puzzle, list, move)) {
            return;
        }
        list.push_back({listed_text(puzzle, move, notation), move.span()});
    }
}

} // namespace

void add_fault(Puzzle& puzzle, Fault::Kind kind, Span span, std::string what, std::string cure) {
    add_fault(puzzle.faults, {kind, span, std::move(what), std::move(cure)});
}

void set_id(Puzzle& puzzle, const Source& source) {
    const Source inner = source.trimmed();
    if (!inner.text().empty() && !puzzle.id_stated) {
        puzzle.id = stated(inner);
        puzzle.id_stated = true;
    }
}

namespace {

void set_up(Puzzle& puzzle, board::Start start) {
    puzzle.reading = board::read_fen(puzzle.fen.value, start);
    puzzle.position.reset();
    if (!puzzle.reading.usable) {
        return;
    }
    puzzle.setup_faults = board::faults_of(puzzle.reading.setup);
    const auto position = board::Position::from(board::without_field_faults(puzzle.reading.setup));
    if (position) {
        puzzle.position = *position;
    }
}

} // namespace

void set_fen(Puzzle& puzzle, const Source& source) {
    const Source inner = source.trimmed();
    puzzle.fen = stated(inner);
    if (inner.text().empty()) {
        return;
    }
    set_up(puzzle, board::Start::orthodox);
    const board::FenReading& reading = puzzle.reading;
    if (reading.usable) {
        const Span letter =
            inner.span(reading.side_begin, std::min(reading.side_begin + 1, inner.text().size()));
        puzzle.sides.push_back({reading.setup.turn, SideStatement::Source::fen, letter});
    }
}

void set_variant(Puzzle& puzzle, const Source& source) {
    const Source inner = source.trimmed();
    const std::string name = lower(inner.text());
    constexpr std::array<std::string_view, 6> orthodox{"",         "standard", "normal",
                                                       "orthodox", "chess",    "from position"};
    constexpr std::array<std::string_view, 6> shuffled{
        "chess960", "chess 960", "960", "fischerandom", "fischer random", "fischer random chess"};
    if (std::find(orthodox.begin(), orthodox.end(), name) != orthodox.end()) {
        return;
    }
    if (std::find(shuffled.begin(), shuffled.end(), name) != shuffled.end()) {
        set_up(puzzle, board::Start::shuffled);
        return;
    }
    puzzle.reading = {};
    puzzle.position.reset();
    puzzle.sides.clear();
    puzzle.goal = Stated<Goal>{{GoalKind::not_checked, 0, GoalUnit::pawn}, inner.span()};
    add_fault(puzzle, Fault::Kind::variant, inner.span(),
              in_quotes(inner.text()) + " is played by other rules: nothing is checked on the board");
}

void set_goal(Puzzle& puzzle, const Source& source) {
    const Source inner = source.trimmed();
    if (inner.text().empty()) {
        return;
    }
    const std::optional<Goal> goal = read_goal(inner.text());
    if (!goal) {
        add_fault(puzzle, Fault::Kind::field, inner.span(),
                  "No goal that can be read: " + in_quotes(inner.text()),
                  "Write \"mate in 3\", \"win\", \"win the exchange\", \"draw\", \"hold\" or \"best\"");
    } else if (!puzzle.goal || puzzle.goal_by_caption) {
        puzzle.goal = Stated<Goal>{*goal, inner.span()};
        puzzle.goal_by_caption = false;
    }
}

std::optional<board::Color> read_color(std::string_view text) {
    const std::string word = lower(trim(text));
    for (const board::Color color : {board::Color::white, board::Color::black}) {
        const std::string name(board::name(color));
        if (word == name || word == name.substr(0, 1) || word == name + " to move" ||
            word == name + " to play") {
            return color;
        }
    }
    return std::nullopt;
}

void set_side(Puzzle& puzzle, const Source& source) {
    const Source inner = source.trimmed();
    if (inner.text().empty()) {
        return;
    }
    if (const std::optional<board::Color> color = read_color(inner.text())) {
        puzzle.sides.push_back({*color, SideStatement::Source::field, inner.span()});
    } else {
        add_fault(puzzle, Fault::Kind::field, inner.span(), "No side to move: " + in_quotes(inner.text()),
                  "Write \"white\" or \"black\"");
    }
}

namespace {

/// Remarks may stand behind the result; anything else was meant to be read.
void check_end(Puzzle& puzzle, const Source& source, const Movetext& text) {
    const Source rest = source.part(text.end, source.text().size()).trimmed();
    if (puzzle.solution.result && !rest.text().empty() &&
        std::string_view("{;%").find(rest.text().front()) == std::string_view::npos) {
        add_fault(puzzle, Fault::Kind::syntax, rest.span(),
                  "What stands behind the result " + puzzle.solution.result->value + " is not read",
                  "Move the result to the end");
    }
}

} // namespace

void set_solution(Puzzle& puzzle, const Source& source, Notation notation, FirstMove first) {
    const Source inner = source.trimmed();
    Movetext text = read_movetext(inner, puzzle.position, notation, first);
    puzzle.solution = std::move(text.tree);
    if (!puzzle.solution.empty()) {
        puzzle.solution_span = inner.span();
    }
    for (Fault& fault : text.faults) {
        add_fault(puzzle.faults, std::move(fault));
    }
    check_end(puzzle, inner, text);
    if (first == FirstMove::opponent) {
        puzzle.lead_in = std::move(text.lead_in);
        puzzle.position = text.diagram;
        if (text.lead_in_played && !puzzle.sides.empty()) {
            puzzle.sides.front().color = puzzle.position->turn(); // the FEN speaks of the move before
        }
    }
    if (text.first_number) {
        puzzle.sides.push_back(*text.first_number);
    }
    add_caption_of_solution(puzzle);
}

void set_keys(Puzzle& puzzle, const Source& source, Notation notation) {
    std::vector<Source> keys = moves_in(source);
    if (keys.empty()) {
        return;
    }
    if (puzzle.solution.empty()) {
        const std::optional<Stated<std::string>> result = puzzle.solution.result;
        std::vector<Comment> comments = std::move(puzzle.solution.nodes[0].comments);
        Movetext text = read_movetext(keys.front(), puzzle.position, notation);
        puzzle.solution = std::move(text.tree);
        puzzle.solution.result = result;
        puzzle.solution.nodes[0].comments = std::move(comments);
        puzzle.solution_span = source.trimmed().span();
        puzzle.key_only = true;
        keys.erase(keys.begin());
    } else {
        const TreeNode& line = puzzle.solution.nodes[1];
        const auto opens_line = [&](const Source& key) {
            const TreeNode node = read_key(puzzle, key, notation);
            return node.text == line.text || (node.status == MoveStatus::legal &&
                                              line.status == MoveStatus::legal && node.move == line.move);
        };
        const auto found = std::find_if(keys.begin(), keys.end(), opens_line);
        if (found == keys.end()) {
            add_fault(puzzle, Fault::Kind::field, source.trimmed().span(),
                      "The line begins with " + line.text + ", which is not among the best moves");
        } else {
            keys.erase(found);
        }
    }
    add_moves(puzzle, puzzle.accepted, keys, notation);
}

void add_accepted(Puzzle& puzzle, const Source& source, Notation notation) {
    add_moves(puzzle, puzzle.accepted, moves_in(source), notation);
}

void add_avoided(Puzzle& puzzle, const Source& source) {
    add_moves(puzzle, puzzle.avoided, moves_in(source), Notation::san);
}

void add_themes(Puzzle& puzzle, const Source& source, std::string_view separator) {
    for (const Source& theme : split_at(source, separator)) {
        if (!has_room(puzzle, puzzle.themes, theme)) {
            return;
        }
        puzzle.themes.push_back(stated(theme));
    }
}

void add_allowances(Puzzle& puzzle, const Source& source) {
    for (const Source& entry : split(source, ";")) {
        const std::size_t colon = find_any(entry.text(), ":", 0);
        const std::size_t why = std::min(colon + 1, entry.text().size());
        add_allowance(puzzle, entry.part(0, colon).trimmed(), entry.part(why, entry.text().size()).trimmed(),
                      entry.span());
    }
}

void add_allowance(Puzzle& puzzle, const Source& rule, const Source& why, Span span) {
    if (rule.text().empty()) {
        add_fault(puzzle, Fault::Kind::field, span, "An allowance without a rule", "Write \"rule: why\"");
    } else if (has_room(puzzle, puzzle.allowances, rule)) {
        puzzle.allowances.push_back({to_utf8(rule.text()), to_utf8(why.text()), span});
    }
}

void add_field(Puzzle& puzzle, std::string name, const Source& value) {
    if (has_room(puzzle, puzzle.fields, value)) {
        puzzle.fields.push_back({std::move(name), to_utf8(value.text()), value.span()});
    }
}

void add_caption_of_solution(Puzzle& puzzle) {
    const std::vector<Comment>& comments = puzzle.solution.nodes[0].comments;
    if (comments.empty()) {
        return;
    }
    MappedText text;
    text.span = comments.front().span;
    text.append(comments.front().text, text.span.begin);
    if (text.text.size() != text.span.end - text.span.begin) {
        text.pieces.clear(); // not as it stands in the file
    }
    add_caption(puzzle, Source(text));
}

void finish(Puzzle& puzzle, std::string_view path, std::size_t ordinal) {
    if (puzzle.fen.value.empty()) {
        puzzle.fen.span = {puzzle.span.begin, puzzle.span.begin};
        add_fault(puzzle, Fault::Kind::field, puzzle.fen.span, "The puzzle has no FEN");
    }
    if (!puzzle.id_stated) {
        const std::string_view file = path.substr(path.rfind('/') + 1); // npos + 1 is 0
        puzzle.id = {std::string(file) + "#" + std::to_string(ordinal),
                     {puzzle.span.begin, puzzle.span.begin}};
    }
    settle_goal(puzzle);
}

} // namespace collection
