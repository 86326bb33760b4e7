#pragma once
// How each format takes text nobody vouches for. What acts on a terminal, or on a CI runner that reads the
// log, acts in none of them.

#include "report/written.hpp"

namespace report {

/// Terminals and logs: see harmless().
struct Plain {
    static void escape(Untrusted text, std::string& into);
};

/// XML 1.0, in elements and attributes. Characters that XML forbids become U+FFFD, all others come back as
/// they were.
struct Xml {
    static void escape(Untrusted text, std::string& into);
};

/// HTML, in elements and quoted attributes; control and bidi characters as \u{...}.
struct Html {
    static void escape(Untrusted text, std::string& into);
};

/// A row of a table of GitHub Flavored Markdown: neither Markdown nor HTML, no mention and no reference.
struct Markdown {
    static void escape(Untrusted text, std::string& into);
};

/// GitHub's workflow commands: the data behind "::", or a property before it.
struct Command {
    struct Property {
        Untrusted text;
    };
    static void escape(Untrusted text, std::string& into);
    static void escape(Property property, std::string& into);
};

} // namespace report
