#!/usr/bin/env python3
"""Reads what `ringtrue record` writes by Python's own json, csv and html, and by openpyxl.

    record_check.py --ringtrue BINARY
"""

import argparse
import csv
import json
import re
import subprocess
import tempfile
from datetime import datetime
from html.parser import HTMLParser
from pathlib import Path

import openpyxl

ROOT = Path(__file__).resolve().parent.parent.parent
QUICKSTART = ROOT / "netlists" / "quickstart"
HOSTILE = ["<script>alert(1)</script>", "</td><img src=x onerror=alert(2)>", "\"'`&amp;&lt;", "=HYPERLINK(1)", "+1+1", "@SUM(A1)",
           "-2+3", "\u202eback to front\u202c", "\u2067\u0627\u0644\u0641\u2069", "T" * 4000]
READINGS = "from,to,value,time,by,conditions,meter,method,witness,note,id".split(",")
RESULTS = "channel,stimulus,at,given,expected,led,bit,value,only_this,verdict,reason,time,by,witness,meter,revision,id".split(",")
EVENTS = "time,by,kind,points,text,id".split(",")
DECISIONS = "finding,readings,points,decision,text,time,by,revision,id".split(",")
METERS = "meter,kind,serial,calibrated_until,threshold".split(",")


def expect(condition, text):
    if not condition:
        raise SystemExit(f"record_check.py: {text}")


def write_csv(path, columns, rows):
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, columns)
        writer.writeheader()
        writer.writerows(rows)


class Records:
    def __init__(self, binary, work):
        self.binary, self.work = binary, work

    def run(self, *words, **options):
        return subprocess.run([self.binary, *words], capture_output=True, text=True, **options)

    def job(self, name, readings=(), results=(), events=(), meters=(), netlist=QUICKSTART):
        folder = self.work / f"{name}-in"
        folder.mkdir()
        write_csv(folder / "readings.csv", READINGS, readings)
        write_csv(folder / "events.csv", EVENTS, events)
        write_csv(folder / "results.csv", RESULTS, results)
        write_csv(folder / "meters.csv", METERS, meters)
        job = self.work / f"{name}.rtj"
        done = self.run("job", "new", job, netlist, "--readings", folder / "readings.csv", "--meter", folder / "meters.csv",
                        "--results", folder / "results.csv")
        expect(done.returncode == 0, done.stderr)
        return job

    def record(self, job, status, out="out", **options):
        folder = self.work / f"{job.stem}-{out}"
        done = self.run("record", job, folder, **options)
        expect(done.returncode == status, f"{job.name}: status {done.returncode}, expected {status}: {done.stdout}{done.stderr}")
        return folder, json.loads((folder / "record.json").read_text(encoding="utf-8"))


def good_readings():
    with (QUICKSTART / "readings-good.csv").open(encoding="utf-8") as file:
        return [{key: value for key, value in row.items() if key != "meter"} for row in csv.DictReader(file)]


def at(hour, minute=0):
    return f"2026-03-02T{hour:02}:{minute:02}:00+01:00"


def check_ready(records):
    _, record = records.record(records.job("good", good_readings()), 0)
    expect(record["ready_to_sign"] and not record["holds"] and not record["punch"], "a good panel isn't ready to sign")
    expect(record["readings"] and all(row["by"] and row["time"] for row in record["readings"]), "a reading lost its author or time")
    _, record = records.record(records.job("empty"), 1)
    expect(record["holds"] == ["Nothing was tested."], f"an empty job holds by {record['holds']}")
    wiring = record["coverage"][0]
    expect(wiring["right"] == 0 and wiring["not_tested"] > 0, f"of an empty job: {wiring}")


def check_unnamed(records):
    """A wire list alone names no panel: the record says so, on every sheet of paper too."""
    folder = records.work / "unnamed"
    folder.mkdir()
    (folder / "conductors.csv").write_text("wire,from,to\n1,K1:1,K2:1\n")
    out, _ = records.record(records.job("unnamed-job", [{"from": "K1:1", "to": "K2:1", "value": "beep"}], netlist=folder), 0)
    text = (out / "record.html").read_text(encoding="utf-8")
    for said in ("<title>Panel without a name: record</title>", '@bottom-left { content: "Panel without a name";',
                 '<th scope="row">Panel</th><td>not stated</td>', "<td>not stated (netlist 1 of 1 in the job)</td>"):
        expect(said in text, f"an unnamed panel: {said} is missing")


