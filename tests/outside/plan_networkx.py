#!/usr/bin/env python3
"""Checks plans against NetworkX and igraph, general-purpose graph libraries (Debian: python3-networkx, python3-igraph).

For random netlists of copper, `ringtrue plan FOLDER --no-lifts --json` must
- prove exactly the elements that are bridges of the multigraph: by NetworkX's bridges and, where igraph is installed,
  by its biconnected components, both with elements made vertices, so that parallel conductors stay two;
- take ceil(L / 2) readings on each net, where L counts the leaves of the tree that is left of the net once all that
  isn't a bridge is contracted;
- name for each element not covered a walk around it.

Run: plan_networkx.py --ringtrue PATH [--count N] [--seed N]
"""

import argparse
import json
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

import networkx
from netlist_maker import TABLES, as_text, run, seed_from, shrunk, write_csv

try:
    import igraph
except ImportError:
    igraph = None


def random_tables(chance):
    """Terminals and pins; trees, rings and parallel conductors between them."""
    parts, points, conductors = [], [], []
    for number in range(1, chance.randint(3, 16)):
        if chance.random() < 0.4:
            if chance.random() < 0.8:
                parts.append({"part": f"X1:{number}", "kind": "terminal"})
            points.append([f"X1:{number}.int", f"X1:{number}.ext"])
        else:
            points.append([f"D{number % 4}:{number}"])

    def join(one, other):
        is_bridge = chance.random() < 0.25
        name = ("b" if is_bridge else "") + str(len(conductors) + 1)
        conductors.append({"wire": name, "from": chance.choice(one), "to": chance.choice(other),
                           "kind": "bridge" if is_bridge else "wire"})

    for number in range(1, len(points)):
        if chance.random() < 0.9:
            join(points[chance.randrange(number)], points[number])
    for _ in range(chance.randint(0, 4)):
        if len(points) > 1:
            join(*chance.sample(points, 2))
    return {**{table: [] for table in TABLES}, "conductors": conductors, "parts": parts}


def elements_of(tables):
    """By name: the two points of each conductor and of each terminal's body, listed as a part or not."""
    elements = {row["wire"]: (row["from"], row["to"]) for row in tables["conductors"]}
    terminals = {row["part"] for row in tables["parts"]}
    terminals |= {point[:-4] for ends in elements.values() for point in ends if point.endswith((".int", ".ext"))}
    elements.update({name: (f"{name}.int", f"{name}.ext") for name in terminals})
    return elements


def with_elements_as_vertices(elements):
    graph = networkx.Graph()
    for name, ends in elements.items():
        for point in ends:
            graph.add_edge(("element", name), ("point", point))
    return graph


def bridges_by_networkx(elements):
    lone = Counter()
    for pair in networkx.bridges(with_elements_as_vertices(elements)):
        lone.update(name for sort, name in pair if sort == "element")
    return {name for name, edges in lone.items() if edges == 2}


def bridges_by_igraph(elements):
    edges = [(f"element {name}", f"point {point}") for name, ends in elements.items() for point in ends]
    graph = igraph.Graph.TupleList(edges)
    lone = Counter()
    for component in graph.biconnected_components():
        if len(component) == 2:
            lone.update(name for name in graph.vs[component]["name"] if name.startswith("element "))
    return {name.removeprefix("element ") for name, edges in lone.items() if edges == 2}


