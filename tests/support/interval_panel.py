"""Intervals of resistance on top of the plain model of a panel, and the two networks that bound a reading.

Shares nothing with the C++ code. Every element gets the least and the greatest resistance that it can have, in ohms.
All elements at their least make the lowest network, all at their greatest the highest one: the resistance between two
points grows with that of each element (Rayleigh's monotonicity law), so these two bound what an ohmmeter can show.

    panel = IntervalPanel(Panel.load("netlists/grain-dryer"))
    lowest, highest = panel.networks("K1:A1", "K1:A2", "K21=unplugged")

The networks are given as resistors, for a solver of the caller's choice. The ohmmeter's plus is on the red lead.
"""

from dataclasses import dataclass
from math import inf

import networkx
import numpy
from plain_panel import CONDUCTOR_KINDS, DEAD_KINDS, HARD_KINDS, PanelError

# Greatest resistance at 20 °C in ohms per km of a copper conductor, by its size in mm². IEC 60228:2004, tables 2 and 3:
# class 2 (stranded) plain and metal-coated, class 5 (flexible) plain and metal-coated.
MAXIMUM_OHMS_PER_KM = {
    0.5: (36.0, 36.7, 39.0, 40.1),
    0.75: (24.5, 24.8, 26.0, 26.7),
    1.0: (18.1, 18.2, 19.5, 20.0),
    1.5: (12.1, 12.2, 13.3, 13.7),
    2.5: (7.41, 7.56, 7.98, 8.21),
    4.0: (4.61, 4.70, 4.95, 5.09),
    6.0: (3.08, 3.11, 3.30, 3.39),
    10.0: (1.83, 1.84, 1.91, 1.95),
    16.0: (1.15, 1.16, 1.21, 1.24),
    25.0: (0.727, 0.734, 0.780, 0.795),
    35.0: (0.524, 0.529, 0.554, 0.565),
    50.0: (0.387, 0.391, 0.386, 0.393),
    70.0: (0.268, 0.270, 0.272, 0.277),
    95.0: (0.193, 0.195, 0.206, 0.210),
    120.0: (0.153, 0.154, 0.161, 0.164),
}
UNSTATED_SIZE_OHMS_PER_KM = 147.8           # at 20 °C, where the drawing gives a length without a size
LENGTH_ALLOWANCE = 1.1                      # the drawing's length may fall short by a tenth
HOT_COPPER = (234.5 + 40.0) / 254.5         # resistance at 40 °C over that at 20 °C, IEC 60228's factor for copper
TWO_ENDS_OHMS = 0.1                         # what the two ends of a conductor add to its copper
UNSTATED_LENGTH_OHMS = 0.2
BRIDGE_OHMS = 0.1
HARD_PART_OHMS = 0.1                        # a terminal's body, a closed contact, a breaker's pole and the like
FUSE_OHMS = 0.5
LOAD_LEAST_OHMS = 1.0                       # a coil, resistor or lamp whose ohms the drawing doesn't give
ELECTRONICS_LEAST_OHMS = 50.0               # electronics, supplies, their inputs, sensors
CURRENT_INPUT_LEAST_OHMS = 5.0              # an analog input for a current in mA
DIODE_LEAST_OHMS = 1e-6                     # of one that conducts
SAME_POTENTIAL = 1e-9                       # of the whole; a lesser difference is rounding
LAMP_HOT_TO_COLD = 15.0                     # a filament's stated ohms are hot, the greatest; cold it has a fifteenth
TOLERANCE_PCT = 10.0                        # of stated ohms, where the row has no tolerance_pct


@dataclass
class ResistorNetwork:
    """Resistors (point, point, ohms) with 0 < ohms < infinity, all connected to black, and the two probed points.

    Red is black where no resistance is between them; red is None where nothing connects them.
    """

    resistors: list
    red: object
    black: object
    joined: object = None       # point -> its name in the network
    at_red: tuple = ()          # where red is cut off from black: the points connected to red


def conductor_interval(element):
    """[lo, hi] in ohms of a wire, core, bridge or busbar. Nothing says how short it really is, so lo is 0."""
    if not element.row.get("length_m"):
        return 0.0, BRIDGE_OHMS if element.kind in ("bridge", "busbar") else UNSTATED_LENGTH_OHMS
    longest_km = float(element.row["length_m"]) / 1000.0 * LENGTH_ALLOWANCE
    if not element.row.get("mm2"):
        return 0.0, max(UNSTATED_LENGTH_OHMS, UNSTATED_SIZE_OHMS_PER_KM * longest_km * HOT_COPPER)
    size = float(element.row["mm2"])
    if size not in MAXIMUM_OHMS_PER_KM:
        raise PanelError(f"conductor {element.name}: IEC 60228 has no {size:g} mm² in classes 2 and 5")
    return 0.0, max(MAXIMUM_OHMS_PER_KM[size]) * longest_km * HOT_COPPER + TWO_ENDS_OHMS


def stated_interval(element):
    """[lo, hi] in ohms of a part whose ohms the drawing gives."""
    if element.kind == "lamp":
        return element.ohms / LAMP_HOT_TO_COLD, element.ohms
    part_of_it = float(element.row.get("tolerance_pct") or TOLERANCE_PCT) / 100.0
    return element.ohms * (1.0 - part_of_it), element.ohms * (1.0 + part_of_it)


