#!/usr/bin/env python3
"""Checks pictures of terminal strips (`trace STRIP --svg FILE`) against the rows of the netlist.

Every strip of both demo panels, with readings and without, and strips whose every name is hostile:
- a row for each terminal, in order, with its number and kind; nothing else;
- each landing once, on its side and beside its terminal, with the conductor's number and its other end;
- each bridge within the strip once, a line between its two terminals on one side, in a lane that no other bridge runs over;
- the planted faults are faulty where they are, what a hand finds stands where it is to be found; good readings leave none;
- no text reaches into another, into what is drawn, or out of the picture.

Run: strip_check.py RINGTRUE
"""

import csv
import sys
import tempfile
from collections import Counter
from itertools import combinations
from pathlib import Path

from netlist_rows import Rows, strip_of, without_side
from svg_reading import GRAIN_DRYER, HOSTILE, QUICKSTART, SVG, Command
from svg_reading import as_shown, check_kind, check_room, check_shown, expect, frames, local, path_boxes, said, texts, without_blanks

# By terminal side: what of faults.toml must stand there, and the class of it.
PLANTED = {
    "X3": {("X3:8.int", "wire 1010", "faulty"), ("X3:9.int", "wire 1011", "faulty"), ("X3:8.int", "wire 1011 lands here", "faulty"),
           ("X3:9.int", "wire 1010 lands here", "faulty"), ("X3:3.int", "short to X5:13.int", "faulty")},
    "X4": {("X4:2.int", "wire 1211", "faulty"), ("X4:3.int", "wire 1211 lands here", "faulty")},
    "X5": {("X5:19.int", "wire 1601", "faulty"), ("X5:23.int", "wire 1601 lands here", "faulty")},
    "X7": {("X7:1.int", "extra bridge to X7:2.int", "faulty"), ("X7:2.int", "extra bridge to X7:1.int", "faulty")},
    "X8": {("X8:14.int", "bridge X8:14-X8:15 to X8:15.int", "faulty")},
}  # fmt: skip


class Strip:
    """A picture taken apart by where things stand."""

    def __init__(self, svg, where):
        self.where, self.svg = where, svg
        groups = [g for g in svg.iter(SVG + "g") if g.find(SVG + "title") is not None]
        self.terminals = [g for g in groups if g.find(SVG + "rect") is not None]
        self.frames = [next(frames(g)) for g in self.terminals]
        self.others = [g for g in groups if g.find(SVG + "rect") is None]

    def row_at(self, y):
        rows = [i for i, frame in enumerate(self.frames) if frame[1] <= y <= frame[3]]
        expect(len(rows) == 1, f"{self.where}: {y} is beside {len(rows)} terminals")
        return rows[0]

    def dots(self, group):
        """Where the group touches terminals: row and side."""
        left, _, right, _ = self.frames[0]
        for circle in group.findall(SVG + "circle"):
            x, y = int(circle.get("cx")), int(circle.get("cy"))
            if x in (left, right):
                yield self.row_at(y), ".int" if x == left else ".ext"

    def check_side(self, group, side):
        left, _, right, _ = self.frames[0]
        for text in texts(group):
            x, anchor = int(text.get("x")), text.get("text-anchor")
            is_right = x < left and anchor == "end" if side == ".int" else x > right and anchor == "start"
            expect(is_right, f"{self.where}: {said(group)[:80]} stands on the other side")


def label(group):
    return [text.text for text in texts(group)]


def same_point(written, drawn):
    """A name that leaves the side open may be drawn on either."""
    return drawn == written or (written == without_side(written) and without_side(drawn) == written)


def check_terminals(strip, rows, terminals):
    expect(len(strip.terminals) == len(terminals), f"{strip.where}: {len(strip.terminals)} rows for {len(terminals)} terminals")
    for upper, lower in zip(strip.frames, strip.frames[1:]):
        expect(upper[3] <= lower[1], f"{strip.where}: terminals out of order")
    for group, terminal in zip(strip.terminals, terminals):
        number, bold = terminal.rpartition(":")[2], [t.text for t in texts(group) if t.get("font-weight") == "bold"]
        if group.get("class"):
            bold.remove(group.get("class"))
        check_shown("".join(bold), number, strip.where)
        expect(rows.kinds[terminal] in label(group), f"{strip.where}: {terminal} is no {rows.kinds[terminal]}: {label(group)}")
        expect(terminal in said(group), f"{strip.where}: {said(group)[:80]} where {terminal[:80]} should be")


