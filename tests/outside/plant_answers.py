#!/usr/bin/env python3
"""Checks that the answers about a whole plant are those known otherwise.

A plant of panels is generated with its as-built faults (tests/bench/make_plant.cpp). `ringtrue compare` of the whole of it

- must account for each fault by name: it is the first explanation of a finding of exactly its readings; or a further
  explanation of it; or the first explanation of several faults' readings together is a likelier one;
- must have no finding with a reading that no fault made, and miss none;
- must give, for each panel, the findings of that panel cut out as a netlist of its own: the same explanations with the
  same shares of the likeliest one's probability and the same equivalent ones.

Two priors are divided among all places there are (an end on another part, two ends of different parts exchanged), so
the small netlist is given them scaled down to its size. What the whole plant has more is explanations that reach into
another panel. They are counted, and the greatest share of one is printed. Findings for which another next reading is
chosen are printed too: among readings that tell as much, rounding may decide.

Run: plant_answers.py --ringtrue PATH --make-plant PATH [--conductors N]
     plant_answers.py --ringtrue PATH --plant FOLDER
"""

import argparse
import csv
import json
import math
import re
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from plant_truth import accounts

QUICKSTART = Path(__file__).resolve().parent.parent.parent / "netlists" / "quickstart"
# Priors over all places of the netlist, and what they are divided by.
SPREAD = {"miswire_elsewhere": "nets", "swap_elsewhere": "conductors"}


def compare(ringtrue, conductors, readings, *more):
    done = subprocess.run([ringtrue, "compare", conductors, readings, "--json", *more], capture_output=True)
    if done.returncode not in (0, 1):
        sys.exit(f"compare {conductors}: exit status {done.returncode}\n{done.stderr.decode()}")
    return json.loads(done.stdout)


def rows_of(path):
    with open(path, newline="") as file:
        return list(csv.DictReader(file))


def nets(conductors):
    """How many groups of points conductors and terminals join."""
    before = {}

    def root(point):
        while before.setdefault(point, point) != point:
            before[point] = before[before[point]]
            point = before[point]
        return point

    for row in conductors:
        ends = [row["from"], row["to"]]
        for end in list(ends):
            place, dot, side = end.rpartition(".")
            if side in ("int", "ext"):
                before[root(place + dot + "int")] = root(place + dot + "ext")
        before[root(ends[0])] = root(ends[1])
    return sum(root(point) == point for point in list(before))


class Plant:
    def __init__(self, folder):
        self.folder = folder
        self.panel_of_point, self.conductors, self.readings = {}, defaultdict(list), defaultdict(list)
        for row in rows_of(folder / "conductors.csv"):
            panel = row["sheet"].partition(".")[0]
            self.panel_of_point[row["from"]] = self.panel_of_point[row["to"]] = panel
            self.conductors[panel].append(row)
        for row in rows_of(folder / "readings.csv"):
            self.readings[self.panel_of_point[row["from"]]].append(row)
        self.size = {"nets": {p: nets(rows) for p, rows in self.conductors.items()},
                     "conductors": {p: len(rows) for p, rows in self.conductors.items()}}

    def panels_of(self, diagnosis):
        points = {p for fault in diagnosis for p in fault["ends"] + fault["points"]}
        # A terminal that only one side of is in the wire list has the other side all the same.
        other = {".int": ".ext", ".ext": ".int"}
        return {self.panel_of_point.get(p) or self.panel_of_point[p[:-4] + other[p[-4:]]] for p in points}

    def write_panel(self, panel, folder):
        for name, rows in (("conductors", self.conductors[panel]), ("readings", self.readings[panel])):
            with open(folder / f"{name}.csv", "w", newline="") as file:
                writer = csv.DictWriter(file, rows[0].keys())
                writer.writeheader()
                writer.writerows(rows)


def in_words(diagnosis):
    return tuple((f["kind"], *f["elements"], "at", *f["ends"], "to", *f["points"]) for f in diagnosis)


def explanations(report, is_own):
    """By cluster (the readings of its first explanation), set of faults and readings: its share of the likeliest one's
    probability, and what no reading can tell from it. Those that aren't its own: their shares."""
    clusters = defaultdict(list)
    for finding in report["findings"]:
        clusters[finding["cluster"]].append(finding)
    found, others = {}, []
    for findings in clusters.values():
        best = findings[0]
        for finding in findings:
            share = finding["probability"] / best["probability"]
            if not is_own(finding["faults"]):
                others.append(share)
                continue
            alike = frozenset(in_words(e["faults"]) for e in finding["equivalent"] if is_own(e["faults"]))
            # The same set may stand there twice: for this cluster alone, and for another one as well.
            key = tuple(best["explains"]), in_words(finding["faults"]), tuple(finding["explains"])
            if key in found:
                sys.exit(f"listed twice: {key}")
            found[key] = share, alike
    return found, others


