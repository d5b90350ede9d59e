"""What a meter shows between two points of a panel, and the buzz-out that a wireman takes of it.

Nothing here is shared with the engine under test: copper is walked, loads are solved as one dense system per
circuit. A beep is 30 ohms or less. Diodes carry current one way only, found by trying until all agree.
"""

import math
from dataclasses import dataclass

import numpy

from panel_maker import CONDUCTORS, CONTACTS, COPPER, OHMS_VALUED, beside, device_of, labels

THRESHOLD = 30.0
LEAK = 1e-9             # siemens from each net to nowhere, so that a loose net has a potential
DEAD = 1e8              # ohms from which a meter shows OL
MAY_BE_OFF = 0.02       # of a value in ohms
MODULE_KINDS = {"channel", "electronics"}


@dataclass(frozen=True)
class Reading:
    red: str
    black: str
    condition: str = ""
    method: str = "beep"


def is_copper(e):
    return e.kind in COPPER and not e.bad_joint


def real_ohms(e):
    return e.real


def has_wrong_value(e):
    return e.drawn is not None and e.kind != "lamp" and abs(e.real / e.drawn - 1) > 0.1 or \
        e.kind == "lamp" and abs(e.real * 12 / e.drawn - 1) > 0.1


def lowest_ohms(e):
    """The least that the drawing allows the element, or what a fault has made of it."""
    if e.bad_joint or has_wrong_value(e):
        return e.real
    if e.drawn is not None:
        return e.drawn / 15 if e.kind == "lamp" else e.drawn * 0.9
    return 1e-3 if e.kind == "diode" or e.kind in COPPER else 5.0 if e.current_input else 50.0


def highest_ohms(e):
    """The most that the drawing allows the element, or what a fault has made of it."""
    if e.bad_joint or has_wrong_value(e):
        return e.real
    if e.kind in COPPER:
        return 0.2 if e.kind in CONDUCTORS else 0.5 if e.kind == "fuse" else 0.1
    if e.drawn is not None:
        return e.drawn if e.kind == "lamp" else e.drawn * 1.1
    return math.inf


