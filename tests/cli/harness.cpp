#include "harness.hpp"

#include <fstream>
#include <iterator>
#include <sstream>

namespace harness {

namespace fs = std::filesystem;

Ran run_in(const fs::path& folder, const std::vector<std::string>& arguments,
           const std::map<std::string, std::string, std::less<>>& variables, const std::string& input) {
    std::ostringstream out;
    std::ostringstream err;
    std::istringstream in(input);
    app::Streams streams{out, err};
    streams.in = &in;
    const app::Environment environment{variables, folder.string(), 2};
    const int status = app::run(arguments, streams, environment);
    return {status, out.str(), err.str()};
}

const std::map<std::string, std::string, std::less<>>& with_tables() {
    static const scratch::Folder folder;
    static const std::map<std::string, std::string, std::less<>> variables{
        {"XDG_CACHE_HOME", folder.path().string()}};
    return variables;
}

void Shelf::write(const std::string& path, const std::string& text) const {
    fs::create_directories((m_folder.path() / path).parent_path());
    std::ofstream(m_folder.path() / path, std::ios::binary) << text;
}

std::string Shelf::read(const std::string& path) const {
    std::ifstream file(m_folder.path() / path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

nlohmann::json json_of(const Ran& ran) {
    INFO(ran.err);
    return nlohmann::json::parse(ran.out);
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) {
        ++found;
    }
    return found;
}

std::string sound(const std::string& id) {
    return "  - id: " + id +
           "\n    fen: \"6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1\"\n    goal: mate in 1\n    solution: "
           "\"1.Rd8#\"\n";
}

std::string sound_too(const std::string& id) {
    return "  - id: " + id +
           "\n    fen: \"1k6/ppp5/8/8/8/8/PPP5/1K2R3 w - - 0 1\"\n    goal: mate in 1\n    solution: "
           "\"1.Re8#\"\n";
}

std::string cooked(const std::string& id) {
    return "  - id: " + id +
           "\n    fen: \"7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1\"\n    goal: mate in 1\n    solution: "
           "\"1.Ra8#\"\n";
}

std::string puzzles(const std::vector<std::string>& entries) {
    std::string text = "collection: Harbour club\npuzzles:\n";
    for (const std::string& entry : entries) {
        text += entry;
    }
    return text;
}

} // namespace harness
