#include "config/keys.hpp"

#include "config/rules.hpp"

#include <algorithm>

namespace config {
namespace {

using collection::TableMapping;
using collection::TagMapping;
using rules::Override;
using rules::Policy;
using rules::Settings;

constexpr std::array<std::string_view, 3> efforts{"draft", "review", "press"};
constexpr std::array<std::string_view, 3> uniqueness{"usual", "strict"};
constexpr std::array<std::string_view, 3> completeness{"key", "main", "full"};
constexpr std::array<std::string_view, 3> notations{"san", "coordinate"};
constexpr std::array<std::string_view, 3> movers{"solver", "opponent"};

/// Reads a text into the member of a mapping.
template <auto Member> void read_text(Reader& reader, const YamlNode& value, auto& into) {
    into.*Member = reader.text(value).value_or("");
}
template <auto Member> void read_glob(Reader& reader, const YamlNode& value, auto& into) {
    into.*Member = reader.glob(value).value_or("");
}
template <auto Member> void read_globs(Reader& reader, const YamlNode& value, Policy& into) {
    into.*Member = reader.globs(value);
}
template <auto Member> void read_pawns(Reader& reader, const YamlNode& value, Override& into) {
    into.*Member = reader.pawns(value);
}

/// An enumeration whose values stand in the order of `choices`.
template <class Enum>
std::optional<Enum> read_choice(Reader& reader, const YamlNode& value,
                                const std::array<std::string_view, 3>& choices) {
    const auto index = reader.choice(value, choices);
    return index ? std::optional(static_cast<Enum>(*index)) : std::nullopt;
}

void read_effort(Reader& reader, const YamlNode& value, Override& into) {
    into.effort = read_choice<solve::Effort>(reader, value, efforts);
}
void read_uniqueness(Reader& reader, const YamlNode& value, Override& into) {
    into.uniqueness = read_choice<rules::Uniqueness>(reader, value, uniqueness);
}
void read_lines(Reader& reader, const YamlNode& value, Override& into) {
    into.lines = read_choice<rules::Lines>(reader, value, completeness);
}
void read_notation(Reader& reader, const YamlNode& value, TableMapping& into) {
    into.moves = read_choice<TableMapping::Moves>(reader, value, notations).value_or(into.moves);
}
void read_mover(Reader& reader, const YamlNode& value, TableMapping& into) {
    into.first_move = read_choice<TableMapping::FirstMove>(reader, value, movers).value_or(into.first_move);
}
void read_key_only(Reader& reader, const YamlNode& value, TableMapping& into) {
    into.key_only = reader.yes_no(value).value_or(false);
}
void read_columns(Reader& reader, const YamlNode& value, TableMapping& into) {
    reader.read(value, column_keys(), into);
}
void ignore(Reader& /*reader*/, const YamlNode& /*value*/, Policy& /*into*/) {}

/// A list of maps, each with a pattern of its own: without `files` an entry would silently fit nothing.
template <class Target> std::vector<Target> read_list(Reader& reader, const YamlNode& list, auto read_one) {
    std::vector<Target> result;
    for (const YamlNode& item : reader.items(list)) {
        Target target;
        read_one(item, target);
        const auto is_files = [](const YamlEntry& entry) { return entry.key.text == "files"; };
        if (std::none_of(item.entries.begin(), item.entries.end(), is_files)) {
            reader.fail(item, "this entry says for no files", "add `files: \"<pattern>\"`");
        }
        result.push_back(std::move(target));
    }
    return result;
}

void read_tables(Reader& reader, const YamlNode& value, Policy& into) {
    into.read.tables = read_list<TableMapping>(reader, value, [&](const YamlNode& item, TableMapping& table) {
        reader.read(item, table_keys(), table);
        if (item.kind == YamlNode::Kind::map && table.fen.empty()) {
            reader.fail(item, "this table has no column with diagrams",
                        "add `columns: {fen: <name of the column>}`");
        }
    });
}
void read_tags(Reader& reader, const YamlNode& value, Policy& into) {
    into.read.tags = read_list<TagMapping>(
        reader, value, [&](const YamlNode& item, TagMapping& tags) { reader.read(item, tag_keys(), tags); });
}
void read_overrides(Reader& reader, const YamlNode& value, Policy& into) {
    into.overrides = read_list<Override>(reader, value, [&](const YamlNode& item, Override& change) {
        reader.read(item, settings_keys(), change, override_keys(), change);
    });
}

} // namespace

std::vector<std::string> level_names() {
    return {"off", "note", "warning", "error"};
}

Keys<Override> settings_keys() {
    static constexpr std::array keys{
        Key<Override>{{"effort", Shape::choice, "review",
                       "how long to search: draft for hooks, review for CI, press before printing", efforts,
                       ""},
                      read_effort},
        Key<Override>{{"win-at", Shape::number, "2.0", "from this many pawns on a position is won", {}, ""},
                      read_pawns<&Override::win_at>},
        Key<Override>{
            {"near", Shape::number, "1.0", "within this many pawns a move is as good as the key", {}, ""},
            read_pawns<&Override::near>},
        Key<Override>{{"uniqueness", Shape::choice, "usual",
                       "strict: a second move that wins, but clearly less, is an error, too", uniqueness, ""},
                      read_uniqueness},
        Key<Override>{{"lines", Shape::choice, "main",
                       "which printed lines are complete: key (none), main, full (sidelines, too)",
                       completeness, ""},
                      read_lines},
        Key<Override>{{"rules",
                       Shape::rules,
                       "",
                       "level of a rule or a family (off, note, warning, error), and options",
                       {},
                       "  theme/*: note\n  theme/missing: {level: warning, untagged: \"yes\"}\n"},
                      read_rules},
    };
    return keys;
}

Keys<Policy> top_keys() {
    static constexpr std::array keys{
        Key<Policy>{{"$schema",
                     Shape::anything,
                     "",
                     "for editors; `sidelint schema config` prints the schema",
                     {},
                     ""},
                    ignore},
        Key<Policy>{{"include",
                     Shape::text_list,
                     "",
                     "patterns of files to look at; without it every puzzle file",
                     {},
                     "  - sets/**\n"},
                    read_globs<&Policy::include>},
        Key<Policy>{{"exclude",
                     Shape::text_list,
                     "",
                     "patterns of files to leave out, also when they are named on the command line",
                     {},
                     "  - \"*.draft.pgn\"\n"},
                    read_globs<&Policy::exclude>},
        Key<Policy>{{"themes",
                     Shape::themes,
                     "",
                     "own words among the themes",
                     {},
                     "  aliases: {double hit: fork, luring: [decoy, deflection]}\n  ignore: [week 3]\n  "
                     "wide: [decoy]\n"},
                    read_themes},
        Key<Policy>{{"tables",
                     Shape::tables,
                     "",
                     "how the columns of CSV and TSV files are named",
                     {},
                     "  - files: \"tables/*.csv\"\n    columns: {id: id, fen: diagram, solution: moves}\n    "
                     "moves: coordinate\n"},
                    read_tables},
        Key<Policy>{{"tags",
                     Shape::tags,
                     "",
                     "PGN tags that mean something else than usual",
                     {},
                     "  - files: \"old/*.pgn\"\n    id: Event\n    key: White\n"},
                    read_tags},
        Key<Policy>{{"overrides",
                     Shape::overrides,
                     "",
                     "other settings for some files; later entries win",
                     {},
                     "  - files: \"drafts/**\"\n    effort: draft\n    rules:\n      key/*: warning\n"},
                    read_overrides},
    };
    return keys;
}

Keys<Override> override_keys() {
    static constexpr std::array keys{
        Key<Override>{{"files", Shape::text, "", "pattern of the files meant", {}, ""},
                      read_glob<&Override::files>},
    };
    return keys;
}

Keys<Settings> theme_keys() {
    static constexpr std::array keys{
        Key<Settings>{
            {"aliases", Shape::aliases, "", "an own word and the motif it means, or several", {}, ""},
            read_aliases},
        Key<Settings>{{"ignore", Shape::text_list, "", "own words that are not checked", {}, ""},
                      read_ignored},
        Key<Settings>{{"wide",
                       Shape::text_list,
                       "",
                       "disputed motifs taken in their wider reading (`sidelint explain decoy`)",
                       {},
                       ""},
                      read_wide},
    };
    return keys;
}

Keys<TableMapping> table_keys() {
    static constexpr std::array keys{
        Key<TableMapping>{{"files", Shape::text, "", "pattern of the files meant", {}, ""},
                          read_glob<&TableMapping::files>},
        Key<TableMapping>{{"columns", Shape::columns, "", "our part: their column", {}, ""}, read_columns},
        Key<TableMapping>{{"moves", Shape::choice, "san", "notation of the moves", notations, ""},
                          read_notation},
        Key<TableMapping>{{"first-move", Shape::choice, "solver",
                           "opponent: the first move leads into the diagram", movers, ""},
                          read_mover},
        Key<TableMapping>{{"theme-separator", Shape::text, "\",\"", "what stands between themes", {}, ""},
                          read_text<&TableMapping::theme_separator>},
        Key<TableMapping>{
            {"key-only", Shape::yes_no, "no", "yes: the solution names key moves, not a line", {}, ""},
            read_key_only},
    };
    return keys;
}

Keys<TableMapping> column_keys() {
    static constexpr std::array keys{
        Key<TableMapping>{{"id", Shape::text, "", "name of the puzzle", {}, ""},
                          read_text<&TableMapping::id>},
        Key<TableMapping>{{"fen", Shape::text, "", "diagram", {}, ""}, read_text<&TableMapping::fen>},
        Key<TableMapping>{{"solution", Shape::text, "", "moves", {}, ""}, read_text<&TableMapping::solution>},
        Key<TableMapping>{{"goal", Shape::text, "", "what is asked for", {}, ""},
                          read_text<&TableMapping::goal>},
        Key<TableMapping>{{"themes", Shape::text, "", "theme tags", {}, ""},
                          read_text<&TableMapping::themes>},
        Key<TableMapping>{{"accept", Shape::text, "", "further keys", {}, ""},
                          read_text<&TableMapping::accept>},
        Key<TableMapping>{{"to-move", Shape::text, "", "side to move", {}, ""},
                          read_text<&TableMapping::to_move>},
        Key<TableMapping>{{"allow", Shape::text, "", "allowances", {}, ""}, read_text<&TableMapping::allow>},
    };
    return keys;
}

Keys<TagMapping> tag_keys() {
    static constexpr std::array keys{
        Key<TagMapping>{{"files", Shape::text, "", "pattern of the files meant", {}, ""},
                        read_glob<&TagMapping::files>},
        Key<TagMapping>{{"id", Shape::text, "PuzzleId", "tag that holds the name", {}, ""},
                        read_text<&TagMapping::id>},
        Key<TagMapping>{{"key", Shape::text, "", "tag that holds key moves, separated by blanks", {}, ""},
                        read_text<&TagMapping::key>},
        Key<TagMapping>{{"goal", Shape::text, "Goal", "tag that holds the goal", {}, ""},
                        read_text<&TagMapping::goal>},
        Key<TagMapping>{{"themes", Shape::text, "Themes", "tag that holds the themes", {}, ""},
                        read_text<&TagMapping::themes>},
        Key<TagMapping>{{"key-prefix", Shape::text, "", "dropped from the front of the key tag", {}, ""},
                        read_text<&TagMapping::key_prefix>},
    };
    return keys;
}

} // namespace config
