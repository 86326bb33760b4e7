// Annotations beside the commands that @actions/core prints for what the JSON report tells: node toolkit.mjs NAME...
// NAME.json, NAME.sarif (for the play, which JSON tells as moves) and NAME.annotations are of one run. Both commands are compared
// byte for byte, but for the order of their properties, which means nothing. Ends with "N passed, N failed".
import fs from "node:fs";
import * as core from "@actions/core";

/// The command that `print` writes to standard output.
function printed(print) {
  const write = process.stdout.write;
  let text = "";
  process.stdout.write = (part) => { text += part; return true; };
  try { print(); } finally { process.stdout.write = write; }
  return text;
}

/// What a log may hold: characters that act on a terminal spelt out, marks that runners obey broken by a blank.
const shown = (text) => text
  .replace(/[\0-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\u{e0000}-\u{e007f}]/gu,
    (found) => `\\u{${found.codePointAt(0).toString(16)}}`)
  .replace(/##(?=(vso)?\[)/g, "# #").replace(/section_(start|end):/g, "section_$1 :").replace(/^( *):(?=:)/, "$1: ");

const ranks = ["error", "warning", "note"];
const rank = (finding) => [finding.status === "still" ? 1 : 0, ranks.indexOf(finding.severity)];
const graver = (a, b) => rank(a)[0] - rank(b)[0] || rank(a)[1] - rank(b)[1];

/// One a puzzle, one a finding about a file, the gravest first.
function places(findings) {
  const found = new Map();
  for (const [at, one] of findings.entries()) {
    const key = JSON.stringify([one.file, one.puzzle, one.puzzle === null ? at : null]);
    found.set(key, [...(found.get(key) ?? []), one]);
  }
  return [...found.values()].map((place) => place.sort(graver)).sort((a, b) => graver(a[0], b[0]));
}

function words(place) {
  return place.map((one) => shown(place.length > 1 ? `${one.rule}: ${one.message}` : one.message) +
    (one.status === "still" ? " (was there before)" : "") + (one.play ? `\n    ${shown(one.play)}` : "")).join("\n");
}

function expected(findings) {
  const told = { error: 0, warning: 0, note: 0 };
  const all = places(findings);
  const of = (severity) => all.filter((place) => place[0].severity === severity).length;
  return all.flatMap((place) => {
    const head = place[0];
    if (++told[head.severity] > 10) return [];
    const left = told[head.severity] === 10 ? of(head.severity) - 10 : 0;
    const title = (head.puzzle === null ? "" : `${head.puzzle}: `) + head.rule + (place.length > 1 ? ` and ${place.length - 1} more` : "");
    const one_line = head.line === head.end_line;
    return printed(() => core[head.severity === "note" ? "notice" : head.severity](
      words(place) + (left > 0 ? `\nand ${left} more places with ${head.severity}s: see the log` : ""),
      { title: shown(title), file: shown(head.file), startLine: head.line, endLine: head.end_line,
        startColumn: one_line ? head.column : undefined, endColumn: one_line ? head.end_column : undefined }));
  });
}

/// With its properties in order; escaped commas and colons do not part them.
function sorted(command) {
  const [, name, properties, data] = command.match(/^::(\w+) (.*?)::([^\r\n]*)\n$/) ?? [command];
  return `::${name} ${properties?.split(",").sort().join(",")}::${data}`;
}

let passed = 0;
let failed = 0;
for (const name of process.argv.slice(2)) {
  const { findings } = JSON.parse(fs.readFileSync(`${name}.json`, "utf8"));
  const there = findings.filter((one) => one.status !== "gone");
  const { results } = JSON.parse(fs.readFileSync(`${name}.sarif`, "utf8")).runs[0];
  there.forEach((one, at) => { one.play = results[at].properties?.play; });
  const same = there.every((one, at) => results[at].partialFingerprints["sidelintFinding/v1"] === one.fingerprint);
  const told = fs.readFileSync(`${name}.annotations`, "utf8").match(/.*\n/g) ?? [];
  const wanted = expected(there);
  same && wanted.length === told.length && wanted.length > 0 ? ++passed : ++failed;
  console.log(`${name.replace(/.*\//, "")}: ${told.length} annotations, ${wanted.length} expected of ${there.length} findings`);
  wanted.forEach((command, at) => {
    const equal = told[at] !== undefined && sorted(command) === sorted(told[at]);
    equal ? ++passed : ++failed;
    if (!equal) console.log(`FAILED:\n  told     ${told[at]}  expected ${command}`);
  });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
