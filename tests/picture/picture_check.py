#!/usr/bin/env python3
"""Reads the pictures that `ringtrue trace --picture` draws with Python's XML parser, and holds them against --json.

For each channel of the demo panels and a small one, with their readings in a job and without:
- it is XML of SVG's own elements and presentation attributes: no style, script, link or other namespace;
- points and elements follow each other as `trace --json` has them, each element once, its name and sheet in the text;
- each element's class, and the word beside it, is what `compare --json` says of it; without readings there is none;
- no text reaches into another or out of the picture, by the widths of DejaVu Sans, which is wider than most fonts.
The same for a made-up panel whose names are long, foreign and full of markup.

Run: picture_check.py RINGTRUE
"""

import json
import subprocess
import sys
import tempfile
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

ROOT = Path(__file__).resolve().parent.parent.parent
SMALL = ROOT / "tests" / "golden" / "inputs" / "small"
PANELS = [ROOT / "netlists" / name for name in ("quickstart", "grain-dryer")]
SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {"svg", "g", "title", "desc", "text", "path", "circle", "ellipse", "rect", "line"}
ATTRIBUTES = set(
    "version width height viewBox role font-family font-size font-weight text-anchor fill stroke stroke-width"
    " stroke-dasharray class d x y x1 y1 x2 y2 cx cy r rx ry".split()
)
MARKS = {"proven", "unproven", "suspect", "faulty"}
NOUNS = {
    "contact-no": "contact",
    "contact-nc": "contact",
    "disconnect": "disconnect terminal",
    "plug": "plug contact",
}
# Advance widths of U+0020 to U+007E in thousandths of the font's size, from the tables of DejaVu Sans 2.37.
REGULAR = (
    "318 401 460 838 636 950 780 275 390 390 500 838 318 361 318 337 636 636 636 636 636 636 636 636 636 636 337 337 838"
    " 838 838 531 1000 684 686 698 770 632 575 775 752 295 295 656 557 863 748 787 603 787 695 635 611 732 684 989 685 611"
    " 685 390 337 390 838 500 500 613 635 550 635 615 352 635 634 278 278 579 278 974 634 612 635 635 411 521 392 634 592"
    " 818 592 592 525 636 337 636 838"
)
BOLD = (
    "348 456 521 838 696 1002 872 306 457 457 523 838 380 415 380 365 696 696 696 696 696 696 696 696 696 696 400 400 838"
    " 838 838 580 1000 774 762 734 830 683 683 821 837 372 372 775 637 995 837 850 733 850 770 720 682 812 774 1103 771 724"
    " 725 457 365 457 838 500 500 675 716 593 716 678 435 716 712 343 343 665 343 1042 712 687 716 716 493 595 478 712 652"
    " 924 645 652 582 712 365 712 838"
)
WIDTHS = {"normal": [int(w) for w in REGULAR.split()], "bold": [int(w) for w in BOLD.split()]}
FOREIGN_WIDTH = 1100  # letters of Latin scripts and U+FFFD, which are all that the tests use


def expect(condition, text):
    if not condition:
        raise SystemExit(f"picture_check.py: {text}")


class Command:
    def __init__(self, binary, work):
        self.binary, self.work = Path(binary).resolve(), work

    def run(self, *words):
        return subprocess.run([self.binary, *words], capture_output=True, timeout=120)

    def json(self, *words):
        done = self.run(*words, "--json")
        expect(done.returncode in (0, 1), f"{words} ends with {done.returncode}: {done.stderr.decode()}")
        return json.loads(done.stdout)

    def picture(self, netlist, channel):
        """The picture of a channel, and what trace --json says of it in the same call."""
        file = self.work / "picture.svg"
        file.unlink(missing_ok=True)
        trace = self.json("trace", netlist, channel, "--picture", file)["channels"]
        expect(len(trace) == 1, f"{channel} is {len(trace)} channels")
        return ElementTree.parse(file).getroot(), trace[0]


def local(node):
    return node.tag.removeprefix(SVG)


def texts(node):
    return list(node.iter(SVG + "text"))


def check_kind(svg, where):
    for node in svg.iter():
        expect(node.tag.startswith(SVG) and local(node) in ELEMENTS, f"{where}: element {node.tag}")
        strange = set(node.attrib) - ATTRIBUTES
        expect(not strange, f"{where}: attributes {strange} on {local(node)}")
        expect("class" not in node.attrib or node.get("class") in MARKS, f"{where}: class {node.get('class')}")
        for paint in (node.get("fill"), node.get("stroke")):
            expect(paint in (None, "none", "currentColor"), f"{where}: painted {paint}")
    size = f"0 0 {svg.get('width')} {svg.get('height')}"
    expect(svg.get("viewBox") == size and svg.get("role") == "img", f"{where}: frame {svg.attrib}")
    expect(svg.findtext(SVG + "title") and svg.findtext(SVG + "desc"), f"{where}: no title or description")


