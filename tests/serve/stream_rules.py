"""Server-sent events: HTML standard, 9.2.5 and 9.2.6, and what the stream brings when."""

import json
import signal
import time

from bench import PATIENCE, equal, expect, reading, row_counts, rows_of
from http_rules import SECURITY, check_common, check_error

MOST_STREAMS = 96


class Stream:
    """Reads one stream as the standard says, chunks as RFC 9112, 7.1 does."""

    def __init__(self, bench):
        self.link = bench.connect()
        self.link.sendall(bench.head("GET", "stream", Accept="text/event-stream"))
        self.file = self.link.makefile("rb")
        self.status = self.file.readline()
        lines = iter(lambda: self.file.readline().rstrip(b"\r\n"), b"")
        self.fields = {name: value for name, _, value in (line.decode().partition(": ") for line in lines)}
        self.rest, self.comments, self.ended = b"", 0, False

    def close(self):
        self.file.close()
        self.link.close()

    def chunk(self):
        size = self.file.readline()
        length = int(size or b"0", 16)
        data = self.file.read(length)
        equal(self.file.readline() if size else b"\r\n", b"\r\n", "end of a chunk")
        self.ended = length == 0
        return data

    def event(self):
        """The next one that has data: (type, last id, data); None at the end of the stream. 9.2.6"""
        kind, identity, data = "", None, []
        while True:
            while b"\n" not in self.rest:
                self.rest += self.chunk()
                if self.ended:
                    return None
            line, _, self.rest = self.rest.partition(b"\n")
            expect(b"\r" not in line, "a carriage return within a line")
            name, _, value = line.decode("utf-8").partition(":")
            value = value.removeprefix(" ")
            if not line and data:
                return kind or "message", identity, "\n".join(data)
            if not line:
                kind = ""
            elif not name:
                self.comments += 1
                return "", None, ""
            elif name == "data":
                data.append(value)
            elif name == "id":
                identity = value
            elif name == "event":
                kind = value
            else:
                expect(name == "retry" and value.isdigit(), f"an unknown field {name!r}")

    def state(self):
        """The next state, comments passed over."""
        while (event := self.event()) and event[0] == "":
            pass
        expect(event, "the stream ended")
        kind, identity, data = event
        state = json.loads(data)
        equal((kind, identity), ("state", str(state["version"])), "an event of the stream")
        return state


def check_events(bench):
    stream = Stream(bench)
    equal(stream.status, b"HTTP/1.1 200 OK\r\n", "status of the stream")
    equal(stream.fields["Content-Type"], "text/event-stream", "Content-Type of the stream")
    expect("Content-Length" not in stream.fields and "Content-Encoding" not in stream.fields, f"{stream.fields}")
    equal({name: stream.fields.get(name) for name in SECURITY}, SECURITY, "security headers of the stream")
    began = time.monotonic()
    state = stream.state()
    expect(time.monotonic() - began < 1, "the first state doesn't come at once")
    now = bench.get("state").json()
    equal({**state, "now": ""}, {**now, "now": ""}, "the first state and GET state")
    for turn in range(5):
        began = time.monotonic()
        equal(bench.post("readings", reading(f"S{turn}")).status, 201, "a reading")
        newer = stream.state()
        expect(time.monotonic() - began < 2, "the next state takes long")
        expect(newer["version"] > state["version"], f"ids don't rise: {state['version']}, {newer['version']}")
        equal((newer["counts"]["readings"], newer["last"][0]["id"]), (turn + 1, f"S{turn}"), "what the stream tells")
        state = newer
    while stream.comments < 2:
        equal(stream.event(), ("", None, ""), "in a quiet time only comments come")
    stream.close()


