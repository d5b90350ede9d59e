#!/usr/bin/python3
"""How often `ringtrue compare` names the faults that were put into random panels.

    accuracy.py [--ringtrue PATH] [--sizes 50,500,5000] [--faults 1,2,5,20] [--panels N] [--seed S]
                [--kinds KINDS] [--limit SECONDS] [--show-misses] [--keep FOLDER]
    accuracy.py --write FOLDER --size N --faults K --seed S

The second form writes one panel, its readings and its faults, and judges nothing. Panels are random but the same
seed gives the same files. A panel of 50 conductors has no room for 20 faults. What is counted is said in
evaluation.py; the figures are printed beside the goals, and nothing is asserted.
"""

import argparse
import json
import random
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from evaluation import Tally, case_of_answer, print_tables
from fault_maker import KINDS, Injector, built_elements, reading_id
from panel_maker import make_panel, write_panel, write_rows
from simulator import Circuit, buzz_out, hunt, written

THRIFTY_FROM = 2000      # conductors from which wires are read through the bodies of their terminals
CONDUCTORS_PER_FAULT = 8      # fewer leave no room
# A multiple of the number of kinds where faults are single, so that each kind comes up equally often.
DEFAULT_PANELS = {(50, 1): 110, (50, 2): 20, (50, 5): 8, (500, 1): 33, (500, 2): 10, (500, 5): 6, (500, 20): 4,
                  (5000, 1): 11, (5000, 2): 3, (5000, 5): 3, (5000, 20): 2}


@dataclass
class Case:
    """A panel with its faults and the readings taken of it."""

    panel: object
    readings: list
    faults: list
    values: list     # as noted, in the order of the readings
    found: int       # readings taken on the hunt


def make_case(size, count, seed, kinds, turn=0):
    """One panel with so many faults of these kinds, at random; a single one of the kind whose turn it is.

    None where the panel has no room for them.
    """
    rng = random.Random(seed)
    panel = make_panel(size, rng)
    readings = buzz_out(panel, rng, size >= THRIFTY_FROM)
    injector = Injector(panel, readings, Circuit(panel.elements), rng)
    faults, attempts = [], 0
    while len(faults) < count:
        fault = injector.draw(kinds[turn % len(kinds)] if count == 1 else rng.choice(kinds))
        attempts += 1
        if fault is not None:
            faults.append(fault)
        elif count == 1 or attempts > 10 * count:
            return None
    circuit = Circuit(built_elements(panel, faults))

    values = [circuit.value(r) for r in readings]
    for fault in faults:
        if fault.reading is not None:
            values[fault.reading] = fault.noted
    further = hunt(panel, circuit, readings, values)
    values += [circuit.value(r) for r in further]
    return Case(panel, readings + further, faults, values, len(further))


def write_case(case, folder):
    write_panel(case.panel, folder)
    write_rows(folder / "readings.csv", ("from", "to", "value", "conditions", "id"),
               ((r.red, r.black, written(v), r.condition, reading_id(i))
                for i, (r, v) in enumerate(zip(case.readings, case.values))))
    write_rows(folder / "faults.csv", ("kind", "elements", "ends", "points", "reading", "real_ohms"),
               ((f.kind, ";".join(f.elements), ";".join(f.ends), ";".join(f.points),
                 "" if f.reading is None else reading_id(f.reading),
                 ";".join(str(e.real) for e in f.changed.values() if e) if f.kind == "wrong-value" else "")
                for f in case.faults))


def ask(options, folder):
    """The answer to the readings and the wall time of the command; without findings if it takes too long."""
    command = [options.ringtrue, "compare", folder, folder / "readings.csv", "--json"]
    begin = time.perf_counter()
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=options.limit)
    except subprocess.TimeoutExpired:
        return {"findings": [], "cut short": True}, time.perf_counter() - begin
    seconds = time.perf_counter() - begin
    if done.returncode not in (0, 1):
        sys.exit(f"accuracy: status {done.returncode}: {' '.join(map(str, command))}\n{done.stderr}")
    return json.loads(done.stdout), seconds


