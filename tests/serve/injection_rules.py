"""What a client sends or a job holds makes no line of an answer: no header, no second answer, no event of the stream
(RFC 9112, 4 and 5; HTML standard, 9.2.6). Answers are read from the bare bytes, and every field of a head is known."""

import csv
import json
import re
import shutil
from urllib.parse import quote

from bench import QUICKSTART, Bench, equal, expect, reading, row_counts
from http_rules import SECURITY, check_error

# Line ends of HTTP, of event streams and of Unicode, what ends a text in C, a JSON text or an element of markup.
BREAKS = ["\r\nX-Bad: 1\r\n\r\n{}", "\n\ndata: bad\n\n", "\rX-Bad: 1", "\0X-Bad: 1", "\v\f\x1b", "a\x7fb"]
LINES = ["a\x85X-Bad: 1", "a\u2028data: bad", "a\u2029\u2029event: bad", "\"', \\\" \\n \\u000a %0d%0aX-Bad: 1", "</script>-->]]>"]
JSON = {"Content-Type": "application/json"}
KNOWN = {
    **{name: re.escape(value) for name, value in SECURITY.items()},
    "Accept-Ranges": "none", "Vary": "Accept-Encoding", "Date": r"\w{3}, \d\d \w{3} \d{4} \d\d:\d\d:\d\d GMT",
    "Content-Length": r"\d+", "Connection": "close", "Keep-Alive": r"timeout=\d+, max=\d+", "Retry-After": "1",
    "Content-Type": r"application/json|image/svg\+xml|text/(html|css|javascript); charset=utf-8", "Allow": "[A-Z, ]+",
    "Content-Encoding": "gzip|br",
}


def fields_of(head, what):
    """The fields of a head in which each line is one that is meant."""
    status, *lines = head.decode("ascii").split("\r\n")
    expect(re.fullmatch(r"HTTP/1\.1 \d{3} [A-Za-z ]+", status), f"{what}: {status!r}")
    lines = set(lines) if lines.count("Connection: close") == 2 else lines  # the library adds one to ours
    fields = dict(line.split(": ", 1) for line in lines)
    equal(len(fields), len(lines), f"{what}: fields of {lines}")
    for name, value in fields.items():
        expect(name in KNOWN and re.fullmatch(KNOWN[name], value), f"{what}: {name!r}: {value!r} isn't meant")
    return int(status.split()[1]), fields


def answer_to(bench, target, what, method="GET", fields=None, body=b""):
    """Status and body of the one answer to a request whose target and fields are sent byte by byte."""
    lines = [b"%s %s%s HTTP/1.1" % (method.encode(), bench.base.encode(), target)]
    given = {b"Host": bench.host.encode(), b"Connection": b"close", **(fields or {})}
    if method == "POST":
        given = {b"Content-Type": b"application/json", b"Content-Length": b"%d" % len(body), **given}
    lines += [name + b": " + value for name, value in given.items()]
    came, closed = bench.exchange(b"\r\n".join(lines) + b"\r\n\r\n" + body)
    expect(closed, f"{what}: the connection stays open")
    head, end, content = came.removeprefix(b"HTTP/1.1 100 Continue\r\n\r\n").partition(b"\r\n\r\n")
    expect(end, f"{what}: no whole head in {came[:200]!r}")
    status, told = fields_of(head, what)
    equal(len(content), int(told["Content-Length"]), f"{what}: bytes behind the head")
    if told["Content-Type"] == "application/json" and "Content-Encoding" not in told:
        content = json.loads(content.decode("utf-8"))
    return status, content


def check_addresses(bench):
    """Paths, names of parameters and their values, in percent-encoding and as bare bytes."""
    for text in (*BREAKS, *LINES):
        coded = quote(text, safe="").encode()
        for target in (coded, b"state" + coded, b"bench.css" + coded, b"stream" + coded, coded + b"/state"):
            equal(answer_to(bench, target, target)[0], 404, target)
        for path, name in (("path", b"channel"), ("strip", b"name")):
            status, body = answer_to(bench, path.encode() + b"?" + name + b"=" + coded, f"{path} of {text!r}")
            equal((status, body["error"]["found"]), (404, text), f"{path} of {text!r}")
        for target in (b"search?q=", b"readings?newest=", b"map?width=", b"state?", b"icon.svg?x=", b"search?q=X1&"):
            equal(answer_to(bench, target + coded, target + coded)[0], 200, target + coded)
        bare = text.replace("\n", "").encode()  # a line end as such ends the line that the client sends
        for target in (bare, b"state" + bare, b"search?q=" + bare, b"path?channel=" + bare):
            expect(answer_to(bench, target, target)[0] in (200, 400, 404), target)


