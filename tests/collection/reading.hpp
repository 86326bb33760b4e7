#pragma once
// Short ways to read a text and to ask what stands where.

#include "catch.hpp"
#include "collection/document.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace reading {

inline const std::string back_rank = "6k1/5ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";

inline std::string at(const collection::Document& document, collection::Span span) {
    REQUIRE(span.begin <= span.end);
    REQUIRE(span.end <= document.bytes.size());
    return document.bytes.substr(span.begin, span.end - span.begin);
}

inline std::string place(const collection::Document& document, collection::Span span) {
    const collection::Place place = document.place(span.begin);
    return std::to_string(place.line) + ":" + std::to_string(place.column);
}

/// Every value that stands in the document as it reads: value and bytes must be the same.
inline void check_spans(const collection::Document& document) {
    for (const collection::Puzzle& puzzle : document.puzzles) {
        INFO(puzzle.id.value);
        CHECK(at(document, puzzle.fen.span) == puzzle.fen.value);
        if (puzzle.id_stated) {
            CHECK(at(document, puzzle.id.span) == puzzle.id.value);
        }
        for (std::size_t i = 1; i < puzzle.solution.nodes.size(); ++i) {
            CHECK(at(document, puzzle.solution.nodes[i].span) == puzzle.solution.nodes[i].text);
        }
        for (const auto* list : {&puzzle.accepted, &puzzle.avoided, &puzzle.themes}) {
            for (const auto& entry : *list) {
                CHECK(at(document, entry.span) == entry.value);
            }
        }
        for (const collection::Field& field : puzzle.fields) {
            const std::string bytes = at(document, field.span);
            CHECK((bytes == field.value || bytes.find('\\') != std::string::npos)); // escapes are resolved
        }
        for (const collection::Fault& fault : puzzle.faults) {
            at(document, fault.span);
            CHECK_FALSE(fault.what.empty());
        }
    }
}

/// Moves as written, in the order of the nodes.
inline std::vector<std::string> moves(const collection::MoveTree& tree) {
    std::vector<std::string> texts;
    for (std::size_t i = 1; i < tree.nodes.size(); ++i) {
        texts.push_back(tree.nodes[i].text);
    }
    return texts;
}

inline std::vector<std::string> values(const std::vector<collection::Stated<std::string>>& list) {
    std::vector<std::string> texts;
    for (const auto& entry : list) {
        texts.push_back(entry.value);
    }
    return texts;
}

inline std::vector<std::string> ids(const collection::Document& document) {
    std::vector<std::string> texts;
    for (const auto& puzzle : document.puzzles) {
        texts.push_back(puzzle.id.value);
    }
    return texts;
}

using Texts = std::vector<std::string>;

} // namespace reading
