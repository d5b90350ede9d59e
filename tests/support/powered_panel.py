"""What a meter of 1 MΩ shows in a powered panel: nodes, resistors and sources solved with SciPy.

Shares nothing with the C++ code; what is closed and which supplies run it finds from its own solution: a relay pulls
in and a supply starts where its pins have voltage.
"""

import cmath

import networkx
import numpy
from plain_panel import HARD_KINDS
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

METER_OHMS = 1e6
COPPER_OHMS = 1e-4           # loads are drawn at random, some far too low: copper must not lose volts to them
SOURCE_OHMS = 1e-4
PULLS_VOLTS = 6.0
STARTS_VOLTS = 100.0
MOST_STATES = 8              # states a chattering relay is followed through
SOFT_OHMS = {"coil": (150, 2000), "lamp": (50, 2000), "motor": (2, 200), "transformer": (10, 500)}


class PoweredPanel:
    def __init__(self, panel, rng):
        self.panel = panel
        self.ohms = [self._ohms(e, rng) for e in panel.elements]
        rows = panel.rows("potentials")
        self.origin = {r["name"]: (r["kind"], float(r["volts"] or 0), panel.canonical(r["point"])) for r in rows}
        self.at = {}
        for e in panel.elements:
            for p in (e.a, e.b):
                self.at.setdefault(p, []).append(e)

    @staticmethod
    def _ohms(element, rng):
        if element.kind in HARD_KINDS:
            return COPPER_OHMS
        if element.ohms is not None:
            return element.ohms
        return rng.uniform(*SOFT_OHMS[element.kind]) if element.kind in SOFT_OHMS else 10 ** rng.uniform(1.8, 6.5)

    def sources(self, mains_on, ac):
        """(plus, minus, complex volts) of all that run, given the AC voltages found so far."""
        lines = [(v, p) for kind, v, p in self.origin.values() if kind == "ac-line" and not self._windings(p)]
        found = []
        if mains_on and lines:
            neutral = next(p for kind, _, p in self.origin.values() if kind == "ac-neutral" and not self._windings(p))
            for number, (volts, point) in enumerate(lines):
                found.append((point, neutral, volts * cmath.exp(-2j * cmath.pi * number / 3), True))
        for kind, volts, point in self.origin.values():
            g = point.partition(":")[0]
            if kind == "ac-line" and self._windings(point) and self._is_fed(self._windings(point)[:1], ac):
                found.append((point, self._windings(point)[1].b, volts, True))
            if kind == "dc+" and self._runs(g, mains_on, ac):
                found.append((point, f"{g}:-", volts, False))
        return found

    def _runs(self, g, mains_on, ac):
        inputs = [e for e in self.panel.elements if e.name == g and e.kind == "input"]
        if not inputs:
            return True
        if all(len(self.at[p]) == 1 for e in inputs for p in (e.a, e.b)):
            return mains_on
        return self._is_fed(inputs, ac)

    @staticmethod
    def _is_fed(rows, ac):
        return ac is not None and any(abs(ac.open_volts(e.a, e.b)) > STARTS_VOLTS for e in rows)

    def _windings(self, point):
        """Primary and secondary of the transformer at which the potential originates."""
        rows = [e for e in self.panel.elements if e.name == point.partition(":")[0] and e.kind == "transformer"]
        return sorted(rows, key=lambda e: point in (e.a, e.b))

    def states(self, condition, mains_on):
        """Every state on the way from relays at rest to where nothing moves any more."""
        operated, running, ac = frozenset(), None, None
        for _ in range(MOST_STATES):
            while True:
                sources = self.sources(mains_on, ac)
                state = (self._solve(condition, operated, sources, True), self._solve(condition, operated, sources, False))
                ac = state[0]
                if sources == running:
                    break
                running = sources
            yield state
            moved = frozenset(e.name for e in self.panel.elements
                              if e.kind == "coil" and max(abs(s.open_volts(e.a, e.b)) for s in state) > PULLS_VOLTS)
            if moved == operated:
                return
            operated = moved

    def _solve(self, condition, operated, sources, alternating):
        condition = dict(condition) | {k: "operated" for k in operated if k not in condition}
        edges = [(e.a, e.b, r) for e, r in zip(self.panel.elements, self.ohms)
                 if self.panel.conducts(e, condition) and e.a != e.b]
        return Solution(self.at, edges, [(a, b, v if is_ac == alternating else 0) for a, b, v, is_ac in sources])

    def copper(self, condition):
        """Point -> all points that copper joins to it with every relay at rest."""
        graph = networkx.Graph()
        graph.add_nodes_from(self.at)
        graph.add_edges_from((e.a, e.b) for e in self.panel.elements
                             if e.kind in HARD_KINDS and self.panel.conducts(e, condition))
        return {p: group for group in networkx.connected_components(graph) for p in group}


class Solution:
    def __init__(self, points, edges, sources):
        self.number = {p: i for i, p in enumerate(points)}
        edges = edges + [(a, b, SOURCE_OHMS) for a, b, _ in sources]
        graph = networkx.Graph((a, b) for a, b, _ in edges)
        graph.add_nodes_from(points)
        self.island = {p: i for i, group in enumerate(networkx.connected_components(graph)) for p in group}
        rows, columns, values = [], [], []
        for a, b, ohms in edges:
            i, j = self.number[a], self.number[b]
            rows += [i, j, i, j]
            columns += [i, j, j, i]
            values += [1 / ohms, 1 / ohms, -1 / ohms, -1 / ohms]
        grounded = {}
        for p, island in self.island.items():
            grounded.setdefault(island, self.number[p])
        for i in grounded.values():
            rows.append(i)
            columns.append(i)
            values.append(1.0)
        size = len(self.number)
        self.solver = splu(coo_matrix((values, (rows, columns)), shape=(size, size)).tocsc().astype(complex))
        current = numpy.zeros(size, dtype=complex)
        for a, b, volts in sources:
            current[self.number[a]] += volts / SOURCE_OHMS
            current[self.number[b]] -= volts / SOURCE_OHMS
        self.volts = self.solver.solve(current)

    def open_volts(self, a, b):
        return self.volts[self.number[a]] - self.volts[self.number[b]] if self.island[a] == self.island[b] else 0

    def metered(self, a, b):
        """Of a against b, with the meter's own load between the two."""
        if self.island[a] != self.island[b]:
            return 0
        current = numpy.zeros(len(self.number), dtype=complex)
        current[self.number[a]], current[self.number[b]] = 1, -1
        across = self.solver.solve(current)
        inner = (across[self.number[a]] - across[self.number[b]]).real
        return self.open_volts(a, b) * METER_OHMS / (METER_OHMS + inner)
