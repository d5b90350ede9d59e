"""The token of an address that others reach: what it is made of, that nothing but the whole of it lets anybody in, that wrong
ones cost the rightful page nothing, and that it is told to nobody."""

import re
import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from bench import PATIENCE, QUICKSTART, Bench, equal, expect, reading, row_counts
from http_rules import READ, TAKE, check_common, check_error
from injection_rules import first_event

ALPHABET = "abcdefghijklmnopqrstuvwxyz234567"  # RFC 4648, 6, in small letters: five bits each
TOKEN = f"[{ALPHABET}]{{26}}"  # 130 bits
EVERYWHERE = ("--host", "0.0.0.0")
ADDRESSES = (*READ, "tests", "stream", *TAKE, "results", "result-withdrawals", "nothing")


def check_token(jobs):
    """Away from loopback nothing is there without the token."""
    bench = jobs.serve("token.rtj", "--host", "0.0.0.0")
    with bench:
        token = bench.base.strip("/")
        expect(re.fullmatch(r"[a-z0-9]{26}", token), f"token {token!r}")
        wrong = [f"{token[:-1]}", f"{token}x", token.upper(), "x" * 26, "", "." * 26, ".*", "%2e" * 26, f"{token}%00",
                 f"x/../{token}x", f"{token[:13]}%2f{token[13:]}", f"{token}%2f", f"%20{token}", f"{token};", f"{token}%3f"]
        for path in (*READ, "stream", *TAKE):
            for prefix in ("/", *(f"/{one}/" for one in wrong)):
                for method in ("GET", "POST", "HEAD", "OPTIONS", "PUT", "DELETE"):
                    if prefix not in ("/", f"/{wrong[0]}/") and path not in ("", "state", "readings"):
                        continue
                    answer = bench.ask(method, prefix + path, source=f"127.0.0.{11 + len(path)}")
                    equal(answer.status, 404, f"{method} {prefix}{path}")
                    check_common(answer, f"{method} {prefix}{path}")
                    expect(token.encode() not in answer.body, "the token is told")
        equal(row_counts(bench.job)[2], 0, "readings without the token")
        for path in READ:
            equal(bench.get(path).status, 200, f"GET {path} with the token")
        equal(bench.get("/%" + f"{ord(token[0]):02x}" + token[1:] + "/state").status, 200, "token in percent-encoding")
        bare = bench.get("/" + token)
        equal((bare.status, bare.headers["Location"]), (308, bench.base), "the token without / at its end")
        equal(bench.post("readings", reading("T1")).status, 201, "POST with the token")
        equal(bench.post("readings", reading("T2"), Host="panel.example", Origin="http://panel.example").status, 201,
              "by a name of the network's own")
        check_error(bench.post("readings", reading("T3"), Origin="http://evil.example"), 403, "another origin")
        page = bench.get("").body.decode()
        expect(not re.findall(r'(?:src|href)="/', page), "the page names addresses that don't lie below the token")


def check_token_file(jobs):
    kept = jobs.work / "token.txt"
    addresses = []
    for _ in range(2):
        with Bench(jobs.ringtrue, jobs.work / "token.rtj", "--host", "0.0.0.0", "--token-file", kept) as bench:
            addresses.append(bench.base)
        equal(stat.S_IMODE(kept.stat().st_mode), 0o600, "mode of the token's file")
    equal(addresses, [f"/{kept.read_text().strip()}/"] * 2, "token of the file")
    for text in ("short\n", "x" * 20 + "/../\n", "", "x" * 15 + "\n"):
        kept.write_text(text)
        done = jobs.run("serve", jobs.work / "token.rtj", "--host", "0.0.0.0", "--token-file", kept)
        equal((done.returncode, done.stdout), (2, ""), f"a token of {text!r}")
        equal(kept.read_text(), text, "the file was changed")


