#include "board/san.hpp"

#include <algorithm>

namespace board {

namespace {

constexpr std::size_t longest = 48; // bytes; no spelling of a move is longer

/// Cuts a move's text into its parts from left to right. Every part is optional; read() says which must be
/// there.
class SanReader {
  public:
    explicit SanReader(std::string_view text) : m_rest(text) {}

    std::optional<San> read() {
        if (m_rest.empty() || m_rest.size() > longest) {
            return std::nullopt;
        }
        if (!null_move() && !castling() && !man_and_squares()) {
            return std::nullopt;
        }
        signs();
        suffix();
        return m_rest.empty() ? std::optional(m_san) : std::nullopt;
    }

  private:
    bool take(std::string_view token) {
        if (m_rest.substr(0, token.size()) != token) {
            return false;
        }
        m_rest.remove_prefix(token.size());
        return true;
    }

    bool take_foreign(std::string_view token) {
        const bool taken = take(token);
        m_san.foreign |= taken;
        return taken;
    }

    /// A hyphen, or one of the dashes that word processors make of it.
    bool take_dash() {
        return take("-") || take_foreign("\xe2\x80\x90") || take_foreign("\xe2\x80\x91") ||
               take_foreign("\xe2\x80\x93") || take_foreign("\xe2\x80\x94") || take_foreign("\xe2\x88\x92");
    }

    std::optional<int> take_from(char first) {
        if (m_rest.empty() || m_rest[0] < first || m_rest[0] > first + 7) {
            return std::nullopt;
        }
        const int value = m_rest[0] - first;
        m_rest.remove_prefix(1);
        return value;
    }

    bool null_move() {
        m_san.null = take("--") || take("Z0");
        m_san.foreign |= m_san.null;
        return m_san.null;
    }

    bool castling() {
        const std::string_view start = m_rest;
        for (const std::string_view circle : {"O", "0", "o"}) {
            if (take(circle) && take_dash() && take(circle)) {
                const std::string_view short_end = m_rest;
                const bool foreign = m_san.foreign;
                m_san.castling = CastlingSide::king;
                if (take_dash() && take(circle)) {
                    m_san.castling = CastlingSide::queen;
                } else {
                    m_rest = short_end;
                    m_san.foreign = foreign;
                }
                m_san.role = Role::king;
                m_san.foreign |= circle != "O";
                return true;
            }
            m_rest = start;
            m_san.foreign = false;
        }
        return false;
    }

    std::optional<Role> take_letter() {
        if (m_rest.empty()) {
            return std::nullopt;
        }
        if (take_foreign("S")) {
            return Role::knight;
        }
        const std::optional<Piece> piece = read_piece(m_rest[0]);
        if (!piece || piece->color != Color::white) {
            return std::nullopt;
        }
        m_rest.remove_prefix(1);
        m_san.foreign |= piece->role == Role::pawn;
        return piece->role;
    }

    /// Unicode 1.1, U+2654 to U+265F: king, queen, rook, bishop, knight, pawn of White, then of Black.
    std::optional<Role> take_figurine() {
        constexpr std::array order{Role::king,   Role::queen,  Role::rook,
                                   Role::bishop, Role::knight, Role::pawn};
        if (m_rest.size() < 3 || m_rest.substr(0, 2) != "\xe2\x99") {
            return std::nullopt;
        }
        const int place = static_cast<unsigned char>(m_rest[2]) - 0x94;
        if (place < 0 || place > 11) {
            return std::nullopt;
        }
        m_rest.remove_prefix(3);
        take("\xef\xb8\x8e"); // the selector that asks for text instead of a picture
        m_san.foreign = true;
        return order[static_cast<std::size_t>(place % 6)];
    }

    std::optional<Role> take_role() {
        const std::optional<Role> figurine = take_figurine();
        return figurine ? figurine : take_letter();
    }

    bool take_capture() {
        return take("x") || take_foreign(":") || take_foreign("\xc3\x97") || take_foreign("X");
    }

    bool man_and_squares() {
        m_san.role = take_role().value_or(Role::pawn);
        const std::optional<int> first_file = take_from('a');
        const std::optional<int> first_rank = take_from('1');
        m_san.capture = take_capture();
        const bool dash = !m_san.capture && take_dash();
        const std::optional<int> file = take_from('a');
        const std::optional<int> rank = take_from('1');
        if (file && rank) {
            m_san.from_file = first_file;
            m_san.from_rank = first_rank;
            m_san.to = square_at(*file, *rank);
        } else if (first_file && first_rank && !file && !rank && !m_san.capture && !dash) {
            m_san.to = square_at(*first_file, *first_rank);
        } else {
            return false;
        }
        // Export SAN knows no dash, and of a pawn only the file, and that only with the capture sign.
        m_san.foreign |= dash;
        if (m_san.role == Role::pawn) {
            m_san.foreign |= m_san.from_rank.has_value() || m_san.from_file.has_value() != m_san.capture;
            return promotion();
        }
        return true;
    }

    bool promotion() {
        const bool bracket = take_foreign("(");
        const bool sign = take("=") || take_foreign("/");
        m_san.promotion = take_role();
        if (!m_san.promotion && !m_rest.empty() &&
            std::string_view("qrbn").find(m_rest[0]) != std::string_view::npos) {
            m_san.promotion = read_piece(m_rest[0])->role;
            m_san.foreign = true;
            m_rest.remove_prefix(1);
        }
        if (!m_san.promotion) {
            return !sign && !bracket;
        }
        m_san.foreign |= !sign;
        return !bracket || take(")");
    }

    void signs() {
        const std::string_view before = m_rest;
        while (take(" ")) {
        }
        if (m_san.role != Role::pawn ||
            !(take_foreign("e.p.") || take_foreign("ep") || take_foreign("(e.p.)") || take_foreign("(ep)") ||
              take_foreign("e.p"))) {
            m_rest = before;
        }
        if (take_foreign("++") || take("+") || take_foreign("\xe2\x80\xa0")) {
            m_san.check = true;
        } else if (take("#") || take_foreign("\xe2\x80\xa1")) {
            m_san.mate = true;
        }
    }

    void suffix() {
        const std::size_t length = std::min(m_rest.find_first_not_of("!?"), m_rest.size());
        m_san.suffix = m_rest.substr(0, length);
        m_san.foreign |= length > 2;
        m_rest.remove_prefix(length);
    }

    std::string_view m_rest;
    San m_san;
};

} // namespace

std::optional<San> read_san(std::string_view text) {
    return SanReader(text).read();
}

} // namespace board
