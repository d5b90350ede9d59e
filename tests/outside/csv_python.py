#!/usr/bin/env python3
"""Random wire lists, written by Python's csv module in several dialects and brought to several encodings by iconv,
must come out of `ringtrue convert` as they went in, read by Python's csv module again.

  csv_python.py RINGTRUE [SEED]
"""
import csv
import io
import random
import subprocess
import sys
import tempfile
from pathlib import Path

FIELDS = ("wire", "from", "to", "sheet", "note")
PLAIN = "abc XYZ019-+=@.,;'\t"
WESTERN = "äöüßÄÖÜé²°€µ"
WIDE = WESTERN + "Ωλж測✓"
ENCODINGS = {"UTF-8": WIDE, "UTF-16LE": WIDE, "UTF-16BE": WIDE, "WINDOWS-1252": WESTERN}
MARKS = {"UTF-16LE": b"\xff\xfe", "UTF-16BE": b"\xfe\xff"}


def random_text(rng, letters):
    text = "".join(rng.choice(PLAIN + letters + '"\n') for _ in range(rng.randrange(12)))
    return text.strip(" \t\n\xa0")


def random_rows(rng, letters):
    # Every row has a number of its own, so that none is taken for another one listed twice.
    return [(str(i + 1), f"K{i}:A1", f"X1:{i + 1}.int", random_text(rng, letters), random_text(rng, letters))
            for i in range(rng.randrange(1, 30))]


def written(rows, rng):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=rng.choice(",;\t"), lineterminator=rng.choice(("\n", "\r\n")),
                        quoting=rng.choice((csv.QUOTE_MINIMAL, csv.QUOTE_ALL)))
    writer.writerow(FIELDS)
    writer.writerows(rows)
    return out.getvalue()


def encoded(text, encoding):
    result = subprocess.run(["iconv", "-f", "UTF-8", "-t", encoding], input=text.encode("utf-8"), capture_output=True,
                            check=True)
    return MARKS.get(encoding, b"") + result.stdout


def read_back(folder):
    with open(folder / "conductors.csv", encoding="utf-8", newline="") as file:
        return [tuple(row.get(field, "") for field in FIELDS) for row in csv.DictReader(file)]


def main():
    ringtrue, seed = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 1
    rng = random.Random(seed)
    counts = dict.fromkeys(ENCODINGS, 0)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for round_number in range(200):
            encoding = rng.choice(sorted(ENCODINGS))
            rows = random_rows(rng, ENCODINGS[encoding])
            text = written(rows, rng)
            (folder / "in.csv").write_bytes(encoded(text, encoding))
            run = subprocess.run([ringtrue, "convert", folder / "in.csv", folder / "out", "--force"],
                                 capture_output=True, text=True, check=False)
            if run.returncode != 0:
                sys.exit(f"round {round_number}, {encoding}: {run.stderr}\n{text}")
            found = read_back(folder / "out")
            if found != rows:
                sys.exit(f"round {round_number}, {encoding}: wrote {rows}, read {found}")
            counts[encoding] += 1
    if min(counts.values()) < 20:
        sys.exit(f"too few of some encoding: {counts}")
    print("Python's csv module and iconv: 200 random wire lists alike, " +
          ", ".join(f"{count} in {encoding}" for encoding, count in sorted(counts.items())))


if __name__ == "__main__":
    main()
