#!/usr/bin/env python3
"""Opens record.xlsx by LibreOffice without a screen and compares every cell it reads with record.json. Run by hand: the package
libreoffice-calc is larger than all that the tests install.

    record_office.py --ringtrue BINARY
"""

import argparse
import csv
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests" / "cli"))
from record_check import Records, good_readings, hostile_job  # noqa: E402

DRYER = ROOT / "netlists" / "grain-dryer"
# One CSV file for each sheet, texts quoted as they are, no formula computed.
AS_CSV = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1"


def expect(condition, text):
    if not condition:
        raise SystemExit(f"record_office.py: {text}")


def as_written(cell):
    """A time stands in the workbook as the wall clock of its place; line ends are one character there."""
    text = str(cell).replace("\r\n", "\n").replace("\r", "\n")
    time = re.fullmatch(r"(\d{4}-\d\d-\d\d)T(\d\d:\d\d:\d\d)(\.\d+)?(Z|[+-]\d\d:\d\d)", text)
    return f"{time[1]} {time[2]}" if time else text


def check(job, folder, record, work):
    out = work / f"{job.stem}-office"
    done = subprocess.run(["soffice", "--headless", f"-env:UserInstallation={(work / 'profile').as_uri()}", "--convert-to", AS_CSV, "--outdir",
                           out, folder / "record.xlsx"], capture_output=True, text=True)
    said = done.stdout + done.stderr
    expect(done.returncode == 0 and not re.search(r"error|repair|corrupt|damaged", said, re.I), f"{job.stem}: {said}")
    lists = {key: rows for key, rows in record.items() if isinstance(rows, list) and rows and isinstance(rows[0], dict)}
    lists.pop("signatures")  # they stand on the cover, which sign_check.py reads
    found = {}
    for path in sorted(out.glob("*.csv")):
        with path.open(newline="", encoding="utf-8") as file:
            found[path.stem.removeprefix("record-")] = list(csv.reader(file))[1:]
    cells = 0
    for key, rows in lists.items():
        wanted = [[as_written(cell) for cell in row.values()] for row in rows]
        expect(wanted in found.values(), f"{job.stem}: no sheet holds what {key} of record.json does")
        cells += sum(map(len, wanted))
    print(f"record_office.py: {job.stem}: {len(lists)} lists, {cells} cells")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    binary = parser.parse_args().ringtrue.resolve()
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        records = Records(binary, work)
        dryer = work / "dryer.rtj"
        made = records.run("job", "new", dryer, DRYER, "--readings", DRYER / "readings.csv", "--meter", DRYER / "meters.csv")
        expect(made.returncode == 0, made.stderr)
        for job, status in ((dryer, 1), (records.job("good", good_readings()), 0), (hostile_job(records), 1)):
            out, record = records.record(job, status)
            check(job, out, record, work)


if __name__ == "__main__":
    main()
