#pragma once
// What `sidelint COMMAND --help` says below the options.

namespace app {

inline constexpr const char* fix_notes =
    R"(Corrected without asking: moves and move numbers as the standard writes them,
misspelt themes, castling rights, en-passant squares and counters that the
diagram rules out, and a side to move that the whole solution contradicts. What
would change the meaning of a puzzle is listed only. A corrected file is read
again: unless it parses as before, what was corrected is gone and no error is
new, the puzzle at fault, or the file, is left as it was.
--preview writes nothing and ends in 1 if something would change.
)";

inline constexpr const char* diff_notes =
    R"(Without REV the worktree is held against HEAD, with one against that revision
(auto: what CI or the upstream says), with two the second against the first.
Status 0 whatever has changed: the gate is check.
)";

inline constexpr const char* baseline_notes =
    R"(A baseline lets an old collection pass while its debt is paid: sidelint check
--baseline FILE hides what it accepts, counts it, and still fails on anything
else.
  accept FILE --reason TEXT  accepts what is found now; what was accepted stays
  prune FILE                 drops entries whose rule ran on that puzzle again
                             and found nothing
  merge BASE OURS THEIRS     merges two of them into OURS, for git:
  git config merge.sidelint.driver "sidelint baseline merge %O %A %B"
  and in .gitattributes: baseline.jsonl merge=sidelint
)";

inline constexpr const char* solve_notes = R"(Example:
  sidelint solve "7k/5ppp/8/8/8/8/8/R2Q2K1 w - -" --goal "mate in 1" --key "Ra8#"

A mate in 2 to 4 that is proved also shows its play as a problem: threat or
block, set play and changed mates, tries with their refutations, duals after the
key.

--solution takes the author's moves, variations and glyphs, judges each of them,
and says what the rules find: --solution "1. Ra8+ Kg7 (1... Kh7 2. Qh1#) 2. Qa7"

--certificate writes the proof that the key (without --key: the best move) mates
in the goal's length, or without such a goal in its own; - writes it to standard
output instead of the table. sidelint verify holds it to the rules of the game.
)";

inline constexpr const char* verify_notes =
    R"(Each file is replayed with the rules of the game alone: all replies of the
defender are there, all moves are legal, every branch ends in mate within the
length stated.
)";

inline constexpr const char* check_notes =
    R"(With --staged, --commit or --against only what differs is checked, in both
states, and the gate is on new findings. Without them everything is checked and
no history is read.
--config: patterns in FILE are relative to the repository's root.
For an editor: sidelint check - --as sets/a.pgn --format json; the configuration
is that of sets/a.pgn.

Formats:
  text          for people: line, play and diagram
  brief         only the first line of each finding
  json, jsonl   for programs (sidelint schema report)
  sarif         SARIF 2.1.0, for code scanning
  junit         JUnit XML, a case a puzzle
  markdown      a summary, for $GITHUB_STEP_SUMMARY
  code-quality  GitLab's Code Quality report
  annotations   GitHub's workflow commands, to standard output beside text
  html          one page for people, with boards; reads without its script
  part          for sidelint merge, with --shard
)";

inline constexpr const char* merge_notes = R"(On each of four machines, K from 1 to 4, then once:
  sidelint check --shard K/4 --format part=part-K.sidelint --fail-on never
  sidelint merge part-*.sidelint --format text --format sarif=report.sarif
The report and the status are those of one run; a part that is missing, or made
from anything else, is status 3.
)";

inline constexpr const char* explain_notes =
    R"(For a rule it also tells the level and the options in force here, and where they
are set.
  sidelint explain                                     what there is
  sidelint explain key/cook                            a rule
  sidelint explain fork                                a motif, by any name
  sidelint explain --all --format markdown > rules.md  a reference, with every
                                                       example and its diagram
)";

inline constexpr const char* manual_notes = R"(  sidelint manual | man -l -
Dated by SOURCE_DATE_EPOCH where it is set, and undated without.
)";

inline constexpr const char* hook_notes = R"(Without a task it tells which hooks there are.
  sidelint hook add pre-commit   checks what is staged, before each commit, at
                                 draft effort
  sidelint hook add pre-push     checks each branch pushed against what the
                                 remote holds
  sidelint hook add pre-receive  the same on the server, in a bare repository
The gate is on new findings. A hook of your own is never overwritten: call from
it
  sidelint hook run pre-commit "$@"
)";

} // namespace app