def differences(whole, alone):
    def said(key):
        return f"{key[1]} for {', '.join(key[2])} in the finding on {', '.join(key[0])}"

    for key in sorted(whole.keys() | alone.keys()):
        if key not in alone:
            yield f"only the whole plant has {said(key)}, {whole[key][0]:.2g} of the first"
        elif key not in whole:
            yield f"only the panel alone has {said(key)}, {alone[key][0]:.2g} of the first"
        elif not math.isclose(whole[key][0], alone[key][0], rel_tol=1e-9):
            yield f"{said(key)}: share {whole[key][0]} in the plant, {alone[key][0]} alone"
        elif whole[key][1:] != alone[key][1:]:
            yield f"{said(key)}: the same as {set(whole[key][1])} in the plant, {set(alone[key][1])} alone"


def next_readings(report):
    """By the readings of a finding, the reading to take next."""
    return {tuple(f["explains"]): f["next_reading"] for f in report["findings"] if f["rank"] == 1}


def printed_priors(ringtrue):
    text = subprocess.run([ringtrue, "compare", QUICKSTART, QUICKSTART / "readings.csv", "--faults"],
                          capture_output=True, text=True, check=True).stdout
    return {name: float(re.search(rf"^\s+{name}\s+(\S+)", text, re.M)[1]) for name in SPREAD}


def check_panels(ringtrue, plant, report, scratch):
    """Differences between the findings in the whole plant and in each panel alone, and a line that sums it up."""
    own = defaultdict(lambda: {"findings": []})
    panel_of_reading = {row["id"]: panel for panel, rows in plant.readings.items() for row in rows}
    clusters = {}
    for finding in report["findings"]:
        panel = clusters.setdefault(finding["cluster"], panel_of_reading[finding["explains"][0]])
        own[panel]["findings"].append(finding)
    priors = printed_priors(ringtrue)
    total = {unit: sum(sizes.values()) for unit, sizes in plant.size.items()}

    def check(panel):
        folder = scratch / panel
        folder.mkdir()
        plant.write_panel(panel, folder)
        scaled = "".join(f"{name} = {value * plant.size[SPREAD[name]][panel] / total[SPREAD[name]]!r}\n"
                         for name, value in priors.items())
        (folder / "priors.toml").write_text(scaled)
        alone = compare(ringtrue, folder / "conductors.csv", folder / "readings.csv", "--priors", folder / "priors.toml")
        whole, others = explanations(own[panel], lambda faults: plant.panels_of(faults) == {panel})
        small, _ = explanations(alone, lambda faults: True)
        next_whole, next_alone = next_readings(own[panel]), next_readings(alone)
        other_next = [f"{', '.join(key)}: next {next_whole[key]} in the plant, {next_alone.get(key)} alone"
                      for key in next_whole if next_whole[key] != next_alone.get(key)]
        return [f"panel {panel}: {text}" for text in differences(whole, small)], len(small), others, other_next

    with ThreadPoolExecutor(2) as pool:
        checked = list(pool.map(check, plant.conductors))
    wrong = [text for texts, _, _, _ in checked for text in texts]
    others = [share for _, _, shares, _ in checked for share in shares]
    other_next = [text for _, _, _, texts in checked for text in texts]
    for text in other_next:
        print(f"  {text}")
    line = (f"{len(checked)} panels alone: {sum(count for _, count, _, _ in checked)} explanations, {len(wrong)} differ; the whole has "
            f"{len(others)} more that reach into another panel"
            + (f", the likeliest {max(others):.1e} of the first explanation" if others else "")
            + f"; another next reading for {len(other_next)} findings")
    return wrong, line


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--make-plant")
    parser.add_argument("--conductors", type=int, default=20000)
    parser.add_argument("--plant", type=Path)
    parser.add_argument("--summary", type=Path, help="write the figures there as JSON")
    options = parser.parse_args()

    with tempfile.TemporaryDirectory() as scratch:
        folder = options.plant or Path(scratch, "plant")
        if not options.plant:
            subprocess.run([options.make_plant, folder, str(options.conductors)], check=True, stdout=subprocess.DEVNULL)
        plant = Plant(folder)
        report = compare(options.ringtrue, folder / "conductors.csv", folder / "readings.csv")
        truth = rows_of(folder / "faults.csv")
        how, wrong = accounts(report, truth)
        counts = Counter(way.partition(" (")[0] for way in how.values())
        lines = [f"{len(truth)} faults in {report['summary']['clusters']} findings: "
                 + ", ".join(f"{count} {way}" for way, count in counts.most_common())]
        lines += [f"  {name}: {way}" for name, way in how.items() if way != "named first"]
        of_panels, line = check_panels(options.ringtrue, plant, report, Path(scratch))
        wrong += of_panels
        lines.append(line)
    print("\n".join(lines))
    if options.summary:
        options.summary.write_text(json.dumps({"faults": len(truth), "accounts": counts, "panels": line, "wrong": wrong}))
    for text in wrong[:20]:
        print(f"WRONG: {text}", file=sys.stderr)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
