#pragma once
// Reads a map by a table of keys: the same table makes the schema, the file that `init` writes and the error
// messages.

#include "config/yaml_tree.hpp"
#include "rules/catalogue.hpp"
#include "rules/policy.hpp"

#include <array>
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace config {

/// What a key's value looks like, for the schema.
enum class Shape : std::uint8_t {
    anything,
    text,
    text_list,
    choice, ///< one of KeySpec::choices
    number,
    yes_no,
    rules,
    themes,
    aliases, ///< own words, each for one motif or several
    columns,
    tables,
    tags,
    overrides,
};

struct KeySpec {
    std::string_view name;
    Shape shape = Shape::text;
    std::string_view fallback; ///< as written in YAML; empty: not set
    std::string_view meaning;
    std::array<std::string_view, 3> choices{};
    std::string_view example; ///< YAML lines for `init`; empty: the fallback says enough
};

/// In quotes for a message, cut when it is long.
[[nodiscard]] std::string in_quotes(std::string_view text);

class Reader;

template <class Target> struct Key {
    KeySpec spec;
    void (*read)(Reader& reader, const YamlNode& value, Target& into);
};
template <class Target> using Keys = std::span<const Key<Target>>;

/// Turns nodes into values; what does not fit becomes an Error, and reading goes on.
class Reader {
  public:
    /// `folder`: where the file stands, relative to the repository's root ("" for the root): its globs are
    /// relative to it.
    Reader(std::string_view name, std::string_view folder, const rules::Catalogue& catalogue)
        : m_name(name), m_folder(folder), m_catalogue(catalogue) {}

    [[nodiscard]] const rules::Catalogue& catalogue() const { return m_catalogue; }
    [[nodiscard]] std::vector<Error>& errors() { return m_errors; }

    void fail(const YamlNode& at, std::string message, std::string cure = {});
    /// `text` is none of `known`: says so with the nearest of them, or with all when they are few.
    void fail_unknown(const YamlNode& at, std::string_view what, std::string_view text,
                      const std::vector<std::string>& known);

    [[nodiscard]] std::optional<std::string> text(const YamlNode& node);
    /// A list of texts; one text stands for a list of one.
    [[nodiscard]] std::vector<std::string> texts(const YamlNode& node);
    /// A pattern as seen from the root.
    [[nodiscard]] std::optional<std::string> glob(const YamlNode& node);
    [[nodiscard]] std::vector<std::string> globs(const YamlNode& node);
    [[nodiscard]] std::optional<bool> yes_no(const YamlNode& node);
    /// Pawns with at most two decimals, as hundredths.
    [[nodiscard]] std::optional<int> pawns(const YamlNode& node);
    /// Index into `choices`.
    [[nodiscard]] std::optional<std::size_t> choice(const YamlNode& node,
                                                    const std::array<std::string_view, 3>& choices);
    [[nodiscard]] bool is_map(const YamlNode& node);
    /// The items of a list, or the one node that stands where a list may.
    [[nodiscard]] std::span<const YamlNode> items(const YamlNode& node);

    /// Reads every entry of a map by the key of its name in one of two tables; others are unknown.
    template <class First, class Second>
    void read(const YamlNode& map, Keys<First> first, First& into_first, Keys<Second> second,
              Second& into_second);
    template <class Target> void read(const YamlNode& map, Keys<Target> keys, Target& into) {
        read(map, keys, into, Keys<Target>{}, into);
    }

  private:
    template <class Target> bool read_entry(const YamlEntry& entry, Keys<Target> keys, Target& into);
    [[nodiscard]] std::string seen_from_root(const std::string& glob) const;

    std::string m_name;
    std::string m_folder;
    const rules::Catalogue& m_catalogue;
    std::vector<Error> m_errors;
};

template <class Target> bool Reader::read_entry(const YamlEntry& entry, Keys<Target> keys, Target& into) {
    for (const Key<Target>& key : keys) {
        if (key.spec.name == entry.key.text) {
            key.read(*this, entry.value, into);
            return true;
        }
    }
    return false;
}

template <class First, class Second>
void Reader::read(const YamlNode& map, Keys<First> first, First& into_first, Keys<Second> second,
                  Second& into_second) {
    if (!is_map(map)) {
        return;
    }
    std::vector<std::string> known;
    for (const Key<First>& key : first) {
        known.emplace_back(key.spec.name);
    }
    for (const Key<Second>& key : second) {
        known.emplace_back(key.spec.name);
    }
    for (const YamlEntry& entry : map.entries) {
        if (!read_entry(entry, first, into_first) && !read_entry(entry, second, into_second)) {
            fail_unknown(entry.key, "key", entry.key.text, known);
        }
    }
}

} // namespace config
