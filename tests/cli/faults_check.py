#!/usr/bin/env python3
"""What goes wrong around the command: signals while it works, folders that may not be written to, files that are too
large or that somebody writes to, other locales and time zones, odd paths.

    faults_check.py BINARY
"""

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
PANEL = ROOT / "netlists" / "quickstart"
READINGS = PANEL / "readings.csv"
NOBODY = 65534


def expect(condition, text):
    if not condition:
        raise SystemExit(f"faults_check.py: {text}")


class Command:
    def __init__(self, binary, work):
        self.binary, self.work = str(Path(binary).resolve()), work

    def run(self, *arguments, **call):
        call = {"capture_output": True, "text": True, "errors": "surrogateescape", "timeout": 300, **call}
        return subprocess.run([self.binary, *map(str, arguments)], **call)

    def start(self, *arguments):
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        return subprocess.Popen([self.binary, *map(str, arguments)], **quiet)

    def folder(self, name):
        folder = self.work / name
        folder.mkdir()
        return folder

    def job(self, folder):
        job = folder / "panel.rtj"
        done = self.run("job", "new", job, PANEL, "--readings", READINGS)
        expect(done.returncode == 0, f"no job could be made: {done.stderr}")
        done = self.run("job", "decide", job, "R016", "drawing", "--by", "tester A")
        expect(done.returncode == 0, f"no decision could be made: {done.stderr}")
        return job


def contents(path):
    """The bytes of a file, or of all files below a folder by name. Times of making are no part of it."""
    if path.is_file():
        return path.read_bytes()
    return {str(file.relative_to(path)): file.read_bytes() for file in sorted(path.rglob("*")) if file.is_file()}


def writers(job):
    """What writes under a final name: the arguments before that name, which ends in what is given."""
    return {
        "convert to a folder": (["convert", PANEL], ""),
        "convert to XML": (["convert", PANEL], ".xml"),
        "job new": (["job", "new"], ".rtj"),
        "job export": (["job", "export", job], ""),
        "job as-built": (["job", "as-built", job], ""),
        "record": (["record", job], ""),
    }


def check_signals_while_writing(command):
    """Ended at any moment, under the final name stands nothing or the whole."""
    chance = random.Random(1)
    folder = command.folder("signals")
    job = command.job(folder)
    job_before = job.read_bytes()
    for what, (arguments, ending) in writers(job).items():
        made_new = arguments == ["job", "new"]
        call = lambda out: [*arguments, out, *([PANEL, "--readings", READINGS] if made_new else [])]
        whole = folder / (what.replace(" ", "-") + ending)
        started = time.monotonic()
        done = command.run(*call(whole))
        takes = time.monotonic() - started
        expect(done.returncode in (0, 1), f"{what} ends with {done.returncode}: {done.stderr}")
        cut_short = 0
        for i in range(8):
            out = folder / f"out{i}{ending}"
            process = command.start(*call(out))
            time.sleep(takes * (i + chance.random()) / 8)
            process.send_signal((signal.SIGINT, signal.SIGTERM)[i % 3 % 2])
            process.wait()
            cut_short += process.returncode < 0
            if out.exists() and made_new:
                info = command.run("job", "info", out)
                expect(info.returncode == 0, f"{what}, ended by a signal, leaves a job that is not whole: {info.stderr}")
            elif out.exists():
                expect(contents(out) == contents(whole), f"{what}, ended by a signal, leaves a part of its output")
            shutil.rmtree(out) if out.is_dir() else out.unlink(missing_ok=True)
        expect(cut_short > 0, f"{what} was never ended by a signal")
    expect(job.read_bytes() == job_before, "a verb that only reads the job has changed it")


