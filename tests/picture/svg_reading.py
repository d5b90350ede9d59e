"""What the checks of all pictures have in common: Python's own XML reader, boxes of texts and of what is drawn.

Texts are measured by the widths of DejaVu Sans, which is wider than most fonts.
"""

import json
import re
import subprocess
from pathlib import Path
from xml.etree import ElementTree

ROOT = Path(__file__).resolve().parent.parent.parent
GRAIN_DRYER = ROOT / "netlists" / "grain-dryer"
QUICKSTART = ROOT / "netlists" / "quickstart"
SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {"svg", "g", "title", "desc", "text", "path", "circle", "ellipse", "rect", "line"}
ATTRIBUTES = set(
    "version width height viewBox role font-family font-size font-weight text-anchor fill stroke stroke-width"
    " stroke-dasharray class d x y x1 y1 x2 y2 cx cy r rx ry".split()
)
MARKS = {"proven", "unproven", "suspect", "faulty", "absent"}
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
FOREIGN_WIDTH = 1100  # letters of Latin scripts, the ellipsis and U+FFFD, which are most of what the tests use
NO_WIDTH = set("\u0301\u0330")
HOSTILE = [
    "<script>alert(1)</script>",
    "\"double\" 'single' `back` &amp; &#60;",
    "]]><!-- --><![CDATA[",
    "\u202eback to front\u202c \u200f",
    "e\u0301a\u0330 combining",
    "T" * 4000,
    "</svg><svg onload='x()'>",
    "bell \x07 escape \x1b[31m delete \x7f",
]


def expect(condition, text):
    if not condition:
        raise SystemExit(text)


class Command:
    def __init__(self, binary, work):
        self.binary, self.work = Path(binary).resolve(), Path(work)

    def run(self, *words):
        return subprocess.run([self.binary, *words], capture_output=True)

    def json(self, *words):
        done = self.run(*words, "--json")
        expect(done.returncode in (0, 1), f"{words} ends with {done.returncode}: {done.stderr.decode()}")
        return json.loads(done.stdout)

    def job(self, netlist, readings):
        job = self.work / f"{netlist.name}-{readings.stem}.rtj"
        if not job.exists():
            made = self.run("job", "new", job, netlist, "--readings", readings)
            expect(made.returncode == 0, made.stderr.decode())
        return job

    def picture(self, netlist, *names):
        """The picture, and what trace --json says in the same call."""
        file = self.work / "picture.svg"
        file.unlink(missing_ok=True)
        trace = self.json("trace", netlist, *names, "--svg", file)["channels"]
        return ElementTree.parse(file).getroot(), trace


def local(node):
    return node.tag.removeprefix(SVG)


def texts(node):
    return list(node.iter(SVG + "text"))


def said(group):
    return group.findtext(SVG + "title")


def as_shown(text):
    """Marks of direction are named; what XML lacks is replaced."""
    text = re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f]", "\ufffd", text)
    return re.sub("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]", lambda mark: f"[U+{ord(mark.group()):04X}]", text)


def check_kind(svg, where):
    whole = "".join(svg.itertext())
    expect(as_shown(whole) == whole, f"{where}: holds marks that turn the direction of text")
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


def width_of(text):
    table = WIDTHS[text.get("font-weight")]
    units = [0 if c in NO_WIDTH else table[ord(c) - 32] if " " <= c <= "~" else FOREIGN_WIDTH for c in text.text or ""]
    return sum(units) * int(text.get("font-size")) / 1000


def box(text):
    size, width, base = int(text.get("font-size")), width_of(text), int(text.get("y"))
    left = int(text.get("x")) - width * {"start": 0, "middle": 0.5, "end": 1}[text.get("text-anchor")]
    return left, base - 0.76 * size, left + width, base + 0.24 * size


def path_boxes(data):
    """A box for each stroke of a path; a curve counts as the box of its ends, an arc with its radius around."""
    tokens = re.findall(r"[A-Za-z]|-?\d+", data)
    counts = {"M": 2, "L": 2, "H": 1, "V": 1, "Q": 4, "A": 7}
    at, x, y, verb = 0, 0, 0, None
    while at < len(tokens):
        if tokens[at].isalpha():
            verb, at = tokens[at], at + 1
        values = [int(token) for token in tokens[at : at + counts[verb.upper()]]]
        at += len(values)
        from_x, from_y = x, y
        base_x, base_y = (x, y) if verb.islower() else (0, 0)
        kind = verb.upper()
        if kind == "H":
            x = base_x + values[0]
        elif kind == "V":
            y = base_y + values[0]
        else:
            x, y = base_x + values[-2], base_y + values[-1]
        reach = values[0] if kind == "A" else 0
        if kind != "M":
            yield min(x, from_x) - reach, min(y, from_y) - reach, max(x, from_x) + reach, max(y, from_y) + reach


def shape_boxes(svg):
    """What is drawn, but for texts and for rectangles."""
    number = lambda node, name: int(node.get(name))
    for node in svg.iter():
        kind = local(node)
        if kind == "path":
            yield from path_boxes(node.get("d"))
        elif kind in ("circle", "ellipse"):
            rx, ry = (number(node, "r"),) * 2 if kind == "circle" else (number(node, "rx"), number(node, "ry"))
            x, y = number(node, "cx"), number(node, "cy")
            yield x - rx, y - ry, x + rx, y + ry
        elif kind == "line":
            yield number(node, "x1"), number(node, "y1"), number(node, "x2"), number(node, "y2")


def frames(node):
    for rect in node.iter(SVG + "rect"):
        x, y = int(rect.get("x")), int(rect.get("y"))
        yield x, y, x + int(rect.get("width")), y + int(rect.get("height"))


def apart(a, b):
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def inside(a, b):
    return b[0] <= a[0] and b[1] <= a[1] and a[2] <= b[2] and a[3] <= b[3]


def check_room(svg, where):
    """No text reaches out of the picture, into another, into a stroke, or through a frame."""
    boxes = sorted((box(text), text.text) for text in texts(svg))
    picture = (0, 0, int(svg.get("width")), int(svg.get("height")))
    shapes = sorted(shape_boxes(svg))
    rects = list(frames(svg))
    for i, (a, words) in enumerate(boxes):
        expect(inside(a, picture), f'{where}: "{words[:60]}" is cut off: {a} of {picture}')
        for b, other in boxes[i + 1 :]:
            if b[0] >= a[2]:
                break
            expect(apart(a, b), f'{where}: "{words[:60]}" and "{other[:60]}" overlap: {a}, {b}')
        for b in shapes:
            if b[0] >= a[2]:
                break
            expect(apart(a, b), f'{where}: "{words[:60]}" {a} is struck through by {b}')
        for b in rects:
            expect(apart(a, b) or inside(a, b), f'{where}: "{words[:60]}" {a} reaches through the frame {b}')


def without_blanks(text):
    return "".join(text.split())


def visible(group, weight=None):
    return without_blanks("".join(t.text for t in texts(group) if weight in (None, t.get("font-weight"))))


def check_shown(label, whole, where):
    """The label is the whole text, or its beginning before an ellipsis."""
    shown, whole = without_blanks(label), without_blanks(whole)
    is_cut = shown.endswith("\u2026") and len(shown) > 3 and whole.startswith(shown[:-1])
    expect(shown == whole or is_cut, f'{where}: "{shown[:80]}" where "{whole[:80]}" should stand')
