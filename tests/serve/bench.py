"""A bench page's server in a temporary folder, asked by Python's http.client and by bare sockets."""

import http.client
import json
import os
import signal
import socket
import sqlite3
import subprocess
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
GRAIN_DRYER = ROOT / "netlists" / "grain-dryer"
QUICKSTART = ROOT / "netlists" / "quickstart"
PATIENCE = 20 * int(os.environ.get("RINGTRUE_TIMES_SLOWER", "1"))  # seconds after which something counts as hanging
TABLES = ("netlist", "netlist_file", "reading", "event", "meter", "result")


def expect(condition, text):
    if not condition:
        raise SystemExit(f"http_check.py: {text}")


def equal(found, expected, text):
    expect(found == expected, f"{text}: {found!r}, not {expected!r}")


def reading(name, **changes):
    """A reading that agrees with the drawing of the grain dryer."""
    row = {"id": name, "from": "X3:1.int", "to": "X3:1.ext", "value": "beep", "time": "2026-03-02T09:00:00.125Z"}
    return {**row, **changes}


def rows_of(job, query, *values):
    connection = sqlite3.connect(job, timeout=PATIENCE)
    try:
        return connection.execute(query, values).fetchall()
    finally:
        connection.close()


def row_counts(job):
    return [rows_of(job, f"SELECT count(*) FROM {table}")[0][0] for table in TABLES]


class Answer:
    def __init__(self, response):
        self.status, self.headers, self.body = response.status, response.headers, response.read()

    def json(self):
        return json.loads(self.body.decode("utf-8"))

    def error(self):
        return self.json()["error"]


class Bench:
    """`ringtrue serve` of a job; its end with status 0 is part of every use."""

    def __init__(self, ringtrue, job, *options, **process):
        self.job, self.netlist = Path(job), GRAIN_DRYER
        self.process = subprocess.Popen([ringtrue, "serve", job, "--port", "0", *options], stdout=subprocess.PIPE,
                                        stderr=subprocess.PIPE, text=True, **process)
        said = ""
        while "http://" not in said and (line := self.process.stdout.readline()):  # a job's name may have line ends
            said += line
        expect(said.startswith(f"{job}: http://"), f"serve says {said!r} {self.process.stderr.read() if not line else ''}")
        self.address = said.removeprefix(f"{job}: ").strip()
        authority, _, self.base = self.address.removeprefix("http://").partition("/")
        self.port = int(authority.rsplit(":", 1)[1])
        self.base = "/" + self.base
        self.host = f"127.0.0.1:{self.port}"

    def __enter__(self):
        return self

    def __exit__(self, failure, *_):
        if failure:
            self.process.kill()
        elif self.process.poll() is None:
            equal(self.stop(), 0, "exit status after SIGTERM")
        self.process.stdout.close()
        self.process.stderr.close()
        self.process.wait(PATIENCE)

    def stop(self, by=signal.SIGTERM):
        self.process.send_signal(by)
        return self.process.wait(PATIENCE)

    def connect(self, source="127.0.0.1"):
        return socket.create_connection(("127.0.0.1", self.port), PATIENCE, (source, 0))

    def ask(self, method, path, body=None, headers=None, source="127.0.0.1"):
        """`path` without a / at its beginning is below the page's address."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, PATIENCE, (source, 0))
        try:
            connection.request(method, path if path.startswith("/") else self.base + path, body, headers or {})
            return Answer(connection.getresponse())
        finally:
            connection.close()

    def get(self, path, **headers):
        return self.ask("GET", path, headers={name.replace("_", "-"): value for name, value in headers.items()})

    def post(self, path, body, **headers):
        """Sends a dictionary as JSON, bytes and text as they are."""
        if isinstance(body, dict):
            body = json.dumps(body)
        given = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.ask("POST", path, body, {"Content-Type": "application/json", **given})

    def head(self, method, path="", **headers):
        """The bytes of a request's beginning."""
        lines = [f"{method} {self.base}{path} HTTP/1.1"]
        given = {"Host": self.host, **{name.replace("_", "-"): value for name, value in headers.items()}}
        lines += [f"{name}: {value}" for name, value in given.items() if value is not None]
        return ("\r\n".join(lines) + "\r\n\r\n").encode("latin-1")

    def exchange(self, sent, wait=PATIENCE):
        """All that comes back until the server closes, or `wait` seconds: (bytes, whether it closed)."""
        with self.connect() as link:
            link.settimeout(wait)
            came = b""
            try:
                link.sendall(sent)
            except OSError:
                pass  # it may answer and close before all is sent
            try:
                while part := link.recv(65536):
                    came += part
            except TimeoutError:
                return came, False
            except ConnectionError:
                pass
            return came, True

    def wait_for_state(self, holds, text):
        end = time.monotonic() + PATIENCE
        while not holds(state := self.get("state").json()):
            expect(time.monotonic() < end, text)
            time.sleep(0.05)
        return state


def statuses(came):
    """Status codes of all the answers in what came back."""
    codes, rest = [], came
    while rest.startswith(b"HTTP/1.1 "):
        head, _, rest = rest.partition(b"\r\n\r\n")
        codes.append(int(head.split()[1]))
        length = [line.split(b":")[1] for line in head.split(b"\r\n") if line.lower().startswith(b"content-length:")]
        rest = rest[int(length[0]) if length else 0:]
    return codes


class Jobs:
    def __init__(self, ringtrue, work):
        self.ringtrue, self.work = ringtrue, work

    def run(self, *words):
        return subprocess.run([self.ringtrue, *words], capture_output=True, text=True)

    def new(self, name, netlist=GRAIN_DRYER):
        job = self.work / name
        done = self.run("job", "new", job, netlist)
        equal(done.returncode, 0, f"job new: {done.stderr}")
        return job

    def serve(self, name, *options, netlist=GRAIN_DRYER, **process):
        return Bench(self.ringtrue, self.new(name, netlist), *options, **process)
