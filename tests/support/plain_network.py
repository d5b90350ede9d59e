"""What conducts in a panel under one condition, and the resistance between any two points. Naive and dense.

Part of the plain model in plain_panel.py, which puts the network together; shares nothing with the C++ code.
"""

import copy

import networkx
import numpy
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

DIODE_OHMS = 175.0           # about 0.7 V at the 4 mA of an ohmmeter


class Network:
    """Points joined by resistances, some of them hard (copper), and diodes, which only an ohmmeter opens."""

    def __init__(self, points):
        self.edges = []                                 # (a, b, ohms)
        self.diodes = []                                # (anode, cathode)
        self.hard = networkx.Graph()
        self.hard.add_nodes_from(points)
        self.number, self.solver = {}, None

    def add(self, a, b, ohms, is_hard):
        self.edges.append((a, b, ohms))
        if is_hard:
            self.hard.add_edge(a, b)

    def joined(self, a, b):
        return networkx.has_path(self.hard, a, b)

    def ohms(self, a, b):
        """Effective resistance: one ampere in at a and out at b, by the Laplacian of the conductances."""
        if self.solver is None:
            self._factor()
        if a == b:
            return 0.0
        if a not in self.number or b not in self.number or self.island[a] != self.island[b]:
            return float("inf")
        volts = self._volts(a, b)
        return volts[self.number[a]] - volts[self.number[b]]

    def ohms_with_diodes(self, a, b):
        """The same with the diodes that current flows through from anode to cathode, found by turning them over."""
        forward = set()
        for _ in range(len(self.diodes) + 2):
            with_diodes = copy.copy(self)
            with_diodes.edges = self.edges + [(*self.diodes[i], DIODE_OHMS) for i in forward]
            with_diodes.solver = None
            found = with_diodes.ohms(a, b)
            if found == float("inf"):
                return found
            volts = with_diodes._volts(a, b)
            at = {p: volts[i] for p, i in with_diodes.number.items()}
            island = with_diodes.island
            turned = {i for i, (anode, cathode) in enumerate(self.diodes)
                      if island.get(anode) == island.get(a) == island.get(cathode)
                      and at[anode] - at[cathode] > 1e-9 * found}         # less is rounding
            if turned == forward:
                return found
            forward = turned
        raise ValueError(f"the diodes between {a} and {b} come to no rest")

    def _volts(self, a, b):
        current = numpy.zeros(len(self.number))
        current[self.number[a]], current[self.number[b]] = 1.0, -1.0
        return self.solver.solve(current)

    def _factor(self):
        graph = networkx.Graph((a, b) for a, b, _ in self.edges)
        self.number = {p: i for i, p in enumerate(sorted(graph))}
        self.island = {p: i for i, c in enumerate(networkx.connected_components(graph)) for p in c}
        laplacian = numpy.zeros((len(self.number), len(self.number)))
        for a, b, ohms in self.edges:
            if a != b:
                i, j, siemens = self.number[a], self.number[b], 1.0 / ohms
                laplacian[[i, j], [i, j]] += siemens
                laplacian[[i, j], [j, i]] -= siemens
        for island in set(self.island.values()):        # ground one point of each, or the matrix is singular
            first = min(i for p, i in self.number.items() if self.island[p] == island)
            laplacian[first, first] += 1.0
        self.solver = splu(csc_matrix(laplacian))