class Circuit:
    """Elements as built, and what they show under each condition."""

    def __init__(self, elements, ohms=real_ohms):
        self.ohms = ohms
        self.copper, self.loads = {}, {}
        for e in elements:
            side = self.copper if is_copper(e) else self.loads
            if e.a != e.b and ohms(e) < math.inf:
                side.setdefault(e.a, []).append((e.b, e))
                side.setdefault(e.b, []).append((e.a, e))
        self.region = labels(elements)
        self.nets, self.solved, self.stated = {}, {}, {}

    def conducts(self, e, condition):
        if condition not in self.stated:
            self.stated[condition] = frozenset(condition.split("; "))
        stated = self.stated[condition]
        if e.kind in CONTACTS:
            operated = f"{e.actuated_by or e.name}=operated" in stated
            return operated == (e.kind == "contact-no")
        if not condition:
            return True
        return not (e.kind == "fuse" and f"{e.name}=out" in stated
                    or e.kind in MODULE_KINDS and f"{e.name}=unplugged" in stated)

    def net_of(self, point, condition):
        """Points that copper joins to this one, each with the copper ohms of the shortest walk to it."""
        known = self.nets.setdefault(condition, {})
        if point not in known:
            net, queue = {point}, [point]
            for p in queue:
                for q, e in self.copper.get(p, ()):
                    if q not in net and self.conducts(e, condition):
                        net.add(q)
                        queue.append(q)
            for p in net:
                known[p] = net
        return known[point]

    def copper_ohms(self, red, black, condition):
        """Resistance between two points of one net, other ways through loads left out."""
        net = {p: i for i, p in enumerate(self.net_of(red, condition))}
        matrix = numpy.zeros((len(net), len(net)))
        for p, i in net.items():
            for q, e in self.copper.get(p, ()):
                if q in net and self.conducts(e, condition):
                    matrix[i, i] += 1 / self.ohms(e)
                    matrix[i, net[q]] -= 1 / self.ohms(e)
        keep = [i for p, i in net.items() if p != black]
        current = numpy.zeros(len(net))
        current[net[red]] = 1
        volts = numpy.zeros(len(net))
        volts[keep] = numpy.linalg.solve(matrix[numpy.ix_(keep, keep)], current[keep])
        return volts[net[red]]

    def least_by_cut(self, point, condition):
        """No less than what all loads at the net of the point have in parallel."""
        net = self.net_of(point, condition)
        siemens = sum(1 / self.ohms(e) for p in net for q, e in self.loads.get(p, ())
                      if q not in net and self.conducts(e, condition))
        return 1 / siemens if siemens else math.inf

    def network(self, region, condition):
        """Net numbers, inverse of the matrix of all loads but diodes, and the diodes of one circuit."""
        key = (region, condition)
        if key not in self.solved:
            points = [p for p, r in self.region.items() if r == region]
            number, count, diodes, edges = {}, 0, [], []
            for p in points:
                if p not in number:
                    number.update(dict.fromkeys(self.net_of(p, condition), count))
                    count += 1
            for p in points:
                for q, e in self.loads.get(p, ()):
                    if p == e.a and number[p] != number[q] and self.conducts(e, condition):
                        (diodes if e.kind == "diode" else edges).append((number[p], number[q], 1 / self.ohms(e)))
            self.solved[key] = (number, numpy.linalg.inv(matrix_of(count, edges)), diodes)
        return self.solved[key]

    def between_nets(self, red, black, condition):
        number, inverse, diodes = self.network(self.region[red], condition)
        a, b = number[red], number[black]
        dark = volts = inverse[:, a] - inverse[:, b]
        on = ()
        for _ in range(20):
            span = volts[a] - volts[b]
            wanted = tuple(i for i, (p, k, _) in enumerate(diodes) if volts[p] - volts[k] > 1e-9 * span)
            if wanted == on:
                break
            on = wanted
            # The few diodes that carry current are added to the inverse (Woodbury).
            anodes, cathodes = ([diodes[i][end] for i in on] for end in (0, 1))
            across = inverse[:, anodes] - inverse[:, cathodes]
            inner = across[anodes] - across[cathodes] + numpy.diag([1 / diodes[i][2] for i in on])
            volts = dark - across @ numpy.linalg.solve(inner, dark[anodes] - dark[cathodes])
        span = volts[a] - volts[b]
        return span if span < DEAD else math.inf

    def resistance(self, red, black, condition, exact=True):
        """Ohms from the red to the black lead; not exact: 0 for copper, infinite where it can't beep."""
        if red == black:
            return 0.0
        if self.region.get(red, red) != self.region.get(black, black) or red not in self.region:
            return math.inf
        if black in self.net_of(red, condition):
            return self.copper_ohms(red, black, condition) if exact else 0.0
        if not exact and max(self.least_by_cut(p, condition) for p in (red, black)) > THRESHOLD:
            return math.inf
        return self.between_nets(red, black, condition)

    def value(self, reading):
        """`beep` or `open`, or ohms as a number."""
        ohms = self.resistance(reading.red, reading.black, reading.condition, reading.method == "ohms")
        if reading.method == "ohms":
            return ohms
        return "beep" if ohms <= THRESHOLD else "open"


def matrix_of(count, edges):
    matrix = numpy.eye(count) * LEAK
    for i, j, siemens in edges:
        matrix[i, i] += siemens
        matrix[j, j] += siemens
        matrix[i, j] -= siemens
        matrix[j, i] -= siemens
    return matrix


def written(value):
    """A value as a wireman notes it."""
    if isinstance(value, str):
        return value
    if value == math.inf:
        return "OL"
    for factor, suffix in ((1e6, "M"), (1e3, "k")):
        if value >= factor:
            return f"{value / factor:.4g}{suffix}"
    return f"{value:.2f}" if value < 100 else f"{value:.4g}"


def same_value(one, other, share=MAY_BE_OFF):
    """Whether two values are noted alike: both beep, both open, or ohms no further apart than that."""
    if isinstance(one, str) or isinstance(other, str) or math.inf in (one, other):
        return one == other
    return abs(one - other) <= share * max(one, other) + 0.1


def possible(value, low, high):
    """Whether a meter may show this value for a resistance between two bounds (leads up to half an ohm)."""
    if value == "beep":
        return low <= THRESHOLD
    if value == "open" or value == math.inf:
        return high > THRESHOLD
    return low <= value / 0.98 + 0.1 and value / 1.02 - 0.6 <= high


# The readings of a complete buzz-out

