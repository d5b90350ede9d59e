"""A plain model of a wired panel: naive, slow, and sharing nothing with the C++ code.

It reads a netlist (a CSV folder, an XML file, or a wire list alone), puts faults into a copy, and says what a
continuity meter shows between two points. The demo readings are made with it, and tests use it as an oracle.

    drawn = Panel.load("netlists/quickstart")
    built = drawn.with_faults([{"kind": "open", "wire": "4"}])
    drawn.reads("S1:14", "A1:0.1")                    # 'beep'
    built.reads("S1:13", "A1:0.1", "S1=operated")     # 'open'

Simplified where the tool reasons with intervals: every part has one resistance, and transformers, motors, surge
arresters and capacitors don't conduct at all. A diode carries nothing for a buzzer; for an ohmmeter it has one
resistance from anode to cathode, and none the other way.
"""

import copy
import csv
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass, field, replace
from pathlib import Path

import networkx
from plain_network import Network

TABLES = ("conductors", "parts", "channels", "potentials")
CONDUCTOR_KINDS = {"wire", "bridge", "core", "busbar"}
STRIP_KINDS = {"terminal", "disconnect", "plug", "pe-terminal"}
SEPARABLE_KINDS = {"disconnect", "plug", "fuse"}
CONTACT_KINDS = {"contact-no", "contact-nc"}
HARD_KINDS = CONDUCTOR_KINDS | STRIP_KINDS | CONTACT_KINDS | {"fuse", "breaker", "isolator", "path", "join"}
SOFT_KINDS = {"coil", "resistor", "lamp", "electronics", "sensor", "supply", "input"}
DEAD_KINDS = {"diode", "transformer", "motor", "surge", "capacitor"}
PART_KINDS = (HARD_KINDS | SOFT_KINDS | DEAD_KINDS) - CONDUCTOR_KINDS - {"join"}

HARD_OHMS = 0.05
UNSTATED_OHMS = 5000.0       # electronics, sensors, supplies; a coil or lamp whose ohms the drawing doesn't give
LAMP_HOT_TO_COLD = 10.0      # a filament lamp's stated ohms are hot; the meter sees it cold
BEEP_THRESHOLD = 30.0
STATES = {                   # condition state -> the kinds of part it fits
    "operated": None,
    "out": {"fuse"},
    "off": {"breaker", "isolator"},
    "on": {"breaker", "isolator"},
    "open": {"disconnect"},
    "unplugged": None,
}


class PanelError(ValueError):
    """The netlist, a condition, a fault or a point name can't be right."""


@dataclass(frozen=True)
class Element:
    """One conducting path between two points: a conductor, a row of parts, or what the format implies."""

    name: str                # wire number, cable/core, 'X1:4.int-X1:5.int' for an unnumbered bridge, or the part
    kind: str
    a: str
    b: str
    ohms: float | None = None
    actuated_by: str = ""
    closed_in: frozenset = frozenset()
    in_field: bool = False   # absent from the shop's tests: a field device, or a conductor with an end on one
    broken: bool = False     # by a fault
    row: dict = field(default_factory=dict, compare=False, hash=False)


def split_point(point):
    """'X1:5.int' -> ('X1:5', '.int'); a point of a part that has no sides gets ''."""
    return (point[:-4], point[-4:]) if point.endswith((".int", ".ext")) else (point, "")


def designation(point):
    """The part that a point belongs to, a strip for a terminal: 'X1:5.int' -> 'X1'."""
    return point.partition(":")[0]


