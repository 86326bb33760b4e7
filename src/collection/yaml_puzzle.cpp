#include "collection/yaml_puzzle.hpp"

#include "collection/builder.hpp"
#include "collection/text.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace collection {

namespace {

constexpr std::size_t max_keys = 100; // of a mapping; each is compared with the others
constexpr std::array<std::string_view, 8> known_keys{"id",       "fen",    "to-move", "goal",
                                                     "solution", "accept", "themes",  "allow"};

bool is_known(std::string_view name) {
    return std::find(known_keys.begin(), known_keys.end(), name) != known_keys.end();
}

/// The known key that differs in case, in "_" for "-" or in a final "s" only.
std::string_view meant_by(std::string_view name) {
    const auto plain = [](std::string_view text) {
        std::string key = lower(text);
        std::replace(key.begin(), key.end(), '_', '-');
        if (!key.empty() && key.back() == 's') {
            key.pop_back();
        }
        return key;
    };
    const auto found = std::find_if(known_keys.begin(), known_keys.end(),
                                    [&](std::string_view key) { return plain(key) == plain(name); });
    return found == known_keys.end() ? std::string_view() : *found;
}

void fault(Puzzle& puzzle, Span span, std::string what, std::string cure = {}) {
    add_fault(puzzle, Fault::Kind::field, span, std::move(what), std::move(cure));
}

/// Texts of a scalar, or of a list of scalars.
std::vector<Source> texts_of(Puzzle& puzzle, std::string_view name, const YamlNode& value) {
    std::vector<Source> texts;
    const auto add = [&](const YamlNode& node) {
        if (node.kind != YamlNode::Kind::scalar) {
            fault(puzzle, node.span, std::string(name) + " must be a text or a list of texts");
        } else if (!node.is_null()) {
            texts.push_back(Source(node.scalar).trimmed());
        }
    };
    if (value.kind == YamlNode::Kind::sequence) {
        std::for_each(value.items.begin(), value.items.end(), add);
    } else {
        add(value);
    }
    return texts;
}

std::optional<Source> text_of(Puzzle& puzzle, std::string_view name, const YamlNode& value) {
    if (value.kind != YamlNode::Kind::scalar) {
        fault(puzzle, value.span, std::string(name) + " must be a text");
        return std::nullopt;
    }
    return value.is_null() ? std::nullopt : std::optional(Source(value.scalar));
}

/// Value of a key in a mapping, the first when it stands twice.
const YamlNode* find(const YamlNode& mapping, std::string_view name) {
    for (std::size_t i = 0; i + 1 < std::min(mapping.items.size(), 2 * max_keys); i += 2) {
        if (mapping.items[i].kind == YamlNode::Kind::scalar && mapping.items[i].scalar.text == name) {
            return &mapping.items[i + 1];
        }
    }
    return nullptr;
}

void add_allowance_of(Puzzle& puzzle, const YamlNode& entry) {
    if (entry.kind == YamlNode::Kind::scalar) {
        if (!entry.is_null()) {
            add_allowances(puzzle, Source(entry.scalar));
        }
        return;
    }
    const YamlNode* const rule = find(entry, "rule");
    const YamlNode* const why = find(entry, "why");
    const bool texts = rule != nullptr && rule->kind == YamlNode::Kind::scalar &&
                       (why == nullptr || why->kind == YamlNode::Kind::scalar);
    const std::size_t expected = why == nullptr ? 2 : 4;
    if (!texts || entry.items.size() != expected) {
        fault(puzzle, entry.span, "An allowance has a rule and a why, and nothing else",
              "Write {rule: theme/missing, why: \"...\"}");
        return;
    }
    add_allowance(puzzle, Source(rule->scalar).trimmed(),
                  why == nullptr ? Source() : Source(why->scalar).trimmed(), entry.span);
}

void add_allowances_of(Puzzle& puzzle, const YamlNode& value) {
    if (value.kind == YamlNode::Kind::sequence) {
        for (const YamlNode& entry : value.items) {
            add_allowance_of(puzzle, entry);
        }
    } else {
        add_allowance_of(puzzle, value);
    }
}

void add_free_field(Puzzle& puzzle, const std::string& name, const YamlNode& value) {
    for (const Source& text : texts_of(puzzle, name, value)) {
        add_field(puzzle, name, text);
        if (name == "caption" || name == "title") {
            add_caption(puzzle, text);
        }
    }
}

/// Everything but FEN and solution, which must be read before.
void take(Puzzle& puzzle, const std::string& name, const YamlNode& value) {
    if (name == "accept") {
        for (const Source& text : texts_of(puzzle, name, value)) {
            add_accepted(puzzle, text);
        }
    } else if (name == "themes") {
        for (const Source& text : texts_of(puzzle, name, value)) {
            add_themes(puzzle, text);
        }
    } else if (name == "allow") {
        add_allowances_of(puzzle, value);
    } else if (!is_known(name)) {
        add_free_field(puzzle, name, value);
    } else if (name == "fen" || name == "solution") {
        return;
    } else if (const std::optional<Source> text = text_of(puzzle, name, value)) {
        if (name == "id") {
            set_id(puzzle, *text);
        } else if (name == "goal") {
            set_goal(puzzle, *text);
        } else if (name == "to-move") {
            set_side(puzzle, *text);
        }
    }
}

/// False when the key cannot be used.
bool check_key(Puzzle& puzzle, const YamlNode& mapping, std::size_t place) {
    const YamlNode& key = mapping.items[place];
    const std::string& name = key.scalar.text;
    if (key.kind != YamlNode::Kind::scalar || name.empty()) {
        fault(puzzle, key.span, "A key must be a text");
        return false;
    }
    if (find(mapping, name) != &mapping.items[place + 1]) {
        add_fault(puzzle, Fault::Kind::syntax, key.span, "The key " + in_quotes(name) + " stands twice",
                  "Keep one of them");
        return false;
    }
    if (const std::string_view meant = meant_by(name); !meant.empty() && meant != name) {
        fault(puzzle, key.span, "Unknown key " + in_quotes(name), "Write " + std::string(meant));
    }
    return true;
}

} // namespace

