// Pawns and promotions together (W4): each file started with a white and a black pawn that faced each other,
// and a pawn that is past its opposite number cost captures. Is there any share-out of fates that the lost
// men pay for?

#include "setup/conditions.hpp"
#include "setup/diagram.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cstdlib>
#include <span>
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

/// What one side has left to spend, a byte each; what has been overdrawn sets the byte's highest bit.
using Purse = std::uint64_t;
enum Coin : unsigned {
    by_pawns,  ///< captures by pawns
    captures,  ///< by pawns, or of pawns; one of a pawn by a pawn counts once
    taken,     ///< pawns that were taken, so that enough are left to promote
    not_light, ///< pawns that did not promote on a light square
    not_dark,
    absent, ///< pawns that are no longer there
};
constexpr Purse coins(Coin coin, int count) {
    return static_cast<Purse>(static_cast<std::uint8_t>(count)) << (8 * coin);
}
constexpr int left_of(Purse purse, Coin coin) {
    return static_cast<std::int8_t>(purse >> (8 * coin));
}
constexpr bool overdrawn(Purse purse) {
    return (purse & 0x8080808080808080) != 0;
}

/// One way in which the pawn from a given home file may have ended.
struct Ending {
    Fate fate;
    Way way;
    bool stayed;       ///< made no capture
    std::uint8_t pawn; ///< a present pawn's bit, else 0
    Square square;     ///< of a present pawn
    Purse cost;

    /// Taken on its home file, so by a pawn only from a file beside it.
    [[nodiscard]] bool taken_at_home() const { return fate == Fate::taken && stayed; }
    [[nodiscard]] bool single_capture() const { return way == Way::left || way == Way::right; }
};

/// What one side has to account for.
struct Account {
    Color color;
    Bitboard pawns;
    int captures; ///< men of the other side that are missing and that a pawn may have taken
    int promoted; ///< at least so many promotions
    int light;    ///< of them, bishops that promoted on a light square
    int dark;

    [[nodiscard]] int absent() const { return 8 - pawns.count(); }
    [[nodiscard]] Purse purse() const {
        return coins(Coin::by_pawns, captures) | coins(Coin::captures, captures) |
               coins(Coin::taken, absent() - promoted) | coins(Coin::not_light, absent() - light) |
               coins(Coin::not_dark, absent() - dark) | coins(Coin::absent, absent());
    }
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
            diagram.pieces(color, Role::pawn),
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

/// How the pawn of one home file can have ended, the likelier endings first.
class Endings {
  public:
    static constexpr std::size_t most = 32; ///< two for each present pawn, and eight more

    void list(const Account& account, int file) {
        present(account, file, true);
        const bool own_is_light = (file % 2 == 0) == (account.color == Color::white); // a8 is light, a1 dark
        const auto promoted = [&](Way way, int captures) {
            const bool light = own_is_light == (captures % 2 == 0);
            add({Fate::promoted,
                 way,
                 captures == 0,
                 0,
                 {},
                 coins(Coin::by_pawns, captures) | coins(Coin::absent, 1) |
                     coins(light ? Coin::not_dark : Coin::not_light, 1)});
        };
        const auto taken = [&](Way way, int captures) {
            add({Fate::taken,
                 way,
                 captures == 0,
                 0,
                 {},
                 coins(Coin::by_pawns, captures) | coins(Coin::taken, 1) | coins(Coin::not_light, 1) |
                     coins(Coin::not_dark, 1) | coins(Coin::absent, 1)});
        };
        // One capture parts it from the pawn it faced; a second one brings back the colour of its last
        // square.
        promoted(Way::straight, 0);
        if (file != 7) {
            promoted(Way::right, 1);
        }
        taken(Way::straight, 0);
        if (file != 0) {
            promoted(Way::left, 1);
        }
        m_usual = m_count;
        present(account, file, false);
        if (file != 0) {
            taken(Way::left, 1);
        }
        if (file != 7) {
            taken(Way::right, 1);
        }
        promoted(Way::winding, 2);
        promoted(Way::winding, 3);
        taken(Way::winding, 2);
    }

    [[nodiscard]] bool listed() const { return m_count > 0; }
    [[nodiscard]] std::span<const Ending> some(bool usual) const {
        return {m_list.data(), usual ? m_usual : m_count};
    }

  private:
    void add(const Ending& ending) { m_list[m_count++] = ending; }

