#!/usr/bin/env python3
"""Checks how the command behaves where a golden file can't: examples of the help, and a stdout that can't be written.

    call_check.py BINARY [VERSION]
"""

import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent


def run(arguments, **options):
    options = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "cwd": ROOT, **options}
    return subprocess.run(arguments, stderr=subprocess.PIPE, text=True, **options)


def expect(condition, text):
    if not condition:
        raise SystemExit(f"call_check.py: {text}")


def verbs_of(binary):
    listed = run([binary, "--help"]).stdout.partition("Verbs:\n")[2].partition("\n\n")[0]
    return re.findall(r"^  (\w+) ", listed, re.MULTILINE)


def run_until_it_speaks(command, cwd):
    """Of a verb that goes on until it is asked to end."""
    process = subprocess.Popen(command, cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    first = process.stdout.readline()
    process.terminate()
    stdout, stderr = process.communicate()
    return subprocess.CompletedProcess(command, process.returncode, first + stdout, stderr)


def check_examples(binary):
    verbs = verbs_of(binary)
    expect(verbs, "--help lists no verbs")
    for verb in verbs:
        example = run([binary, verb, "--help"]).stdout.partition("Example:\n")[2].strip()
        words = shlex.split(example)
        expect(words[:2] == ["ringtrue", verb], f"the help of {verb} has no example of it, found: {example}")
        with tempfile.TemporaryDirectory() as folder:  # an example may write a file
            (Path(folder) / "netlists").symlink_to(ROOT / "netlists")
            if verb == "record":
                run([binary, "job", "new", "quickstart.rtj", "netlists/quickstart"], cwd=folder)
            done = (run_until_it_speaks if verb == "serve" else run)([binary, *words[1:]], cwd=folder)
        expect(done.returncode in (0, 1) and done.stdout, f"'{example}' ends with {done.returncode}: {done.stderr}")


def check_unwritable_stdout(binary):
    for verb in (["trace", "netlists/quickstart"], ["compare", "netlists/quickstart", "netlists/quickstart/readings.csv"]):
        with open("/dev/full", "w", encoding="utf-8") as full:
            done = run([binary, *verb], stdout=full)
        expect(done.returncode == 2, f"{verb[0]} to a full disk ends with {done.returncode}, expected 2")
        expect("could not write the result" in done.stderr, f"{verb[0]} to a full disk says: {done.stderr}")
        closed = run(["sh", "-c", 'exec "$@" >&-', "sh", binary, *verb])
        expect(closed.returncode == 2, f"{verb[0]} to a closed stdout ends with {closed.returncode}, expected 2")
        expect("could not write the result" in closed.stderr, f"{verb[0]} to a closed stdout says: {closed.stderr}")


def check_names_that_take_a_hold_upon_themselves(binary):
    call = [binary, "jumper", "netlists/quickstart", "HOPPER_FULL", "--unproven"]
    for name in ["=1+1", "O'Tester, A.", "N" * 200, "Jörg"]:
        done = run([*call, name])
        expect(done.returncode == 0, f"--unproven {name!r} ends with {done.returncode}: {done.stderr}")
    for name in ["", "  ", "a\nX1:1 offered", "\x1b[31mred", "a\rb", "N" * 201, b"\xff"]:
        done = run([*call, name])
        expect(done.returncode == 2 and "expected a name" in done.stderr, f"--unproven {name!r}: {done.stderr}")


def check_that_a_drawing_commands_no_terminal(binary):
    with tempfile.TemporaryDirectory() as folder:
        panel = Path(folder) / "panel"
        shutil.copytree(ROOT / "netlists/quickstart", panel)
        channels = panel / "channels.csv"
        channels.write_text(channels.read_text().replace("HOPPER_FULL", "HOPPER\x1b[2J_FULL\x07"))
        for call in [["jumper", panel, "--all"], ["trace", panel], ["jumper", panel, "HOPPER\x1b"]]:
            done = run([binary, *map(str, call)])
            printed = done.stdout + done.stderr
            expect("\ufffd" in printed, f"{call[0]} shows no mark for a control character")
            expect(not re.search(r"[\x00-\x08\x0b-\x1f]", printed), f"{call[0]} prints a control character")


def main():
    if len(sys.argv) not in (2, 3):
        raise SystemExit("usage: call_check.py BINARY [VERSION]")
    binary = str(Path(sys.argv[1]).resolve())
    check_examples(binary)
    check_unwritable_stdout(binary)
    check_names_that_take_a_hold_upon_themselves(binary)
    check_that_a_drawing_commands_no_terminal(binary)
    if len(sys.argv) == 3:
        printed = run([binary, "--version"]).stdout
        expect(printed.startswith(f"ringtrue {sys.argv[2]} ("), f"--version prints {printed!r}, the project is {sys.argv[2]}")
    print("call_check.py: examples run, an unwritable stdout is noticed")


if __name__ == "__main__":
    main()
