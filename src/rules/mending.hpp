#pragma once
// How a rule corrects what it found: field by field, in the form each field has in its file.

#include "rules/view.hpp"

#include <optional>
#include <string_view>

namespace rules {

/// Gathers the edits of one fix. A place that cannot be written makes the whole fix impossible.
class Mending {
  public:
    explicit Mending(const PuzzleView& view) : m_view(view) {}

    /// `text` where `old` is read at `span`.
    void replace(collection::Span span, std::string_view old, std::string_view text);
    /// `text` for what stands at `span`, whatever it is.
    void replace(collection::Span span, std::string_view text);
    /// The fields of the FEN behind the placement, as far as they differ from those of `wanted`.
    void replace_fen_fields(const board::Setup& wanted);
    /// Every statement of the side to move says `side`; a caption cannot be made to.
    void let_move(board::Color side);
    void give_up() { m_impossible = true; }

    [[nodiscard]] std::optional<Fix> fix(Fix::Kind kind) const;

  private:
    const PuzzleView& m_view;
    std::vector<collection::Edit> m_edits;
    bool m_impossible = false;
};

/// Every printed move can be played: nothing hints that the diagram was meant otherwise.
[[nodiscard]] bool all_can_be_played(const collection::MoveTree& tree);

} // namespace rules
