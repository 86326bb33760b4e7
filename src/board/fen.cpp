#include "board/fen.hpp"

#include <algorithm>

namespace board {

namespace {

constexpr int highest_counter = 65535;
constexpr std::array<std::string_view, 6> field_names{"piece placement",       "side to move",
                                                      "castling availability", "en-passant square",
                                                      "halfmove clock",        "fullmove number"};

struct Field {
    std::size_t begin = 0;
    std::string_view text;
    [[nodiscard]] std::size_t end() const { return begin + text.size(); }
};

/// From the first to the last of several places.
struct Span {
    std::size_t begin = 0;
    std::size_t end = 0;
    [[nodiscard]] bool any() const { return end > 0; }
    void add(std::size_t place, std::size_t length) {
        begin = any() ? begin : place;
        end = place + length;
    }
};

bool is_blank(char c) {
    return c == ' ' || (c >= '\t' && c <= '\r');
}

/// The place of the next blank (or of the next other byte), at the latest the end.
std::size_t next(std::string_view text, std::size_t at, bool blank) {
    while (at < text.size() && is_blank(text[at]) != blank) {
        ++at;
    }
    return at;
}

bool is_dash(std::string_view text) {
    return text == "-";
}

/// Hyphen, dashes and minus sign of Unicode, which word processors put in place of "-".
bool is_foreign_dash(std::string_view text) {
    constexpr std::array<std::string_view, 5> dashes{"\xe2\x80\x90", "\xe2\x80\x91", "\xe2\x80\x93",
                                                     "\xe2\x80\x94", "\xe2\x88\x92"};
    return std::find(dashes.begin(), dashes.end(), text) != dashes.end();
}

class FenReader {
  public:
    FenReader(std::string_view text, Start start) : m_text(text), m_start(start) {}

    FenReading read() {
        split();
        const bool placed = !is_missing(0) && read_placement();
        const bool sided = !is_missing(1) && read_side();
        m_reading.usable = placed && sided;
        if (!is_missing(2)) {
            read_castling();
        }
        if (!is_missing(3)) {
            read_en_passant();
        }
        read_counter(4, 0, m_reading.setup.halfmoves);
        read_counter(5, 1, m_reading.setup.fullmove);
        std::stable_sort(m_reading.faults.begin(), m_reading.faults.end(),
                         [](const FenFault& a, const FenFault& b) { return a.begin < b.begin; });
        return std::move(m_reading);
    }

  private:
    void fault(FenFaultKind kind, std::size_t begin, std::size_t end, std::string what) {
        m_reading.faults.push_back({kind, begin, end, std::move(what)});
    }

    void fault(FenFaultKind kind, const Field& field, std::string what) {
        fault(kind, field.begin, field.end(), std::move(what));
    }

    void split() {
        std::size_t at = 0;
        while (true) {
            const std::size_t begin = next(m_text, at, false);
            const bool last = begin == m_text.size();
            const bool between_fields = m_count > 0 && !last;
            if (m_text.substr(at, begin - at) != (between_fields ? " " : "")) {
                fault(FenFaultKind::style, at, begin,
                      between_fields ? "Fields are separated by exactly one blank"
                                     : "Blanks before the first or after the last field");
            }
            if (last) {
                return;
            }
            if (m_count == m_fields.size()) {
                std::size_t end = m_text.size();
                while (is_blank(m_text[end - 1])) {
                    --end;
                }
                return fault(FenFaultKind::extra, begin, end, "Text after the last field");
            }
            at = next(m_text, begin, true);
            m_fields[m_count++] = {begin, m_text.substr(begin, at - begin)};
        }
    }

    bool is_missing(std::size_t field) {
        if (field < m_count) {
            return false;
        }
        fault(FenFaultKind::missing, m_text.size(), m_text.size(),
              "The " + std::string(field_names[field]) + " is missing");
        return true;
    }

    bool read_placement() {
        const Field& field = m_fields[0];
        std::size_t begin = 0;
        bool good = true;
        for (int rank = 7;; --rank) {
            const std::size_t end = std::min(field.text.find('/', begin), field.text.size());
            good &= read_rank(rank, {field.begin + begin, field.text.substr(begin, end - begin)});
            if (end == field.text.size()) {
                if (rank > 0) {
                    fault(FenFaultKind::shape, field.end(), field.end(),
                          "Only " + std::to_string(8 - rank) + " of 8 ranks");
                }
                return good && rank == 0;
            }
            begin = end + 1;
            if (rank == 0) {
                fault(FenFaultKind::shape, field.begin + end, field.end(), "More than 8 ranks");
                return false;
            }
        }
    }

