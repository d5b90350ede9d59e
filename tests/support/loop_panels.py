"""Random panels of inputs whose loops a supply drives: contacts in the field and in the door, sensors, transmitters,
sinking and sourcing modules, rings of copper, chains of bridges, loads beside the loops.
"""

from pathlib import Path

from panel_maker import write_rows

CHANNEL_COLUMNS = ("point", "type", "field", "return", "common", "device", "feed", "sense", "sensor", "signal")


class LoopPanel:
    def __init__(self, rng):
        self.rng = rng
        self.conductors, self.parts, self.channels = [], [], []
        self.counts = {}
        self.draw()

    def number(self, letter):
        self.counts[letter] = self.counts.get(letter, 0) + 1
        return f"{letter}{self.counts[letter]}"

    def wire(self, a, b, kind="wire"):
        name = "" if kind == "bridge" else str(len(self.conductors) + 1)
        self.conductors.append((name, a, b, kind))

    def terminal(self, strip, kind="terminal"):
        name = f"{strip}:{self.number(strip)[len(strip):]}"
        self.parts.append((name, kind, "int", "ext", "", ""))
        return name

    def run(self, point):
        """From the point on through a few terminals to a new one."""
        for _ in range(self.rng.choice((0, 0, 1, 1, 2))):
            name = self.terminal("X5", self.rng.choice(("terminal", "terminal", "disconnect", "plug", "fuse")))
            ends = [f"{name}.int", f"{name}.ext"]
            self.rng.shuffle(ends)
            self.wire(point, ends[0])
            point = ends[1]
        return point

    def rail(self, source, strip):
        """Terminals bridged in a row and fed at one of them; now and then closed to a ring."""
        names = [self.terminal(strip) for _ in range(self.rng.randint(2, 6))]
        for one, other in zip(names, names[1:]):
            self.wire(f"{one}.int", f"{other}.int", "bridge")
        if len(names) > 2 and self.rng.random() < 0.3:
            self.wire(f"{names[0]}.int", f"{names[-1]}.int")
        self.wire(self.run(source), f"{self.rng.choice(names)}.int")
        return [f"{n}.ext" for n in names]

    def module(self, sinks):
        """An input module with its common on the far side of its inputs."""
        a = self.number("A")
        self.wire(self.run(self.rng.choice(self.minus if sinks else self.plus)), f"{a}:C")
        for pin in range(self.rng.randint(1, 4)):
            self.input(f"{a}:{pin}", f"{a}:C", sinks)

    def input(self, point, common, sinks):
        feed = self.rng.choice(self.plus if sinks else self.minus)
        sort = self.rng.choice(("field", "field", "door", "sensor", "transmitter"))
        if sort == "door":
            device, kind = self.number("S"), self.rng.choice(("contact-no", "contact-nc"))
            back, field = f"{device}:13", f"{device}:14"
            self.parts.append((device, kind, "13", "14", "", "door"))
        else:
            device = self.number("B")
            ends = self.terminal("X9"), self.terminal("X9", self.rng.choice(("terminal", "disconnect")))
            back, field = f"{ends[0]}.ext", f"{ends[1]}.ext"
        self.wire(self.run(feed), back.replace(".ext", ".int"))
        inner = self.run(field.replace(".ext", ".int"))
        if self.rng.random() < 0.2:                     # an interlock in the way
            k = self.number("K")
            self.parts.append((k, self.rng.choice(("contact-no", "contact-nc")), "1", "2", "", ""))
            self.wire(inner, f"{k}:1")
            inner = f"{k}:2"
        self.wire(inner, point)
        if self.rng.random() < 0.2:                     # something else that is fed beside it
            p = self.number("P")
            self.parts.append((p, "lamp", "1", "2", "480", ""))
            self.wire(self.rng.choice(self.plus), f"{p}:1")
            self.wire(self.rng.choice(self.minus), f"{p}:2")
        is_analog = sort == "transmitter" and sinks
        sensor = "two-wire" if sort == "transmitter" else "pnp" if sort == "sensor" else "contact"
        self.channels.append((point, "AI" if is_analog else "DI", field, back, common, device, "passive",
                              "" if is_analog else "sink" if sinks else "source", sensor, "4-20mA" if is_analog else ""))

    def draw(self):
        self.parts.append(("G1", "supply", "+", "-", "", ""))
        self.plus, self.minus = ["G1:+"], ["G1:-"]
        for _ in range(self.rng.randint(1, 2)):
            self.plus += self.rail(self.rng.choice(self.plus), self.number("X1"))
            self.minus += self.rail(self.rng.choice(self.minus), self.number("X2"))
        for _ in range(self.rng.randint(1, 2)):
            self.module(self.rng.random() < 0.7)

    def write(self, folder):
        folder = Path(folder)
        folder.mkdir(parents=True, exist_ok=True)
        write_rows(folder / "conductors.csv", ("wire", "from", "to", "kind"), self.conductors)
        write_rows(folder / "parts.csv", ("part", "kind", "a", "b", "ohms", "place"), self.parts)
        write_rows(folder / "channels.csv", CHANNEL_COLUMNS, self.channels)
        write_rows(folder / "potentials.csv", ("name", "kind", "volts", "point"),
                   [("+24V", "dc+", 24, "G1:+"), ("0V", "dc-", 0, "G1:-")])
        write_rows(folder / "panel.csv", ("key", "value"), [("panel", "GD1"), ("revision", "A")])
