#include "report/changes.hpp"
#include "report/report.hpp"

namespace report {

// Fields are added, never renamed or dropped; a test holds json() against this text.
std::string json_schema() {
    return R"schema({
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "sidelint report, version 1",
  "description": "What a run of sidelint check found. Paths are relative to the repository's root, with '/'.",
  "type": "object",
  "required": ["tool", "run", "summary", "findings"],
  "properties": {
    "tool": {
      "type": "object",
      "required": ["name", "version"],
      "properties": {"name": {"const": "sidelint"}, "version": {"type": "string"}}
    },
    "run": {
      "type": "object",
      "required": ["effort", "against"],
      "properties": {
        "effort": {"enum": ["draft", "review", "press"], "description": "Effort of files no override speaks of."},
        "against": {"type": ["string", "null"], "description": "Commit compared with; null when none was."}
      }
    },
    "summary": {
      "type": "object",
      "required": ["files", "puzzles", "findings", "history"],
      "properties": {
        "files": {"type": "integer", "minimum": 0},
        "puzzles": {"type": "integer", "minimum": 0, "description": "Puzzles checked; unchanged ones are not counted."},
        "findings": {
          "type": "object",
          "description": "Without those that are gone.",
          "required": ["error", "warning", "note"],
          "properties": {
            "error": {"type": "integer", "minimum": 0},
            "warning": {"type": "integer", "minimum": 0},
            "note": {"type": "integer", "minimum": 0}
          }
        },
        "history": {
          "type": "object",
          "required": ["new", "still", "gone"],
          "properties": {
            "new": {"type": "integer", "minimum": 0},
            "still": {"type": "integer", "minimum": 0},
            "gone": {"type": "integer", "minimum": 0}
          }
        },
        "accepted": {"type": "integer", "minimum": 0, "description": "Findings that the baseline accepts; they are not listed."}
      }
    },
    "puzzles": {
      "type": "array",
      "description": "Only with --detail puzzles.",
      "items": {
        "type": "object",
        "required": ["id", "file", "line", "fen", "goal", "goal_stated", "key", "motifs", "moves"],
        "properties": {
          "id": {"type": "string"},
          "file": {"type": "string"},
          "line": {"type": "integer", "minimum": 1},
          "fen": {"type": "string"},
          "goal": {"type": "string"},
          "goal_stated": {"type": "boolean"},
          "goal_from": {"enum": ["field", "caption", "line", null], "description": "What states the goal; line: it is inferred."},
          "key": {
            "type": ["object", "null"],
            "required": ["san", "verdict", "certainty", "score", "mate_in", "mate_at_most"],
            "properties": {
              "san": {"type": "string"},
              "verdict": {"enum": ["mates", "wins", "holds", "best", "falls short", "open"]},
              "certainty": {"enum": ["proved", "searched", "open"]},
              "score": {"type": ["number", "null"], "description": "Pawns, seen from the solver."},
              "mate_in": {"type": ["integer", "null"], "description": "Negative: the defender mates."},
              "mate_at_most": {"type": "boolean", "description": "The mate is proved, a shorter one is not excluded."}
            }
          },
          "motifs": {
            "type": "array",
            "items": {
              "type": "object",
              "required": ["motif", "ply", "declared", "strength", "certainty", "squares", "why"],
              "properties": {
                "motif": {"type": "string"},
                "ply": {"type": "integer", "minimum": 1, "description": "1 for the key."},
                "declared": {"type": "boolean"},
                "strength": {"enum": ["main", "supporting", "incidental"]},
                "certainty": {"enum": ["proved", "searched", "open"]},
                "squares": {"type": "array", "items": {"type": "string"}},
                "why": {"type": "string"}
              }
            }
          },
          "moves": {"type": "integer", "minimum": 0, "description": "Of the solver in the main line."}
        }
      }
    },
    "overview": {
      "type": "array",
      "description": "Only with --overview: tables that count the puzzles checked.",
      "items": {
        "type": "object",
        "required": ["by", "rows"],
        "properties": {
          "by": {"enum": ["chapter", "motif", "side to move", "goal", "length", "certainty of the key"]},
          "rows": {
            "type": "array",
            "items": {
              "type": "object",
              "required": ["name", "puzzles"],
              "properties": {"name": {"type": "string"}, "puzzles": {"type": "integer", "minimum": 1}}
            }
          }
        }
      }
    },
    "findings": {
      "type": "array",
      "items": {
        "type": "object",
        "required": ["rule", "severity", "puzzle", "file", "line", "column", "end_line", "end_column", "message",
                     "certainty", "evidence", "status", "fingerprint", "fix"],
        "properties": {
          "rule": {"type": "string"},
          "severity": {"enum": ["note", "warning", "error"]},
          "puzzle": {"type": ["string", "null"], "description": "null: about the file."},
          "file": {"type": "string"},
          "file_uri": {"type": "string", "description": "Only when the path is no UTF-8: its bytes, as a relative URI reference."},
          "line": {"type": "integer", "minimum": 1},
          "column": {"type": "integer", "minimum": 1, "description": "Code points."},
          "end_line": {"type": "integer", "minimum": 1},
          "end_column": {"type": "integer", "minimum": 1, "description": "One past the last character."},
          "message": {"type": "string"},
          "certainty": {"enum": ["proved", "searched", "open", null]},
          "evidence": {
            "type": "object",
            "required": ["line", "fen", "squares"],
            "properties": {
              "line": {"type": "array", "items": {"type": "string"}, "description": "Moves from the diagram."},
              "fen": {"type": ["string", "null"]},
              "squares": {"type": "array", "items": {"type": "string", "pattern": "^[a-h][1-8]$"}, "description": "Of the diagram, what the finding speaks of."},
              "certificate": {"type": ["string", "null"], "description": "Only with --detail proofs: the proof of the mate that the finding rests on, for sidelint verify, from the first move of the line that is not printed; null: there is no such mate, or certificate_refused."},
              "certificate_refused": {"enum": ["no_mate", "budget_ended", "too_long", "too_deep", null], "description": "Only with --detail proofs: why a mate has no certificate; too_long: more than 10000 lines (sidelint solve --certificate writes up to 100000)."}
            }
          },
          "status": {"enum": ["new", "still", "gone", null], "description": "null: nothing was compared."},
          "fingerprint": {"type": "string", "pattern": "^[0-9a-f]{16}$"},
          "fix": {
            "type": ["object", "null"],
            "description": "What sidelint fix would write; null: nothing it could.",
            "required": ["kind", "edits"],
            "properties": {
              "kind": {"enum": ["safe", "suggested"]},
              "edits": {
                "type": "array",
                "minItems": 1,
                "items": {
                  "type": "object",
                  "required": ["begin", "end", "text"],
                  "properties": {
                    "begin": {"type": "integer", "minimum": 0, "description": "First byte of the file that goes."},
                    "end": {"type": "integer", "minimum": 0, "description": "One past the last byte that goes."},
                    "text": {"type": "string", "description": "What comes in its place, quoted as the place needs it."}
                  }
                }
              }
            }
          }
        }
      }
    }
  }
}
)schema";
}

