#pragma once
// Programs that are not ours, which read what the writers wrote.

#include <array>
#include <cstddef>
#include <string>
#include <vector>

namespace outside {

struct Ran {
    int status = -1;
    std::string out; ///< and what went to standard error
};

/// Runs `command` (a shell's) on files of those texts: {0}, {1}, ... in it become their names.
[[nodiscard]] Ran run(const std::string& command, const std::vector<std::string>& texts);

/// What xmllint and Debian's python3-jsonschema find wrong with the text; empty when nothing. `schema` is a
/// text too.
[[nodiscard]] std::string xml_faults(const std::string& text, const std::string& schema);
[[nodiscard]] std::string json_faults(const std::string& text, const std::string& schema);

/// Columns of the terminals that texts are shown on.
inline constexpr std::array<std::size_t, 3> terminals{60, 80, 200};
/// What a script of this folder, called with some words and then with the texts as files, finds wrong with
/// them.
[[nodiscard]] std::string read_back(const std::string& script, const std::vector<std::string>& texts);
/// A schema of tests/report/schemas.
[[nodiscard]] std::string schema(const std::string& name);

/// The string that an XPath expression yields, read by xmllint.
[[nodiscard]] std::string xpath(const std::string& text, const std::string& expression);
/// GitHub Flavored Markdown as HTML, by cmark-gfm with its tables and automatic links.
[[nodiscard]] std::string html_of(const std::string& markdown);

} // namespace outside