def readings_needed(elements, bridges):
    """By point: its net's number; and by net: half the leaves of its tree of bridges, rounded up."""
    whole = networkx.MultiGraph()
    rest = networkx.MultiGraph()
    for name, ends in elements.items():
        whole.add_edge(*ends)
        rest.add_nodes_from(ends)
        if name not in bridges:
            rest.add_edge(*ends)
    block = {p: i for i, points in enumerate(networkx.connected_components(rest)) for p in points}
    net = {p: i for i, points in enumerate(networkx.connected_components(whole)) for p in points}
    degree = Counter()
    for name in bridges:
        degree.update(block[p] for p in elements[name])
    blocks_of = {}
    for point, number in block.items():
        blocks_of.setdefault(net[point], set()).add(number)
    leaves = {number: sum(degree[b] == 1 for b in blocks) for number, blocks in blocks_of.items()}
    return net, {number: (count + 1) // 2 for number, count in leaves.items()}


def name_of(element):
    return element if isinstance(element, str) else element["name"]


def is_way_around(elements, element, witness):
    def leads(at, end):
        for name in witness:
            if name == element or name not in elements or at not in elements[name]:
                return False
            one, other = elements[name]
            at = other if at == one else one
        return at == end
    one, other = elements[element]
    return leads(one, other) or leads(other, one)


def reading_mistakes(elements, reading):
    mistakes = []
    if reading["expect"] != "beep" or reading.get("conditions"):
        mistakes.append(f"{reading['id']} expects {reading['expect']} under '{reading.get('conditions')}'")
    for name in map(name_of, reading["proves"]):
        graph = networkx.Graph(ends for other, ends in elements.items() if other != name)
        graph.add_nodes_from([reading["from"], reading["to"]])
        if networkx.has_path(graph, reading["from"], reading["to"]):
            mistakes.append(f"{reading['id']} doesn't show a break of {name}")
    return mistakes


def plan_mistakes(ringtrue, folder, tables, counts):
    elements = elements_of(tables)
    if not elements:
        return []
    plan = json.loads(run([ringtrue, "plan", write_csv(folder, tables), "--no-lifts", "--json"], allowed=(0, 1)))
    bridges = bridges_by_networkx(elements)
    mistakes = []
    if igraph and bridges_by_igraph(elements) != bridges:
        mistakes.append("igraph and NetworkX disagree")
    proven = Counter(name_of(e) for reading in plan["readings"] for e in reading["proves"])
    if set(proven) != bridges or any(times != 1 for times in proven.values()):
        mistakes.append(f"proves {sorted(proven.elements())}, bridges are {sorted(bridges)}")
    not_covered = {name_of(one["element"]): one for one in plan["not_covered"]}
    if set(not_covered) != set(elements) - bridges:
        mistakes.append(f"not covered are {sorted(not_covered)}, no bridges are {sorted(set(elements) - bridges)}")
    for name, one in not_covered.items():
        if name in elements and not is_way_around(elements, name, [name_of(e) for e in one["witness"]]):
            mistakes.append(f"{one['witness']} doesn't lead around {name}")
    net, needed = readings_needed(elements, bridges)
    taken = Counter(net[reading["from"]] for reading in plan["readings"])
    for number, count in needed.items():
        if taken[number] != count:
            mistakes.append(f"{taken[number]} readings, {count} needed, on the net of "
                            f"{sorted(p for p in net if net[p] == number)}")
    for reading in plan["readings"]:
        mistakes += reading_mistakes(elements, reading)
    counts["elements"] += len(elements)
    counts["bridges"] += len(bridges)
    counts["readings"] += len(plan["readings"])
    counts["nets with readings"] += sum(1 for count in needed.values() if count)
    return mistakes


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int)
    options = parser.parse_args()
    seed = seed_from(options)
    failed, counts = 0, Counter()
    with tempfile.TemporaryDirectory(prefix="ringtrue-plan-") as base:
        def mistakes_of(tables, name, counted):
            return plan_mistakes(options.ringtrue, Path(base) / name, tables, counted)

        def fails(tables):
            try:
                return bool(mistakes_of(tables, "shrinking", Counter()))
            except (RuntimeError, ValueError, KeyError):
                return False
        for number in range(options.count):
            tables = random_tables(random.Random(f"{seed}/{number}"))
            if not mistakes_of(tables, f"n{number}", counts):
                continue
            failed += 1
            fewest = shrunk(tables, fails)
            print(f"random netlist {number} of seed {seed}, shrunk:\n{as_text(fewest)}")
            print("\n".join(mistakes_of(fewest, "shrunk", Counter())))
            if failed >= 5:
                print("stopped after five netlists")
                break
    print(f"{options.count} random netlists: {dict(counts)}" + ("" if igraph else "; igraph isn't installed"))
    if not failed and not counts["elements"] > counts["bridges"] > options.count:
        print("the random netlists have too few bridges or rings to show anything")
        failed += 1
    print("plan_networkx: " + (f"FAILED, {failed} netlists" if failed else "OK"))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
