#!/usr/bin/env python3
"""Prints records by Chromium on A4 and Letter, and reads the sheets back by poppler: every word of the page is on paper, between the
margins at the left and right, and no sheet is without the panel, its revision, the hash of the readings and its number.

    record_paper.py --ringtrue BINARY [--keep FOLDER]
"""

import argparse
import re
import subprocess
import sys
import tempfile
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests" / "cli"))
from record_check import Records, good_readings, hostile_job  # noqa: E402

DRYER = ROOT / "netlists" / "grain-dryer"
MARGIN = 12 / 25.4 * 72  # points, of the sheet's 12 mm
FOOT = 14 / 25.4 * 72
PLAIN = ("GD1",)  # panels whose name stands in the margin as it is
LONGEST = 16  # characters of a word that is never broken


def expect(condition, text):
    if not condition:
        raise SystemExit(f"record_paper.py: {text}")


class Words(HTMLParser):
    """What a reader sees of a page, without titles that only a pointer shows."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.text, self.hidden = [], 0
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.hidden += tag in ("style", "title", "desc")
        self.text.append(" ")

    def handle_endtag(self, tag):
        self.hidden -= tag in ("style", "title", "desc")
        self.text.append(" ")

    def handle_data(self, data):
        if not self.hidden:
            self.text.append(data)


def words_of(text):
    """Words that paper shows whole: long ones may be broken anywhere, others behind a hyphen."""
    return Counter(word for word in re.split(r"[\s-]+", text) if word and len(word) <= LONGEST and word.isascii() and word.isprintable())


def print_page(page, paper, out):
    """Prints as somebody does who has that paper in the printer."""
    styled = out.with_suffix(".html")
    text = page.read_text(encoding="utf-8")
    expect(text.count("size: landscape;") == 1, "the page doesn't ask for landscape paper")
    styled.write_text(text.replace("size: landscape;", f"size: {paper} landscape;"), encoding="utf-8")
    subprocess.run(["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--print-to-pdf={out}",
                    styled.resolve().as_uri()], capture_output=True, check=True)


def read_back(pdf):
    """By sheet: its size, and its words with their boxes."""
    out = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, text=True, check=True).stdout
    sheets = []
    for page in re.findall(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', out, re.S):
        words = re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page[2], re.S)
        sheets.append((float(page[0]), float(page[1]), [(*map(float, word[:4]), word[4]) for word in words]))
    return sheets


def check_paper(page, paper, record, out):
    print_page(page, paper, out)
    sheets = read_back(out)
    expect(len(sheets) > 1, f"{paper}: {len(sheets)} sheets")
    width, height = {"A4": (842, 595), "letter": (792, 612)}[paper]
    for number, (wide, high, words) in enumerate(sheets, 1):
        expect(abs(wide - width) < 2 and abs(high - height) < 2, f"{paper}, sheet {number}: {wide} x {high} points")
        for left, top, right, bottom, word in words:
            expect(MARGIN - 1.5 < left and right < width - MARGIN + 1.5 and 0 < top and bottom < height,
                   f"{paper}, sheet {number}: {word!r} stands at {left:.0f} to {right:.0f}, {top:.0f} to {bottom:.0f}, out of {width} x {height}")
        foot = " ".join(word for _, top, _, _, word in words if top > height - FOOT)
        named = record["readings_sha256"] in foot and (record["panel"] not in PLAIN or f"Panel {record['panel']}, revision" in foot)
        expect(f"Page {number} of {len(sheets)}" in foot and named, f"{paper}, sheet {number} ends with {foot!r}")
    plain = subprocess.run(["pdftotext", "-raw", out, "-"], capture_output=True, text=True, check=True).stdout
    missing = words_of("".join(Words(page.read_text(encoding="utf-8")).text)) - words_of(plain)
    expect(not missing, f"{paper}: not on paper: {list(missing.items())[:10]}")
    return len(sheets)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    parser.add_argument("--keep", type=Path, help="folder to leave the PDF files in")
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        records = Records(wanted.ringtrue.resolve(), work)
        dryer = work / "dryer.rtj"
        made = records.run("job", "new", dryer, DRYER, "--readings", DRYER / "readings.csv", "--meter", DRYER / "meters.csv")
        expect(made.returncode == 0, made.stderr)
        keep = wanted.keep or work
        keep.mkdir(exist_ok=True)
        for job, status in ((dryer, 1), (records.job("good", good_readings()), 0), (hostile_job(records), 1)):
            out, record = records.record(job, status)
            for paper in ("A4", "letter"):
                count = check_paper(out / "record.html", paper, record, keep / f"{job.stem}-{paper}.pdf")
                print(f"record_paper.py: {job.stem} on {paper}: {count} sheets")


if __name__ == "__main__":
    main()
