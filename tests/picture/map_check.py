#!/usr/bin/env python3
"""Checks the map of a panel (`trace --svg FILE`) against the points of the netlist.

Both demo panels, with readings and without, a panel whose every name is hostile, and one too large for cells:
- each point has one cell, with its pin, in the block of its part, under the heading of its part's place;
- blocks with the worst marks come first; a block's mark is the worst of its cells; the legend counts the cells in words;
- what the planted faults touch is faulty; field devices are not checkable here; good readings leave nothing faulty;
- no text reaches into another, into what is drawn, or out of the picture.

Run: map_check.py RINGTRUE
"""

import csv
import sys
import tempfile
from collections import Counter
from pathlib import Path

from netlist_rows import Rows, natural, without_side
from svg_reading import GRAIN_DRYER, HOSTILE, QUICKSTART, SVG, Command
from svg_reading import apart, as_shown, check_kind, check_room, check_shown, expect, frames, inside, said, texts

WORST_FIRST = ["faulty", "suspect", "unproven", "proven", "absent", None]
HEADINGS = {"In the panel": "panel", "On the door": "door", "In the field": "field"}
PLANTED = {"F1:96", "K1:A1", "X2:2.int", "X2:2.ext", "A3:2.6", "X4:2.int", "X4:3.int", "A7:0+", "X5:19.int", "X5:23.int",
           "X3:8.int", "X3:9.int", "A1:0.7", "A2:1.7", "X8:14.int", "X8:15.int", "X7:1.int", "X7:2.int", "X3:3.int", "X5:13.int",
           "A3:2.2", "A3:2.3", "K3:21", "K3:22", "K5:A1", "K5:A2"}  # fmt: skip


def mark_of(group):
    return group.get("class")


def label_of(group):
    return group.find(SVG + "text").text


class Map:
    def __init__(self, svg, where):
        self.where, self.svg = where, svg
        self.blocks = [g for g in svg.findall(SVG + "g") if g.find(SVG + "title") is not None]
        self.heads = [(int(t.get("y")), HEADINGS[t.text]) for t in svg.findall(SVG + "text") if t.text in HEADINGS]

    def cells(self, block):
        return [g for g in block.findall(SVG + "g") if g.find(SVG + "title") is not None]

    def all_cells(self):
        return [cell for block in self.blocks for cell in self.cells(block)]

    def place(self, block):
        top = int(block.find(SVG + "rect").get("y"))
        return [place for y, place in self.heads if y < top][-1]

    def point(self, cell):
        return said(cell).split(", ")[0]


def check_points(drawn, rows):
    cells = Counter(drawn.point(cell) for cell in drawn.all_cells())
    points = rows.points()
    expect(set(cells) == points, f"{drawn.where}: {set(cells) ^ points}")
    expect(max(cells.values()) == 1, f"{drawn.where}: drawn twice: {cells.most_common(1)}")
    for block in drawn.blocks:
        part = said(block).split(": ")[0]
        check_shown(label_of(block), part, drawn.where)
        expect(drawn.place(block) == rows.places.get(part, "panel"), f"{drawn.where}: {part} is {drawn.place(block)}")
        for cell in drawn.cells(block):
            name, _, pin = without_side(drawn.point(cell)).rpartition(":")
            expect((name or pin) == part, f"{drawn.where}: {drawn.point(cell)} in {part}")
            check_shown(label_of(cell), pin, drawn.where)


def check_blocks_apart(drawn):
    boxes = sorted(next(frames(block)) for block in drawn.blocks)
    for i, a in enumerate(boxes):
        for b in boxes[i + 1 :]:
            expect(apart(a, b), f"{drawn.where}: blocks at {a} and {b} overlap")
    for block in drawn.blocks:
        outer, *inner = frames(block)
        expect(all(inside(box, outer) for box in inner), f"{drawn.where}: {said(block)} is too small for its cells")


def check_order(drawn, rows):
    keys = []
    for block in drawn.blocks:
        marks = [mark_of(cell) for cell in drawn.cells(block)]
        worst = min(map(WORST_FIRST.index, marks))
        expect(mark_of(block) == WORST_FIRST[worst], f"{drawn.where}: {said(block)} is {mark_of(block)}")
        keys.append((list(HEADINGS.values()).index(drawn.place(block)), worst, natural(said(block).split(": ")[0])))
    expect(keys == sorted(keys), f"{drawn.where}: blocks out of order")


def check_legend(drawn, counts):
    lines = [t.text for t in drawn.svg.findall(SVG + "text")]
    told = [next((line for line in lines if line.startswith(f"{counts[mark]} {mark or 'blank'}: ")), None)
            for mark in WORST_FIRST if counts[mark]]
    expect(None not in told, f"{drawn.where}: the legend lacks some of {counts}")
    expect([lines.index(line) for line in told] == sorted(lines.index(line) for line in told), f"{drawn.where}: legend out of order")


def check_map(command, netlist, rows, where):
    svg, _ = command.picture(netlist)
    check_kind(svg, where)
    check_room(svg, where)
    drawn = Map(svg, where)
    check_points(drawn, rows)
    check_blocks_apart(drawn)
    check_order(drawn, rows)
    return drawn


