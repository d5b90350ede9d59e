"""Full disk, jobs that can't be served, many connections, signals at awkward moments."""

import os
import resource
import signal
import sqlite3
import subprocess
import time

from bench import PATIENCE, Bench, QUICKSTART, equal, expect, reading, row_counts, rows_of
from http_rules import check_error


def take_no_signal():
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)


def check_full_disk(jobs):
    """A file that may not grow stands for a full disk: 507, nothing half, and later sends succeed."""
    with jobs.serve("full.rtj", preexec_fn=take_no_signal) as bench:
        equal(bench.post("readings", reading("D0")).status, 201, "before the disk is full")
        free = resource.prlimit(bench.process.pid, resource.RLIMIT_FSIZE)
        resource.prlimit(bench.process.pid, resource.RLIMIT_FSIZE, (4096, free[1]))
        bodies = {"readings": reading("D1"), "withdrawals": {"id": "D2", "supersedes": "D0", "time": reading("")["time"]},
                  "changes": {"id": "D3", "kind": "temporary-made", "points": ["X3:1"], "time": reading("")["time"]}}
        before = row_counts(bench.job)
        for path, body in bodies.items():
            for _ in range(3):
                refused = bench.post(path, body)
                check_error(refused, 507, f"POST {path} on a full disk")
                expect("disk is full" in refused.error()["text"], f"a full disk: {refused.error()}")
        equal(row_counts(bench.job), before, "rows after a full disk")
        equal(bench.get("state").status, 200, "GET on a full disk")
        resource.prlimit(bench.process.pid, resource.RLIMIT_FSIZE, free)
        for path, body in bodies.items():
            equal(bench.post(path, body).status, 201, f"POST {path} when there is room again")
        equal(rows_of(bench.job, "SELECT id FROM reading ORDER BY number"), [("D0",), ("D1",), ("D2",)], "readings")
        equal(rows_of(bench.job, "PRAGMA integrity_check"), [("ok",)], "integrity after a full disk")


def check_busy(jobs):
    """Another process that keeps the job for long: 503 with Retry-After, and a reading sent again is taken."""
    with jobs.serve("busy.rtj") as bench:
        keeper = sqlite3.connect(bench.job, isolation_level=None)
        try:
            keeper.execute("BEGIN IMMEDIATE")
            refused = bench.post("readings", reading("W1"))
            check_error(refused, 503, "POST to a busy job")
            equal(refused.headers["Retry-After"], "1", "a busy job: Retry-After")
            equal(bench.get("state").status, 200, "GET of a busy job")
            keeper.execute("ROLLBACK")
        finally:
            keeper.close()
        equal(bench.post("readings", reading("W1")).status, 201, "sent again")
        equal(rows_of(bench.job, "SELECT id FROM reading"), [("W1",)], "readings")


def check_read_only(jobs):
    """A job that may not be written to is served for reading; a POST is 503 and adds nothing."""
    job = jobs.new("locked.rtj")
    jobs.work.chmod(0o755)
    job.chmod(0o444)
    nobody = {"user": 65534, "group": 65534} if os.geteuid() == 0 else {}  # for root nothing is read-only
    with Bench(jobs.ringtrue, job, **nobody) as bench:
        equal(bench.get("state").json()["counts"]["readings"], 0, "state of a job that is only read")
        refused = bench.post("readings", reading("O1"))
        check_error(refused, 503, "POST to a job that may not be written to")
        expect("read-only" in refused.error()["text"] or "written" in refused.error()["text"], f"{refused.error()}")
    equal(row_counts(job)[2], 0, "rows of a job that may not be written to")


def refuse(jobs, job, text):
    """One sentence, status 2, nothing on stdout."""
    done = jobs.run("serve", job)
    equal((done.returncode, done.stdout), (2, ""), f"serve {job.name}")
    expect(done.stderr.count("\n") == 1 and text in done.stderr, f"serve {job.name} says {done.stderr!r}, not {text!r}")