class Panel:
    def __init__(self, facts, tables):
        self.facts = facts                  # panel.csv, or the attributes of the XML root
        self.tables = tables
        self.sided = {}                     # 'X1:5' -> kind, for all that have an .int and an .ext side
        self.place = {}                     # part or strip:number -> panel, door or field
        self.elements = []
        self._networks = {}
        self._read_parts()
        self._find_unlisted_terminals()
        self._read_conductors()
        self._add_what_the_format_implies()

    # Loading

    @classmethod
    def load(cls, path):
        """Loads a CSV folder, an .xml file, or a single CSV file that holds conductors."""
        path = Path(path)
        if path.suffix == ".xml":
            root = ElementTree.parse(path).getroot()
            rows = {t: [dict(e.attrib) for e in root.findall(f"{{*}}{t}/{{*}}{t[:-1]}")] for t in TABLES}
            return cls(dict(root.attrib), rows)
        if path.is_file():
            return cls({}, {"conductors": read_csv(path)})
        facts = {row["key"]: row["value"] for row in read_csv(path / "panel.csv")}
        return cls(facts, {t: read_csv(path / f"{t}.csv") for t in TABLES})

    def rows(self, table):
        return self.tables.get(table, [])

    def canonical(self, name):
        """Without blanks, the panel's own '=' and '+' parts and the leading '-': '=GD1+A-X1:5' -> 'X1:5'."""
        function, location, rest = re.fullmatch(r"(=[^+:-]*)?(\+[^:-]*)?-?(.*)", name.strip(), re.DOTALL).groups()
        if function and function[1:] == self.facts.get("function"):
            function = None
        if location and location[1:] == self.facts.get("location"):
            location = None
        prefix = (function or "") + (location or "")
        return f"{prefix}-{rest}" if prefix else rest

    def _read_parts(self):
        for row in self.rows("parts"):
            part, kind = self.canonical(row["part"]), row["kind"]
            if kind not in PART_KINDS:
                raise PanelError(f"part {part}: unknown kind {kind!r}")
            a, b = row.get("a", ""), row.get("b", "")
            if kind in STRIP_KINDS or (kind == "fuse" and (a, b) == ("int", "ext")):
                self.sided[part] = kind
                a, b = f"{part}.int", f"{part}.ext"
            else:
                a, b = f"{part}:{a}", f"{part}:{b}"
            place = row.get("place") or "panel"
            self.place[part] = place
            self.elements.append(Element(
                part, kind, a, b, float(row["ohms"]) if row.get("ohms") else None,
                self.canonical(row.get("actuated_by") or part),
                frozenset(p.strip() for p in row.get("closed_in", "").split(",") if p.strip()),
                place == "field", row=row))

    def _find_unlisted_terminals(self):
        """A point on a part X... (IEC 81346-2: connections) that no row of parts names is a terminal of two sides."""
        listed = {e.name for e in self.elements}
        names = [row.get(end, "") for row in self.rows("conductors") for end in ("from", "to")]
        names += [row.get(end, "") for row in self.rows("channels") for end in ("field", "return")]
        for name in names:
            part, _ = split_point(self.canonical(name))
            is_terminal = re.match(r"(?:[=+].*-)?X[^:]*:.", part)
            if is_terminal and part not in self.sided and designation(part) not in listed:
                self.sided[part] = "terminal"
                self.elements.append(Element(part, "terminal", f"{part}.int", f"{part}.ext"))

    def _read_conductors(self):
        for row in self.rows("conductors"):
            kind = row.get("kind") or "wire"
            if kind not in CONDUCTOR_KINDS:
                raise PanelError(f"conductor {row}: unknown kind {kind!r}")
            ends = [self.canonical(row.get(end, "")) if row.get(end, "").strip() not in ("", "-") else ""
                    for end in ("from", "to")]
            if not all(ends):
                if kind != "core":
                    raise PanelError(f"conductor {row}: an end is missing")
                continue                                # a spare core joins nothing
            a = self._conductor_end(ends[0], ends[1], kind)
            b = self._conductor_end(ends[1], ends[0], kind)
            core = "/".join(filter(None, (row.get("cable", ""), row.get("core", ""))))
            name = row.get("wire") or core or f"{a}-{b}"
            in_field = self._is_in_field(a) or self._is_in_field(b)
            self.elements.append(Element(name, kind, a, b, in_field=in_field, row=row))

    def _is_in_field(self, point):
        part, _ = split_point(point)
        return "field" in (self.place.get(part), self.place.get(designation(point)))

    def _conductor_end(self, end, other, kind):
        part, side = split_point(end)
        if side or end not in self.sided:
            return end
        if self.sided[end] in SEPARABLE_KINDS:
            raise PanelError(f"{end} can be opened: say {end}.int or {end}.ext")
        return f"{end}.ext" if self._is_in_field(other) or kind == "core" else f"{end}.int"

    def _add_what_the_format_implies(self):
        for part, kind in list(self.sided.items()):
            if kind == "pe-terminal":                   # its foot stands on the rail
                self.elements.append(Element(f"{part} foot", "path", f"{part}.int", "PE"))
        for row in self.rows("channels"):
            point, common = self.canonical(row["point"]), self.canonical(row.get("common", ""))
            given = any({e.a, e.b} == {point, common} for e in self.elements)
            if common and not given:
                self.elements.append(Element(designation(point), "electronics", point, common))

    # Points

    def points(self):
        return {p for e in self.elements for p in (e.a, e.b)}

    def probe(self, name):
        """A reading's point, and the terminal whose body must be taken as conducting because no side was said."""
        name = self.canonical(name)
        if name in self.sided:
            if self.sided[name] in SEPARABLE_KINDS:
                raise PanelError(f"{name} can be opened: say {name}.int or {name}.ext")
            return f"{name}.int", name
        if name not in self.points() and "@" not in name:
            raise PanelError(f"no point {name}")
        return name, ""

    # Conditions

    def parse_condition(self, text):
        """'K1=operated; S5=position 2' -> {'K1': 'operated', 'S5': 'position 2'}"""
        condition = {}
        for item in filter(None, (i.strip() for i in (text or "").split(";"))):
            name, _, state = item.rpartition("=")
            name = name if name in ("power", "field") else self.canonical(name)
            if condition.get(name, state) != state:
                raise PanelError(f"{name} has two states in {text!r}")
            self._verify_state(name, state)
            condition[name] = state
        return condition

    def _verify_state(self, name, state):
        if (name, state) in (("power", "on"), ("field", "connected")):
            return
        if state == "jumpered" and name.count("~") == 1:
            return                                      # its two points are looked up where the lead is put on
        if state == "lifted" and "@" in name:
            wire, end = name.split("@", 1)
            element = self.conductor(wire)
            if self.canonical(end) in (element.a, element.b):
                return
        rows = [e for e in self.elements if e.name == name or e.name.startswith(name + ":")]
        if not rows:
            raise PanelError(f"unknown object in a condition: {name!r}")
        if state.startswith("position "):
            fits = any(e.closed_in for e in rows)
        else:
            fits = state in STATES and (STATES[state] is None or any(e.kind in STATES[state] for e in rows))
        if not fits:
            raise PanelError(f"{state!r} isn't a state of {name}")

    def position(self, selector, condition):
        """Where a selector stands: as the condition says, else in position 0, else in its lowest."""
        if condition.get(selector, "").startswith("position "):
            return condition[selector].removeprefix("position ").strip()
        known = {p for e in self.elements if e.name == selector for p in e.closed_in}
        return "0" if "0" in known else min(known, key=lambda p: (len(p), p))

    def conducts(self, element, condition):
        """Whether a hard element is closed, or a soft one in place, under a parsed condition."""
        if element.broken or (element.in_field and condition.get("field") != "connected"):
            return False
        state = condition.get(element.name, "")
        if state in ("out", "off", "open", "unplugged") or condition.get(designation(element.name)) == "unplugged":
            return False
        if element.kind in CONTACT_KINDS:
            if element.closed_in:
                return self.position(element.name, condition) in element.closed_in
            operated = condition.get(element.actuated_by) == "operated"
            return operated == (element.kind == "contact-no")
        return True

    # Faults

    def conductor(self, name):
        found = [e for e in self.elements if e.kind in CONDUCTOR_KINDS
                 and name in (e.name, f"{e.a}-{e.b}", f"{e.b}-{e.a}")]
        if len(found) != 1:
            raise PanelError(f"{len(found)} conductors are called {name!r}")
        return found[0]

    def part_rows(self, name, pin=""):
        """The rows of a part; with a pin, only those that have it."""
        found = [e for e in self.elements if e.name == name and e.kind in PART_KINDS
                 and (not pin or f"{name}:{pin}" in (e.a, e.b))]
        if not found:
            raise PanelError(f"no part {name!r} {pin}")
        return found

    def with_faults(self, faults):
        """A copy, built with the given faults. Each is a dict, `kind` and what it needs:

        open            wire, or part and (for a part of several rows) pin
        missing-bridge  bridge  ('X1:4.int-X1:5.int')
        miswire         wire, drawn, found
        swap            wire1, end1, wire2, end2
        extra-bridge    points  (two)
        short           points  (two)
        wrong-contact   part, pin  (all contacts of that part on the pin: both rows of a changeover)
        wrong-value     part, pin, ohms  (what the part fitted really has)
        """
        built = copy.copy(self)
        built.elements, built._networks = list(self.elements), {}
        for fault in faults:
            built._apply(fault)
        return built

    def _change(self, element, **changes):
        self.elements[self.elements.index(element)] = replace(element, **changes)

    def _land(self, wire, drawn, found):
        element = self.conductor(wire)
        if drawn not in (element.a, element.b):
            raise PanelError(f"wire {wire} has no end at {drawn}")
        self._change(element, **{"a" if element.a == drawn else "b": found})

    def _apply(self, fault):
        kind = fault["kind"]
        if kind == "open" and "part" in fault:
            for element in self.part_rows(fault["part"], fault.get("pin", "")):
                self._change(element, broken=True)
        elif kind in ("open", "missing-bridge"):
            self._change(self.conductor(fault.get("wire") or fault["bridge"]), broken=True)
        elif kind == "miswire":
            self._land(fault["wire"], fault["drawn"], fault["found"])
        elif kind == "swap":
            self._land(fault["wire1"], fault["end1"], fault["end2"])
            self._land(fault["wire2"], fault["end2"], fault["end1"])
        elif kind in ("extra-bridge", "short"):
            self.elements.append(Element("joined", "join", *fault["points"]))
        elif kind == "wrong-contact":
            for element in self.part_rows(fault["part"], fault["pin"]):
                if element.kind in CONTACT_KINDS:
                    other = "contact-nc" if element.kind == "contact-no" else "contact-no"
                    self._change(element, kind=other)
        elif kind == "wrong-value":
            for element in self.part_rows(fault["part"], fault["pin"]):
                self._change(element, ohms=float(fault["ohms"]))
        else:
            raise PanelError(f"unknown fault kind {kind!r}")

    # Answers

    def nets(self, condition=""):
        """Sets of points joined by hard elements under a condition; a point joined to nothing is a set of its own."""
        return [set(c) for c in networkx.connected_components(self._network(condition).hard)]

    def same_net(self, a, b, condition=""):
        return self._network(condition).joined(a, b)

    def reads(self, red, black, condition=""):
        """'beep' or 'open', as a meter with the usual threshold shows it."""
        (red, body_1), (black, body_2) = self.probe(red), self.probe(black)
        network = self._network(condition, frozenset({body_1, body_2} - {""}))
        return "beep" if network.joined(red, black) or network.ohms(red, black) <= BEEP_THRESHOLD else "open"

    def ohms(self, red, black, condition=""):
        """What an ohmmeter shows, with its plus on the red lead; infinite where nothing conducts."""
        (red, body_1), (black, body_2) = self.probe(red), self.probe(black)
        return self._network(condition, frozenset({body_1, body_2} - {""})).ohms_with_diodes(red, black)

    def _network(self, condition, sound_bodies=frozenset()):
        key = (condition or "", sound_bodies)
        if key not in self._networks:
            self._networks[key] = self._network_under(self.parse_condition(condition), sound_bodies)
        return self._networks[key]

    def _network_under(self, condition, sound_bodies):
        """The network under a parsed condition, with the bodies of some terminals taken as conducting."""
        lifted = [name.split("@", 1) for name, state in condition.items() if state == "lifted"]
        lifted = {(wire, self.canonical(end)) for wire, end in lifted}
        network = Network(self.points())
        for element in self.elements:
            body_is_sound = element.name in sound_bodies and element.kind in self.sided.values()
            if not (body_is_sound or self.conducts(element, condition)):
                continue
            ohms = nominal_ohms(element)
            a, b = (f"{element.name}@{p}" if (element.name, p) in lifted else p for p in (element.a, element.b))
            if element.kind == "diode":
                network.diodes.append((a, b))
            elif ohms is not None:
                network.add(a, b, ohms, element.kind in HARD_KINDS)
        for name, state in condition.items():
            if state == "jumpered":
                a, b = (self.probe(p)[0] for p in name.split("~"))
                network.add(a, b, HARD_OHMS, True)
        return network


def nominal_ohms(element):
    """What one element puts between its points; None where this model lets nothing through."""
    if element.kind in DEAD_KINDS:
        return None
    if element.kind in HARD_KINDS:
        return HARD_OHMS
    if element.ohms is None:
        return UNSTATED_OHMS
    return element.ohms / LAMP_HOT_TO_COLD if element.kind == "lamp" else element.ohms


def read_csv(path):
    if not path.exists():
        return []
    with path.open(encoding="utf-8-sig", newline="") as file:
        return [{k: (v or "").strip() for k, v in row.items() if k} for row in csv.DictReader(file)]
