"""Random netlists in the documented form, and what the outside checks share.

The netlists are meant to be awkward, not realistic: each has every kind of part, terminals with their sides
named or not, rings, parallel conductors, conductors listed twice and the other way round, self-loops, names
in several notations, field parts, spare cores. Names are written so that they can be read in one way only.
"""

import csv
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "support"))

REPO = Path(__file__).resolve().parent.parent.parent
DEMOS = ["netlists/quickstart", "netlists/grain-dryer"]
TABLES = ("conductors", "parts", "channels", "potentials")
HEADERS = {
    "conductors": ["wire", "from", "to", "kind", "cable", "core", "sheet"],
    "parts": ["part", "kind", "a", "b", "ohms", "actuated_by", "closed_in", "place", "sheet"],
    "channels": ["point", "type", "tag", "field", "return", "common"],
    "potentials": ["name", "kind", "volts", "point"],
}
FACTS = {"panel": "GD1", "function": "GD1", "location": "A"}


def seed_from(options):
    """--seed, else RINGTRUE_TEST_SEED, else 1; printed, so that a failing run can be repeated."""
    seed = options.seed if options.seed is not None else int(os.environ.get("RINGTRUE_TEST_SEED", "1"))
    print(f"seed {seed} (set RINGTRUE_TEST_SEED or --seed for another)")
    return seed


def demo_files():
    """Every demo netlist, in each form in which it is shipped."""
    for name in DEMOS:
        folder = REPO / name
        if not (folder / "conductors.csv").exists():
            sys.exit(f"{folder}/conductors.csv is missing")
        yield folder
        if (folder / "netlist.xml").exists():
            yield folder / "netlist.xml"


def run(command, allowed=(0,)):
    """The standard output of a program; a wrong exit status or a crash ends the check with what it said."""
    done = subprocess.run([str(c) for c in command], capture_output=True, text=True)
    if done.returncode not in allowed:
        raise RuntimeError(f"status {done.returncode}, expected {allowed}: {' '.join(map(str, command))}\n{done.stderr}")
    return done.stdout


def full_name(name, facts):
    """One spelling for what the two sides may spell apart: a foreign point with both aspects written out.

    =GD1+B-X1:3 in a panel of function GD1 can be kept so or as +B-X1:3; both name the same point.
    """
    function, location, rest = re.fullmatch(r"(=[^=+:-]*)?(\+[^=+:-]*)?-?(.*)", name, re.DOTALL).groups()
    own_function, own_location = facts.get("function", ""), facts.get("location", "")
    function = function[1:] if function else own_function
    location = location[1:] if location else own_location
    if (function, location) == (own_function, own_location):
        return rest
    return "".join([f"={function}" if function else "", f"+{location}" if location else "", "-", rest])


