"""Holds a JSON file against a JSON schema of any draft: validate.py SCHEMA FILE. Says what is wrong and ends with 1."""

import json
import sys

import jsonschema


def refuse_constant(name):
    raise ValueError(f"{name} is no JSON")


with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
with open(sys.argv[2], encoding="utf-8") as file:
    written = json.load(file, parse_constant=refuse_constant)
validator = jsonschema.validators.validator_for(schema)
validator.check_schema(schema)
faults = list(validator(schema, format_checker=jsonschema.FormatChecker()).iter_errors(written))
for fault in faults[:10]:
    print("/".join(str(step) for step in fault.absolute_path), fault.message[:300])
sys.exit(1 if faults else 0)
