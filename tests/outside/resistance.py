#!/usr/bin/env python3
"""Checks resistances against ngspice, a general-purpose circuit simulator (Debian: ngspice), and against NetworkX.

1. Random networks of resistors: the solver's two bounds against ngspice, which drives one ampere through each network
   and gives the volts; and against NetworkX's resistance_distance, with the values as they are and drawn together.
2. Every panel coil of the demo, with the leads either way, at rest and with the other loads unplugged: the bounds that
   `ringtrue expect --json` gives against ngspice, which solves the lowest and the highest network of
   tests/support/interval_panel.py. That shares no code with the tool.
3. The same for random pairs of points of the demo, because no length, fuse or contact counts at most coils.

Run: resistance.py --solve-networks PATH --ringtrue PATH [--count N] [--seed N]
"""

import argparse
import json
import random
import re
import subprocess
import sys
import tempfile
import warnings
from collections import Counter
from math import inf, log10
from pathlib import Path

import networkx
import numpy
from netlist_maker import REPO, run, seed_from      # first of the project's: it lets the next ones be found
from interval_panel import IntervalPanel, ResistorNetwork
from plain_panel import CONTACT_KINDS, Panel, designation

DEMO = REPO / "netlists/grain-dryer"
LEAST_OHMS, GREATEST_OHMS = 0.01, 1e6
UNPLUGGED_KINDS = {"electronics", "supply", "input", "lamp", "surge"}
FARTHEST_PAIR = 8               # elements that conduct at rest between two probed points
# Greatest relative differences. A point's conductances add up in double precision (2e-16): of 100 S that leaves 1e-8 of
# the least conductance, 1e-6 S, and the errors of a network's points come together.
SPICE_TOLERANCE = 1e-6
# NetworkX inverts the whole matrix. Its error is that of double precision times the matrix's condition, the greatest
# over the least eigenvalue beside zero; ten times as much is allowed where that is more than the tolerance.
NETWORKX_TOLERANCE = 1e-9
ROUNDING = 10 * numpy.finfo(float).eps
DRAWN_TOGETHER = 0.5            # power of the ohms: with four decades instead of eight the tolerance holds for all


# Networks


def random_network(rng):
    """A connected network of 3 to 40 points: a tree, chords, and resistors beside others. Black is another than red."""
    count = rng.randint(3, 40)
    pairs = [(rng.randrange(point), point) for point in range(1, count)]
    pairs += [rng.sample(range(count), 2) for _ in range(rng.randint(0, count))]
    pairs += rng.choices(pairs, k=rng.choice([0, 0, 1, 2, 5]))
    rng.shuffle(pairs)
    resistors = [(a, b, 10 ** rng.uniform(log10(LEAST_OHMS), log10(GREATEST_OHMS))) for a, b in pairs]
    return ResistorNetwork(resistors, *rng.sample(range(count), 2))


def drawn_together(network):
    resistors = [(a, b, ohms**DRAWN_TOGETHER) for a, b, ohms in network.resistors]
    return ResistorNetwork(resistors, network.red, network.black)


def points_of(network):
    return sorted({p for a, b, _ in network.resistors for p in (a, b)})


def has_parallel(network):
    return len({frozenset(r[:2]) for r in network.resistors}) < len(network.resistors)


def has_dead_end(network):
    degree = networkx.Graph(r[:2] for r in network.resistors).degree()
    return any(d == 1 for p, d in degree if p not in (network.red, network.black))


# Solvers


def solver_bounds(solve_networks, networks):
    """(lo, hi) in ohms for each network of numbered points, from the tool's solver."""
    text = "".join(f"nodes {n.red} {n.black} {len(points_of(n))}\n"
                   + "".join(f"{a} {b} {ohms:.17g}\n" for a, b, ohms in n.resistors) for n in networks)
    done = subprocess.run([solve_networks], input=text, capture_output=True, text=True)
    bounds = [tuple(map(float, line.split())) for line in done.stdout.splitlines()]
    if done.returncode or len(bounds) != len(networks):
        raise RuntimeError(f"{solve_networks}: status {done.returncode}, {len(bounds)} answers for {len(networks)} "
                           f"networks\n{done.stderr}")
    return bounds


