#include "catch.hpp"
#include "config/config.hpp"
#include "holds.hpp"

#include <algorithm>

namespace {

const rules::Catalogue& catalogue() {
    static const auto read = rules::Catalogue::read(rules::WithExamples::no);
    REQUIRE(read.ok());
    return *read;
}

rules::Policy policy_of(const std::string& text, const std::string& folder = "") {
    auto policy = config::read(text, "c.yaml", folder, catalogue());
    if (!policy) {
        for (const auto& error : policy.error()) {
            UNSCOPED_INFO(error.place + ": " + error.message);
        }
    }
    REQUIRE(policy.ok());
    return *policy;
}

/// "place: message | cure" a line.
std::string errors_of(const std::string& text) {
    const auto policy = config::read(text, "c.yaml", "", catalogue());
    std::string told;
    if (!policy) {
        for (const auto& error : policy.error()) {
            CHECK(error.kind == config::Error::Kind::config);
            told += error.place + ": " + error.message + " | " + error.cure + '\n';
        }
    }
    return told;
}

} // namespace

TEST_CASE("config: an empty one is the defaults") {
    const rules::Settings defaults;
    for (const char* text : {"", "# nothing yet\n", "rules:\noverrides:\n", "{}\n"}) {
        const rules::Policy policy = policy_of(text);
        CHECK(policy.settings.effort == defaults.effort);
        CHECK(policy.settings.win_at == 200);
        CHECK(policy.settings.near == 100);
        CHECK(policy.settings.levels.empty());
        CHECK(policy.overrides.empty());
    }
}

