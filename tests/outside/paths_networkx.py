#!/usr/bin/env python3
"""Checks traced paths against NetworkX, a general-purpose graph library (Debian: python3-networkx).

For each channel of the demo netlists and of random ones, `ringtrue trace NETLIST --json` must give
- a walk: consecutive elements share a point, and each is an element of the plain model between these points;
- for a complete signal path, from the channel's point to its field terminal, as many elements as NetworkX's
  shortest path in the hard graph at rest; for complete return and common paths the same between their ends;
- not complete exactly where NetworkX finds no path at rest.

Run: paths_networkx.py --ringtrue PATH [--count N] [--seed N]
"""

import argparse
import json
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

import networkx
from netlist_maker import RandomNetlist, as_text, demo_files, full_name, run, seed_from, shrunk, write_csv
from plain_panel import HARD_KINDS, Panel


class HardGraph:
    """What conducts at rest, and what could: contacts, field parts and the like in their other state too."""

    def __init__(self, panel):
        self.panel = panel
        self.spelled = {full_name(p, panel.facts): p for p in panel.points()}
        at_rest = panel.parse_condition("")
        hard = [e for e in panel.elements if e.kind in HARD_KINDS]
        self.possible = {frozenset((e.a, e.b)) for e in hard}
        self.at_rest = networkx.Graph()
        self.at_rest.add_nodes_from(panel.points())
        self.at_rest.add_edges_from((e.a, e.b) for e in hard if panel.conducts(e, at_rest))

    def point(self, name):
        """The plain model's spelling of a point in a report."""
        return self.spelled.get(full_name(name, self.panel.facts), name)

    def distance(self, a, b):
        """Elements on the shortest path at rest; None where there is none."""
        if a not in self.at_rest or b not in self.at_rest:
            return None
        try:
            return networkx.shortest_path_length(self.at_rest, a, b)
        except networkx.NetworkXNoPath:
            return None

    def has_closed_element(self, a, b):
        return self.at_rest.has_edge(a, b)


def outer_side(panel, name):
    """The tester's side of a terminal named without one (field, return)."""
    name = panel.canonical(name)
    return f"{name}.ext" if name in panel.sided else name


def path_mistakes(graph, path, is_complete):
    points, elements = [graph.point(p) for p in path.get("points", [])], path.get("elements", [])
    if not points and not elements:
        return ["is complete but empty"] if is_complete else []
    if len(points) != len(elements) + 1:
        return [f"has {len(points)} points and {len(elements)} elements"]
    mistakes = []
    for number, element in enumerate(elements):
        here, there = points[number], points[number + 1]
        ends = {graph.point(element.get("from", here)), graph.point(element.get("to", there))}
        if ends != {here, there}:
            mistakes.append(f"element {number} joins {sorted(ends)}, the walk goes {here} to {there}")
        elif frozenset(ends) not in graph.possible:
            mistakes.append(f"no hard element joins {here} and {there}")
        elif is_complete and not graph.has_closed_element(here, there):
            mistakes.append(f"no element between {here} and {there} conducts at rest")
    if is_complete and not mistakes:
        shortest = graph.distance(points[0], points[-1])
        if shortest != len(elements):
            mistakes.append(f"has {len(elements)} elements, NetworkX's shortest path {shortest}")
    return mistakes


def verdict(path):
    return (path or {}).get("verdict", "")


def channel_mistakes(graph, row, traced, counts):
    panel = graph.panel
    mistakes = []
    for which in ("signal", "return", "common"):
        path = traced.get(which) or {}
        is_complete = verdict(path) == "complete"
        counts[f"{which} complete" if is_complete else f"{which} other"] += 1
        counts["elements"] += len(path.get("elements", [])) if is_complete else 0
        mistakes += [f"{which} path {m}" for m in path_mistakes(graph, path, is_complete)]
    if not row.get("field"):
        return mistakes
    start, end = panel.canonical(row["point"]), outer_side(panel, row["field"])
    signal = traced.get("signal") or {}
    if verdict(signal) == "complete":
        ends = (graph.point(signal["points"][0]), graph.point(signal["points"][-1]))
        if ends != (start, end):
            mistakes.append(f"signal path leads from {ends[0]} to {ends[1]}, drawn from {start} to {end}")
    elif graph.distance(start, end) is not None and not on_a_potential(graph, start):
        mistakes.append(f"signal path is '{verdict(signal)}', NetworkX finds one of {graph.distance(start, end)} elements")
    return mistakes


def on_a_potential(graph, point):
    """There a search stops at once, or every channel would reach every other one."""
    origins = [graph.panel.canonical(row["point"]) for row in graph.panel.rows("potentials") if row.get("point")]
    return any(graph.distance(point, origin) is not None for origin in origins)


def netlist_mistakes(ringtrue, netlist, counts):
    panel = Panel.load(netlist)
    graph = HardGraph(panel)
    report = json.loads(run([ringtrue, "trace", netlist, "--json"], allowed=(0, 1)))
    traced = {graph.point(channel["point"]): channel for channel in report["channels"]}
    mistakes = []
    for row in panel.rows("channels"):
        point = panel.canonical(row["point"])
        counts["channels"] += 1
        if point not in traced:
            mistakes.append(f"{point}: not in the report")
            continue
        mistakes += [f"{point}: {m}" for m in channel_mistakes(graph, row, traced[point], counts)]
    return mistakes


def fails(ringtrue, netlist):
    """For shrinking: a netlist that one side refuses is no smaller form of the same mistake."""
    try:
        return bool(netlist_mistakes(ringtrue, netlist, Counter()))
    except (RuntimeError, ValueError, TypeError, KeyError):
        return False


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--dump-nets", help="not used; taken so that all outside checks are called alike")
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int)
    options = parser.parse_args()
    seed = seed_from(options)
    failed = 0

    for netlist in demo_files():
        counts = Counter()
        mistakes = netlist_mistakes(options.ringtrue, netlist, counts)
        if not counts["signal complete"]:
            mistakes.append("no channel is complete, so nothing was shown")
        print(f"{netlist}: {dict(counts)}")
        print("\n".join("  " + m for m in mistakes), end="\n" if mistakes else "")
        failed += bool(mistakes)

    counts = Counter()
    with tempfile.TemporaryDirectory(prefix="ringtrue-paths-") as folder:
        for number in range(options.count):
            tables = RandomNetlist(random.Random(f"{seed}/{number}")).tables
            mistakes = netlist_mistakes(options.ringtrue, write_csv(Path(folder) / f"n{number}", tables), counts)
            if mistakes:
                failed += 1
                fewest = shrunk(tables, lambda rows: fails(options.ringtrue, write_csv(Path(folder) / "shrinking", rows)))
                print(f"random netlist {number} of seed {seed}, shrunk:")
                print(as_text(fewest))
                print("\n".join(netlist_mistakes(options.ringtrue, write_csv(Path(folder) / "shrunk", fewest), Counter())))
                if failed >= 5:
                    print("stopped after five netlists")
                    break
    print(f"{options.count} random netlists: {dict(counts)}")
    if not failed and counts["signal complete"] < options.count:
        print("the random netlists have too few complete paths to show anything")
        failed += 1
    print("paths_networkx: " + (f"FAILED, {failed} netlists" if failed else "OK, every path is a shortest walk"))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
