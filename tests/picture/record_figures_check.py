#!/usr/bin/env python3
"""Checks the figures of record.html: the map first, then each strip, then each channel's path.

Each has a caption and is an SVG of its own that fits the page; nothing has an id that could stand there twice. Parts of a
map or strip together hold each point and landing once. Whatever a hostile job is named, it stays text.

Of more than 200 channels only faulty ones are drawn, and the page says so.

Run: record_figures_check.py RINGTRUE
"""

import csv
import re
import sys
import tempfile
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

from netlist_rows import Rows
from svg_reading import GRAIN_DRYER, HOSTILE, QUICKSTART, SVG, Command, as_shown, check_kind, check_room, expect, said

PAGE = (1000, 645)


class Elements(HTMLParser):
    """Ids and addresses of the whole file, and its elements."""

    def __init__(self, html):
        super().__init__()
        self.names, self.ids, self.addresses = Counter(), [], []
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        self.names[tag] += 1
        values = dict(attributes)
        self.ids += [values["id"]] if "id" in values else []
        self.addresses += [values[name] for name in ("src", "href", "xlink:href") if name in values]


def page_of(command, job):
    folder = command.work / f"{job.stem}-record"
    done = command.run("record", job, folder)
    expect(done.returncode in (0, 1), done.stderr.decode())
    return (folder / "record.html").read_text(encoding="utf-8")


def figures_of(command, job):
    html = page_of(command, job)
    found = re.findall(r"<figure>\n<figcaption>(.*?)</figcaption>\n(<svg .*?\n</svg>\n)</figure>", html, re.DOTALL)
    expect(len(found) == html.count("<figure>"), "a figure without caption and picture")
    elements = Elements(html)
    expect(not elements.ids and not elements.addresses, f"ids {elements.ids}, addresses {elements.addresses}")
    expect(not {"script", "img", "iframe", "object", "foreignobject"} & set(elements.names), f"{elements.names}")
    return [(caption, ElementTree.fromstring(svg)) for caption, svg in found]


def check_panel(command, panel):
    rows = Rows(panel)
    figures = figures_of(command, command.job(panel, panel / "readings.csv"))
    subjects = [re.sub(r", part .*", "", caption) for caption, _ in figures]
    wanted = ["Map of the panel"] + [f"Terminal strip {name}" for name in rows.strips()]
    wanted += [f"Path of channel {row['point']}, {row['tag']}" for row in rows.channels]
    expect(list(dict.fromkeys(subjects)) == wanted, f"{panel.name}: {subjects}")
    cells, landings = Counter(), Counter()
    for caption, svg in figures:
        check_kind(svg, caption)
        check_room(svg, caption)
        width, height = int(svg.get("width")), int(svg.get("height"))
        expect(width <= PAGE[0] and (caption.startswith("Path") or height <= PAGE[1]), f"{caption} is {width} by {height}")
        groups = [g for g in svg.iter(SVG + "g") if g.find(SVG + "title") is not None]
        if caption.startswith("Map"):
            cells.update(said(cell).split(", ")[0] for block in svg.findall(SVG + "g") for cell in block.findall(SVG + "g")
                         if cell.find(SVG + "title") is not None)
        elif caption.startswith("Terminal"):
            landings.update(said(g) for g in groups if g.find(SVG + "rect") is None and ": wire " in said(g) and "lands here" not in said(g))
    expect(set(cells) == rows.points() and max(cells.values()) == 1, f"{panel.name}: the maps hold other points")
    wires = sum(1 for name in rows.strips() for landing in rows.landings(name) if landing.noun.startswith("wire"))
    expect(max(landings.values()) == 1 and sum(landings.values()) == wires, f"{panel.name}: {sum(landings.values())} landings of wires, not {wires}")


def check_hostile(command):
    folder = command.work / "hostile"
    folder.mkdir()

    def write(name, columns, lines):
        with (folder / name).open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([columns, *lines])

    names = [text.replace(":", "") for text in HOSTILE]
    write("conductors.csv", ["wire", "from", "to", "kind", "sheet"],
          [[text, f"A{name}:0", f"X{name}:1.int", "wire", text] for text, name in zip(HOSTILE, names)])
    write("channels.csv", ["point", "type", "tag", "text", "field"],
          [[f"A{name}:0", "DI", text, text, f"X{name}:1.ext"] for text, name in zip(HOSTILE, names)])
    write("panel.csv", ["key", "value"], [["panel", HOSTILE[0]], ["revision", HOSTILE[3]]])
    readings = command.work / "none.csv"
    readings.write_text("from,to,value\n")
    figures = figures_of(command, command.job(folder, readings))
    expect(len({svg.findtext(SVG + "title") for _, svg in figures}) == len(figures), "two pictures of one title")
    for caption, svg in figures:
        check_kind(svg, caption[:80])
        check_room(svg, caption[:80])
    said_whole = " ".join(svg.findtext(SVG + "title") for _, svg in figures)
    for text in HOSTILE:
        expect(as_shown(text) in said_whole, f"{text[:40]} is not whole in any title")


def check_many_channels(command):
    readings = command.work / "two.csv"
    readings.write_text("from,to,value\nA1:7,X1:7.int,open\nA1:8,X1:8.int,beep\n")
    for count in (200, 201):
        folder = command.work / f"channels-{count}"
        folder.mkdir()
        rows = [f"{i},A1:{i},X1:{i}.int,wire" for i in range(count)]
        (folder / "conductors.csv").write_text("\n".join(["wire,from,to,kind", *rows]))
        rows = [f"A1:{i},DI,X1:{i}.ext" for i in range(count)]
        (folder / "channels.csv").write_text("\n".join(["point,type,field", *rows]))
        html = page_of(command, command.job(folder, readings))
        paths = re.findall(r"<figcaption>Path of channel (A1:\d+)</figcaption>", html)
        is_said = "Of 201 channels the paths of 1 are drawn: where there are more than 200, only faulty ones are" in html
        if count == 200:
            expect(paths == [f"A1:{i}" for i in range(200)] and "are drawn: where" not in html, f"200 channels: {len(paths)} paths")
        else:
            expect(paths == ["A1:7"] and is_said, f"201 channels: paths of {paths}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        command = Command(sys.argv[1], Path(folder))
        for panel in (QUICKSTART, GRAIN_DRYER):
            check_panel(command, panel)
        check_hostile(command)
        check_many_channels(command)
    print("record_figures_check.py: the record's figures are as the netlists have it")


if __name__ == "__main__":
    main()