def ngspice_ohms(networks):
    """Ohms of each network from one run of ngspice; 0 where red is black, infinite where nothing connects them.

    Each network has nodes of its own, is grounded at black, and takes one ampere at red, so volts are ohms.
    """
    ohms = {i: 0.0 if n.red == n.black else inf for i, n in enumerate(networks) if n.red in (None, n.black)}
    asked = [i for i in range(len(networks)) if i not in ohms]
    with tempfile.TemporaryDirectory(prefix="ringtrue-ngspice-") as folder:
        deck = Path(folder) / "networks.cir"
        deck.write_text("\n".join(deck_lines({i: networks[i] for i in asked})) + "\n", encoding="ascii")
        output = run(["ngspice", "-b", deck]) if asked else ""
    ohms |= {int(i): float(volts) for i, volts in re.findall(r"^v\(red(\d+)\) = (\S+)", output, re.MULTILINE)}
    if len(ohms) != len(networks):
        raise RuntimeError(f"ngspice gave {len(ohms)} of {len(networks)} voltages\n{output[-2000:]}")
    return [ohms[i] for i in range(len(networks))]


def deck_lines(networks):
    """ngspice's input for the networks by their numbers."""
    yield "resistor networks"
    yield ".options reltol=1e-12 abstol=1e-18 vntol=1e-15 gmin=1e-18"
    for i, network in networks.items():
        node = {p: f"n{i}_{k}" for k, p in enumerate(points_of(network))}
        node |= {network.red: f"red{i}", network.black: "0"}
        yield f"I{i} 0 red{i} 1"
        yield from (f"R{i}_{k} {node[a]} {node[b]} {ohms:.17g}" for k, (a, b, ohms) in enumerate(network.resistors))
    yield from (".control", "set numdgt=15", "op", *(f"print v(red{i})" for i in networks), "quit 0", ".endc", ".end")


def networkx_ohms(network):
    graph = networkx.MultiGraph()
    graph.add_weighted_edges_from(network.resistors)
    return networkx.resistance_distance(graph, network.red, network.black, weight="weight")


def matrix_condition(network):
    """The greatest eigenvalue of the matrix of conductances over the least one beside zero."""
    graph = networkx.MultiGraph()
    graph.add_weighted_edges_from((a, b, 1.0 / ohms) for a, b, ohms in network.resistors)
    values = numpy.linalg.eigvalsh(networkx.laplacian_matrix(graph).toarray())
    return values[-1] / values[1]


# Checks


def relative_difference(ours, theirs):
    """0 for equal values, infinite ones too; else the difference over the greater one."""
    if ours == theirs:
        return 0.0
    return inf if inf in (ours, theirs) else abs(ours - theirs) / max(abs(ours), abs(theirs))


def worst_difference(bounds, theirs):
    return max(relative_difference(bound, theirs) for bound in bounds)


def check_solver_against_ngspice(networks, bounds):
    """Compares both bounds of each network. Like every check it prints its figures and returns mistakes as text."""
    theirs = ngspice_ohms(networks)
    differences = [worst_difference(b, t) for b, t in zip(bounds, theirs)]
    print(f"solver against ngspice: {len(networks)} networks, "
          f"{sum(map(has_parallel, networks))} with parallel resistors, "
          f"{sum(map(has_dead_end, networks))} with dead ends, {min(theirs):.3g} to {max(theirs):.3g} ohms, "
          f"worst relative difference {max(differences):.2g} (allowed {SPICE_TOLERANCE:g})")
    return [f"network {i}: solver {bounds[i][0]:.17g} to {bounds[i][1]:.17g} ohms, ngspice {theirs[i]:.17g}"
            for i, d in enumerate(differences) if not d <= SPICE_TOLERANCE]


def check_solver_against_networkx(name, networks, bounds):
    """Compares both bounds of each network, to NetworkX's own accuracy where that is worse than the tolerance."""
    mistakes, worst, allowed_most, at_tolerance = [], 0.0, 0.0, 0
    for i, network in enumerate(networks):
        theirs = networkx_ohms(network)
        allowed = max(NETWORKX_TOLERANCE, ROUNDING * matrix_condition(network))
        difference = worst_difference(bounds[i], theirs)
        worst, allowed_most = max(worst, difference), max(allowed_most, allowed)
        at_tolerance += allowed == NETWORKX_TOLERANCE
        if not difference <= allowed:
            mistakes.append(f"network {i}, {name}: solver {bounds[i][0]:.17g} to {bounds[i][1]:.17g} ohms, "
                            f"NetworkX {theirs:.17g}, allowed {allowed:.2g}")
    print(f"solver against NetworkX, {name}: {len(networks)} networks, worst relative difference {worst:.2g} (allowed "
          f"{NETWORKX_TOLERANCE:g} for {at_tolerance}, at most {allowed_most:.2g} where the matrix is worse)")
    return mistakes


def load_parts(panel):
    """The parts with electronics, a supply, a lamp or the like, which a tester unplugs so that they join nothing."""
    return sorted({designation(e.name) for e in panel.elements if e.kind in UNPLUGGED_KINDS})


