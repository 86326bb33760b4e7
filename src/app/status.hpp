#pragma once
// What a run ends with, and how its faults are told.

#include "collection/error.hpp"

#include <iosfwd>
#include <span>

namespace app {

using collection::Error;
using collection::Result;

enum class Gate : bool { passed, failed };

/// The exit status, decided here and nowhere else: 3 outranks 2, which outranks the gate's 1.
[[nodiscard]] int exit_status(std::span<const Error> errors, Gate gate);

/// "sidelint: place: message" and the cure on a line of its own.
void tell(std::ostream& err, const Error& error);
void tell(std::ostream& err, std::span<const Error> errors);

[[nodiscard]] Error usage_error(std::string message, std::string cure = {});
[[nodiscard]] Error io_error(std::string place, std::string message, std::string cure = {});

} // namespace app
