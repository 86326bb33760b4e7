// Pawns and promotions together (W4): each file started with a white and a black pawn that faced each other,
// and a pawn that is past its opposite number cost captures. Is there any share-out of fates that the lost
// men pay for?

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cstdlib>
#include <unordered_set>

namespace setup {

using board::Bitboard;
using board::Color;
using board::Role;
using board::Setup;
using board::Square;

namespace {

enum class Fate : std::uint8_t { taken, promoted, present };
/// Where a pawn's captures led: by one to the next file, or by several to who knows which.
enum class Way : std::uint8_t { straight, left, right, winding };

/// One way in which the pawn from a given home file may have ended.
struct Ending {
    Fate fate;
    Way way = Way::straight;
    int captures = 0;
    int pawn = 0;       ///< index of a present pawn, else unused
    bool light = false; ///< colour of the promotion square

    /// Taken on its home file, so by a pawn only from a file beside it.
    [[nodiscard]] bool taken_at_home() const { return fate == Fate::taken && captures == 0; }
};

/// What one side has to account for.
struct Account {
    Color color;
    std::vector<Square> pawns;
    int captures; ///< men of the other side that are missing and that a pawn may have taken
    int promoted; ///< at least so many promotions
    int light;    ///< of them, bishops that promoted on a light square
    int dark;
};

Account account_of(const Setup& diagram, Color color) {
    const Bitboard lost = bishops_lost_at_home(diagram, color);
    const Bitboard beyond_pawns = bishops_lost_at_home(diagram, !color);
    int promoted = promotions_shown(diagram, color);
    // An original bishop keeps its colour of square; one that died at home is none of those on the board.
    const auto promoted_on = [&](Bitboard shade) {
        const Bitboard bishops = diagram.pieces(color, Role::bishop) & shade;
        const bool original_lost = (lost & shade).any();
        promoted += original_lost && bishops.any() ? 1 : 0;
        return std::max(0, bishops.count() - (original_lost ? 0 : 1));
    };
    const int light = promoted_on(board::light_squares);
    const int dark = promoted_on(board::dark_squares);
    return {color,
            to_squares(diagram.pieces(color, Role::pawn)),
            16 - diagram.pieces(!color).count() - beyond_pawns.count(),
            promoted,
            light,
            dark};
}

/// The men of which some must be promoted.
Bitboard promoted_among(const Setup& diagram, Color color) {
    Bitboard men = swollen_groups(diagram, color);
    for (const Square home : bishops_lost_at_home(diagram, color)) {
        men |= diagram.pieces(color, Role::bishop) &
               (board::light_squares.contains(home) ? board::light_squares : board::dark_squares);
    }
    return men;
}

/// How far one side's share-out has got. Promotions beyond what is asked for are not counted: they make no
/// difference.
struct Progress {
    unsigned used = 0; ///< present pawns that have a home file
    int by_pawns = 0;  ///< captures
    int captures = 0;  ///< by pawns, or of pawns; one of a pawn by a pawn counts once
    int promoted = 0;
    int light = 0; ///< promotions by colour of square
    int dark = 0;
    bool victim = false;   ///< an enemy pawn was taken on the last file, not yet said by whom
    bool capturer = false; ///< a pawn captured from the last file on the next one

    [[nodiscard]] std::uint64_t key() const {
        std::uint64_t bits = used;
        for (const int part : {by_pawns, captures, promoted, light, dark}) {
            bits = bits << 4 | static_cast<unsigned>(part);
        }
        return bits << 2 | (victim ? 2U : 0U) | (capturer ? 1U : 0U);
    }
};

/// Files on which a white and a black pawn may have faced each other from the first move to now. When any
/// pawn has stayed on its file, the hindmost there may as well be the one.
unsigned facing_files(const Setup& diagram) {
    unsigned facing = 0;
    for (int file = 0; file < 8; ++file) {
        const Bitboard white = diagram.pieces(Color::white, Role::pawn) & board::file_bits(file);
        const Bitboard black = diagram.pieces(Color::black, Role::pawn) & board::file_bits(file);
        if (white.any() && black.any() && index(white.first()) < 63 - std::countl_zero(black.bits())) {
            facing |= 1U << file;
        }
    }
    return facing;
}

class ShareOut {
  public:
    ShareOut(const Setup& diagram, int most_nodes)
        : m_accounts{account_of(diagram, Color::white), account_of(diagram, Color::black)},
          m_facing(facing_files(diagram)), m_nodes(most_nodes) {}