def buzz_out(panel, rng, thrifty):
    """Readings in the order of the work.

    Thrifty: a wire to a strip is read through the terminal's body, and two nets that are neighbours more than once
    are read against each other once.
    """
    taken = {}
    drawn = Circuit(panel.elements)

    def take(red, black, condition="", method="beep"):
        if red != black:
            taken.setdefault((frozenset((red, black)), condition, method, red if method == "ohms" else ""),
                             Reading(red, black, condition, method))

    origins = [point for *_, point in panel.potentials]
    for i, p in enumerate(origins):
        for q in origins[i + 1:]:
            take(p, q)
    bodies = {e.a: e.b for e in panel.elements if e.kind in ("terminal", "disconnect")}
    through = set()
    for e in panel.elements:
        if e.kind in CONDUCTORS:
            ends = [e.a, e.b]
            method = "ohms" if rng.random() < 0.1 else "beep"
            if thrifty and e.kind == "wire" and method == "beep":
                beyond = next((p for p in (e.b, e.a) if p in bodies and p not in through), None)
                if beyond:
                    through.add(beyond)
                    ends[ends.index(beyond)] = bodies[beyond]
            take(*ends, method=method)
    for e in panel.elements:
        if e.kind in ("terminal", "disconnect") and e.a not in through:
            take(e.a, e.b)
        if e.kind in ("fuse", "breaker"):
            take(e.a, e.b)
        if e.kind == "fuse":
            take(e.a, e.b, f"{e.name}=out")
        if e.kind in CONTACTS:
            take(e.a, e.b)
            take(e.a, e.b, f"{e.actuated_by or e.name}=operated")
        if e.kind in OHMS_VALUED:
            take(e.a, e.b, method="ohms")
        if e.kind == "diode":
            # What drives the coil is unplugged: beside electronics of unknown resistance a diode says little.
            net = drawn.net_of(e.b, "")
            modules = sorted({load.name for p in net for _, load in drawn.loads.get(p, ())
                              if load.kind in MODULE_KINDS})
            condition = "; ".join(f"{name}=unplugged" for name in modules)
            take(e.a, e.b, condition, "ohms")
            take(e.b, e.a, condition, "ohms")
    apart = set()
    for e in panel.elements:
        if e.kind in ("terminal", "disconnect", "channel", "electronics"):
            following = beside(e.a, 1)
            nets = frozenset((panel.net[e.a], panel.net.get(following, panel.net[e.a])))
            if len(nets) == 2 and not (thrifty and nets in apart):
                apart.add(nets)
                take(e.a, following)
    return list(taken.values())


def hunt(panel, circuit, readings, noted):
    """Readings taken after a conductor read open: each end against the places beside the other until it beeps."""
    known = {frozenset((r.red, r.black)) for r in readings if not r.condition}
    conductors = {}
    for e in panel.elements:
        if e.kind in CONDUCTORS:
            conductors[frozenset((e.a, e.b))] = (e.a, e.b)
    bodies = {e.b: e.a for e in panel.elements if e.kind in ("terminal", "disconnect")}
    places = {}
    for p in panel.region:
        places.setdefault(device_of(p), []).append(p)
    found = []

    def take(red, black):
        if red != black and black in panel.region and frozenset((red, black)) not in known:
            known.add(frozenset((red, black)))
            found.append(Reading(red, black))

    for reading, value in zip(readings, noted):
        failed = value == "open" or (reading.method == "ohms" and value > THRESHOLD)
        # A reading through the body of a terminal is first repeated without the body.
        ends = conductors.get(frozenset((reading.red, reading.black)))
        if ends is None and failed:
            near = frozenset(bodies.get(p, p) for p in (reading.red, reading.black))
            ends = conductors.get(near)
            if ends:
                take(*ends)
                failed = circuit.value(Reading(*ends)) == "open"
        if not (failed and ends) or reading.condition:
            continue
        for fixed, away in (ends, ends[::-1]):
            # A place on the net of the fixed end as drawn beeps anyhow and says nothing.
            others = [p for p in places[device_of(away)] if p != away and panel.net[p] != panel.net[fixed]]
            order = {p: i for i, p in enumerate(places[device_of(away)])}
            others.sort(key=lambda p: abs(order[p] - order[away]))
            beeps = next((p for p in others if circuit.value(Reading(fixed, p)) == "beep"), None)
            for middle in filter(None, (away, beeps)):
                for p in (beside(middle, -1), middle, beside(middle, 1)):
                    take(fixed, p)
    return found
