"""Methods, status codes and header fields: RFC 9110."""

import re
import time
from email.utils import parsedate_to_datetime

from bench import GRAIN_DRYER, ROOT, equal, expect, reading, row_counts

PAGES = sorted(path.name for path in (ROOT / "src" / "serve" / "page").iterdir() if path.name != "page.html")
READ = ("", *PAGES, "state", "search?q=X3", "channels", "path?channel=A1:0.0", "strip?name=X3", "map", "strips", "readings?newest=3")
TAKE = ("readings", "withdrawals", "repairs", "changes")
SECURITY = {
    "Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
                               "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}
TYPES = {"html": "text/html; charset=utf-8", "css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8",
         "svg": "image/svg+xml"}


def type_of(path):
    """RFC 8259, 11: JSON has no charset. RFC 9239: text/javascript."""
    name = path.partition("?")[0]
    if name in ("", "path", "strip", "map"):
        return TYPES["svg" if name else "html"]
    return TYPES.get(name.rpartition(".")[2], "application/json")


def check_common(answer, what):
    """On every answer, whatever its status."""
    for name, value in SECURITY.items():
        equal(answer.headers.get_all(name), [value], f"{what}: {name}")
    date = answer.headers["Date"] or ""
    # 5.6.7: IMF-fixdate; 6.6.1: of the time of the message
    expect(re.fullmatch(r"(Mon|Tue|Wed|Thu|Fri|Sat|Sun), \d\d (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) \d{4} "
                        r"\d\d:\d\d:\d\d GMT", date), f"{what}: Date {date!r}")
    expect(abs(parsedate_to_datetime(date).timestamp() - time.time()) < 60, f"{what}: Date is not now: {date}")
    expect("Server" not in answer.headers, f"{what}: Server tells what runs here")


def check_error(answer, status, what):
    equal(answer.status, status, f"{what}: {answer.body[:200]!r}")
    check_common(answer, what)
    equal(answer.headers["Content-Type"], "application/json", f"{what}: Content-Type")
    equal(len(answer.body), int(answer.headers["Content-Length"]), f"{what}: Content-Length")
    expect(answer.error()["text"], f"{what}: no sentence")


def check_get_and_head(bench):
    """8.6, 9.3.1, 9.3.2: HEAD gives the fields of GET and no body."""
    for path in READ:
        got = bench.get(path)
        equal(got.status, 200, f"GET {path}: {got.body[:200]!r}")
        check_common(got, f"GET {path}")
        equal(got.headers["Content-Type"], type_of(path), f"GET {path}: Content-Type")
        equal(int(got.headers["Content-Length"]), len(got.body), f"GET {path}: Content-Length")
        name = path or "page.html"
        if name in (*PAGES, "page.html"):
            equal(got.body, (ROOT / "src" / "serve" / "page" / name).read_bytes(), f"GET {path}")
        head = bench.ask("HEAD", path)
        equal((head.status, head.body), (200, b""), f"HEAD {path}")
        unlike = {name for name in {*head.headers, *got.headers} - {"Date"} if head.headers[name] != got.headers[name]}
        equal(unlike, set(), f"HEAD and GET {path} differ in")
    came, closed = bench.exchange(bench.head("HEAD", "stream", Connection="close"))
    expect(closed and came.startswith(b"HTTP/1.1 200 ") and came.endswith(b"\r\n\r\n"), f"HEAD stream: {came!r}")
    expect(b"\r\nContent-Type: text/event-stream\r\n" in came, f"HEAD stream: {came!r}")


def check_methods(bench):
    """15.5.6 and 10.2.1: 405 says in Allow what is allowed, and that is so."""
    for path in (*READ, "stream", *TAKE[1:]):
        takes = path.partition("?")[0] in TAKE
        reads = path in READ or path == "stream"
        allowed = sorted([*(["GET", "HEAD"] if reads else []), "OPTIONS", *(["POST"] if takes else [])])
        options = bench.ask("OPTIONS", path)
        equal((options.status, options.body), (204, b""), f"OPTIONS {path}")
        check_common(options, f"OPTIONS {path}")
        equal(options.headers["Allow"].split(", "), allowed, f"OPTIONS {path}: Allow")
        expect(not [name for name in options.headers if name.startswith("Access-Control")], f"{path}: CORS is let in")
        for method in ("PUT", "PATCH", "DELETE", *(() if takes else ("POST",)), *(() if reads else ("GET",))):
            refused = bench.ask(method, path)
            check_error(refused, 405, f"{method} {path}")
            equal(refused.headers["Allow"].split(", "), allowed, f"{method} {path}: Allow")
    for method in ("TRACE", "CONNECT", "PRI"):  # 15.6.2
        came, closed = bench.exchange(bench.head(method, "state"))
        expect(closed and came.startswith(b"HTTP/1.1 501 "), f"{method}: {came!r}")
    # 15.6.2 asks for 501 here too; the library takes a method it doesn't know for a broken request line.
    for method in ("BREW", "get", "G:ET"):
        came, closed = bench.exchange(bench.head(method, "state"))
        expect(closed and came.startswith(b"HTTP/1.1 400 "), f"{method}: {came!r}")


def check_addresses(bench):
    """15.5.5. There is no file behind an address, and no pattern either."""
    for path in ("nothing", "page.html", "bench.css/", "benchXcss", "BENCH.CSS", "state/", "/state", "../state",
                 "..%2f..%2fetc/passwd", "%2e%2e/%2e%2e/etc/passwd", "../../../../etc/passwd", "..\\..\\etc\\passwd",
                 "//etc/passwd", "bench.css%00.js", "%00", "%", "%zz", "%u002e", "state;x", "*", "icon.svg%20", "?",
                 "stream%0d%0aSet-Cookie:a=b"):
        answer = bench.get(path) if path != "/state" else bench.get("//state")
        if path == "?":  # the page itself with an empty query
            equal(answer.status, 200, path)
        else:
            check_error(answer, 404, f"GET {path}")
        expect("Set-Cookie" not in answer.headers, f"{path}: a header out of an address")
    # RFC 3986, 6.2.2.2: percent-encoded letters are the same letters.
    equal(bench.get("%73t%61te").status, 200, "an address in percent-encoding")


def check_range_and_coding(bench):
    """14.2: a server may ignore Range, and then answers with the whole. 8.4, 12.5.3, 12.5.5: Accept-Encoding."""
    whole = (ROOT / "src" / "serve" / "page" / "bench.css").read_bytes()
    for ranges in ("bytes=0-9", "bytes=5-", "bytes=-5", "bytes=0-1,4-5", "bytes=9999999-"):
        answer = bench.get("bench.css", Range=ranges)
        equal((answer.status, answer.body), (200, whole), f"Range: {ranges}")
        expect("Content-Range" not in answer.headers, f"Range: {ranges}: a part")
        sent = bench.post("readings", reading("ranged"), Range=ranges)
        expect(sent.status in (200, 201) and sent.json()["id"] == "ranged", f"POST with Range: {sent.body!r}")
    # 14.2: a Range that isn't understood must be ignored; the library refuses it with 416 before anybody is asked.
    check_error(bench.get("bench.css", Range="nonsense"), 416, "Range: nonsense")
    for coding in ("identity", "gzip;q=0", "gzip", "br", "gzip, deflate, br"):
        answer = bench.get("bench.css", Accept_Encoding=coding)
        equal(answer.status, 200, coding)
        equal(int(answer.headers["Content-Length"]), len(answer.body), f"{coding}: Content-Length")
        expect("Accept-Encoding" in answer.headers["Vary"], f"{coding}: Vary")
        if "Content-Encoding" in answer.headers:
            expect(answer.headers["Content-Encoding"] in coding, f"{coding}: {answer.headers['Content-Encoding']}")
        else:
            equal(answer.body, whole, f"Accept-Encoding: {coding}")
    expect("Content-Encoding" not in bench.get("bench.css").headers, "compressed without being asked")


def check_gets_change_nothing(bench):
    """9.2.1: safe methods."""
    before = row_counts(bench.job)
    queries = ("", "?", "?newest=0", "?newest=-1", "?newest=99999999999999999999", "?newest=x", "?q=", "?q=%00%ff",
               "?q=" + "x" * 4000, "?q=%F0%9F%94%A7", "?channel=A1:0.0&width=1", "?channel=A1:0.0&width=999999999",
               "?channel=", "?channel=nothing", "?channel=A1:0.0&channel=A1:0.1", "?" + "&" * 500, "?=&=&=",
               "?id=zz&from=X3:1.int&to=X3:1.ext&value=beep&time=2026-03-02T09:00:00Z", "?q=%", "?q='%3B DROP TABLE reading"
               .replace(" ", "%20"))
    for path in ("", "state", "search", "channels", "path", "readings", *TAKE, "icon.svg"):
        for query in queries:
            answer = bench.get(path + query)
            expect(answer.status in (200, 404, 405, 422), f"GET {path}{query[:80]}: {answer.status}")
            check_common(answer, f"GET {path}{query[:80]}")
            if answer.headers["Content-Type"] == "application/json":
                answer.json()
    equal(row_counts(bench.job), before, "rows after hitting every address with GET")
    check_error(bench.get("path?channel=A1:0.1X"), 404, "path of an unknown channel")
    check_error(bench.get("strip?name=Y1"), 404, "an unknown strip")
    equal(bench.get("strip?name=X33").error()["nearest"], ["X13", "X3"], "nearest names of a strip")
    expect(bench.get("path?channel=A1:0.99").error()["nearest"], "no nearest names of a channel")


def check_answers(bench):
    """What addresses answer, beside the netlist as Python reads it."""
    channels = bench.get("channels").json()["channels"]
    lines = (GRAIN_DRYER / "channels.csv").read_text(encoding="utf-8").splitlines()[1:]
    equal([channel["point"] for channel in channels], [line.split(",")[0] for line in lines], "channels")
    equal([match["name"] for match in bench.get("search?q=x3:1").json()["matches"]][0], "X3:1", "search")
    expect(len(bench.get("search?q=X").json()["matches"]) == 20, "search gives more than 20")


def check_all(jobs):
    with jobs.serve("http.rtj") as bench:
        check_get_and_head(bench)
        check_methods(bench)
        check_addresses(bench)
        check_range_and_coding(bench)
        check_gets_change_nothing(bench)
        check_answers(bench)
