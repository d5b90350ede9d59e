#!/usr/bin/env python3
"""Checks the sheet of `ringtrue analog` by Python's csv reader, and that what was seen lands in a job, once and whole.

    analog_check.py --ringtrue BINARY
"""

import argparse
import csv
import io
import sqlite3
import subprocess
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "netlists" / "grain-dryer"
FORMULAS = ("=1+1", "+1", "-1", "@x", "\t=1")


def expect(condition, text):
    if not condition:
        raise SystemExit(f"analog_check.py: {text}")


def run(binary, *words):
    return subprocess.run([binary, *words], capture_output=True)


def sheet_of(binary, netlist):
    done = run(binary, "analog", netlist, "--all", "--csv")
    expect(done.returncode == 0, f"--csv ends with {done.returncode}: {done.stderr.decode()}")
    return list(csv.DictReader(io.StringIO(done.stdout.decode("utf-8"), newline="")))


def check_sheet(binary):
    rows = sheet_of(binary, DEMO)
    by_channel = {}
    for row in rows:
        expect(row["seen"] == row["verdict"] == row["initials"] == "", f"filled in already: {row}")
        by_channel.setdefault(row["tag"], []).append(row)
    with open(DEMO / "channels.csv", encoding="utf-8") as file:
        drawn = {row["tag"]: row for row in csv.DictReader(file) if row["type"] in ("AI", "AO")}
    expect(list(by_channel) == list(drawn), f"channels: {list(by_channel)}")
    for tag, points in by_channel.items():
        low, high = float(drawn[tag]["low"]), float(drawn[tag]["high"])
        meaning = "shows" if drawn[tag]["type"] == "AI" else "give"
        for point, share in zip(points, (0, 0.25, 0.5, 0.75, 1)):
            expect(abs(float(point[meaning]) - (low + share * (high - low))) < 0.001, f"{tag}: {point}")
            expect(point[f"{meaning}_unit"] == drawn[tag]["unit"], f"{tag}: {point}")


def check_formulas(binary, folder):
    """Text that a spreadsheet would calculate is text; numbers below zero stay numbers."""
    (folder / "conductors.csv").write_text("wire,from,to\n1,A1:0,X1:1\n", encoding="utf-8")
    with open(folder / "channels.csv", "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["point", "type", "text", "signal", "low", "high", "unit"])
        for number, text in enumerate(FORMULAS):
            writer.writerow([f"A1:{number}", "AI", text, "+-10V", -50, 50, "=degC()"])
    rows = sheet_of(binary, folder)
    expect(len(rows) == 5 * len(FORMULAS), f"{len(rows)} rows")
    for row in rows:
        for column, cell in row.items():
            is_number = column in ("percent", "give", "shows", "raw")
            expect(is_number or not cell.startswith(tuple("=+-@\t")), f"{column}: {cell!r}")
    expect([row["give"] for row in rows[:5]] == ["-10.000", "-5.000", "0.000", "5.000", "10.000"], f"{rows[:5]}")


def results_in(job):
    connection = sqlite3.connect(job)
    try:
        columns = 'id, channel, stimulus, "at", given, expected, value, verdict, reason, "by", revision'
        return connection.execute(f"SELECT {columns} FROM result ORDER BY number").fetchall()
    finally:
        connection.close()


def check_record(binary, folder):
    job = folder / "panel.rtj"
    expect(run(binary, "job", "new", job, DEMO).returncode == 0, "the job is not made")
    seen = run(binary, "analog", job, "MOISTURE_IN", "--seen", "0=8.1,50=25")
    expect(seen.returncode == 1 and b"not recorded" in seen.stderr and results_in(job) == [], f"without --by: {seen}")
    done = run(binary, "analog", job, "MOISTURE_IN", "--seen", "0=8.1,50=25", "--by", "A. Tester")
    expect(done.returncode == 1, f"--by ends with {done.returncode}: {done.stderr.decode()}")
    wanted = [
        ("I1", "A5:0+", "simulator", "X5:1.ext; X5:5.ext", "0 %, 4.000 mA", "8 %", "8.1 %", "pass",
         "error +0.312 % of span, tolerance 0.5 %", "A. Tester", "B"),
        ("I2", "A5:0+", "simulator", "X5:1.ext; X5:5.ext", "50 %, 12.000 mA", "24 %", "25 %", "fail",
         "error +3.125 % of span, tolerance 0.5 %", "A. Tester", "B"),
    ]
    expect(results_in(job) == wanted, f"the job holds {results_in(job)}")
    output = run(binary, "analog", job, "FAN_SPEED", "--seen", "50=5.002", "--by", "A. Tester", "--tolerance", "0.1")
    expect(output.returncode == 0, f"an output ends with {output.returncode}: {output.stderr.decode()}")
    wanted.append(("I3", "A7:1+", "forced", "X5:21.ext; X5:22.ext", "50 %, 25 Hz", "5 V", "5.002 V", "pass",
                   "error +0.020 % of span, tolerance 0.1 %", "A. Tester", "B"))
    expect(results_in(job) == wanted, f"the job holds {results_in(job)}")
    failure = run(binary, "analog", job, "MOISTURE_IN", "--seen", "3.6mA=failure,21mA=43", "--by", "A. Tester")
    expect(failure.returncode == 1, f"failures end with {failure.returncode}: {failure.stderr.decode()}")
    at = "X5:1.ext; X5:5.ext"
    wanted.append(("I4", "A5:0+", "simulator", at, "-2.5 %, 3.600 mA", "failure", "failure", "pass",
                   "a failure must be told", "A. Tester", "B"))
    wanted.append(("I5", "A5:0+", "simulator", at, "106.25 %, 21.000 mA", "failure", "43 %", "fail",
                   "a failure must be told", "A. Tester", "B"))
    expect(results_in(job) == wanted, f"the job holds {results_in(job)}")
    refused = run(binary, "analog", job, "MOISTURE_IN", "--seen", "0=8,300=9", "--by", "A. Tester")
    expect(refused.returncode == 2 and results_in(job) == wanted, "a wrong call records a part of it")
    info = run(binary, "job", "info", job)
    expect(info.returncode in (0, 1), f"the job is not read back: {info.stderr.decode()}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True, type=Path)
    binary = parser.parse_args().ringtrue.resolve()
    check_sheet(binary)
    with tempfile.TemporaryDirectory() as folder:
        check_formulas(binary, Path(folder))
    with tempfile.TemporaryDirectory() as folder:
        check_record(binary, Path(folder))
    print("analog_check.py: the sheet is as drawn, no cell calculates, what was seen is recorded")


if __name__ == "__main__":
    main()