def is_bridge(landing, strip):
    far, sides = landing.far, {point[-4:] for point in (landing.point, landing.far) if point != without_side(point)}
    return (landing.row["kind"] in ("bridge", "busbar") and strip_of(far) == strip and len(sides) < 2
            and without_side(far) != without_side(landing.point))


def check_landings(strip, rows, name, terminals):
    """Each landing of the netlist takes one group away; only what a diagnosis has there may be left."""
    left = list(strip.others)
    bridges = Counter()
    for landing in rows.landings(name):
        if is_bridge(landing, name):
            bridges[frozenset((landing.point, landing.far))] += 1
            continue
        prefix = f": {landing.noun}" + (", spare" if landing.far == "spare" else " to ")
        found = []
        for group in left:
            point, _, rest = said(group).partition(prefix)
            if same_point(landing.point, point) and (landing.far == "spare" or without_side(rest.split(", ")[0]) == without_side(landing.far)
                                                     or rest.split("; ")[0] == landing.far):
                found.append((group, point))
        # Two wires of one number between the same points may exist; which of them is which is no matter.
        expect(found, f"{strip.where}: no landing {landing.point} {landing.noun[:80]} {landing.far[:80]}")
        group, point = found[0]
        left.remove(group)
        dots = list(strip.dots(group))
        expect(dots == [(terminals.index(without_side(point)), point[-4:])], f"{strip.where}: {said(group)[:80]} touches {dots}")
        strip.check_side(group, point[-4:])
        shown = label(group)[: -1 if group.get("class") else None]
        weights = [t.get("font-weight") for t in texts(group)]
        noun = "".join(text for text, weight in zip(shown, weights) if weight == "bold")
        far = "".join(text for text, weight in zip(shown, weights) if weight != "bold").partition("finding")[0]
        for fault in ("swap", "open", "miswire"):
            noun, far = (noun.removesuffix("faulty"), far.removesuffix(fault)) if group.get("class") == "faulty" else (noun, far)
        check_shown(noun.removesuffix(group.get("class") or "-"), landing.noun, strip.where)
        head, cut, tail = far.partition("\u2026")
        whole = landing.far.startswith(head) and landing.far.endswith(tail) if cut else without_side(far) == without_side(landing.far)
        expect(landing.far == "spare" or whole, f"{strip.where}: {far[:80]} where {landing.far[:80]} should stand")
    for ends, count in bridges.items():
        expect(count == 2, f"{strip.where}: {set(ends)} is landed {count} times")
        upper, lower = sorted(ends, key=lambda end: terminals.index(without_side(end)))
        found = [group for group in left if said(group).startswith(f"{upper}: ") and f" to {lower}" in said(group)
                 and "joined" not in said(group) and len(list(strip.dots(group))) == 2]
        expect(len(found) == 1, f"{strip.where}: bridge {upper} to {lower} is drawn {len(found)} times")
        left.remove(found[0])
        rows_touched = sorted(row for row, _ in strip.dots(found[0]))
        expect(rows_touched == sorted(terminals.index(without_side(end)) for end in ends), f"{strip.where}: bridge at {rows_touched}")
        strip.check_side(found[0], upper[-4:])
    return left


def uprights(group):
    """The boxes of what runs downwards."""
    boxes = [box for path in group.iter(SVG + "path") for box in path_boxes(path.get("d"))]
    x = [int(c.get("cx")) for c in group.findall(SVG + "circle")]
    return [box for box in boxes if box[3] - box[1] > 4 and box[0] >= min(x) - 5 and box[2] <= max(x) + 5]


def check_lanes(strip):
    bridges = [g for g in strip.others if len(list(strip.dots(g))) == 2]
    for one, other in combinations(bridges, 2):
        for a in uprights(one):
            for b in uprights(other):
                is_apart = a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]
                expect(is_apart, f"{strip.where}: {said(one)[:60]} runs over {said(other)[:60]}")


