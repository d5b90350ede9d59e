"""What is taken into the job by POST, and what is not; rows read by sqlite3."""

import json
import time
from concurrent.futures import ThreadPoolExecutor

from bench import equal, expect, reading, row_counts, rows_of
from http_rules import check_common, check_error

BY = {"by": "AK", "time": "2026-03-02T10:00:00Z"}
BROKEN = {"from": "Q0:2", "to": "K10:1", "value": "open"}  # wire 104


def reading_rows(bench, name):
    return rows_of(bench.job, 'SELECT "from", "to", value, time, "by", conditions, meter, note, supersedes FROM reading '
                              "WHERE id = ?", name)


def event_rows(bench, name):
    return rows_of(bench.job, 'SELECT time, "by", kind, points, text FROM event WHERE id = ?', name)


def check_readings(bench):
    """RFC 9110, 15.3.2, 15.3.1, 15.5.10; sent again, a reading is there once."""
    whole = reading("R1", conditions="S1=operated", by="AK", meter="M1", note="a, \"b\"; é 🔧", **{"from": "x3:1.int"})
    for status in (201, 200, 200):
        answer = bench.post("readings", whole)
        equal(answer.status, status, f"a reading sent: {answer.body!r}")
        check_common(answer, "POST readings")
        equal(answer.json(), {"id": "R1", "standing": "agrees", "words": "read beep, drawn a beep"}, "its answer")
        equal(reading_rows(bench, "R1"), [("X3:1.int", "X3:1.ext", "beep", whole["time"], "AK", "S1=operated", "M1",
                                           whole["note"], None)], "its row")
    for field, other in (("value", "open"), ("from", "X3:2.int"), ("by", "BK"), ("note", ""), ("time", BY["time"]),
                         ("conditions", "")):
        check_error(bench.post("readings", {**whole, field: other}), 409, f"another {field} under the same id")
    check_error(bench.post("withdrawals", {"id": "R1", "supersedes": "R1", **BY}), 409, "a withdrawal under the same id")
    equal(len(reading_rows(bench, "R1")), 1, "rows of R1")
    answer = bench.post("readings", reading("R2", **BROKEN))
    equal(answer.json()["standing"], "disagrees", "a wrong reading")
    answer = bench.post("readings", reading("R3", **{**BROKEN, "value": "beep"}, supersedes="R2"))
    equal((answer.status, reading_rows(bench, "R3")[0][-1]), (201, "R2"), "a correction")
    check_error(bench.post("readings", reading("R4", supersedes="R99")), 422, "a correction of nothing")
    withdrawal = {"id": "R5", "supersedes": "R3", **BY}
    for status in (201, 200):
        equal(bench.post("withdrawals", withdrawal).status, status, "a withdrawal")
    equal(reading_rows(bench, "R5"), [("Q0:2", "K10:1", None, BY["time"], "AK", None, None, None, "R3")], "its row")
    check_error(bench.post("withdrawals", {**withdrawal, "by": "BK"}), 409, "another withdrawal under the same id")
    nothing = bench.post("withdrawals", {"id": "R6", "supersedes": "R99", **BY})
    check_error(nothing, 422, "a withdrawal of nothing")
    expect("R99" in nothing.error()["text"], f"a withdrawal of nothing: {nothing.error()}")
    rows = {row["id"]: row for row in bench.get("readings").json()["readings"]}
    equal([rows[name]["superseded_by"] for name in ("R1", "R2", "R3", "R5")], ["", "R3", "R5", ""], "superseded by")
    equal([rows[name]["standing"] for name in ("R1", "R2", "R3", "R5")], ["agrees", "", "", ""], "standings")
    equal(list(rows)[:4], ["R5", "R3", "R2", "R1"], "newest first")


def check_repairs_and_changes(bench):
    equal(bench.post("readings", reading("F1", **BROKEN)).status, 201, "a wrong reading")
    finding = bench.wait_for_state(lambda state: state["findings"], "no finding")["findings"][0]
    expect(finding["repairable"] and "104" in finding["text"], f"finding: {finding}")
    repair = {"id": "E1", "finding": finding["key"], **BY}
    for status in (201, 200, 200):
        answer = bench.post("repairs", repair)
        equal((answer.status, answer.json()), (status, {"id": "E1", "points": "Q0:2; K10:1", "again": 1}), "a repair")
    equal([row[:4] for row in event_rows(bench, "E1")], [(BY["time"], "AK", "repair", "Q0:2; K10:1")], "its row")
    check_error(bench.post("repairs", {**repair, "by": "BK"}), 409, "another repair under the same id")
    check_error(bench.post("repairs", {**repair, "id": "E2"}), 409, "a repair of a finding that is gone")
    state = bench.wait_for_state(lambda state: state["counts"]["stale"] == 1, "the repaired reading isn't stale")
    equal((state["next"][0]["from"], state["next"][0]["to"], state["next"][0]["why"]), ("Q0:2", "K10:1", "again"), "next")

    change = {"id": "E3", "kind": "temporary-made", "points": ["x3:1", "K10:1"], "text": "jumper", **BY}
    for status, points in ((201, change["points"]), (200, ["X3:1", "K10:1"]), (200, "X3:1; K10:1")):
        answer = bench.post("changes", {**change, "points": points})
        equal((answer.status, answer.json()["points"]), (status, "X3:1; K10:1"), "a change")
    equal(event_rows(bench, "E3"), [(BY["time"], "AK", "temporary-made", "X3:1; K10:1", "jumper")], "its row")
    check_error(bench.post("changes", {**change, "kind": "temporary-undone"}), 409, "another change under the same id")
    check_error(bench.post("repairs", {**repair, "id": "E3"}), 409, "a repair under the id of a change")
    bench.wait_for_state(lambda state: [one["text"] for one in state["open_changes"]] == ["jumper"], "no open change")
    undone = {**change, "id": "E4", "kind": "temporary-undone"}
    equal(bench.post("changes", undone).status, 201, "undone")
    bench.wait_for_state(lambda state: not state["open_changes"], "a change stays open")
    for wrong in ({"kind": "repair"}, {"points": []}, {"points": ["ZZ:9"]}, {"points": [["X3:1"]]}, {"points": [1]},
                  {"time": "yesterday"}, {"points": {"a": "X3:1"}}, {"text": ["a", "b"]}):
        check_error(bench.post("changes", {**change, "id": "E5", **wrong}), 422, f"a change with {wrong}")
    equal(event_rows(bench, "E5"), [], "a refused change")