    /// At most two faults a rank: of style, and of shape.
    bool read_rank(int rank, const Field& field) {
        std::size_t files = 0;
        Span strange;
        Span touching;
        bool after_digit = false;
        for (std::size_t i = 0; i < field.text.size(); ++i) {
            const char c = field.text[i];
            const bool digit = c >= '1' && c <= '8';
            if (digit) {
                files += static_cast<std::size_t>(c - '0');
            } else if (const std::optional<Piece> piece = read_piece(c)) {
                if (files < 8) {
                    m_reading.setup.put(square_at(static_cast<int>(files), rank), *piece);
                }
                ++files;
            } else {
                strange.add(field.begin + i, 1);
            }
            if (digit && after_digit) {
                touching.add(field.begin + i - 1, 2);
            }
            after_digit = digit;
        }
        if (touching.any()) {
            fault(FenFaultKind::style, touching.begin, touching.end, in_rank(rank, "has digits that touch"));
        }
        if (strange.any()) {
            fault(FenFaultKind::shape, strange.begin, strange.end,
                  in_rank(rank, "has something other than a man or a digit from 1 to 8"));
        } else if (files != 8) {
            fault(FenFaultKind::shape, field,
                  in_rank(rank, "has " + std::to_string(files) + (files == 1 ? " file" : " files") +
                                    " instead of 8"));
        }
        return !strange.any() && files == 8;
    }

    static std::string in_rank(int rank, const std::string& what) {
        return "Rank " + std::to_string(rank + 1) + " " + what;
    }

    bool read_side() {
        const Field& field = m_fields[1];
        m_reading.side_begin = field.begin;
        const bool white = field.text == "w" || field.text == "W";
        if (!white && field.text != "b" && field.text != "B") {
            fault(FenFaultKind::side, field, "The side to move is neither w nor b");
            return false;
        }
        if (field.text == "W" || field.text == "B") {
            fault(FenFaultKind::style, field, "The side to move is written in lower case");
        }
        m_reading.setup.turn = white ? Color::white : Color::black;
        return true;
    }

    void read_castling() {
        const Field& field = m_fields[2];
        if (m_start == Start::shuffled) {
            m_reading.setup.home = HomeArray::shuffled(4, 7, 0); // until letters tell
        }
        if (is_dash(field.text)) {
            return;
        }
        if (is_foreign_dash(field.text)) {
            return fault(FenFaultKind::style, field, "The dash is not a hyphen");
        }
        const bool by_files = field.text.find_first_of("ABCDEFGHabcdefgh") != std::string_view::npos;
        if (m_start == Start::shuffled || (m_start == Start::by_letters && by_files)) {
            read_shuffled_castling();
        } else {
            read_orthodox_castling();
        }
    }

    void read_orthodox_castling() {
        const Field& field = m_fields[2];
        constexpr std::string_view order = "KQkq";
        CastlingRights rights;
        bool canonical = true;
        std::size_t next = 0;
        for (const char c : field.text) {
            const std::size_t place = order.find(c);
            if (place == std::string_view::npos) {
                const bool files = field.text.find_first_not_of("ABCDEFGHabcdefgh") == std::string_view::npos;
                return fault(FenFaultKind::castling, field,
                             files ? "The castling letters name files, and nothing says that this is Chess960"
                                   : "The castling field is not made of K, Q, k and q");
            }
            canonical &= place >= next;
            next = place + 1;
            rights.add(place < 2 ? Color::white : Color::black,
                       place % 2 == 0 ? CastlingSide::king : CastlingSide::queen);
        }
        if (!canonical) {
            fault(FenFaultKind::style, field, "The castling letters are not in the order KQkq, each once");
        }
        m_reading.setup.castling = rights;
    }

    /// The file of the rook that a letter means, and whether king and rook stand there.
    [[nodiscard]] std::optional<int> rook_file_of(char letter, Color color) const {
        const Bitboard home = rank_bits(color == Color::white ? 0 : 7);
        const Bitboard rooks = m_reading.setup.pieces(color, Role::rook) & home;
        const Bitboard king = m_reading.setup.pieces(color, Role::king) & home;
        if (king.count() != 1) {
            return std::nullopt;
        }
        const char lower = letter >= 'a' ? letter : static_cast<char>(letter - 'A' + 'a');
        std::optional<int> found;
        for (const Square rook : rooks) { // from the a-file to the h-file
            const bool right = file_of(rook) > file_of(king.first());
            if (lower == 'k' ? right : lower == 'q' ? !right && !found : file_of(rook) == lower - 'a') {
                found = file_of(rook);
            }
        }
        return found;
    }