def check_temporary(records):
    made = {"time": at(9), "by": "tester A", "kind": "temporary-made", "points": "A1:0.0; X1:1.int", "text": "jumper", "id": "E1"}
    undone = {**made, "time": at(9, 30), "kind": "temporary-undone", "id": "E2"}
    _, record = records.record(records.job("temporary", good_readings(), events=[made]), 1)
    expect(not record["ready_to_sign"], "ready to sign with a temporary change open")
    expect([row["state"] for row in record["temporary"]] == ["open"], f"temporary: {record['temporary']}")
    expect(any(row["kind"] == "temporary change" for row in record["punch"]), "it is not on the punch list")
    _, record = records.record(records.job("undone", good_readings(), events=[made, undone]), 0)
    expect(record["ready_to_sign"] and not record["punch"], f"undone, it still holds: {record['holds']}")
    expect([row["state"] for row in record["temporary"]] == ["undone"], f"temporary: {record['temporary']}")


def check_repair(records):
    repair = {"time": at(6), "by": "wireman A", "kind": "repair", "points": "S1:14", "text": "ferrule replaced", "id": "E1"}
    _, record = records.record(records.job("repair", good_readings(), events=[repair]), 0)
    expect([(row["state"], row["settled_by"], row["settled_at"]) for row in record["punch"]] == [("repaired", "wireman A", at(6))],
           f"punch list: {record['punch']}")
    later = {**repair, "time": at(9)}
    _, record = records.record(records.job("later", good_readings(), events=[later]), 1)
    stale = [row for row in record["readings"] if row["state"] == "stale"]
    expect(stale and {row["kind"] for row in record["punch"]} == {"stale reading", "repair"}, f"punch list: {record['punch']}")
    again = [{key: row[key] for key in ("from", "to", "value", "conditions")} | {"time": at(10), "id": f"N{i}"}
             for i, row in enumerate(stale)]
    _, record = records.record(records.job("again", good_readings() + again, events=[later]), 0)
    expect(record["ready_to_sign"], f"taken again, it still holds: {record['holds']}")
    # Which setting comes first, and which probe, is all one.
    of_two = {"from": "X1:3.int", "to": "S1:14", "value": "beep", "conditions": "S1=operated; K1=operated", "time": at(8), "id": "TWO"}
    turned = {**of_two, "from": "S1:14", "to": "X1:3.int", "conditions": "K1=operated;S1=operated", "time": at(10), "id": "TURNED"}
    for name, more, left in (("two", [], ["TWO"]), ("turned", [turned], [])):
        job = records.job(name, good_readings() + again + [of_two] + more, events=[later])
        _, record = records.record(job, 1 if left else 0)
        expect([row["readings"] for row in record["punch"] if row["kind"] == "stale reading"] == left, f"{name}: {record['punch']}")
        why = json.loads(records.run("compare", job, "--json").stdout)["why_stale"]
        expect(("TWO" in str(why)) == bool(left), f"{name}: compare tells {why}")


def check_people(records):
    """Whoever decided or signed is named as whoever read is."""
    netlist = records.work / "people-netlist"
    netlist.mkdir()
    (netlist / "conductors.csv").write_text("wire,from,to\n1,S1:1,A1:1\n", encoding="utf-8")
    reading = {"from": "S1:1", "to": "A1:1", "value": "open", "time": at(8), "by": "tester A", "id": "R1"}
    job = records.job("people", [reading], netlist=netlist)
    for words in (["decide", job, "R1", "repair", "--by", "lead A"], ["decide", job, "R1", "accepted", "--text", "later", "--by", "lead A"],
                  ["sign", job, "checked", "--by", "tester B"]):
        done = records.run("job", *words)
        expect(done.returncode == 0, f"{words}: {done.stdout}{done.stderr}")
    _, record = records.record(job, 0)
    people = {row["by"]: (row["readings"], row["decisions"], row["signatures"]) for row in record["people"]}
    expect(people == {"tester A": (1, 0, 0), "lead A": (0, 2, 0), "tester B": (0, 0, 1)}, f"people: {people}")
    expect(all(row["first"] and row["first"] <= row["last"] for row in record["people"]), f"times: {record['people']}")


