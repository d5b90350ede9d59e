#!/usr/bin/env python3
"""Measures whole processes on generated plants of growing size, each beside the floor, by turns; writes the figures as JSON.

    plant_runs.py --programs FOLDER --ringtrue PATH --out FILE [--sizes 10000,100000,...] [--rounds N]

At each size: the floor program, loading, `compare`, `trace`, `check`, `plan`. At SCRIPTS_AT also the scripts that a user would
otherwise write, `compare` from XML beside a walk through that file, and tracing without loading beside connected components.
`compare` and `plan` take conductors.csv alone, as the floor and the scripts do; `trace` and `check` the folder with its channels.
No time counts without its answer: what disagrees must be what the truth says, for `compare` and for both scripts.
"""

import argparse
import datetime
import hashlib
import importlib.util
import json
import os
import subprocess
import sys
from pathlib import Path

from measuring import busy_share, by_turns, machine, must_end_with, run
from plant_files import make_plant, truth

HERE = Path(__file__).resolve().parent
PYTHON = "/usr/bin/python3"
SCRIPTS_AT = 1_000_000
SCRIPT_ROUNDS = 3
# Above this there are fewer rounds, and what isn't compared with anything runs once.
LARGE = 1_000_000
# Ends a run that would take the day: then the table says so.
LIMIT_S = 300


def say_what_disagrees(command, expected):
    """A script's answer must be the truth."""
    lines = subprocess.run([str(c) for c in command], capture_output=True, text=True, check=True).stdout.splitlines()
    if {line.split()[0] for line in lines[:-1]} != expected or int(lines[-1]) != len(expected):
        sys.exit(f"bench: {command[1].name} finds {lines[-1]} readings that disagree, the truth has {len(expected)} or others")


def must_disagree(command, expected):
    """`compare` must count as many; which ones is for tests/outside/plant_answers.py. A digest of all it prints."""
    # By a pipe and line by line: a report of the largest plant, kept here, would count as memory of every program.
    process = subprocess.Popen([str(c) for c in command], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    digest, found, wanted = hashlib.sha256(), False, f", {expected} disagree".encode()
    for line in process.stdout:
        digest.update(line)
        found = found or wanted in line
    must_end_with(command, (0, 1), process.wait())
    if not found:
        sys.exit(f"bench: compare doesn't find that {expected} readings disagree")
    return digest.hexdigest()


def size_of(*files):
    return sum(file.stat().st_size for file in files)


class Bench:
    def __init__(self, options):
        self.ringtrue, self.programs, self.rounds = options.ringtrue, options.programs, options.rounds

    def at(self, folder, size):
        """The figures of one size."""
        conductors, readings, channels = (folder / f"{name}.csv" for name in ("conductors", "readings", "channels"))
        disagree = truth(folder)
        main = {
            "floor": ([self.programs / "floor", conductors], (0,)),
            "load": ([self.programs / "load_bench", conductors, readings], (0,)),
            "compare": ([self.ringtrue, "compare", conductors, readings], (0, 1)),
        }
        others = {
            "trace": ([self.ringtrue, "trace", folder], (0,)),
            "check": ([self.ringtrue, "check", folder], (0, 1)),
            "plan": ([self.ringtrue, "plan", conductors], (0,)),
        }
        if size <= LARGE:
            others["compare --json"] = ([*main["compare"][0], "--json"], (0, 1))
            others["compare --threads 1"] = ([*main["compare"][0], "--threads", "1"], (0, 1))
        both, all_of_it = size_of(conductors, readings), size_of(conductors, channels)
        found = {"input": {"floor": size_of(conductors), "load": both, "compare": both, "compare --json": both,
                           "compare --threads 1": both, "trace": all_of_it, "check": all_of_it,
                           "plan": size_of(conductors)}}
        if size == SCRIPTS_AT:
            xml = folder / "conductors.xml"
            if not xml.exists():
                subprocess.run([self.ringtrue, "convert", conductors, xml], check=True, stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
            main["compare from XML"] = ([self.ringtrue, "compare", xml, readings], (0, 1))
            main["walk through XML"] = ([self.programs / "xml_walk", xml], (0,))
            found["input"] |= {"compare from XML": size_of(xml, readings), "walk through XML": size_of(xml)}

        print(f"bench: {size} conductors", flush=True)
        answers = {}
        for name, (command, _) in main.items():
            if name.startswith("compare"):
                answers[name] = must_disagree(command, len(disagree))
        if "compare --threads 1" in others:
            alone = must_disagree(others["compare --threads 1"][0], len(disagree))
            if alone != answers["compare"]:
                sys.exit("bench: compare prints something else with --threads 1")
        found["floor says"] = subprocess.run(main["floor"][0], capture_output=True, text=True, check=True).stdout.strip()
        with open(os.devnull, "wb") as nowhere:
            must_end_with(main["load"][0], (0,), run(main["load"][0], nowhere)[2])
        found["runs"] = by_turns(main, self.rounds if size <= LARGE else min(3, self.rounds))
        found["runs"] |= by_turns(others, min(3, self.rounds) if size <= LARGE else 1, LIMIT_S)
        if size == SCRIPTS_AT:
            found["runs"] |= self.scripts(conductors, readings, disagree)
            found["input"] |= {name: both for name in ("NetworkX", "pandas with igraph")}
            found["trace and components"] = self.trace_alone(folder)
        return found

    def scripts(self, conductors, readings, disagree):
        commands = {"NetworkX": ([PYTHON, HERE / "user_networkx.py", conductors, readings], (0,))}
        if importlib.util.find_spec("pandas"):
            commands["pandas with igraph"] = ([PYTHON, HERE / "user_igraph.py", conductors, readings], (0,))
        else:
            print("bench: python3-pandas is missing (scripts/deps bench installs it), so its script is left out")
        for command, _ in commands.values():
            say_what_disagrees(command, disagree)
        return by_turns(commands, min(SCRIPT_ROUNDS, self.rounds))

    def trace_alone(self, folder):
        lines = subprocess.run([self.programs / "trace_bench", folder, str(self.rounds)], check=True, capture_output=True,
                               text=True).stdout.splitlines()
        return [[float(word) for word in line.split()] for line in lines]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--programs", required=True, type=Path, help="what scripts/bench builds; the plants go there too")
    parser.add_argument("--ringtrue", required=True, type=Path)
    parser.add_argument("--out", required=True, type=Path)
    parser.add_argument("--sizes", default="10000,100000,1000000,10000000")
    parser.add_argument("--rounds", type=int, default=5)
    options = parser.parse_args()

    bench, sizes, busy = Bench(options), {}, []
    for size in map(int, options.sizes.split(",")):
        folder = options.programs / f"plant-{size}"
        make_plant(options.programs / "make_plant", folder, size)
        busy.append(busy_share())
        sizes[size] = bench.at(folder, size)
    options.out.write_text(json.dumps({
        "machine": machine(), "date": datetime.datetime.now().isoformat(" ", "minutes"),
        "busy": max(busy), "rounds": options.rounds, "limit": LIMIT_S, "sizes": sizes}))


if __name__ == "__main__":
    main()
