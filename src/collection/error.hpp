#pragma once
// Faults of the run, as against faults of the collection (those are findings). The exit status is a function
// of the kind.

#include "board/result.hpp"

#include <cstdint>
#include <string>

namespace collection {

struct Error {
    enum class Kind : std::uint8_t {
        usage,      ///< wrong use of the command line: status 2
        config,     ///< the configuration is wrong: status 2
        repository, ///< a revision or the repository cannot be had: status 3
        io,         ///< something could not be read or written: status 3
        internal,   ///< our own fault: status 3
    };
    Kind kind = Kind::internal;
    std::string message; ///< what is wrong
    std::string place;   ///< "file:line:column", may be empty
    std::string cure;    ///< what to do, may be empty
};

template <class T> using Result = board::Result<T, Error>;

} // namespace collection
