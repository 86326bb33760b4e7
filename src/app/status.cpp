#include "app/status.hpp"

#include "report/report.hpp"

#include <algorithm>
#include <ostream>

namespace app {

int exit_status(std::span<const Error> errors, Gate gate) {
    const auto is_own_use = [](const Error& error) {
        return error.kind == Error::Kind::usage || error.kind == Error::Kind::config;
    };
    if (!std::all_of(errors.begin(), errors.end(), is_own_use)) {
        return 3;
    }
    if (!errors.empty()) {
        return 2;
    }
    return gate == Gate::failed ? 1 : 0;
}

void tell(std::ostream& err, const Error& error) {
    err << "sidelint: ";
    if (!error.place.empty()) {
        err << report::harmless(error.place) << ": ";
    }
    err << report::harmless(error.message) << '\n';
    if (!error.cure.empty()) {
        err << "  " << report::harmless(error.cure) << '\n';
    }
}

void tell(std::ostream& err, std::span<const Error> errors) {
    for (const Error& error : errors) {
        tell(err, error);
    }
}

Error usage_error(std::string message, std::string cure) {
    return {Error::Kind::usage, std::move(message), {}, std::move(cure)};
}

Error io_error(std::string place, std::string message, std::string cure) {
    return {Error::Kind::io, std::move(message), std::move(place), std::move(cure)};
}

} // namespace app
