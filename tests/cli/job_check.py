#!/usr/bin/env python3
"""Kills processes that append to a job, fills the disk under them, and reads jobs by Python's own sqlite3, csv and hashlib.

    job_check.py --ringtrue BINARY --append-readings BINARY [--seed N]
"""

import argparse
import csv
import hashlib
import json
import random
import resource
import signal
import sqlite3
import subprocess
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
QUICKSTART = ROOT / "netlists" / "quickstart"
KILLS = 20


def expect(condition, text):
    if not condition:
        raise SystemExit(f"job_check.py: {text}")


class Jobs:
    def __init__(self, arguments, work):
        self.ringtrue, self.appender = arguments.ringtrue.resolve(), arguments.append_readings.resolve()
        self.random, self.work = random.Random(arguments.seed), work

    def run(self, *words, **options):
        return subprocess.run([self.ringtrue, *words], capture_output=True, text=True, **options)

    def sound(self, *words):
        done = self.run(*words)
        expect(done.returncode in (0, 1), f"{words} ends with {done.returncode}: {done.stderr}")
        return done.stdout

    def new(self, name, *options):
        job = self.work / name
        self.sound("job", "new", job, QUICKSTART, *options)
        return job


def rows_of(job, query):
    connection = sqlite3.connect(job)
    try:
        return connection.execute(query).fetchall()
    finally:
        connection.close()


def check_kills(jobs):
    """Every acknowledged reading is there once; of the others at most the one at work when the process was killed."""
    job = jobs.new("killed.rtj")
    acknowledged, started = set(), 0
    for turn in range(KILLS):
        appending = subprocess.Popen([jobs.appender, job, f"T{turn}-", "100000"], stdout=subprocess.PIPE, text=True)
        time.sleep(jobs.random.uniform(0.0, 0.25))
        appending.send_signal(signal.SIGKILL)
        said = appending.communicate()[0]
        acknowledged.update(said[: said.rfind("\n") + 1].split())
        started += 1
        expect(appending.returncode == -signal.SIGKILL, f"turn {turn} ended with {appending.returncode}")
    expect(rows_of(job, "PRAGMA integrity_check") == [("ok",)], "after the kills integrity_check finds damage")
    ids = [row[0] for row in rows_of(job, "SELECT id FROM reading")]
    expect(len(ids) == len(set(ids)), "a reading is there twice")
    expect(acknowledged, "no reading was ever acknowledged, so nothing was tried")
    expect(acknowledged <= set(ids), f"lost: {sorted(acknowledged - set(ids))[:5]}")
    expect(len(ids) - len(acknowledged) <= started, "more readings are there than were under way")
    whole = rows_of(job, "SELECT DISTINCT \"from\", \"to\", value, note FROM reading")
    expect(whole == [("K1:A1", "X1:5.int", "beep", '"a, b"\nline two')], f"a reading is not whole: {whole}")
    jobs.sound("job", "info", job)
    return job, len(acknowledged)


def check_killed_imports(jobs):
    """An import is all there or not at all, and coming again completes it."""
    source = jobs.work / "many.csv"
    rows = "".join(f"K1:A1,X1:5.int,beep,R{i}\n" for i in range(5000))
    source.write_text("from,to,value,id\n" + rows, encoding="utf-8")
    job = jobs.new("imported.rtj")
    for _ in range(5):
        importing = subprocess.Popen([jobs.ringtrue, "job", "import", job, source], stdout=subprocess.DEVNULL)
        time.sleep(jobs.random.uniform(0.0, 0.1))
        importing.send_signal(signal.SIGKILL)
        importing.wait()
        expect(rows_of(job, "SELECT count(*) FROM reading")[0][0] in (0, 5000), "an import is there in part")
    jobs.sound("job", "import", job, source)
    expect(rows_of(job, "SELECT count(*) FROM reading") == [(5000,)], "the import is not whole")
    expect("0 readings added, 5000 there already" in jobs.sound("job", "import", job, source), "imported twice")


def check_export(jobs, job, name):
    """The exported files hold the rows of the database, and the netlist byte for byte."""
    out = jobs.work / name
    jobs.sound("job", "export", job, out)
    for table in ("reading", "event", "meter", "result"):
        with open(out / f"{table}s.csv", newline="", encoding="utf-8") as file:
            header, *rows = csv.reader(file)
        columns = [column for column in header if column not in ("superseded_by", "netlist")]
        listed = ", ".join(f'"{column}"' for column in columns)
        stored = rows_of(job, f"SELECT {listed} FROM {table} ORDER BY number")
        expect([row[: len(columns)] for row in rows] == [[cell or "" for cell in row] for row in stored],
               f"{table}s.csv and the job differ")
        if header[-1] == "netlist":
            under = rows_of(job, f"SELECT n.number || ' ' || substr(n.sha256, 1, 12) FROM {table} JOIN netlist n "
                                 f"ON n.number = {table}.netlist ORDER BY {table}.number")
            expect([row[-1] for row in rows] == [mark for (mark,) in under], f"marks in {table}s.csv")
    lines = "".join(f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {path.name}\n"
                    for path in sorted((out / "netlist").iterdir()))
    stored = rows_of(job, "SELECT sha256 FROM netlist")
    expect(stored == [(hashlib.sha256(lines.encode()).hexdigest(),)], "SHA-256 of the netlist is another")
    for path in (out / "netlist").iterdir():
        expect(path.read_bytes() == (QUICKSTART / path.name).read_bytes(), f"{path.name} was changed")