    [[nodiscard]] int promoted(Color color) const { return m_accounts[index(color)].promoted; }

    /// False only when every share-out was tried and there were nodes enough for it.
    bool exists() { return from_file(0, {}, {}); }

  private:
    using Both = const Progress&;

    bool from_file(int file, Both white, Both black) {
        if (--m_nodes < 0) {
            return true;
        }
        if (!can_still_do(file, white, black)) {
            return false;
        }
        if (file == 8) {
            return true;
        }
        // 30 bits a side and 4 of the file leave no room for mistaking one state for another.
        const std::uint64_t key = (white.key() << 30 | black.key()) << 4 | static_cast<unsigned>(file);
        if (m_hopeless.contains(key)) {
            return false;
        }
        const std::vector<Ending> for_white = endings(0, file, white);
        const std::vector<Ending> for_black = endings(1, file, black);
        for (const Ending& w : for_white) {
            for (const Ending& b : for_black) {
                if (agree(file, w, b) && from_file(file + 1, after(0, white, w, b), after(1, black, b, w))) {
                    return true;
                }
            }
        }
        m_hopeless.insert(key);
        return false;
    }

    /// Files from here on that one side can leave to pawns that were taken, once its own needs are met;
    /// negative when it cannot meet them.
    [[nodiscard]] int spare_files(std::size_t side, Both progress, int file) const {
        const Account& account = m_accounts[side];
        const int pawns = static_cast<int>(account.pawns.size()) - std::popcount(progress.used);
        const int more = std::max(account.light - progress.light + account.dark - progress.dark,
                                  account.promoted - progress.promoted);
        const bool paid = std::max(progress.by_pawns, progress.captures) <= account.captures;
        return paid ? 8 - file - pawns - more : -1;
    }

    /// Enough files left for pawns and promotions, and enough captures: on every file whose pawns do not face
    /// each other to this day, one of the two has captured or was taken.
    [[nodiscard]] bool can_still_do(int file, Both white, Both black) const {
        const int white_spare = spare_files(0, white, file);
        const int black_spare = spare_files(1, black, file);
        const int parted = 8 - file - std::popcount(m_facing >> file);
        const int left = m_accounts[0].captures - white.by_pawns + m_accounts[1].captures - black.by_pawns;
        return white_spare >= 0 && black_spare >= 0 && parted <= left + white_spare + black_spare;
    }

    [[nodiscard]] std::vector<Ending> endings(std::size_t side, int file, Both progress) const {
        const Account& account = m_accounts[side];
        const int left = account.captures - progress.by_pawns;
        std::vector<Ending> list;
        list.reserve(account.pawns.size() + 8);
        add_present(list, account, file, left, progress.used);
        list.push_back({Fate::taken});
        const bool own_color_is_light =
            (file % 2 == 0) == (account.color == Color::white); // a8 is light, a1 dark
        list.push_back({Fate::promoted, Way::straight, 0, 0, own_color_is_light});
        // One capture parts it from the pawn it faced; a second one brings back the colour of its last
        // square.
        for (const Way way : {Way::left, Way::right}) {
            if (left >= 1 && file != (way == Way::left ? 0 : 7)) {
                list.push_back({Fate::promoted, way, 1, 0, !own_color_is_light});
                list.push_back({Fate::taken, way, 1});
            }
        }
        for (int captures = 2; captures <= std::min(3, left); ++captures) {
            list.push_back(
                {Fate::promoted, Way::winding, captures, 0, own_color_is_light == (captures == 2)});
        }
        if (left >= 2) {
            list.push_back({Fate::taken, Way::winding, 2});
        }
        return list;
    }

    static void add_present(std::vector<Ending>& list, const Account& account, int file, int left,
                            unsigned used) {
        for (std::size_t i = 0; i < account.pawns.size(); ++i) {
            const int steps = relative_rank(account.color, account.pawns[i]) - 1;
            const int by = file_of(account.pawns[i]) - file;
            const int captures = std::abs(by);
            if (((used >> i) & 1U) != 0 || captures > std::min(steps, left)) {
                continue;
            }
            const Way way = by == 0    ? Way::straight
                            : by == 1  ? Way::right
                            : by == -1 ? Way::left
                                       : Way::winding;
            list.push_back({Fate::present, way, captures, static_cast<int>(i)});
            if (way != Way::winding && captures + 2 <= std::min(steps, left)) {
                list.push_back(
                    {Fate::present, Way::winding, captures + 2, static_cast<int>(i)}); // there and back
            }
        }
    }