def check_strip(command, netlist, rows, name, terminals, where):
    svg, trace = command.picture(netlist, name)
    check_kind(svg, where)
    check_room(svg, where)
    strip = Strip(svg, where)
    check_terminals(strip, rows, terminals)
    left = check_landings(strip, rows, name, terminals)
    check_lanes(strip)
    return strip, left, trace


def is_foot(group):
    return ": PE joint " in said(group)


def check_marks(strip, left, where):
    for group in strip.terminals + strip.others:
        expect(group.get("class") in label(group), f"{where}: {said(group)[:80]} lacks the word {group.get('class')}")
    for group in left:
        expect(is_foot(group) or group.get("class") == "faulty", f"{where}: {said(group)[:80]} is not drawn there")


def stands(group, point, what, mark):
    return said(group).startswith(f"{point}: ") and what in said(group) and group.get("class") == mark


def check_panels(command):
    for panel in (QUICKSTART, GRAIN_DRYER):
        rows = Rows(panel)
        jobs = {kind: command.job(panel, panel / f"{kind}.csv") for kind in ("readings", "readings-good")}
        for name, terminals in rows.strips().items():
            where = f"{panel.name}, {name}"
            strip, left, trace = check_strip(command, panel, rows, name, terminals, f"{where} as drawn")
            expect(all(is_foot(g) for g in left) and not any(g.get("class") for g in strip.others), f"{where}: marked without readings")
            over = {c["point"] for c in command.json("trace", panel)["channels"]
                    if any(p.startswith(name + ":") for key in ("signal", "return", "common") for p in c[key]["points"])}
            expect({channel["point"] for channel in trace} == over, f"{where}: traces {trace}")
            strip, left, _ = check_strip(command, jobs["readings"], rows, name, terminals, where)
            check_marks(strip, left, where)
            if panel == GRAIN_DRYER:
                for point, what, mark in PLANTED.get(name, ()):
                    found = [g for g in strip.others if stands(g, point, what, mark)]
                    expect(len(found) == 1, f"{where}: {what} stands {len(found)} times at {point}")
                faulty = {g for g in strip.others if g.get("class") == "faulty"}
                expect(bool(faulty) == (name in PLANTED), f"{where}: {[said(g) for g in faulty]}")
                is_blown = [said(g) for g in strip.terminals if g.get("class") == "faulty"]
                expect(len(is_blown) == (name == "X2") and all("X2:2" in text for text in is_blown), f"{where}: {is_blown}")
                fields = [g for g in strip.others if g.get("class") == "absent"]
                expect(len(fields) == sum(1 for landing in rows.landings(name) if landing.far == "spare" or rows.places.get(
                    landing.far.partition(":")[0]) == "field"), f"{where}: {len(fields)} lead to field devices")
            strip, left, _ = check_strip(command, jobs["readings-good"], rows, name, terminals, f"{where}, good")
            bad = [said(g) for g in strip.terminals + strip.others if g.get("class") in ("faulty", "suspect")]
            expect(not bad and all(is_foot(g) for g in left), f"{where}: good readings leave {bad}")


def write(file, columns, rows):
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([columns, *rows])