// As above; a test holds changes_json() against this text.
std::string changes_schema() {
    return R"schema({
  "$schema": "https://json-schema.org/draft/2020-12/schema",
  "title": "sidelint changes, version 1",
  "description": "What sidelint diff found between two states. Paths are relative to the repository's root, with '/'.",
  "type": "object",
  "required": ["tool", "run", "unchanged", "puzzles", "elsewhere"],
  "properties": {
    "tool": {
      "type": "object",
      "required": ["name", "version"],
      "properties": {"name": {"const": "sidelint"}, "version": {"type": "string"}}
    },
    "run": {
      "type": "object",
      "required": ["effort", "before", "after"],
      "properties": {
        "effort": {"enum": ["draft", "review", "press"], "description": "Effort of files no override speaks of."},
        "before": {"type": "string", "description": "The earlier state, as people know it."},
        "after": {"type": "string", "description": "The later one."}
      }
    },
    "unchanged": {"type": "integer", "minimum": 0, "description": "Puzzles that did not change, of files that did."},
    "puzzles": {
      "type": "array",
      "items": {
        "type": "object",
        "required": ["change", "id", "id_before", "file", "file_before", "line", "summary", "fields", "findings", "still"],
        "properties": {
          "change": {"enum": ["added", "removed", "moved", "changed"]},
          "id": {"type": "string", "description": "In the later state; of a removed puzzle in the earlier one."},
          "id_before": {"type": ["string", "null"], "description": "When it was another one."},
          "file": {"type": "string"},
          "file_before": {"type": ["string", "null"], "description": "When it was another one."},
          "line": {"type": "integer", "minimum": 1},
          "summary": {"type": ["string", "null"], "description": "Of an added or removed puzzle."},
          "fields": {
            "type": "array",
            "description": "What differs, in words.",
            "items": {
              "type": "object",
              "required": ["field", "words"],
              "properties": {
                "field": {"type": "string"},
                "words": {"type": "array", "minItems": 1, "items": {"type": "string"}}
              }
            }
          },
          "findings": {"type": "array", "items": {"$ref": "#/$defs/finding"}},
          "still": {"type": "integer", "minimum": 0, "description": "Findings that were there before."}
        }
      }
    },
    "elsewhere": {
      "type": "array",
      "description": "About files, and about puzzles that did not change.",
      "items": {"$ref": "#/$defs/finding"}
    }
  },
  "$defs": {
    "finding": {
      "type": "object",
      "required": ["status", "severity", "rule", "message", "puzzle", "file", "line", "column", "fingerprint"],
      "properties": {
        "status": {"enum": ["new", "gone"]},
        "severity": {"enum": ["note", "warning", "error"]},
        "rule": {"type": "string"},
        "message": {"type": "string"},
        "puzzle": {"type": ["string", "null"], "description": "null: about the file."},
        "file": {"type": "string"},
        "line": {"type": "integer", "minimum": 1},
        "column": {"type": "integer", "minimum": 1, "description": "Code points."},
        "fingerprint": {"type": "string", "pattern": "^[0-9a-f]{16}$"}
      }
    }
  }
}
)schema";
}

} // namespace report
