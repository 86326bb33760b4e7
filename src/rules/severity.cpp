#include "rules/finding.hpp"

namespace rules {

std::string_view name(Severity severity) {
    switch (severity) {
    case Severity::off:
        return "off";
    case Severity::note:
        return "note";
    case Severity::warning:
        return "warning";
    case Severity::error:
        return "error";
    }
    return "";
}

std::optional<Severity> read_severity(std::string_view text) {
    for (const Severity severity : {Severity::off, Severity::note, Severity::warning, Severity::error}) {
        if (name(severity) == text) {
            return severity;
        }
    }
    return std::nullopt;
}

} // namespace rules
