"""Random panels in the style of the grain dryer GD1: modules, strips, fuses, relays, lamps and push-buttons.

    panel = make_panel(500, random.Random("7"))
    write_panel(panel, Path("build/accuracy/one"))

A panel is a list of elements, each with the resistance it really has beside what the drawing says of it. Each
supply feeds circuits of its own, some 500 conductors, and shares no conductor with the next but the mains.
"""

import csv
import re
from dataclasses import dataclass, field
from pathlib import Path

SUPPLY_CONDUCTORS = 500
STRIP_TERMINALS = 40
MODULE_PINS = 8
CONDUCTORS = {"wire", "bridge"}
SOLID = CONDUCTORS | {"terminal"}            # nothing that is pulled, switched or operated
COPPER = SOLID | {"disconnect", "fuse", "breaker", "contact-no", "contact-nc"}
CONTACTS = {"contact-no", "contact-nc"}
OHMS_VALUED = {"coil", "lamp", "resistor"}


@dataclass(frozen=True)
class Element:
    """One conducting path: a row of conductors.csv or parts.csv, or a channel's electronics."""

    name: str                # wire number, '' for a bridge, or the part
    kind: str
    a: str
    b: str
    real: float              # the ohms it has in the panel
    drawn: float | None = None      # the ohms that the drawing states
    actuated_by: str = ""
    place: str = "panel"
    current_input: bool = False
    bad_joint: bool = False  # copper with a resistance of its own
    swings: bool = False     # a contact of a changeover


@dataclass
class Panel:
    elements: list = field(default_factory=list)
    channels: list = field(default_factory=list)
    potentials: list = field(default_factory=list)
    net: dict = field(default_factory=dict)        # point -> number of its net of solid copper
    region: dict = field(default_factory=dict)     # point -> number of its circuit, whatever is switched
    at: dict = field(default_factory=dict)         # point -> indices of its elements


def labels(elements):
    """Point -> a number that all points joined by these elements share."""
    parent = {}

    def root(p):
        parent.setdefault(p, p)
        while parent[p] != p:
            parent[p] = parent[parent[p]]
            p = parent[p]
        return p

    for e in elements:
        parent[root(e.a)] = root(e.b)
    numbers = {}
    return {p: numbers.setdefault(root(p), len(numbers)) for p in parent}


def beside(point, by):
    """The place with the same name and a number higher by so many, or ''."""
    found = re.fullmatch(r"(.*?)(\d+)(\.int|\.ext)?", point)
    if found is None or int(found[2]) + by < 0:
        return ""
    return f"{found[1]}{int(found[2]) + by}{found[3] or ''}"


def device_of(point):
    """The strip with its side, or the device: what a hand could confuse the place with."""
    part, _, pin = point.partition(":")
    return part + (pin[-4:] if pin.endswith((".int", ".ext")) else "")


