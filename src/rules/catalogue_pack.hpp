#pragma once
// Entries of the catalogue as texts that are quick to read: what the build writes, a run reads. Both walk
// over the fields by the same functions.

#include "rules/catalogue.hpp"
#include "rules/packing.hpp"

#include <string>
#include <vector>

namespace rules {

template <class Archive> void fields(Archive& archive, std::string& text) {
    archive.text(text);
}

template <class Archive> void fields(Archive& archive, Severity& severity) {
    auto number = static_cast<std::size_t>(severity);
    archive.number(number);
    severity = static_cast<Severity>(number);
}

template <class Archive, class T> void fields(Archive& archive, std::vector<T>& list) {
    const std::size_t size = archive.size(list);
    for (std::size_t i = 0; i < size; ++i) {
        fields(archive, list[i]);
    }
}

template <class Archive> void fields(Archive& archive, OptionSpec& option) {
    fields(archive, option.name);
    fields(archive, option.fallback);
    fields(archive, option.meaning);
}

template <class Archive> void fields(Archive& archive, Message& message) {
    fields(archive, message.id);
    fields(archive, message.text);
    std::size_t own = message.severity ? 1 : 0;
    archive.number(own);
    if (own != 0) {
        Severity severity = message.severity.value_or(Severity::off);
        fields(archive, severity);
        message.severity = severity;
    }
}

template <class Archive> void fields(Archive& archive, RuleEntry& rule) {
    for (std::string* text :
         {&rule.id, &rule.summary, &rule.why, &rule.certainty, &rule.since, &rule.status, &rule.fix}) {
        fields(archive, *text);
    }
    fields(archive, rule.severity);
    fields(archive, rule.options);
    fields(archive, rule.messages);
    fields(archive, rule.see);
}

template <class Archive> void fields(Archive& archive, MotifEntry& motif) {
    for (std::string* text : {&motif.id, &motif.motif, &motif.name, &motif.summary, &motif.why,
                              &motif.disputed.chosen, &motif.disputed.narrower, &motif.disputed.wider}) {
        fields(archive, *text);
    }
    fields(archive, motif.aliases);
    std::size_t checked = motif.checked ? 1 : 0;
    archive.number(checked);
    motif.checked = checked != 0;
}

} // namespace rules
