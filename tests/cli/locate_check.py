#!/usr/bin/env python3
"""`locate` with a job: what it records, what it takes of the readings there, and how findings and priors turn it.

    locate_check.py --ringtrue BINARY
"""

import argparse
import csv
import json
import subprocess
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "netlists/grain-dryer"
CHANNEL = "START"


class Check:
    def __init__(self, binary, folder):
        self.binary, self.folder = binary, Path(folder)
        self.job = self.folder / "gd1.rtj"

    def run(self, *words, status=(0, 1)):
        done = subprocess.run([self.binary, *words], capture_output=True, cwd=ROOT)
        if done.returncode not in status:
            raise SystemExit(f"locate_check.py: {words}: status {done.returncode}: {done.stderr.decode()}")
        return done.stdout.decode(), done.stderr.decode()

    def locate(self, *words, netlist=None, status=(0, 1)):
        out, said = self.run("locate", netlist or self.job, *words, "--json", status=status)
        return (json.loads(out) if out else None), said

    def readings(self):
        target = self.folder / f"export{len(list(self.folder.iterdir()))}"
        self.run("job", "export", self.job, target)
        with open(target / "readings.csv", encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def expect(self, what, found, wanted):
        if found != wanted:
            raise SystemExit(f"locate_check.py: {what}: {found!r}, expected {wanted!r}")

    def records(self):
        before = self.readings()
        answer, said = self.locate(CHANNEL, "--volts", "G1:+=24.1", "--volts", "S2:13=24")
        self.expect("without --by", len(self.readings()), len(before))
        self.expect("said so", "not recorded" in said, True)
        recorded, said = self.locate(CHANNEL, "--volts", "G1:+=24.1", "--volts", "S2:14=0", "--by", "tester A")
        self.expect("recorded", said.splitlines()[-1], f"recorded in {self.job}: R1084 R1085")
        rows = [{k: r[k] for k in ("id", "from", "to", "value", "by", "conditions", "note")} for r in self.readings()[-2:]]
        self.expect("rows", rows, [
            {"id": "R1084", "from": "G1:+", "to": "G1:-", "value": "24.1 V", "by": "tester A",
             "conditions": "power=on;S2=operated", "note": "dark A2:1.0"},
            {"id": "R1085", "from": "S2:14", "to": "G1:-", "value": "0 V", "by": "tester A",
             "conditions": "power=on;S2=operated", "note": "dark A2:1.0"}])
        taken, _ = self.locate(CHANNEL)
        self.expect("taken", taken["taken"], [{"id": "R1084", "point": "G1:+", "volts": 24.1},
                                              {"id": "R1085", "point": "S2:14", "volts": 0}])
        for key in ("suspects", "next", "left", "outcome"):
            self.expect(f"{key} as if given", taken[key], recorded[key])
        self.expect("the contact", taken["outcome"].split(" from ")[0], "No current passes contact S2:13-14")
        _, said = self.locate(CHANNEL, "--volts", "G1:+=24", "--by", "A", netlist=DEMO, status=(2,))
        self.expect("no job", "--by: voltages are recorded in a job" in said, True)
        over, _ = self.locate(CHANNEL, "--volts", "S2:14=24")
        self.expect("a value given goes before one of the job", over["suspects"] == taken["suspects"], False)

    def odd_volts(self):
        held, _ = self.locate("GAS_PRESSURE", "--volts", "G1:+=24,1", "--volts", "X13:5.ext=-0.02", netlist=DEMO)
        plain, _ = self.locate("GAS_PRESSURE", "--volts", "G1:+=24.1", "--volts", "X13:5.ext=0", netlist=DEMO)
        self.expect("a hair below 0", held["suspects"], plain["suspects"])
        text, _ = self.run("locate", DEMO, "GAS_PRESSURE", "--volts", "G1:+=-24")
        self.expect("exchanged leads", "below 0 V: the leads are exchanged" in " ".join(text.split()), True)
        for wrong in ("nan", "inf", "", "lit", "24 ohm", "24x"):
            _, said = self.locate("GAS_PRESSURE", "--volts", f"G1:+={wrong}", netlist=DEMO, status=(2,))
            self.expect(f"{wrong} refused", "expected volts after the =" in said, True)

    def goes_stale(self):
        events = self.folder / "events.csv"
        events.write_text("time,by,kind,points,text,id\n2100-01-01T00:00:00Z,wireman A,repair,S2:13,wire 1102,E1\n")
        self.run("job", "import", self.job, "--events", events)
        answer, _ = self.locate(CHANNEL)
        self.expect("stale", answer["not_taken"], [{"id": "R1084", "why": "stale"}, {"id": "R1085", "why": "stale"}])
        self.expect("the supply again", answer["next"], "G1:+")

    def finding_names_it(self):
        job = self.folder / "faults.rtj"
        self.run("job", "new", job, DEMO, "--readings", DEMO / "readings.csv")
        answer, _ = self.locate("HOPPER_AUGER_TURNS", netlist=job)
        self.expect("finding", [(f["cluster"], [answer["segments"][i]["name"] for i in f["segments"]])
                                for f in answer["findings"]], [(1, ["X2:2"])])
        likely, _ = self.locate("HOPPER_AUGER_TURNS", "--likely", "--volts", "G1:+=24", netlist=job)
        self.expect("parted off first", likely["next"] in ("X2:2.ext", "X13:6.int", "X13:6.ext"), True)

    def priors_turn_it(self):
        priors = self.folder / "priors.toml"
        priors.write_text("blown_fuse = 0.3\n")
        words = ("GAS_PRESSURE", "--likely", "--volts", "G1:+=24", "--priors", priors)
        answer, _ = self.locate(*words, netlist=DEMO)
        self.expect("behind the fuse first", answer["next"], "X2:1.ext")
        self.expect("weight", next(s["weight"] for s in answer["segments"] if s["name"] == "X2:1"), 0.3)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True, type=Path)
    with tempfile.TemporaryDirectory() as folder:
        check = Check(parser.parse_args().ringtrue.resolve(), folder)
        check.run("job", "new", check.job, DEMO, "--readings", DEMO / "readings-good.csv")
        check.records()
        check.odd_volts()
        check.goes_stale()
        check.finding_names_it()
        check.priors_turn_it()
    print("locate_check.py: recorded, taken, gone stale; findings and priors")


if __name__ == "__main__":
    main()
