#!/usr/bin/env python3
"""Structured Text run by a second interpreter, which shares nothing with the C++ code.

  logic_python.py --ringtrue BINARY --run-logic BINARY [--seed N] [--programs N]

1. What `ringtrue drive --json` says of the grain dryer is run: every sequence turns its output on and off, both members
   of every pair start from the same prior state, differ in one input, and the output flips; the tests hold one after the
   other as the sheet has them; where no pair or no sequence is claimed (up to 12 bits of inputs), every reachable state
   and every input state is tried and none is found; what has a role or is refused is never moved.
2. Random programs run scan by scan as C++ runs them, and `drive` is checked on each as above.
"""
import argparse
import csv
import itertools
import json
import random
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from structured_text import BLOCKS, Program

ROOT = Path(__file__).resolve().parent.parent.parent
DRYER = ROOT / "netlists/grain-dryer"


class Checker:
    """What `drive --json` says of one program."""

    def __init__(self, text, addresses, most_scans):
        self.text, self.addresses, self.most_scans, self.counts = text, addresses, most_scans, {}

    def count(self, what, number=1):
        self.counts[what] = self.counts.get(what, 0) + number

    def output(self, said):
        self.said, self.name = said, said["tag"].upper()
        self.count(said["verdict"])
        self.use(said["sources"])
        if said["steps"]:
            states = self.play(said["steps"])
            if said["verdict"] in ("drivable", "substitute"):
                assert True in states and False in states[states.index(True):], f"{self.name}: not on and off: {states}"
        self.pair_set(said["deciding"])
        if said["with_box"]:
            self.count("with box")
            assert said["with_box"]["pairs"], f"{self.name}: nothing more with the box"
            self.pair_set(said["with_box"])

    def use(self, sources):
        self.sources = sources
        self.follows = {s["inputs"][0].upper(): (s["follows"].upper(), s["inverted"]) for s in sources if s["follows"]}
        for source in sources:
            if source["role"] or source["refused"]:
                assert source["how"] == "hold" and len(source["options"]) == 1, f"{self.name}: {source} is moved"

    def new_program(self):
        return Program(self.text, self.addresses)

    def play(self, steps, program=None, before=None):
        """The output after each step; asserts that it is as said, and that the scans end at rest."""
        program = program or self.new_program()
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
        for source in sorted(self.sources, key=lambda s: s["inputs"][0] != step["first"]):
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

    def pair_set(self, pairs):
        self.use(pairs["sources"])
        tests = {test["number"]: test for test in pairs["tests"]}
        for pair in pairs["pairs"]:
            self.pair(pair, tests)
        self.in_a_row(pairs)
        self.exhaust(pairs)

    def pair(self, pair, tests):
        first, second = tests[pair["first"]], tests[pair["second"]]
        assert first["prior"] == second["prior"], f"{self.name}: {pair['input']}: from two states"
        ends, inputs = [], []
        for test in (first, second):
            program = self.new_program()
            self.play(test["prior"], program)
            ends.append(self.play(test["steps"], program, test["prior"][-1])[-1])
            inputs.append({e["input"]: e["value"] for e in test["steps"][0]["inputs"]})
        differing = [n for n in inputs[0] if inputs[0][n] != inputs[1][n]]
        assert differing == [pair["input"]], f"{self.name}: {pair['input']}: differ in {differing}"
        at_once = first["steps"][0]["output"] != second["steps"][0]["output"]
        assert ends[0] != ends[1] or at_once, f"{self.name}: {pair['input']}: the output does not flip"
        self.count("pairs")

    def in_a_row(self, pairs):
        """All tests as they stand in the sheet, the controller started anew only where it says so."""
        program, before = self.new_program(), None
        for test in pairs["tests"]:
            if not pairs["chained"]:
                self.play(test["prior"], program)
                before = test["prior"][-1]
            elif before is None:
                self.play(test["prior"], program)
                before = test["prior"][-1]
            self.play(test["steps"], program, before)
            before = test["steps"][-1]
            if test["restart"]:
                program = self.new_program()
            elif not pairs["chained"]:
                self.back(program, before, test)
                self.count("ways back")

    def back(self, program, last, test):
        now, rest = ({e["input"]: e["value"] for e in s["inputs"]} for s in (last, test["prior"][0]))
        for source in reversed(self.sources):
            if source["follows"] or all(now[n] == rest[n] for n in source["inputs"]):
                continue
            self.set(program, [{"input": n, "value": rest[n]} for n in source["inputs"]])
            program.settle(self.follows)
        # The longest wait of any of them stands above the tests; here the shortest must do.
        for ms in (test["back_ms"], 0):
            program.settle(self.follows, ms)

    def exhaust(self, pairs):
        """Every reachable state with every input state: nothing that is said not to exist is found."""
        missing = {u["input"].upper() for u in pairs["unpaired"] if u["cause"] != "not-searched"}
        movable = {n.upper() for s in self.sources if len(s["options"]) > 1 for n in s["inputs"]}
        missing &= movable - set(self.follows)
        unreached = self.said["verdict"] in ("unreachable", "not-testable") and bool(self.said["sources"])
        sources = [s for s in self.sources if not s["follows"]]
        options = [[dict(zip((n.upper() for n in s["inputs"]), o)) for o in s["options"]] for s in sources]
        size = 1
        for option in options:
            size *= len(option)
        if not (missing or unreached) or size > 4096 or not self.said["whole"] or self.said["oscillates"]:
            return
        choices = [{n: v for part in c for n, v in part.items()} for c in itertools.product(*options)]
        order = list(choices[0])
        places = {n: (order.index(n), {c[n] for c in choices}) for n in missing}
        at_rest = pairs["tests"][0]["prior"][0] if pairs["tests"] else (self.said["steps"] or [None])[0]
        rest = {i["input"].upper(): i["value"] for i in at_rest["inputs"]} if at_rest else choices[0]
        program = self.new_program()
        program.keep_only([self.name, *(output for output, _ in self.follows.values())])
        names = set(choices[0]) | set(self.follows)
        program.values.update(rest)
        if not program.settle(self.follows):
            return
        start = bool(program.values.get(self.name))
        seen, todo, scans = set(), [(program.snapshot(), start)], 0
        on, on_then_off = start, False
        while todo:
            start, was_on = todo.pop()
            outcomes = {}
            for choice in choices:
                program.restore(start)
                program.values.update(choice)
                trail, is_steady, has_been_on = [], False, was_on
                rests = program.settle(self.follows)
                while rests:
                    trail.append(bool(program.values.get(self.name)))
                    on_then_off |= has_been_on and not trail[-1]
                    has_been_on |= trail[-1]
                    scans += 1
                    ms = program.next_timer()
                    key = (has_been_on and unreached, program.memory(names) + ((tuple(choice.values()),) if ms else ()))
                    if key not in seen:
                        seen.add(key)
                        todo.append((program.snapshot(), has_been_on))
                    is_steady = ms is None
                    if is_steady or len(trail) > 32:
                        break
                    rests = program.settle(self.follows, ms)
                on |= any(trail)
                outcomes[tuple(choice.values())] = (trail[0], trail[-1], is_steady) if trail and rests else None
            for choice, outcome in outcomes.items():
                for name, (place, values) in places.items():
                    for value in values:
                        found = value != choice[place] and outcomes.get(choice[:place] + (value,) + choice[place + 1:])
                        assert not differ(outcome, found), f"{self.name}: {name} has a pair: {choice}, {value}"
            if scans > self.most_scans:
                self.count("exhausted in part")
                return
        if unreached:
            assert not on_then_off, f"{self.name}: said not to be driven, and is"
            assert on == any(s["output"] for s in self.said["steps"]) or self.said["verdict"] == "not-testable", self.name
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