def check_other_processes(jobs, bench):
    """What another process adds comes by the stream: rows, and a revision of the netlist."""
    stream = Stream(bench)
    before = stream.state()
    source = jobs.work / "more.csv"
    source.write_text("from,to,value,id\nX3:2.int,X3:2.ext,beep,I1\n", encoding="utf-8")
    equal(jobs.run("job", "import", bench.job, source).returncode, 0, "import while serving")
    after = stream.state()
    equal(after["counts"]["readings"], before["counts"]["readings"] + 1, "an imported reading")
    equal(after["last"][0]["id"], "I1", "the newest row")
    netlist = jobs.work / "revised"
    netlist.mkdir()
    for path in bench.netlist.glob("*.csv"):
        text = path.read_text(encoding="utf-8")
        if path.name == "panel.csv":
            text = text.replace("revision,B", "revision,Z")
        if path.name == "channels.csv":
            text = text.replace("HOPPER_NOT_FULL", "HOPPER_ROOM")
        if not path.name.startswith("readings"):
            (netlist / path.name).write_text(text, encoding="utf-8")
    done = jobs.run("job", "revise", bench.job, netlist)
    equal(done.returncode, 0, f"revise: {done.stderr}")
    while (state := stream.state())["revision"] != "Z":
        expect(state["revision"] == "B", f"revision {state['revision']}")
    equal(bench.get("search?q=HOPPER_ROOM").json()["matches"][0]["name"], "HOPPER_ROOM", "a name of the new revision")
    equal(bench.get("search?q=HOPPER_NOT_FULL").json()["matches"], [], "a name of the old revision")
    equal(bench.post("readings", reading("V1", to="hopper_room")).status, 201, "a reading by a name of the new revision")
    check_error(bench.post("readings", reading("V2", to="HOPPER_NOT_FULL")), 422, "by a name of the old revision")
    equal(state["counts"]["readings"], after["counts"]["readings"], "readings after the revision")
    stream.close()


def check_many(bench):
    """Ninety-six pages at once, each served; the next is told to come again. A closed one makes room."""
    streams = [Stream(bench) for _ in range(MOST_STREAMS)]
    try:
        for number, stream in enumerate(streams):
            expect(stream.status.startswith(b"HTTP/1.1 200"), f"stream {number}: {stream.status}")
            stream.state()
        refused = bench.get("stream")
        check_error(refused, 503, "stream 97")
        equal(refused.headers["Retry-After"], "1", "stream 97: Retry-After")
        equal(bench.post("readings", reading("M1")).status, 201, "a reading beside 96 pages")
        for stream in streams:
            equal(stream.state()["last"][0]["id"], "M1", "what each of 96 pages is told")
        streams.pop().close()
        end = time.monotonic() + PATIENCE
        while True:
            stream = Stream(bench)
            if stream.status.startswith(b"HTTP/1.1 200"):
                streams.append(stream)
                break
            stream.close()
            expect(time.monotonic() < end, "a closed page makes no room")
            time.sleep(0.2)
    finally:
        for stream in streams:
            stream.close()


def check_old_clients(bench):
    """RFC 9112, 6.1: nothing chunked for HTTP/1.0. RFC 9110, 9.3.2: HEAD holds no place among the streams."""
    head = bench.head("GET", "stream").replace(b"HTTP/1.1", b"HTTP/1.0")
    came, closed = bench.exchange(head)
    expect(closed and came.startswith(b"HTTP/1.1 505 ") and b"chunked" not in came, f"HTTP/1.0: {came[:300]!r}")
    for _ in range(MOST_STREAMS + 5):
        equal(bench.ask("HEAD", "stream").status, 200, "HEAD stream")


def check_end(jobs):
    """SIGTERM and SIGINT end the streams and the process, soon and with status 0; what was acknowledged is there."""
    for by in (signal.SIGTERM, signal.SIGINT):
        with jobs.serve(f"end{int(by)}.rtj") as bench:
            streams = [Stream(bench) for _ in range(5)]
            for stream in streams:
                stream.state()
            idle, slow = bench.connect(), bench.connect()
            slow.sendall(b"GET /sta")
            equal(bench.post("readings", reading("L1")).status, 201, "a reading before the end")
            began = time.monotonic()
            bench.process.send_signal(by)
            while (dripping := bench.process.poll()) is None and time.monotonic() - began < PATIENCE:
                try:
                    slow.sendall(b"t")  # a client that never ends its request doesn't keep the server
                except OSError:
                    pass
                time.sleep(0.3)
            equal(dripping, 0, f"status after {by.name}")
            expect(time.monotonic() - began < 8, f"{by.name} takes {time.monotonic() - began:.1f} s")
            for stream in streams:
                while stream.event():
                    pass
                stream.close()
            idle.close()
            slow.close()
            equal(rows_of(bench.job, "SELECT id FROM reading"), [("L1",)], "what was acknowledged")
            equal(row_counts(bench.job)[0], 1, "netlists")


def check_all(jobs):
    with jobs.serve("stream.rtj") as bench:
        check_common(bench.get("state"), "state")
        check_events(bench)
        check_other_processes(jobs, bench)
        check_old_clients(bench)
    with jobs.serve("many.rtj") as bench:
        check_many(bench)
    check_end(jobs)
