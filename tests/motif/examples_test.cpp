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
            DYNAMIC_SECTION(entry.file << (example.yes ? ", yes: " : ", no: ") << example.title) {
                const auto found = examples::evidence(examples::line(example.fen, example.line));
                const auto level = examples::level(found, entry.file);
                CAPTURE(example.fen, example.line);
                CHECK((level && *level >= motif::Level::functional) == example.yes);
            }
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
            CHECK(yes >= (entry.checked ? 2 : 0));
            CHECK(entry.examples.size() - static_cast<std::size_t>(yes) >= (entry.checked ? 2U : 0U));
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