def check_panels(command):
    for panel in (QUICKSTART, GRAIN_DRYER):
        rows = Rows(panel)
        plain = check_map(command, panel, rows, f"{panel.name} as drawn")
        expect(not any(mark_of(cell) for cell in plain.all_cells()), f"{panel.name}: marked without readings")
        for readings in ("readings", "readings-good"):
            drawn = check_map(command, command.job(panel, panel / f"{readings}.csv"), rows, f"{panel.name}, {readings}")
            marks = {drawn.point(cell): mark_of(cell) for cell in drawn.all_cells()}
            check_legend(drawn, Counter(marks.values()))
            for cell in drawn.all_cells():
                words = {"absent": "absent: not checkable here", None: "nothing is drawn here"}.get(mark_of(cell), mark_of(cell))
                expect(words in said(cell), f"{drawn.where}: {said(cell)} does not say {words}")
            faulty = {point for point, mark in marks.items() if mark == "faulty"}
            if readings == "readings-good":
                expect(not faulty and "suspect" not in marks.values(), f"{drawn.where}: {faulty}")
            elif panel == GRAIN_DRYER:
                expect(faulty >= PLANTED, f"{drawn.where}: {PLANTED - faulty} are not faulty")
                # Of a wrong landing two clamps of one net are as likely.
                expect({without_side(p) for p in faulty - PLANTED} <= {without_side(p) for p in PLANTED} | {"A7:2+", "A3:2.7"},
                       f"{drawn.where}: {faulty - PLANTED} are faulty")
            field = {point for point in marks if rows.places.get(point.partition(":")[0]) == "field"}
            expect({point for point, mark in marks.items() if mark == "absent"} == field, f"{drawn.where}: absent")


def write(file, columns, rows):
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out).writerows([columns, *rows])


def check_hostile(command):
    folder = command.work / "hostile"
    folder.mkdir()
    names = [text.replace(":", "") for text in HOSTILE]
    write(folder / "conductors.csv", ["wire", "from", "to", "kind"],
          [[text, f"K{name}:{name}", f"X{name}:{name}.int", "wire"] for text, name in zip(HOSTILE, names)])
    write(folder / "parts.csv", ["part", "kind", "a", "b", "place", "note"],
          [[f"K{name}", "coil", name, "A2", place, name] for name, place in zip(names, ("panel", "door", "field") * 3)])
    where = "hostile names"
    svg, _ = command.picture(folder)
    check_kind(svg, where)
    check_room(svg, where)
    drawn = Map(svg, where)
    check_blocks_apart(drawn)
    titles = {said(cell) for cell in drawn.all_cells()}
    for name in map(as_shown, names):
        for point in (f"K{name}:{name}", f"K{name}:A2", f"X{name}:{name}.int", f"X{name}:{name}.ext"):
            expect(point in titles, f"{where}: no cell says {point[:80]}")


def check_large(command):
    """Beyond 2,000 points there are counts, no cells: all of them in small, by block and in sum."""
    folder = command.work / "large"
    folder.mkdir()
    write(folder / "conductors.csv", ["wire", "from", "to", "kind"],
          [[str(i), f"K{i // 8}:{i % 8}", f"X{i // 50}:{i % 50}.int", "wire"] for i in range(2000)]
          + [[f"F{i}", f"X99:{i}.ext", f"M{i // 2000}:{i}", "wire"] for i in range(3000)])
    write(folder / "parts.csv", ["part", "kind", "a", "b", "place"], [[f"M{i}", "motor", "1", "2", "field"] for i in range(2)])
    readings = command.work / "one.csv"
    readings.write_text("from,to,value\nK0:0,X0:0.int,beep\nK1:0,X0:8.int,open\nX99:0.int,X99:0.ext,beep\nX99:1.int,X99:1.ext,open\n")
    svg, _ = command.picture(command.job(folder, readings))
    where = "large"
    check_kind(svg, where)
    check_room(svg, where)
    drawn = Map(svg, where)
    expect(len(drawn.blocks) == 250 + 40 + 3 and not drawn.all_cells(), f"{where}: {len(drawn.blocks)} blocks")
    check_blocks_apart(drawn)
    sums = Counter()
    for block in drawn.blocks:
        counts = {word: int(count) for count, word in (part.split() for part in said(block).split(": ")[1].split(", "))}
        shown = [int(text.text) for text in texts(block)[1:]]
        expect(shown == [counts[mark] for mark in WORST_FIRST if counts.get(mark)], f"{where}: {said(block)} shows {shown}")
        sums.update(counts)
    expect(sums["faulty"] >= 2 and sums["proven"] >= 1 and sum(sums.values()) == 2000 * 3 + 3000 * 3 + 2, f"{where}: {sums}")
    check_legend(drawn, sums)


def main():
    with tempfile.TemporaryDirectory() as folder:
        command = Command(sys.argv[1], Path(folder))
        check_panels(command)
        check_hostile(command)
        check_large(command)
    print("map_check.py: maps are as the netlists have it")


if __name__ == "__main__":
    main()
