#!/usr/bin/env python3
"""What is decided about findings, as `ringtrue job decide` and `as-built`, `compare` and the record show it.

    decisions_check.py --ringtrue BINARY
"""

import csv
import json

from record_check import EVENTS, QUICKSTART, at, expect, run_checks, write_csv


def quickstart_readings():
    with (QUICKSTART / "readings.csv").open(encoding="utf-8") as file:
        return [{key: value for key, value in row.items() if key != "meter"} for row in csv.DictReader(file)]


def decide(records, job, finding, decision, *more, status=0):
    done = records.run("job", "decide", job, finding, decision, "--by", "tester A", *more)
    expect(done.returncode == status, f"decide {finding} {decision}: {done.returncode} {done.stdout}{done.stderr}")
    return done


def states(record):
    return [row["state"] for row in record["punch"] if row["kind"] == "finding"]


def check_decisions(records):
    job = records.job("decided", quickstart_readings())
    _, record = records.record(job, 1, "open")
    expect(states(record) == ["open", "open"], f"states: {states(record)}")
    expect({row["state"] for row in record["red_lines"]} == {"proposed"}, f"red-lines: {record['red_lines']}")
    decide(records, job, "R016", "drawing")
    decide(records, job, "1", "repair", "--text", "loose clamp")
    _, record = records.record(job, 1, "decided")
    expect(states(record) == ["repair decided", "drawing to be changed"], f"states: {states(record)}")
    expect(record["holds"] == ["To be settled: 2 findings."], f"holds: {record['holds']}")
    red = [(row["state"], row["row"], row["change"]) for row in record["red_lines"]]
    expect(red == [("decided", "conductors.csv:7", "from: X1:4.int becomes X1:5.int"),
                   ("decided", "conductors.csv:16", "to: X1:5.int becomes X1:4.int")], f"red-lines: {red}")
    compared = json.loads(records.run("compare", job, "--json").stdout)
    decided = {row["cluster"]: row["decision"] for row in compared["findings"] if row["decision"]}
    expect([decided[1]["kind"], decided[1]["text"], decided[2]["kind"]] == ["repair", "loose clamp", "drawing"], f"compare: {decided}")

    done = decide(records, job, "1", "accepted", status=2)
    expect("why it is accepted" in done.stderr, f"accepted without a reason: {done.stderr}")
    decide(records, job, "1", "accepted", "--text", "wired on site")
    _, record = records.record(job, 1, "accepted")
    expect(states(record) == ["accepted", "drawing to be changed"], f"states: {states(record)}")
    expect(record["holds"] == ["To be settled: 1 finding."], f"an accepted finding holds: {record['holds']}")
    expect("tester A: wired on site" in record["punch"][0]["action"], f"{record['punch'][0]}")
    expect(any("accepted as they are" in caution for caution in record["cautions"]), f"no caution: {record['cautions']}")

    # The drawing is changed: the same readings, nothing but what was accepted.
    changed = records.work / "as-built"
    done = records.run("job", "as-built", job, changed)
    expect(done.returncode == 0 and "1 finding left" in done.stdout, f"as-built: {done.stdout}{done.stderr}")
    with (changed / "red-lines.csv").open(encoding="utf-8", newline="") as file:
        rows = [(row["row"], row["name"], row["field"], row["was"], row["is"], row["decided_by"]) for row in csv.DictReader(file)]
    expect(rows == [("conductors.csv:7", "5", "from", "X1:4.int", "X1:5.int", "tester A"),
                    ("conductors.csv:16", "14", "to", "X1:5.int", "X1:4.int", "tester A")], f"red-lines.csv: {rows}")
    # Wire 5 no longer leads to the field terminal of the channel list, which no reading can mend.
    said = " ".join(records.run("compare", changed / "netlist", QUICKSTART / "readings.csv").stdout.split())
    expect("HOPPER_FULL: drawn without a whole path; ringtrue trace shows where it stops" in said, f"compare says {said}")
    before = {path: path.read_bytes() for path in changed.rglob("*") if path.is_file()}
    expect(records.run("job", "as-built", job, changed).returncode == 2, "an existing folder was taken")
    expect(before == {path: path.read_bytes() for path in changed.rglob("*") if path.is_file()}, "and written into")
    expect(records.run("job", "revise", job, changed / "netlist", "--as-built").returncode == 0, "the changed netlist can't be added")
    _, record = records.record(job, 0, "changed")
    expect(states(record) == ["accepted", "drawing changed"] and record["ready_to_sign"], f"{states(record)} {record['holds']}")


