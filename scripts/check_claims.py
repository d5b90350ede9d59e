#!/usr/bin/env python3
"""Checks that the tests which documents cite are there, and that no text of the tool calls a circuit dead or safe.

Run: check_claims.py [ROOT]        ROOT is the source tree, by default the one this script lies in.
     check_claims.py --self-test   made-up documents and sources, good and bad.
Exit status: 0 clean, 1 with violations (one line each, FILE:LINE), 2 when there is nothing to check.
"""

import re
import sys
from pathlib import Path

DOCUMENTS = ("src/ANSWERS.md", "DEVELOPERS.md")
# `graph/view_test.cpp`, `tests/cli/threads_check.py`, and the names of its tests behind it.
CITED = re.compile(r"`(?:tests/)?((?!scripts/)[a-z]+/[a-z_]+(?:_test\.cpp|\.py))`((?:(?:,| and)?\s+[A-Z][A-Za-z0-9]{11,}\b)*)")
NAME = re.compile(r"[A-Z][A-Za-z0-9]{11,}")

# A comment, or a text: literals that follow each other are one, and what a JavaScript template holds is one too.
TEXT = re.compile(
    r"""//[^\n]*|/\*.*?\*/|("(?:[^"\\\n]|\\.)*"(?:\s*"(?:[^"\\\n]|\\.)*")*|`[^`]*`|(?<!\w)'(?:[^'\\\n]|\\.)*')""",
    re.DOTALL,
)
CLAIM = re.compile(r"\b(dead|safe|safely|harmless|de-?energi[sz]ed)\b", re.IGNORECASE)
# What may be said with these words: that somebody has to prove it, and that the tool doesn't say it.
CAUTIONS = re.compile(
    r"prove(?:n)? (?:the panel )?dead|(?:with the )?panel proven dead|proves no circuit dead"
    r"|never says that a circuit is dead or safe|nothing here says that a circuit is dead or safe",
    re.IGNORECASE,
)


def line_at(text, place):
    return text.count("\n", 0, place) + 1


def missing_tests(text, read):
    """Line and words for each cited test that isn't there. `read` gives the text of a file below tests, or None."""
    for cited in CITED.finditer(text):
        source = read(cited.group(1))
        if source is None:
            yield line_at(text, cited.start()), f"there is no tests/{cited.group(1)}"
            continue
        for name in NAME.findall(cited.group(2)):
            if not re.search(rf"\bTEST(?:_F|_P)?\(\w+,\s*{name}\)", source):
                yield line_at(text, cited.start()), f"tests/{cited.group(1)} has no test {name}"


def claims(text):
    """Line and words for each text that says what is never said."""
    for literal in TEXT.finditer(text):
        said = re.sub(r'"\s*"', "", literal.group(1) or "")
        if CLAIM.search(CAUTIONS.sub("", said)):
            yield line_at(text, literal.start()), f"never to be said: {said}"


def check(root):
    def read(name):
        path = root / "tests" / name
        return path.read_text(encoding="utf-8") if path.is_file() else None

    found, cited, texts = [], 0, 0
    for name in DOCUMENTS:
        text = (root / name).read_text(encoding="utf-8")
        cited += len(CITED.findall(text))
        found += [f"{name}:{line}: {what}" for line, what in missing_tests(text, read)]
    for path in sorted((root / "src").rglob("*")):
        if path.suffix in {".cpp", ".hpp", ".js"}:
            texts += 1
            name = path.relative_to(root).as_posix()
            found += [f"{name}:{line}: {what}" for line, what in claims(path.read_text(encoding="utf-8"))]
    return found, cited, texts


def self_test():
    tests = {"graph/view_test.cpp": "TEST(View, NetsAreThoseOfASimulation) {}\nTEST_F(View, FaultsMoveEnds) {}", "cli/log_check.py": ""}
    documents = {
        "`graph/view_test.cpp` NetsAreThoseOfASimulation and FaultsMoveEnds; `cli/log_check.py`": 0,
        "`graph/view_test.cpp` NetsAreThoseOfASimulation,\nNetsAreThoseOfNobody": 1,
        "`tests/graph/gone_test.cpp` (the naive one)": 1,
        "`cli/gone_check.py`": 1,
    }
    sources = {
        'say("Prove dead before " "any reading.");  // the circuit is dead': 0,
        'say("ringtrue never says that a "\n    "circuit is dead or safe.");': 0,
        'const bool is_safe = true;': 0,
        'say("The circuit is "\n    "dead.");': 1,
        'say("Prove dead. Now it is safe to touch.");': 1,
        "say(`De-energised: ${name}`)": 1,
        "say('harmless')": 1,
        'const long k_many = 10\'000; open("http://localhost/dead");': 1,
    }
    wrong = [t for t, n in documents.items() if len(list(missing_tests(t, tests.get))) != n]
    wrong += [t for t, n in sources.items() if len(list(claims(t))) != n]
    for text in wrong:
        print(f"self-test: {text!r}")
    print(f"check_claims: self-test {len(documents) + len(sources) - len(wrong)} passed, {len(wrong)} failed")
    return 1 if wrong else 0


def main():
    if sys.argv[1:] == ["--self-test"]:
        return self_test()
    root = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent.parent
    found, cited, texts = check(root)
    if not cited or not texts:
        print("check_claims: nothing to check", file=sys.stderr)
        return 2
    print("\n".join(found) if found else f"check_claims: {cited} cited tests are there, {texts} sources claim nothing")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
