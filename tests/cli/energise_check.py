#!/usr/bin/env python3
"""What must stand before power: shown by just the readings that show it, with the exit status that follows.

    energise_check.py --ringtrue BINARY

A small panel has a job whose readings show all that readings can. Each of them is left out in turn, or made otherwise, or
an end is lifted: then just the conditions that hang on it aren't shown, and the status is 1.
"""

import argparse
import csv
import itertools
import json
import subprocess
import tempfile
from pathlib import Path

TABLES = {
    "conductors": ["wire,from,to,colour", "1,X0:L1,Q1:1,BK", "2,Q1:2,G1:L,BK", "3,X0:N,G1:N,BU", "4,X0:PE.ext,G1:PE,GNYE",
                   "5,G1:+,X1:1,BU", "6,G1:-,X1:2,BU", "7,X1:1,A1:L+,BU", "8,X1:2,A1:M,BU", "9,Q1:1,F1:L,BK",
                   "10,X0:PE.ext,F1:PE,GNYE"],
    "parts": ["part,kind,a,b", "X0:L1,terminal,int,ext", "X0:N,terminal,int,ext", "X0:PE,pe-terminal,int,ext", "Q1,breaker,1,2",
              "G1,input,L,N", "G1,supply,+,-", "X1:1,terminal,int,ext", "X1:2,terminal,int,ext", "A1,electronics,L+,M", "F1,surge,L,PE"],
    "potentials": ["name,kind,volts,point", "L1,ac-line,230,X0:L1.ext", "N,ac-neutral,0,X0:N.ext", "PE,pe,0,PE",
                   "+24V,dc+,24,G1:+", "0V,dc-,0,G1:-"],
}
POINTS = ["X0:L1.ext", "X0:N.ext", "PE", "G1:+", "G1:-"]
INSULATION = ("X0:L1.ext", "PE", "OL", "A1=unplugged", "insulation")      # shows that the two are apart as well
EARTH = [("X0:PE.int", "F1:PE", "beep", "", ""), ("X0:PE.int", "G1:PE", "beep", "", ""),
         ("PE", "X0:PE.int", "beep", "", "")]
APART = [(a, b, "open", "", "") for a, b in itertools.combinations(POINTS, 2) if (a, b) != INSULATION[:2]]
LIVE = [(a, b, "beep", "", "") for a, b in (("X0:L1.ext", "Q1:1"), ("Q1:1", "F1:L"), ("Q1:1", "G1:L"), ("G1:+", "A1:L+"),
                                            ("G1:+", "X1:1.ext"))]
READINGS = [*EARTH, *APART, *LIVE, INSULATION]
CHANGE = "2026-03-02T07:49:00+01:00,wireman A,temporary-made,G1:PE,end lifted,E001"


class Check:
    def __init__(self, binary, folder):
        self.binary, self.folder, self.number = binary, folder, 0
        for name, lines in TABLES.items():
            (folder / "drawn").mkdir(exist_ok=True)
            (folder / "drawn" / f"{name}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")

    def verify(self, what, readings, not_shown, change=False):
        self.number += 1
        taken = self.folder / f"taken{self.number}"
        taken.mkdir()
        with open(taken / "readings.csv", "w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([("from", "to", "value", "conditions", "method", "time"),
                                        *((*r, "2026-03-02T07:30:00+01:00") for r in readings)])
        if change:
            (taken / "events.csv").write_text(f"time,by,kind,points,text,id\n{CHANGE}\n", encoding="utf-8")
        job = self.folder / f"{self.number}.rtj"
        subprocess.run([self.binary, "job", "new", job, self.folder / "drawn", "--readings", taken / "readings.csv"],
                       capture_output=True, check=True)
        done = subprocess.run([self.binary, "energise", job, "--json"], capture_output=True)
        found = {b["id"] for b in json.loads(done.stdout)["before"] if b["state"] == "not-shown"}
        if found != not_shown or done.returncode != (1 if not_shown else 0):
            raise SystemExit(f"energise_check.py: {what}: status {done.returncode}, not shown {sorted(found)}, "
                             f"expected {sorted(not_shown)}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True, type=Path)
    binary = parser.parse_args().ringtrue.resolve()
    with tempfile.TemporaryDirectory() as folder:
        check = Check(binary, Path(folder))
        check.verify("all readings", READINGS, set())
        for group, not_shown in ((EARTH, {"protective-conductor"}), (APART, {"potentials-apart"}), (LIVE, {"wiring"}),
                                 ([INSULATION], {"insulation", "potentials-apart"})):
            for reading in group:
                check.verify(f"without {reading}", [r for r in READINGS if r != reading], not_shown)
        others = READINGS[:-1]
        check.verify("plugged in", [*others, (*INSULATION[:3], "", "insulation")], {"insulation"})
        check.verify("too low", [*others, (*INSULATION[:2], "0.9M", *INSULATION[3:])], {"insulation"})
        check.verify("just enough", [*others, (*INSULATION[:2], "1M", *INSULATION[3:])], set())
        check.verify("another method", [*others, (*INSULATION[:4], "ohms")], {"insulation"})
        check.verify("contradiction", [*READINGS, ("X0:N.ext", "G1:N", "open", "", "")], {"contradictions"})
        parted = [(r[0], r[1], r[2], "Q1=off", "") if r in APART else r for r in READINGS]
        check.verify("with the breaker off", parted, {"potentials-apart"})
        stale = {"protective-conductor", "potentials-apart", "insulation"}      # whatever was read on the lifted end's net
        check.verify("a lifted end", READINGS, {"temporary-changes", *stale}, change=True)
        print(f"energise_check.py: {check.number} jobs")


if __name__ == "__main__":
    main()
