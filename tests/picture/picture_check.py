#!/usr/bin/env python3
"""Reads the pictures that `ringtrue trace --svg` draws with Python's XML parser, and holds them against --json.

For each channel of the demo panels and a small one, with their readings in a job and without:
- it is XML of SVG's own elements and presentation attributes: no style, script, link or other namespace;
- points and elements follow each other as `trace --json` has them, each element once, its name and sheet in the text;
- each element's class, and the word beside it, is what `compare --json` says of it; without readings there is none;
- no text reaches into another or out of the picture, by the widths of DejaVu Sans, which is wider than most fonts.
The same for a made-up panel whose names are long, foreign and full of markup.

Run: picture_check.py RINGTRUE
"""

import sys
import tempfile
from pathlib import Path

from svg_reading import GRAIN_DRYER, QUICKSTART, ROOT, SVG, Command, check_kind, check_room, expect, texts, visible, without_blanks

SMALL = ROOT / "tests" / "golden" / "inputs" / "small"
PANELS = [QUICKSTART, GRAIN_DRYER]
MARKS = {"proven", "unproven", "suspect", "faulty"}
NOUNS = {
    "contact-no": "contact",
    "contact-nc": "contact",
    "disconnect": "disconnect terminal",
    "plug": "plug contact",
}


def path_of(command, netlist, channel):
    svg, trace = command.picture(netlist, channel)
    expect(len(trace) == 1, f"{channel} is {len(trace)} channels")
    return svg, trace[0]


def walk_of(svg):
    """The labelled groups in the order of the file; a point drawn again at the start of a row counts once."""
    groups = [g for g in svg.iter(SVG + "g") if g.find(SVG + "title") is not None]
    walk = []
    for group in groups:
        if not walk or group.findtext(SVG + "title") != walk[-1].findtext(SVG + "title"):
            walk.append(group)
    return walk


def check_walk(svg, trace, where):
    """Gives the group of each element of the trace."""
    groups, drawn = iter(walk_of(svg)), []
    paths = [trace[key] for key in ("signal", "return", "common")]
    for path in paths:
        for number, point in enumerate(path["points"]):
            group = next(groups, None)
            expect(group is not None and visible(group).startswith(without_blanks(point)), f"{where}: no point {point}")
            if number == len(path["elements"]):
                break
            element, group = path["elements"][number], next(groups)
            noun = f"{NOUNS.get(element['kind'], element['kind'])} {element['name']}"
            said = group.findtext(SVG + "title")
            expect(said.startswith(noun), f"{where}: \"{said}\" where {noun} is drawn")
            shown = visible(group)
            expect(shown.startswith(without_blanks(noun)), f"{where}: {shown} does not show {noun}")
            sheet = without_blanks("sheet " + element["sheet"]) if element["sheet"] else ""
            expect(sheet in shown, f"{where}: {noun} without its sheet")
            drawn.append((element, group))
        if path["verdict"] in ("stops", "no-field-terminal"):
            expect("gap" in next(groups).findtext(SVG + "title"), f"{where}: a path stops without a gap")
            next(groups)
    expect(next(groups, None) is None, f"{where}: more is drawn than traced")
    return drawn


class Verdicts:
    """What `compare --json` says of an element, known by its ends and, for a conductor, its number."""

    def __init__(self, compared):
        self.unproven = {(channel["point"], name) for channel in compared["channels"] for name in channel["unproven_elements"]}
        self.faulty, self.suspect = set(), set()
        for finding in compared["findings"]:
            (self.faulty if finding["rank"] == 1 else self.suspect).update(self.touched(finding["faults"]))
            for equivalent in finding["equivalent"]:
                self.suspect.update(self.touched(equivalent["faults"]))

    @staticmethod
    def touched(faults):
        return {frozenset((row["from"], row["to"])) for fault in faults for row in fault["rows"]}

    def mark(self, channel, element):
        ends = frozenset((element["from"], element["to"]))
        if ends in self.faulty:
            return "faulty"
        if (channel["point"], element["name"]) not in self.unproven:
            return "proven"
        return "suspect" if ends in self.suspect else "unproven"


