#!/usr/bin/env python3
"""Damages jobs page by page and looks that `job export` gives every row that isn't lost, as it was, and says what is.

    damage_check.py --ringtrue BINARY [--seed N]

Which rows a page holds is read from its bytes as SQLite's file format has them, and from SQLite's own dbstat.
"""

import argparse
import csv
import random
import re
import sqlite3
import subprocess
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
QUICKSTART = ROOT / "netlists" / "quickstart"
PAGE = 4096
ROWS = 2500
TURNS = 25


def expect(condition, text):
    if not condition:
        raise SystemExit(f"damage_check.py: {text}")


def varint(data, at):
    value = 0
    for count in range(9):
        byte = data[at + count]
        if count == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + count + 1
    raise AssertionError


def numbers_on(leaf):
    """The row numbers on a leaf page of a table."""
    expect(leaf[0] == 0x0D, "the page is no leaf of a table")
    numbers = set()
    for cell in range(int.from_bytes(leaf[3:5], "big")):
        _, at = varint(leaf, int.from_bytes(leaf[8 + 2 * cell : 10 + 2 * cell], "big"))
        numbers.add(varint(leaf, at)[0])
    return numbers


class Damages:
    def __init__(self, arguments, work):
        self.ringtrue, self.random, self.work = arguments.ringtrue.resolve(), random.Random(arguments.seed), work
        self.turn = 0
        self.job = work / "whole.rtj"
        self.make()
        self.bytes = self.job.read_bytes()
        with sqlite3.connect(self.job) as connection:
            self.pages = connection.execute("SELECT pageno, name, pagetype FROM dbstat").fetchall()
        connection.close()
        self.export(self.job, self.work / "whole")
        self.rows = self.readings(self.work / "whole")
        self.number = {row[10]: number for number, row in enumerate(self.rows, 1)}
        expect(len(self.rows) == ROWS + 300, "the whole job isn't exported whole")

    def run(self, *words):
        return subprocess.run([self.ringtrue, *words], capture_output=True, text=True)

    def export(self, job, out):
        done = self.run("job", "export", job, out)
        expect(done.returncode in (0, 2), f"export ends with {done.returncode}: {done.stderr}")
        return done

    def make(self):
        source = self.work / "readings.csv"
        with open(source, "w", newline="", encoding="utf-8") as file:
            out = csv.writer(file)
            out.writerow(["from", "to", "value", "time", "by", "note", "id"])
            for number in range(1, ROWS + 1):
                note = "".join(self.random.choices('abc ü"\n,Ω', k=self.random.randrange(1, 200))).strip()
                value = self.random.choice(["beep", "open", "0.4", "1.5k"])
                out.writerow(["K1:A1", "X1:5.int", value, "2026-03-02T09:00:00Z", "wireman B", note, f"R{number}"])
        for call in (["new", self.job, QUICKSTART, "--meter", QUICKSTART / "meters.csv"], ["import", self.job, source]):
            done = self.run("job", *call)
            expect(done.returncode == 0, done.stderr)
        connection = sqlite3.connect(self.job)
        for number, old in enumerate(self.random.sample(range(1, ROWS + 1), 300)):
            connection.execute('INSERT INTO reading ("from", "to", value, id, supersedes) VALUES (?, ?, ?, ?, ?)',
                               ("K1:A1", "X1:5.int", self.random.choice(["open", None]), f"C{number}", f"R{old}"))
        connection.commit()
        connection.close()
        expect(not Path(f"{self.job}-wal").exists(), "the log is still there")

    def readings(self, out):
        with open(out / "readings.csv", newline="", encoding="utf-8") as file:
            return [row for row in csv.reader(file)][1:]

    def damaged(self, data):
        self.turn += 1
        job, out = self.work / f"damaged{self.turn}.rtj", self.work / f"out{self.turn}"
        job.write_bytes(data)
        return job, out

    def pages_of(self, name, kind=None):
        return [page for page, table, pagetype in self.pages if table == name and kind in (None, pagetype)]

    def overwritten(self, pages):
        data = bytearray(self.bytes)
        for page in pages:
            new = bytes(PAGE) if self.random.random() < 0.5 else self.random.randbytes(PAGE)
            data[(page - 1) * PAGE : page * PAGE] = new
        return bytes(data)

    def readable_by_python(self, job):
        """Numbers of the readings that Python's sqlite3 reads one by one, and as they were."""
        connection = sqlite3.connect(job)
        connection.text_factory = lambda cell: cell.decode("utf-8", "strict")
        numbers = set()
        for number in range(1, len(self.rows) + 1):
            try:
                row = connection.execute("SELECT * FROM reading NOT INDEXED WHERE number = ?", [number]).fetchone()
                if row and [cell or "" for cell in row[1:-1]] == self.rows[number - 1][:-2]:
                    numbers.add(number)
            except (sqlite3.DatabaseError, UnicodeDecodeError):
                pass
        connection.close()
        return numbers

    def exported_of(self, data, what):
        """Exports, and looks at what must hold of any damage. Gives the numbers of the exported rows, and what was said."""
        job, out = self.damaged(data)
        readable = self.readable_by_python(job)
        done = self.export(job, out)
        if not out.exists():
            expect(not readable and done.returncode == 2, f"{what}: nothing exported: {done.stderr}")
            return set(), done.stderr
        numbers = set()
        for row in self.readings(out):
            number = self.number.get(row[10])
            expect(number is not None and row[:-2] == self.rows[number - 1][:-2], f"{what}: no row of the job: {row}")
            expect(row[-1] in (self.rows[number - 1][-1], "1 lost"), f"{what}: the mark of its netlist: {row}")
            expect(number not in numbers, f"{what}: {row[10]} is there twice")
            numbers.add(number)
        expect(readable <= numbers, f"{what}: readable and not exported: {sorted(readable - numbers)[:9]}")
        if len(numbers) < len(self.rows):
            expect(done.returncode == 2 and not done.stdout, f"{what}: passes for whole: {done.stdout}")
            expect("the job is damaged" in done.stderr, f"{what}: damage isn't told: {done.stderr}")
        refused = self.run("job", "info", job)
        expect(done.returncode == 0 or refused.returncode == 2, f"{what}: job info takes it")
        return numbers, done.stderr

    def superseded_by(self):
        return {row[10]: row[-2] for row in self.readings(self.work / f"out{self.turn}")}