TEST_CASE("config: every key") {
    const rules::Policy policy = policy_of(R"(
$schema: ./schema.json
include: ["sets/**", "*.pgn"]
exclude: drafts/**
effort: press
win-at: 1.5
near: 0.25
uniqueness: strict
rules:
  key/*: warning
  key/cook: error
  theme/missing: {level: off, untagged: yes}
themes:
  aliases: {Double hit: fork, luring: [decoy, Deflection], short: mate in 2}
  ignore: [Week 3]
  wide: [Decoy, x-ray attack]
tables:
  - files: "t/*.csv"
    columns: {id: A, fen: B, solution: C, goal: D, themes: E, accept: F, to-move: G, allow: H}
    moves: coordinate
    first-move: opponent
    theme-separator: ";"
    key-only: yes
tags:
  - {files: "old/*.pgn", id: Event, key: White, goal: Black, themes: Site, key-prefix: "Key:"}
overrides:
  - files: "drafts/**"
    effort: draft
    win-at: 3
    near: 2
    uniqueness: usual
    rules: {key/cook: note}
)");
    CHECK(policy.include == std::vector<std::string>{"sets/**", "*.pgn"});
    CHECK(policy.exclude == std::vector<std::string>{"drafts/**"});
    const rules::Settings& settings = policy.settings;
    CHECK(settings.effort == solve::Effort::press);
    CHECK(settings.win_at == 150);
    CHECK(settings.near == 25);
    CHECK(settings.uniqueness == rules::Uniqueness::strict);
    CHECK(settings.levels.at("key/*") == rules::Severity::warning);
    CHECK(settings.levels.at("key/cook") == rules::Severity::error);
    CHECK(settings.levels.at("theme/missing") == rules::Severity::off);
    CHECK(settings.options.at("theme/missing").at("untagged") == "yes");
    CHECK(settings.themes.at("week 3").empty());
    CHECK(settings.wide == motif::Wide{"decoy", "x-ray"});
    CHECK(settings.themes.at("double hit") == std::vector<std::string>{"fork"});
    CHECK(settings.themes.at("luring") == std::vector<std::string>{"decoy", "Deflection"});
    CHECK(settings.themes.at("short") == std::vector<std::string>{"mate in 2"});

    REQUIRE(policy.read.tables.size() == 1);
    const collection::TableMapping& table = policy.read.tables[0];
    CHECK(table.files == "t/*.csv");
    CHECK(table.id + table.fen + table.solution + table.goal + table.themes + table.accept + table.to_move +
              table.allow ==
          "ABCDEFGH");
    CHECK(table.moves == collection::TableMapping::Moves::coordinate);
    CHECK(table.first_move == collection::TableMapping::FirstMove::opponent);
    CHECK(table.theme_separator == ";");
    CHECK(table.key_only);

    REQUIRE(policy.read.tags.size() == 1);
    const collection::TagMapping& tags = policy.read.tags[0];
    const std::string names = tags.id + tags.key + tags.goal + tags.themes + tags.key_prefix;
    CHECK(names == "EventWhiteBlackSiteKey:");

    const rules::Settings drafts = policy.for_file("drafts/x.pgn");
    CHECK(drafts.effort == solve::Effort::draft);
    CHECK(drafts.win_at == 300);
    CHECK(drafts.near == 200);
    CHECK(drafts.uniqueness == rules::Uniqueness::usual);
    CHECK(drafts.levels.at("key/cook") == rules::Severity::note);
    CHECK(policy.for_file("sets/x.pgn").win_at == 150);
}

TEST_CASE("config: an unknown key names its line and the nearest known one") {
    CHECK(errors_of("effort: draft\nexlude: x\n") ==
          "c.yaml:2:1: unknown key 'exlude' | did you mean exclude?\n");
    CHECK(holds(errors_of("overrides:\n  - files: x\n    win-att: 2\n"),
                "c.yaml:3:5: unknown key 'win-att' | did you mean win-at?"));
    CHECK(holds(errors_of("tables:\n  - files: x\n    columns: {fen: a, thems: b}\n"),
                "c.yaml:3:23: unknown key 'thems' | did you mean themes?"));
    CHECK(holds(errors_of("rules:\n  key/cok: off\n"),
                "c.yaml:2:3: unknown rule 'key/cok' | did you mean key/cook?"));
    CHECK(holds(errors_of("rules: {kee/*: off}\n"), "unknown rule 'kee/*' | did you mean key/*"));
    CHECK(holds(errors_of("rules:\n  theme/missing: {untaged: yes}\n"),
                "c.yaml:2:19: unknown option of theme/missing 'untaged' | did you mean untagged?"));
    CHECK(holds(errors_of("overrides: [{files: x, include: y}]\n"), "unknown key 'include'"));
    CHECK(holds(errors_of("uniqueness: \"\"\n"), "'' is none of usual, strict"));
    CHECK(holds(errors_of("themes: {aliases: {mine: frok-nowhere}}\n"),
                "c.yaml:1:26: unknown motif 'frok-nowhere'"));
    CHECK(errors_of("themes: {wide: [decoy, fork]}\n") ==
          "c.yaml:1:24: unknown motif with a wider reading 'fork' | known here: decoy, epaulette-mate, "
          "grimshaw, pure-mate, quiet-move, smothered-mate, x-ray\n");
}

TEST_CASE("config: all errors at once, in order") {
    const std::string told =
        errors_of("effort: fast\nwin-at: lots\nrules:\n  key/cook: loud\nnear: [1]\ntables: 3\n");
    CHECK(told == "c.yaml:1:9: 'fast' is none of draft, review, press | \n"
                  "c.yaml:2:9: 'lots' is no number of pawns | a number from 0 to 99 with at most two "
                  "decimals, like 2.0\n"
                  "c.yaml:4:13: unknown level 'loud' | known here: off, note, warning, error\n"
                  "c.yaml:5:7: a single value is wanted here, not a list | \n"
                  "c.yaml:6:9: keys with values are wanted here, not a single value | \n"
                  "c.yaml:6:9: this entry says for no files | add `files: \"<pattern>\"`\n");
}

TEST_CASE("config: what YAML allows and we do not") {
    CHECK(holds(errors_of("near: 1\neffort: draft\nnear: 2\n"),
                "c.yaml:3:1: the key 'near' was set in line 1 already"));
    CHECK(holds(errors_of("rules: {key/cook: off, key/cook: error}\n"),
                "'key/cook' was set in line 1 already"));
    CHECK(
        holds(errors_of("include: &a [x]\nexclude: *a\n"), "c.yaml:1:10: anchors and aliases are not read"));
    CHECK(
        holds(errors_of("include: &a [x]\nexclude: *a\n"), "c.yaml:2:10: anchors and aliases are not read"));
    CHECK(holds(errors_of("near: 1\n---\nnear: 2\n"), "more than one document"));
    CHECK(holds(errors_of("near: 1\nexclude: 'a\nrules: {key/cook: off}\n"), "c.yaml:2:10: not YAML"));
    CHECK(holds(errors_of("near: 1\nexclude: \"a\nrules: {key/cook: off}\n"), "c.yaml:2:10: not YAML"));
    CHECK(holds(errors_of("include: [a\n"), "not YAML"));
    CHECK(holds(errors_of("near: 1\neffort: \xff\n"), "c.yaml:2:9: not UTF-8"));
    CHECK(holds(errors_of("effort: \x1b[2J\n"), "a control character"));
    CHECK(holds(errors_of("[]: 1\n"), "a key has to be a plain word"));
    CHECK(holds(errors_of("just words\n"), "keys with values are wanted here"));
    CHECK(holds(errors_of(std::string(2000, '[')), "c.yaml:"));
    CHECK(holds(errors_of("exclude: " + std::string(60, '[') + std::string(60, ']') + "\n"),
                "Nested more than"));
    CHECK(holds(errors_of("exclude: " + std::string(std::size_t{2} << 20U, 'x')), "longer than"));
}

TEST_CASE("config: damaged text is read or refused, never worse, and every error has its place") {
    const std::string whole =
        "include: [\"sets/**\", a]\neffort: press\nrules:\n  key/*: warning\n  theme/missing: {level: off, "
        "untagged: yes}\nthemes: {ignore: week 3}\ntables:\n  - files: '*.csv'\n    columns: {fen: B}\n";
    const std::string signs = "\"'{}[]:,#&*!|>%@`-? \n\t\r\\\x00\xff~0a";
    std::uint32_t state = 1; // any sequence will do, as long as it is the same everywhere
    const auto next = [&state](std::size_t below) {
        state = state * 1664525U + 1013904223U;
        return static_cast<std::size_t>(state >> 8U) % below;
    };
    std::size_t refused = 0;
    for (int round = 0; round < 3000; ++round) {
        std::string text = whole;
        for (std::size_t i = 0; i <= next(3); ++i) {
            text[next(text.size())] = signs[next(signs.size())];
        }
        const auto policy = config::read(text, "c.yaml", "", catalogue());
        if (!policy) {
            ++refused;
            CHECK(std::all_of(policy.error().begin(), policy.error().end(), [](const auto& error) {
                return error.place.starts_with("c.yaml:") && !error.message.empty();
            }));
        }
    }
    CHECK(refused > 1000);
    CHECK(refused < 3000);
}

TEST_CASE("config: numbers of pawns") {
    CHECK(policy_of("near: 0").settings.near == 0);
    CHECK(policy_of("near: 0.05").settings.near == 5);
    CHECK(policy_of("near: \"1.2\"").settings.near == 120);
    CHECK(policy_of("near: .5").settings.near == 50);
    for (const char* bad : {"-1", "1.234", "1e3", "1.2.3", ".", "100000000000000000000", "1,5", "nan"}) {
        CHECK(holds(errors_of("near: " + std::string(bad)), "is no number of pawns"));
    }
}

TEST_CASE("config: patterns count from the folder the file stands in, and never climb out") {
    const rules::Policy policy =
        policy_of("include: [\"*.pgn\", a/b.yaml, /c.epd]\noverrides: [{files: \"d/*\"}]\n", "sets/old");
    CHECK(policy.wants("sets/old/x.pgn"));
    CHECK(policy.wants("sets/old/deep/x.pgn"));
    CHECK_FALSE(policy.wants("sets/x.pgn"));
    CHECK(policy.wants("sets/old/a/b.yaml"));
    CHECK(policy.wants("sets/old/c.epd"));
    CHECK_FALSE(policy.wants("c.epd"));
    CHECK(policy.overrides[0].files == "sets/old/d/*");
    CHECK(holds(errors_of("include: [../x]"), "fits no file"));
    CHECK(holds(errors_of("include: [a/../../x]"), "fits no file"));
    CHECK(holds(errors_of("include: [\"\"]"), "fits no file"));
}

TEST_CASE("config: CRLF and a byte order mark change nothing") {
    CHECK(
        policy_of("\xEF\xBB\xBFnear: 0.5\r\nrules:\r\n  key/cook: off\r\n").settings.levels.at("key/cook") ==
        rules::Severity::off);
    CHECK(holds(errors_of("\xEF\xBB\xBF"
                          "near: 1\r\nnaer: 2\r\n"),
                "c.yaml:2:1: unknown key 'naer'"));
}

TEST_CASE("config: what a later one lets pass is told") {
    const rules::Policy before =
        policy_of("rules: {key/cook: error}\neffort: press\nuniqueness: strict\nlines: full\nnear: 1\n");
    const rules::Policy after = policy_of("rules: {key/cook: note}\neffort: draft\nuniqueness: usual\nnear: "
                                          "0.5\nexclude: [x.pgn]\ninclude: [y.pgn]\n");
    CHECK(config::loosened(before, after, catalogue()) ==
          std::vector<std::string>{"key/cook: error -> note", "effort: press -> draft", "near: 1.00 -> 0.50",
                                   "uniqueness: strict -> usual", "lines: full -> main", "excluded: x.pgn",
                                   "include: other patterns"});
    const rules::Policy defaults;
    CHECK(config::loosened(defaults, defaults, catalogue()).empty());
    CHECK(config::loosened(after, policy_of("rules: {key/cook: error}\nnear: 0.5\nuniqueness: strict\n"),
                           catalogue())
              .empty());
    // A threshold lets something pass whichever way it goes.
    CHECK(config::loosened(defaults, policy_of("win-at: 1.5\n"), catalogue()) ==
          std::vector<std::string>{"win-at: 2.00 -> 1.50"});
    CHECK(config::loosened(defaults, policy_of("win-at: 3\nnear: 2\n"), catalogue()) ==
          std::vector<std::string>{"win-at: 2.00 -> 3.00", "near: 1.00 -> 2.00"});
    CHECK(config::loosened(policy_of("themes: {wide: [decoy]}\n"),
                           policy_of("themes: {wide: [decoy, x-ray]}\n"),
                           catalogue()) == std::vector<std::string>{"themes, wide: x-ray"});
}

TEST_CASE("config: what a later one lets pass in some files is told with their pattern") {
    using Lines = std::vector<std::string>;
    const auto told = [](const std::string& before, const std::string& after) {
        return config::loosened(policy_of(before), policy_of(after), catalogue());
    };
    const std::string drafts = "overrides: [{files: \"drafts/**\", ";
    CHECK(told("", drafts + "rules: {key/cook: off}, effort: draft, win-at: 1, near: 0.2}]\n") ==
          Lines{"key/cook: error -> off in drafts/**", "effort: review -> draft in drafts/**",
                "win-at: 2.00 -> 1.00 in drafts/**", "near: 1.00 -> 0.20 in drafts/**"});
    CHECK(told(drafts + "uniqueness: strict}]\n", "") ==
          Lines{"uniqueness: strict -> usual in drafts/**"}); // an override taken away
    CHECK(told("", drafts + "lines: key}]\n") == Lines{"lines: main -> key in drafts/**"});
    CHECK(told("", drafts + "lines: full}]\n").empty());
    CHECK(errors_of("lines: nonsense\n").starts_with("c.yaml:1:8: 'nonsense' is none of key, main, full"));
    CHECK(told(drafts + "effort: press}]\n", drafts + "effort: press}]\n").empty());
    CHECK(told("", drafts + "rules: {key/open: error}}]\n").empty()); // stricter
    // What holds everywhere is told once, and a wider pattern counts within a narrower one.
    CHECK(told("", "rules: {key/cook: off}\n" + drafts + "effort: press}]\n") ==
          Lines{"key/cook: error -> off"});
    CHECK(told("overrides: [{files: \"drafts/old/*\", rules: {key/cook: note}}]\n",
               "overrides: [{files: \"drafts/**\", rules: {key/cook: note}}]\n") ==
          Lines{"key/cook: error -> note in drafts/**"});
}