class Drafter:
    """Draws circuit after circuit until the panel has its number of conductors."""

    def __init__(self, size, rng):
        self.size, self.rng = size, rng
        self.panel = Panel()
        self.conductors = 0
        self.counts = {}
        self.strips = {}     # purpose -> (strip, kind, last terminal)

    # Parts and conductors

    def number(self, letter):
        self.counts[letter] = self.counts.get(letter, 0) + 1
        return f"{letter}{self.counts[letter]}"

    def left(self):
        return self.size - self.conductors

    def add(self, name, kind, a, b, **more):
        more.setdefault("real", self.real_ohms(kind, more.get("drawn")))
        self.panel.elements.append(Element(name, kind, a, b, **more))

    def real_ohms(self, kind, drawn):
        rng = self.rng
        if kind in COPPER:
            return rng.uniform(0.01, 0.09)
        if kind in ("coil", "resistor"):
            return drawn * rng.uniform(0.92, 1.08)
        if kind == "lamp":
            return drawn / 12
        if kind == "diode":
            return rng.uniform(50, 500)
        return rng.uniform(2e3, 2e4) if rng.random() < 0.8 else 50 * 2e4 ** rng.random()

    def wire(self, a, b, kind="wire"):
        if self.left() <= 0:
            return
        self.conductors += 1
        self.add("" if kind == "bridge" else str(100 + self.conductors), kind, a, b)

    def terminal(self, purpose, kind="terminal"):
        """The next terminal of the strip for this purpose."""
        strip, used_kind, last = self.strips.get(purpose, ("", kind, STRIP_TERMINALS))
        if last >= STRIP_TERMINALS:
            strip, used_kind, last = self.number("X"), kind, 0
        last += 1
        self.strips[purpose] = (strip, used_kind, last)
        self.add(f"{strip}:{last}", used_kind, f"{strip}:{last}.int", f"{strip}:{last}.ext")
        return f"{strip}:{last}"

    def bridged_terminal(self, purpose, kind="terminal"):
        """The next terminal, bridged to the one before it on its strip."""
        terminal = self.terminal(purpose, kind)
        before = beside(terminal, -1)
        if not before.endswith(":0"):
            self.wire(f"{before}.int", f"{terminal}.int", "bridge")
        return terminal, before.endswith(":0")

    # Distribution

    def start_supply(self):
        """A breaker and a supply with a strip of fuses for +24 V and a strip of terminals for 0 V."""
        g, q = self.number("G"), self.number("Q")
        first = g == "G1"
        if first:
            for phase in ("L1", "N"):
                self.add(f"X0:{phase}", "terminal", f"X0:{phase}.int", f"X0:{phase}.ext")
                self.panel.potentials.append((phase, "ac-line" if phase == "L1" else "ac-neutral", 230,
                                              f"X0:{phase}.ext"))
        before = int(g[1:]) - 1
        self.add(q, "breaker", f"{q}:1", f"{q}:2")
        self.wire("X0:L1.int" if first else f"Q{before}:1", f"{q}:1")
        self.wire(f"{q}:2", f"{g}:L")
        self.wire("X0:N.int" if first else f"G{before}:N", f"{g}:N")
        self.add(g, "input", f"{g}:L", f"{g}:N", real=self.rng.uniform(1e3, 1e5))
        self.add(g, "supply", f"{g}:+", f"{g}:-", real=self.rng.uniform(1e3, 1e5))
        self.panel.potentials += [(f"+24V{g[1:]}", "dc+", 24, f"{g}:+"), (f"0V{g[1:]}", "dc-", 0, f"{g}:-")]
        self.supply, self.supply_begins = g, self.conductors
        self.strips = {}
        self.plus_taps = self.zero_taps = 99
        self.modules = {}    # type -> (module, pins used)
        self.relays = []     # relays that may lend a contact
        self.returns = 0
        self.stop_at = min(self.size, self.conductors + SUPPLY_CONDUCTORS)

    def plus(self, point):
        """Joins the point to the chain of +24 V behind a fuse; a new fuse every few points."""
        if self.plus_taps >= 7:
            fuse, is_first = self.bridged_terminal("fuses", "fuse")
            if is_first:
                self.wire(f"{self.supply}:+", f"{fuse}.int")
            self.plus_last, self.plus_taps = f"{fuse}.ext", 0
        self.wire(self.plus_last, point)
        self.plus_last, self.plus_taps = point, self.plus_taps + 1

    def zero(self, point):
        """Joins the point to a daisy chain of 0 V; some chains close to a ring."""
        if self.zero_taps >= 10:
            terminal, is_first = self.bridged_terminal("zero")
            if is_first:
                self.wire(f"{self.supply}:-", f"{terminal}.int")
            if self.zero_taps == 10 and self.rng.random() < 0.4:
                self.wire(self.zero_last, f"{terminal}.ext")
            self.zero_last, self.zero_taps = f"{terminal}.ext", 0
        self.wire(self.zero_last, point)
        self.zero_last, self.zero_taps = point, self.zero_taps + 1

    def pin(self, type_, field_terminal=""):
        """The next pin of a module; a new module comes with its common to 0 V."""
        module, used = self.modules.get(type_, ("", MODULE_PINS))
        if used >= MODULE_PINS:
            module, used = self.number("A"), 0
            self.zero(f"{module}:M")
        self.modules[type_] = (module, used + 1)
        point = f"{module}:0.{used}"
        current = type_ == "AI"
        real = self.rng.uniform(100, 250) if current else self.real_ohms("electronics", None)
        self.add(module, "channel" if field_terminal else "electronics", point, f"{module}:M", real=real,
                 current_input=current and bool(field_terminal))
        if field_terminal:
            letter = {"DI": "IX", "DO": "QX", "AI": "IW"}[type_]
            self.panel.channels.append({
                "point": point, "type": type_, "address": f"%{letter}{module[1:]}.{used}",
                "field": f"{field_terminal}.ext", "common": f"{module}:M", "signal": "4-20mA" if current else "",
                "feed": "passive"})
        return point

    def field_terminal(self, type_):
        kind = "disconnect" if type_ == "AI" or (type_ == "DI" and int(self.supply[1:]) % 3 == 0) else "terminal"
        return self.terminal(f"field {type_}", kind)

    # Circuits

    def field_channel(self):
        """A module's pin to its field terminal; inputs also have a terminal that feeds the device."""
        type_ = self.rng.choices(("DI", "DO", "AI"), (6, 3, 1))[0]
        for _ in range(self.rng.randint(1, 4)):
            terminal = self.field_terminal(type_)
            self.wire(self.pin(type_, terminal), f"{terminal}.int")
            if type_ == "DI" and self.rng.random() < 0.7:
                feed = self.terminal("feed")
                if self.returns % 5 and not feed.endswith(":1"):
                    self.wire(f"{beside(feed, -1)}.int", f"{feed}.int", "bridge")
                else:
                    self.plus(f"{feed}.int")
                self.returns += 1

    def button(self):
        """A push-button in the door to an input."""
        s = self.number("S")
        kind, a, b = self.rng.choice((("contact-no", 13, 14), ("contact-nc", 21, 22)))
        self.contact(s, kind, a, b, place="door")
        self.plus(f"{s}:{a}")
        self.wire(f"{s}:{b}", self.pin("DI"))

    def coil(self, drive):
        """A relay between a point and 0 V, at times with a diode across it."""
        k = self.number("K")
        self.wire(drive, f"{k}:A1")
        self.zero(f"{k}:A2")
        self.add(k, "coil", f"{k}:A1", f"{k}:A2", drawn=self.rng.choice((160, 350, 600, 650)))
        if k == "K1" or self.rng.random() < 0.4:
            v = self.number("V")
            self.add(v, "diode", f"{v}:A", f"{v}:K")
            self.wire(f"{k}:A1", f"{v}:K")
            self.wire(f"{k}:A2", f"{v}:A")
        return k

    def contact(self, k, kind, a, b, **more):
        self.add(k, kind, f"{k}:{a}", f"{k}:{b}", **more)

    def relay(self):
        """An output drives a relay whose changeover feeds two field terminals, or one and a lamp."""
        k = self.coil(self.pin("DO"))
        self.contact(k, "contact-nc", 11, 12, swings=True)
        self.contact(k, "contact-no", 11, 14, swings=True)
        self.plus(f"{k}:11")
        for pin in (14, 12):
            self.wire(f"{k}:{pin}", f"{self.terminal('switched')}.int")
        if self.rng.random() < 0.4:
            self.contact(k, "contact-no", 23, 24)
            self.plus(f"{k}:23")
            self.wire(f"{k}:24", self.pin("DI"))

    def interlock(self):
        """Two outputs drive two relays, each through a normally closed contact of the other."""
        one, other = self.counts.get("K", 0) + 1, self.counts.get("K", 0) + 2
        for k, partner in ((f"K{one}", f"K{other}"), (f"K{other}", f"K{one}")):
            self.wire(self.pin("DO"), f"{partner}:21")
            self.coil(f"{partner}:22")
            self.contact(k, "contact-nc", 21, 22)

    def extension(self):
        """A contact block on a relay, moved by it, that reports to an input."""
        k = self.coil(self.pin("DO"))
        self.contact(f"{k}.1", "contact-no", 53, 54, actuated_by=k)
        self.plus(f"{k}.1:53")
        self.wire(f"{k}.1:54", self.pin("DI"))

    def lamp(self):
        """An output to a lamp in the door."""
        p = self.number("P")
        self.add(p, "lamp", f"{p}:x1", f"{p}:x2", drawn=self.rng.choice((288, 480, 600)), place="door")
        self.wire(self.pin("DO"), f"{p}:x1")
        self.zero(f"{p}:x2")

    def resistor(self):
        """A resistor that loads an input against leakage."""
        r, terminal = self.number("R"), self.field_terminal("DI")
        self.add(r, "resistor", f"{r}:1", f"{r}:2", drawn=self.rng.choice((1000, 2200, 4700)))
        self.wire(self.pin("DI", terminal), f"{terminal}.int")
        self.wire(f"{terminal}.int", f"{r}:1")
        self.zero(f"{r}:2")

    def draw(self):
        circuits = (self.field_channel, self.button, self.relay, self.interlock, self.extension, self.lamp,
                    self.resistor)
        self.start_supply()
        for circuit in (self.relay, self.lamp, self.resistor, self.field_channel):    # one of each at least
            circuit()
        while self.left() > 0:
            room = self.stop_at - self.conductors
            if room >= 16:
                self.rng.choices(circuits, (30, 12, 12, 5, 4, 8, 4))[0]()
            elif self.stop_at < self.size and self.left() > 60:
                self.start_supply()
            else:
                a, b = self.terminal("through"), self.terminal("onward")
                self.wire(f"{a}.int", f"{b}.int")
        return self.panel


