"""Where a request ends, and what is too much of one: RFC 9112. A page of another origin must not be able to put a
request of its own making into the body of one that is refused."""

import json
import time

from bench import equal, expect, reading, row_counts, statuses

MOST_BODY = 64 * 1024
BUFFER = 4096  # of the library; where one ends, what follows could be taken for the next request
JSON = "application/json"


def is_refused(bench, sent, status, what):
    """Answered once, then the connection is closed (RFC 9112, 9.6), and nothing is added."""
    before = row_counts(bench.job)
    came, closed = bench.exchange(sent)
    equal(statuses(came), [status], f"{what}: {came[:200]!r}")
    expect(closed, f"{what}: the connection stays open")
    expect(b"\r\nConnection: close\r\n" in came, f"{what}: Connection")
    expect(b"\r\nX-Content-Type-Options: nosniff\r\n" in came, f"{what}: no security headers")
    equal(row_counts(bench.job), before, f"{what}: rows")


def whole_post(bench, name):
    body = json.dumps(reading(name)).encode()
    return bench.head("POST", "readings", Content_Type=JSON, Content_Length=len(body)) + body


def check_no_smuggling(bench):
    """11.2: refused requests whose body is a request, at every place where the library's buffer may end."""
    for reach in range(-2, 3):
        inner = whole_post(bench, f"smuggled{reach}")
        for beginning, status in (
                (lambda n: bench.head("POST", "a" * 9000, Content_Type="text/plain", Content_Length=n), 414),
                (lambda n: bench.head("POST", "readings", Content_Type="text/plain", Content_Length=n,
                                      X_Long="y" * 9000), 400),
                (lambda n: bench.head("POST", "readings", Content_Length=n, Range="nonsense"), 416),
                (lambda n: bench.head("GET", "state", Content_Length=n), 400),
                (lambda n: bench.head("OPTIONS", "state", Content_Length=n), 400),
                (lambda n: bench.head("POST", "readings", Content_Length=n, Content_Encoding="gzip"), 415),
                (lambda n: bench.head("TRACE", "readings", Content_Length=n), 501)):
            head = beginning(9999)
            fill = b"x" * (-len(head) % BUFFER + BUFFER + reach)
            is_refused(bench, beginning(len(fill + inner)) + fill + inner, status, f"smuggled behind {status}")


def check_length(bench):
    """6.1 to 6.3, 3.2: refused with the connection closed, since nobody knows where the next request begins."""
    body = json.dumps(reading("framed")).encode()
    given = {"Content_Type": JSON, "Content_Length": len(body)}
    post = {"path": "readings", "Content_Type": JSON}
    for length in ("abc", "-5", "+5", "5, 5", "0x10", "1e1", "5 5", f"{len(body)};"):
        is_refused(bench, bench.head("POST", **post, Content_Length=length) + body, 400, f"Content-Length: {length}")
    twice = bench.head("POST", "readings", **given).replace(b"Content-Length", b"Content-Length: 5\r\nContent-Length", 1)
    is_refused(bench, twice + body, 400, "Content-Length twice")
    blank = twice.replace(b"Content-Length:", b"Content-Length :", 1)
    is_refused(bench, blank + body, 400, "a blank before the colon (5.1)")
    is_refused(bench, bench.head("POST", **post), 411, "no length")
    chunked = b"%x\r\n%s\r\n0\r\n\r\n" % (len(body), body)
    is_refused(bench, bench.head("POST", **post, Transfer_Encoding="chunked") + chunked, 411, "chunked")
    is_refused(bench, bench.head("POST", "readings", **given, Transfer_Encoding="chunked") + chunked, 411, "both")
    is_refused(bench, bench.head("POST", **post, Transfer_Encoding="gzip, chunked") + chunked, 411, "gzip, chunked")
    is_refused(bench, bench.head("POST", **post, Content_Length=MOST_BODY + 1), 413, "above the limit, unsent")
    is_refused(bench, bench.head("POST", **post, Content_Length="9" * 30), 413, "a length above any number")
    is_refused(bench, bench.head("POST", **post, Content_Length=10**6) + b"[" * 10**6, 413, "above the limit, sent")
    follower = whole_post(bench, "behind413")
    is_refused(bench, bench.head("POST", **post, Content_Length=MOST_BODY + 1) + b"x" * (MOST_BODY + 1) + follower, 413,
               "one that follows a refused one")
    is_refused(bench, bench.head("GET", "state", Host=None), 400, "no Host")
    is_refused(bench, bench.head("GET", "state").replace(b"Host:", b"Host: evil.example\r\nHost:"), 400, "Host twice")
    at_limit = bench.post("readings", b" " * (MOST_BODY - len(body)) + body)
    equal(at_limit.status, 201, "a body at the limit")