def with_refusals(rng, folder, inputs):
    """The dryer with inputs that lack what decides their test, so that every jumper there is refused."""
    shutil.copytree(DRYER, folder)
    rows = channels()
    refused = rng.sample([n for n in inputs if n.startswith("HOPPER")], 1)
    for row in rows:
        if row["tag"] in refused:
            row["sense"] = ""
    with open(folder / "channels.csv", "w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys(), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    return folder, refused


def drive(ringtrue, logic, *outputs, netlist=DRYER):
    done = subprocess.run([ringtrue, "drive", netlist, *outputs, "--logic", logic, "--json"], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise AssertionError(f"status {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


def same_as_jumper(ringtrue, fitted):
    """The terminals, their order and the verdicts are those of `ringtrue jumper`."""
    done = subprocess.run([ringtrue, "jumper", DRYER, "--all", "--json"], capture_output=True, text=True, check=True)
    tests = {test["tag"]: test for test in json.loads(done.stdout)["tests"]}
    assert fitted
    for one in fitted:
        test = tests[one["input"]]
        assert (one["return"], one["field"], one["test"]) == (test["return"], test["field"], test["test"]), one
        assert one["verdict"] == (test["jumper"]["answer"] if test["jumper"] else None), one
        assert one["test"] != "jumper" or one["verdict"] != "refused", one
        assert one["test"] != "jumper" or one["do"] == f"jumper from {test['return']} to {test['field']}", one


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
    done = subprocess.run([run_logic, DRYER, path, *outputs], input="\n".join(lines) + "\n", capture_output=True, text=True, check=False)
    found = done.stdout.split()
    assert found == expected, f"{done.stderr}\nscan {next((i for i, (a, b) in enumerate(zip(found, expected)) if a != b), '?')}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--run-logic", required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--programs", type=int, default=200)
    parser.add_argument("--scans", type=int, default=210_000,
                        help="where more are needed, exhaustion is in part; 4000000 do for all of the dryer")
    arguments = parser.parse_args()
    rows = channels()
    addresses = {row["address"].upper(): row["tag"].upper() for row in rows}

    text = (DRYER / "logic.st").read_text(encoding="utf-8")
    checker = Checker(text, addresses, arguments.scans)
    told = drive(arguments.ringtrue, DRYER / "logic.st")
    same_as_jumper(arguments.ringtrue, told["fitted"])
    said = told["outputs"]
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
        lacking, lacks = with_refusals(rng, Path(folder) / "netlist", inputs)
        for number in range(arguments.programs):
            text = random_program(rng, inputs + 2 * ["STOP_RESET"], analog, outputs)
            path.write_text(text, encoding="utf-8")
            try:
                compare_scans(arguments.run_logic, text, path, rng, inputs, analog, outputs, addresses)
                checker = Checker(text, addresses, arguments.scans)
                netlist, refused = (lacking, lacks) if number % 4 == 0 else (DRYER, [])
                for output in drive(arguments.ringtrue, path, "BEACON", netlist=netlist)["outputs"]:
                    checker.output(output)
                    for source in output["sources"]:
                        assert source["refused"] == (source["inputs"][0] in refused), f"{source}, refused: {refused}"
                        checker.count("refused", source["refused"])
            except AssertionError as error:
                sys.exit(f"program {number} of seed {arguments.seed}: {error}\n{text}")
            for what, count in checker.counts.items():
                sums[what] = sums.get(what, 0) + count
    print(f"{arguments.programs} random programs, 60 scans each, alike in both; drive on each:", sums)
    for what in ("drivable", "unreachable", "not-testable", "with box", "refused", "pairs", "ways back", "exhausted"):
        if arguments.programs >= 200 and sums.get(what, 0) < 5:
            sys.exit(f"too few of {what} to prove anything")


if __name__ == "__main__":
    main()
