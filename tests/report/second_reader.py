"""Reads reports back with what is not ours, and ends with 1 after saying what is wrong: second_reader.py KIND FILE...

json SCHEMA FILE                            Debian's python3-jsonschema, any draft
jsonl SCHEMA (JSON FILE)...                 Python's json module and the same; holds what the JSON report holds
code-quality SCHEMA (JSON FILE)...          the same
annotations (JSON FILE)...                  the rules of the runner, actions/runner, src/Runner.Common/ActionCommand.cs (2025)
matcher MATCHER (JSON FILE)...              Python's re, with ci/problem-matcher.json

The JSON report is what the others are held to; json holds it to its schema.
"""

import json
import re
import sys
from collections import Counter

faults = []


def check(holds, what):
    if not holds:
        faults.append(str(what)[:300])


def read(name):
    with open(name, "rb") as file:
        return file.read()


def distinct(pairs):
    check(len(dict(pairs)) == len(pairs), f"a key twice: {[key for key, _ in pairs]}")
    return dict(pairs)


def parsed(text):
    def refuse(name):
        raise ValueError(f"{name} is no JSON")

    return json.loads(text, parse_constant=refuse, object_pairs_hook=distinct)


def hold_to_schema(schema, value):
    import jsonschema

    schema = parsed(read(schema))
    validator = jsonschema.validators.validator_for(schema)
    validator.check_schema(schema)
    for fault in validator(schema, format_checker=jsonschema.FormatChecker()).iter_errors(value):
        check(False, "/".join(str(step) for step in fault.absolute_path) + " " + fault.message)


def still_there(report):
    return [finding for finding in report["findings"] if finding["status"] != "gone"]


def shown(text):
    """What report::harmless promises: nothing acts on a terminal or a log. The ranges are Unicode's (Cc, Zl, Zp, Bidi_Control, tags)."""
    acting = r"[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\U000e0000-\U000e007f]"
    text = re.sub(acting, lambda found: f"\\u{{{ord(found[0]):x}}}", text)
    text = re.sub(r"(#)(#(?:vso)?\[)|(section_(?:start|end))(:)",
                  lambda found: " ".join(part for part in found.groups() if part), text)
    return re.sub(r"^( *:):", r"\1 :", text)


def read_json(schema, name):
    hold_to_schema(schema, parsed(read(name)))


def read_lines(schema, report, name):
    data = read(name)
    check(data.endswith(b"\n") and not data.startswith(b"\xef\xbb\xbf") and b"\r" not in data, "ends of lines, byte order mark")
    lines = data.decode().splitlines()  # ends lines at U+2028 and U+0085, too
    check(len(lines) == data.count(b"\n"), "an end of line within a line")
    objects = [parsed(line) for line in lines]
    types = [one.pop("type") for one in objects]
    check(re.fullmatch(r"run( puzzle)*( finding)*( overview)? summary", " ".join(types)), types)
    whole = dict(objects[0], summary=objects[-1])
    whole["findings"] = [one for kind, one in zip(types, objects) if kind == "finding"]
    expected = parsed(read(report))
    if "puzzles" in expected:
        whole["puzzles"] = [one for kind, one in zip(types, objects) if kind == "puzzle"]
    if "overview" in types:
        whole["overview"] = objects[-2]["tables"]
    hold_to_schema(schema, whole)
    check(whole == expected, "not what the JSON report holds")


def read_code_quality(schema, report, name):
    data = read(name)
    check(data[:1] == b"[", "begins with " + repr(data[:3]))
    entries = parsed(data)
    hold_to_schema(schema, entries)
    prints = Counter(entry["fingerprint"] for entry in entries)
    check(len(prints) == len(entries), f"fingerprints that are not unique: {prints.most_common(3)}")
    levels = {"error": "major", "warning": "minor", "note": "info"}
    told = [(entry["description"], entry["check_name"], entry["severity"], entry["location"]["path"],
             entry["location"]["lines"]["begin"]) for entry in entries]
    check(told == [(f"{one['rule']}: {one['message']}", one["rule"], levels[one["severity"]], one["file"], one["line"])
                   for one in still_there(parsed(read(report)))], "not what the JSON report holds")


