#include "examples.hpp"

#include "board/fen.hpp"
#include "board/san.hpp"
#include "catch.hpp"
#include "solve/endgame_tables.hpp"

#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <map>
#include <sstream>

namespace examples {
namespace {

std::vector<Example> read(const YAML::Node& list, const std::string& motif, bool yes, bool wide = false) {
    std::vector<Example> out;
    for (const auto& node : list) {
        out.push_back({motif, yes, wide, node["title"].as<std::string>(), node["fen"].as<std::string>(),
                       node["line"].as<std::string>()});
    }
    return out;
}

Entry read(const std::filesystem::path& path) {
    const YAML::Node node = YAML::LoadFile(path.string());
    Entry entry;
    entry.file = path.stem().string();
    entry.id = node["id"].as<std::string>();
    entry.name = node["name"].as<std::string>();
    entry.aliases = node["aliases"].as<std::vector<std::string>>();
    entry.checked = node["checked"].as<std::string>("yes") == "yes";
    if (!entry.checked) {
        return entry;
    }
    entry.examples = read(node["examples"]["yes"], entry.file, true);
    for (Example& example : read(node["examples"]["no"], entry.file, false)) {
        entry.examples.push_back(std::move(example));
    }
    for (Example& example : read(node["examples"]["wide"], entry.file, false, true)) {
        entry.examples.push_back(std::move(example));
    }
    entry.wider = node["disputed"] && node["disputed"]["wider"];
    return entry;
}

/// "12...Nf6" without its number.
std::string without_number(const std::string& word) {
    std::size_t i = 0;
    while (i < word.size() && std::isdigit(static_cast<unsigned char>(word[i])) != 0) {
        ++i;
    }
    if (i == 0 || i == word.size() || word[i] != '.') {
        return word;
    }
    return word.substr(word.find_first_not_of('.', i));
}

} // namespace

namespace {

std::vector<Entry> read_catalogue() {
    std::vector<Entry> entries;
    for (const auto& file : std::filesystem::directory_iterator(SIDELINT_SOURCE_DIR "/rules/motif")) {
        if (file.path().extension() == ".yaml") {
            entries.push_back(read(file.path()));
        }
    }
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.file < b.file; });
    return entries;
}

} // namespace

const std::vector<Entry>& catalogue() {
    static const std::vector<Entry> entries = read_catalogue(); // once: every section of a test asks
    return entries;
}

board::Position position(std::string_view fen) {
    const board::FenReading reading = board::read_fen(fen);
    INFO(fen);
    REQUIRE(reading.faults.empty());
    const auto made = board::Position::from(reading.setup);
    REQUIRE(made.ok());
    return *made;
}

motif::SolutionLine line(std::string_view fen, std::string_view movetext) {
    motif::SolutionLine result{position(fen), {}};
    board::Position now = result.start;
    std::istringstream words{std::string(movetext)};
    for (std::string word; words >> word;) {
        INFO(fen << " " << word);
        const auto san = board::read_san(without_number(word));
        REQUIRE(san.has_value());
        const auto move = board::resolve(now, *san);
        REQUIRE(move.ok());
        CHECK(board::write_san(now, *move) == without_number(word)); // the sign of check and mate too
        result.moves.push_back(*move);
        now = now.after(*move);
    }
    return result;
}

std::vector<motif::Evidence> evidence(const motif::SolutionLine& line, const motif::Wide& wide) {
    // Tables of three men take no time to build, those of four seconds.
    static const solve::EndgameTables tables(std::nullopt);
    const bool few = line.start.occupied().count() <= 3;
    solve::Solver solver(solve::budget_of(solve::Effort::review), few ? &tables : nullptr);
    return motif::find(line, solver, wide);
}

const std::vector<motif::Evidence>& evidence(const Example& example) {
    static std::map<std::string, std::vector<motif::Evidence>> known;
    const auto [at, is_new] = known.try_emplace(example.fen + ' ' + example.line);
    if (is_new) {
        at->second = evidence(line(example.fen, example.line));
    }
    return at->second;
}

std::optional<motif::Level> level(const std::vector<motif::Evidence>& found, std::string_view tag) {
    std::optional<motif::Level> best;
    for (const motif::Evidence& evidence : found) {
        if (motif::supports(evidence.motif, tag)) {
            best = std::max(best.value_or(evidence.level), evidence.level);
        }
    }
    return best;
}

} // namespace examples
