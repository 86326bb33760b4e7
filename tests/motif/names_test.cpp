#include "catch.hpp"
#include "examples.hpp"

#include <algorithm>

TEST_CASE("tables are sorted and detectors report names of the table", "[motif][names]") {
    const auto names = motif::names();
    CHECK(std::is_sorted(names.begin(), names.end()));
    const auto detectors = motif::detectors();
    CHECK(std::is_sorted(detectors.begin(), detectors.end(),
                         [](const auto& a, const auto& b) { return a.name < b.name; }));
    for (const examples::Entry& entry : examples::catalogue()) {
        for (const examples::Example& example : entry.examples) {
            for (const auto& evidence : examples::evidence(example)) {
                INFO(evidence.motif);
                CHECK(std::binary_search(names.begin(), names.end(), std::string_view(evidence.motif)));
                CHECK_FALSE(evidence.why.empty());
                CHECK_FALSE(evidence.targets.empty());
            }
        }
    }
}

TEST_CASE("special evidence bears out general tags, not the other way round", "[motif][names]") {
    CHECK(motif::supports("royal-fork", "fork"));
    CHECK(motif::supports("royal-fork", "knight-fork"));
    CHECK(motif::supports("family-fork", "fork"));
    CHECK(motif::supports("double-check", "discovered-attack"));
    CHECK(motif::supports("exploiting-a-pin", "pin"));
    CHECK(motif::supports("queen-sacrifice", "sacrifice"));
    CHECK(motif::supports("quiet-move", "quiet-move"));
    CHECK_FALSE(motif::supports("fork", "royal-fork"));
    CHECK_FALSE(motif::supports("pawn-fork", "knight-fork"));
    CHECK_FALSE(motif::supports("relative-pin", "absolute-pin"));
}

TEST_CASE("families hold together and apart", "[motif][names]") {
    CHECK(motif::related("pawn-fork", "royal-fork"));
    CHECK(motif::related("grimshaw", "interference"));
    CHECK(motif::related("line-clearance", "square-clearance"));
    CHECK_FALSE(motif::related("fork", "skewer"));
    CHECK(motif::supports("bristol", "clearance"));
    CHECK(motif::supports("mutual-zugzwang", "zugzwang"));
    CHECK_FALSE(motif::supports("zugzwang", "mutual-zugzwang"));
}

TEST_CASE("what a puzzle is about, what helps it and what only decorates", "[motif][names]") {
    const auto strength_of = [](const std::vector<motif::Evidence>& found, std::string_view name) {
        const auto at =
            std::find_if(found.begin(), found.end(), [&](const auto& e) { return e.motif == name; });
        REQUIRE(at != found.end());
        return at->strength;
    };
    using motif::Strength;
    const auto lured = examples::evidence(
        examples::line("3q2k1/5pp1/8/4N3/8/8/5PP1/6KR w - - 0 1", "1.Rh8+ Kxh8 2.Nxf7+ Kg8 3.Nxd8"));
    CHECK(strength_of(lured, "decoy") == Strength::main);
    CHECK(strength_of(lured, "royal-fork") == Strength::main);
    CHECK(strength_of(lured, "sham-sacrifice") == Strength::supporting);
    // Where nothing tells more, the means are what it is about.
    const auto caught =
        examples::evidence(examples::line("6kN/5ppp/8/8/8/8/5PPP/6K1 w - - 0 1", "1.Nxf7 Kxf7"));
    CHECK(strength_of(caught, "desperado") == Strength::main);
    const auto plain =
        examples::evidence(examples::line("5rk1/5ppp/8/8/8/3Q4/2B2PPP/6K1 w - - 0 1", "1.Qxh7#"));
    CHECK(strength_of(plain, "battery") == Strength::incidental);
}

TEST_CASE("the special name is reported alone, the earliest of the strongest, in order", "[motif][names]") {
    const auto found =
        examples::evidence(examples::line("2q3k1/5ppp/8/3N4/8/8/5PPP/6K1 w - - 0 1", "1.Ne7+ Kf8 2.Nxc8"));
    REQUIRE_FALSE(found.empty());
    CHECK(found.front().motif == "royal-fork");
    CHECK(std::none_of(found.begin(), found.end(),
                       [](const auto& e) { return e.motif == "fork" || e.motif == "knight-fork"; }));
    CHECK(std::is_sorted(found.begin(), found.end(), [](const auto& a, const auto& b) {
        return a.ply != b.ply ? a.ply < b.ply : a.motif < b.motif;
    }));
}

TEST_CASE("the same line gives the same evidence", "[motif][names]") {
    const auto line =
        examples::line("3q2k1/5pp1/8/4N3/8/8/5PP1/6KR w - - 0 1", "1.Rh8+ Kxh8 2.Nxf7+ Kg8 3.Nxd8");
    const auto first = examples::evidence(line);
    const auto second = examples::evidence(line);
    REQUIRE(first.size() == second.size());
    for (std::size_t i = 0; i < first.size(); ++i) {
        CHECK(first[i].motif == second[i].motif);
        CHECK(first[i].ply == second[i].ply);
        CHECK(first[i].level == second[i].level);
        CHECK(first[i].why == second[i].why);
    }
}