def lost_of_readings(said):
    found = re.search(r"^  reading: (\d+) rows? read, (\d+) lost", said, re.MULTILINE)
    expect(found, f"how many rows are lost isn't told: {said}")
    return int(found.group(1)), int(found.group(2))


def check_leaves(damages):
    """All rows but those on the damaged leaves are there, and these are named."""
    leaves, all_numbers = damages.pages_of("reading", "leaf"), set(range(1, len(damages.rows) + 1))
    for _ in range(TURNS):
        # The last leaf too: the index still knows its rows.
        pages = damages.random.sample(leaves, damages.random.choice([1, 1, 2, 5]))
        lost = set().union(*(numbers_on(damages.bytes[(page - 1) * PAGE : page * PAGE]) for page in pages))
        numbers, said = damages.exported_of(damages.overwritten(pages), f"leaves {pages}")
        expect(numbers == all_numbers - lost, f"leaves {pages}: lost {sorted(all_numbers - lost - numbers)[:9]} besides")
        expect(lost_of_readings(said) == (len(numbers), len(lost)), f"leaves {pages}: {said}")
        named = set()
        for first, last in re.findall(r"(\d+)(?: to (\d+))? \([RC]\d", said.split("reading:")[1].splitlines()[0]):
            named |= set(range(int(first), int(last or first) + 1))
        expect(named == lost, f"leaves {pages}: named {sorted(named)[:9]}, lost {sorted(lost)[:9]}")
        # A row that a lost one supersedes doesn't become current.
        whole = {row[10]: row[-2] for row in damages.rows}
        for row, by in damages.superseded_by().items():
            expect(by == whole[row], f"leaves {pages}: {row} is superseded by {by!r}, not {whole[row]!r}")


