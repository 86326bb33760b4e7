#pragma once
// The commands and options there are, for whoever reads the command line or describes it.

#include "app/command_words.hpp"

namespace CLI {
class App;
}

namespace app {

/// Names the program and puts all its commands into `app`; what is parsed goes into `raw`, which must outlive
/// it.
void add_commands(CLI::App& app, Raw& raw);

} // namespace app
