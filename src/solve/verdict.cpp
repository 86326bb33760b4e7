#include "solve/verdict.hpp"

namespace solve {

std::string_view name(Certainty certainty) {
    switch (certainty) {
    case Certainty::proved:
        return "proved";
    case Certainty::searched:
        return "searched";
    case Certainty::open:
        break;
    }
    return "open";
}

std::string_view name(Effort effort) {
    switch (effort) {
    case Effort::draft:
        return "draft";
    case Effort::review:
        return "review";
    case Effort::press:
        break;
    }
    return "press";
}

std::optional<Effort> read_effort(std::string_view text) {
    for (const Effort effort : {Effort::draft, Effort::review, Effort::press}) {
        if (text == name(effort)) {
            return effort;
        }
    }
    return std::nullopt;
}

Budget budget_of(Effort effort) {
    switch (effort) {
    case Effort::draft:
        return {.mate = 30'000,
                .value = 20'000,
                .question = 4'000,
                .puzzle = 300'000,
                .mate_moves = 3,
                .table_men = 5,
                .depth = 5};
    case Effort::review:
        return {.mate = 300'000,
                .value = 250'000,
                .question = 40'000,
                .puzzle = 4'500'000,
                .mate_moves = 4,
                .table_men = 7,
                .depth = 7};
    case Effort::press:
        break;
    }
    return {.mate = 20'000'000,
            .value = 4'000'000,
            .question = 600'000,
            .puzzle = 60'000'000,
            .mate_moves = 5,
            .table_men = 8,
            .depth = 9};
}

} // namespace solve