def coil_questions(panel):
    """(red, black, condition) for each coil with stated ohms in the panel: leads either way, at rest and unplugged."""
    for coil in panel.elements:
        if coil.kind != "coil" or coil.ohms is None or panel.place[coil.name] != "panel":
            continue
        unplugged = "; ".join(f"{part}=unplugged" for part in load_parts(panel) if part != coil.name)
        for condition in ("", unplugged):
            yield coil.a, coil.b, condition
            yield coil.b, coil.a, condition


def pair_questions(panel, rng, count):
    """(red, black, condition) for points a few elements apart, so that lengths, fuses, contacts and diodes count.

    A random share of the loads is unplugged, and up to three devices are operated.
    """
    graph = networkx.Graph((e.a, e.b) for e in panel.elements if panel.conducts(e, {}))
    operable = sorted({e.actuated_by for e in panel.elements if e.kind in CONTACT_KINDS and not e.closed_in})
    for _ in range(count):
        red = rng.choice(sorted(graph))
        near = networkx.single_source_shortest_path_length(graph, red, cutoff=FARTHEST_PAIR)
        black = rng.choice(sorted(set(near) - {red}))
        share = rng.choice([0.0, rng.random(), 1.0])
        states = {part: "operated" for part in rng.sample(operable, rng.randint(0, 3))}
        states |= {part: "unplugged" for part in load_parts(panel) if rng.random() < share}
        yield red, black, "; ".join(f"{part}={state}" for part, state in states.items())


def told_bounds(ringtrue, red, black, condition):
    """(lo, hi) in ohms as the tool says for the demo; null is infinite."""
    told = json.loads(run([ringtrue, "expect", DEMO, red, black, "--when", condition, "--json"]))["ohms"]
    return tuple(inf if told[end] is None else told[end] for end in ("lo", "hi"))


def check_expect(ringtrue, panel, name, questions):
    """Compares both bounds of each question (red, black, condition) to the demo."""
    theirs = ngspice_ohms([network for question in questions for network in panel.networks(*question)])
    mistakes, worst, counts = [], 0.0, Counter()
    for number, (red, black, condition) in enumerate(questions):
        for end, ours, ngspice in zip(("lo", "hi"), told_bounds(ringtrue, red, black, condition), theirs[2 * number:]):
            # The tool says nothing where only the least of conducting diodes is left.
            ngspice = 0.0 if ngspice <= panel.least_of_diodes() else ngspice
            difference = relative_difference(ours, ngspice)
            worst = max(worst, difference)
            counts[f"{end} {'zero' if ngspice == 0.0 else 'infinite' if ngspice == inf else 'finite'}"] += 1
            if not difference <= SPICE_TOLERANCE:
                mistakes.append(f"expect {red} {black} --when {condition!r}: {end} is {ours:.17g} ohms, "
                                f"ngspice {ngspice:.17g}")
    print(f"ringtrue expect against ngspice, {name}: {len(questions)} questions, "
          f"{', '.join(f'{count} {kind}' for kind, count in sorted(counts.items()))}, "
          f"worst relative difference {worst:.2g} (allowed {SPICE_TOLERANCE:g})")
    if not counts["lo finite"] or not counts["hi finite"]:
        mistakes.append(f"{name}: no bound is finite and above zero, so nothing was shown")
    return mistakes


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--solve-networks", required=True)
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int)
    options = parser.parse_args()
    seed = seed_from(options)
    warnings.simplefilter("ignore", FutureWarning)      # NetworkX 2.8 announces another form of its matrices

    wide = [random_network(random.Random(f"{seed}/{number}")) for number in range(options.count)]
    narrow = [drawn_together(network) for network in wide]
    wide_bounds = solver_bounds(options.solve_networks, wide)
    mistakes = check_solver_against_ngspice(wide, wide_bounds)
    mistakes += check_solver_against_networkx("eight decades of ohms", wide, wide_bounds)
    mistakes += check_solver_against_networkx("four decades", narrow, solver_bounds(options.solve_networks, narrow))
    plain = Panel.load(DEMO)
    panel = IntervalPanel(plain)
    mistakes += check_expect(options.ringtrue, panel, "coils", list(coil_questions(plain)))
    pairs = list(pair_questions(plain, random.Random(f"{seed}/pairs"), options.count))
    mistakes += check_expect(options.ringtrue, panel, "pairs of points", pairs)
    print("\n".join("  " + m for m in mistakes), end="\n" if mistakes else "")
    print("resistance: " + (f"FAILED, {len(mistakes)} mistakes" if mistakes else "OK, every bound is the others' too"))
    return 1 if mistakes else 0


if __name__ == "__main__":
    sys.exit(main())
