#include "catch.hpp"
#include "examples.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace {

std::string folded(std::string text) {
    std::replace(text.begin(), text.end(), '-', ' ');
    return text;
}

} // namespace

TEST_CASE("every example of the catalogue is judged as it says", "[motif][catalogue]") {
    for (const examples::Entry& entry : examples::catalogue()) {
        for (const examples::Example& example : entry.examples) {
            const std::string_view kind = example.yes ? "yes" : example.wide ? "wide" : "no";
            DYNAMIC_SECTION(entry.file << ", " << kind << ": " << example.title) {
                const auto found = examples::evidence(example);
                const auto level = examples::level(found, entry.file);
                CAPTURE(example.fen, example.line);
                CHECK((level && *level >= motif::Level::functional) == example.yes);
            }
        }
    }
}

TEST_CASE("an example of a wider reading counts for those who take it, and for no one else",
          "[motif][catalogue]") {
    for (const examples::Entry& entry : examples::catalogue()) {
        const auto wide = [](const examples::Example& example) { return example.wide; };
        CAPTURE(entry.file);
        CHECK(std::any_of(entry.examples.begin(), entry.examples.end(), wide) == entry.wider);
        for (const examples::Example& example : entry.examples) {
            if (!example.wide) {
                continue;
            }
            CAPTURE(example.title);
            const motif::SolutionLine line = examples::line(example.fen, example.line);
            const auto usual = examples::level(examples::evidence(line), entry.file);
            const auto wider = examples::level(examples::evidence(line, {entry.file}), entry.file);
            CHECK(usual.value_or(motif::Level::seen) == motif::Level::seen);
            CHECK(wider.value_or(motif::Level::seen) >= motif::Level::functional);
        }
    }
}

TEST_CASE("an entry is complete", "[motif][catalogue]") {
    for (const examples::Entry& entry : examples::catalogue()) {
        DYNAMIC_SECTION(entry.file) {
            CHECK(entry.id == "motif/" + entry.file);
            CHECK(folded(entry.name) == folded(entry.file));
            const auto yes = std::count_if(entry.examples.begin(), entry.examples.end(),
                                           [](const examples::Example& example) { return example.yes; });
            const auto no =
                std::count_if(entry.examples.begin(), entry.examples.end(),
                              [](const examples::Example& example) { return !example.yes && !example.wide; });
            CHECK(yes >= (entry.checked ? 2 : 0));
            CHECK(no >= (entry.checked ? 2 : 0));
        }
    }
}

TEST_CASE("catalogue and detectors know the same motifs", "[motif][catalogue]") {
    std::set<std::string> entries;
    for (const examples::Entry& entry : examples::catalogue()) {
        if (entry.checked) {
            entries.insert(entry.file);
        }
    }
    std::set<std::string> names;
    for (const std::string_view name : motif::names()) {
        names.emplace(name);
    }
    CHECK(entries == names);
}

TEST_CASE("no alias means two motifs", "[motif][catalogue]") {
    std::map<std::string, std::string> owner;
    for (const examples::Entry& entry : examples::catalogue()) {
        std::set<std::string> words{folded(entry.file), folded(entry.name)};
        for (const std::string& alias : entry.aliases) {
            words.insert(folded(alias));
        }
        for (const std::string& word : words) {
            INFO(word);
            CHECK(owner.emplace(word, entry.file).second);
        }
    }
}