def check_bad_bodies(bench):
    """RFC 8259; 422 with one sentence, and nothing is added."""
    before = row_counts(bench.job)
    depth = 30000
    texts = [b"", b"{", b"null", b"[]", b"1", b'"x"', b"{}{}", b'{"id":}', b"{'id':'a'}", b"NaN", b'{"id":"a"',
             b'{"id":"a",}', b"\xff\xfe\x00", b"\x00" * 100, b'\xef\xbb\xbf', b"[" * 60000, b"{\"a\":" * 10000,
             b'{"id":' + b"[" * depth + b"]" * depth + b"}", b'{"points":' + b"[" * depth + b"]" * depth + b"}",
             b"[" * depth + b"]" * depth, b'{"a":' * 10000 + b"1" + b"}" * 10000, b'{"id":1e999999}']
    for text in texts:
        for path in ("readings", "withdrawals", "repairs", "changes"):
            check_error(bench.post(path, text), 422, f"POST {path} {text[:30]!r}")
    check_error(bench.post("changes", b'{"points":' + b"[" * depth + b"]" * depth + b',"id":"a"}'), 422, "deep points")
    check_error(bench.post("readings", b"[" * 100000), 413, "100,000 brackets")
    good = reading("B1")
    changes = [{field: value} for field in good for value in (None, "", 1, 1.5, True, [], ["beep", "open"], {}, {"a": "b"},
                                                              "x" * 1001, "a\nb", "a\x00b", "a\x7f", "\t")]
    changes += [{"from": "ZZ:1"}, {"to": "<script>"}, {"value": "perhaps"}, {"value": "-1"}, {"value": "1e999"},
                {"time": "now"}, {"time": "2026-13-02T09:00:00Z"}, {"time": "2026-03-02"}, {"conditions": "S99=operated"},
                {"conditions": "S1=perhaps"}, {"supersedes": "B99"}, {"unknown": "x"}, {"": "x"}, {"ID": "x"}, {"note": ["a", "b"]}]
    for change in changes:
        check_error(bench.post("readings", {**good, **change}), 422, f"a reading with {str(change)[:60]}")
    lone = json.dumps(good).replace('"beep"', '"\\ud800"')
    check_error(bench.post("readings", lone), 422, "half a surrogate pair")
    check_error(bench.post("readings", json.dumps(good).encode().replace(b"beep", b"be\xffep")), 422, "no UTF-8")
    equal(row_counts(bench.job), before, "rows after bad bodies")
    near = bench.post("readings", {**good, "from": "Q00:2"}).error()
    expect(near["found"] == "Q00:2" and near["nearest"] and near["field"] == "from", f"a point mistyped: {near}")
    expect(str(bench.job.parent) not in json.dumps(near), "an error tells where the job lies")
    equal(bench.post("readings", {**good, "note": "x" * 1000}).status, 201, "a text at the limit")
    doubled = json.dumps(reading("B2", value="open")).replace("}", ', "value": "beep"}')
    equal(bench.post("readings", doubled).status, 201, "a name twice")
    equal(reading_rows(bench, "B2")[0][2], "beep", "a name twice: the last, as Python's json takes it")


def check_crowd(bench):
    """Sixteen clients at once, each row sent by two of them: each acknowledged once as new, and there once."""
    def send(number):
        return bench.post("readings", reading(f"C{number // 2}")).status

    with ThreadPoolExecutor(16) as clients:
        answers = list(clients.map(send, range(320)))
    equal((answers.count(201), answers.count(200)), (160, 160), "answers to a crowd")
    for number in range(160):
        equal(sorted(answers[2 * number:2 * number + 2]), [200, 201], f"C{number}")
    equal(rows_of(bench.job, "SELECT count(*), count(DISTINCT id) FROM reading WHERE id LIKE 'C%'"), [(160, 160)], "rows")
    expect(bench.wait_for_state(lambda state: state["counts"]["readings"] >= 160, "the state stays behind"), "")


def check_round_trip(jobs, bench):
    """What was sent by HTTP is exported and imported again as the same."""
    out = jobs.work / "exported"
    odd = reading("P1", note='  "a", b;c  ', by=" AK ", meter="M1")
    equal(bench.post("readings", odd).status, 201, "an odd reading")
    equal(jobs.run("job", "export", bench.job, out).returncode, 0, "export")
    again = jobs.run("job", "import", bench.job, out / "readings.csv", "--events", out / "events.csv")
    equal(again.returncode, 0, f"import of what was exported: {again.stderr}")
    expect(": 0 readings added" in again.stdout and ": 0 events added" in again.stdout, f"imported twice: {again.stdout}")


def check_all(jobs):
    with jobs.serve("entry.rtj") as bench:
        check_readings(bench)
        check_repairs_and_changes(bench)
        check_bad_bodies(bench)
        time.sleep(2)  # for the rate at which one address may ask
        check_crowd(bench)
        check_round_trip(jobs, bench)
        equal(rows_of(bench.job, "PRAGMA integrity_check"), [("ok",)], "integrity")