Puzzle yaml_puzzle(const YamlNode& node, const YamlNode* defaults) {
    Puzzle puzzle;
    puzzle.span = node.span;
    if (const YamlNode* const fen = find(node, "fen")) {
        if (const std::optional<Source> text = text_of(puzzle, "fen", *fen)) {
            set_fen(puzzle, *text);
        }
    }
    const YamlNode* variant = find(node, "variant");
    if (variant == nullptr && defaults != nullptr) {
        variant = find(*defaults, "variant");
    }
    if (variant != nullptr && variant->kind == YamlNode::Kind::scalar) {
        set_variant(puzzle, Source(variant->scalar));
    }
    if (const YamlNode* const solution = find(node, "solution")) {
        if (const std::optional<Source> text = text_of(puzzle, "solution", *solution)) {
            set_solution(puzzle, *text);
        }
    }
    if (node.items.size() > 2 * max_keys) {
        add_fault(puzzle, Fault::Kind::limit, node.span,
                  "More than " + std::to_string(max_keys) + " keys; the rest was not read");
    }
    for (std::size_t i = 0; i + 1 < std::min(node.items.size(), 2 * max_keys); i += 2) {
        if (check_key(puzzle, node, i)) {
            take(puzzle, node.items[i].scalar.text, node.items[i + 1]);
        }
    }
    return puzzle;
}

namespace {

void apply_default(Puzzle& puzzle, const std::string& name, const YamlNode& value) {
    const bool stated = name == "goal"     ? puzzle.goal && !puzzle.goal_by_caption
                        : name == "accept" ? !puzzle.accepted.empty()
                        : name == "themes" ? !puzzle.themes.empty()
                        : name == "allow"  ? false // they add up
                        : name == "to-move"
                            ? std::any_of(puzzle.sides.begin(), puzzle.sides.end(),
                                          [](const SideStatement& side) {
                                              return side.source == SideStatement::Source::field;
                                          })
                            : puzzle.field(name) != nullptr;
    if (!stated) {
        if (name == "variant" && puzzle.position && !puzzle.position->home().is_shuffled()) {
            Puzzle trial; // read too late for this puzzle: only the orthodox array needs no second reading
            trial.fen = puzzle.fen;
            set_variant(trial, value.kind == YamlNode::Kind::scalar ? Source(value.scalar) : Source());
            if (trial.reading.usable || !trial.faults.empty()) {
                add_fault(puzzle, Fault::Kind::syntax, value.span,
                          "The default variant stands behind the puzzles and was not read for this one",
                          "Write defaults before puzzles");
            }
        }
        take(puzzle, name, value);
        settle_goal(puzzle);
    }
}

} // namespace

void apply_defaults(Document& document, std::size_t first, const YamlNode& defaults) {
    Puzzle trial; // its faults are the defaults' own: once a file
    for (std::size_t i = 0; i + 1 < std::min(defaults.items.size(), 2 * max_keys); i += 2) {
        const std::string& name = defaults.items[i].scalar.text;
        if (name == "id" || name == "fen" || name == "solution") {
            fault(trial, defaults.items[i].span, "Puzzles do not share their " + name);
            continue;
        }
        const std::size_t faults = trial.faults.size();
        if (!check_key(trial, defaults, i)) {
            continue;
        }
        take(trial, name, defaults.items[i + 1]);
        for (std::size_t p = first; p < document.puzzles.size() && trial.faults.size() == faults; ++p) {
            apply_default(document.puzzles[p], name, defaults.items[i + 1]);
        }
    }
    for (Fault& found : trial.faults) {
        add_fault(document.faults, std::move(found));
    }
}

} // namespace collection
