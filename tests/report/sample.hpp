#pragma once
// One set of findings for all writers.

#include "report/report.hpp"

namespace sample {

inline rules::Finding cook() {
    rules::Finding finding;
    finding.rule = "key/cook";
    finding.message_id = "cook";
    finding.severity = rules::Severity::error;
    finding.certainty = solve::Certainty::searched;
    finding.message = "Qd8# solves it as well as the key Ra8#";
    finding.subject = "Qd8#";
    finding.cure = "accept it or change the diagram";
    finding.puzzle = "harbour-001";
    finding.file = "sets/first term.yaml";
    finding.begin = {5, 14};
    finding.end = {5, 18};
    finding.excerpt = "  solution: \"1.Ra8#\"";
    finding.fen = "7k/5ppp/8/8/8/8/8/R2Q2K1 w - - 0 1";
    finding.line = {"Qd8#"};
    finding.play = "1.Qd8#";
    finding.fingerprint = "00000000000000a1";
    return finding;
}

inline rules::Finding unreadable() {
    rules::Finding finding;
    finding.rule = "file/syntax";
    finding.message_id = "syntax";
    finding.severity = rules::Severity::warning;
    finding.message = "a bracket is never closed";
    finding.file = "sets/second.pgn";
    finding.begin = {1, 1};
    finding.end = {1, 1};
    finding.fingerprint = "00000000000000b2";
    return finding;
}

/// Nothing compared.
inline report::Report plain() {
    report::Report report;
    report.version = "9.9.9";
    report.effort = "review";
    report.files = 2;
    report.puzzles = 36;
    report.findings = {cook(), unreadable()};
    return report;
}

/// One finding of each status.
inline report::Report compared() {
    report::Report report = plain();
    report.against = "0123456789abcdef0123456789abcdef01234567";
    report.against_name = "HEAD~1";
    report.unchanged = 30;
    report.findings[0].status = rules::Status::fresh;
    report.findings[1].status = rules::Status::still;
    rules::Finding gone = cook();
    gone.status = rules::Status::gone;
    gone.puzzle = "harbour-002";
    gone.begin.line = gone.end.line = 9;
    report.findings.insert(report.findings.begin(), gone);
    return report;
}

inline rules::PuzzleSummary puzzle(std::string id, std::string file, std::size_t line) {
    rules::PuzzleSummary summary;
    summary.id = std::move(id);
    summary.file = std::move(file);
    summary.line = line;
    return summary;
}

/// All that a report can hold at once: every severity and status, two findings of one puzzle, findings about
/// files, long lines, no cure, letters beyond ASCII, puzzles without a finding.
inline report::Report mixed() {
    report::Report report = compared();
    rules::Finding missing = cook();
    missing.rule = "theme/missing";
    missing.severity = rules::Severity::warning;
    missing.certainty = solve::Certainty::proved;
    missing.message = "the line shows 'back-rank mate', which no theme says";
    missing.subject = "back-rank-mate";
    missing.cure = "";
    missing.begin = {3, 5};
    missing.end = {6, 1};
    missing.excerpt = "  - id: harbour-001";
    missing.status = rules::Status::fresh;
    missing.fingerprint = "00000000000000c3";

    rules::Finding open = cook();
    open.rule = "key/open";
    open.severity = rules::Severity::note;
    open.certainty = solve::Certainty::open;
    open.message = "the budget ended before 1.\xC3\x9C was settled: \xE2\x99\x98 or \xE6\xA3\x8B?";
    open.cure = "";
    open.puzzle = "H\xC3\xA4"
                  "fen 7";
    open.file = "sets/zweite \xC3\x9C"
                "bung.pgn";
    open.begin = {12, 1};
    open.end = {12, 4};
    open.excerpt =
        "1. \xC3\x9C"
        "f5 {\xE6\xA3\x8B} 2. e4 a comment that goes on, and on, and on, far beyond the right margin of a "
        "narrow terminal, to its end";
    open.fen = "";
    open.line = {};
    open.play = "";
    open.squares = {};
    open.status = rules::Status::fresh;
    open.fingerprint = "00000000000000d4";

    rules::Finding refuted = cook();
    refuted.rule = "key/refuted";
    refuted.message = "the key Qd2 does not win: after 1...Qxd2 White is lost";
    refuted.cure = "look for another key";
    refuted.puzzle = "harbour-003";
    refuted.begin = {20, 90};
    refuted.end = {20, 93};
    refuted.status = rules::Status::still;
    refuted.fingerprint = "00000000000000e5";

    report.findings = {missing, report.findings[1], report.findings[0], refuted, report.findings[2], open};
    const std::string term = cook().file;
    report.summaries = {puzzle("harbour-001", term, 3), puzzle("harbour-002", term, 9),
                        puzzle("harbour-003", term, 18), puzzle("harbour-003", term, 30),
                        puzzle(open.puzzle, open.file, 12)};
    report.files = 3;
    report.puzzles = report.summaries.size();
    report.allowed = 2;
    report.remarks = {"sets/old.pgn: a link, left out"};
    return report;
}

/// What a stranger might write into a collection to act on whoever reads a report.
inline const std::string& hostile_text() {
    static const std::string text =
        "::error::a ##[set-output]b ##vso[task]c section_start:1:x \x1b[2Jd\r\n::warning::e \xE2\x80\xAE"
        "f \xFFg \xC2\x9Bh ]]> <script>i()</script> &amp; | \"quoted\" 'too' %0A%25 @someone #123 "
        "[link](http://example.org) www.example.org `code` **bold** \\| j";
    return text;
}

/// Every text a collection can put into a report is hostile at once.
inline report::Report hostile(const std::string& text = hostile_text()) {
    rules::Finding finding = cook();
    finding.rule = finding.message = finding.puzzle = finding.file = finding.excerpt = finding.play = text;
    finding.cure = finding.subject = finding.fen = text;
    finding.line = {text};
    finding.begin = {1, 1};
    finding.end = {1, 20};
    report::Report report = plain();
    report.findings = {finding};
    report.against_name = text;
    report.remarks = {text};
    report.detail = report::Detail::puzzles;
    rules::PuzzleSummary summary;
    summary.id = summary.file = summary.fen = summary.goal = text;
    summary.motifs = {{text, 1, true, motif::Strength::main, solve::Certainty::proved, {}, text}};
    report.summaries = {summary};
    return report;
}

} // namespace sample