def check_panel(command, netlist, readings):
    job = command.job(netlist, readings)
    verdicts, seen = Verdicts(command.json("compare", job)), set()
    for channel in command.json("trace", netlist)["channels"]:
        where = f"{netlist.name}, {channel['point']}"
        svg, trace = path_of(command, job, channel["point"])
        check_kind(svg, where)
        check_room(svg, where)
        for element, group in check_walk(svg, trace, where):
            mark = verdicts.mark(channel, element)
            seen.add(mark)
            expect(group.get("class") == mark, f"{where}: {element['name']} is {group.get('class')}, compare says {mark}")
            expect(mark in [t.text for t in texts(group)], f"{where}: {element['name']} lacks the word {mark}")
        plain, trace = path_of(command, netlist, channel["point"])
        check_kind(plain, where)
        check_room(plain, where)
        check_walk(plain, trace, where)
        expect(not any("class" in node.attrib for node in plain.iter()), f"{where}: marked without readings")
    return seen


def check_suspects(command):
    """A path that stops, and readings with several explanations."""
    readings = command.work / "two_open.csv"
    readings.write_text("from,to,value\nA1:0.0,X1:3.ext,open\nG1:+,X1:2.ext,open\nA1:0.1,X1:4.ext,beep\n")
    return check_panel(command, SMALL, readings)


AWKWARD = {
    "tag": '<script>alert("1")</script>&amp;]]>\'',
    "text": "A text as long as it comes, " * 12 + "ÄÖÜ ß ě Ł",
    "wire": "W" * 70,
    "sheet": "<b onload='x'>" + "M@%" * 20,
    "strip": "TERMINAL-STRIP_OF_THE_WEST_WING/CABINET-NO-12345678901234567890",
}


def check_awkward(command):
    """Names that are markup stay text, and long ones wrap."""
    folder = command.work / "awkward"
    folder.mkdir()
    (folder / "conductors.csv").write_text(
        f'wire,from,to,kind,sheet\n{AWKWARD["wire"]},A1:0.0,{AWKWARD["strip"]}:1.int,wire,"{AWKWARD["sheet"]}"\n', encoding="utf-8"
    )
    quoted = AWKWARD["tag"].replace('"', '""')
    (folder / "channels.csv").write_text(
        f'point,type,tag,text,field\nA1:0.0,DI,"{quoted}","{AWKWARD["text"]}",{AWKWARD["strip"]}:1.ext\n', encoding="utf-8"
    )
    svg, trace = path_of(command, folder, "A1:0.0")
    check_kind(svg, "awkward")
    check_room(svg, "awkward")
    check_walk(svg, trace, "awkward")
    shown = without_blanks("".join(t.text for t in texts(svg)))
    for name, text in AWKWARD.items():
        expect(without_blanks(text) in shown, f"awkward: the {name} is not shown whole")
    expect(AWKWARD["tag"] in svg.findtext(SVG + "title"), "awkward: the tag is not in the title")


def check_calls(command):
    quickstart, file = PANELS[0], command.work / "kept.svg"
    for words in (["HOPPER_FULL", "START_AUGER"],):
        done = command.run("trace", quickstart, *words, "--svg", file)
        expect(done.returncode == 2 and b"a picture shows one channel, one strip or the whole panel" in done.stderr, f"{words}: {done.stderr}")
        expect(not done.stdout and not file.exists(), f"{words}: something was written")
    file.write_text("mine")
    done = command.run("trace", quickstart, "HOPPER_FULL", "--svg", file)
    expect(done.returncode == 2 and file.read_text() == "mine", "what stood there is gone")
    done = command.run("trace", quickstart, "HOPPER_FULL", "--svg", file, "--force")
    expect(done.returncode in (0, 1) and file.read_text().startswith("<svg "), "--force does not replace")
    expect(not list(command.work.glob(".ringtrue-*")), "a temporary folder is left")


def check_readme(command):
    """The pictures of README.md are those that the command draws."""
    shown = (ROOT / "README.md").read_text(encoding="utf-8")
    for panel, names, kept in (
        (GRAIN_DRYER, ["X3"], "strip_x3"),
        (GRAIN_DRYER, ["HATCH_CLOSED"], "path_hatch_closed"),
        (QUICKSTART, [], "map_quickstart"),
    ):
        kept = f"tests/golden/pictures/{kept}.svg"
        command.picture(command.job(panel, panel / "readings.csv"), *names)
        drawn = (command.work / "picture.svg").read_bytes()
        expect(drawn == (ROOT / kept).read_bytes(), f"{kept} is not what trace {names} --svg draws")
        expect(f"({kept})" in shown, f"README.md does not show {kept}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        command = Command(sys.argv[1], Path(folder))
        seen = [check_panel(command, panel, panel / "readings.csv") for panel in PANELS] + [check_suspects(command)]
        expect(set().union(*seen) == MARKS, f"the panels show only {seen}")
        check_awkward(command)
        check_calls(command)
        check_readme(command)
    print("picture_check.py: pictures are as trace and compare have it")


if __name__ == "__main__":
    main()