def wrong_ones(token):
    """What is nearly the token, or is it at another place."""
    other = {a: b for a, b in zip(ALPHABET, ALPHABET[1:] + ALPHABET[0])}
    changed = [token[:i] + other[token[i]] + token[i + 1:] for i in range(len(token))]
    letter = next(i for i, c in enumerate(token) if c.isalpha())
    return [*changed, *(token[:length] for length in range(1, len(token))), token[1:], token + "a", "a" + token, token * 2,
            token[::-1], token.upper(), token[:letter] + token[letter].upper() + token[letter + 1:], f"{token},{token}",
            f"{token}%00", f"%00{token}", f"{token}%20", f"{token}%0a", f"{token}%0d%0a", f"{token}.", f"{token};x", f"({token})",
            f"{token}|x", f"%25{ord(token[0]):02x}{token[1:]}", f"./{token}", f"/{token}", f"x/{token}", f"x/../{token}", "[^/]*"]


def seen(bench, method, path, **request):
    """All of an answer but the time at which it was given."""
    answer = bench.ask(method, path, **request)
    return answer.status, sorted(item for item in answer.headers.items() if item[0] != "Date"), answer.body


def check_nothing_told(bench):
    """Every wrong token at every address has one and the same answer, so that none is told from another."""
    token = bench.base.strip("/")
    paths = [f"/{wrong}/{path}" for wrong in wrong_ones(token) for path in ("", "state")]
    paths += [f"/{wrong}/{path}" for wrong in (wrong_ones(token)[0], wrong_ones(token)[25], token[:-1], token + "a", token * 2)
              for path in ADDRESSES]
    paths += [*(f"/{path}" for path in ADDRESSES), f"/state?token={token}", f"/?{token}/", f"/{token}a",
              f"/{token}{token}", f"/{token[:-1]}", f"/{token[1:]}", f"/state/{token}"]
    before = row_counts(bench.job)
    answers = {method: {repr(seen(bench, method, path, **request)): path for path in paths}
               for method, request in (("GET", {}), ("PUT", {}), ("OPTIONS", {}), ("DELETE", {}),
                                       ("POST", {"body": "{}", "headers": {"Content-Type": "application/json"}}))}
    for method, told in answers.items():
        equal(len(told), 1, f"answers to {method} with wrong tokens, at {list(told.values())}: {list(told)}")
    equal(len({text for told in answers.values() for text in told}), 1, "answers to different methods")
    expect("404" in next(iter(answers["GET"])), f"it is {list(answers['GET'])}")
    for name, value in (("Authorization", f"Bearer {token}"), ("Cookie", f"token={token}"), ("X-Token", token),
                        ("Referer", bench.address), ("Host", token)):
        check_error(bench.ask("GET", "/state", headers={name: value}), 404, f"the token in {name} alone")
    for path in ("nothing", f"{token}/state", "../state", "%2e%2e/state"):
        check_error(bench.get(path), 404, f"the token, and then {path}")
    equal(row_counts(bench.job), before, "rows after wrong tokens")
    equal(bench.get("state").status, 200, "the token itself")


def check_many_wrong(bench):
    """Thousands of wrong ones from the page's own address: it is let in at once, and its stream goes on. What a wrong one
    asked for would have used up the rate that one address has."""
    token = bench.base.strip("/")
    wrong = wrong_ones(token)
    with bench.connect() as link:
        link.settimeout(PATIENCE)
        link.sendall(bench.head("GET", "stream"))
        came = link.recv(65536)

        def guess(number):
            return bench.ask("GET", f"/{wrong[number % len(wrong)]}/icon.svg").status

        with ThreadPoolExecutor(4) as crowd:
            guesses = crowd.map(guess, range(3000))
            for turn in range(30):
                equal(bench.get("icon.svg").status, 200, f"the page while others guess, turn {turn}")
            equal(set(guesses), {404}, "answers to wrong tokens")
        for turn in range(100):
            equal(bench.get("icon.svg").status, 200, f"the page after 3,000 wrong tokens, turn {turn}")
        equal(bench.post("readings", reading("after-guesses")).status, 201, "a reading after 3,000 wrong tokens")
        while b"after-guesses" not in came:
            part = link.recv(65536)
            expect(part, "the stream ended while others guessed")
            came += part


