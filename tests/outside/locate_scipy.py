#!/usr/bin/env python3
"""Every single break in the loop of every input that a supply drives, followed to its segment by `locate`.

    locate_scipy.py --ringtrue BINARY [--panels N]

On the grain dryer, or on N random panels. The voltages come from an independent solution of the powered panel with a
meter of 1 MΩ. Once the supply has shown its own, at most the logarithm to base 2 of the number of segments, rounded up,
are needed. Split by priors, no more than are announced, and by their weights no more on average than split by count. A
break that leaves the input lit, as one in a ring does, is none to be found. The segments must be a walk of the drawing's
own rows.
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
sys.path[:0] = [str(ROOT / "tests/support"), str(ROOT / "tests/accuracy")]
from loop_panels import LoopPanel  # noqa: E402
from plain_panel import Element, Panel, read_csv  # noqa: E402
from powered_panel import PoweredPanel  # noqa: E402

DEMO = ROOT / "netlists/grain-dryer"
LIT_VOLTS = 11.0          # IEC 61131-2, type 3, from memory: lit from 11 V
INPUT_OHMS = 4000


def fail(text):
    raise SystemExit(f"locate_scipy.py: {text}")


class Loops:
    """The loops of one panel."""

    def __init__(self, binary, netlist):
        self.binary, self.netlist, self.answers = binary, netlist, {}
        self.panel = Panel.load(netlist)
        self.channels = [c["point"] for c in self.panel.rows("channels")
                         if c["type"] == "DI" or (c["type"] == "AI" and c["sensor"] == "two-wire")]

    def ask(self, channel, volts=(), likely=False):
        key = (channel, likely, *volts)
        if key not in self.answers:
            call = [self.binary, "locate", self.netlist, channel, "--json", *(w for v in volts for w in ("--volts", v)),
                    *(["--likely"] if likely else [])]
            done = subprocess.run(call, capture_output=True, cwd=ROOT)
            if done.returncode not in (0, 1):
                fail(f"{key}: {done.stderr.decode()}")
            self.answers[key] = json.loads(done.stdout)
        return self.answers[key]

    def first(self, channel):
        first = self.ask(channel)
        segments = first["segments"]
        if any(s["to"] != t["from"] for s, t in zip(segments, segments[1:])) or segments[-1]["to"] != first["minus"]:
            fail(f"{channel}: no walk")
        return first

    def built(self, channel, segments, broken, seed):
        """The panel with the input driven, by a jumper where a device lacks, and one segment broken."""
        panel = Panel.load(self.netlist)
        inputs = {c["point"] for c in panel.rows("channels")}
        panel.elements = [replace(e, ohms=INPUT_OHMS) if e.kind == "electronics" and e.a in inputs else e
                          for e in panel.elements]
        for number, s in enumerate(segments):
            if s["kind"] == "device" and not s["name"]:
                panel.elements.append(Element("jumper", "join", s["from"], s["to"], broken=number == broken))
                continue
            rows = [i for i, e in enumerate(panel.elements) if {e.a, e.b} == {s["from"], s["to"]} and
                    (s["kind"] == "module" or e.name in (s["name"], s["name"].partition(":")[0], f"{s['from']}-{s['to']}",
                                                         f"{s['to']}-{s['from']}") or not e.row.get("wire"))]
            if len(rows) != 1:
                fail(f"{channel}: {len(rows)} rows are {s}")
            e = panel.elements[rows[0]]
            if s["open_at_rest"] != (e.kind.startswith("contact") and not panel.conducts(e, {})):
                fail(f"{channel}: {s} is not at rest as it is said")
            panel.elements[rows[0]] = replace(e, kind="join" if s["open_at_rest"] else e.kind, broken=number == broken)
        return PoweredPanel(panel, random.Random(seed))

    def follow(self, channel, first, broken):
        """Number of voltages after the first, split by count and by priors, or None where the input stays lit."""
        segments = first["segments"]
        powered = self.built(channel, segments, broken, f"{channel} {broken}")
        solution = list(powered.states({}, True))[-1][1]
        module = next(s for s in segments if s["kind"] == "module")
        if abs(solution.open_volts(module["from"], module["to"])) > LIT_VOLTS and segments[broken]["kind"] != "module":
            s = segments[broken]
            if s["kind"] == "element" and s["to"] not in powered.copper({})[s["from"]]:
                fail(f"{channel}: lit past {s}")
            return None
        return [self.narrow(channel, solution, broken, likely) for likely in (False, True)]

    def narrow(self, channel, solution, broken, likely):
        answer, volts = self.ask(channel, likely=likely), []
        while answer["next"] is not None:
            if answer["next"] in (v.rpartition("=")[0] for v in volts):
                fail(f"{channel}: segment {broken} is broken, {volts} gave {answer['outcome']}")
            shown = solution.metered(answer["next"], answer["minus"]).real
            volts.append(f"{answer['next']}={shown:.1f}")
            answer = self.ask(channel, volts, likely)
        if answer["suspects"] != [broken] or answer["contradictory"]:
            fail(f"{channel}: segment {broken} is broken, {volts} gave {answer['outcome']}")
        return len(volts) - 1

    def verify(self, channel):
        """Numbers of breaks found, and of those that leave the input lit."""
        first, likely = self.first(channel), self.ask(channel, likely=True)
        segments = first["segments"]
        taken = [self.follow(channel, first, broken) for broken in range(len(segments))]
        found = [(t, s["weight"]) for t, s in zip(taken, segments) if t is not None]
        most = math.ceil(math.log2(len(segments)))
        if first["left"]["at_most"] != most + 1 or max(t[0] for t, _ in found) > most:
            fail(f"{channel}: {first['left']} announced, {[t[0] for t, _ in found]} taken of {len(segments)} segments")
        if max(t[1] for t, _ in found) + 1 > likely["left"]["at_most"] or likely["left_by_count"] != first["left"]:
            fail(f"{channel}: {likely['left']} announced, {[t[1] for t, _ in found]} taken")
        if likely["left"]["on_average"] > first["left"]["on_average"]:
            fail(f"{channel}: {likely['left']} by priors, {first['left']} by count")
        if None not in taken:
            for by, answer in enumerate((first, likely)):
                average = 1 + sum(t[by] * w for t, w in found) / sum(w for _, w in found)
                if abs(average - answer["left"]["on_average"]) > 0.002:
                    fail(f"{channel}: {answer['left']} announced, {average} on average")
        return len(found), len(taken) - len(found)


def verify_narrowed(loops, channel):
    """Number of segments that the readings of a job take from the suspects."""
    with tempfile.TemporaryDirectory() as folder:
        job, readings = Path(folder) / "job.rtj", DEMO / "readings-good.csv"
        subprocess.run([loops.binary, "job", "new", job, DEMO, "--readings", readings], capture_output=True, check=True)
        done = subprocess.run([loops.binary, "locate", job, channel, "--json"], capture_output=True)
    answer = json.loads(done.stdout)
    taken = [r for r in read_csv(readings) if r["value"] == "beep" and "@" not in r["from"] + r["to"]]
    proven = [n for n, s in enumerate(answer["segments"]) if s["proven"]]
    if sorted(answer["suspects"] + proven) != list(range(len(answer["segments"]))):
        fail(f"{channel}: suspects {answer['suspects']}, proven {proven}")
    for number in proven:
        panel = loops.built(channel, answer["segments"], number, channel).panel
        panel.elements = [e for e in panel.elements if e.name != "jumper"]
        if not any(panel.reads(r["from"], r["to"], r["conditions"]) == "open" for r in taken):
            fail(f"{channel}: no reading proves {answer['segments'][number]}")
    return len(proven)


def verify_demo(binary):
    loops = Loops(binary, DEMO)
    if len(loops.channels) != 20:
        fail(f"{len(loops.channels)} inputs of the demo")
    counts = [loops.verify(channel) for channel in loops.channels]
    narrowed = sum(verify_narrowed(loops, channel) for channel in loops.channels[:16:8])
    if not narrowed:
        fail("readings narrow nothing")
    print(f"locate_scipy.py: {len(counts)} inputs, {sum(f for f, _ in counts)} breaks found, {sum(c for _, c in counts)} "
          f"leave the input lit, {narrowed} segments proven by readings")


def verify_random(binary, panels):
    counts = []
    with tempfile.TemporaryDirectory() as made:
        for number in range(panels):
            folder = Path(made) / str(number)
            LoopPanel(random.Random(f"loop {number}")).write(folder)
            loops = Loops(binary, folder)
            counts += [loops.verify(channel) for channel in loops.channels]
    found, lit = (sum(c[i] for c in counts) for i in (0, 1))
    if len(counts) < 2 * panels or not found or not lit:
        fail(f"{found} breaks found of {len(counts)} inputs, {lit} leave the input lit")
    print(f"locate_scipy.py: {panels} panels, {len(counts)} inputs, {found} breaks found, {lit} leave the input lit")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True, type=Path)
    parser.add_argument("--panels", type=int)
    arguments = parser.parse_args()
    binary = arguments.ringtrue.resolve()
    if arguments.panels is None:
        verify_demo(binary)
    else:
        verify_random(binary, arguments.panels)


if __name__ == "__main__":
    main()
