#pragma once
// The readers of the formats. Each reads one stretch of a document and adds puzzles and faults to it.

#include "collection/document.hpp"
#include "collection/source.hpp"

namespace collection {

/// Games without a FEN tag, or with the initial array in it, are games and no puzzles: left out without a
/// fault.
void read_pgn(Document& document, Span part, const TagMapping& tags);
void read_epd(Document& document, Span part);
void read_yaml(Document& document, Span part);

/// A table's header is in its first part; the others go on in its columns.
struct TableColumns {
    char separator = ',';
    std::vector<std::string> names; ///< empty: not read yet
    bool usable = true;             ///< the columns that a puzzle needs are there
};
void read_table(Document& document, Span part, const TableMapping& mapping, TableColumns& columns);

/// Takes the puzzle into the document, with an id of its own when it has none. False: the document has too
/// many.
bool add_puzzle(Document& document, Puzzle puzzle);

} // namespace collection
