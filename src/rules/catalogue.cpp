#include "rules/catalogue.hpp"

#include "rules/catalogue_pack.hpp"
#include "rules/catalogue_text.hpp"

#include <algorithm>
#include <cctype>

namespace rules {

std::string folded(std::string_view theme) {
    std::string result;
    bool gap = false;
    for (const char c : theme) {
        const auto u = static_cast<unsigned char>(c);
        if (std::isalnum(u) != 0 || u >= 0x80) {
            if (gap && !result.empty()) {
                result += ' ';
            }
            gap = false;
            result += static_cast<char>(std::tolower(u));
        } else {
            gap = true;
        }
    }
    return result;
}

const Message* RuleEntry::message(std::string_view message_id) const {
    const auto found =
        std::find_if(messages.begin(), messages.end(), [&](const Message& m) { return m.id == message_id; });
    return found == messages.end() ? nullptr : &*found;
}

namespace {

/// Of the compiled-in entries: nothing can be wrong with them that the build has not refused.
template <class Entry> void unpack(std::span<const std::string_view> packed, std::vector<Entry>& entries) {
    entries.reserve(packed.size());
    for (const std::string_view text : packed) {
        Unpacker unpacker(text);
        fields(unpacker, entries.emplace_back());
    }
}

} // namespace

board::Result<Catalogue, std::string> Catalogue::read(WithExamples examples) {
    Catalogue catalogue;
    if (examples == WithExamples::yes) {
        auto read = read_entries(catalogue_texts());
        if (!read) {
            return board::failure(read.error());
        }
        CatalogueEntries entries = std::move(read).value();
        catalogue.m_rules = std::move(entries.rules);
        catalogue.m_motifs = std::move(entries.motifs);
    } else {
        unpack(packed_rules(), catalogue.m_rules);
        unpack(packed_motifs(), catalogue.m_motifs);
    }
    for (const MotifEntry& entry : catalogue.m_motifs) {
        catalogue.m_aliases[folded(entry.motif)] = entry.motif;
        catalogue.m_aliases[folded(entry.name)] = entry.motif;
        for (const std::string& alias : entry.aliases) {
            catalogue.m_aliases.emplace(folded(alias), entry.motif);
        }
    }
    return catalogue;
}

const RuleEntry* Catalogue::rule(std::string_view id) const {
    const auto found =
        std::lower_bound(m_rules.begin(), m_rules.end(), id,
                         [](const RuleEntry& rule, std::string_view key) { return rule.id < key; });
    return found != m_rules.end() && found->id == id ? &*found : nullptr;
}

const MotifEntry* Catalogue::motif(std::string_view machine_name) const {
    const auto found = std::find_if(m_motifs.begin(), m_motifs.end(),
                                    [&](const MotifEntry& entry) { return entry.motif == machine_name; });
    return found == m_motifs.end() ? nullptr : &*found;
}

std::optional<std::string> Catalogue::motif_of(std::string_view theme) const {
    const auto found = m_aliases.find(folded(theme));
    return found == m_aliases.end() ? std::nullopt : std::optional(found->second);
}

std::vector<std::string> Catalogue::near(std::string_view text) const {
    std::vector<std::string> names;
    for (const RuleEntry& rule : m_rules) {
        names.push_back(rule.id);
    }
    for (const MotifEntry& motif : m_motifs) {
        names.push_back(motif.motif);
    }
    return nearest(text, names);
}

} // namespace rules
