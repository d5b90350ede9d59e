"""Wiring faults: drawn at random where the trade makes them, put into a panel, and read from an answer.

How often each happens at which place is an estimate: most wires that land wrong land on the next terminal,
most exchanged ones lie side by side.
"""

import math
from dataclasses import dataclass, field, replace

from panel_maker import CONTACTS, OHMS_VALUED, Element, beside, device_of
from simulator import same_value

KINDS = ("open", "missing-bridge", "miswire", "swap", "shift", "short", "extra-bridge", "wrong-contact",
         "reversed", "wrong-value", "bad-reading")
JOINS = {"short", "extra-bridge"}


@dataclass
class Fault:
    kind: str
    elements: list = field(default_factory=list)      # names, for a shift in order
    ends: list = field(default_factory=list)          # points as drawn
    points: list = field(default_factory=list)        # points as found
    changed: dict = field(default_factory=dict)       # index -> element as built, None where it is missing
    added: list = field(default_factory=list)         # elements that are not on the drawing
    reading: int | None = None                        # index of the one noted wrongly
    noted: object = None                              # its value

    def touched(self, panel):
        """The points at which it changes the panel."""
        points = set()
        for index, built in self.changed.items():
            for e in filter(None, (panel.elements[index], built)):
                points |= {e.a, e.b}
        return points | {p for e in self.added for p in (e.a, e.b)}


def built_elements(panel, faults):
    """The elements of the panel with these faults."""
    elements = list(panel.elements)
    for fault in faults:
        for index, e in fault.changed.items():
            old = panel.elements[index]
            now = elements[index]
            if e is None or now is None:
                elements[index] = None
                continue
            moved = {side: getattr(e, side) for side in ("kind", "a", "b", "real", "bad_joint")
                     if getattr(e, side) != getattr(old, side)}
            elements[index] = replace(now, **moved)
    return [e for e in elements if e is not None] + [e for fault in faults for e in fault.added]


def moved(e, end, point):
    return replace(e, a=point) if e.a == end else replace(e, b=point)


# Faults of each kind from their places, so that an answer can be built too

def broken(panel, index):
    e = panel.elements[index]
    return Fault("missing-bridge" if e.kind == "bridge" else "open", [e.name], [e.a, e.b], changed={index: None})


def landed(panel, moves, kind):
    """Conductor ends that land elsewhere: moves of (index, drawn end, found point)."""
    fault = Fault(kind)
    for index, end, point in moves:
        fault.elements.append(panel.elements[index].name)
        fault.ends.append(end)
        fault.points.append(point)
        fault.changed[index] = moved(fault.changed.get(index, panel.elements[index]), end, point)
    return fault


def joined(kind, p, q):
    return Fault(kind, points=[p, q], added=[Element("", "bridge", p, q, 0.05)])


def exchanged_contact(panel, index):
    """NO for NC; both rows of a changeover."""
    contact = panel.elements[index]
    pair = [i for i, e in enumerate(panel.elements)
            if e is contact or (contact.swings and e.swings and e.name == contact.name and e.a == contact.a)]
    other = {"contact-no": "contact-nc", "contact-nc": "contact-no"}
    fault = Fault("wrong-contact", [contact.name])
    for i in pair:
        e = panel.elements[i]
        fault.ends += [e.a, e.b]
        fault.changed[i] = replace(e, kind=other[e.kind])
    return fault


def reversed_diode(panel, index):
    e = panel.elements[index]
    return Fault("reversed", [e.name], [e.a, e.b], changed={index: replace(e, a=e.b, b=e.a)})


def of_value(panel, index, ohms):
    e = panel.elements[index]
    return Fault("wrong-value", [e.name], [e.a, e.b],
                 changed={index: replace(e, real=ohms, bad_joint=e.kind not in OHMS_VALUED)})


