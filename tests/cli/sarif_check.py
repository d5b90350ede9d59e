#!/usr/bin/env python3
"""Checks what `ringtrue check --sarif` prints (SARIF 2.1.0, OASIS).

    sarif_check.py BINARY

What this script knows of the format is always checked: rules and their indices, levels, and that each place is a line
of a file that is there. The OASIS schema is not shipped; where the npm package @microsoft/jest-sarif lies in
node_modules of the source tree, or RINGTRUE_SARIF_SCHEMA names a schema file, the output is validated against it too.
"""

import json
import os
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote

import jsonschema

ROOT = Path(__file__).resolve().parent.parent.parent
DRAWINGS = ["netlists/quickstart", "netlists/grain-dryer", "netlists/grain-dryer/netlist.xml", "tests/golden/inputs/small",
            "tests/golden/inputs/drawing", "tests/golden/inputs/small/conductors.csv"]
LEVEL_OF = {"notice": "note", "warning": "warning", "error": "error"}


def expect(condition, text):
    if not condition:
        raise SystemExit(f"sarif_check.py: {text}")


def output_of(binary, drawing, form):
    done = subprocess.run([binary, "check", drawing, form], capture_output=True, cwd=ROOT)
    expect(done.returncode in (0, 1), f"{drawing}: status {done.returncode}: {done.stderr.decode()}")
    return json.loads(done.stdout.decode("utf-8"))


def schema():
    named = os.environ.get("RINGTRUE_SARIF_SCHEMA")
    found = [Path(named)] if named else sorted(ROOT.glob("node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0*.json"))
    return json.loads(found[0].read_text(encoding="utf-8")) if found else None


def place_of(location):
    physical = location["physicalLocation"]
    file = unquote(physical["artifactLocation"]["uri"])
    line = physical.get("region", {}).get("startLine", 0)
    path = ROOT / file
    expect(path.is_file(), f"no such file: {file}")
    expect(line == 0 or 1 <= line <= len(path.read_text(encoding="utf-8").splitlines()), f"no such line: {file}:{line}")
    return file, line


def check_log(log, report):
    """The log against the output of --json, which has a schema of its own."""
    expect(log["version"] == "2.1.0" and len(log["runs"]) == 1, "not one run of version 2.1.0")
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    expect(len({rule["id"] for rule in rules}) == len(rules), "a rule is listed twice")
    results = log["runs"][0]["results"]
    expect(len(results) == len(report["problems"]), "not as many results as problems")
    for result, problem in zip(results, report["problems"]):
        expect(result["ruleId"] == problem["rule"] == rules[result["ruleIndex"]]["id"], f"not its rule: {result}")
        expect(result["level"] == LEVEL_OF[problem["severity"]], f"not its level: {result}")
        expect(result["message"]["text"] == problem["reason"], f"not its reason: {result}")
        places = [place_of(location) for location in result["locations"] + result.get("relatedLocations", [])]
        expect(places == [(row["file"], row["line"]) for row in problem["rows"]], f"not its rows: {result}")


def main():
    if len(sys.argv) != 2:
        raise SystemExit("usage: sarif_check.py BINARY")
    binary = Path(sys.argv[1]).resolve()
    oasis = schema()
    validator = jsonschema.validators.validator_for(oasis)(oasis) if oasis else None
    for drawing in DRAWINGS:
        log = output_of(binary, drawing, "--sarif")
        check_log(log, output_of(binary, drawing, "--json"))
        for error in validator.iter_errors(log) if validator else []:
            expect(False, f"{drawing}: {'/'.join(map(str, error.absolute_path))}: {error.message}")
    print(f"sarif_check.py: {len(DRAWINGS)} logs are right, {'valid by the schema' if validator else 'no schema is here'}")


if __name__ == "__main__":
    main()