def check_good_panels(options, root):
    """Readings of panels as drawn: the simulation is right only if none disagrees."""
    for size in options.sizes:
        disagree = readings = 0
        panels = 5 if size < 2000 else 1
        for k in range(panels):
            case = make_case(size, 0, f"{options.seed}-{size}-good-{k}", KINDS)
            folder = root / f"good-{size}-{k}"
            write_case(case, folder)
            answer, _ = ask(options, folder)
            if "cut short" in answer:
                sys.exit(f"accuracy: no answer within {options.limit:g} s for a panel as drawn: {folder}")
            disagree += answer["summary"]["disagree"]
            readings += len(case.readings)
            if not (answer["summary"]["disagree"] or options.keep):
                shutil.rmtree(folder)
        print(f"{size} conductors as drawn: {panels} panels, {readings} readings "
              f"({readings / panels / size:.2f} per conductor), {disagree} disagree", flush=True)


def run(options):
    begin = time.perf_counter()
    root = Path(options.keep or "build/accuracy")
    check_good_panels(options, root)
    tallies = {}
    for size in options.sizes:
        for count in options.counts:
            if size < CONDUCTORS_PER_FAULT * count:
                print(f"{size} conductors have no room for {count} faults: left out")
                continue
            tally = tallies[size, count] = Tally()
            panels = options.panels or DEFAULT_PANELS.get((size, count), 3)
            for k in range(panels):
                seed = f"{options.seed}-{size}-{count}-{k}"
                case = make_case(size, count, seed, options.kinds, k)
                if case is None:
                    tally.no_room += 1
                    continue
                folder = root / f"panel-{seed}"
                write_case(case, folder)
                answer, seconds = ask(options, folder)
                tally.cut_short += "cut short" in answer
                misses = tally.add(case_of_answer(case, answer), seconds)
                for miss in misses if options.show_misses else ():
                    print(f"{miss}\n    {folder}{', answer cut short' * ('cut short' in answer)}", flush=True)
                if not options.keep and not (options.show_misses and misses):
                    shutil.rmtree(folder)
    print_tables(tallies)
    asked = sum(sum(t.seconds) for t in tallies.values())
    print(f"{time.perf_counter() - begin:.0f} s in total, {asked:.0f} s of them in the command")


def numbers(text):
    return [int(n) for n in text.split(",")]


def main():
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--ringtrue", default="build/release/ringtrue", help="the command to be judged")
    parser.add_argument("--sizes", type=numbers, default=[50, 500, 5000], help="conductors, with commas")
    parser.add_argument("--faults", type=numbers, default=[1, 2, 5, 20], dest="counts",
                        help="faults at once, with commas")
    parser.add_argument("--panels", type=int, help="panels for each size and number of faults")
    parser.add_argument("--seed", default="1")
    parser.add_argument("--kinds", type=lambda text: text.split(","), default=KINDS,
                        help=f"of faults, with commas, of {', '.join(KINDS)}")
    parser.add_argument("--limit", type=float, default=20, metavar="SECONDS",
                        help="for the command; what takes longer counts as not listed (default 20)")
    parser.add_argument("--show-misses", action="store_true", help="print what was not named first, keep its panel")
    parser.add_argument("--keep", metavar="FOLDER", help="keep all panels there")
    parser.add_argument("--write", metavar="FOLDER", help="only write one panel with readings and faults")
    parser.add_argument("--size", type=int, default=500, help="conductors, with --write")
    options = parser.parse_args()
    if unknown := set(options.kinds) - set(KINDS):
        parser.error(f"found the kind {', '.join(sorted(unknown))}, expected some of {', '.join(KINDS)}")
    if options.write:
        turn = random.Random(options.seed).randrange(len(options.kinds))
        case = make_case(options.size, options.counts[0], options.seed, options.kinds, turn)
        if case is None:
            sys.exit("accuracy: the panel has no room for this fault; choose another seed")
        write_case(case, Path(options.write))
        print(f"{options.write}: {options.size} conductors, {len(case.readings)} readings ({case.found} of them on "
              f"the hunt), faults: {', '.join(f.kind for f in case.faults) or 'none'}")
    else:
        run(options)


if __name__ == "__main__":
    main()
