#include "collection/phrase_table.hpp"

#include "collection/move_word.hpp"
#include "collection/text.hpp"
#include "collection/yaml_node.hpp"

#include <algorithm>

namespace collection {

namespace {

constexpr std::array<std::pair<std::string_view, PhraseKind>, 14> kinds{{
    {"side-to-move", PhraseKind::side_to_move},
    {"mate", PhraseKind::mate},
    {"win", PhraseKind::win},
    {"win-sign", PhraseKind::win_sign},
    {"draw", PhraseKind::draw},
    {"draw-sign", PhraseKind::draw_sign},
    {"hold", PhraseKind::hold},
    {"unit", PhraseKind::unit},
    {"loss", PhraseKind::loss},
    {"ahead", PhraseKind::ahead},
    {"only-move", PhraseKind::only_move},
    {"no-difference", PhraseKind::no_difference},
    {"count", PhraseKind::count},
    {"other-kind", PhraseKind::other_kind},
}};

constexpr std::array<std::string_view, 6> units{"pawn", "piece", "exchange", "rook", "queen", "material"};

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = find_any(text, " ", at);
        if (end > at) {
            words.emplace_back(text.substr(at, end - at));
        }
        at = end + 1;
    }
    return words;
}

/// What is wrong with a file: thrown nowhere, handed up.
using Trouble = std::optional<std::string>;

class LanguageReader {
  public:
    board::Result<Language, std::string> read(const YamlNode& root) {
        for (std::size_t i = 0; i + 1 < root.items.size() && !m_trouble; i += 2) {
            take(root.items[i].scalar.text, root.items[i + 1]);
        }
        if (m_trouble) {
            return board::failure(*m_trouble);
        }
        for (auto& list : m_out.spellings) {
            std::stable_sort(list.begin(), list.end(), [](const Spelling& a, const Spelling& b) {
                return a.words.size() > b.words.size();
            });
        }
        return std::move(m_out);
    }

  private:
    void trouble(std::string what) {
        if (!m_trouble) {
            m_trouble = std::move(what);
        }
    }

    void take(const std::string& key, const YamlNode& value) {
        if (key == "language") {
            m_out.name = value.scalar.text;
        } else if (key == "articles") {
            add_words(m_out.articles, value);
        } else if (key == "fillers") {
            add_words(m_out.fillers, value);
        } else if (key == "doubt") {
            add_words(m_out.doubt, value);
        } else if (key == "sides") {
            add_spellings(Slot::Kind::side, value, [](std::string_view name) {
                return name == "white" ? 0 : name == "black" ? 1 : -1;
            });
        } else if (key == "numbers") {
            add_spellings(Slot::Kind::number, value, [](std::string_view name) { return number_of(name); });
        } else if (key == "units") {
            add_spellings(Slot::Kind::unit, value, [](std::string_view name) {
                const auto* const found = std::find(units.begin(), units.end(), name);
                return found == units.end() ? -1 : static_cast<int>(found - units.begin());
            });
        } else if (key == "things") {
            for (const YamlNode& item : value.items) {
                add_spelling(Slot::Kind::thing, item, 0);
            }
        } else if (key == "claims") {
            std::for_each(value.items.begin(), value.items.end(),
                          [this](const YamlNode& claim) { add_claim(claim); });
        } else {
            trouble("unknown key " + key);
        }
    }

    static void add_words(std::set<std::string, std::less<>>& words, const YamlNode& list) {
        for (const YamlNode& item : list.items) {
            words.insert(item.scalar.text);
        }
    }

    void add_spelling(Slot::Kind kind, const YamlNode& item, int meaning) {
        m_out.spellings.at(static_cast<std::size_t>(kind)).push_back({words_of(item.scalar.text), meaning});
    }

    template <class Meaning> void add_spellings(Slot::Kind kind, const YamlNode& mapping, Meaning meaning) {
        for (std::size_t i = 0; i + 1 < mapping.items.size(); i += 2) {
            const int meant = meaning(mapping.items[i].scalar.text);
            if (meant < 0) {
                trouble("unknown name " + mapping.items[i].scalar.text);
            }
            for (const YamlNode& item : mapping.items[i + 1].items) {
                add_spelling(kind, item, meant);
            }
        }
    }

    void add_claim(const YamlNode& claim) {
        Pattern pattern;
        std::vector<std::string> says;
        for (std::size_t i = 0; i + 1 < claim.items.size(); i += 2) {
            const std::string& key = claim.items[i].scalar.text;
            const YamlNode& value = claim.items[i + 1];
            if (key == "claim") {
                const auto* const found = std::find_if(kinds.begin(), kinds.end(), [&](const auto& kind) {
                    return kind.first == value.scalar.text;
                });
                if (found == kinds.end()) {
                    return trouble("unknown claim " + value.scalar.text);
                }
                pattern.kind = found->second;
            } else if (key == "then") {
                pattern.opens = true;
                pattern.then = texts_of(value);
            } else if (key == "where" && value.scalar.text == "comments") {
                pattern.of_lines = true;
            } else if (key == "says") {
                says = texts_of(value);
            } else {
                return trouble("unknown key " + key);
            }
        }
        for (const std::string& spelling : says) {
            add_pattern(pattern, words_of(spelling));
        }
    }

    static std::vector<std::string> texts_of(const YamlNode& list) {
        std::vector<std::string> texts;
        for (const YamlNode& item : list.items) {
            texts.push_back(item.scalar.text);
        }
        return texts;
    }

    void add_pattern(Pattern pattern, std::vector<std::string> words) {
        if (!words.empty() && words.front() == "{side?}") {
            add_pattern(pattern, {words.begin() + 1, words.end()});
            words.front() = "{side}";
        }
        for (const std::string& word : words) {
            const Slot::Kind kind = word == "{side}"     ? Slot::Kind::side
                                    : word == "{number}" ? Slot::Kind::number
                                    : word == "{unit}"   ? Slot::Kind::unit
                                    : word == "{thing}"  ? Slot::Kind::thing
                                                         : Slot::Kind::word;
            if (kind == Slot::Kind::word && word.front() == '{') {
                trouble("unknown placeholder " + word);
            }
            pattern.slots.push_back({kind, word});
        }
        m_out.patterns.push_back(std::move(pattern));
    }

    Language m_out;
    Trouble m_trouble;
};

board::Result<Language, std::string> language_of(std::string_view text) {
    YamlStream stream(text, {0, text.size()});
    const std::optional<YamlNode> root = stream.node(stream.next());
    if (!root || stream.broken()) {
        return board::failure(stream.broken() ? stream.broken()->what : std::string("no mapping"));
    }
    return LanguageReader().read(*root);
}

} // namespace

const board::Result<std::vector<Language>, std::string>& phrase_table() {
    static const board::Result<std::vector<Language>, std::string> table =
        []() -> board::Result<std::vector<Language>, std::string> {
        std::vector<Language> languages;
        for (const std::string_view text : phrase_texts()) {
            auto read = language_of(text);
            if (!read) {
                return board::failure("rules/phrases: " + read.error());
            }
            languages.push_back(std::move(read).value());
        }
        return languages;
    }();
    return table;
}

std::string_view name(PhraseUnit unit) {
    return units.at(static_cast<std::size_t>(unit));
}

board::Result<std::vector<std::string>, std::string> phrase_languages() {
    const auto& table = phrase_table();
    if (!table) {
        return board::failure(table.error());
    }
    std::vector<std::string> names;
    for (const Language& language : *table) {
        names.push_back(language.name);
    }
    return names;
}

} // namespace collection
