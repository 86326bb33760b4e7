// What findings are known by across releases: accepted findings are kept under it.
#include "rules/finding.hpp"
#include "rules/identity.hpp"

TEST_CASE("the hash is FNV-1a of 64 bits") {
    // Published vectors: Fowler, Noll, Eastlake, "The FNV Non-Cryptographic Hash Algorithm" (internet draft
    // draft-eastlake-fnv, test vectors); the values are from memory and agree with the formula run elsewhere.
    CHECK(rules::stable_hash("") == 0xcbf29ce484222325);
    CHECK(rules::stable_hash("a") == 0xaf63dc4c8601ec8c);
    CHECK(rules::stable_hash("foobar") == 0x85944171f73967e8);
    CHECK(rules::stable_hash("bar", rules::stable_hash("foo")) == rules::stable_hash("foobar"));
}

TEST_CASE("a fingerprint is the same in every release") {
    rules::Finding finding;
    finding.rule = "key/cook";
    finding.message_id = "second_win";
    finding.subject = "Qd8";
    // FNV-1a over the four parts, the byte 0xff behind each, computed in Python.
    CHECK(rules::fingerprint_of("shelf-3", finding) == "4ea3fa7d7a0db1cd");
    finding.subject = "Qd7";
    CHECK(rules::fingerprint_of("shelf-3", finding) != "4ea3fa7d7a0db1cd");
}
