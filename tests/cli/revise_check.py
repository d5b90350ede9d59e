#!/usr/bin/env python3
"""A revision loaded into a job of the quick start: which readings it leaves, in every verb, and while others have it open.

    revise_check.py --ringtrue BINARY
"""

import argparse
import csv
import json
import re
import shutil
import subprocess
import tempfile
import time
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
FIRST, SECOND = ROOT / "netlists/quickstart", ROOT / "netlists/quickstart-b"
READINGS = FIRST / "readings-good.csv"
PATIENCE = 60


def expect(condition, text):
    if not condition:
        raise SystemExit(f"revise_check.py: {text}")


def pairs(rows):
    return {(*sorted((row["from"], row["to"])), row["conditions"]) for row in rows}


class Jobs:
    def __init__(self, ringtrue, work):
        self.ringtrue, self.work = ringtrue, work

    def run(self, *words, status=0, text=None):
        done = subprocess.run([self.ringtrue, *words], capture_output=True, text=True, input=text)
        expect(done.returncode == status, f"{words}: status {done.returncode}: {done.stdout[-500:]}{done.stderr}")
        return done.stdout

    def json(self, *words, status=0):
        return json.loads(self.run(*words, "--json", status=status))

    def new(self, name, *words):
        job = self.work / name
        self.run("job", "new", job, FIRST, "--readings", READINGS, *words)
        return job

    def clamps_not_opened(self):
        """The readings that `retest` calls valid, and what it says is to be taken."""
        said = self.json("retest", FIRST, SECOND, READINGS)
        return {one["id"] for one in said["readings"] if one["validity"] == "valid"}, said["to_take"]


def check_rewired(jobs, valid, to_take):
    """What isn't valid is stale with its reason; the same readings are planned as by `retest`; taken, all is well."""
    job = jobs.new("rewired.rtj")
    said = jobs.run("job", "revise", job, SECOND)
    with open(READINGS, newline="", encoding="utf-8") as file:
        rows = {row["id"]: row for row in csv.DictReader(file)}
    expect(f"{len(rows) - len(valid)} of {len(rows)} readings" in said, f"revise says {said}")
    compared = jobs.json("compare", job)
    expect(set(compared["stale"]) == set(rows) - valid, f"stale: {compared['stale']}")
    expect(compared["summary"]["disagree"] == 0 and not compared["findings"], "old readings speak of the new drawing")
    why = {reading: group["why"] for group in compared["why_stale"] for reading in group["readings"]}
    expect(set(why) == set(compared["stale"]), f"reasons: {why}")
    expect(why["R010"] == "wire 9 was moved at X1:6.int by revision B", f"of R010: {why['R010']}")
    expect(why["R030"] == "wire 16 was added at K1:12 by revision B", f"of R030: {why['R030']}")
    text = jobs.run("compare", job)
    expect("Wire 9 was moved at X1:6.int by revision B: R001," in text, f"compare says {text}")
    planned = jobs.json("plan", job)["readings"]
    expect(pairs(planned) == pairs(to_take), f"planned: {planned}, by retest {to_take}")

    beside = jobs.json("compare", SECOND, job)
    expect(beside["stale"] == compared["stale"], f"with the netlist of files: {beside['stale']}")
    kept = jobs.json("retest", FIRST, SECOND, job)
    expect({one["id"] for one in kept["readings"] if one["validity"] == "valid"} == valid, "retest OLD NEW JOB")
    record = jobs.work / "record"
    jobs.run("record", job, record, status=1)
    with open(record / "punch.csv", newline="", encoding="utf-8") as file:
        punched = [row for row in csv.DictReader(file) if row["kind"] == "stale reading"]
    expect(len(punched) > 15 and all("by revision B" in row["what"] for row in punched), f"punch list: {punched}")

    again = pairs(rows[reading] for reading in compared["stale"])
    taken = jobs.work / "again.csv"
    with open(taken, "w", newline="", encoding="utf-8") as file:
        out = csv.DictWriter(file, ["from", "to", "value", "conditions", "id"])
        out.writeheader()
        for number, reading in enumerate(sorted(compared["stale"]), 1):
            row = rows[reading]
            out.writerow({**{key: row[key] for key in ("from", "to", "value", "conditions")}, "id": f"N{number}"})
        new = [row for row in planned if (*sorted((row["from"], row["to"])), row["conditions"]) not in again]
        for number, row in enumerate(new, 1):
            out.writerow({"from": row["from"], "to": row["to"], "value": row["expect"], "conditions": row["conditions"],
                          "id": f"P{number}"})
    jobs.run("job", "import", job, taken)
    compared = jobs.json("compare", job)
    expect(compared["summary"]["disagree"] == 0 and compared["why_stale"] == [], f"taken again: {compared['why_stale']}")
    expect(jobs.json("plan", job)["readings"] == [], "something is left to plan")
    expect("Stale" not in jobs.run("compare", job), "what was read again is told as stale")
    said = jobs.run("job", "revise", job, SECOND)
    expect("nothing added" in said and "to be read again" not in said, f"all was read again, and revise says {said}")
    info = jobs.json("job", "info", job)["netlists"]
    expect([(one["as_built"], one["readings"]) for one in info]
           == [(False, len(rows)), (False, len(compared["stale"]) + len(new))], f"info: {info}")