def check_repaired_decisions(records):
    """Repaired is claimed only where a clamp was opened after the decision."""
    for name, finding, points, is_repaired in (("opened", "R015", "S1:14; A1:0.1", True), ("elsewhere", "R015", "K1:A2", False),
                                               ("either-side", "R016", "X1:4; X1:5", True)):
        job = records.job(name, quickstart_readings())
        decide(records, job, finding, "repair")
        folder = records.work / f"{name}-later"
        folder.mkdir()
        now = "2036-03-02T09:00:00+01:00"
        write_csv(folder / "events.csv", EVENTS, [{"time": now, "by": "wireman A", "kind": "repair", "points": points, "id": "E1"}])
        done = records.run("job", "import", job, "--events", folder / "events.csv")
        expect(done.returncode == 0, done.stderr)
        _, record = records.record(job, 1)
        expect(("repaired" in states(record)) == is_repaired, f"{name}: {record['punch']}")


def import_rows(records, job, name, kind, columns, rows):
    path = records.work / f"{name}.csv"
    write_csv(path, columns, rows)
    done = records.run("job", "import", job, *([path] if kind is None else [kind, path]))
    expect(done.returncode == 0, done.stderr)


def check_withdrawn(records):
    """Withdrawn is undecided, whichever of its explanations was decided before."""
    job = records.job("withdrawn", quickstart_readings())
    decide(records, job, "R015", "accepted", "--explanation", "2", "--text", "wired on site")
    _, record = records.record(job, 1, "accepted")
    expect(states(record) == ["accepted", "open"], f"{states(record)}")
    decide(records, job, "R015", "withdrawn")
    done = decide(records, job, "R015", "withdrawn", status=2)
    expect("nothing is decided about this finding" in done.stderr, f"withdrawn twice: {done.stderr}")
    _, record = records.record(job, 1, "withdrawn")
    expect(states(record) == ["open", "open"], f"withdrawn: {states(record)}")


def check_merged(records):
    """Two findings that later readings make one: what was decided of one of them is neither repaired nor gone."""
    netlist = records.work / "merged-netlist"
    netlist.mkdir()
    (netlist / "conductors.csv").write_text("wire,from,to\n1,S1:1,A1:1\n2,S2:1,A1:2\n", encoding="utf-8")
    reading = {"by": "A", "value": "open"}
    job = records.job("merged", [{**reading, "from": "S1:1", "to": "A1:1", "time": at(8), "id": "R1"}], netlist=netlist)
    decide(records, job, "R1", "accepted", "--text", "to be built later")
    records.record(job, 0, "accepted")
    later = [{**reading, "from": "S2:1", "to": "A1:2", "time": at(9), "id": "R2"},
             {**reading, "from": "S1:1", "to": "A1:2", "value": "beep", "time": at(9), "id": "R3"},
             {**reading, "from": "S2:1", "to": "A1:1", "value": "beep", "time": at(9), "id": "R4"}]
    import_rows(records, job, "merged-later", None, list(later[0]), later)
    repair = {"time": "2036-03-02T09:00:00+01:00", "by": "wireman A", "kind": "repair", "points": "S2:1", "id": "E1"}
    _, record = records.record(job, 1, "merged")
    expect(states(record) == ["open", "found otherwise now"], f"merged: {record['punch']}")
    expect(record["punch"][1]["action"] == "Decide again.", f"{record['punch']}")
    import_rows(records, job, "merged-repair", "--events", EVENTS, [repair])
    _, record = records.record(job, 1, "repaired")
    expect("repaired" not in states(record), f"merged and repaired elsewhere: {record['punch']}")


