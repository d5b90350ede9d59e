"""How channels are tried, by GET, and what they showed, by POST; rows read by sqlite3."""

import json

from bench import equal, expect, row_counts, rows_of
from http_rules import check_common, check_error

BY = {"by": "AK", "time": "2026-03-02T10:00:00Z"}
OPERATED = {"channel": "NO_STOP", "led": "dark", "back": "lit", "bit": "0", "only_this": "yes", **BY}
FITTED = {"channel": "HOPPER_NOT_FULL", "led": "lit", "back": "dark", "bit": "1", "only_this": "yes", **BY}


def result_rows(bench, name):
    return rows_of(bench.job, 'SELECT channel, stimulus, led, bit, value, only_this, verdict, reason, "by", time, '
                              "supersedes FROM result WHERE id = ?", name)


def tests_of(bench):
    return {test["tag"]: test for test in bench.get("tests").json()["tests"]}


def check_tests(bench):
    answer = bench.get("tests")
    equal(answer.status, 200, "GET tests")
    check_common(answer, "GET tests")
    body = answer.json()
    equal(len(body["tests"]), 44, "tests of the grain dryer")
    expect(any("No jumper on safety functions" in caution for caution in body["cautions"]), f"cautions: {body['cautions']}")
    tests = {test["tag"]: test for test in body["tests"]}
    held = tests["HOPPER_NOT_FULL"]
    equal([held["test"], held["answer"], held["acted"], held["back"], held["lit_when_acted"], held["shown"]],
          ["jumper", "hold", "jumper fitted", "removed", True, "not tested"], "an input on hold")
    equal([(place["use"], place["point"]) for place in held["places"]], [("from", "X13:1.ext"), ("to", "X3:1.ext")],
          "where its jumper goes")
    refused = tests["STOP_RESET"]
    equal([refused["answer"], refused["places"]], ["refused", []], "an input of a stop circuit")
    equal(len(tests["MOISTURE_IN"]["analog"]["points"]), 5, "points of an analog channel")
    equal(bench.ask("PUT", "tests").status, 405, "PUT tests")
    equal(row_counts(bench.job)[-1], 0, "results after a GET")


def check_results(bench):
    """201, then 200 for the same, 409 for another under its id; a state follows."""
    before = bench.get("state").json()["version"]
    for status in (201, 200, 200):
        answer = bench.post("results", {"id": "I1", **OPERATED})
        equal(answer.status, status, f"a result sent: {answer.body!r}")
        told = answer.json()
        equal((told["id"], told["channel"], told["verdict"], told["shown"]), ("I1", "A2:1.1", "pass", "pass"), "its answer")
    equal(result_rows(bench, "I1"), [("A2:1.1", "operated", "dark", "0", None, "yes", "pass", "released: lit", "AK",
                                      BY["time"], None)], "its row")
    for field, other in (("led", "lit"), ("back", "dark"), ("bit", "1"), ("only_this", "no"), ("by", "BK"),
                         ("time", "2026-03-02T10:00:01Z"), ("channel", "START")):
        check_error(bench.post("results", {"id": "I1", **OPERATED, field: other}), 409, f"another {field} under the id")
    bench.wait_for_state(lambda state: state["version"] > before, "no state follows a result")
    equal(tests_of(bench)["NO_STOP"]["shown"], "pass", "what is shown of it")

    held = bench.post("results", {"id": "I2", **FITTED})
    check_error(held, 422, "a jumper on hold on nobody's word")
    expect("on hold" in held.error()["text"] and held.error()["field"] == "unproven", f"on hold: {held.error()}")
    equal(bench.post("results", {"id": "I2", **FITTED, "unproven": "BK"}).status, 201, "on somebody's word")
    expect("offered without proof by BK" in result_rows(bench, "I2")[0][7], f"the record: {result_rows(bench, 'I2')}")
    for channel in ("STOP_RESET", "NO_STOP", "START"):
        refused = bench.post("results", {"id": "I3", **FITTED, "channel": channel, "stimulus": "jumper", "unproven": "BK"})
        check_error(refused, 422, f"a jumper at {channel}")
        expect("is refused" in refused.error()["text"], f"refused: {refused.error()}")
    for percent, value, verdict in (("0", "8.1", "pass"), ("50", "25", "fail")):
        seen = {"id": f"A{percent}", "channel": "MOISTURE_IN", "percent": percent, "value": value, **BY}
        for status in (201, 200):
            answer = bench.post("results", seen)
            equal((answer.status, answer.json()["verdict"]), (status, verdict), f"{value} at {percent} %")
        check_error(bench.post("results", {**seen, "value": "9"}), 409, "another value under the id")
    driven = {"id": "D1", "channel": "FAN", "responded": "yes", "on": "23.9", **BY}
    equal([bench.post("results", driven).status for _ in range(2)], [201, 200], "an output")


def check_withdrawals(bench):
    withdrawal = {"id": "W1", "supersedes": "I1", **BY}
    for status in (201, 200):
        equal(bench.post("result-withdrawals", withdrawal).status, status, "a withdrawal")
    equal(result_rows(bench, "W1")[0][-1], "I1", "its row")
    equal(tests_of(bench)["NO_STOP"]["shown"], "not tested", "what is shown of a channel whose result is withdrawn")
    check_error(bench.post("result-withdrawals", {**withdrawal, "by": "BK"}), 409, "another under the same id")
    check_error(bench.post("result-withdrawals", {"id": "W2", "supersedes": "none", **BY}), 422, "of nothing")
    check_error(bench.post("result-withdrawals", {"id": "W2", "supersedes": "W1", **BY}), 422, "of a withdrawal")
    equal(bench.post("results", {"id": "I1", **OPERATED}).status, 200, "sent again once it is withdrawn")
    equal(bench.get("result-withdrawals").status, 405, "GET result-withdrawals")


def check_bad_bodies(bench):
    before = row_counts(bench.job)
    good = {"id": "B1", **OPERATED}
    wrong = [{field: value} for field in ("id", "channel", "by", "time") for value in ("", None, 1, ["a"], "a\nb")]
    wrong += [{"channel": "NO_SUCH"}, {"led": "bright"}, {"back": "x"}, {"bit": "2"}, {"only_this": "perhaps"},
              {"stimulus": "wished"}, {"percent": "50"}, {"responded": "yes"}, {"on": "24"}, {"unknown": "x"},
              {"time": "now"}, {"value": "much"}, {"verdict": "pass"}, {"led": "", "back": "", "bit": "", "only_this": ""}]
    for change in wrong:
        check_error(bench.post("results", {**good, **change}), 422, f"a result with {change}")
    for text in (b"", b"[]", b"{", b"null", json.dumps([good])):
        check_error(bench.post("results", text), 422, f"POST results {text[:20]!r}")
    equal(row_counts(bench.job), before, "rows after bad bodies")


def check_all(jobs):
    with jobs.serve("results.rtj") as bench:
        check_tests(bench)
        check_results(bench)
        check_withdrawals(bench)
        check_bad_bodies(bench)
        equal(rows_of(bench.job, "PRAGMA integrity_check"), [("ok",)], "integrity")