    /// Whether the two pawns that faced each other on this file can have ended like that.
    [[nodiscard]] bool agree(int file, const Ending& white, const Ending& black) const {
        if (white.captures + black.captures > 0 || white.fate == Fate::taken || black.fate == Fate::taken) {
            return true;
        }
        if (white.fate == Fate::promoted || black.fate == Fate::promoted) {
            return false;
        }
        const Square upper = m_accounts[1].pawns[static_cast<std::size_t>(black.pawn)];
        const Square lower = m_accounts[0].pawns[static_cast<std::size_t>(white.pawn)];
        return file_of(upper) == file && rank_of(lower) < rank_of(upper);
    }

    /// `own` and `enemy` are the endings on one file. A pawn that made one capture and an enemy pawn that was
    /// taken at home may be one event when their files are neighbours; what winds is charged as cheaply as
    /// can be.
    [[nodiscard]] Progress after(std::size_t side, Progress progress, const Ending& own,
                                 const Ending& enemy) const {
        const Account& account = m_accounts[side];
        progress.by_pawns += own.captures;
        const bool took_last = own.way == Way::left && progress.victim;
        progress.captures += own.captures == 1 && !took_last ? 1 : 0;
        const bool taken_from_last = enemy.taken_at_home() && progress.capturer;
        progress.victim = enemy.taken_at_home() && !taken_from_last;
        progress.captures += progress.victim ? 1 : 0;
        progress.capturer = own.way == Way::right;
        progress.used |= own.fate == Fate::present ? 1U << own.pawn : 0U;
        if (own.fate == Fate::promoted) {
            int& shade = own.light ? progress.light : progress.dark;
            shade = std::min(shade + 1, own.light ? account.light : account.dark);
            progress.promoted = std::min(progress.promoted + 1, account.promoted);
        }
        return progress;
    }

    std::array<Account, 2> m_accounts;
    unsigned m_facing;                            ///< files, bit 0 is the a-file
    std::unordered_set<std::uint64_t> m_hopeless; ///< only asked, never listed
    int m_nodes;                                  ///< left
};

/// "of White's bishops on e4 and g2 at least 1 must be promoted, "; nothing when none must.
std::string promoted_text(const Setup& diagram, Color color, int least) {
    if (least == 0) {
        return {};
    }
    const Bitboard lost = bishops_lost_at_home(diagram, color);
    return fmt::format("of {}'s {} at least {} must be promoted{}, ", side_name(color),
                       men_text(diagram, promoted_among(diagram, color)), least,
                       lost.any() ? fmt::format(" (no bishop ever left {})", squares_text(lost)) : "");
}

} // namespace

Finding promotions_past_pawns(const Setup& diagram, int most_nodes) {
    ShareOut share_out(diagram, most_nodes);
    const int white = share_out.promoted(Color::white);
    const int black = share_out.promoted(Color::black);
    if (white + black == 0 || share_out.exists()) {
        return std::nullopt;
    }
    const Bitboard pawns = diagram.by_role[index(Role::pawn)];
    constexpr int few = 6; // more are seen at a glance, and marked
    const std::string where =
        pawns.empty() ? std::string()
                      : fmt::format(", with the {} where they stand",
                                    pawns.count() <= few ? men_text(diagram, pawns) : std::string("pawns"));
    return Contradiction{
        Rule::unreachable,
        "W4",
        Grade::illegal,
        fmt::format("{}{}but with {} black and {} white men missing the pawns cannot have passed each other "
                    "so often{}",
                    promoted_text(diagram, Color::white, white), promoted_text(diagram, Color::black, black),
                    16 - diagram.pieces(Color::black).count(), 16 - diagram.pieces(Color::white).count(),
                    where),
        to_squares(pawns | promoted_among(diagram, Color::white) | promoted_among(diagram, Color::black)),
        {}};
}

} // namespace setup
