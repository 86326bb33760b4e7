// Pawns and promotions together (W4): each file started with a white and a black pawn that faced each other,
// and a pawn that is past its opposite number cost captures. Is there any share-out of fates that the lost
// men pay for?

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <unordered_set>

namespace setup {

using board::Bitboard;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

/// Past this the answer is "not shown illegal".
constexpr int most_nodes = 5000;

enum class Fate : std::uint8_t { taken, promoted, present };

/// One way in which the pawn from a given home file may have ended.
struct Ending {
    Fate fate;
    std::uint8_t captures;
    std::uint8_t pawn; ///< index of a present pawn, else unused
    bool light;        ///< colour of the promotion square
};

/// What one side has to account for.
struct Account {
    Color color;
    std::vector<Square> pawns;
    int captures; ///< men of the other side that are missing
    int promoted; ///< at least so many promotions
    int light;    ///< of them, bishops that promoted on a light square
    int dark;
};

Account account_of(const Setup& diagram, Color color) {
    const Bitboard bishops = diagram.pieces(color, Role::bishop);
    return {color,
            to_squares(diagram.pieces(color, Role::pawn)),
            16 - diagram.pieces(!color).count(),
            promotions_shown(diagram, color),
            std::max(0, (bishops & board::light_squares).count() - 1),
            std::max(0, (bishops & board::dark_squares).count() - 1)};
}

/// How far one side's share-out has got.
struct Progress {
    unsigned used = 0; ///< present pawns that have a home file
    int spent = 0;     ///< captures
    int light = 0;     ///< promotions by colour of square
    int dark = 0;

    [[nodiscard]] std::uint64_t key() const {
        return (((std::uint64_t{used} << 4 | static_cast<unsigned>(spent)) << 4 |
                 static_cast<unsigned>(light))
                << 4) |
               static_cast<unsigned>(dark);
    }
};

class ShareOut {
  public:
    explicit ShareOut(const Setup& diagram)
        : m_accounts{account_of(diagram, Color::white), account_of(diagram, Color::black)} {}

    /// False only when every share-out was tried.
    bool exists() { return from_file(0, {}, {}); }

  private:
    using Both = const Progress&;

    bool from_file(int file, Both white, Both black) {
        if (++m_nodes > most_nodes) {
            return true;
        }
        if (!can_still_do(0, white, file) || !can_still_do(1, black, file)) {
            return false;
        }
        if (file == 8) {
            return true;
        }
        const std::uint64_t key = (white.key() << 20 | black.key()) << 4 | static_cast<unsigned>(file);
        if (m_hopeless.contains(key)) {
            return false;
        }
        const std::vector<Ending> for_white = endings(0, file, white);
        const std::vector<Ending> for_black = endings(1, file, black);
        for (const Ending& w : for_white) {
            for (const Ending& b : for_black) {
                if (agree(file, w, b) && from_file(file + 1, after(white, w), after(black, b))) {
                    return true;
                }
            }
        }
        m_hopeless.insert(key);
        return false;
    }

    /// Enough files left for the pawns and promotions that are still to be placed, and captures to pay with.
    [[nodiscard]] bool can_still_do(std::size_t side, Both progress, int file) const {
        const Account& account = m_accounts[side];
        const int pawns = static_cast<int>(account.pawns.size()) - std::popcount(progress.used);
        const int light = std::max(0, account.light - progress.light);
        const int dark = std::max(0, account.dark - progress.dark);
        const int more = std::max(light + dark, account.promoted - progress.light - progress.dark);
        return progress.spent <= account.captures && pawns + more <= 8 - file;
    }

    [[nodiscard]] std::vector<Ending> endings(std::size_t side, int file, Both progress) const {
        const Account& account = m_accounts[side];
        const int left = account.captures - progress.spent;
        std::vector<Ending> list;
        list.reserve(account.pawns.size() + 4);
        for (std::size_t i = 0; i < account.pawns.size(); ++i) {
            const int steps = relative_rank(account.color, account.pawns[i]) - 1;
            const int files = std::abs(file_of(account.pawns[i]) - file);
            if (((progress.used >> i) & 1U) != 0 || files > std::min(steps, left)) {
                continue;
            }
            const auto index = static_cast<std::uint8_t>(i);
            list.push_back({Fate::present, static_cast<std::uint8_t>(files), index, false});
            if (files == 0 && std::min(steps, left) >= 2) {
                list.push_back({Fate::present, 2, index, false}); // left the file and came back
            }
        }
        list.push_back({Fate::taken, 0, 0, false});
        for (int captures = 0; captures <= std::min(1, left); ++captures) {
            // a8 is light and a1 is dark, and every capture changes the file by one.
            const bool even = (file + captures) % 2 == 0;
            list.push_back({Fate::promoted, static_cast<std::uint8_t>(captures), 0,
                            even == (account.color == Color::white)});
        }
        return list;
    }

    /// Whether the two pawns that faced each other on this file can have ended like that.
    [[nodiscard]] bool agree(int file, const Ending& white, const Ending& black) const {
        if (white.captures + black.captures > 0 || white.fate == Fate::taken || black.fate == Fate::taken) {
            return true;
        }
        if (white.fate == Fate::promoted || black.fate == Fate::promoted) {
            return false;
        }
        const Square upper = m_accounts[1].pawns[black.pawn];
        return file_of(upper) == file && rank_of(m_accounts[0].pawns[white.pawn]) < rank_of(upper);
    }

    static Progress after(Progress progress, const Ending& ending) {
        progress.spent += ending.captures;
        progress.used |= ending.fate == Fate::present ? 1U << ending.pawn : 0U;
        progress.light += ending.fate == Fate::promoted && ending.light ? 1 : 0;
        progress.dark += ending.fate == Fate::promoted && !ending.light ? 1 : 0;
        return progress;
    }

    std::array<Account, 2> m_accounts;
    std::unordered_set<std::uint64_t> m_hopeless; ///< only asked, never listed
    int m_nodes = 0;
};

} // namespace

Finding promotions_past_pawns(const Setup& diagram) {
    const int white = promotions_shown(diagram, Color::white);
    const int black = promotions_shown(diagram, Color::black);
    if (white + black == 0 || ShareOut(diagram).exists()) {
        return std::nullopt;
    }
    const Bitboard pawns = diagram.by_role[index(Role::pawn)];
    return Contradiction{
        Rule::unreachable,
        "W4",
        Grade::illegal,
        fmt::format(
            "at least {} of White's men and {} of Black's are promoted, but with {} black and {} white men "
            "missing the pawns cannot have passed each other so often{}",
            white, black, 16 - diagram.pieces(Color::black).count(),
            16 - diagram.pieces(Color::white).count(), pawns.any() ? " and stand where they do" : ""),
        to_squares(pawns),
        {}};
}

} // namespace setup
