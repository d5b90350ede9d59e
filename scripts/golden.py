#!/usr/bin/env python3
"""Runs the command on the cases of tests/golden and compares what it says, to the byte.

    golden.py --ringtrue BINARY                 all cases, and every `$ ringtrue ...` block of README.md
    golden.py --ringtrue BINARY FILE...         these cases, or these documents (*.md)
    golden.py --ringtrue BINARY --accept ...    writes what the command says now into the cases (not into documents)

A case is a file of sections, each begun by a line `--- NAME`:

    what the case shows, in a line or two
    --- command
    ringtrue compare netlists/quickstart netlists/quickstart/readings.csv
    --- stdin
    ...
    --- status
    1
    --- stdout
    ...
    --- stderr
    ...

An empty section is left out. The command runs without a shell, in a folder of its own that holds a link to everything
in the top folder of the source tree: what it writes beside them goes with the folder. `${VERSION}` stands for the
version the binary prints; CR LF is taken as a line end like LF. Exit status: 0 all as written, 1 some differ, 2 a call that is wrong.
"""

import argparse
import contextlib
import difflib
import re
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SECTIONS = ("command", "stdin", "status", "stdout", "stderr")
FENCED = re.compile(r"^```[^\n]*\n(\$ ringtrue [^\n]*\n.*?)^```", re.MULTILINE | re.DOTALL)
CUT = "..."  # a line of its own in a document: the output goes on, the document does not show it


@contextlib.contextmanager
def own_folder():
    with tempfile.TemporaryDirectory() as folder:
        for entry in ROOT.iterdir():
            (Path(folder) / entry.name).symlink_to(entry)
        yield folder


class Command:
    def __init__(self, binary):
        self.binary = Path(binary).resolve()
        first = subprocess.run([self.binary, "--version"], capture_output=True, text=True, check=True).stdout
        self.version = first.split(" (")[0].removeprefix("ringtrue ").strip()
        self.build = first.strip().removeprefix("ringtrue ")

    def run(self, line, stdin="", folder=None):
        words = shlex.split(line)
        if not words or words[0] != "ringtrue":
            raise ValueError(f"a command begins with 'ringtrue', found: {line}")
        if folder is None:
            with own_folder() as folder:
                return self.run(line, stdin, folder)
        done = subprocess.run([self.binary, *words[1:]], input=stdin.encode(), capture_output=True, cwd=folder)
        return {
            "command": line,
            "stdin": stdin,
            "status": str(done.returncode),
            "stdout": self.without_version(done.stdout),
            "stderr": self.without_version(done.stderr),
        }

    def without_version(self, output):
        text = output.decode("utf-8", errors="backslashreplace").replace("\r\n", "\n")
        for found in (self.build, self.version):
            text = text.replace(found, "${VERSION}") if "ringtrue " + found in text else text
        return text.rstrip("\n")


def read_case(path):
    purpose, *rest = re.split(r"^--- (\w+)\n", path.read_text(encoding="utf-8"), flags=re.MULTILINE)
    case = dict.fromkeys(SECTIONS, "")
    for name, text in zip(rest[::2], rest[1::2]):
        if name not in SECTIONS:
            raise ValueError(f"{path}: unknown section '{name}', expected one of {', '.join(SECTIONS)}")
        case[name] = text.rstrip("\n")
    if not purpose.strip() or not case["command"]:
        raise ValueError(f"{path}: a case begins with its purpose and has a section 'command'")
    return purpose.rstrip("\n"), case


def case_text(purpose, case):
    parts = [purpose]
    for name in SECTIONS:
        if case[name]:
            parts += [f"--- {name}", case[name]]
    return "\n".join(parts) + "\n"


def difference(expected, got, name):
    return "".join(
        difflib.unified_diff(
            expected.splitlines(keepends=True), got.splitlines(keepends=True), f"{name} (as written)", f"{name} (as run)"
        )
    )


def check_case(path, command, accept):
    purpose, case = read_case(path)
    got = case_text(purpose, command.run(case["command"], case["stdin"]))
    expected = path.read_text(encoding="utf-8")
    if got == expected:
        return True
    if accept:
        path.write_text(got, encoding="utf-8")
        print(f"{path}: rewritten")
        return True
    print(difference(expected, got, path))
    return False


def shows(expected, got):
    """Whether the document's lines are the output's, from its beginning, where a line `...` stands for any lines."""
    position = 0
    pieces = [piece.strip("\n").splitlines() for piece in re.split(rf"^{re.escape(CUT)}$", "\n".join(expected), flags=re.M)]
    for number, piece in enumerate(pieces):
        starts = range(position, len(got) - len(piece) + 1) if number else [0]
        start = next((i for i in starts if got[i : i + len(piece)] == piece), None)
        if start is None:
            return False
        position = start + len(piece)
    return position == len(got) or not pieces[-1]


def check_document(path, command):
    """Each fenced block that begins with `$ ringtrue` shows what the command prints; several commands may follow. All blocks run in
    one folder, as a reader would go through them."""
    good = True
    with own_folder() as folder:
        for block in FENCED.findall(path.read_text(encoding="utf-8")):
            for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
                line, _, rest = part.partition("\n")
                result = command.run(line, folder=folder)
                got = "\n".join(text for text in (result["stderr"], result["stdout"]) if text).splitlines()
                only_stdout = result["stdout"].splitlines()
                expected = rest.rstrip("\n").splitlines()
                if shows(expected, only_stdout) or shows(expected, got):
                    continue
                print(difference("\n".join(expected) + "\n", "\n".join(got) + "\n", f"{path}: $ {line}"))
                good = False
    return good


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True, help="the binary")
    parser.add_argument("--accept", action="store_true", help="write what the command says now into the cases")
    parser.add_argument("files", nargs="*", type=Path)
    arguments = parser.parse_args()
    files = [path.resolve() for path in arguments.files]
    if not files:
        files = sorted((ROOT / "tests/golden").glob("*/*.test"))
        files += [ROOT / "README.md"] if (ROOT / "README.md").exists() else []
    command = Command(arguments.ringtrue)
    bad = 0
    for path in files:
        is_document = path.suffix == ".md"
        good = check_document(path, command) if is_document else check_case(path, command, arguments.accept)
        bad += 0 if good else 1
    print(f"golden.py: {len(files)} files, {bad} differ")
    return 1 if bad or not files else 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except (OSError, ValueError, subprocess.SubprocessError) as error:
        print(f"golden.py: {error}", file=sys.stderr)
        sys.exit(2)