def make_panel(size, rng):
    panel = Drafter(size, rng).draw()
    panel.net = labels(e for e in panel.elements if e.kind in SOLID)
    panel.region = labels(panel.elements)
    for index, e in enumerate(panel.elements):
        for p in (e.a, e.b):
            panel.net.setdefault(p, p)
            panel.at.setdefault(p, []).append(index)
    return panel


def write_rows(path, header, rows):
    with open(path, "w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        out.writerows(rows)


def write_panel(panel, folder):
    """The netlist as drawn, in the CSV form that ringtrue reads."""
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    wires = [e for e in panel.elements if e.kind in CONDUCTORS]
    parts = [e for e in panel.elements if e.kind not in CONDUCTORS | {"channel"}]

    def pin(e, point):
        return point[len(e.name) + 1:]

    write_rows(folder / "conductors.csv", ("wire", "from", "to", "kind", "sheet"),
               ((e.name, e.a, e.b, e.kind, f"{i // 40 + 1}.{i % 40 // 5 + 1}") for i, e in enumerate(wires)))
    write_rows(folder / "parts.csv", ("part", "kind", "a", "b", "ohms", "actuated_by", "place"),
               ((e.name, e.kind, pin(e, e.a), pin(e, e.b), "" if e.drawn is None else e.drawn, e.actuated_by,
                 e.place) for e in parts))
    keys = ("point", "type", "address", "field", "common", "signal", "feed")
    write_rows(folder / "channels.csv", keys, ([c[k] for k in keys] for c in panel.channels))
    write_rows(folder / "potentials.csv", ("name", "kind", "volts", "point"), panel.potentials)
    write_rows(folder / "panel.csv", ("key", "value"),
               (("panel", "GD1"), ("revision", "A"), ("function", "GD1"), ("location", "A"), ("safety", "none")))
