#!/usr/bin/env python3
"""Every single break in every loop of a digital input of the grain dryer, followed to its segment by `locate`.

    locate_scipy.py --ringtrue BINARY

The voltages come from an independent solution of the powered panel with a meter of 1 MΩ. Once the supply has shown its
own, at most the logarithm to base 2 of the number of segments, rounded up, are needed. A break that leaves the input
lit, as one in a ring does, is none to be found. The segments must be a walk of the drawing's own rows.
"""

import argparse
import json
import math
import random
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests/support"))
from plain_panel import Element, Panel, read_csv  # noqa: E402
from powered_panel import PoweredPanel  # noqa: E402

NETLIST = "netlists/grain-dryer"
LIT_VOLTS = 11.0          # IEC 61131-2, type 3, from memory: lit from 11 V
INPUT_OHMS = 4000


class Locator:
    def __init__(self, binary):
        self.binary, self.answers = binary, {}

    def ask(self, channel, volts=()):
        key = (channel, *volts)
        if key not in self.answers:
            call = [self.binary, "locate", NETLIST, channel, "--json", *(w for v in volts for w in ("--volts", v))]
            done = subprocess.run(call, capture_output=True, cwd=ROOT, timeout=60)
            if done.returncode not in (0, 1):
                raise SystemExit(f"locate_scipy.py: {key}: {done.stderr.decode()}")
            self.answers[key] = json.loads(done.stdout)
        return self.answers[key]


def built(channel, segments, broken, seed):
    """The panel with the input driven by a jumper for its device, and one segment broken."""
    panel = Panel.load(ROOT / NETLIST)
    inputs = {c["point"] for c in panel.rows("channels") if c["type"] == "DI"}
    panel.elements = [replace(e, ohms=INPUT_OHMS) if e.kind == "electronics" and e.a in inputs else e
                      for e in panel.elements]
    for number, s in enumerate(segments):
        if s["kind"] == "device":
            panel.elements.append(Element("jumper", "join", s["from"], s["to"], broken=number == broken))
            continue
        rows = [i for i, e in enumerate(panel.elements) if {e.a, e.b} == {s["from"], s["to"]} and
                (s["kind"] == "module" or e.name in (s["name"], s["name"].partition(":")[0], f"{s['from']}-{s['to']}",
                                                     f"{s['to']}-{s['from']}") or not e.row.get("wire"))]
        if len(rows) != 1:
            raise SystemExit(f"locate_scipy.py: {channel}: {len(rows)} rows are {s}")
        if number == broken:
            panel.elements[rows[0]] = replace(panel.elements[rows[0]], broken=True)
    return PoweredPanel(panel, random.Random(seed))


def follow(locator, channel, first, broken):
    """Number of voltages after the first, or None where the input stays lit."""
    segments = first["segments"]
    powered = built(channel, segments, broken, f"{channel} {broken}")
    solution = list(powered.states({}, True))[-1][1]
    module = next(s for s in segments if s["kind"] == "module")
    if abs(solution.open_volts(module["from"], module["to"])) > LIT_VOLTS and segments[broken]["kind"] != "module":
        s = segments[broken]
        if s["kind"] == "element" and s["to"] not in powered.copper({})[s["from"]]:
            raise SystemExit(f"locate_scipy.py: {channel}: lit past {s}")
        return None
    answer, volts = first, []
    while answer["next"] is not None:
        shown = solution.metered(answer["next"], answer["minus"]).real
        volts.append(f"{answer['next']}={shown:.1f}")
        answer = locator.ask(channel, volts)
    if answer["suspects"] != [broken] or answer["contradictory"]:
        raise SystemExit(f"locate_scipy.py: {channel}: segment {broken} is broken, {volts} gave {answer['outcome']}")
    return len(volts) - 1


def verify_narrowed(locator, channel):
    """Number of segments that the readings of a job take from the suspects."""
    with tempfile.TemporaryDirectory() as folder:
        job, readings = Path(folder) / "job.rtj", ROOT / NETLIST / "readings-good.csv"
        subprocess.run([locator.binary, "job", "new", job, ROOT / NETLIST, "--readings", readings], capture_output=True,
                       timeout=60, check=True)
        done = subprocess.run([locator.binary, "locate", job, channel, "--json"], capture_output=True, timeout=60)
    answer, taken = json.loads(done.stdout), read_csv(readings)
    proven = [n for n, s in enumerate(answer["segments"]) if s["proven"]]
    if sorted(answer["suspects"] + proven) != list(range(len(answer["segments"]))):
        raise SystemExit(f"locate_scipy.py: {channel}: suspects {answer['suspects']}, proven {proven}")
    for number in proven:
        panel = built(channel, answer["segments"], number, channel).panel
        panel.elements = [e for e in panel.elements if e.name != "jumper"]
        if not any(panel.reads(r["from"], r["to"], r["conditions"]) == "open" for r in taken if r["value"] == "beep"):
            raise SystemExit(f"locate_scipy.py: {channel}: no reading proves {answer['segments'][number]}")
    return len(proven)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True, type=Path)
    locator = Locator(parser.parse_args().ringtrue.resolve())
    channels = [c["point"] for c in Panel.load(ROOT / NETLIST).rows("channels") if c["type"] == "DI"]
    found, lit = 0, 0
    for channel in channels:
        first = locator.ask(channel)
        segments = first["segments"]
        if any(s["to"] != t["from"] for s, t in zip(segments, segments[1:])) or segments[-1]["to"] != first["minus"]:
            raise SystemExit(f"locate_scipy.py: {channel}: no walk")
        for broken in range(len(segments)):
            taken = follow(locator, channel, first, broken)
            if taken is None:
                lit += 1
            elif taken > math.ceil(math.log2(len(segments))):
                raise SystemExit(f"locate_scipy.py: {channel}: segment {broken} took {taken} voltages of {len(segments)}")
            else:
                found += 1
    if not found or len(channels) != 16:
        raise SystemExit(f"locate_scipy.py: {found} breaks of {len(channels)} inputs")
    narrowed = sum(verify_narrowed(locator, channel) for channel in channels[::8])
    if not narrowed:
        raise SystemExit("locate_scipy.py: readings narrow nothing")
    print(f"locate_scipy.py: {len(channels)} inputs, {found} breaks found, {lit} leave the input lit, "
          f"{narrowed} segments proven by readings")


if __name__ == "__main__":
    main()
