"""Random panels with branches to be powered: mains, protective devices, supplies of each sort, relays that pull in as
soon as they are fed, loads between any two points.

Copper only ever leads to a new point, so that nothing joins two potentials whatever is operated.
"""

from pathlib import Path

from panel_maker import write_rows


class PowerPanel:
    def __init__(self, rng):
        self.rng = rng
        self.conductors, self.parts, self.potentials = [], [], []
        self.counts = {}
        self.live, self.reference, self.others = [[]], [["X0:N.int"]], [[]]    # points by supply, the mains first
        self.of = 0                                                          # the supply that is drawn for
        self.draw()

    def number(self, letter):
        self.counts[letter] = self.counts.get(letter, 0) + 1
        return f"{letter}{self.counts[letter]}"

    def wire(self, a, b):
        self.conductors.append((str(len(self.conductors) + 1), a, b))

    def part(self, name, kind, a, b, ohms="", actuated_by=""):
        self.parts.append((name, kind, a, b, ohms, actuated_by))

    def any_point(self, *lists):
        """Of the supply that is drawn for; now and then of another."""
        of = self.rng.randrange(len(self.live)) if self.rng.random() < 0.03 else self.of
        return self.rng.choice([p for points in lists or (self.live, self.reference, self.others) for p in points[of]])

    def mains(self):
        phases = ["L1", "L2", "L3"] if self.rng.random() < 0.5 else ["L1"]
        incomer = self.number("Q")
        for number, phase in enumerate(phases):
            self.potentials.append((phase, "ac-line", 230, f"X0:{phase}.ext"))
            self.part(f"X0:{phase}", "terminal", "int", "ext")
            self.wire(f"X0:{phase}.int", f"{incomer}:{2 * number + 1}")
            self.part(incomer, "isolator", 2 * number + 1, 2 * number + 2)
            self.live[0].append(f"{incomer}:{2 * number + 2}")
        self.potentials.append(("N", "ac-neutral", 0, "X0:N.ext"))
        self.potentials.append(("PE", "pe", 0, "PE"))
        self.part("X0:N", "terminal", "int", "ext")
        self.part("X0:PE", "pe-terminal", "int", "ext")
        if self.rng.random() < 0.3:
            self.wire("X0:N.int", "PE")

    def supply(self):
        g = self.number("G")
        self.part(g, "supply", "+", "-")
        self.potentials += [(f"+24V{g[1:]}", "dc+", 24, f"{g}:+"), (f"0V{g[1:]}", "dc-", 0, f"{g}:-")]
        sort = self.rng.choices(("fed", "open", "none"), (6, 1, 1))[0]
        if sort != "none":
            self.part(g, "input", "L", "N")
        if sort == "fed":
            self.wire(self.behind(self.rng.choice(self.live[0]), "breaker"), f"{g}:L")
            self.wire("X0:N.int", f"{g}:N")
        if len(self.live) > 1 and self.rng.random() < 0.2:
            self.wire(f"{g}:-", self.reference[1][0])
        elif self.rng.random() < 0.3:
            self.wire(f"{g}:-", "PE")
        self.live.append([f"{g}:+"])
        self.reference.append([f"{g}:-"])
        self.others.append([])
        for _ in range(self.rng.randint(1, 4)):
            self.live[-1].append(self.behind(f"{g}:+", "fuse"))

    def transformer(self):
        """A control transformer: what its secondary feeds is another supply."""
        t = self.number("T")
        self.part(t, "transformer", 1, 2)
        self.part(t, "transformer", 3, 4)
        self.potentials += [(f"24V~{t[1:]}", "ac-line", 24, f"{t}:3"), (f"0V~{t[1:]}", "ac-neutral", 0, f"{t}:4")]
        self.wire(self.behind(self.rng.choice(self.live[0]), "breaker"), f"{t}:1")
        self.wire("X0:N.int", f"{t}:2")
        self.live.append([f"{t}:3", self.behind(f"{t}:3", "fuse")])
        self.reference.append([f"{t}:4"])
        self.others.append([])

    def behind(self, point, kind):
        """A new point behind a protective device."""
        name = self.number("Q" if kind == "breaker" else "F")
        self.wire(point, f"{name}:1")
        self.part(name, kind, 1, 2)
        return f"{name}:2"

    def relay(self):
        """A coil between two points, and contacts that lead from some point to a new one."""
        k = self.number("K")
        self.part(k, "coil", "A1", "A2", self.rng.choice(("", 350, 600)))
        self.wire(self.any_point(self.live, self.others), f"{k}:A1")
        self.wire(self.any_point(self.reference, self.others), f"{k}:A2")
        for number in range(self.rng.randint(1, 3)):
            kind = self.rng.choice(("contact-no", "contact-nc"))
            self.part(k, kind, 10 * number + 13, 10 * number + 14)
            self.wire(self.any_point(), f"{k}:{10 * number + 13}")
            self.others[self.of].append(f"{k}:{10 * number + 14}")

    def load(self):
        kind, ohms = self.rng.choice((("lamp", 480), ("lamp", ""), ("resistor", 2200), ("resistor", 100000), ("diode", ""),
                                      ("motor", ""), ("surge", ""), ("capacitor", "")))
        name = self.number("R")
        self.part(name, kind, 1, 2, ohms)
        self.wire(self.any_point(), f"{name}:1")
        if self.rng.random() < 0.5:
            self.others[self.of].append(f"{name}:2")
        else:
            self.wire(self.any_point(), f"{name}:2")

    def module(self):
        a = self.number("A")
        self.part(a, "electronics", "L+", "M")
        self.wire(self.any_point(self.live), f"{a}:L+")
        self.wire(self.any_point(self.reference), f"{a}:M")

    def branch(self):
        self.others[self.of].append(self.behind(self.any_point(), self.rng.choice(("breaker", "fuse"))))

    def terminal(self):
        x = f"X1:{self.counts.get('X1', 0) + 1}"
        self.counts["X1"] = self.counts.get("X1", 0) + 1
        self.part(x, "terminal", "int", "ext")
        self.wire(self.any_point(), f"{x}.int")
        self.others[self.of].append(f"{x}.ext")

    def draw(self):
        self.mains()
        for _ in range(self.rng.randint(1, 3)):
            self.supply()
        if self.rng.random() < 0.4:
            self.transformer()
        makers = (self.relay, self.load, self.module, self.branch, self.terminal)
        for _ in range(self.rng.randint(5, 40)):
            self.of = self.rng.randrange(len(self.live))
            self.rng.choices(makers, (3, 5, 2, 2, 3))[0]()

    def write(self, folder):
        folder = Path(folder)
        folder.mkdir(parents=True, exist_ok=True)
        write_rows(folder / "conductors.csv", ("wire", "from", "to"), self.conductors)
        write_rows(folder / "parts.csv", ("part", "kind", "a", "b", "ohms", "actuated_by"), self.parts)
        write_rows(folder / "channels.csv", ("point", "type"), [])
        write_rows(folder / "potentials.csv", ("name", "kind", "volts", "point"), self.potentials)
        write_rows(folder / "panel.csv", ("key", "value"), [("panel", "GD1"), ("revision", "A")])