class Injector:
    """Draws faults for one panel so that no end is in two of them."""

    def __init__(self, panel, readings, circuit, rng):
        self.panel, self.readings, self.circuit, self.rng = panel, readings, circuit, rng
        self.nearness = 0.0    # of the fault being drawn: low for the next place
        self.used = set()
        self.wires_at = {p: [i for i in at if panel.elements[i].kind == "wire"] for p, at in panel.at.items()}
        self.places = {}
        for p in panel.region:
            self.places.setdefault(device_of(p), []).append(p)
        self.points = sorted(panel.region)
        self.of_kind = {}
        for i, e in enumerate(panel.elements):
            self.of_kind.setdefault(e.kind, []).append(i)

    def draw(self, kind):
        """A fault of this kind, or None where the panel has no room for one."""
        makers = {"open": self.open, "missing-bridge": self.missing_bridge, "miswire": self.miswire,
                  "swap": self.swap, "shift": self.shift, "short": self.short, "extra-bridge": self.extra_bridge,
                  "wrong-contact": self.wrong_contact, "reversed": self.reversed,
                  "wrong-value": self.wrong_value, "bad-reading": self.bad_reading}
        self.nearness = self.rng.random()
        for _ in range(300):
            fault = makers[kind]()
            if fault is None:
                continue
            ends = set(fault.ends) | set(fault.points)
            if not ends & self.used:
                self.used |= ends
                return fault
        return None

    def any_of(self, *kinds):
        choice = [i for kind in kinds for i in self.of_kind.get(kind, ())]
        return self.rng.choice(choice) if choice else None

    def apart(self, p, q):
        return q in self.panel.net and self.panel.net[p] != self.panel.net[q]

    def place_near(self, end, next_share, strip_share):
        """Another place: the next one, one of the same strip or device, or any; '' if it is on the same net."""
        if self.nearness < next_share:
            point = beside(end, self.rng.choice((-1, 1)))
        else:
            on_strip = self.nearness < next_share + strip_share
            point = self.rng.choice(self.places[device_of(end)] if on_strip else self.points)
        return point if self.apart(end, point) else ""

    def open(self):
        kinds = self.rng.choices((("wire",), ("fuse",), ("terminal", "disconnect"), tuple(sorted(CONTACTS))),
                                 (65, 15, 10, 10))[0]
        index = self.any_of(*kinds)
        return None if index is None else broken(self.panel, index)

    def missing_bridge(self):
        index = self.any_of("bridge")
        return None if index is None else broken(self.panel, index)

    def miswire(self):
        index = self.any_of("wire")
        e = self.panel.elements[index]
        end = self.rng.choice((e.a, e.b))
        point = self.place_near(end, 0.75, 0.20)
        return landed(self.panel, [(index, end, point)], "miswire") if point else None

    def swap(self):
        index = self.any_of("wire")
        e = self.panel.elements[index]
        end = self.rng.choice((e.a, e.b))
        point = self.place_near(end, 0.80, 0.15)
        others = [i for i in self.wires_at.get(point, ()) if i != index]
        if not others:
            return None
        other = self.rng.choice(others)
        fault = landed(self.panel, [(index, end, point), (other, point, end)], "swap")
        fault.points = []
        return fault

    def shift(self):
        """A run of neighbouring places, each with one wire, that all land one or two places off."""
        at = self.rng.choice(self.points)
        by, length = self.rng.choice((-1, 1, -1, 1, -2, 2)), self.rng.randint(3, 8)
        run = [beside(at, i) for i in range(length)]
        moves = []
        for p in run:
            wires, target = self.wires_at.get(p, ()), beside(p, by)
            if len(wires) != 1 or not self.apart(p, target):
                return None
            moves.append((wires[0], p, target))
        if len({index for index, *_ in moves}) < length:
            return None
        return landed(self.panel, moves, "shift")

    def short(self):
        p = self.rng.choice(self.points)
        q = self.place_near(p, 0.80, 0.10)
        bridgeable = p.endswith((".int", ".ext")) and q in (beside(p, -1), beside(p, 1))
        return joined("short", p, q) if q and not bridgeable else None

    def extra_bridge(self):
        p = self.rng.choice(self.points)
        q = beside(p, 1)
        return joined("extra-bridge", p, q) if p.endswith(".int") and self.apart(p, q) else None

    def wrong_contact(self):
        index = self.any_of(*sorted(CONTACTS))
        return None if index is None else exchanged_contact(self.panel, index)

    def reversed(self):
        index = self.any_of("diode")
        return None if index is None else reversed_diode(self.panel, index)

    def wrong_value(self):
        """A coil for 230 V instead of 24 V and the like, or a bad joint of a wire."""
        if self.rng.random() < 0.5:
            index = self.any_of(*sorted(OHMS_VALUED))
            e = self.panel.elements[index]
            factor = self.rng.choice((0.25, 0.25, 4, 16, 60, 60))
            return of_value(self.panel, index, e.real * factor)
        return of_value(self.panel, self.any_of("wire"), round(3 * 1000 ** self.rng.random(), 1))

    def bad_reading(self):
        """Beep noted for open or the other way round, or the value of a pair one place off."""
        number = self.rng.randrange(len(self.readings))
        reading = self.readings[number]
        value = self.circuit.value(reading)
        if isinstance(value, str) and self.rng.random() < 0.5:
            noted = "open" if value == "beep" else "beep"
        else:
            point = beside(reading.black, self.rng.choice((-1, 1)))
            if point not in self.panel.region:
                return None
            noted = self.circuit.value(replace(reading, black=point))
            if same_value(value, noted):
                return None
        return Fault("bad-reading", ends=[reading.red, reading.black], reading=number, noted=noted)


