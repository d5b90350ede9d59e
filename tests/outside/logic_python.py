#!/usr/bin/env python3
"""Structured Text run by a second interpreter, which shares nothing with the C++ code.

  logic_python.py --ringtrue BINARY --run-logic BINARY [--seed N] [--programs N]

1. What `ringtrue drive --json` says of the grain dryer is run: every sequence turns its output on and off, both members
   of every pair start from the same prior state, differ in one input, and the output flips; where no pair or no sequence
   is claimed (up to 12 bits of inputs), every reachable state and every input state is tried and none is found.
2. Random programs run scan by scan as C++ runs them, and `drive` is checked on each as above.
"""
import argparse
import csv
import itertools
import json
import random
import subprocess
import sys
import tempfile
from pathlib import Path

from structured_text import BLOCKS, Program

ROOT = Path(__file__).resolve().parent.parent.parent
DRYER = ROOT / "netlists/grain-dryer"


class Checker:
    def __init__(self, text, addresses):
        self.text, self.addresses, self.counts = text, addresses, {}

    def count(self, what):
        self.counts[what] = self.counts.get(what, 0) + 1

    def output(self, said):
        self.said, self.name = said, said["tag"].upper()
        self.follows = {s["inputs"][0].upper(): s["follows"].upper() for s in said["sources"] if s["follows"]}
        self.count(said["verdict"])
        if said["steps"]:
            states = self.play(said["steps"])
            if said["verdict"] in ("drivable", "substitute"):
                assert True in states and False in states[states.index(True):], f"{self.name}: not on and off: {states}"
        for pair in said["pairs"]:
            self.pair(pair)
        self.exhaust()

    def play(self, steps, program=None, before=None):
        """The output after each step; asserts that it is as said, and that the scans end at rest."""
        program = program or Program(self.text, self.addresses)
        states = []
        for step in steps:
            if step["kind"] == "change" and not step["together"]:
                self.one_by_one(program, before, step)
            before = step
            self.set(program, step["inputs"])
            for ms in step["scans_ms"]:
                program.follow(self.follows)
                program.scan(ms)
            states.append(bool(program.values.get(self.name, False)))
            assert states[-1] == step["output"], f"{self.name}: {step}"
            self.stays(program, states[-1])
        return states

    def one_by_one(self, program, before, step):
        """What need not be changed at the same moment leads to the same output one source after the other."""
        snapshot = program.snapshot()
        old, new = ({e["input"]: e["value"] for e in s["inputs"]} for s in (before, step))
        for source in self.said["sources"]:
            if source["follows"] or all(old[n] == new[n] for n in source["inputs"]):
                continue
            self.set(program, [{"input": n, "value": new[n]} for n in source["inputs"]])
            program.settle(self.follows)
        assert bool(program.values.get(self.name, False)) == step["output"], f"{self.name}: one by one: {step}"
        program.restore(snapshot)

    def stays(self, program, is_on):
        """Further scans in no time change nothing of the output."""
        snapshot = program.snapshot()
        for _ in range(5):
            program.follow(self.follows)
            program.scan(0)
            assert bool(program.values.get(self.name, False)) == is_on, f"{self.name}: not at rest"
        program.restore(snapshot)

    @staticmethod
    def set(program, inputs):
        for entry in inputs:
            program.values[entry["input"].upper()] = entry["value"]

    def pair(self, pair):
        ends, inputs = [], []
        for member in ("first", "second"):
            program = Program(self.text, self.addresses)
            self.play(pair["prior"], program)
            ends.append(self.play(pair[member], program, pair["prior"][-1])[-1])
            inputs.append({e["input"]: e["value"] for e in pair[member][0]["inputs"]})
        differing = [n for n in inputs[0] if inputs[0][n] != inputs[1][n]]
        assert differing == [pair["input"]], f"{self.name}: {pair['input']}: differ in {differing}"
        at_once = pair["first"][0]["output"] != pair["second"][0]["output"]
        assert ends[0] != ends[1] or at_once, f"{self.name}: {pair['input']}: the output does not flip"
        self.count("pairs")

    def exhaust(self):
        """Every reachable state with every input state: nothing that is said not to exist is found."""
        missing = {u["input"].upper() for u in self.said["unpaired"] if u["cause"] in ("masked", "unreachable", "coupled")}
        movable = {n.upper() for s in self.said["sources"] if len(s["options"]) > 1 for n in s["inputs"]}
        missing &= movable - set(self.follows)
        unreached = self.said["verdict"] == "unreachable"
        sources = [s for s in self.said["sources"] if not s["follows"]]
        options = [[dict(zip((n.upper() for n in s["inputs"]), o)) for o in s["options"]] for s in sources]
        size = 1
        for option in options:
            size *= len(option)
        if not (missing or unreached) or size > 4096 or not self.said["whole"] or self.said["oscillates"]:
            return
        choices = [{n: v for part in c for n, v in part.items()} for c in itertools.product(*options)]
        rest = {n: v for e in [self.said["steps"][0]] for n, v in ((i["input"].upper(), i["value"]) for i in e["inputs"])} \
            if self.said["steps"] else choices[0]
        program = Program(self.text, self.addresses)
        names = set(choices[0]) | set(self.follows)
        program.values.update(rest)
        if not program.settle(self.follows):
            return
        seen, todo, scans = set(), [program.snapshot()], 0
        on, on_then_off = bool(program.values.get(self.name)), False
        while todo:
            start = todo.pop()
            outcomes = {}
            for choice in choices:
                program.restore(start)
                program.values.update(choice)
                trail, is_steady = [], False
                rests = program.settle(self.follows)
                while rests:
                    trail.append(bool(program.values.get(self.name)))
                    scans += 1
                    ms = program.next_timer()
                    key = program.memory(names) + ((tuple(sorted(choice.items())),) if ms else ())
                    if key not in seen:
                        seen.add(key)
                        todo.append(program.snapshot())
                    is_steady = ms is None
                    if is_steady or len(trail) > 32:
                        break
                    rests = program.settle(self.follows, ms)
                on |= any(trail)
                outcomes[tuple(sorted(choice.items()))] = (trail[0], trail[-1], is_steady) if trail and rests else None
            for choice, outcome in outcomes.items():
                for name in missing:
                    for other in ([dict(choice) | {name: c[name]} for c in choices if c[name] != dict(choice)[name]] if len(choices) < 65
                                  else [dict(choice) | {name: v} for v in {c[name] for c in choices}]):
                        found = outcomes.get(tuple(sorted(other.items())))
                        assert not differ(outcome, found), f"{self.name}: {name} has a pair: {choice} {other}"
            if scans > 60_000:
                return
        if unreached and not self.said["steps"]:
            assert not on, f"{self.name}: said to stay off, and comes on"
        self.count("exhausted")