def check_io(records):
    def result(channel, verdict, **more):
        return {"channel": channel, "stimulus": "jumper", "verdict": verdict, "time": at(11), "by": "tester A", **more}
    rows = [result("HOPPER_FULL", "pass", led="lit", bit="1", only_this="yes", id="T1"),
            result("A1:0.1", "pass", led="lit", id="T2"), result("AUGER_RELAY", "fail", reason="no response", id="T3"),
            result("OLD_TAG", "pass", id="T4")]
    _, record = records.record(records.job("io", good_readings(), rows), 1)
    shown = {row["id"]: row["shown"] for row in record["io"]}
    expect(shown["T1"] == "pass" and shown["T2"] == "LED only" and shown["T3"] == "fail" and shown["T4"] == "not on the drawing",
           f"I/O results show {shown}")
    line = next(row for row in record["coverage"] if row["what"] == "channels, I/O test")
    expect((line["all"], line["right"], line["wrong"]) == (4, 1, 1) and line["not_tested"] + line["not_checkable"] == 2, f"{line}")
    expect([row["kind"] for row in record["punch"]] == ["I/O test"], f"punch list: {record['punch']}")


def check_instruments(records):
    readings = [{**row, "meter": ("M1", "M2", "M3")[i % 3]} for i, row in enumerate(good_readings())]
    readings += [{"from": "G1:-", "to": "X1:1.int", "value": "0.1", "method": "low-ohm", "time": at(11), "id": "B1", "meter": "M3"},
                 {"from": "G1:+", "to": "G1:-", "value": "1M", "method": "insulation", "time": at(11), "id": "I1", "meter": "M3"}]
    meters = [{"meter": "M1", "calibrated_until": "2026-03-01"}, {"meter": "M2", "calibrated_until": "2026-03-02"}, {"meter": "M3"},
              {"meter": "M4", "calibrated_until": "2020-01-01"}]
    _, record = records.record(records.job("instruments", readings, meters=meters), 1)
    state = {row["meter"]: row["state"] for row in record["instruments"]}
    expect(state == {"M1": "expired when used", "M2": "calibrated when used", "M3": "not stated", "M4": "not used"}, f"{state}")
    for sheet, name in (("bonding", "B1"), ("insulation", "I1")):
        expect([row["id"] for row in record[sheet]] == [name], f"{sheet}: {record[sheet]}")
        expect(all(row["id"] != name for row in record["readings"]), f"{name} is among the other readings too")