def undone(text, escapes):
    for escape, character in escapes:
        text = text.replace(escape, character)
    return text


def command_of(line):
    """A workflow command: `::name key=value,key=value::data`, blanks around the properties dropped; `%25` is undone last."""
    data_escapes = [("%0D", "\r"), ("%0A", "\n"), ("%25", "%")]
    head, _, data = line.lstrip()[2:].partition("::")
    name, _, properties = head.partition(" ")
    values = dict(part.split("=", 1) for part in properties.strip().split(",") if "=" in part)
    return name, {key: undone(value, data_escapes[:2] + [("%3A", ":"), ("%2C", ",")] + data_escapes[2:])
                  for key, value in values.items()}, undone(data, data_escapes)


def expected_annotations(report):
    """One a puzzle, one a finding about a file: level, file, line, and the lines of the message without the play."""
    places = {}
    for at, one in enumerate(still_there(report)):
        places.setdefault((one["file"], one["puzzle"], None if one["puzzle"] else at), []).append(one)
    for findings in places.values():
        findings.sort(key=lambda one: (one["status"] == "still", ["error", "warning", "note"].index(one["severity"])))
        head = findings[0]
        title = (f"{head['puzzle']}: " if head["puzzle"] else "") + head["rule"]
        title += f" and {len(findings) - 1} more" if len(findings) > 1 else ""
        words = [one["message"] if len(findings) == 1 else f"{one['rule']}: {one['message']}" for one in findings]
        before = [" (was there before)" if one["status"] == "still" else "" for one in findings]
        yield ({"error": "error", "warning": "warning", "note": "notice"}[head["severity"]], shown(head["file"]), str(head["line"]),
               shown(title).rstrip(), tuple(shown(word) + old for word, old in zip(words, before)))


def read_annotations(report, name):
    text = read(name).decode()
    told = []
    for line in text.split("\n")[:-1]:
        check(line.startswith("::") and "\r" not in line, "no command in a line: " + line)
        level, properties, data = command_of(line)
        check(set(properties) <= {"file", "line", "endLine", "col", "endColumn", "title"}, properties)
        told.append((level, properties.get("file"), properties.get("line"), properties.get("title"),
                     tuple(words for words in data.split("\n") if not words.startswith("    "))))
    expected = Counter(expected_annotations(parsed(read(report))))
    check(Counter(told) == expected, f"told {Counter(told) - expected}, expected {expected - Counter(told)}")


def read_matched(matcher, report, name):
    levels = {"error": "error", "warning": "warning", "note": "notice"}
    found = []
    for line in read(name).decode().split("\n"):
        for one in parsed(read(matcher))["problemMatcher"]:
            pattern = one["pattern"][0]
            if match := re.fullmatch(pattern["regexp"], line):
                severity = match[pattern["severity"]] if "severity" in pattern else one["severity"]
                words = re.sub(r" \((new|still)?(, )?(proved|searched|open)?\)$", "", match[pattern["message"]])
                found.append((match[pattern["file"]], int(match[pattern["line"]]), int(match[pattern["column"]]), severity, words))
    expected = Counter((shown(one["file"]), one["line"], one["column"], levels[one["severity"]],
                        shown(f"{one['rule']}: {one['message']}")) for one in still_there(parsed(read(report))))
    check(Counter(found) == expected, f"found {Counter(found) - expected}, expected {expected - Counter(found)}")


KINDS = {"json": (read_json, 1, 1), "jsonl": (read_lines, 1, 2), "code-quality": (read_code_quality, 1, 2),
         "annotations": (read_annotations, 0, 2), "matcher": (read_matched, 1, 2)}
reader, shared, each = KINDS[sys.argv[1]]
common, files = sys.argv[2:2 + shared], sys.argv[2 + shared:]
assert files and len(files) % each == 0, __doc__
for first in range(0, len(files), each):
    reader(*common, *files[first:first + each])
print("\n".join(faults[:10]))
sys.exit(1 if faults else 0)
