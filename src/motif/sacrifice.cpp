#include "motif/detectors.hpp"
#include "motif/geometry.hpp"

#include <fmt/format.h>

namespace motif {
namespace {

using board::Role;
using board::Square;

/// The line pays the offer back: it mates, gains, or saves the game by stalemate.
bool paid_back(const Study& study, std::size_t ply) {
    const bool saved = study.last().is_stalemate();
    return saved || (study.wins() && study.sound(ply, study.balance(ply)));
}

/// Captured by the solver with `ply` and, on the square where the defender took, one move later.
int got_for(const Study& study, std::size_t ply) {
    const bool takes_back =
        study.has(ply + 2) && study.captured(ply + 2) && study.move(ply + 2).to() == study.move(ply + 1).to();
    return study.captured_worth(ply) + (takes_back ? study.captured_worth(ply + 2) : 0);
}

void report(const Study& study, std::size_t ply, std::string_view motif, std::string why, Found& found) {
    Evidence evidence;
    evidence.motif = motif;
    evidence.ply = ply;
    evidence.level = paid_back(study, ply) ? Level::functional : Level::seen;
    evidence.certainty = study.mate_forced(ply) ? solve::Certainty::proved : solve::Certainty::searched;
    evidence.targets = {study.has(ply + 1) ? study.move(ply + 1).to() : study.move(ply).to()};
    evidence.why = std::move(why);
    found.push_back(std::move(evidence));
}

/// Offered and not taken: with the queen where she can be captured at a loss of three or more.
bool declined(const Study& study, std::size_t ply) {
    const Square square = study.move(ply).to();
    const bool queen = study.at(ply + 1).pieces(study.us(), Role::queen).contains(square);
    const int loss = queen ? loss_on(study.at(ply + 1), square) : 0;
    return loss - study.captured_worth(ply) >= 3 && study.has(ply + 1) && study.move(ply + 1).to() != square;
}

} // namespace

void detect_queen_sacrifice(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply); ply += 2) {
        const bool taken = study.has(ply + 1) && study.captured(ply + 1) == Role::queen;
        const bool queen_back = study.has(ply + 2) && study.captured(ply + 2) == Role::queen;
        const int next = study.has(ply + 2) ? study.captured_worth(ply + 2) : 0;
        const int got = study.captured_worth(ply) + next;
        if (taken && !queen_back && board::value_of(Role::queen) - got >= 3) {
            report(study, ply, "queen-sacrifice",
                   fmt::format("the queen is given up on {}", board::name(study.move(ply + 1).to())), found);
        } else if (declined(study, ply)) {
            report(study, ply, "queen-sacrifice",
                   fmt::format("the queen is offered on {}", board::name(study.move(ply).to())), found);
        }
    }
}

void detect_exchange_sacrifice(const Study& study, Found& found) {
    const auto minor = [](std::optional<Role> role) { return role == Role::knight || role == Role::bishop; };
    for (std::size_t ply = study.first(); study.has(ply + 1); ply += 2) {
        if (study.captured(ply + 1) != Role::rook) {
            continue;
        }
        const bool rook_for_minor = study.mover(ply) == Role::rook && minor(study.captured(ply)) &&
                                    study.move(ply + 1).to() == study.move(ply).to();
        const bool minor_takes = minor(study.mover(ply + 1)) && study.has(ply + 2) &&
                                 minor(study.captured(ply + 2)) &&
                                 study.move(ply + 2).to() == study.move(ply + 1).to();
        const int given = board::value_of(Role::rook) - got_for(study, ply);
        if ((rook_for_minor || minor_takes) && given >= 1 && given <= 3) {
            report(
                study, ply, "exchange-sacrifice",
                fmt::format("a rook is given for a minor piece on {}", board::name(study.move(ply + 1).to())),
                found);
        }
    }
}

void detect_sham_sacrifice(const Study& study, Found& found) {
    for (std::size_t ply = study.first(); study.has(ply + 1); ply += 2) {
        const int next = study.has(ply + 2) ? study.captured_worth(ply + 2) : 0;
        const int given = study.captured_worth(ply + 1) - study.captured_worth(ply) - next;
        const Square square = study.move(ply + 1).to();
        if (given >= 2) {
            report(study, ply, "sham-sacrifice",
                   fmt::format("a {} is given up on {}", board::name(*study.captured(ply + 1)),
                               board::name(square)),
                   found);
        } else if (study.captured_worth(ply + 1) >
                   study.captured_worth(ply)) { // a pawn, or something at once retaken
            found.push_back({"sham-sacrifice",
                             ply,
                             Level::seen,
                             solve::Certainty::proved,
                             {square},
                             fmt::format("something is given up on {}", board::name(square))});
        }
    }
}

} // namespace motif