def check_fields(bench):
    """The library decodes %0d%0a in the values of fields, so these hold line ends. None of it is in a head, and what
    decides who is let in is taken as a whole."""
    before = row_counts(bench.job)
    own = bench.host.encode()
    for text in (*BREAKS, *LINES):
        for value in (quote(text, safe="").encode(), text.replace("\r", "").replace("\n", "").encode()):
            for name in (b"User-Agent", b"Cookie", b"Referer", b"Accept", b"Accept-Encoding", b"connection", b"X-Forwarded-For",
                         b"REMOTE_ADDR", b"Last-Event-ID", b"If-None-Match", b"Access-Control-Request-Headers", b"X\t%0d%0aX-Bad"):
                what = f"{name}: {value}"
                expect(answer_to(bench, b"state", what, fields={name: value})[0] in (200, 400), what)
            for name, given in ((b"Host", own), (b"Origin", b"http://" + own), (b"Sec-Fetch-Site", b"same-origin")):
                for method, target in (("GET", b"state"), ("GET", b"icon.svg"), ("POST", b"readings")):
                    what = f"{method} with {name}: {given + value}"
                    status, body = answer_to(bench, target, what, method, {name: given + value},
                                             json.dumps(reading("cut")).encode())
                    equal(status, 403, f"{what}: {str(body)[:200]}")
            for name, given, refused in ((b"Content-Type", b"application/json", 415), (b"Content-Length", b"2", 400),
                                         (b"Content-Encoding", b"gzip", 415), (b"Transfer-Encoding", b"chunked", 411),
                                         (b"Expect", b"100-continue", 422), (b"Range", b"bytes=0-1", None)):
                what = f"{name}: {given + value}"
                status, _ = answer_to(bench, b"readings", what, "POST", {name: given + value}, b"{}")
                expect(status == refused or (refused is None and status in (416, 422))
                       or (name == b"Content-Type" and status == 422 and value.startswith(b";")), f"{what}: {status}")
    equal(row_counts(bench.job), before, "rows after all these fields")


def first_event(bench):
    """The bytes of a stream's first event."""
    with bench.connect() as link:
        link.sendall(bench.head("GET", "stream"))
        came = b""
        while not came.endswith(b"\n\n\r\n"):
            part = link.recv(65536)
            expect(part, f"the stream ended: {came[-200:]!r}")
            came += part
    head, _, chunk = came.partition(b"\r\n\r\n")
    size, _, rest = chunk.partition(b"\r\n")
    equal(len(rest), int(size, 16) + 2, "the first chunk is the first event")
    return head, rest[:-2]


def check_stream(bench, held):
    """One event is four lines and an empty one, whatever the state holds; `held` are texts that are in it."""
    _, event = first_event(bench)
    expect(b"\r" not in event and b"\0" not in event, "a carriage return or NUL within an event")
    *lines, empty, end = event.decode("utf-8").split("\n")
    equal([line.split(": ", 1)[0] for line in lines], ["event", "id", "retry", "data"], "the fields of an event")
    equal((empty, end), ("", ""), "the end of an event")
    state = json.loads(lines[3].removeprefix("data: "))
    equal({**state, "now": ""}, {**bench.get("state").json(), "now": ""}, "the state of the stream")
    texts = json.dumps(state, ensure_ascii=False)
    for text in held:
        expect(json.dumps(text, ensure_ascii=False)[1:-1] in texts, f"{text!r} isn't in the state")


