#include "rules/finding.hpp"

#include "board/fen.hpp"
#include "board/san.hpp"
#include "rules/identity.hpp"

#include <algorithm>
#include <tuple>

#include <fmt/format.h>

namespace rules {

std::string_view name(Status status) {
    switch (status) {
    case Status::none:
        return "";
    case Status::fresh:
        return "new";
    case Status::still:
        return "still";
    case Status::gone:
        return "gone";
    }
    return "";
}

std::string_view name(Fix::Kind kind) {
    return kind == Fix::Kind::safe ? "safe" : "suggested";
}

Finding& Finding::shown(const board::Position& position, std::span<const board::Move> moves,
                        std::size_t printed_moves) {
    printed = printed_moves;
    fen = board::write_fen(position.setup());
    line.clear();
    board::Position now = position;
    for (const board::Move move : moves) {
        line.push_back(board::write_san(now, move));
        now.make(move);
    }
    play = board::write_line(position, moves);
    return *this;
}

Finding& Finding::known(solve::Certainty how) {
    certainty = how;
    return *this;
}

Finding& Finding::about(std::string what) {
    subject = std::move(what);
    return *this;
}

Finding& Finding::mend(std::string what_to_do) {
    cure = std::move(what_to_do);
    return *this;
}

namespace {

auto order_of(const Finding& f) {
    return std::tie(f.file, f.begin, f.rule, f.message_id, f.message, f.subject, f.puzzle, f.status);
}

} // namespace

bool before(const Finding& a, const Finding& b) {
    return order_of(a) < order_of(b);
}

void put_in_order(std::vector<Finding>& findings) {
    std::stable_sort(findings.begin(), findings.end(), before);
    const auto same = [](const Finding& a, const Finding& b) { return order_of(a) == order_of(b); };
    findings.erase(std::unique(findings.begin(), findings.end(), same), findings.end());
}

std::string fingerprint_of(std::string_view puzzle_identity, const Finding& finding) {
    std::uint64_t hash = hash_of_nothing;
    for (const std::string_view part :
         {puzzle_identity, std::string_view(finding.rule), std::string_view(finding.message_id),
          std::string_view(finding.subject)}) {
        hash = stable_hash("\xff", stable_hash(part, hash)); // a separator no UTF-8 text contains
    }
    return fmt::format("{:016x}", hash); // 64 bits: short enough to be read out
}

} // namespace rules
