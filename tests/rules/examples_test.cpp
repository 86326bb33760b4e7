// The one walker over rules/**.yaml: every bad example yields exactly the findings it lists, every good one
// none.
#include "catch.hpp"

#include "config/config.hpp"
#include "rules/check.hpp"
#include "solve/endgame_tables.hpp"

#include <algorithm>
#include <fstream>
#include <set>

using namespace rules;

namespace {

#ifdef NDEBUG
constexpr bool with_tables = true;
#else // a table of four men takes unoptimised builds ten seconds
constexpr bool with_tables = false;
#endif

const solve::EndgameTables* endgames() {
    static const solve::EndgameTables tables{std::nullopt};
    return with_tables ? &tables : nullptr;
}

const Catalogue& catalogue() {
    static const Catalogue read = [] {
        auto result = Catalogue::read(WithExamples::yes);
        if (!result) {
            FAIL(result.error());
        }
        return std::move(result).value();
    }();
    return read;
}

/// The configuration of an example is a `.sidelint.yaml` like any other.
Policy policy_of(const Example& example) {
    auto read = config::read(example.config, config::file_name, "", catalogue());
    if (!read) {
        FAIL("configuration of an example: " << read.error().front().message);
    }
    return std::move(read).value();
}

/// Without tables an ending of few men is said to be open, whatever else is told of it with them.
bool lacks_tables(const std::vector<Finding>& found, const Example& example) {
    const auto wants = [](const Example::Wanted& wanted) { return wanted.message_id == "ending"; };
    const auto tells = [](const Finding& f) { return f.rule == "key/open" && f.message_id == "ending"; };
    return !with_tables && std::none_of(example.wanted.begin(), example.wanted.end(), wants) &&
           std::any_of(found.begin(), found.end(), tells);
}

std::vector<Finding> findings_of(const Example& example) {
    const Policy policy = policy_of(example);
    const collection::Document document = example.unreadable.empty()
                                              ? collection::read(example.file, example.text, policy.read)
                                              : collection::unreadable(example.file, example.unreadable, "");
    Settings settings = policy.for_file(document.path);
    settings.endgames = endgames();
    std::vector<Finding> all = check_document(document, catalogue(), settings).findings;
    const auto take = [&all](Checked checked) {
        CHECK(checked.broken.empty());
        all.insert(all.end(), checked.findings.begin(), checked.findings.end());
    };
    for (const collection::Puzzle& puzzle : document.puzzles) {
        take(check_puzzle(document, puzzle, catalogue(), settings, Summarise::yes));
    }
    take(check_collection(std::array{&document}, catalogue(), policy));
    put_in_order(all);
    return all;
}

std::string told(const Finding& f) {
    return f.rule + " " + f.message_id + " line " + std::to_string(f.begin.line) + " subject '" + f.subject +
           "' play '" + f.play + "': " + f.message;
}

bool fits(const Finding& f, const Example::Wanted& wanted, const RuleEntry& rule) {
    return f.rule == (wanted.rule.empty() ? rule.id : wanted.rule) && f.message_id == wanted.message_id &&
           (wanted.line == 0 || f.begin.line == wanted.line) &&
           (wanted.subject.empty() || f.subject == wanted.subject) && f.play.starts_with(wanted.play);
}

void hold(const RuleEntry& rule, const Example& example) {
    INFO(rule.id << ": " << example.title);
    std::vector<Finding> left = findings_of(example);
    for (const Finding& f : left) {
        INFO(told(f));
        CHECK(f.begin.line >= 1);
        CHECK(f.begin.column >= 1);
        CHECK(f.span.end <= example.text.size());
        CHECK(f.message.find('{') == std::string::npos);
        CHECK(f.message.find("  ") == std::string::npos); // a list that came out empty
        CHECK(f.fingerprint.size() == 16);
        if (f.fix) {
            const std::string& kind = catalogue().rule(f.rule)->fix;
            CHECK((kind == "safe" || (kind == "suggested" && f.fix->kind == Fix::Kind::suggested)));
        }
    }
    if (lacks_tables(left, example)) {
        return; // optimised builds hold the rest
    }
    for (const Example::Wanted& wanted : example.wanted) {
        const auto found =
            std::find_if(left.begin(), left.end(), [&](const Finding& f) { return fits(f, wanted, rule); });
        if (found == left.end()) {
            std::string got;
            for (const Finding& f : left) {
                got += "\n  " + told(f);
            }
            FAIL_CHECK("wanted " << wanted.message_id << " '" << wanted.subject << "' line " << wanted.line
                                 << ", left:" << got);
        } else {
            left.erase(found);
        }
    }
    for (const Finding& f : left) {
        FAIL_CHECK("not wanted: " << told(f));
    }
}

} // namespace