    void present(const Account& account, int file, bool near) {
        std::uint8_t bit = 1;
        for (const Square pawn : account.pawns) {
            const int steps = relative_rank(account.color, pawn) - 1;
            const int by = file_of(pawn) - file;
            const int captures = std::abs(by);
            const Way way = by == 0    ? Way::straight
                            : by == 1  ? Way::right
                            : by == -1 ? Way::left
                                       : Way::winding;
            if (captures <= steps && (captures < 2) == near) {
                add({Fate::present, way, captures == 0, bit, pawn, coins(Coin::by_pawns, captures)});
            }
            if (captures < 2 && captures + 2 <= steps && !near) { // there and back
                add({Fate::present, Way::winding, false, bit, pawn, coins(Coin::by_pawns, captures + 2)});
            }
            bit = static_cast<std::uint8_t>(bit << 1U);
        }
    }

    std::array<Ending, most> m_list; // NOLINT(*-member-init): only the first m_count are read
    std::size_t m_count = 0;
    std::size_t m_usual = 0;
};

/// How far one side's share-out has got.
struct Progress {
    Purse left;
    std::uint8_t used = 0; ///< present pawns that have a home file
    bool victim = false;   ///< an enemy pawn was taken on the last file, not yet said by whom
    bool capturer = false; ///< a pawn captured from the last file on the next one
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
    ShareOut(const Account& white, const Account& black, unsigned facing, int nodes)
        : m_accounts{white, black}, m_facing(facing), m_most_nodes(nodes) {}

    /// False only when every share-out was tried and there were nodes enough for it.
    bool exists() {
        const Progress white{m_accounts[0].purse()};
        const Progress black{m_accounts[1].purse()};
        if (overdrawn(white.left) || overdrawn(black.left)) {
            return false;
        }
        // Mostly the usual endings will do, and they are soon tried.
        if (share_out(white, black, std::min(usual_nodes, m_most_nodes), true) && m_nodes >= 0) {
            return true;
        }
        return share_out(white, black, m_most_nodes, false);
    }

  private:
    using Both = const Progress&;
    static constexpr int usual_nodes = 1000;

    bool share_out(Both white, Both black, int nodes, bool usual) {
        m_usual = usual;
        m_nodes = nodes;
        m_hopeless.clear();
        find_overdue();
        return can_still_do(0, white, black) && from_file(0, white, black);
    }

    void find_overdue() {
        m_overdue = {};
        for (std::size_t side = 0; side < 2; ++side) {
            std::uint8_t bit = 1;
            for (const Square pawn : m_accounts[side].pawns) {
                const int steps = relative_rank(m_accounts[side].color, pawn) - 1;
                for (int file = file_of(pawn) + (m_usual ? std::min(1, steps) : steps) + 1; file <= 8;
                     ++file) {
                    m_overdue[side][static_cast<std::size_t>(file)] |= bit;
                }
                bit = static_cast<std::uint8_t>(bit << 1U);
            }
        }
    }

    bool from_file(int file, Both white, Both black) {
        if (--m_nodes < 0 || file == 8) {
            return true;
        }
        const State state = state_of(file, white, black);
        if (m_hopeless.contains(state)) {
            return false;
        }
        const auto for_white = endings(0, file);
        const auto for_black = endings(1, file);
        for (const Ending& w : for_white) {
            if ((white.used & w.pawn) != 0 || overdrawn(white.left - w.cost)) {
                continue;
            }
            for (const Ending& b : for_black) {
                if ((black.used & b.pawn) != 0 || overdrawn(black.left - b.cost) || !agree(file, w, b)) {
                    continue;
                }
                const Progress then_white = after(white, w, b);
                const Progress then_black = after(black, b, w);
                if (can_still_do(file + 1, then_white, then_black) &&
                    from_file(file + 1, then_white, then_black)) {
                    return true;
                }
            }
        }
        m_hopeless.insert(state);
        return false;
    }

    [[nodiscard]] std::span<const Ending> endings(std::size_t side, int file) {
        Endings& all = m_endings[side][static_cast<std::size_t>(file)];
        if (!all.listed()) {
            all.list(m_accounts[side], file);
        }
        return all.some(m_usual);
    }

    /// Files from here on that one side can leave to pawns that were taken, once its own needs are met;
    /// negative when it cannot meet them.
    [[nodiscard]] static int spare_files(Purse left) {
        const int files = left_of(left, Coin::absent);
        const int light = std::max(0, files - left_of(left, Coin::not_light));
        const int dark = std::max(0, files - left_of(left, Coin::not_dark));
        return std::min(files - light - dark, left_of(left, Coin::taken));
    }

