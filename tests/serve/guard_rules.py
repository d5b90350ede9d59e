"""Who is let in: Origin and Host (the Fetch standard, Fetch Metadata; DNS rebinding), content types, the rate."""

import json
import re
import subprocess
import xml.etree.ElementTree

from bench import PATIENCE, Bench, equal, expect, reading, row_counts
from http_rules import TAKE, check_error


def check_origins(bench):
    """Of another origin: 403, and nothing is added."""
    before = row_counts(bench.job)
    own = f"http://{bench.host}"
    strangers = ["http://evil.example", "null", own.replace("http:", "https:"), f"{own}0", f"{own}.evil.example",
                 "http://127.0.0.1", f"http://localhost:{bench.port}", f"http://evil.example@{bench.host}", own + "/"]
    for origin in strangers:
        for path in ("state", "icon.svg", "stream"):
            check_error(bench.get(path, Origin=origin), 403, f"GET {path} by {origin}")
        for path in TAKE:
            check_error(bench.post(path, reading("foreign"), Origin=origin), 403, f"POST {path} by {origin}")
    for site in ("cross-site", "same-site", "Same-Origin", "x"):
        check_error(bench.post("readings", reading("foreign"), Sec_Fetch_Site=site), 403, f"Sec-Fetch-Site: {site}")
    for host in ("evil.example", f"evil.example:{bench.port}", f"127.0.0.1.evil.example:{bench.port}", "[::1].evil.example",
                 f"localhost.:{bench.port}", "10.0.0.1", "0.0.0.0", "localhost@evil.example", ":80", "127.0.0.1:80:x"):
        check_error(bench.get("state", Host=host), 403, f"Host: {host}")
        check_error(bench.post("readings", reading("rebound"), Host=host), 403, f"POST with Host: {host}")
        check_error(bench.post("readings", reading("rebound"), Host=host, Origin=f"http://{host}"), 403, f"at {host}")
    equal(row_counts(bench.job), before, "rows after requests of other origins")
    for host in (bench.host, f"localhost:{bench.port}", f"[::1]:{bench.port}", "127.0.0.1"):
        for extra in ({}, {"Origin": f"http://{host}"}, {"Sec_Fetch_Site": "same-origin"}, {"Sec_Fetch_Site": "none"}):
            answer = bench.post("readings", reading("own"), Host=host, **extra)
            expect(answer.status in (200, 201), f"own page at {host} with {extra}: {answer.status}")


def check_types(bench):
    """RFC 9110, 15.5.16. What a form or a script of another origin sends without being asked first is never JSON."""
    before = row_counts(bench.job)
    body = json.dumps(reading("form"))
    for kind in ("text/plain", "application/x-www-form-urlencoded", "text/plain; charset=application/json",
                 "application/jsonx", "text/json", "application/ld+json", "", "multipart/mixed", "json"):
        check_error(bench.post("readings", body, Content_Type=kind), 415, f"Content-Type: {kind}")
    form = '--x\r\nContent-Disposition: form-data; name="a"\r\n\r\n' + body + "\r\n--x--\r\n"
    check_error(bench.post("readings", form, Content_Type="multipart/form-data; boundary=x"), 415, "multipart")
    check_error(bench.post("readings", body, Content_Type="multipart/form-data"), 400, "multipart without boundary")
    check_error(bench.post("readings", body, Content_Type="multipart/form-data; boundary=x"), 400, "multipart unlike")
    equal(bench.post("readings", "a=" + "x" * 9000, Content_Type="application/x-www-form-urlencoded").status, 413,
          "a long form")  # the library's own limit for forms
    check_error(bench.ask("POST", "readings", body), 415, "no Content-Type")
    equal(row_counts(bench.job), before, "rows after forms")
    for kind in ("application/json; charset=utf-8", "Application/JSON", "application/json;x=y"):
        expect(bench.post("readings", reading("typed"), Content_Type=kind).status in (200, 201), f"{kind} isn't taken")


def check_rate(bench):
    """RFC 6585, 4: 429 with Retry-After for one address; others go on."""
    answers = []
    while len(answers) < 5000 and (not answers or answers[-1].status == 200):
        answers.append(bench.ask("GET", "icon.svg", source="127.0.0.9"))
    check_error(answers[-1], 429, f"after {len(answers)} requests")
    equal(answers[-1].headers["Retry-After"], "1", "429: Retry-After")
    expect(len(answers) > 600, f"turned away after {len(answers)} requests")
    equal(bench.ask("GET", "icon.svg", source="127.0.0.10").status, 200, "another address")