TEST_CASE("every example says what it should") {
    for (const RuleEntry& rule : catalogue().rules()) {
        for (const auto* examples : {&rule.bad, &rule.good}) {
            for (const Example& example : *examples) {
                DYNAMIC_SECTION(rule.id << ": " << example.title) {
                    hold(rule, example);
                }
            }
        }
    }
}

TEST_CASE("every rule has examples of both kinds, and every message has one") {
    for (const RuleEntry& rule : catalogue().rules()) {
        INFO(rule.id);
        CHECK_FALSE(rule.bad.empty());
        CHECK_FALSE(rule.good.empty());
        CHECK_FALSE(rule.summary.empty());
        CHECK_FALSE(rule.why.empty());
        std::set<std::string> used;
        for (const Example& example : rule.bad) {
            CHECK_FALSE(example.wanted.empty());
            for (const Example::Wanted& wanted : example.wanted) {
                if (wanted.rule.empty() || wanted.rule == rule.id) {
                    used.insert(wanted.message_id);
                }
            }
        }
        for (const Example& example : rule.good) {
            CHECK(example.wanted.empty());
        }
        for (const Message& message : rule.messages) {
            INFO(message.id);
            CHECK(used.count(message.id) == 1);
        }
        for (const std::string& other : rule.see) {
            INFO(other);
            CHECK(catalogue().rule(other) != nullptr);
        }
    }
}

TEST_CASE("a rule that says it can correct something does so in an example") {
    for (const RuleEntry& rule : catalogue().rules()) {
        if (rule.fix == "none") {
            continue;
        }
        INFO(rule.id);
        CHECK(std::any_of(rule.bad.begin(), rule.bad.end(), [&](const Example& example) {
            const std::vector<Finding> found = findings_of(example);
            return std::any_of(found.begin(), found.end(), [&](const Finding& f) {
                return f.rule == rule.id && f.fix && name(f.fix->kind) == rule.fix;
            });
        }));
    }
}

TEST_CASE("no two examples are alike") {
    std::set<std::string> texts;
    for (const RuleEntry& rule : catalogue().rules()) {
        for (const auto* examples : {&rule.bad, &rule.good}) {
            for (const Example& example : *examples) {
                INFO(rule.id << ": " << example.title);
                CHECK(
                    texts.insert(rule.id + example.file + example.config + example.unreadable + example.text)
                        .second);
            }
        }
    }
}

TEST_CASE("whatever is found in a diagram has words in the catalogue") {
    std::ifstream list(SIDELINT_SOURCE_DIR "/tests/setup/examples.csv");
    std::size_t told_of = 0;
    for (std::string line; std::getline(list, line);) {
        if (line.starts_with('#')) {
            continue;
        }
        Example example;
        example.file = "example.yaml";
        example.text = "puzzles:\n  - id: p1\n    fen: \"" + line.substr(line.rfind(',') + 1) + "\"\n";
        INFO(example.text);
        for (const Finding& f : findings_of(example)) {
            INFO(told(f));
            CHECK_FALSE(f.message.empty());
            told_of += f.rule.starts_with("setup/") ? 1 : 0;
        }
    }
    CHECK(told_of > 40);
}