    void read_shuffled_castling() {
        const Field& field = m_fields[2];
        std::array<std::optional<int>, 2> rooks; // by CastlingSide
        std::optional<int> king;
        CastlingRights rights;
        for (const char c : field.text) {
            const Color color = c >= 'a' ? Color::black : Color::white;
            const std::optional<int> rook =
                std::string_view("ABCDEFGHKQabcdefghkq").find(c) == std::string_view::npos
                    ? std::nullopt
                    : rook_file_of(c, color);
            if (!rook) {
                return fault(FenFaultKind::castling, field,
                             std::string("The castling letter ") + c +
                                 " means no rook on the king's first rank");
            }
            const int kings = file_of(m_reading.setup.pieces(color, Role::king).first());
            const CastlingSide side = *rook > kings ? CastlingSide::king : CastlingSide::queen;
            std::optional<int>& known = rooks[static_cast<std::size_t>(side)];
            if (known.value_or(*rook) != *rook || king.value_or(kings) != kings) {
                return fault(FenFaultKind::castling, field,
                             "The castling letters speak of two different initial arrays");
            }
            known = *rook;
            king = kings;
            rights.add(color, side);
        }
        if (*king < 1 || *king > 6) {
            return fault(FenFaultKind::castling, field, "No king starts in the corner");
        }
        m_reading.setup.castling = rights;
        m_reading.setup.home = HomeArray::shuffled(*king, rooks[0].value_or(7), rooks[1].value_or(0));
    }

    void read_en_passant() {
        const Field& field = m_fields[3];
        if (is_dash(field.text)) {
            return;
        }
        if (is_foreign_dash(field.text)) {
            return fault(FenFaultKind::style, field, "The dash is not a hyphen");
        }
        const std::optional<Square> square = read_square(field.text);
        if (!square) {
            return fault(FenFaultKind::en_passant, field, "The en-passant field is not a square");
        }
        if (rank_of(*square) != 2 && rank_of(*square) != 5) {
            return fault(FenFaultKind::en_passant, field,
                         "The en-passant square is on neither the third nor the sixth rank");
        }
        m_reading.setup.en_passant = square;
    }

    void read_counter(std::size_t number, int lowest, int& counter) {
        if (number >= m_count) {
            return;
        }
        const Field& field = m_fields[number];
        int value = 0;
        for (const char c : field.text) {
            if (c < '0' || c > '9') {
                return fault(FenFaultKind::clock, field,
                             "The " + std::string(field_names[number]) + " is not a number");
            }
            value = std::min(value * 10 + (c - '0'), highest_counter + 1);
        }
        if (value < lowest || value > highest_counter) {
            return fault(FenFaultKind::clock, field,
                         "The " + std::string(field_names[number]) + " is not from " +
                             std::to_string(lowest) + " to " + std::to_string(highest_counter));
        }
        if (field.text.size() > 1 && field.text.front() == '0') {
            fault(FenFaultKind::style, field,
                  "The " + std::string(field_names[number]) + " has leading zeros");
        }
        counter = value;
    }

    std::string_view m_text;
    Start m_start;
    std::array<Field, 6> m_fields;
    std::size_t m_count = 0;
    FenReading m_reading;
};

void write_rank(const Setup& setup, int rank, std::string& text) {
    int empty = 0;
    for (int file = 0; file < 8; ++file) {
        const std::optional<Piece> piece = setup.at(square_at(file, rank));
        if (!piece) {
            ++empty;
            continue;
        }
        if (empty > 0) {
            text += static_cast<char>('0' + empty);
            empty = 0;
        }
        text += letter(*piece);
    }
    if (empty > 0) {
        text += static_cast<char>('0' + empty);
    }
}

std::string castling_letters(const Setup& setup) {
    const HomeArray home = setup.home;
    const bool usual = home.king_file() == 4 && home.rook_file(CastlingSide::king) == 7 &&
                       home.rook_file(CastlingSide::queen) == 0;
    std::string text;
    for (const Color color : {Color::white, Color::black}) {
        for (const CastlingSide side : {CastlingSide::king, CastlingSide::queen}) {
            if (setup.castling.has(color, side)) {
                const char small = !usual ? static_cast<char>('a' + home.rook_file(side))
                                   : side == CastlingSide::king ? 'k'
                                                                : 'q';
                text += color == Color::white ? static_cast<char>(small - 'a' + 'A') : small;
            }
        }
    }
    return text;
}

} // namespace

FenReading read_fen(std::string_view text, Start start) {
    return FenReader(text, start).read();
}

std::string write_fen(const Setup& setup) {
    std::string text;
    for (int rank = 7; rank >= 0; --rank) {
        write_rank(setup, rank, text);
        text += rank > 0 ? "/" : "";
    }
    text += setup.turn == Color::white ? " w " : " b ";
    text += castling_letters(setup);
    text += setup.castling.empty() ? "- " : " ";
    text += setup.en_passant ? name(*setup.en_passant) : "-";
    return text + " " + std::to_string(setup.halfmoves) + " " + std::to_string(setup.fullmove);
}

} // namespace board