def hostile_netlist(records, name):
    """The quick start's panel, with hostile text wherever a name or a text may be any."""
    folder = records.work / f"{name}-netlist"
    folder.mkdir()
    for source in sorted(QUICKSTART.glob("*.csv")):
        with source.open(encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        for i, row in enumerate(rows):
            text = HOSTILE[i % len(HOSTILE)]
            for key in {"wire", "sheet", "tag", "text", "note"} & row.keys():
                if key != "wire" or row[key]:
                    row[key] = text if key != "tag" else f"{text}{i}"
            if row.get("key") in ("panel", "revision", "drawing"):
                row["value"] = HOSTILE[i]
        if source.name.split(".")[0] in ("conductors", "parts", "channels", "potentials", "panel"):
            write_csv(folder / source.name, list(rows[0]), rows)
    return folder


def hostile_job(records, name="hostile"):
    readings, results, events, meters = [], [], [], []
    for i, text in enumerate(HOSTILE):
        common = {"by": text, "witness": text, "time": at(8, i), "meter": text}
        readings.append({**common, "from": "A1:0.1", "to": "S1:14", "value": "open", "note": text, "id": f"R{i} {text}"})
        readings.append({**common, "from": text, "to": text, "value": "beep", "id": f"U{i}"})
        results.append({**common, "channel": text, "stimulus": "jumper", "at": text, "given": text, "expected": text, "value": text,
                        "verdict": "fail", "reason": text, "revision": text, "id": f"T{i}"})
        events.append({"time": at(7, i), "by": text, "kind": "temporary-made", "points": text, "text": text, "id": f"E{i}"})
        meters.append({"meter": text, "kind": text, "serial": text, "calibrated_until": text})
    job = records.job(name, readings, results, events, meters, hostile_netlist(records, name))
    decisions = records.work / f"{name}-decisions.csv"
    write_csv(decisions, DECISIONS, [{"finding": text, "readings": text, "points": text, "decision": "accepted", "text": text,
                                      "time": at(9, i), "by": text, "id": f"D{i}"} for i, text in enumerate(HOSTILE)])
    done = records.run("job", "import", job, "--decisions", decisions)
    expect(done.returncode == 0, done.stderr)
    return job


class Page(HTMLParser):
    """The elements of a page with their attributes, the words of its cells, and its list of open elements, which must close."""

    VOID = {"meta", "br"}

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.elements, self.attributes, self.cells, self.open, self.style = set(), set(), [], [], ""
        self.feed(text)
        self.close()
        expect(not self.open, f"record.html: not closed: {self.open}")

    def handle_starttag(self, tag, attrs):
        self.elements.add(tag)
        self.attributes |= {name for name, _ in attrs}
        if tag not in self.VOID:
            self.open.append(tag)
        if tag == "td":
            self.cells.append("")

    def handle_endtag(self, tag):
        expect(self.open and self.open.pop() == tag, f"record.html: </{tag}> closes nothing that is open")

    def handle_data(self, data):
        if "td" in self.open:
            self.cells[-1] += data
        if "style" in self.open:
            self.style += data


def as_shown(text):
    """Marks of direction are named."""
    return re.sub("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]", lambda mark: f"[U+{ord(mark.group()):04X}]", text)


def check_page(records):
    folder, record = records.record(hostile_job(records), 1)
    text = (folder / "record.html").read_text(encoding="utf-8")
    page = Page(re.sub("<figure>.*?</figure>", "", text, flags=re.DOTALL))  # record_figures_check.py reads those
    expect(page.elements <= set("html head meta title style body h1 h2 div p ul li table thead tbody tr th td span br b".split()),
           f"record.html has elements {sorted(page.elements)}")
    expect(page.attributes <= {"lang", "charset", "class", "scope", "colspan"}, f"record.html has attributes {sorted(page.attributes)}")
    expect("url(" not in page.style and "@import" not in page.style, "record.html asks for something from elsewhere")
    for hostile in HOSTILE:
        expect(as_shown(hostile) in page.cells, f"record.html does not show {hostile[:40]}")
    expect(as_shown(text) == text, "record.html holds marks that turn the direction of text")
    expect("Not ready to sign" in text and "None was taken: insulation was not tested." in text, "record.html hides what was not tested")
    facts = 8
    lists = [rows for rows in record.values() if isinstance(rows, list) and rows and isinstance(rows[0], dict)]
    expect(text.count("<tr>") == sum(len(rows) + 1 for rows in lists) + facts, "record.html has another number of rows than the lists")


def sheets_of(folder):
    return openpyxl.load_workbook(folder / "record.xlsx")


def check_workbook(records):
    meters = [{"meter": "M1", "calibrated_until": "2026-12-31"}]
    job = records.job("workbook", [{**row, "meter": "M1"} for row in good_readings()], meters=meters)
    folder, record = records.record(job, 0)
    book = sheets_of(folder)
    lists = [rows for rows in record.values() if isinstance(rows, list) and (not rows or isinstance(rows[0], dict))]
    wanted = ["Record", "Punch list", "Red-lines", "Buzz-out list", "IO check sheet", "Readings", "Certificate", "Instruments",
              "Protective bonding", "Insulation", "Temporary changes"]
    expect(set(wanted) <= set(book.sheetnames), f"the workbook has the sheets {book.sheetnames}")
    for sheet in book.worksheets[1:]:
        expect(sheet.freeze_panes == "A2" and sheet.auto_filter.ref and sheet.print_area and sheet.print_title_rows,
               f"{sheet.title}: {sheet.freeze_panes}, {sheet.auto_filter.ref}, {sheet.print_area}, {sheet.print_title_rows}")
    expect(len(book["Readings"]["A"]) == len(record["readings"]) + 1 and len(lists) >= 12, "the workbook lost readings")
    header = [cell.value for cell in book["Readings"][1]]
    for row, same in zip(book["Readings"].iter_rows(min_row=2), record["readings"]):
        time = row[header.index("Time")]
        expect(time.is_date and time.value == datetime.fromisoformat(same["time"]).replace(tzinfo=None), f"time {time.value!r}")
    date = book["Instruments"]["D2"]
    expect(date.is_date and date.value == datetime(2026, 12, 31), f"calibrated until {date.value!r}")
    for row, same in zip(book["Certificate"].iter_rows(min_row=2), record["certificate"]):
        expect(all(cell.data_type == "n" for cell in row[1:]) and [cell.value for cell in row] == list(same.values()), f"{same}")
    last = datetime.fromisoformat(record["last_time"])
    created = book.properties.created
    expect((last.replace(tzinfo=None) - last.utcoffset()) == created, f"made at {created}, the last row is of {last}")


def check_hostile_workbook(records):
    folder, record = records.record(hostile_job(records), 1)
    book = sheets_of(folder)
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row if cell.value is not None]
    expect(not [cell.coordinate for cell in cells if cell.data_type == "f" or cell.hyperlink], "a cell is a formula or a link")
    texts = {cell.value for cell in cells}
    expect(all(text in texts for text in HOSTILE), "the workbook lost a text")
    expect(len(book["IO check sheet"]["A"]) == len(record["io"]) + 1, "the workbook lost an I/O result")