def differ(a, b):
    """Whether two input states are told apart, at once or once all timers have run out."""
    if not a or not b:
        return False
    return a[0] != b[0] or (a[2] and b[2] and a[1] != b[1])


def random_program(rng, inputs, analog, outputs):
    blocks = {f"B{i}": rng.choice(BLOCKS) for i in range(rng.randrange(4))}
    local = [f"L{i}" for i in range(rng.randrange(3))]

    def expression(depth):
        roll = rng.random()
        if depth == 0 or roll < 0.2:
            kind = rng.random()
            if kind < 0.12:
                comparison = rng.choice(["<", ">", "<=", ">=", "=", "<>"])
                # Parentheses where `=` would take its neighbours along.
                return f"({rng.choice(analog)} {comparison} {rng.choice([10, 20.5, 30])})"
            if kind < 0.3 and blocks:
                return rng.choice(list(blocks)) + ".Q"
            return rng.choice(inputs + local + outputs + ["TRUE", "FALSE"] * (rng.random() < 0.1))
        if roll < 0.35:
            return "NOT " + expression(0 if rng.random() < 0.5 else depth - 1) if rng.random() < 0.7 else f"NOT ({expression(depth - 1)})"
        if roll < 0.5:
            return f"({expression(depth - 1)})"
        return f"{expression(depth - 1)} {rng.choice(['AND', '&', 'OR', 'XOR', 'and', '=', '<>'])} {expression(depth - 1)}"

    lines = ["VAR"] + [f"{n} : {k};" for n, k in blocks.items()] + [f"{n} : BOOL := {rng.choice(['TRUE', 'FALSE'])};" for n in local]
    lines.append("END_VAR")
    body = []
    for name, kind in blocks.items():
        first, second = expression(2), expression(1)
        pins = {"SR": f"S1 := {first}, R := {second}", "RS": f"S := {first}, R1 := {second}"}.get(kind)
        pins = pins or (f"CLK := {first}" if kind.endswith("TRIG") else f"IN := {first}, PT := T#{rng.choice(['0ms', '200ms', '1s', '1.5s'])}")
        body.append(f"{name}({pins});")
    body += [f"{n} := {expression(2)};" for n in local] + [f"{n} := {expression(3)}; (* *)" for n in outputs]
    rng.shuffle(body)
    return "\n".join(lines + body) + "\n"


