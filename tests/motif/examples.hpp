#pragma once
// The catalogue's motif entries with their examples, and lines read from movetext.

#include "motif/motif.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace examples {

struct Example {
    std::string motif; ///< "knight-fork"
    bool yes = false;
    bool wide = false; ///< counts in the wider reading only
    std::string title;
    std::string fen;
    std::string line;
};

struct Entry {
    std::string file; ///< "knight-fork"
    std::string id;   ///< "motif/knight-fork"
    std::string name;
    std::vector<std::string> aliases;
    bool wider = false;  ///< has a wider reading
    bool checked = true; ///< false: a word that no detector answers to, without examples
    std::vector<Example> examples;
};

/// Every file of rules/motif, sorted by name.
const std::vector<Entry>& catalogue();
/// A text that cannot be read fails the running test.
board::Position position(std::string_view fen);
motif::SolutionLine line(std::string_view fen, std::string_view movetext);
/// find() with the middle effort, and the tables for lines that start from three men.
std::vector<motif::Evidence> evidence(const motif::SolutionLine& line, const motif::Wide& wide = {});
/// The same of an example, found once for all tests.
const std::vector<motif::Evidence>& evidence(const Example& example);
/// The strongest level of evidence that bears out `tag`; nothing below `seen`.
std::optional<motif::Level> level(const std::vector<motif::Evidence>& found, std::string_view tag);

} // namespace examples