def unstated_interval(element):
    """[lo, hi] in ohms of a part whose ohms the drawing doesn't give."""
    if element.kind == "fuse":
        return 0.0, FUSE_OHMS
    if element.kind in HARD_KINDS:
        return 0.0, HARD_PART_OHMS
    if element.kind in ("coil", "resistor", "lamp"):
        return LOAD_LEAST_OHMS, inf
    if element.kind in ("electronics", "supply", "input", "sensor"):
        return ELECTRONICS_LEAST_OHMS, inf
    if element.kind in DEAD_KINDS:
        return 0.0, inf
    raise PanelError(f"{element.name}: no interval for the kind {element.kind!r}")


class IntervalPanel:
    """A plain panel whose elements have intervals and whose diodes conduct one way."""

    def __init__(self, panel):
        self.panel = panel
        self.current_inputs = {(panel.canonical(row["point"]), panel.canonical(row.get("common", "")))
                               for row in panel.rows("channels")
                               if row.get("type") == "AI" and "mA" in row.get("signal", "")}

    def interval(self, element):
        """[lo, hi] in ohms of an element that is in place and closed; of a diode from its anode to its cathode."""
        if element.kind in CONDUCTOR_KINDS:
            return conductor_interval(element)
        is_implied = not element.row
        if is_implied and element.kind == "electronics" and (element.a, element.b) in self.current_inputs:
            return CURRENT_INPUT_LEAST_OHMS, inf
        if element.ohms is None or element.kind == "diode":
            return unstated_interval(element)
        return stated_interval(element)

    def least_of_diodes(self):
        """What all diodes of the panel have at least, in ohms, one after the other."""
        return DIODE_LEAST_OHMS * sum(e.kind == "diode" for e in self.panel.elements)

    def networks(self, red, black, condition=""):
        """The lowest and the highest network between two points under a condition without lifted ends or jumpers."""
        red, black = self.panel.probe(red)[0], self.panel.probe(black)[0]
        states = self.panel.parse_condition(condition)
        if {"lifted", "jumpered"} & set(states.values()):
            raise PanelError(f"this model takes no lifted end and no jumper: {condition!r}")
        present = [e for e in self.panel.elements if self.panel.conducts(e, states)]
        others = [(e.a, e.b, *self.interval(e)) for e in present if e.kind != "diode"]
        diodes = [(e.a, e.b) for e in present if e.kind == "diode"]
        return (with_diodes([(a, b, lo) for a, b, lo, _ in others], diodes, red, black),
                reduced([(a, b, hi) for a, b, _, hi in others], red, black))


def with_diodes(resistors, diodes, red, black):
    """The network with those diodes (anode, cathode) that conduct while red is plus, found by trying every set.

    It is the one set in which each diode's potential falls to its cathode and that of no other diode does.
    """
    for number in range(2 ** len(diodes)):
        conducting = {i for i in range(len(diodes)) if number >> i & 1}
        network = reduced(resistors + [(*diodes[i], DIODE_LEAST_OHMS) for i in conducting], red, black)
        volts = potentials(network)
        drops = [volts.get(network.joined[a], 0.0) - volts.get(network.joined[k], 0.0) for a, k in diodes]
        if all(d >= -SAME_POTENTIAL if i in conducting else d <= SAME_POTENTIAL for i, d in enumerate(drops)):
            return network
    raise PanelError(f"the diodes between {red} and {black} come to no rest")


def potentials(network):
    """Of each point that red or black is connected to: 1 at red, 0 at black."""
    if network.red is None or network.red == network.black:
        return dict.fromkeys(network.at_red, 1.0)
    number = {p: i for i, p in enumerate(sorted({p for a, b, _ in network.resistors for p in (a, b)}))}
    matrix = numpy.zeros((len(number), len(number)))
    for a, b, ohms in network.resistors:
        i, j = number[a], number[b]
        matrix[[i, j], [i, j]] += 1.0 / ohms
        matrix[[i, j], [j, i]] -= 1.0 / ohms
    volts = numpy.zeros(len(number))
    for point, volt in ((network.red, 1.0), (network.black, 0.0)):
        matrix[number[point]] = 0.0
        matrix[number[point], number[point]] = 1.0
        volts[number[point]] = volt
    return dict(zip(number, numpy.linalg.solve(matrix, volts)))


def reduced(resistors, red, black):
    """The network of resistors (point, point, ohms): 0 ohms joins its points, infinite ohms are left out."""
    joined = networkx.utils.UnionFind([red, black])
    for a, b, ohms in resistors:
        if ohms == 0.0:
            joined.union(a, b)
    red, black = joined[red], joined[black]
    kept = [(joined[a], joined[b], ohms) for a, b, ohms in resistors if 0.0 < ohms < inf and joined[a] != joined[b]]
    graph = networkx.Graph((a, b) for a, b, _ in kept)
    graph.add_nodes_from((red, black))
    at_black = networkx.node_connected_component(graph, black)
    if red not in at_black:
        return ResistorNetwork([], None, black, joined, tuple(networkx.node_connected_component(graph, red)))
    return ResistorNetwork([r for r in kept if r[0] in at_black], red, black, joined)
