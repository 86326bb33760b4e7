#include "motif/geometry.hpp"

#include "catch.hpp"
#include "examples.hpp"

using board::Bitboard;
using board::Square;
using examples::position;

TEST_CASE("what stands behind a man on a line", "[motif][geometry]") {
    const auto p = position("3q2k1/5ppp/8/3n4/8/8/2P2PPP/3R2K1 w - - 0 1");
    CHECK(motif::behind(p, Square::d1, Square::d5) == Square::d8);
    CHECK(motif::behind(p, Square::d8, Square::d5) == Square::d1);
    CHECK_FALSE(motif::behind(p, Square::d1, Square::d8).has_value());
    CHECK(motif::attacks_from(p, Square::d1).contains(Square::d5));
    CHECK_FALSE(motif::attacks_from(p, Square::d1).contains(Square::d8));
    CHECK(motif::attacks_from(p, Square::d1, Bitboard(Square::d5)).contains(Square::d8));
    CHECK(motif::attacks_from(p, Square::a5).empty());
}

TEST_CASE("who pins", "[motif][geometry]") {
    const auto p = position("4k3/8/8/4n3/8/8/5P2/4R1K1 b - - 0 1");
    CHECK(motif::pinner_of(p, Square::e5) == Square::e1);
    CHECK_FALSE(motif::pinner_of(p, Square::f2).has_value());
}

TEST_CASE("a drop-test changes one thing and must leave something playable", "[motif][geometry]") {
    const auto p = position("4k3/8/8/4n3/8/8/5P2/4R1K1 b - - 0 1");
    const auto lifted = motif::without(p, Square::e1);
    REQUIRE(lifted);
    CHECK_FALSE(lifted->at(Square::e1).has_value());
    CHECK(lifted->pinned(board::Color::black).empty());
    CHECK_FALSE(motif::without(p, Square::e8).has_value()); // a king
    const auto moved = motif::relocated(p, Square::e5, Square::c6);
    REQUIRE(moved);
    CHECK(moved->at(Square::c6)->role == board::Role::knight);
    CHECK(moved->in_check()); // the line is open now
    CHECK_FALSE(motif::relocated(p, Square::a1, Square::a2).has_value());
}

TEST_CASE("losses and exits", "[motif][geometry]") {
    const auto p = position("6k1/5ppp/4p3/3n4/8/1B6/5PPP/3R2K1 w - - 0 1");
    CHECK(motif::loss_on(p, Square::d5) == 1); // bishop for knight, then the pawn that took back
    CHECK(motif::loss_on(position("6k1/5ppp/4p3/3n4/8/1B6/5PPP/6K1 w - - 0 1"), Square::d5) == 0);
    CHECK(motif::loss_on(position("6k1/5ppp/8/3n4/8/1B6/5PPP/3R2K1 w - - 0 1"), Square::d5) == 3);
    CHECK(motif::loss_on(p, Square::g8) == 0); // kings are never lost
    // The bishop's only exits are covered; with the king further off b1 is free.
    CHECK_FALSE(motif::could_escape(position("6k1/5ppp/8/8/8/1P6/b1K5/8 b - - 0 1"), Square::a2));
    CHECK(motif::could_escape(position("6k1/5ppp/8/8/8/1P2K3/b7/8 b - - 0 1"), Square::a2));
}

TEST_CASE("the man taken en passant stands beside", "[motif][geometry]") {
    CHECK(motif::square_taken(board::Move::en_passant(Square::e5, Square::d6)) == Square::d5);
    CHECK(motif::square_taken(board::Move::normal(Square::e5, Square::d6)) == Square::d6);
}