def check_bad_lines(bench):
    """2.2, 3, 5: broken request lines and fields are 400 or closed, and never a fault of the server."""
    host = f"Host: {bench.host}\r\n".encode()
    for line in (b"GET\r\n", b"GET /state\r\n", b"GET /state HTTP/9.9\r\n", b"\x00\x01\x02\r\n",
                 b"GET /state HTTP/1.1 x\r\n", b"\r\n\r\n\r\n", b"GET \xff\xfe HTTP/1.1\r\n", b"\x16\x03\x01\x02\x00\x01\r\n"):
        came, _ = bench.exchange(line + host + b"\r\n", wait=8)
        expect(all(status in (400, 404) for status in statuses(came)), f"{line!r}: {came[:100]!r}")
    # 3.2.2 asks servers to take the absolute form; the library looks for it as for a path.
    came, _ = bench.exchange(b"GET http://%s/state HTTP/1.1\r\n" % bench.host.encode() + host + b"Connection: close\r\n\r\n")
    equal(statuses(came), [404], "absolute form")
    is_refused(bench, bench.head("GET", "a" * 8200), 414, "an address too long")
    is_refused(bench, bench.head("GET", "state", X_Long="y" * 9000), 400, "a field too long")
    # RFC 6585, 5 has 431 for too many fields; the library counts none. They are read and the request is answered.
    came, _ = bench.exchange(bench.head("GET", "icon.svg", Connection="close", **{f"X_{i}": "y" * 50 for i in range(20000)}))
    equal(statuses(came), [200], "20,000 fields")


def check_reuse(bench):
    """9.3: many requests one after the other by one connection."""
    sent = bench.head("GET", "icon.svg")
    with bench.connect() as link:
        for turn in range(50):
            link.sendall(whole_post(bench, "again") if turn % 2 else sent)
            came = b""
            while not (codes := statuses(came)) or len(came) < whole_length(came):
                came += link.recv(65536)
            expect(codes[0] in (200, 201), f"turn {turn} of one connection: {came!r}")
    # 9.3.2: requests sent before the first is answered. The library drops what came in one piece with the first, so
    # the second is never answered: the connection closes, and the client has to send again.
    came, closed = bench.exchange(sent + whole_post(bench, "pipelined"))
    expect(closed and statuses(came)[0] == 200, f"pipelined: {came!r}")
    name_count = [row for row in rows_named(bench, "pipelined")]
    equal(len(name_count), statuses(came).count(201), "a pipelined reading and its acknowledgement")


def rows_named(bench, name):
    return [row for row in bench.get("readings?newest=1000").json()["readings"] if row["id"] == name]


def whole_length(came):
    head, _, _ = came.partition(b"\r\n\r\n")
    length = [line for line in head.split(b"\r\n") if line.startswith(b"Content-Length:")]
    return len(head) + 4 + (int(length[0].split(b":")[1]) if length else 0)


def check_slow_clients(bench):
    """Twenty clients that send a byte now and then hold nobody up; closing, they are forgotten."""
    links = [bench.connect() for _ in range(20)]
    try:
        sent = bench.head("GET", "state")
        for position in range(3):
            for link in links:
                link.sendall(sent[position:position + 1])
            began = time.monotonic()
            for turn in range(10):
                equal(bench.post("readings", reading(f"slow{position}-{turn}")).status, 201, "beside slow clients")
            expect(time.monotonic() - began < 10, "slow clients hold others up")
            time.sleep(1)
        links[0].sendall(sent[3:])
        expect(links[0].recv(20).startswith(b"HTTP/1.1 200"), "a slow client is not answered")
    finally:
        for link in links:
            link.close()


def check_all(jobs):
    with jobs.serve("framing.rtj") as bench:
        check_no_smuggling(bench)
        check_length(bench)
        check_bad_lines(bench)
        check_reuse(bench)
        check_slow_clients(bench)
        equal(bench.get("icon.svg").status, 200, "after all that")
