#!/usr/bin/env python3
"""Every value of the power-up sheet against an independent solution of the powered panel with a meter of 1 MΩ.

    power_scipy.py --ringtrue BINARY [--panels N]

On the shipped panels and N random ones of each of two makers: what the sheet expects, the meter shows, in every state
that relays pass through; where it must read 0 V, less than 0.5 V, and it is asked for behind every open device that is fed; every protective
device is closed once; no point is measured before copper leads something live to it, and in the end none that has is
left out.
"""

import argparse
import json
import random
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path[:0] = [str(ROOT / "tests/support"), str(ROOT / "tests/accuracy")]
from panel_maker import make_panel, write_panel  # noqa: E402
from plain_panel import HARD_KINDS, Panel  # noqa: E402
from power_panels import PowerPanel  # noqa: E402
from powered_panel import PoweredPanel  # noqa: E402

SHARE = 0.02       # loads up to 20 kΩ before a meter of 1 MΩ
ZERO_VOLTS = 0.5
DEVICES = {"isolator": "off", "breaker": "off", "fuse": "out"}


class Check:
    def __init__(self, sheet, panel, rng, label):
        self.sheet, self.panel, self.label = sheet, panel, label
        self.powered = PoweredPanel(panel, rng)
        self.counts = {"hard": 0, "through": 0, "zero": 0, "pulled": 0}
        self.seen = set()

    def fail(self, step, text):
        raise SystemExit(f"power_scipy.py: {self.label}: step {step}: {text}")

    def run(self):
        devices = {e.name: DEVICES[e.kind] for e in self.panel.elements if e.kind in DEVICES and not e.in_field}
        electronics = {e.name for e in self.panel.elements if e.kind == "electronics" and not e.in_field}
        if set(self.sheet["unplugged"]) < electronics or set(self.sheet["open"]) != set(devices):
            self.fail(0, "not everything is open and unplugged first")
        condition = devices | {a: "unplugged" for a in self.sheet["unplugged"]}
        closed, mains_on, before = [], False, {}
        for number, step in enumerate(self.sheet["steps"], 1):
            mains_on |= step["action"] != "always-live"
            if step["action"] == "close":
                closed.append(step["device"])
                del condition[step["device"]]
            before = self.step(number, step, condition, mains_on, before)
        if sorted(closed) != sorted(devices):
            self.fail("last", f"closed {sorted(closed)} of {sorted(devices)}")
        if sorted(p["part"] for p in self.sheet["plug_in"]) != sorted(self.sheet["unplugged"]):
            self.fail("plug in", "not each once")
        return self.counts

    def step(self, number, step, condition, mains_on, before):
        states = list(self.powered.states(condition, mains_on))
        self.counts["pulled"] += len(states) > 1
        for expected in step["measure"] + step["pins"]:
            for red in [expected["red"], *expected["also"]]:
                self.measure(number, expected, red, states)
        for zero in step["zero"]:
            self.counts["zero"] += 1
            for state in states:
                for solution in state:
                    shown = abs(solution.metered(zero["red"], zero["black"]))
                    if shown > ZERO_VOLTS:
                        self.fail(number, f"{zero['red']} to {zero['black']} must read 0 V, shows {shown:.3g}")
        return self.live_copper(number, step, condition, mains_on, states, before)

    def measure(self, number, expected, red, states):
        self.counts["through" if expected["through"] else "hard"] += 1
        for ac, dc in states:
            solution, other = (ac, dc) if expected["alternating"] else (dc, ac)
            shown = solution.metered(red, expected["black"])
            shown = abs(shown) if expected["alternating"] else shown.real
            if abs(shown - expected["volts"]) > SHARE * abs(expected["volts"]) + 0.05:
                self.fail(number, f"{red} to {expected['black']}: expected {expected['volts']:.4g}, shows {shown:.4g}")

    def live_copper(self, number, step, condition, mains_on, states, before):
        """What copper joins to something live, with relays at rest; measured now and not before."""
        copper = self.powered.copper(condition)
        origins = {a for a, _, _, _ in self.powered.sources(mains_on, states[0][0])}
        live = {p for a in origins for p in copper[a]}
        relays_rest = not any("may pull in" in caution for s in self.sheet["steps"][:number] for caution in s["cautions"])
        for expected in step["measure"] + step["pins"]:
            for red in [expected["red"], *expected["also"]]:
                if not expected["through"] and (red not in live or (relays_rest and red in before)):
                    self.fail(number, f"{red} is not new on live copper")
                self.seen.add(red)
        if relays_rest:
            left_out = live - self.seen
            if left_out:
                self.fail(number, f"live and not measured: {sorted(left_out)[:5]}")
            self.zeros_of_devices(number, step, condition, copper, live)
        return live

    def zeros_of_devices(self, number, step, condition, copper, live):
        """Behind a device that is still open with one side live, 0 V is asked for where nothing else leads there."""
        asked = {p for zero in step["zero"] for p in copper[zero["red"]]}
        for e in self.panel.elements:
            if condition.get(e.name) not in DEVICES.values() or e.kind not in DEVICES:
                continue
            for near, far in ((e.a, e.b), (e.b, e.a)):
                if near in live and self.leads_nowhere(far, copper, condition) and far not in asked:
                    self.fail(number, f"no 0 V asked for at {far}, behind {e.name}")

    def leads_nowhere(self, point, copper, condition):
        """Copper alone hangs on it, and no potential."""
        origins = {p for _, _, p in self.powered.origin.values()}
        return not origins & copper[point] and all(
            not self.panel.conducts(e, condition) or e.kind in HARD_KINDS for p in copper[point] for e in self.powered.at[p])


def sheet_of(binary, folder):
    done = subprocess.run([binary, "energise", folder, "--json"], capture_output=True, cwd=ROOT)
    if done.returncode != 0:
        raise SystemExit(f"power_scipy.py: {folder}: status {done.returncode}: {done.stderr.decode()}")
    return json.loads(done.stdout)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True, type=Path)
    parser.add_argument("--panels", type=int, default=100)
    arguments = parser.parse_args()
    binary = arguments.ringtrue.resolve()
    totals = {}
    with tempfile.TemporaryDirectory() as made:
        folders = [ROOT / "netlists/quickstart", ROOT / "netlists/grain-dryer"]
        for number in range(arguments.panels):
            folders.append(Path(made) / f"power{number}")
            PowerPanel(random.Random(f"power {number}")).write(folders[-1])
            if number % 5 == 0:
                folders.append(Path(made) / f"panel{number}")
                write_panel(make_panel(60 + number, random.Random(str(number))), folders[-1])
        for folder in folders:
            rng = random.Random(folder.name)
            for key, value in Check(sheet_of(binary, folder), Panel.load(folder), rng, folder.name).run().items():
                totals[key] = totals.get(key, 0) + value
    if not all(totals.values()):
        raise SystemExit(f"power_scipy.py: nothing of a sort was checked: {totals}")
    print(f"power_scipy.py: {len(folders)} panels, {totals}")


if __name__ == "__main__":
    main()