class RandomNetlist:
    """Rows per table, made by one random.Random."""

    def __init__(self, random):
        self.random = random
        self.tables = {table: [] for table in TABLES}
        self.points = []      # names usable as a conductor's end
        self.cores = []       # the same, on field parts
        self.wires = 0
        self._strips()
        self._devices()
        self._field_devices()
        self._conductors()
        self._channels()

    def part(self, part, kind, a="", b="", **more):
        self.tables["parts"].append({"part": part, "kind": kind, "a": a, "b": b, **more})

    def conductor(self, start, end, kind="", wire=None, **more):
        if wire is None:
            self.wires += 1
            wire = str(self.wires)
        row = {"wire": wire, "from": self.written(start), "to": self.written(end), "kind": kind, **more}
        self.tables["conductors"].append(row)
        return row

    def written(self, point):
        """One of the notations that mean the same point."""
        if not point or point == "-" or self.random.random() < 0.6:
            return point
        prefix, rest = ("", point)
        if point[0] in "=+":
            prefix, _, rest = point.partition("-")
            return self.random.choice([f"=GD1{prefix}-{rest}", point]) if prefix[0] == "+" else point
        return self.random.choice([f"-{rest}", f"=GD1-{rest}", f"+A-{rest}", f"=GD1+A-{rest}", f" {rest} "])

    def _strips(self):
        for strip in ("X1", "X2", "+B-X1"):
            for number in range(1, self.random.randint(4, 9)):
                kind = self.random.choice(["terminal", "terminal", "disconnect", "plug", "pe-terminal", "fuse"])
                name = f"{strip}:{number}"
                self._terminal(name, kind, self.random.choice(["", "", "panel", "door"]))
                if kind == "terminal" and self.random.random() < 0.3:
                    self._terminal(name + "o", "terminal", "")      # a second level is a terminal of its own
        # A strip that only the conductors know.
        for number in range(1, self.random.randint(3, 7)):
            self.points += [f"X9:{number}", f"X9:{number}.int", f"X9:{number}.ext"]

    def _terminal(self, name, kind, place):
        pins = ("int", "ext") if kind == "fuse" else ("", "")
        self.part(name, kind, *pins, place=place)
        self.points += [f"{name}.int", f"{name}.ext"]
        if kind in ("terminal", "pe-terminal"):                     # of the others a bare name says too little
            self.points.append(name)

    def _devices(self):
        rows = []
        for k in range(1, self.random.randint(2, 5)):
            relay = f"K{k}"
            rows += [(relay, "coil", "A1", "A2", {"ohms": self.random.choice(["", "180", "1200"])}),
                     (relay, "contact-no", "13", "14", {}), (relay, "contact-nc", "21", "22", {}),
                     (relay, "contact-no", "11", "34", {}), (relay, "contact-nc", "11", "32", {})]
        rows += [("F1", "fuse", "1", "2", {}), ("F2", "fuse", "1", "2", {"ohms": "0.4"})]
        rows += [("Q1", "breaker", str(i), str(i + 1), {}) for i in (1, 3, 5)]
        rows += [("Q2", "isolator", str(i), str(i + 1), {}) for i in (1, 3)]
        rows += [("F4", "path", str(i), str(i + 1), {}) for i in (1, 3, 5)]
        rows += [("F4", "contact-nc", "95", "96", {"actuated_by": "F4"}),
                 ("F4", "contact-no", "97", "98", {"actuated_by": "F4"})]
        rows += [("S1", "contact-no", "13", "14", {"place": "door"}), ("S2", "contact-nc", "21", "22", {"place": "door"}),
                 ("S3", "contact-no", "1", "2", {"closed_in": "0,2"}), ("S3", "contact-no", "3", "4", {"closed_in": "1"}),
                 ("S4", "contact-no", "1", "2", {"closed_in": "1"}), ("S4", "contact-no", "3", "4", {"closed_in": "2,3"}),
                 ("S5", "contact-nc", "7", "8", {"actuated_by": "K1"})]
        rows += [("R1", "resistor", "1", "2", {"ohms": "250"}), ("V1", "diode", "1", "2", {}),
                 ("P1", "lamp", "1", "2", {}), ("G1", "supply", "+", "-", {}), ("G1", "input", "L", "N", {}),
                 ("T1", "transformer", "1", "2", {}), ("C1", "capacitor", "1", "2", {}), ("F9", "surge", "1", "2", {}),
                 ("A1", "electronics", "L+", "M", {}), ("A1", "electronics", "0.0", "M", {})]
        self.random.shuffle(rows)
        for part, kind, a, b, more in rows[: self.random.randint(len(rows) // 2, len(rows))]:
            self.part(part, kind, a, b, **more)
            self.points += [f"{part}:{a}", f"{part}:{b}"]
        self.module_pins = [f"A1:0.{i}" for i in range(8)]
        self.points += self.module_pins + ["PE", "U7:4.2"]          # on no part: still points

    def _field_devices(self):
        for part, kind, a, b in [("B1", "sensor", "1", "2"), ("B2", "contact-no", "3", "4"), ("M1", "motor", "U", "V"),
                                 ("B3", "contact-nc", "1", "2"), ("B4", "path", "1", "2")]:
            self.part(part, kind, a, b, place="field")
            self.cores += [f"{part}:{a}", f"{part}:{b}"]
        self.cores.append("B1:SH")                                  # a pin that no row names is in the field too

    def _conductors(self):
        pick = self.random.choice
        for _ in range(self.random.randint(15, 70)):
            kind = pick(["", "wire", "wire", "bridge", "busbar"])
            row = self.conductor(pick(self.points), pick(self.points), kind, "" if kind in ("bridge", "busbar") else None)
            if self.random.random() < 0.08:                         # listed a second time, the other way round
                self.tables["conductors"].append({**row, "from": row["to"], "to": row["from"]})
            if self.random.random() < 0.08:                         # a second conductor beside it
                self.wires += 1
                self.tables["conductors"].append({**row, "wire": str(self.wires)})
        for _ in range(self.random.randint(0, 2)):
            ring = self.random.sample(self.points, self.random.randint(3, 6))
            for start, end in zip(ring, ring[1:] + ring[:1]):
                self.conductor(start, end)
        for _ in range(self.random.randint(0, 2)):
            point = pick(self.points)
            self.conductor(point, point)
        for number in range(self.random.randint(2, 10)):
            ends = [pick(self.points), pick(self.cores if self.random.random() < 0.7 else self.points)]
            if self.random.random() < 0.15:
                ends[1] = pick(["", "-"])                           # a spare core
            self.random.shuffle(ends)
            self.conductor(*ends, kind="core", wire=pick(["", None]), cable=f"W{900 + number // 4}", core=str(number))
        self.random.shuffle(self.tables["conductors"])

    def _channels(self):
        terminals = [p["part"] for p in self.tables["parts"] if p["kind"] in ("terminal", "disconnect", "plug", "fuse")
                     and ":" in p["part"]]
        for number, point in enumerate(self.module_pins):
            field, back = self.random.choice(terminals), self.random.choice(terminals)
            self.tables["channels"].append({
                "point": self.written(point), "type": self.random.choice(["DI", "DO"]), "tag": f"T{number}",
                "field": self.random.choice([field, field + ".ext"]),
                "return": self.random.choice(["", back + ".ext"]), "common": self.random.choice(["", "A1:M"])})


def write_csv(folder, tables):
    folder.mkdir(parents=True, exist_ok=True)
    with open(folder / "panel.csv", "w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([("key", "value"), *FACTS.items()])
    for table, header in HEADERS.items():
        with open(folder / f"{table}.csv", "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, header, restval="")
            writer.writeheader()
            writer.writerows(tables.get(table, []))
    return folder


def write_xml(path, tables):
    path.parent.mkdir(parents=True, exist_ok=True)
    root = ElementTree.Element("netlist", {"xmlns": "urn:ringtrue:netlist:1", **FACTS})
    for table in TABLES:
        parent = ElementTree.SubElement(root, table)
        for row in tables.get(table, []):
            ElementTree.SubElement(parent, table[:-1], {k: v for k, v in row.items() if v})
    ElementTree.ElementTree(root).write(path, encoding="utf-8", xml_declaration=True)
    return path


def as_text(tables):
    """The netlist as one can paste it back into files."""
    lines = []
    for table, header in HEADERS.items():
        if tables.get(table):
            lines.append(f"--- {table}.csv")
            lines.append(",".join(header))
            for row in tables[table]:
                lines.append(",".join('"%s"' % row.get(h, "") if "," in row.get(h, "") else row.get(h, "") for h in header))
    return "\n".join(lines)


def shrunk(tables, fails):
    """Drops rows as long as `fails` still holds, halves first, so that the rest is short enough to read."""
    tables = {table: list(rows) for table, rows in tables.items()}
    for table in ("conductors", "channels", "parts"):
        step = max(1, len(tables[table]) // 2)
        while step:
            start = 0
            while start < len(tables[table]):
                fewer = {**tables, table: tables[table][:start] + tables[table][start + step:]}
                if fails(fewer):
                    tables = fewer
                else:
                    start += step
            step //= 2
    return tables