HOSTILE = ["<img src=x onerror=alert(1)>", "\"'><script>alert(1)</script>", "&lt;b&gt;&amp;", "</title><svg onload=alert(1)>"]


def hostile_netlist(folder):
    """The quick start with names and texts that would be markup."""
    from bench import QUICKSTART
    folder.mkdir()
    for path in QUICKSTART.glob("*.csv"):
        if not path.name.startswith("readings"):
            (folder / path.name).write_bytes(path.read_bytes())
    channels = (folder / "channels.csv").read_text(encoding="utf-8")
    for name, text, evil in (("HOPPER_FULL", "Hopper paddle: grain present", HOSTILE[0]),
                             ("START_AUGER", "Push button: start auger", HOSTILE[1]),
                             ("AUGER_RELAY", "Auger relay", HOSTILE[2]), ("AUGER_LAMP", "Lamp: auger running", HOSTILE[3])):
        quoted = '"' + evil.replace('"', '""') + '"'
        channels = channels.replace(name, quoted).replace(text, quoted)
    (folder / "channels.csv").write_text(channels, encoding="utf-8")
    for name in ("parts.csv", "conductors.csv", "channels.csv"):
        path = folder / name
        path.write_text(re.sub(r"\bP1\b", "P<b>&", path.read_text(encoding="utf-8")), encoding="utf-8")
    return folder


def check_hostile_names(jobs):
    """Names come back as they are in JSON, and as text in pictures."""
    with jobs.serve("hostile.rtj", netlist=hostile_netlist(jobs.work / "hostile")) as bench:
        channels = bench.get("channels").json()["channels"]
        equal([channel["tag"] for channel in channels], HOSTILE, "tags")
        for channel in channels:
            answer = bench.get("path?channel=" + channel["point"])
            equal((answer.status, answer.headers["Content-Type"]), (200, "image/svg+xml"), f"path of {channel['point']}")
            picture = xml.etree.ElementTree.fromstring(answer.body)
            names = {element.tag.rpartition("}")[2] for element in picture.iter()}
            expect(not names & {"script", "img", "image", "foreignObject", "a", "style", "b"}, f"elements {names}")
            loud = [name for element in picture.iter() for name in element.attrib if name.lower().startswith("on")]
            expect(not loud and "style" not in picture.attrib, f"attributes {loud}")
            expect(channel["tag"] in "".join(picture.itertext()), f"{channel['tag']} is not in its picture")
        found = bench.get("search?q=%3Cimg").json()["matches"]
        equal(found[0]["name"], HOSTILE[0], "search for a hostile name")
        answer = bench.post("readings", reading("h1", **{"from": "P<b>&:x1", "to": "<i>"}))
        check_error(answer, 422, "a hostile point")
        equal(answer.error()["found"], "<i>", "found")
        sent = {"from": "P<b>&:x1", "to": "P<b>&:x2", "note": HOSTILE[1], "by": HOSTILE[0]}
        equal(bench.post("readings", reading("h2", **sent)).status, 201, "a reading at a hostile point")
        row = bench.get("readings").json()["readings"][0]
        equal({name: row[name] for name in sent}, sent, "a hostile row")


def check_refused_calls(jobs):
    job = jobs.new("calls.rtj")
    with Bench(jobs.ringtrue, job) as bench:
        taken = jobs.run("serve", job, "--port", str(bench.port))
        equal((taken.returncode, taken.stdout), (2, ""), "a port that is taken")
        expect("cannot listen" in taken.stderr and str(bench.port) in taken.stderr and taken.stderr.count("\n") == 1,
               f"a port that is taken: {taken.stderr}")
    for words in (("--host", "203.0.113.7"), ("--host", "no such host"), ("--port", "70000"), ("--port", "x")):
        done = subprocess.run([jobs.ringtrue, "serve", job, *words], capture_output=True, text=True, timeout=PATIENCE)
        equal((done.returncode, done.stdout), (2, ""), f"serve {words}")
        expect(done.stderr.strip(), f"serve {words} says nothing")


def check_all(jobs):
    with jobs.serve("guard.rtj") as bench:
        check_origins(bench)
        check_types(bench)
        check_rate(bench)
    check_hostile_names(jobs)
    check_refused_calls(jobs)
