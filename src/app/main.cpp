#include "app/run.hpp"
#include "app/schedule.hpp"

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <string_view>
#include <vector>

#include <sys/ioctl.h>
#include <unistd.h>

extern char** environ; // NOLINT: the name POSIX gives

namespace {

app::Environment environment_of_process() {
    app::Environment environment;
    for (char** entry = environ; *entry != nullptr; ++entry) {
        const std::string_view text = *entry;
        const std::size_t equals = text.find('=');
        if (equals != std::string_view::npos) {
            environment.variables.emplace(text.substr(0, equals), text.substr(equals + 1));
        }
    }
    std::error_code gone; // a deleted working directory: paths can still be absolute
    environment.folder = std::filesystem::current_path(gone).string();
    environment.processors = app::usable_processors();
    return environment;
}

app::Terminal terminal(int descriptor) {
    return isatty(descriptor) == 1 ? app::Terminal::yes : app::Terminal::no;
}

/// Of a terminal; 0: not known.
std::size_t columns(int descriptor) {
    winsize size{};
    return ioctl(descriptor, TIOCGWINSZ, &size) == 0 ? size.ws_col
                                                     : 0; // NOLINT: the call POSIX terminals give
}

} // namespace

int main(int argc, char** argv) {
    std::signal(SIGPIPE, SIG_IGN); // a closed pipe shows when writing
    std::ios::sync_with_stdio(false);
    const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
    const app::Streams streams{
        std::cout, std::cerr, terminal(STDOUT_FILENO), terminal(STDERR_FILENO), columns(STDOUT_FILENO),
        &std::cin};
    return app::run(arguments, streams, environment_of_process());
}