def check_gone(jobs):
    """What has no place in the revision is told, and nobody is sent to read it again."""
    one = "wire,from,to\n1,K1:A1,X1:5.int\n"
    for name, text in ("both", one + "2,K1:A2,X1:6.int\n"), ("one", one), ("two", one + "3,K1:A1,X1:7.int\n"):
        (jobs.work / name).mkdir()
        (jobs.work / name / "conductors.csv").write_text(text, encoding="utf-8")
    taken = jobs.work / "both.csv"
    taken.write_text("from,to,value,id\nK1:A1,X1:5.int,beep,R1\nK1:A2,X1:6.int,beep,R2\n", encoding="utf-8")
    for name, again in ("one", None), ("two", "1 of 2 readings"):
        job = jobs.work / f"{name}.rtj"
        jobs.run("job", "new", job, jobs.work / "both", "--readings", taken)
        said = jobs.run("job", "revise", job, jobs.work / name)
        expect(again in said if again else "to be read again" not in said, f"{name}: revise says {said}")
        compared = jobs.run("compare", job)
        to_take, _, gone = compared.partition("Stale, and the drawing has no place for them now:\n")
        expect("R2" in gone.partition("\n\n")[0], f"{name}: compare says {compared}")
        expect(("Stale; take them again:\n" in to_take) == bool(again), f"{name}: compare says {compared}")


def check_as_built(jobs):
    """A drawing that was changed to what is there leaves every reading as it is, judged by it."""
    job = jobs.new("as-built.rtj")
    jobs.run("job", "revise", job, SECOND, "--as-built")
    by_job = jobs.json("compare", job)
    by_files = jobs.json("compare", SECOND, READINGS)
    expect(by_job["summary"] == by_files["summary"], f"as built: {by_job['summary']}, by files {by_files['summary']}")
    expect(by_job["summary"]["stale"] == 0, "as built makes readings stale")


def check_renamed(jobs):
    """A relay and a strip of other names, and other wire numbers: nothing is to be read again."""
    later = jobs.work / "renamed"
    shutil.copytree(FIRST, later, ignore=shutil.ignore_patterns("readings*", "meters*", "faults*"))
    for path in later.glob("*.csv"):
        text = re.sub(r"\bK1\b", "K71", re.sub(r"\bX1\b", "X71", path.read_text(encoding="utf-8")))
        text = text.replace("revision,A", "revision,C")
        if path.name == "conductors.csv":
            text = re.sub(r"^(\d+),", r"9\1,", text, flags=re.MULTILINE)
        path.write_text(text, encoding="utf-8")
    job = jobs.new("renamed.rtj")
    before = jobs.json("compare", job)
    jobs.run("job", "revise", job, later)
    after = jobs.json("compare", job)
    expect(after["summary"] == before["summary"], f"renamed: {after['summary']}, before {before['summary']}")
    said = jobs.json("retest", FIRST, later, READINGS)
    expect({(one["before"], one["after"]) for one in said["renamed"]} == {("K1", "K71"), ("X1", "X71")},
           f"renamed parts: {said['renamed']}")
    expect({one["validity"] for one in said["readings"]} == {"valid"}, "a renaming makes readings invalid")


def check_log(jobs):
    """A session that is open takes the revision in, says so, and asks for the readings again."""
    job = jobs.new("log.rtj")
    log = subprocess.Popen([jobs.ringtrue, "log", job, "--by", "Ann"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                           stderr=subprocess.STDOUT, text=True)
    try:
        log.stdin.write("next\n")
        log.stdin.flush()
        while "help lists" not in (line := log.stdout.readline()):  # the session has read the job
            expect(line, "log ended before it had read the job")
        jobs.run("job", "revise", job, SECOND)
        said, _ = log.communicate("next\nX1:6.int X1:6.ext beep\n", timeout=PATIENCE)
    finally:
        log.kill()
    said = " ".join(said.split())
    expect("Another revision of the netlist counts now: Panel GD1, revision B. It touched 21 readings." in said,
           f"log says {said}")
    stale = jobs.json("compare", job)
    expect(stale["summary"]["stale"] == 21 and stale["summary"]["readings"] == 52, f"after log: {stale['summary']}")
    left = {reading for group in stale["why_stale"] for reading in group["readings"]}
    expect("R010" not in left and len(left) == 20, f"left to read again: {sorted(left)}")


def check_serve(jobs):
    """A page that is open gets the new state: how many readings went stale, and why each did."""
    job = jobs.new("serve.rtj")
    server = subprocess.Popen([jobs.ringtrue, "serve", job, "--port", "0"], stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, text=True)
    try:
        address = None
        while address is None:
            line = server.stdout.readline()
            expect(line, "serve says no address")
            address = re.search(r"http://\S+", line)
        address = address.group().rstrip("/.,")

        def state():
            with urllib.request.urlopen(address + "/state", timeout=PATIENCE) as answer:
                return json.load(answer)

        expect(state()["counts"]["outdated"] == 0, "a job of one revision has outdated readings")
        jobs.run("job", "revise", job, SECOND)
        end = time.monotonic() + PATIENCE
        while (now := state())["revision"] != "B":
            expect(time.monotonic() < end, "the revision doesn't come in")
            time.sleep(0.1)
        expect(now["counts"]["outdated"] == now["counts"]["stale"] == 21, f"counts: {now['counts']}")
        whys = {row["id"]: row["why_stale"] for row in now["last"]}
        expect(whys["R051"] == "wire 9 was moved at K1:A2 by revision B", f"why: {whys}")
        expect(now["next"][0]["why"] == "again", f"next: {now['next'][0]}")
    finally:
        server.terminate()
        server.wait(PATIENCE)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", required=True)
    call = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        jobs = Jobs(str(Path(call.ringtrue).resolve()), Path(folder))
        valid, to_take = jobs.clamps_not_opened()
        check_rewired(jobs, valid, to_take)
        check_gone(jobs)
        check_as_built(jobs)
        check_renamed(jobs)
        check_log(jobs)
        check_serve(jobs)
    print("revise_check.py: what a revision touched is stale in every verb, and nothing else is")


if __name__ == "__main__":
    main()