    /// Enough files left for pawns and promotions, and enough captures: on every file whose pawns do not face
    /// each other to this day, one of the two has captured or was taken.
    [[nodiscard]] bool can_still_do(int file, Both white, Both black) const {
        const auto late = [&](std::size_t side, Both progress) {
            return (m_overdue[side][static_cast<std::size_t>(file)] & ~progress.used) != 0;
        };
        if (overdrawn(white.left) || overdrawn(black.left) || late(0, white) || late(1, black)) {
            return false;
        }
        const int white_spare = spare_files(white.left);
        const int black_spare = spare_files(black.left);
        const int parted = 8 - file - Bitboard(m_facing >> file).count();
        return white_spare >= 0 && black_spare >= 0 &&
               parted <= can_part(white, black_spare) + can_part(black, white_spare);
    }

    /// On so many files, at most, can this side part the pawns: by one capture of its own pawn there, by two
    /// or more that are no single ones, or by taking the enemy's. A victim or a capturer from the last file
    /// may save a capture.
    [[nodiscard]] static int can_part(Both side, int enemy_spare) {
        const int by_pawns = left_of(side.left, Coin::by_pawns);
        const int captures = left_of(side.left, Coin::captures);
        const int single = std::min(by_pawns, captures + (side.victim ? 1 : 0));
        return single + (by_pawns - single) / 2 + std::min(enemy_spare, captures + (side.capturer ? 1 : 0));
    }

    /// Whether the two pawns that faced each other on this file can have ended like that.
    [[nodiscard]] static bool agree(int file, const Ending& white, const Ending& black) {
        if (!white.stayed || !black.stayed || white.fate == Fate::taken || black.fate == Fate::taken) {
            return true;
        }
        if (white.fate == Fate::promoted || black.fate == Fate::promoted) {
            return false;
        }
        return file_of(black.square) == file && rank_of(white.square) < rank_of(black.square);
    }

    /// `own` and `enemy` are the endings on one file. A pawn that made one capture and an enemy pawn that was
    /// taken at home may be one event when their files are neighbours; what winds is charged as cheaply as
    /// can be.
    [[nodiscard]] static Progress after(Progress progress, const Ending& own, const Ending& enemy) {
        const bool took_last = own.way == Way::left && progress.victim;
        progress.victim = enemy.taken_at_home() && !progress.capturer;
        progress.capturer = own.way == Way::right;
        progress.used |= own.pawn;
        progress.left -= own.cost + coins(Coin::captures, (own.single_capture() && !took_last ? 1 : 0) +
                                                              (progress.victim ? 1 : 0));
        return progress;
    }

    /// All that the rest hangs on. What is left in plenty makes no difference.
    using State = std::array<std::uint64_t, 2>;
    [[nodiscard]] static State state_of(int file, Both white, Both black) {
        const auto bits = [&](Both side) {
            std::uint64_t key = side.used;
            for (const Coin coin : {Coin::by_pawns, Coin::captures}) {
                key = key << 5 | static_cast<std::uint64_t>(left_of(side.left, coin));
            }
            const int files = left_of(side.left, Coin::absent);
            for (const Coin coin : {Coin::taken, Coin::not_light, Coin::not_dark}) {
                key = key << 4 | static_cast<std::uint64_t>(std::min(files, left_of(side.left, coin)));
            }
            return key << 2 | (side.victim ? 2U : 0U) | (side.capturer ? 1U : 0U);
        };
        return {bits(white) << 4 | static_cast<std::uint64_t>(file), bits(black)};
    }
    struct HashOf {
        std::size_t operator()(const State& state) const {
            return static_cast<std::size_t>((state[0] * 0x9e3779b97f4a7c15 ^ state[1]) * 0xff51afd7ed558ccd);
        }
    };

    std::array<Account, 2> m_accounts;
    unsigned m_facing; ///< files, bit 0 is the a-file
    std::array<std::array<Endings, 8>, 2> m_endings;
    /// By side and file: present pawns that no home file from there on can have sent.
    std::array<std::array<std::uint8_t, 9>, 2> m_overdue{};
    std::unordered_set<State, HashOf> m_hopeless; ///< only asked, never listed
    int m_most_nodes;
    int m_nodes = 0;     ///< left
    bool m_usual = true; ///< only these endings
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

Finding promotions_past_pawns(const Setup& diagram, int nodes) {
    const Account white = account_of(diagram, Color::white);
    const Account black = account_of(diagram, Color::black);
    if (white.promoted + black.promoted == 0 ||
        ShareOut(white, black, facing_files(diagram), nodes).exists()) {
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
                    promoted_text(diagram, Color::white, white.promoted),
                    promoted_text(diagram, Color::black, black.promoted),
                    16 - diagram.pieces(Color::black).count(), 16 - diagram.pieces(Color::white).count(),
                    where),
        to_squares(pawns | promoted_among(diagram, Color::white) | promoted_among(diagram, Color::black)),
        {}};
}

} // namespace setup