def check_signals_while_reading(command):
    """A verb that only reads ends at once, and leaves no file."""
    folder = command.folder("reading")
    verbs = (["compare", PANEL, READINGS], ["next", PANEL, READINGS], ["plan", PANEL], ["trace", PANEL], ["check", PANEL])
    for verb in verbs:
        started = time.monotonic()
        command.run(*verb)
        takes = time.monotonic() - started
        for which in (signal.SIGINT, signal.SIGTERM):
            process = subprocess.Popen([command.binary, *map(str, verb)], cwd=folder, stdout=subprocess.DEVNULL,
                                       stderr=subprocess.DEVNULL)
            time.sleep(takes / 2)
            process.send_signal(which)
            process.wait(timeout=10)
            expect(process.returncode in (-which, 0, 1), f"{verb[0]} ended with {process.returncode} on {which}")
    expect(not list(folder.iterdir()), "a verb that only reads left files")


def check_read_only_folder(command):
    """One sentence, status 2, and the folder as it was. Root may write anywhere, so somebody else is asked to."""
    folder = command.folder("read-only")
    job = command.job(folder)
    job.chmod(0o444)
    for part in (command.work, folder):
        part.chmod(0o555)
    somebody = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
    before = contents(folder)
    calls = {what: [*arguments, folder / ("out" + ending)] for what, (arguments, ending) in writers(job).items()}
    calls["job new"] += [PANEL]
    calls["job import"] = ["job", "import", job, "--readings", READINGS]
    calls["job decide"] = ["job", "decide", job, "1", "repair", "--by", "Tester"]
    for what, call in calls.items():
        done = command.run(*call, **somebody)
        expect(done.returncode == 2, f"{what} in a read-only folder ends with {done.returncode}: {done.stderr}")
        told = [line for line in done.stderr.splitlines() if not line.startswith("note: ")]
        expect(len(told) == 1, f"{what} in a read-only folder says: {done.stderr}")
        expect(contents(folder) == before, f"{what} has written to a read-only folder")
    expect(command.run("job", "info", job, **somebody).returncode == 0, "a read-only job can't be read")
    for part in (command.work, folder):
        part.chmod(0o755)


def check_large_files(command):
    """A file of over 4 GiB is refused by its size, before it is read; so are lines and cells without an end."""
    folder = command.folder("large")
    large = folder / "conductors.csv"
    with large.open("wb") as file:
        file.write(b"wire,from,to\n")
        file.truncate(5 * 2**30)
    done = command.run("check", folder, timeout=10)
    expect(done.returncode == 2 and "the file is too large" in done.stderr, f"5 GiB: {done.returncode} {done.stderr[:300]}")
    with large.open("wb") as file:
        file.write(b'wire,from,to\nW1,X1:1,"')
        file.write(b"9" * 50_000_000)
    done = command.run("check", folder)
    expect(done.returncode == 2 and "a quoted cell is not closed" in done.stderr, f"a long cell: {done.stderr[:300]}")
    expect(len(done.stderr) < 2000, "a long cell is quoted whole")
    large.write_text("wire,from,to\n" + "W1,X1:1,X2:1," + "," * 5_000_000 + "\nW2,X1:2,X2:2\n", encoding="utf-8")
    done = command.run("trace", folder)
    expect(done.returncode in (0, 1, 2), f"a row of millions of cells ends with {done.returncode}")