def check_hostile(records):
    folder, record = records.record(hostile_job(records), 1)
    expect(record["panel"] in HOSTILE and record["revision"] in HOSTILE, f"panel {record['panel']}, revision {record['revision']}")
    for sheet, key in (("readings", "note"), ("buzz_out", "sheet"), ("io", "reason"), ("temporary", "text"), ("instruments", "serial"), ("people", "by")):
        values = [row[key] for row in record[sheet]]
        expect(all(text in values for text in HOSTILE), f"{sheet} lost a text")
    gone = [row for row in record["punch"] if row["state"] == "no longer found"]
    for key in ("what", "action", "settled_by"):
        expect([row[key] for row in gone] == HOSTILE, f"punch list: {key} of decisions lost a text")
    with (folder / "punch.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    expect(len(rows) == len(record["punch"]), "punch.csv has another number of rows")
    for row, same in zip(rows, record["punch"]):
        for key, cell in row.items():
            expect(not cell.startswith(("=", "+", "-", "@", "\t")), f"punch.csv: {key} begins a formula: {cell[:40]}")
            expect(cell.removeprefix("'") == str(same[key]).removeprefix("'"), f"punch.csv: {key} is {cell[:40]}")
    expect(any(row["what"].startswith("'=") for row in rows), "no cell began like a formula: the check proves nothing")


def check_same_bytes(records):
    job = hostile_job(records, "bytes")
    first, _ = records.record(job, 1, "first")
    second, _ = records.record(job, 1, "second", env={"LC_ALL": "de_DE.UTF-8", "TZ": "Asia/Tokyo"}, cwd=records.work)
    names = sorted(path.name for path in first.iterdir())
    expect(names == sorted(path.name for path in second.iterdir()) and len(names) == 4, f"files: {names}")
    for name in names:
        expect((first / name).read_bytes() == (second / name).read_bytes(), f"{name} differs the second time")
    before = (first / "record.json").read_bytes()
    done = records.run("record", job, first)
    expect(done.returncode == 2 and "exists already" in done.stderr, f"an existing folder: {done.returncode} {done.stderr}")
    expect((first / "record.json").read_bytes() == before, "an existing folder was written into")
    done = records.run("record", job, records.work / "missing" / "out")
    expect(done.returncode == 2 and not (records.work / "missing").exists(), f"a missing folder: {done.returncode}")
    expect(not list(records.work.glob(".ringtrue-*")), "a temporary folder was left behind")


def check_sums(records):
    job = records.job("sums", good_readings())
    _, record = records.record(job, 0)
    expect(records.run("job", "export", job, records.work / "exported").returncode == 0, "the job can't be exported")
    done = subprocess.run(["sha256sum", records.work / "exported" / "readings.csv"], capture_output=True, text=True, check=True)
    expect(done.stdout.split()[0] == record["readings_sha256"], "another SHA-256 of the readings")


def run_checks(name, checks):
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    binary = parser.parse_args().ringtrue.resolve()
    for check in checks:
        with tempfile.TemporaryDirectory() as folder:
            check(Records(binary, Path(folder)))
    print(f"{name}: {len(checks)} checks passed")


if __name__ == "__main__":
    run_checks("record_check.py", [check_ready, check_unnamed, check_temporary, check_repair, check_people, check_io, check_instruments,
                                   check_hostile, check_page, check_workbook, check_hostile_workbook, check_same_bytes, check_sums])