def box(text):
    size, words = int(text.get("font-size")), text.text or ""
    table = WIDTHS[text.get("font-weight")]
    width = sum(table[ord(c) - 32] if " " <= c <= "~" else FOREIGN_WIDTH for c in words) * size / 1000
    left = int(text.get("x")) - (width / 2 if text.get("text-anchor") == "middle" else 0)
    base = int(text.get("y"))
    return left, base - 0.76 * size, left + width, base + 0.24 * size


def check_room(svg, where):
    boxes = [(box(text), text.text) for text in texts(svg)]
    width, height = int(svg.get("width")), int(svg.get("height"))
    for (left, top, right, bottom), words in boxes:
        inside = left >= 0 and top >= 0 and right <= width and bottom <= height
        expect(inside, f"{where}: \"{words}\" is cut off: {left, top, right, bottom} of {width, height}")
    for (a, one), (b, other) in combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        expect(apart, f"{where}: \"{one}\" and \"{other}\" overlap: {a}, {b}")


def walk_of(svg):
    """The labelled groups in the order of the file; a point drawn again at the start of a row counts once."""
    groups = [g for g in svg.iter(SVG + "g") if g.find(SVG + "title") is not None]
    walk = []
    for group in groups:
        if not walk or group.findtext(SVG + "title") != walk[-1].findtext(SVG + "title"):
            walk.append(group)
    return walk


def without_blanks(text):
    return "".join(text.split())


def visible(group, weight=None):
    return without_blanks("".join(t.text for t in texts(group) if weight in (None, t.get("font-weight"))))


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
    job = command.work / f"{netlist.name}.rtj"
    made = command.run("job", "new", job, netlist, "--readings", readings)
    expect(made.returncode == 0, made.stderr.decode())
    verdicts, seen = Verdicts(command.json("compare", job)), set()
    for channel in command.json("trace", netlist)["channels"]:
        where = f"{netlist.name}, {channel['point']}"
        svg, trace = command.picture(job, channel["point"])
        check_kind(svg, where)
        check_room(svg, where)
        for element, group in check_walk(svg, trace, where):
            mark = verdicts.mark(channel, element)
            seen.add(mark)
            expect(group.get("class") == mark, f"{where}: {element['name']} is {group.get('class')}, compare says {mark}")
            expect(mark in [t.text for t in texts(group)], f"{where}: {element['name']} lacks the word {mark}")
        plain, trace = command.picture(netlist, channel["point"])
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
    svg, trace = command.picture(folder, "A1:0.0")
    check_kind(svg, "awkward")
    check_room(svg, "awkward")
    check_walk(svg, trace, "awkward")
    shown = without_blanks("".join(t.text for t in texts(svg)))
    for name, text in AWKWARD.items():
        expect(without_blanks(text) in shown, f"awkward: the {name} is not shown whole")
    expect(AWKWARD["tag"] in svg.findtext(SVG + "title"), "awkward: the tag is not in the title")


def check_calls(command):
    quickstart, file = PANELS[0], command.work / "kept.svg"
    for words in ([], ["HOPPER_FULL", "START_AUGER"]):
        done = command.run("trace", quickstart, *words, "--picture", file)
        expect(done.returncode == 2 and b"a picture shows one channel" in done.stderr, f"{words}: {done.stderr}")
        expect(not done.stdout and not file.exists(), f"{words}: something was written")
    file.write_text("mine")
    done = command.run("trace", quickstart, "HOPPER_FULL", "--picture", file)
    expect(done.returncode == 2 and file.read_text() == "mine", "what stood there is gone")
    done = command.run("trace", quickstart, "HOPPER_FULL", "--picture", file, "--force")
    expect(done.returncode in (0, 1) and file.read_text().startswith("<svg "), "--force does not replace")
    expect(not list(command.work.glob(".ringtrue-*")), "a temporary folder is left")


def main():
    with tempfile.TemporaryDirectory() as folder:
        command = Command(sys.argv[1], Path(folder))
        seen = [check_panel(command, panel, panel / "readings.csv") for panel in PANELS] + [check_suspects(command)]
        expect(set().union(*seen) == MARKS, f"the panels show only {seen}")
        check_awkward(command)
        check_calls(command)
    print("picture_check.py: pictures are as trace and compare have it")


if __name__ == "__main__":
    main()