def check_told_nowhere(bench):
    """No answer, no file of the job and no line of the process holds the token, but the line that tells the address, and the
    way from it without / at its end to the page."""
    token = bench.base.strip("/").encode()
    requests = [bench.head(method, path, Connection="close", **({"Content_Length": 0} if method in ("POST", "PUT") else {}))
                for path in ADDRESSES if path != "stream" for method in ("GET", "HEAD", "POST", "PUT", "OPTIONS", "DELETE")]
    requests += [bench.head("GET", "state", Connection="close", **fields) for fields in
                 ({"Origin": "http://evil.example"}, {"Host": None}, {"Range": "nonsense"}, {"X_Long": "y" * 9000},
                  {"Content_Length": 9}, {"Referer": bench.address}, {"X Y": "z"})]
    requests += [bench.head("GET", "a" * 9000), bench.head("TRACE", "state"), bench.head("BREW", "state"), b"GET\r\n\r\n"]
    for request in requests:
        came, _ = bench.exchange(request)
        what = f"{request[:20]!r} ... {request[46:90]!r}"
        expect(came.startswith(b"HTTP/1.1 ") and token not in came, f"{what} has the token: {came[:300]!r}")
        expect(b"\r\nReferrer-Policy: no-referrer\r\n" in came, f"{what}: a page behind a link would be told")
    for path in TAKE:
        for body in (reading("told"), {}):
            answer = bench.post(path, body)
            expect(token not in answer.body + str(answer.headers).encode(), f"POST {path} has the token")
    expect(not [part for part in first_event(bench) if token in part], "the stream has the token")
    bare, _ = bench.exchange(bench.head("GET", Connection="close").replace(b"/ HTTP", b" HTTP"))
    equal(bare.count(token), 1, "the token in the way to the page")
    expect(b"\r\nLocation: /" + token + b"/\r\n" in bare, f"the way to the page leads elsewhere: {bare!r}")
    expect(token not in Path(f"/proc/{bench.process.pid}/cmdline").read_bytes(), "the process's list has the token")
    for path in bench.job.parent.glob(f"{bench.job.name}*"):
        expect(token not in path.read_bytes(), f"{path.name} has the token")
    equal(bench.stop(), 0, "status after SIGTERM")
    said = bench.process.stdout.read() + bench.process.stderr.read()
    expect(all(line.startswith(f"{bench.job}: http://") for line in said.splitlines() if token.decode() in line),
           f"the process says the token: {said!r}")
    expect("Plain HTTP" in said, f"what the process says isn't read: {said!r}")


def check_made_anew(jobs):
    """Fifty starts: no token comes twice, every letter comes up, none is tied to its place, and all are about as frequent."""
    job, tokens = jobs.new("anew.rtj", QUICKSTART), []
    for _ in range(50):
        with Bench(jobs.ringtrue, job, *EVERYWHERE) as bench:
            tokens.append(bench.base.strip("/"))
    expect(all(re.fullmatch(TOKEN, token) for token in tokens), f"tokens {tokens}")
    equal(len(set(tokens)), len(tokens), "different tokens")
    together = "".join(tokens)
    even = len(together) / len(ALPHABET)
    # Chi squared with 31 degrees of freedom: above 110 once in 10^10 times.
    uneven = sum((together.count(letter) - even) ** 2 / even for letter in ALPHABET)
    expect(uneven < 110, f"letters come unevenly: {uneven:.0f}")
    # A letter at a place in 16 of 50 tokens, where one or two are expected: once in 10^11 times.
    often = max(column.count(letter) for column in zip(*tokens) for letter in ALPHABET)
    expect(often < 16, f"a letter stands {often} times at one place")
    # Two tokens alike at 12 of 26 places, where one is expected: once in 10^8 times, of all pairs.
    alike = max(sum(a == b for a, b in zip(one, other)) for i, one in enumerate(tokens) for other in tokens[:i])
    expect(alike < 12, f"two tokens are alike at {alike} places")


def check_all(jobs):
    check_token(jobs)
    check_token_file(jobs)
    with jobs.serve("guessed.rtj", *EVERYWHERE) as bench:
        check_nothing_told(bench)
        check_many_wrong(bench)
        check_told_nowhere(bench)
    check_made_anew(jobs)