def channels():
    with open(DRYER / "channels.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def drive(ringtrue, logic, *outputs):
    done = subprocess.run([ringtrue, "drive", DRYER, *outputs, "--logic", logic, "--json"], capture_output=True, text=True,
                          timeout=120, check=False)
    if done.returncode != 0:
        raise AssertionError(f"status {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)["outputs"]


def compare_scans(run_logic, text, path, rng, inputs, analog, outputs, addresses):
    """The same inputs, scan by scan, in both."""
    program, lines, expected = Program(text, addresses), [], []
    for _ in range(60):
        for name in rng.sample(inputs, rng.randrange(len(inputs) + 1)):
            program.values[name] = rng.random() < 0.5
        for name in analog:
            program.values[name] = rng.choice([5.0, 10.0, 15.0, 20.5, 25.0, 30.0, 40.0])
        ms = rng.choice([0, 10, 100, 200, 700, 1000])
        given = [f"{n}={float(program.values.get(n, False))}" for n in inputs + analog]
        lines.append(" ".join([str(ms), *given]))
        program.scan(ms)
        expected.append("".join("1" if program.values.get(n, False) else "0" for n in outputs))
    done = subprocess.run([run_logic, DRYER, path, *outputs], input="\n".join(lines) + "\n", capture_output=True, text=True,
                          timeout=60, check=False)
    found = done.stdout.split()
    assert found == expected, f"{done.stderr}\nscan {next((i for i, (a, b) in enumerate(zip(found, expected)) if a != b), '?')}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--run-logic", required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--programs", type=int, default=200)
    arguments = parser.parse_args()
    rows = channels()
    addresses = {row["address"].upper(): row["tag"].upper() for row in rows}

    text = (DRYER / "logic.st").read_text(encoding="utf-8")
    checker = Checker(text, addresses)
    said = drive(arguments.ringtrue, DRYER / "logic.st")
    assert len(said) == sum(row["type"] == "DO" for row in rows)
    for output in said:
        checker.output(output)
    print("grain dryer:", checker.counts)

    rng = random.Random(arguments.seed)
    sums = {}
    inputs = ["HOPPER_NOT_FULL", "HOPPER_STOCK", "START", "NO_STOP", "AUTOMATIC", "HAND", "FAN_RUNS", "STOP_RESET"]
    analog, outputs = ["HOPPER_LEVEL", "GRAIN_FLOW"], ["FAN", "HORN", "BEACON"]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "random.st"
        for number in range(arguments.programs):
            text = random_program(rng, inputs, analog, outputs)
            path.write_text(text, encoding="utf-8")
            try:
                compare_scans(arguments.run_logic, text, path, rng, inputs, analog, outputs, addresses)
                checker = Checker(text, addresses)
                for output in drive(arguments.ringtrue, path, "BEACON"):
                    checker.output(output)
            except AssertionError as error:
                sys.exit(f"program {number} of seed {arguments.seed}: {error}\n{text}")
            for what, count in checker.counts.items():
                sums[what] = sums.get(what, 0) + count
    print(f"{arguments.programs} random programs, 60 scans each, alike in both; drive on each:", sums)
    for what in ("drivable", "unreachable", "pairs", "exhausted"):
        if arguments.programs >= 200 and sums.get(what, 0) < 10:
            sys.exit(f"too few of {what} to prove anything")


if __name__ == "__main__":
    main()
