#pragma once
// Holds a proof certificate (certificate.hpp tells the format) to the rules of the game. It sees the room
// board and nothing else: neither a search nor a table nor the writer can lend it a mistake.

#include "board/result.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace solve {

// Bounds of the format: nothing larger is written, and nothing larger is read as a certificate.
inline constexpr std::size_t most_certificate_lines = 100'000;
inline constexpr int most_certificate_moves = 100;
inline constexpr std::size_t longest_certificate_line = 256; ///< bytes, line end not counted

/// What a certificate that holds has proved: after `key` the solver mates with at most `moves` moves, the key
/// included, whatever the defender does.
struct Checked {
    std::string fen; ///< six canonical fields
    int moves = 0;
    std::string key;           ///< numbered: "1.Qg6", "23...Rh1+"
    std::size_t positions = 0; ///< positions after a move of the solver that are written out
    friend bool operator==(const Checked&, const Checked&) = default;
};

struct CertificateFault {
    std::size_t line = 0; ///< from 1
    std::string what;     ///< a sentence without final stop; may quote the text, which is untrusted
    friend bool operator==(const CertificateFault&, const CertificateFault&) = default;
};

/// The first fault that is met, for any bytes whatever.
[[nodiscard]] board::Result<Checked, CertificateFault> check_certificate(std::string_view text);

} // namespace solve
