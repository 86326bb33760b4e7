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

/// Every text a collection can put into a report is hostile at once.
inline report::Report hostile() {
    const std::string text =
        "::error::a ##[set-output]b ##vso[task]c section_start:1:x \x1b[2Jd\r\n::warning::e \xE2\x80\xAE"
        "f \xFFg \xC2\x9Bh ]]> <script> | \"quoted\" %0A";
    rules::Finding finding = cook();
    finding.message = finding.puzzle = finding.file = finding.excerpt = finding.play = finding.cure = text;
    finding.subject = finding.fen = text;
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