def check_changing_file(command):
    """While somebody writes to a file it is whole, or refused in a sentence."""
    folder = command.folder("changing")
    shutil.copytree(PANEL, folder, dirs_exist_ok=True)
    wires = folder / "conductors.csv"
    whole = wires.read_bytes()
    with wires.open("r+b") as file:
        for i in range(40):
            process = subprocess.Popen([command.binary, "trace", str(folder)], stdout=subprocess.PIPE,
                                       stderr=subprocess.PIPE, text=True)
            while process.poll() is None:
                file.seek(0, os.SEEK_END)
                file.truncate(len(whole) * (i % 3) // 3)
                file.seek(0)
                file.write(whole)
                file.flush()
            said = process.communicate()[1]
            expect(process.returncode in (0, 1, 2), f"a file that changes: {process.returncode}: {said}")
            expect(process.returncode != 2 or str(folder) in said, f"a file that changes, without a sentence: {said}")


def make_locale(folder):
    """One with a decimal comma and another sorting order, as people in a German works have it."""
    made = folder / "de_DE.UTF-8"
    done = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", str(made)], capture_output=True, text=True)
    expect(made.is_dir(), f"no locale could be made: {done.stderr}")
    test = subprocess.run(["/usr/bin/printf", "%.1f", "1,5"], capture_output=True, text=True,
                          env={"LOCPATH": str(folder), "LC_ALL": "de_DE.UTF-8"})
    expect(test.stdout == "1,5", f"the locale has no decimal comma: {test.stdout} {test.stderr}")
    return {"LOCPATH": str(folder), "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}


def check_locale_and_time_zone(command):
    """The same bytes whatever the locale and, for all that tells no time of the day, the time zone."""
    folder = command.folder("locale")
    job = command.job(folder)
    environments = [make_locale(folder), {"TZ": "Pacific/Chatham"}, {"TZ": "Europe/Berlin"}, {"TZ": "no/such zone"}]
    calls = [["compare", PANEL, READINGS], ["compare", "--json", PANEL, READINGS], ["check", PANEL],
             ["plan", PANEL, "--csv"], ["analog", "--all", PANEL.parent / "grain-dryer"], ["energise", PANEL],
             ["jumper", "--all", PANEL, "--csv"], ["trace", PANEL, "--json"], ["job", "info", job], ["next", job, "--json"]]
    plain = {"PATH": os.environ.get("PATH", ""), "TZ": "UTC"}
    for call in calls:
        first = command.run(*call, env=plain)
        expect(first.returncode in (0, 1), f"{call[0]}: {first.stderr}")
        for other in environments:
            done = command.run(*call, env={**plain, **other})
            expect(done.stdout == first.stdout and done.returncode == first.returncode,
                   f"{' '.join(map(str, call))} differs under {other}")
    converted = []
    for i, environment in enumerate([{}, *environments]):
        out = folder / f"panel{i}.xml"
        expect(command.run("convert", PANEL, out, env={**plain, **environment}).returncode == 0, f"convert {environment}")
        converted.append(out.read_bytes())
    expect(len(set(converted)) == 1, "convert differs by locale or time zone")


def check_paths(command):
    """Blanks, other letters, quotes, a leading dash, and bytes that are no text."""
    names = ["with blanks  two", "Schaltschrank prüfen", "盤", "it's \"quoted\"", "-dash", "percent %s %n", "new\nline",
             os.fsdecode(b"not \xff text")]
    plain = command.run("compare", PANEL, READINGS)
    for i, name in enumerate(names):
        folder = command.folder(f"paths{i}") / name
        shutil.copytree(PANEL, folder)
        for path, call in ((str(folder), {}), ("./" + name, {"cwd": folder.parent})):
            done = command.run("compare", path, path + "/readings.csv", **call)
            expect(done.returncode == plain.returncode, f"{name!r}: {done.returncode} {done.stderr}")
            finding = "\n1 "
            expect(done.stdout.count(finding) == plain.stdout.count(finding), f"{name!r}: other findings")
        for out in ("out.xml", "out"):
            done = command.run("convert", folder, folder.parent / (name + out))
            expect(done.returncode == 0, f"convert {name!r}: {done.stderr}")
        job = folder.parent / (name + ".rtj")
        done = command.run("job", "new", job, folder, "--readings", folder / "readings.csv")
        expect(done.returncode == 0, f"job new {name!r}: {done.stderr}")
        expect(command.run("job", "info", job).returncode == 0, f"job info {name!r}")
        expect(command.run("record", job, folder.parent / (name + "record")).returncode in (0, 1), f"record {name!r}")


def main():
    with tempfile.TemporaryDirectory() as work:
        command = Command(sys.argv[1], Path(work))
        for check in (check_signals_while_writing, check_signals_while_reading, check_read_only_folder, check_large_files,
                      check_changing_file, check_locale_and_time_zone, check_paths):
            check(command)


if __name__ == "__main__":
    main()
