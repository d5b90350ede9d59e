#!/usr/bin/env python3
"""Signatures in a job, as `ringtrue job sign`, `job info` and the record show them.

    sign_check.py --ringtrue BINARY
"""

import csv
import html
import json
import subprocess

from record_check import EVENTS, HOSTILE, READINGS, as_shown, at, expect, good_readings, run_checks, sheets_of, write_csv


def sign(records, job, role, *more, by="tester A", status=0):
    done = records.run("job", "sign", job, role, "--by", by, *more)
    expect(done.returncode == status, f"sign {role}: {done.returncode} {done.stdout}{done.stderr}")
    return done.stdout + done.stderr


def info(records, job):
    return json.loads(records.run("job", "info", job, "--json").stdout)["signatures"]


def typed(record):
    return {row["who"]: (row["by"], row["text"], row["reservations"]) for row in record["signatures"]}


NOBODY = ("", "", [])


def check_not_ready(records):
    readings = good_readings()
    next(row for row in readings if row["value"] == "beep")["value"] = "open"
    job = records.job("broken", readings)
    said = sign(records, job, "checked", status=1)
    expect("not signed" in said and "To be settled: 1 finding." in said and "--open" in said, said)
    expect(info(records, job) == [], "it was signed all the same")
    said = sign(records, job, "checked", "--open", "--text", "to be mended on site")
    expect("with open items:\n    To be settled: 1 finding." in said, said)
    _, record = records.record(job, 1)
    expect(typed(record)["Checked by"] == ("tester A", "to be mended on site", ["signed with open items"]), f"{typed(record)}")
    expect("; signed with open items" in records.run("job", "info", job).stdout, "job info hides the open items")


def check_state(records):
    """Two roles sign; a later row makes both not for this state, and signing again mends one."""
    job = records.job("state", good_readings())
    sign(records, job, "wired", by="wireman A")
    sign(records, job, "checked")
    folder, record = records.record(job, 0, "signed")
    expect(typed(record) == {"Wired by": ("wireman A", "", []), "Checked by": ("tester A", "", []), "Witnessed by": NOBODY,
                             "Accepted by": NOBODY}, f"{typed(record)}")
    again, _ = records.record(job, 0, "again")
    for path in folder.iterdir():
        expect(path.read_bytes() == (again / path.name).read_bytes(), f"{path.name} differs the second time")
    for row in info(records, job):
        expect(row["netlist_sha256"] == record["netlist"]["sha256"] and len(row["rows_sha256"]) == 64, f"{row}")
    more = records.work / "more"
    more.mkdir()
    write_csv(more / "readings.csv", READINGS, [{**row, "time": at(12), "id": f"N{i}"} for i, row in enumerate(good_readings()[:3])])
    write_csv(more / "events.csv", EVENTS, [{"time": at(6), "by": "wireman A", "kind": "repair", "points": "S1:14", "id": "E1"}])
    done = records.run("job", "import", job, more / "readings.csv", "--events", more / "events.csv")
    expect(done.returncode == 0, done.stderr)
    stale = ["signed before 3 later readings and 1 later event: not for this state"]
    sign(records, job, "wired", by="wireman B")
    folder, record = records.record(job, 0, "later")
    expect(typed(record) == {"Wired by": ("wireman B", "", []), "Checked by": ("tester A", "", stale), "Witnessed by": NOBODY,
                             "Accepted by": NOBODY}, f"{typed(record)}")
    expect([row["reservations"] for row in info(records, job)] == [stale, stale, []], f"{info(records, job)}")
    text = (folder / "record.html").read_text(encoding="utf-8")
    expect(text.count(stale[0]) == 1 and "wireman B</div>" in text, "record.html does not show the signatures")
    table = text[text.index('<table class="signatures">'):].partition("</table>")[0]
    expect(table.count("</td><td></td><td></td><td></td></tr>") == 4, f"record.html leaves no field for the hand: {table}")
    cover = [tuple(row[:2]) for row in sheets_of(folder)["Record"].iter_rows(values_only=True)]
    first = next(i for i, row in enumerate(cover) if row[0] == "Wired by")
    times = {row["who"]: row["time"] for row in record["signatures"]}
    expect(cover[first:first + 9] == [
        ("Wired by", None), ("in the job, typed", "wireman B"), (None, times["Wired by"]),
        ("Checked by", None), ("in the job, typed", "tester A"), (None, times["Checked by"]), (None, stale[0]),
        ("Witnessed by", None), ("Accepted by", None)], f"cover: {cover[first:first + 9]}")


def check_hostile(records):
    job = records.job("hostile", good_readings())
    hostile = [text for text in HOSTILE if len(text) <= 200]  # a longer name is refused, below
    for i, text in enumerate(hostile):
        sign(records, job, "witnessed", "--text", text, by=text)
        folder, record = records.record(job, 0, f"out{i}")
        expect(typed(record)["Witnessed by"] == (text, text, []), f"record.json lost {text[:40]}")
        page = (folder / "record.html").read_text(encoding="utf-8")
        expect(html.unescape(page).count(as_shown(text)) >= 2 and as_shown(page) == page, f"record.html does not show {text[:40]}")
        expect("<script>" not in page and "<img" not in page, "record.html holds an element out of a name")
        cells = [cell for row in sheets_of(folder)["Record"].iter_rows() for cell in row if cell.value is not None]
        expect(sum(cell.value == text for cell in cells) == 2 and all(cell.data_type != "f" for cell in cells), f"the cover lost {text[:40]}")
    expect([row["by"] for row in info(records, job)] == hostile, "job info lost a name")
    for name in ("", " ", "two\nlines", "T" * 4000):
        expect("expected a name" in sign(records, job, "witnessed", by=name, status=2), f"signed by {name[:20]!r}")
    expect(len(info(records, job)) == len(hostile), "it was signed all the same")


def check_files(records):
    job = records.job("files", good_readings())
    sign(records, job, "accepted", by="=1+1, \"quoted\"")
    out = records.work / "exported"
    expect(records.run("job", "export", job, out).returncode == 0, "the job can't be exported")
    with (out / "signatures.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    held = {key: rows[0][key] for key in ("role", "by", "ready", "revision", "readings", "events", "meters", "results", "decisions")}
    expect(held == {"role": "accepted", "by": "=1+1, \"quoted\"", "ready": "yes", "revision": "1",
                    "readings": str(len(good_readings())), "events": "0", "meters": "0", "results": "0", "decisions": "0"}, f"{held}")
    summed = "sha256sum decisions.csv events.csv meters.csv readings.csv results.csv | sha256sum"
    done = subprocess.run(summed, shell=True, cwd=out, capture_output=True, text=True, check=True)
    expect(done.stdout.split()[0] == rows[0]["rows_sha256"], "another SHA-256 of the rows")
    other = records.job("other", good_readings())
    for added in ("1 signature added, 0 there already", "0 signatures added, 1 there already"):
        done = records.run("job", "import", other, "--signatures", out / "signatures.csv")
        expect(done.returncode == 0 and added in done.stdout, f"import: {done.stdout}{done.stderr}")
    expect(info(records, other) == info(records, job), "the signature of the same rows isn't the same in another job")
    empty = records.job("empty")
    expect(records.run("job", "import", empty, "--signatures", out / "signatures.csv").returncode == 0, "import into an empty job")
    expect(info(records, empty)[0]["reservations"] == ["signed for other rows than the job holds: not for this state"], "it passes for one of this job")


if __name__ == "__main__":
    run_checks("sign_check.py", [check_not_ready, check_state, check_hostile, check_files])