def check_renamed(records):
    """Where a revision renames what a decision speaks of, the finding is open until it is decided again."""
    job = records.job("renamed", quickstart_readings())
    decide(records, job, "R016", "accepted", "--text", "wired on site")
    later = records.work / "renamed-netlist"
    later.mkdir()
    for path in QUICKSTART.glob("*.csv"):
        if not path.name.startswith(("readings", "meters")):
            (later / path.name).write_text(path.read_text(encoding="utf-8").replace("X1:", "X71:"), encoding="utf-8")
    done = records.run("job", "revise", job, later)
    expect(done.returncode == 0, done.stderr)
    _, record = records.record(job, 1, "renamed")
    expect(states(record) == ["open", "open", "found otherwise now"], f"renamed: {states(record)}")
    decide(records, job, "R016", "accepted", "--text", "still so")
    _, record = records.record(job, 1, "again")
    expect(states(record) == ["open", "accepted"], f"decided again: {states(record)}")


def check_drawn(records):
    """The drawing was changed where a later one is as built, not where the panel was rewired to it."""
    for name, words, state in (("drawn", ("--as-built",), "drawing changed"), ("rewired", (), "no longer found")):
        job = records.job(f"is-{name}", quickstart_readings())
        decide(records, job, "R016", "drawing")
        changed = records.work / f"is-{name}-as-built"
        expect(records.run("job", "as-built", job, changed).returncode == 0, "as-built")
        expect(records.run("job", "revise", job, changed / "netlist", *words).returncode == 0, "revise")
        _, record = records.record(job, 1)
        expect(states(record)[-1] == state, f"{name}: {record['punch']}")


def check_no_text(records):
    """What a job's files could not hold is no name and no text."""
    job = records.job("no-text", quickstart_readings())
    for words in (["--by", "A\x1b[31m"], ["--by", b"A\xff"], ["--by", " "], ["--by", "A", "--text", "\x07"], ["--by", "A", "--text", b"\xfe"],
                  ["--by", "A", "--explanation", "-1"]):
        done = records.run("job", "decide", job, "R015", "repair", *words)
        expect(done.returncode == 2 and "expected" in done.stderr, f"decide {words}: {done.returncode} {done.stderr}")
    done = records.run("log", job, "--by", b"A\xff", input="")
    expect(done.returncode == 2 and "expected a name" in done.stderr, f"log: {done.returncode} {done.stderr}")


def check_wrong_calls(records):
    """What is not there is named with what is; nothing is written."""
    job = records.job("wrong-calls", quickstart_readings())
    before = job.read_bytes()
    for finding, more, told in (("3", [], 'found "3", expected the number of a finding'), ("0", [], "there are 2"), ("R999", [], "there is no such finding"),
                                ("1", ["--explanation", "99"], 'found "99", expected a number from 1 to ')):
        done = decide(records, job, finding, "repair", *more, status=2)
        expect(told in done.stderr, f"decide {finding} {more}: {done.stderr}")
    done = records.run("job", "as-built", job, records.work / "nothing-drawn")
    expect(done.returncode == 2 and "the drawing is to be changed for no finding of this job" in done.stderr, f"as-built: {done.stderr}")
    expect(not (records.work / "nothing-drawn").exists() and job.read_bytes() == before, "something was written")


def check_role(records):
    """Nobody accepts away what touches a stop circuit."""
    for role, state, holds in (("stop", "accepted, with a safety role",
                                ["To be settled: 1 finding.", "What touches a circuit with a safety role is repaired or drawn, not accepted."]),
                               ("", "accepted", [])):
        name = role or "plain"
        netlist = records.work / f"{name}-netlist"
        netlist.mkdir()
        (netlist / "conductors.csv").write_text(f"wire,from,to,role\n1,S1:1,A1:1,{role}\n", encoding="utf-8")
        job = records.job(name, [{"from": "S1:1", "to": "A1:1", "value": "open", "time": at(8), "by": "A", "id": "R1"}], netlist=netlist)
        done = decide(records, job, "R1", "accepted", "--text", "to be built later")
        expect(("safety role" in done.stdout) == bool(role), f"{name}: {done.stdout}")
        _, record = records.record(job, 1 if role else 0)
        expect(states(record) == [state] and record["holds"] == holds, f"{name}: {states(record)} {record['holds']}")
        expect("A: to be built later" in record["punch"][0]["action"], f"{name}: {record['punch']}")


if __name__ == "__main__":
    run_checks("decisions_check.py", [check_decisions, check_repaired_decisions, check_withdrawn, check_merged, check_renamed, check_drawn, check_no_text,
                                     check_wrong_calls, check_role])