# Faults in an answer

def same_fault(panel, true, named, explains):
    """Whether an answer names this fault: kind, elements, drawn ends, and for found points the net as drawn."""
    net = panel.net
    kind, elements = named["kind"], named["elements"]
    ends, points = named["ends"], named["points"]
    if true.kind in JOINS:
        return kind in JOINS and {net.get(p) for p in points} == {net[p] for p in true.points}
    if kind != true.kind:
        return False
    if kind == "bad-reading":
        return set(ends or points) == set(true.ends) and reading_id(true.reading) in explains
    if kind in ("miswire", "shift"):
        return ({(w, e, net.get(p)) for w, e, p in zip(elements, ends, points)} ==
                {(w, e, net[p]) for w, e, p in zip(true.elements, true.ends, true.points)})
    if kind == "swap":
        if set(elements) != set(true.elements):
            return False
        far = {e.a if e.b == end else e.b
               for end, e in zip(true.ends, (panel.elements[i] for i in true.changed))}
        return set(ends) in (set(true.ends), far)
    if kind == "wrong-contact":
        return set(ends) <= set(true.ends)
    return set(ends) == set(true.ends) and (true.elements == elements or true.kind == "missing-bridge")


def reading_id(number):
    return f"R{number + 1:05}"


def build_named(panel, named, explained):
    """A fault of an answer as one that can be put into the panel, its value NaN where any would do; None if it
    can't. `explained`: numbers and readings that the answer explains by it."""
    kind, elements, ends, points = (named[k] for k in ("kind", "elements", "ends", "points"))

    def find(name, *at):
        found = [i for i in panel.at.get(at[0], ())
                 if all(p in (panel.elements[i].a, panel.elements[i].b) for p in at)
                 and (panel.elements[i].name in (name, "") or name is None)]
        return found[0] if found else None

    if kind in JOINS:
        return joined(kind, *points)
    if kind == "bad-reading":
        number = next((n for n, r in explained if {r.red, r.black} == set(ends or points)), None)
        return None if number is None else Fault(kind, ends=ends or points, reading=number, noted=math.nan)
    if kind in ("open", "missing-bridge", "wrong-value", "reversed", "wrong-contact"):
        index = find(elements[0], *ends[:2])
        if index is None:
            return None
        if kind == "wrong-value":
            return of_value(panel, index, math.nan)
        make = {"wrong-contact": exchanged_contact, "reversed": reversed_diode}.get(kind, broken)
        return make(panel, index)
    found = ends[::-1] if kind == "swap" else points
    moves = [(find(w, e), e, p) for w, e, p in zip(elements, ends, found)]
    return None if any(i is None for i, *_ in moves) else landed(panel, moves, kind)