def check_import(jobs):
    """Rows of every kind are added once, and come back as the same from the exported files; a revision likewise."""
    job, out = jobs.new("every.rtj"), jobs.work / "every"
    readings, meters = QUICKSTART / "readings.csv", QUICKSTART / "meters.csv"
    events, results = jobs.work / "events.csv", jobs.work / "results.csv"
    events.write_text("time,by,kind,points\n2026-03-02T09:00:00Z,A,temporary-made,K1:A1;X1:5.int\n", encoding="utf-8")
    results.write_text('channel,stimulus,led,only_this,verdict,reason,time,by\nA1:0.3,jumper,lit,not looked,pass,'
                       '"""a"", b\nline two",2026-03-02T09:00:00Z,A\n', encoding="utf-8")
    call = ["job", "import", job, readings, "--events", events, "--meter", meters, "--results", results]
    expected = {"reading": 54, "event": 1, "meter": 2, "I/O result": 1}
    for again in (False, True):
        said = jobs.sound(*call).splitlines()
        for line, (kind, count) in zip(said, expected.items(), strict=True):
            added, there = (0, count) if again else (count, 0)
            text = f"{job}: {added} {kind}{'' if added == 1 else 's'} added, {there} there already"
            expect(line == text, f"import says {line!r}, not {text!r}")
    check_export(jobs, job, "every")
    from_export = ["job", "import", job, out / "readings.csv", "--events", out / "events.csv", "--meter",
                   out / "meters.csv", "--results", out / "results.csv"]
    expect(jobs.sound(*from_export).count(": 0 ") == 4, "exported rows are added again")
    expect("nothing added" in jobs.sound("job", "revise", job, QUICKSTART), "an unchanged netlist is a revision")
    said = jobs.sound("job", "revise", job, ROOT / "netlists" / "grain-dryer")
    info = json.loads(jobs.sound("job", "info", job, "--json"))
    stored = [row[0] for row in rows_of(job, "SELECT sha256 FROM netlist ORDER BY number")]
    expect([netlist["sha256"] for netlist in info["netlists"]] == stored and len(stored) == 2, f"revisions: {info}")
    expect("revision 2 of the netlist added" in said and stored[1] in said, f"revise says {said}")
    expect(jobs.run("job", "import", job).returncode == 2, "an import of nothing is taken")


def check_verbs(jobs):
    """A job in place of the files gives what the files give."""
    readings, meters = QUICKSTART / "readings.csv", QUICKSTART / "meters.csv"
    job = jobs.new("quickstart.rtj", "--readings", readings, "--meter", meters)
    for verb in ("compare", "next"):
        files = json.loads(jobs.sound(verb, QUICKSTART, readings, "--meter", meters, "--json"))
        expect(json.loads(jobs.sound(verb, job, "--json")) == files, f"{verb} of the job is another than of the files")
    files = json.loads(jobs.sound("plan", QUICKSTART, "--done", readings, "--meter", meters, "--json"))
    expect(json.loads(jobs.sound("plan", job, "--json")) == files, "plan of the job is another than with --done")
    for words in (["trace"], ["check"], ["expect", "K1:11", "K1:14"]):
        verb, *rest = words
        extra = ["--meter", meters] if verb == "expect" else []
        files = jobs.sound(verb, QUICKSTART, *rest, *extra)
        expect(jobs.sound(verb, job, *rest) == files, f"{verb} of the job is another than of the files")
    jobs.sound("convert", job, jobs.work / "again.xml")
    jobs.sound("convert", QUICKSTART, jobs.work / "files.xml")
    expect((jobs.work / "again.xml").read_bytes() == (jobs.work / "files.xml").read_bytes(), "convert differs")
    done = jobs.run("compare", job, readings)
    expect(done.returncode == 2 and "a job holds its own readings" in done.stderr, f"readings twice: {done.stderr}")
    return job


def check_full_disk(jobs):
    """A file that may not grow stands for a full disk; the job stays as it was."""

    def limit_to(size):
        def prepare():
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))

        return prepare

    job = jobs.new("full.rtj")
    done = jobs.run("job", "import", job, jobs.work / "many.csv", preexec_fn=limit_to(65536))
    expect(done.returncode == 2 and not done.stdout, f"import on a full disk ends with {done.returncode}")
    expect("the disk is full; nothing of this was written" in done.stderr, f"a full disk: {done.stderr}")
    expect(rows_of(job, "SELECT count(*) FROM reading") == [(0,)], "a failed import left readings")
    expect(rows_of(job, "PRAGMA integrity_check") == [("ok",)], "a full disk damaged the job")
    made = jobs.run("job", "new", jobs.work / "none.rtj", QUICKSTART, preexec_fn=limit_to(16384))
    expect(made.returncode == 2 and "the disk is full" in made.stderr, f"new on a full disk: {made.stderr}")
    out = jobs.run("job", "export", jobs.work / "imported.rtj", jobs.work / "cut", preexec_fn=limit_to(65536))
    expect(out.returncode == 2 and "(File too large)" in out.stderr, f"export on a full disk: {out.stderr}")
    left = [path.name for path in jobs.work.iterdir() if path.name in ("none.rtj", "cut") or path.name.startswith(".")]
    expect(not left, f"a full disk leaves {left}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    parser.add_argument("--append-readings", type=Path, required=True)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(1 << 31))
    arguments = parser.parse_args()
    print(f"job_check.py: seed {arguments.seed}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        jobs = Jobs(arguments, Path(folder))
        killed, count = check_kills(jobs)
        check_export(jobs, killed, "killed")
        check_killed_imports(jobs)
        check_import(jobs)
        check_export(jobs, check_verbs(jobs), "quickstart")
        check_full_disk(jobs)
    print(f"job_check.py: {KILLS} kills, all {count} acknowledged readings there once; exports as Python reads the job")


if __name__ == "__main__":
    main()