def check_hostile(command):
    """Wire numbers, strips, devices, sheets and notes that are markup, endless, or turn the writing around."""
    for number, text in enumerate(HOSTILE):
        folder = command.work / f"hostile-{number}"
        folder.mkdir()
        name = text.replace(":", "")
        write(folder / "conductors.csv", ["wire", "from", "to", "kind", "sheet", "note"],
              [[f"{text}{i}", f"K{name}:{i}", f"X{name}:{i}.{side}", "wire", text, text]
               for i in range(1, 4) for side in ("int", "ext")]
              + [["", f"X{name}:{i}.int", f"X{name}:{j}.int", "bridge", text, text] for i, j in ((1, 2), (2, 3), (1, 3))])
        where = f"hostile text {number}"
        svg, _ = command.picture(folder, f"X{name}")
        check_kind(svg, where)
        check_room(svg, where)
        text, name = as_shown(text), as_shown(name)
        strip = Strip(svg, where)
        expect(len(strip.terminals) == 3 and len(strip.others) == 9, f"{where}: {len(strip.terminals)} rows, {len(strip.others)} landings")
        check_lanes(strip)
        heading = without_blanks("".join(t.text for t in svg.findall(SVG + "text")))
        expect(without_blanks(f"X{name}") in heading, f"{where}: the strip's name is not whole in the heading")
        for group in strip.others:
            expect(f"X{name}:" in said(group) and f"sheet {text}" in said(group), f"{where}: the title is not whole")
        wires = [said(g) for g in strip.others if "wire" in said(g)]
        expect(sum(f"wire {text}{i} to K{name}:{i}, " in title for i in range(1, 4) for title in wires) == 6, f"{where}: a wire's number is not whole")
        expect(not any(local(node) in ("script", "img") for node in svg.iter()), f"{where}: markup became markup")


def check_many_lanes(command):
    """Nested bridges each have a lane, and the picture grows."""
    folder = command.work / "lanes"
    folder.mkdir()
    pairs = [(i, 41 - i) for i in range(1, 20)] + [(i, i + 1) for i in range(1, 40)]
    write(folder / "conductors.csv", ["wire", "from", "to", "kind"], [["", f"X1:{i}.int", f"X1:{j}.int", "bridge"] for i, j in pairs])
    rows = Rows(folder)
    check_strip(command, folder, rows, "X1", rows.strips()["X1"], "lanes")


def check_landed_bridges(command):
    """What joins two sides, two strips or a terminal with itself is no bridge of the strip: it is a landing like others."""
    folder = command.work / "landed"
    folder.mkdir()
    write(folder / "conductors.csv", ["wire", "from", "to", "kind", "cable", "core"],
          [["B1", "X1:1.int", "X1:5.ext", "bridge", "", ""], ["B2", "X1:3.int", "X2:3.int", "busbar", "", ""],
           ["9", "X1:4.int", "X1:4.ext", "wire", "", ""], ["", "X1:2.ext", "-", "core", "W1", "2"]])
    rows = Rows(folder)
    for name, terminals in rows.strips().items():
        check_strip(command, folder, rows, name, terminals, f"landed bridges, {name}")
    write(folder / "conductors.csv", ["wire", "from", "to", "kind"], [["7", "X1:1.int", "X1:1.int", "wire"]])
    svg, _ = command.picture(folder, "X1")
    titles = [said(group) for group in Strip(svg, "a loop").others]
    expect(titles == ["X1:1.int: wire 7 to X1:1.int"], f"a wire with both ends on one clamp: {titles}")


def check_names(command):
    file = command.work / "named.svg"
    for typed in ("x3", "X3:5", "X3:5.int"):
        done = command.run("trace", GRAIN_DRYER, typed, "--svg", file, "--force")
        expect(done.returncode in (0, 1) and b"<title>Terminal strip X3</title>" in file.read_bytes(), f"{typed}: {done.stderr}")
    file.unlink()
    done = command.run("trace", GRAIN_DRYER, "X33", "--svg", file)
    expect(done.returncode == 2 and b"nearest: X13, X3" in done.stderr and not file.exists(), f"X33: {done.stderr}")
    for words in (["X3", "X4"], ["A1:0.0", "X3"]):
        done = command.run("trace", GRAIN_DRYER, *words, "--svg", file)
        expect(done.returncode == 2 and b'found "2 names"' in done.stderr and not file.exists(), f"{words}: {done.stderr}")
    done = command.run("trace", GRAIN_DRYER, "X3", "--svg", "")
    expect(done.returncode == 2 and b"--svg names no file" in done.stderr, f"a picture without a name: {done.returncode}, {done.stderr}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        command = Command(sys.argv[1], Path(folder))
        check_panels(command)
        check_hostile(command)
        check_many_lanes(command)
        check_landed_bridges(command)
        check_names(command)
    print("strip_check.py: strips are as the netlists have them")


if __name__ == "__main__":
    main()
