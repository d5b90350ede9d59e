#!/usr/bin/env python3
"""Checks that verbs print the same bytes and end the same way whatever the number of threads.

    threads_check.py --ringtrue PATH --make-plant PATH

On the demo panel with its faults, from its CSV files and from XML, on a small generated plant, and on one so large
that its files and readings are worked at in parts: as it is, and with mistakes in its rows.
"""

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

DEMO = Path(__file__).resolve().parent.parent.parent / "netlists" / "grain-dryer"
NUMBERS = (1, 2, 3, 7)


def answer(command, is_refused=False):
    done = subprocess.run([str(c) for c in command], capture_output=True)
    if is_refused == (done.returncode in (0, 1)) or not (done.stderr if is_refused else done.stdout):
        sys.exit(f"threads_check.py: exit status {done.returncode}: {' '.join(map(str, command))}\n{done.stderr.decode()}")
    return done.returncode, done.stdout, done.stderr


def calls(plant):
    demo_meters = ["--meter", DEMO / "meters.csv"]
    for netlist in (DEMO, DEMO / "netlist.xml"):
        yield ["compare", netlist, DEMO / "readings.csv", *demo_meters]
        yield ["check", netlist]
        yield ["trace", netlist]
    yield ["plan", DEMO]
    yield ["compare", plant / "conductors.csv", plant / "readings.csv"]
    yield ["check", plant]
    yield ["trace", plant]
    yield ["plan", plant / "conductors.csv"]


def break_rows(plant, broken):
    """Files of the plant with mistakes here and there; what is told of them is told in the order of the rows."""
    broken.mkdir()

    def write(name, source, change):
        rows = (plant / source).read_text(encoding="utf-8").splitlines()
        rows[7_000::9_000] = [change(row) for row in rows[7_000::9_000]]
        (broken / name).write_text("\n".join(rows) + "\n", encoding="utf-8")

    write("conductors.csv", "conductors.csv", lambda row: row + ",one,cell,more")
    write("points.csv", "readings.csv", lambda row: row.replace(":", ":no", 1))
    write("values.csv", "readings.csv", lambda row: row.replace("beep", "buzz").replace("open", "buzz"))


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--make-plant", required=True)
    options = parser.parse_args()
    differ, looked_at = [], 0
    with tempfile.TemporaryDirectory() as folder:
        plant, large, broken = (Path(folder) / name for name in ("plant", "large", "broken"))
        for place, conductors in ((plant, 6000), (large, 60000)):
            subprocess.run([options.make_plant, place, str(conductors)], check=True, stdout=subprocess.DEVNULL)
        break_rows(large, broken)
        asked = [(call, False) for call in calls(plant)]
        for readings, is_refused in ((large / "readings.csv", False), (broken / "points.csv", False),
                                     (broken / "values.csv", True)):
            asked += [(["compare", large / "conductors.csv", readings], is_refused)]
        asked += [(["check", broken / "conductors.csv"], True)]
        for call, is_refused in asked:
            # The short text leaves out most of what the JSON has; a plan's JSON is its text and the proof in full.
            command = [options.ringtrue, *call, "--json"]
            alone = answer([*command, "--threads", NUMBERS[0]], is_refused)
            looked_at += 1
            for number in NUMBERS[1:]:
                if answer([*command, "--threads", number], is_refused) != alone:
                    differ.append(f"--threads {number}: {' '.join(map(str, call))}")
    for line in differ:
        print(f"threads_check.py: differs from --threads 1: {line}", file=sys.stderr)
    print(f"{looked_at} calls with --threads {', '.join(map(str, NUMBERS))}: {len(differ)} answers differ")
    sys.exit(1 if differ else 0)


if __name__ == "__main__":
    main()
