#include "catch.hpp"

#include "rules/catalogue_text.hpp"
#include "rules/rule.hpp"

#include <algorithm>
#include <filesystem>
#include <set>
#include <tuple>

using namespace rules;

namespace {

/// "key/cook" for each <family>/<name>.<extension> one folder down.
std::set<std::string> names_in(const std::string& folder, const std::string& extension) {
    std::set<std::string> names;
    for (const auto& entry :
         std::filesystem::recursive_directory_iterator(std::string(SIDELINT_SOURCE_DIR) + "/" + folder)) {
        if (entry.path().extension() == extension) {
            const std::filesystem::path path =
                std::filesystem::relative(entry.path(), std::string(SIDELINT_SOURCE_DIR) + "/" + folder);
            const bool other = path.parent_path() == "motif" || path.parent_path() == "phrases";
            if (path.has_parent_path() && !other) {
                names.insert(path.parent_path().string() + "/" + path.stem().string());
            }
        }
    }
    return names;
}

} // namespace

TEST_CASE("registry, functions and catalogue name the same rules") {
    std::set<std::string> registered;
    for (const Rule& rule : registry()) {
        CHECK(registered.insert(std::string(rule.id)).second);
    }
    CHECK(std::is_sorted(registry().begin(), registry().end(),
                         [](const Rule& a, const Rule& b) { return a.id < b.id; }));
    CHECK(names_in("src/rules", ".cpp") == registered);
    CHECK(names_in("rules", ".yaml") == registered);
}

TEST_CASE("a catalogue file carries the id its path says") {
    const auto catalogue = Catalogue::read(WithExamples::no);
    REQUIRE(catalogue.ok());
    std::set<std::string> paths;
    for (const CatalogueText& file : catalogue_texts()) {
        paths.insert(std::string(file.path.substr(0, file.path.size() - 5)));
    }
    std::set<std::string> ids;
    for (const RuleEntry& rule : catalogue->rules()) {
        ids.insert(rule.id);
    }
    for (const MotifEntry& motif : catalogue->motifs()) {
        ids.insert(motif.id);
    }
    CHECK(paths == ids);
}

TEST_CASE("the catalogue a run reads is the YAML's, without the examples") {
    const auto packed = Catalogue::read(WithExamples::no);
    const auto whole = Catalogue::read(WithExamples::yes);
    REQUIRE((packed.ok() && whole.ok()));
    REQUIRE(packed->rules().size() == whole->rules().size());
    for (std::size_t i = 0; i < whole->rules().size(); ++i) {
        const RuleEntry& a = packed->rules()[i];
        const RuleEntry& b = whole->rules()[i];
        CHECK(std::tie(a.id, a.summary, a.why, a.severity, a.certainty, a.since, a.status, a.fix, a.see) ==
              std::tie(b.id, b.summary, b.why, b.severity, b.certainty, b.since, b.status, b.fix, b.see));
        CHECK(std::equal(a.messages.begin(), a.messages.end(), b.messages.begin(), b.messages.end(),
                         [](const Message& x, const Message& y) {
                             return x.id == y.id && x.text == y.text && x.severity == y.severity;
                         }));
        CHECK(std::equal(a.options.begin(), a.options.end(), b.options.begin(), b.options.end(),
                         [](const OptionSpec& x, const OptionSpec& y) {
                             return x.name == y.name && x.fallback == y.fallback && x.meaning == y.meaning;
                         }));
        CHECK(a.bad.empty());
        CHECK_FALSE(b.bad.empty());
    }
    REQUIRE(packed->motifs().size() == whole->motifs().size());
    for (std::size_t i = 0; i < whole->motifs().size(); ++i) {
        const MotifEntry& a = packed->motifs()[i];
        const MotifEntry& b = whole->motifs()[i];
        CHECK(std::tie(a.id, a.motif, a.name, a.summary, a.why, a.aliases, a.checked) ==
              std::tie(b.id, b.motif, b.name, b.summary, b.why, b.aliases, b.checked));
    }
}
