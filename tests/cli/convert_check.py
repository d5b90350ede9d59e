#!/usr/bin/env python3
"""Checks that `ringtrue convert` never leaves a partial output under its final name, and what it says when it fails.

    convert_check.py BINARY
"""

import os
import resource
import signal
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

WIRES = 20000  # some 600 kB of CSV and 1.5 MB of XML
LIMIT = 100000  # bytes; each form is cut in the middle of its conductors


def expect(condition, text):
    if not condition:
        raise SystemExit(f"convert_check.py: {text}")


def limited(reaction):
    """A file may not grow past LIMIT: writing fails where the signal is ignored, and kills where it is not."""

    def prepare():
        signal.signal(signal.SIGXFSZ, reaction)
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_FSIZE, (LIMIT, LIMIT))

    return prepare


class Converting:
    def __init__(self, binary, work):
        self.binary, self.work = binary, work
        self.source = work / "in.csv"
        rows = (f"{i},K{i}:A1,X1:{i}\n" for i in range(WIRES))
        self.source.write_text("wire,from,to\n" + "".join(rows), encoding="utf-8")

    def run(self, out, *options, **call):
        command = [self.binary, "convert", self.source, out, *options]
        return subprocess.run(command, capture_output=True, text=True, **call)

    def names(self):
        return sorted(path.name for path in self.work.iterdir() if path != self.source)


def check_full_disk(converting):
    for name in ("out", "out.xml"):
        done = converting.run(converting.work / name, preexec_fn=limited(signal.SIG_IGN))
        expect(done.returncode == 2 and not done.stdout, f"{name} on a full disk ends with {done.returncode}")
        expect("it could not be written (File too large)" in done.stderr, f"{name} on a full disk says: {done.stderr}")
        expect(not converting.names(), f"{name} on a full disk leaves {converting.names()}")


def check_killed(converting):
    for name in ("out", "out.xml"):
        done = converting.run(converting.work / name, preexec_fn=limited(signal.SIG_DFL))
        expect(done.returncode == -signal.SIGXFSZ, f"{name} was to be killed, ends with {done.returncode}")
        expect(name not in converting.names(), f"{name} killed leaves {converting.names()}")
        done = converting.run(converting.work / name)
        expect(done.returncode == 0, f"{name} after a killed one: {done.stderr}")
        whole = subprocess.run([converting.binary, "trace", converting.work / name], capture_output=True)
        expect(whole.returncode == 0, f"{name} written after a killed one can't be loaded")


def check_old_stays(converting):
    """Both forms stand there from the check before."""
    before = (converting.work / "out.xml").read_bytes()
    rows = (converting.work / "out" / "conductors.csv").read_bytes()
    for name in ("out", "out.xml"):
        done = converting.run(converting.work / name)
        expect(done.returncode == 2 and "it exists already" in done.stderr, f"{name} that exists: {done.stderr}")
        done = converting.run(converting.work / name, "--force", preexec_fn=limited(signal.SIG_DFL))
        expect(done.returncode == -signal.SIGXFSZ, f"{name} was to be killed, ends with {done.returncode}")
    expect((converting.work / "out.xml").read_bytes() == before, "a killed --force changed out.xml")
    expect((converting.work / "out" / "conductors.csv").read_bytes() == rows, "a killed --force changed out")
    for name in ("out", "out.xml"):
        done = converting.run(converting.work / name, "--force")
        expect(done.returncode == 0, f"--force on {name}: {done.stderr}")


def check_places(converting):
    for out, reason in (("/proc/out.xml", ""), ("/proc/out", ""), ("/dev/full/out.xml", "Not a directory")):
        done = converting.run(out)
        expect(done.returncode == 2, f"{out} ends with {done.returncode}")
        expect(f"{out}: it could not be written (" in done.stderr and reason in done.stderr, f"{out}: {done.stderr}")
    done = converting.run("/dev/full", "--force")
    expect(done.returncode == 2 and "what stands there is no folder" in done.stderr, f"/dev/full: {done.stderr}")
    expect(stat.S_ISCHR(os.stat("/dev/full").st_mode), "/dev/full was replaced")
    device = converting.work / "device.xml"
    os.mkfifo(device)
    done = converting.run(device, "--force")
    expect(done.returncode == 2 and "what stands there is no file" in done.stderr, f"a pipe: {done.stderr}")
    device.unlink()


def check_read_only_folder(converting):
    if os.geteuid() == 0:
        return  # nothing is read-only for root
    folder = converting.work / "locked"
    folder.mkdir(mode=0o555)
    done = converting.run(folder / "out.xml")
    expect(done.returncode == 2 and "(Permission denied)" in done.stderr, f"a read-only folder: {done.stderr}")


def check_permissions(converting):
    out = converting.work / "shared.xml"
    done = converting.run(out, preexec_fn=lambda: os.umask(0o027))
    expect(done.returncode == 0, f"{out}: {done.stderr}")
    expect(stat.S_IMODE(out.stat().st_mode) == 0o640, "the file has other permissions than the umask gives")


def check_unwritable_stdout(converting):
    with open("/dev/full", "w", encoding="utf-8") as full:
        command = [converting.binary, "convert", converting.source, converting.work / "said.xml"]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True)
    expect(done.returncode == 2 and "could not write the result" in done.stderr, f"a full stdout: {done.stderr}")


def main():
    if len(sys.argv) != 2:
        raise SystemExit("usage: convert_check.py BINARY")
    with tempfile.TemporaryDirectory() as folder:
        converting = Converting(str(Path(sys.argv[1]).resolve()), Path(folder))
        check_full_disk(converting)
        check_killed(converting)
        check_old_stays(converting)
        check_places(converting)
        check_read_only_folder(converting)
        check_permissions(converting)
        check_unwritable_stdout(converting)
    print("convert_check.py: no partial output under its final name, and what stood there stayed")


if __name__ == "__main__":
    main()
