#pragma once
// The program as a function: tests call it in-process.

#include <cstddef>
#include <iosfwd>
#include <map>
#include <span>
#include <string>

namespace app {

enum class Terminal : bool { no, yes };

struct Streams {
    std::ostream& out;
    std::ostream& err;
    Terminal out_is = Terminal::no;
    Terminal err_is = Terminal::no;
    std::size_t columns = 0;    ///< of the terminal that `out` is; 0: not known
    std::istream* in = nullptr; ///< none: as if it were empty
};

/// All that a run may know of the world besides files.
struct Environment {
    std::map<std::string, std::string, std::less<>> variables;
    std::string folder;         ///< working directory, absolute
    std::size_t processors = 1; ///< jobs worth starting
};

/// `arguments` without the program's name. Returns the exit status: 0 nothing at or above the gate, 1
/// findings at or above it, 2 wrong use or configuration, 3 something could not be read, written or
/// completed.
[[nodiscard]] int run(std::span<const std::string> arguments, const Streams& streams,
                      const Environment& environment);

} // namespace app