def check_bodies(bench):
    """What breaks a line is refused in every field of every address; the rest is taken and told as it was sent."""
    bodies = {"readings": reading("i1", by="AK", note="n", meter="M1", method="m", witness="w", supersedes="i0", conditions="c"),
              "withdrawals": {"id": "i2", "supersedes": "i1", "by": "AK", "time": "2026-03-02T10:00:00Z"},
              "repairs": {"id": "i3", "finding": "f", "by": "AK", "time": "2026-03-02T10:00:00Z"},
              "changes": {"id": "i4", "kind": "temporary-made", "points": ["X3:1"], "text": "t", "by": "AK",
                          "time": "2026-03-02T10:00:00Z"},
              "results": {"id": "i5", "channel": "NO_STOP", "led": "dark", "bit": "0", "reason": "r", "by": "AK",
                          "time": "2026-03-02T10:00:00Z"},
              "result-withdrawals": {"id": "i6", "supersedes": "i5", "by": "AK", "time": "2026-03-02T10:00:00Z"}}
    before = row_counts(bench.job)
    for path, body in bodies.items():
        for text in BREAKS:
            inner = text if text.strip() == text else f"a{text}b"
            for field in body:
                check_error(bench.post(path, {**body, field: [inner] if field == "points" else inner}), 422,
                            f"POST {path} with {field} {inner!r}")
            what = f"POST {path} with a field {text!r}"
            status, told = answer_to(bench, path.encode(), what, "POST", body=json.dumps({**body, text: "x"}).encode())
            equal((status, told["error"]["field"]), (422, text), what)
    equal(row_counts(bench.job), before, "rows after bodies with line ends")
    for number, text in enumerate(LINES):
        sent = reading(f"{text}-{number}", note=text, by=text, witness=text)
        for status in (201, 200):
            what = f"a reading with {text!r}"
            came, told = answer_to(bench, b"readings", what, "POST", body=json.dumps(sent, ensure_ascii=False).encode())
            equal((came, told["id"]), (status, sent["id"]), what)
        row = bench.get("readings?newest=1").json()["readings"][0]
        equal({name: row[name] for name in ("id", "note", "by")}, {name: sent[name] for name in ("id", "note", "by")}, "its row")
        change = {**bodies["changes"], "id": f"{text}-c{number}", "text": text, "by": text}
        equal(bench.post("changes", change).status, 201, f"a change with {text!r}")
        check_error(bench.post("readings", reading("no", **{"from": text})), 422, f"a reading at {text!r}")
    bench.wait_for_state(lambda state: len(state["open_changes"]) == len(LINES), "the changes aren't open")
    check_stream(bench, LINES)


def rewritten(path, change):
    """Passes each record of a CSV file through `change`."""
    with open(path, encoding="utf-8", newline="") as file:
        records = [change(record) for record in csv.reader(file)]
    with open(path, "w", encoding="utf-8", newline="") as file:
        csv.writer(file, quoting=csv.QUOTE_ALL).writerows(records)


def check_job(jobs):
    """A job whose panel, revision, channels, parts and own name hold line ends, and readings that came by a file."""
    breaks = [text for text in BREAKS if "\0" not in text and text != "\v\f\x1b"]
    names = {"GD1": f"GD1{breaks[0]}", "HOPPER_FULL": f"H{breaks[1]}", "START_AUGER": f"S{LINES[1]}", "Auger relay": f"R{breaks[2]}",
             "P1": f"P{LINES[4]}"}
    folder = jobs.work / "broken"
    shutil.copytree(QUICKSTART, folder, ignore=shutil.ignore_patterns("readings*"))
    for path in folder.glob("*.csv"):
        rewritten(path, lambda record: [names.get(cell, cell) for cell in record])
    name = "a\nX-Bad: 1\n\ndata: bad\"'<b>\u2028.rtj"
    job = jobs.new(name, folder)
    source = jobs.work / "more.csv"
    rows = [["from", "to", "value", "id", "note", "by"],
            *(["G1:+", "G1:-", "open", f"r{number}", f"n{text}n", f"b{text}b"] for number, text in enumerate(breaks))]
    with open(source, "w", encoding="utf-8", newline="") as file:
        csv.writer(file, quoting=csv.QUOTE_ALL).writerows(rows)
    equal(jobs.run("job", "import", job, source).returncode, 0, "readings with line ends by a file")
    with Bench(jobs.ringtrue, job) as bench:
        check_stream(bench, [name, names["GD1"], *(row[4] for row in rows[1:]), *(row[5] for row in rows[1:])])
        equal({channel["tag"] for channel in answer_to(bench, b"channels", "channels")[1]["channels"]} & set(names.values()),
              {names["HOPPER_FULL"], names["START_AUGER"]}, "tags")
        for path in ("state", "channels", "tests", "strips", "map", "readings", "search?q=X-Bad", "search?q=P", "strip?name=X1",
                     "path?channel=A1:0.0", "path?channel=" + quote(names["HOPPER_FULL"]), "path?channel=" + quote("H\r\nX")):
            status, body = answer_to(bench, path.encode(), path)
            equal(status, 404 if path.endswith("%0AX") else 200, f"{path}: {body}")


def check_all(jobs):
    with jobs.serve("injection.rtj") as bench:
        check_addresses(bench)
        check_fields(bench)
        check_bodies(bench)
    check_job(jobs)
