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
        }
      }
    },
    "puzzles": {
      "type": "array",
      "description": "Only with --detail puzzles.",
      "items": {
        "type": "object",
        "required": ["id", "file", "line", "fen", "goal", "goal_stated", "key", "motifs"],
        "properties": {
          "id": {"type": "string"},
          "file": {"type": "string"},
          "line": {"type": "integer", "minimum": 1},
          "fen": {"type": "string"},
          "goal": {"type": "string"},
          "goal_stated": {"type": "boolean"},
          "key": {
            "type": ["object", "null"],
            "required": ["san", "verdict", "certainty", "score", "mate_in"],
            "properties": {
              "san": {"type": "string"},
              "verdict": {"enum": ["mates", "wins", "holds", "best", "falls short", "open"]},
              "certainty": {"enum": ["proved", "searched", "open"]},
              "score": {"type": ["number", "null"], "description": "Pawns, seen from the solver."},
              "mate_in": {"type": ["integer", "null"], "description": "Negative: the defender mates."}
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
          "fix": {"type": "null"}
        }
      }
    }
  }
}
)schema";
}

} // namespace report