def check_any_page(damages):
    for _ in range(TURNS):
        pages = damages.random.sample([page for page, _, _ in damages.pages if page != 1], 2)
        damages.exported_of(damages.overwritten(pages), f"pages {pages}")


def check_sectors(damages):
    """Zeros of a disk sector amid a page."""
    for _ in range(TURNS):
        at = damages.random.randrange(PAGE // 512, len(damages.bytes) // 512) * 512
        data = damages.bytes[:at] + bytes(512) + damages.bytes[at + 512 :]
        damages.exported_of(data, f"sector at {at}")


def check_indexes(damages):
    for name in ("sqlite_autoindex_reading_1", "reading_supersedes"):
        for kind in ("leaf", "internal"):
            for page in damages.pages_of(name, kind)[:1]:
                numbers, said = damages.exported_of(damages.overwritten([page]), f"{kind} of {name}")
                expect(len(numbers) == len(damages.rows), f"{kind} of {name}: rows are lost")
                expect(lost_of_readings(said) == (len(numbers), 0), said)


def check_cut(damages):
    counts = []
    for share in (0.2, 0.5, 0.8, 0.95):
        size = int(len(damages.bytes) * share) // PAGE * PAGE
        numbers, _ = damages.exported_of(damages.bytes[:size], f"cut at {size}")
        kept = [page for page in damages.pages_of("reading", "leaf") if page * PAGE <= size]
        on_kept = set().union(*(numbers_on(damages.bytes[(page - 1) * PAGE : page * PAGE]) for page in kept))
        if all(page * PAGE <= size for page in damages.pages_of("reading", "internal")):
            expect(numbers == on_kept, f"cut at {size}: {len(numbers)} rows, not {len(on_kept)}")
            counts.append(len(numbers))
    expect(counts and counts[-1] > 0, "no cut left rows, so nothing was tried")


def check_netlist(damages):
    """A changed file of the netlist is written as it is, and told."""
    text = (QUICKSTART / "channels.csv").read_bytes()
    at = damages.bytes.find(text[:40])
    expect(at > 0, "the netlist isn't found in the file")
    data = damages.bytes[:at] + b"X" + damages.bytes[at + 1 :]
    numbers, said = damages.exported_of(data, "a file of the netlist")
    expect(len(numbers) == len(damages.rows) and lost_of_readings(said)[1] == 0, "readings are lost")
    expect("netlist/channels.csv: not what was loaded" in said, f"a changed file isn't told: {said}")
    folder = damages.work / f"out{damages.turn}" / "netlist"
    expect((folder / "channels.csv").read_bytes() == b"X" + text[1:], "the changed file isn't as it is")
    for path in QUICKSTART.glob("*.csv"):
        if (folder / path.name).exists() and path.name != "channels.csv":
            expect((folder / path.name).read_bytes() == path.read_bytes(), f"{path.name} was changed")
    expect((folder / "conductors.csv").exists(), "the netlist isn't there")


def check_first_page(damages):
    numbers, said = damages.exported_of(bytes(PAGE) + damages.bytes[PAGE:], "the first page")
    expect(not numbers and "this is no job" in said, f"the first page: {said}")
    left = [path.name for path in damages.work.iterdir() if path.name.startswith(".")]
    expect(not left, f"left behind: {left}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(1 << 31))
    arguments = parser.parse_args()
    print(f"damage_check.py: seed {arguments.seed}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        damages = Damages(arguments, Path(folder))
        for check in (check_leaves, check_any_page, check_sectors, check_indexes, check_cut, check_netlist,
                      check_first_page):
            check(damages)
    print(f"damage_check.py: {damages.turn} damaged jobs, no row lost that isn't damaged, none changed")


if __name__ == "__main__":
    main()
