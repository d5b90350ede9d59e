"""A netlist's rows by Python's csv alone: which points there are, what is landed on them, what the strips hold."""

import csv
import re
from dataclasses import dataclass

STRIP_LIKE = {"terminal", "disconnect", "plug", "pe-terminal", "fuse"}


def rows_of(folder, name):
    file = folder / f"{name}.csv"
    if not file.exists():
        return []
    with file.open(encoding="utf-8", newline="") as lines:
        return [{key: value or "" for key, value in row.items()} for row in csv.DictReader(lines)]


def natural(name):
    return [(0, int(run), "") if run.isdigit() else (1, 0, run) for run in re.findall(r"\d+|\D+", name)]


def without_side(point):
    return point.removesuffix(".int").removesuffix(".ext")


def strip_of(point):
    return without_side(point).rpartition(":")[0]


def far_end(row):
    return "" if row["to"] == "-" else row["to"]  # a spare core


@dataclass
class Landing:
    point: str  # as written: without a side where the drawing leaves it open
    noun: str
    far: str
    row: dict


class Rows:
    """Of a drawing whose names need no shortening: no leading `-`, no `=` and `+`."""

    def __init__(self, folder):
        self.conductors, self.parts = rows_of(folder, "conductors"), rows_of(folder, "parts")
        self.channels, self.potentials = rows_of(folder, "channels"), rows_of(folder, "potentials")
        self.kinds = {}  # of each terminal
        for part in self.parts:
            if part["kind"] in STRIP_LIKE and ":" in part["part"]:
                self.kinds[part["part"]] = part["kind"]
        for row in self.conductors:
            for point in (row["from"], row["to"]):
                if point != without_side(point):
                    self.kinds.setdefault(without_side(point), "terminal")
        self.places = {part["part"].rpartition(":")[0] if part["part"] in self.kinds else part["part"]: part["place"] or "panel"
                       for part in self.parts}

    def strips(self):
        strips = {}
        for terminal in self.kinds:
            strips.setdefault(strip_of(terminal), []).append(terminal)
        return {name: sorted(strips[name], key=natural) for name in sorted(strips, key=natural)}

    def landings(self, strip):
        for row in self.conductors:
            name = row["wire"] or "/".join(part for part in (row.get("cable", ""), row.get("core", "")) if part)
            ends = [row["from"], far_end(row)]
            for point, far in (ends, ends[::-1]):
                if point and strip_of(point) == strip:
                    yield Landing(point, f"{row['kind'] or 'wire'} {name}", far or "spare", row)

    def points(self):
        """Each point, without its side where it stands on a terminal."""
        found = set()
        for row in self.conductors:
            found |= {row["from"], far_end(row)}
        for part in self.parts:
            if part["part"] not in self.kinds:
                found |= {f"{part['part']}:{part[end]}" for end in "ab"}
        for row in self.channels:
            found |= {row["point"], row["field"], row.get("return", ""), row.get("common", "")}
        found |= {row["point"] for row in self.potentials}
        single = {without_side(point) for point in found if point} | set(self.kinds)
        return {point for point in single if point not in self.kinds} | {
            terminal + side for terminal in self.kinds for side in (".int", ".ext")
        }