def check_unservable(jobs):
    refuse(jobs, jobs.work / "missing.rtj", "missing.rtj")
    refuse(jobs, QUICKSTART, "netlists/quickstart")
    text = jobs.work / "text.rtj"
    text.write_text("no job\n" * 100, encoding="utf-8")
    refuse(jobs, text, "text.rtj")
    newer = jobs.new("newer.rtj")
    with sqlite3.connect(newer) as connection:
        connection.execute("PRAGMA user_version = 99")
    connection.close()
    refuse(jobs, newer, "newer")
    damaged = jobs.new("damaged.rtj")
    data = bytearray(damaged.read_bytes())
    for at in range(len(data) // 2, len(data) // 2 + 8192, 7):
        data[at] ^= 0xFF
    damaged.write_bytes(data)
    refuse(jobs, damaged, "damaged.rtj")


def check_damage_while_serving(jobs):
    """A job that is damaged under the server: 500 or 503 and never an acknowledgement; the page goes on."""
    with jobs.serve("torn.rtj") as bench:
        equal(bench.post("readings", reading("X1")).status, 201, "before the damage")
        with open(bench.job, "r+b") as file:
            size = file.seek(0, 2)
            file.seek(4096)
            file.write(b"\xa5" * (size - 4096))
        answer = bench.post("readings", reading("X2"))
        if answer.status >= 400:
            expect(answer.status in (500, 503) and answer.error()["text"], f"a damaged job: {answer.body!r}")
        equal(bench.get("icon.svg").status, 200, "assets beside a damaged job")


def check_many_connections(jobs):
    """128 connections are held; the next ones are told to come again, and are let in when others have gone."""
    with jobs.serve("many.rtj") as bench:
        held = [bench.connect() for _ in range(128)]
        end = time.monotonic() + PATIENCE
        try:
            for link in held:
                link.sendall(b"GET /sta")
            while (refused := bench.get("icon.svg")).status != 503:
                expect(time.monotonic() < end, "nobody is turned away")
            check_error(refused, 503, "connection 129")
            equal((refused.headers["Retry-After"], refused.headers["Connection"]), ("1", "close"), "connection 129")
            before = row_counts(bench.job)
            check_error(bench.post("readings", reading("N1")), 503, "a reading by connection 129")
            equal(row_counts(bench.job), before, "rows")
        finally:
            for link in held:
                link.close()
        while (answer := bench.post("readings", reading("N1"))).status == 503:
            expect(time.monotonic() < end, "nobody is let in any more")
            time.sleep(0.1)
        equal(answer.status, 201, "sent again")


def check_early_signals(jobs):
    """Asked to end at any moment after it said its address, it ends."""
    job = jobs.new("early.rtj", QUICKSTART)
    for turn in range(40):
        process = subprocess.Popen([jobs.ringtrue, "serve", job], stdout=subprocess.PIPE, text=True)
        try:
            process.stdout.readline()
            time.sleep(turn % 4 * 0.0005)
            process.send_signal(signal.SIGTERM)
            equal(process.wait(PATIENCE), 0, f"status after an early SIGTERM, turn {turn}")
        finally:
            process.kill()
            process.stdout.close()
            process.wait(PATIENCE)


def check_other_address(jobs):
    """IPv6's own loopback address, where this machine has one."""
    with open("/proc/net/if_inet6", encoding="ascii") as file:
        if "00000000000000000000000000000001" not in file.read():
            print("http_check.py: no IPv6 here; ::1 is not tried")
            return
    process = subprocess.Popen([jobs.ringtrue, "serve", jobs.new("six.rtj"), "--host", "::1"], stdout=subprocess.PIPE, text=True)
    try:
        expect("http://[::1]:" in process.stdout.readline(), "address of ::1")
    finally:
        process.terminate()
        process.stdout.close()
        equal(process.wait(PATIENCE), 0, "status at ::1")


def check_all(jobs):
    check_full_disk(jobs)
    check_busy(jobs)
    check_read_only(jobs)
    check_unservable(jobs)
    check_damage_while_serving(jobs)
    check_many_connections(jobs)
    check_early_signals(jobs)
    check_other_address(jobs)
