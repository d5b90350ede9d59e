#!/usr/bin/env python3
"""A revision C of the grain dryer: what `retest` says of it, from files and from a job, and that it is enough.

    retest_check.py --ringtrue BINARY [--accept]

--accept writes what the command says now into retest_revision_c.txt beside this script.
"""

import argparse
import csv
import json
import random
import subprocess
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "netlists/grain-dryer"
READINGS = DEMO / "readings-good.csv"
EXPECTED = Path(__file__).with_name("retest_revision_c.txt")


def table(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write(path, rows):
    fields = list(rows[0])
    with open(path, "w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, fields)
        out.writeheader()
        out.writerows(rows)


class Drawing:
    """The demo's drawing in a folder of its own, with other rows."""

    def __init__(self, folder):
        folder.mkdir()
        self.folder = folder
        self.tables = {name: table(DEMO / f"{name}.csv") for name in ("conductors", "parts", "channels", "potentials", "panel")}

    def wire(self, number):
        (row,) = [row for row in self.tables["conductors"] if row["wire"] == number]
        return row

    def save(self):
        for name, rows in self.tables.items():
            write(self.folder / f"{name}.csv", rows)
        return self.folder


def revision_c(folder):
    drawing = Drawing(folder)
    conductors = drawing.tables["conductors"]
    drawing.wire("1007")["wire"] = "1957"
    drawing.wire("702")["from"] = "X2:4.ext"
    conductors.remove(next(row for row in conductors if (row["from"], row["to"]) == ("X2:17.int", "X2:18.int")))
    conductors.append({**drawing.wire("1957"), "wire": "1790", "from": "K21:12", "to": "X3:40.int", "sheet": "17.6"})
    parts = drawing.tables["parts"]
    next(row for row in parts if (row["part"], row["kind"]) == ("K1", "coil"))["ohms"] = "190"
    parts.append({**next(row for row in parts if row["part"] == "X3:1"), "part": "X3:40", "sheet": "17.6"})
    next(row for row in drawing.tables["panel"] if row["key"] == "revision")["value"] = "C"
    return drawing.save()


def other_numbers_and_order(folder):
    drawing = Drawing(folder)
    shuffled = random.Random(1)
    for row in drawing.tables["conductors"]:
        if row["wire"]:
            row["wire"] = "W" + row["wire"]
        if row["kind"] != "core":  # a bare end of a core is its side by the other end
            row["from"], row["to"] = row["to"], row["from"]
    for name in ("conductors", "parts", "channels"):
        shuffled.shuffle(drawing.tables[name])
    return drawing.save()


def other_designations(folder):
    """Every part goes by another name."""
    drawing = Drawing(folder)
    named = {"conductors": ["from", "to"], "parts": ["part", "actuated_by"], "potentials": ["point"],
             "channels": ["point", "field", "return", "common", "device", "module"]}
    parts = set()

    def renamed(name):
        part, colon, pin = name.partition(":")
        if part in ("", "-", "PE"):
            return name
        parts.add(part)
        return f"{part}9{colon}{pin}"

    for name, columns in named.items():
        for row in drawing.tables[name]:
            row.update({column: renamed(row[column]) for column in columns})
        random.Random(2).shuffle(drawing.tables[name])
    return drawing.save(), parts


class Check:
    def __init__(self, binary, folder):
        self.binary, self.folder = binary, folder

    def run(self, *words, status=0):
        done = subprocess.run([self.binary, *words], capture_output=True, cwd=ROOT, text=True)
        if done.returncode != status:
            raise SystemExit(f"retest_check.py: {words}: status {done.returncode}: {done.stderr}")
        return done.stdout

    def expect(self, what, found, wanted):
        if found != wanted:
            raise SystemExit(f"retest_check.py: {what}: found\n{found}\nexpected\n{wanted}")

    def numbers_alone(self):
        later = other_numbers_and_order(self.folder / "renumbered")
        said = json.loads(self.run("retest", DEMO, later, READINGS, "--json"))
        self.expect("readings valid after a renumbering", {one["validity"] for one in said["readings"]}, {"valid"})
        self.expect("readings to take after a renumbering", said["to_take"], [])
        numbered = [row for row in table(DEMO / "conductors.csv") if row["wire"]]
        self.expect("labels", len(said["labels"]), 2 * len(numbered))

    def names_alone(self):
        later, parts = other_designations(self.folder / "renamed")
        said = json.loads(self.run("retest", DEMO, later, READINGS, "--json"))
        self.expect("renamed parts", {(one["before"], one["after"]) for one in said["renamed"]},
                    {(part, f"{part}9") for part in parts})
        self.expect("readings valid after a renaming", {one["validity"] for one in said["readings"]}, {"valid"})
        self.expect("changes", [said[key]["changes"] for key in ("conductors", "parts")], [[], []])
        self.expect("channels and potentials", said["channels"] + said["potentials"], [])

    def what_is_left_is_enough(self, later):
        """The readings that stay valid and those to be taken, together, leave nothing to plan."""
        said = json.loads(self.run("retest", DEMO, later, READINGS, "--json"))
        valid = {one["id"] for one in said["readings"] if one["validity"] == "valid"}
        rows = [row for row in table(READINGS) if row["id"] in valid]
        for taken in said["to_take"]:
            value = taken["expect"] if taken["expect"] != "ohms" else str((taken["ohms"]["lo"] + taken["ohms"]["hi"]) / 2)
            rows.append({**dict.fromkeys(rows[0], ""), "from": taken["from"], "to": taken["to"], "value": value,
                         "conditions": taken["conditions"], "id": taken["id"]})
        write(self.folder / "both.csv", rows)
        plan = json.loads(self.run("plan", later, "--done", self.folder / "both.csv", "--json"))
        self.expect("readings left to plan", plan["readings"], [])
        self.expect("elements proven", plan["summary"]["proven_before"], said["summary"]["targets"] - said["summary"]["not_covered"])

    def jobs(self, later, wanted):
        job = self.folder / "gd1.rtj"
        self.run("job", "new", job, DEMO, "--readings", READINGS)
        self.expect("retest JOB NEW", self.run("retest", job, later), wanted)
        said = self.run("job", "revise", job, later)
        words = said.partition("ringtrue ")[2].partition("  to be read again")[0].split()
        self.expect("the command that revise names", words, ["retest", str(DEMO), str(later), str(job)])
        self.expect(f"{' '.join(words)}", self.run(*words), wanted)
        done = subprocess.run([self.binary, "retest", job, later, READINGS], capture_output=True, text=True)
        self.expect("readings beside a job", (done.returncode, "a job holds its own readings" in done.stderr), (2, True))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--accept", action="store_true")
    call = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        check = Check(str(Path(call.ringtrue).resolve()), Path(folder))
        later = revision_c(Path(folder) / "revision-c")
        said = check.run("retest", DEMO, later, READINGS)
        if call.accept:
            EXPECTED.write_text(said, encoding="utf-8")
        check.expect("revision C", said, EXPECTED.read_text(encoding="utf-8"))
        check.what_is_left_is_enough(later)
        check.numbers_alone()
        check.names_alone()
        check.jobs(later, said)
    print("retest_check.py: revision C is told from files and from a job, and what is left is enough")


if __name__ == "__main__":
    main()
