#!/usr/bin/env python3
"""Checks that verbs print the same bytes and end the same way whatever the number of threads.

    threads_check.py --ringtrue PATH --make-plant PATH

On the demo panel with its faults, from its CSV files and from XML, and on a small generated plant.
"""

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

DEMO = Path(__file__).resolve().parent.parent.parent / "netlists" / "grain-dryer"
NUMBERS = (1, 2, 3, 7)


def answer(command):
    done = subprocess.run([str(c) for c in command], capture_output=True)
    if done.returncode not in (0, 1) or not done.stdout:
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


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--make-plant", required=True)
    options = parser.parse_args()
    differ, looked_at = [], 0
    with tempfile.TemporaryDirectory() as folder:
        plant = Path(folder)
        subprocess.run([options.make_plant, plant, "6000"], check=True, stdout=subprocess.DEVNULL)
        for call in calls(plant):
            # The short text leaves out most of what the JSON has; a plan's JSON is its text and the proof in full.
            command = [options.ringtrue, *call, "--json"]
            alone = answer([*command, "--threads", NUMBERS[0]])
            looked_at += 1
            for number in NUMBERS[1:]:
                if answer([*command, "--threads", number]) != alone:
                    differ.append(f"--threads {number}: {' '.join(map(str, call))}")
    for line in differ:
        print(f"threads_check.py: differs from --threads 1: {line}", file=sys.stderr)
    print(f"{looked_at} calls with --threads {', '.join(map(str, NUMBERS))}: {len(differ)} answers differ")
    sys.exit(1 if differ else 0)


if __name__ == "__main__":
    main()
