#!/usr/bin/env python3
"""Reads what `ringtrue convert` writes with Python's csv and XML readers, and validates the XML with xmllint.

    written_files.py --ringtrue BINARY --xmllint BINARY

Every cell of the source must come back, on the demo netlists and on awkward text. What may differ: a point gets its
side, the free end of a spare core loses its "-", a number may be written in another way, a field may be filled in with
its default, and a part that names itself as what moves it need not.
"""

import argparse
import csv
import subprocess
import tempfile
import xml.etree.ElementTree as ET
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
TABLES = {"conductors": "conductor", "parts": "part", "channels": "channel", "potentials": "potential"}
POINTS = {"from", "to", "point", "field", "return", "common"}
NUMBERS = {"mm2", "length_m", "ohms", "tolerance_pct", "volts", "amps", "low", "high", "raw_low", "raw_high"}
DEFAULTS = {"kind": "wire", "place": "panel"}
NAMESPACE = "{urn:ringtrue:netlist:1}"

AWKWARD = [
    'a "quoted" word', '"', '""', "a,b", "a;b", "a\tb", "one\ntwo", "one\r\ntwo", "one\rtwo", "=1+1", "+1", "-1", "@x",
    "é 日本 \U0001f514 Ω µ", "a & b", "&amp;", "<b>", "]]>", "it's", "two  blanks", "#", "\\", "%s", "\u2028", "0.10", "null",
]


def check(condition, text):
    if not condition:
        raise SystemExit(f"written_files.py: {text}")


def read_csv_folder(folder):
    tables = {}
    for table in TABLES:
        path = folder / f"{table}.csv"
        tables[table] = []
        if path.exists():
            with open(path, newline="", encoding="utf-8") as file:
                tables[table] = list(csv.DictReader(file, strict=True))
    panel = {}
    if (folder / "panel.csv").exists():
        with open(folder / "panel.csv", newline="", encoding="utf-8") as file:
            panel = {row["key"]: row["value"] for row in csv.DictReader(file, strict=True)}
    return panel, tables


def read_xml(path):
    root = ET.parse(path).getroot()
    check(root.tag == NAMESPACE + "netlist", f"the root of {path} is {root.tag}")
    tables = {table: [] for table in TABLES}
    for section in root:
        table = section.tag.removeprefix(NAMESPACE)
        for row in section:
            check(row.tag == NAMESPACE + TABLES[table], f"{table} holds {row.tag}")
            tables[table].append(row.attrib)
    return root.attrib, tables


def is_same(field, source, written):
    if source == written:
        return True
    if field in POINTS and source in ("", "-"):
        return written == ""
    if field in POINTS:
        return written in (source + ".int", source + ".ext")
    if field in NUMBERS and source and written:
        return float(source.replace(",", ".")) == float(written)
    return source == "" and written == DEFAULTS.get(field)


def compare(name, source, written):
    check(source[0] == written[0], f"{name}: panel {written[0]}, expected {source[0]}")
    for table in TABLES:
        rows, got = source[1][table], written[1][table]
        check(len(rows) == len(got), f"{name}: {len(got)} {table}, expected {len(rows)}")
        for number, (row, again) in enumerate(zip(rows, got), 1):
            for field in row.keys() | again.keys():
                a, b = row.get(field, ""), again.get(field, "")
                if field == "actuated_by" and a == row["part"]:
                    a = ""
                check(is_same(field, a, b), f"{name}: {table} {number}: {field}: {b!r}, expected {a!r}")


def check_line_ends(folder):
    for path in sorted(folder.glob("*.csv")):
        header = path.read_bytes().split(b"\n")[0]
        check(header.endswith(b"\r"), f"{path.name}: lines end in LF alone, RFC 4180 has CR LF")


def write_awkward(folder):
    folder.mkdir()
    with open(folder / "conductors.csv", "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["wire", "from", "to", "colour", "mm2", "length_m", "sheet", "potential", "role", "note"])
        for number, text in enumerate(AWKWARD):
            out.writerow([text, f"K1:{number}", f"X1:{number}", text, "1,5", "1e1", text, text, "stop", text])
    with open(folder / "parts.csv", "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["part", "kind", "a", "b", "ohms", "note", "sheet"])
        for number, text in enumerate(AWKWARD):
            out.writerow([f"L{number}", "lamp", text, "other", "0.1", text, text])
    with open(folder / "channels.csv", "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["point", "type", "tag", "text", "low", "device", "signal"])
        for number, text in enumerate(AWKWARD):
            out.writerow([f"A1:{number}", "AI", text, text, "-0.001", text, text])
    with open(folder / "panel.csv", "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([["key", "value"], ["panel", 'GD1 "A" & co'], ["revision", "one\ntwo"]])


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--xmllint", required=True)
    arguments = parser.parse_args()

    def run(*command):
        done = subprocess.run(command, capture_output=True, text=True)
        check(done.returncode == 0, f"{' '.join(map(str, command))}: {done.stderr}")

    with tempfile.TemporaryDirectory() as temporary:
        work = Path(temporary)
        write_awkward(work / "awkward")
        sources = [work / "awkward", ROOT / "netlists/grain-dryer", ROOT / "netlists/quickstart"]
        for source in sources:
            expected = read_csv_folder(source)
            folder, file, back = (work / f"{source.name}-out{end}" for end in ("", ".xml", "-back"))
            run(arguments.ringtrue, "convert", source, folder)
            run(arguments.ringtrue, "convert", source, file)
            run(arguments.ringtrue, "convert", file, back)
            run(arguments.xmllint, "--noout", "--schema", ROOT / "netlists/schema/netlist.xsd", file)
            check_line_ends(folder)
            compare(f"{source.name} as CSV", expected, read_csv_folder(folder))
            compare(f"{source.name} as XML", expected, read_xml(file))
            compare(f"{source.name} from XML", expected, read_csv_folder(back))
    print(f"written_files.py: {len(sources)} netlists read by Python's csv and XML readers, valid by xmllint")


if __name__ == "__main__":
    main()
