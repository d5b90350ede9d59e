#!/usr/bin/env python3
"""Logs readings by the real command, piped and in a pseudo-terminal, and reads the job by Python's own sqlite3.

    log_check.py --ringtrue BINARY [--seed N]
"""

import argparse
import os
import pty
import random
import re
import resource
import select
import signal
import sqlite3
import subprocess
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
QUICKSTART = ROOT / "netlists" / "quickstart"
DRYER = ROOT / "netlists" / "grain-dryer"
KILLS = 10
PATIENCE = 60


def expect(condition, text):
    if not condition:
        raise SystemExit(f"log_check.py: {text}")


def rows_of(job, query):
    connection = sqlite3.connect(job)
    try:
        return connection.execute(query).fetchall()
    finally:
        connection.close()


def acknowledged(output):
    """Ids of the readings whose line arrived whole."""
    whole = output[: output.rfind("\n") + 1]
    return re.findall(r"^(R\d+)  ", whole, re.MULTILINE)


class Log:
    def __init__(self, ringtrue, work, rng):
        self.ringtrue, self.work, self.random = ringtrue.resolve(), work, rng

    def words(self, job, *options, netlist=QUICKSTART):
        return [str(self.ringtrue), "log", str(self.work / job), "--new", str(netlist), "--by", "Ann", *options]

    def pipe(self, job, *lines, netlist=QUICKSTART, **options):
        text = "".join(line + "\n" for line in lines)
        return subprocess.run(
            self.words(job, netlist=netlist), input=text, capture_output=True, text=True, **options
        )


def check_swap(log):
    """Two exchanged wires: found, repaired, read again, gone; every row is still there."""
    first = log.pipe("swap.rtj", "K1:14 x1:5.int o", "a1:0.0 x1:4.int o")
    expect(first.returncode == 1, f"with a finding it ends with {first.returncode}: {first.stderr}")
    after = first.stdout.partition("R2  A1:0.0 to X1:4.int, open: contradicts the drawing: read open, drawn a beep\n")[2]
    expect("Wire 5 from A1:0.0 and wire 14 from K1:14 are exchanged" in after, f"the second reading: {first.stdout}")
    expect("Do: Exchange the two: wire 5 to X1:4.int, wire 14 to X1:5.int." in after, f"no action: {after}")
    expect(re.search(r"likelihood \d+%", after) and "Next: read " in after, f"no likelihood or next reading: {after}")
    more = log.pipe("swap.rtj", "A1:0.0 X1:5.int b", "K1:14 X1:4.int b", "repair 1", "b", "b", "o", "o")
    expect(more.returncode == 0, f"once repaired it ends with {more.returncode}: {more.stderr}{more.stdout}")
    listed = more.stdout.partition("To be read again:\n")[2].splitlines()[:4]
    taken = ["K1:14 to X1:5.int", "A1:0.0 to X1:4.int", "A1:0.0 to X1:5.int", "K1:14 to X1:4.int"]
    expect(listed == ["  " + pair for pair in taken], f"to be read again: {listed}")
    expect("clamps opened: X1:4.int; X1:5.int" in more.stdout, f"the repair: {more.stdout}")
    values = ["beep", "beep", "open", "open"]
    for number, (pair, value) in enumerate(zip(taken, values), 5):
        expect(f"R{number}  {pair}, {value}: agrees\n" in more.stdout, f"{pair} read again: {more.stdout}")
    rows = rows_of(log.work / "swap.rtj", "SELECT id, `from`, `to`, value, supersedes FROM reading ORDER BY number")
    expect([row[0] for row in rows] == [f"R{n}" for n in range(1, 9)], f"rows in the job: {rows}")
    expect([row[3] for row in rows] == ["open", "open", "beep", "beep", *values], f"values in the job: {rows}")
    expect(all(row[4] is None for row in rows), f"nothing was superseded: {rows}")
    events = rows_of(log.work / "swap.rtj", "SELECT kind, points, `by` FROM event")
    expect(events == [("repair", "X1:4.int; X1:5.int", "Ann")], f"events in the job: {events}")
    times = [row[0] for row in rows_of(log.work / "swap.rtj", "SELECT time FROM reading ORDER BY number")]
    form = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")
    expect(all(form.fullmatch(t) for t in times) and times == sorted(set(times)), f"times: {times}")


def check_lines(log):
    """Undo, correction, condition, wrong names; the job holds what was acknowledged and no more."""
    done = log.pipe(
        "lines.rtj",
        "13 b",
        "when S1=operated",
        "s1:13 s1:14 o",
        "correct b",
        "undo",
        "rest",
        "x1:9 k1:14 b",
        "k1:a1 k1:a2 470 ohm",
        "",
        "# a remark",
    )
    expect(done.returncode == 2, f"with a wrong name it ends with {done.returncode}")
    expect(done.stderr.splitlines()[-1] == "1 line was not taken", f"the end: {done.stderr}")
    expect(done.stderr.startswith('line 7: from: the drawing has no such point: found "x1:9"'), f"said: {done.stderr}")
    expect("nearest: X1:1, X1:2, X1:3" in done.stderr, f"no nearest names: {done.stderr}")
    rows = rows_of(
        log.work / "lines.rtj",
        "SELECT id, `from`, `to`, value, conditions, supersedes, `by` FROM reading ORDER BY number",
    )
    s1 = ("S1:13", "S1:14")
    expect(
        rows
        == [
            ("R1", "A1:L+", "K1:11", "beep", None, None, "Ann"),
            ("R2", *s1, "open", "S1=operated", None, "Ann"),
            ("R3", *s1, "beep", "S1=operated", "R2", "Ann"),
            ("R4", *s1, None, "S1=operated", "R3", "Ann"),
            ("R5", "K1:A1", "K1:A2", "470 ohm", None, None, "Ann"),
        ],
        f"rows in the job: {rows}",
    )


def check_two_at_once(log):
    """Two processes log into one job: every acknowledged reading is there once."""
    expect(log.pipe("both.rtj").returncode == 0, "an empty log is no fault")
    count = 40
    text = "g1:+ x1:1.int b\n13 b\n" * (count // 2)
    both = [
        subprocess.Popen(log.words("both.rtj"), stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        for _ in range(2)
    ]
    for one in both:  # both have all their lines before either is waited for
        one.stdin.write(text)
        one.stdin.close()
        one.stdin = None
    said = [one.communicate(timeout=PATIENCE)[0] for one in both]
    ids = [acknowledged(one) for one in said]
    expect(all(len(one) == count for one in ids), f"acknowledged: {[len(one) for one in ids]}")
    expect(not set(ids[0]) & set(ids[1]), "one id was given twice")
    rows = [row[0] for row in rows_of(log.work / "both.rtj", "SELECT id FROM reading")]
    expect(sorted(rows) == sorted(ids[0] + ids[1]), f"{len(rows)} rows of {2 * count}")
    elsewhere = [set(re.findall(r"^Elsewhere (R\d+)  ", one, re.MULTILINE)) for one in said]
    expect(elsewhere[0] <= set(ids[1]) and elsewhere[1] <= set(ids[0]), "told of a row that nobody else added")


def check_kills(log):
    """Every acknowledged reading outlives a kill, once."""
    expect(log.pipe("killed.rtj").returncode == 0, "an empty log is no fault")
    kept = []
    for _ in range(KILLS):
        logging = subprocess.Popen(log.words("killed.rtj"), stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        os.set_blocking(logging.stdin.fileno(), False)
        logging.stdin.write(b"g1:+ x1:1.int b\n13 b\n" * 2000)
        wanted, output = log.random.randrange(1, 25), b""
        while output.count(b"\nR") < wanted:
            output += os.read(logging.stdout.fileno(), 4096)
        time.sleep(log.random.uniform(0, 0.02))
        logging.send_signal(signal.SIGKILL)
        output += logging.stdout.read()
        logging.wait(PATIENCE)
        kept += acknowledged(output.decode())
    expect(rows_of(log.work / "killed.rtj", "PRAGMA integrity_check") == [("ok",)], "integrity_check finds damage")
    rows = [row[0] for row in rows_of(log.work / "killed.rtj", "SELECT id FROM reading")]
    expect(len(kept) == len(set(kept)) >= KILLS, f"{len(kept)} acknowledged, some twice or none")
    expect(len(rows) == len(set(rows)) and set(kept) <= set(rows), "an acknowledged reading is lost or there twice")
    expect(len(rows) - len(kept) <= KILLS, f"{len(rows) - len(kept)} rows more than acknowledged in {KILLS} kills")
    return len(kept)


def check_full_disk(log):
    """A file that may not grow stands for a full disk: what doesn't fit is not acknowledged, and the log goes on."""
    expect(log.pipe("full.rtj").returncode == 0, "an empty log is no fault")

    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (65536, 65536))

    count = 40
    done = log.pipe("full.rtj", *["13 b"] * count, "expect 13", preexec_fn=limit)
    kept = acknowledged(done.stdout)
    refused = done.stderr.count(": the disk is full; nothing of this was written")
    expect(kept and refused and len(kept) + refused == count, f"{len(kept)} kept, {refused} refused: {done.stderr}")
    expect(f"line {count}: the disk is full" in done.stderr and "NOT LOGGED" in done.stderr, f"said: {done.stderr}")
    expect(f"{refused} lines were not taken" in done.stderr and done.returncode == 2, f"the end: {done.stderr}")
    expect("A1:L+ to K1:11: drawn a beep" in done.stdout, f"the log doesn't go on: {done.stdout}")
    rows = [row[0] for row in rows_of(log.work / "full.rtj", "SELECT id FROM reading ORDER BY number")]
    expect(rows == kept, f"rows {rows}, acknowledged {kept}")


def check_results(log):
    """Channels tried: what is refused or on hold isn't taken, what is taken is there, undone by a row more."""
    done = log.pipe(
        "tried.rtj",
        "HOPPER_NOT_FULL lit dark bit=1 only=yes",
        "hopper_not_full lit dark bit=1 only=yes unproven=BK",
        "STOP_RESET lit dark bit=1",
        "io NO_STOP jumper pass led=lit",
        "NO_STOP dark lit bit=0 only=y",
        "START lit lit bit=1 only=yes",
        "undo",
        "MOISTURE_IN 0=8.1 50=25",
        "a1:0.0 lit",
        "io LAMP_DRYING responded",
        netlist=DRYER,
    )
    expect(done.returncode == 2 and "3 lines were not taken" in done.stderr, f"what is not taken: {done.stderr}")
    said = dict(re.findall(r"^line (\d+): (.*)$", done.stderr, re.MULTILINE))
    expect(set(said) == {"1", "3", "4"}, f"lines not taken: {said}")
    expect("a jumper at HOPPER_NOT_FULL is on hold: Not proven by readings" in said["1"], f"on hold: {said['1']}")
    expect("unproven=NAME" in said["1"], f"what would be taken: {said['1']}")
    expect("no test of STOP_RESET here: The channel has the role stop" in said["3"], f"refused: {said['3']}")
    expect("a jumper at NO_STOP is refused, so it can't be recorded: " in said["4"], f"refused: {said['4']}")
    fields = "id, channel, stimulus, led, bit, only_this, value, verdict, `by`, supersedes"
    rows = rows_of(log.work / "tried.rtj", f"SELECT {fields} FROM result ORDER BY number")
    expect(
        rows
        == [
            ("I1", "A1:0.0", "jumper", "lit", "1", "yes", None, "pass", "Ann", None),
            ("I2", "A2:1.1", "operated", "dark", "0", "yes", None, "pass", "Ann", None),
            ("I3", "A2:1.0", "operated", "lit", "1", "yes", None, "fail", "Ann", None),
            ("I4", "A2:1.0", "operated", None, None, None, None, "withdrawn", "Ann", "I3"),
            ("I5", "A5:0+", "simulator", None, None, None, "8.1 %", "pass", "Ann", None),
            ("I6", "A5:0+", "simulator", None, None, None, "25 %", "fail", "Ann", None),
            ("I7", "A4:3.0", "logic", None, None, None, None, "pass", "Ann", None),
        ],
        f"results in the job: {rows}",
    )
    held = rows_of(log.work / "tried.rtj", "SELECT `at`, given, expected, reason FROM result WHERE id = 'I1'")[0]
    expect(
        held
        == (
            "X13:1.ext; X3:1.ext",
            "jumper fitted, then removed",
            "dark; jumper fitted: lit; removed: dark",
            "removed: dark; on hold, offered without proof by BK",
        ),
        f"a jumper on hold: {held}",
    )
    readings = rows_of(log.work / "tried.rtj", "SELECT `from`, value FROM reading")
    expect(readings == [("A1:0.0", "lit")], f"a point that is lit stays a reading: {readings}")
    # The same value by the other command is the same row, but for who and when.
    words = [str(log.ringtrue), "analog", str(log.work / "tried.rtj"), "MOISTURE_IN", "--seen", "50=25", "--by", "Ann"]
    subprocess.run(words, capture_output=True)
    texts = "channel, stimulus, `at`, given, expected, value, verdict, reason, `by`, revision"
    both = rows_of(log.work / "tried.rtj", f"SELECT {texts} FROM result WHERE id IN ('I6', 'I8')")
    expect(len(both) == 2 and both[0] == both[1], f"by log and by analog: {both}")


def check_values_from_a_pipe(log):
    """Values alone, as a meter sends them: taken for what was shown, so only where a terminal shows proposals."""
    blind = log.pipe("blind.rtj", "b", "b", "o", "next", "b")
    for line in (1, 2, 3):
        expect(f"line {line}: the reading proposed wasn't shown before; nothing was logged" in blind.stderr, blind.stderr)
    expect(acknowledged(blind.stdout) == ["R1"], f"only the one behind next is for what was shown: {blind.stdout}")
    screen, terminal = pty.openpty()
    with subprocess.Popen(log.words("meter.rtj"), stdin=subprocess.PIPE, stdout=terminal) as logging:
        os.close(terminal)
        logging.stdin.write(b"b\nb\n")
        logging.stdin.close()
        shown = b""
        try:
            while part := os.read(screen, 4096):
                shown += part
        except OSError:  # the other end is closed
            pass
    os.close(screen)
    shown = shown.decode().replace("\r\n", "\n")
    expect(acknowledged(shown) == ["R1", "R2"], f"both are for proposals on the screen: {shown}")
    expect(shown.index("Next  G1:+") < shown.index("R1  G1:+"), f"shown before it is taken: {shown}")


def check_new_of_a_job_that_is_there(log):
    """The same call again goes on with the job, and says that the netlist named isn't looked at."""
    log.pipe("again.rtj", "13 b")
    again = log.pipe("again.rtj", "14 b", netlist="no-such.csv")
    expect("again.rtj is there already, so --new no-such.csv is not looked at" in again.stderr, again.stderr)
    expect(acknowledged(again.stdout) == ["R2"], again.stdout)


def check_results_outlive_kills(log):
    """Every acknowledged result outlives a kill, once."""
    expect(log.pipe("tried-killed.rtj", netlist=DRYER).returncode == 0, "an empty log is no fault")
    kept = []
    for _ in range(3):
        words = log.words("tried-killed.rtj", netlist=DRYER)
        logging = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        os.set_blocking(logging.stdin.fileno(), False)
        logging.stdin.write(b"START lit dark bit=1 only=yes\n" * 1000)
        wanted, output = log.random.randrange(1, 15), b""
        while output.count(b"\nI") < wanted:
            output += os.read(logging.stdout.fileno(), 4096)
        logging.send_signal(signal.SIGKILL)
        output += logging.stdout.read()
        logging.wait(PATIENCE)
        text = output.decode()
        kept += re.findall(r"^(I\d+)  ", text[: text.rfind("\n") + 1], re.MULTILINE)
    rows = [row[0] for row in rows_of(log.work / "tried-killed.rtj", "SELECT id FROM result")]
    expect(kept and len(kept) == len(set(kept)), f"{len(kept)} acknowledged, some twice or none")
    expect(set(kept) <= set(rows), "an acknowledged result is lost")


class Terminal:
    """The command with somebody at its keys."""

    def __init__(self, words):
        self.pid, self.keys = pty.fork()
        if self.pid == 0:
            os.environ["TERM"] = "xterm"
            os.environ["NO_COLOR"] = "1"
            os.execv(words[0], words)
        self.output = ""

    def until(self, text):
        """What came up to `text` and with it."""
        ends = time.monotonic() + PATIENCE
        while text not in self.output:
            expect(time.monotonic() < ends, f"waited in vain for {text!r}, got {self.output!r}")
            if select.select([self.keys], [], [], 0.2)[0]:
                try:
                    self.output += os.read(self.keys, 65536).decode(errors="replace").replace("\r\n", "\n")
                except OSError:
                    expect(text in self.output, f"ended before {text!r}, got {self.output!r}")
        told, _, self.output = self.output.partition(text)
        return told + text

    def whatever_comes(self, seconds):
        """Until nothing has come for so long, or the other side is gone."""
        told, self.output = self.output, ""
        while select.select([self.keys], [], [], seconds)[0]:
            try:
                told += os.read(self.keys, 65536).decode(errors="replace").replace("\r\n", "\n")
            except OSError:
                break
        return told

    def type(self, text):
        os.write(self.keys, text.encode())

    def status(self):
        return os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])


def check_terminal(log):
    """TAB completes a name typed in another case, the proposal is shown, its value alone logs it."""
    terminal = Terminal(log.words("typed.rtj"))
    shown = terminal.until("at rest> ")
    expect("Prove the panel dead before continuity tests." in shown, f"no caution: {shown}")
    expect("Next  G1:+  (wire 1, sheet 1.1)\n      X1:2.ext" in shown, f"no proposal: {shown}")
    terminal.type("b\n")
    terminal.until("R1  G1:+ to X1:2.ext, beep: agrees\n")
    shown = terminal.until("at rest> ")
    expect("Next  G1:+" in shown and "X1:3.ext" in shown, f"the proposal after it: {shown}")
    terminal.type("k1:14\tx1:5.i\to\n")
    terminal.until("R2  K1:14 to X1:5.int, open: contradicts the drawing: read open, drawn a beep\n")
    terminal.until("at rest> ")
    terminal.type("x1:6.\t")
    terminal.until("X1:6.ext  X1:6.int")
    terminal.type("\x15\x1b[A\n")  # the line is cleared, the one before comes back
    terminal.until("R3  K1:14 to X1:5.int, open: contradicts")
    terminal.until("at rest> ")
    terminal.type("start_\tli\tda\tbit=1\n")
    terminal.until("I1  A1:0.1 START_AUGER, operated: pass, though it shows incomplete; released: dark\n")
    terminal.until("at rest> ")
    terminal.type("undo\n")
    terminal.until("I2  undoes I1: A1:0.1, pass\n")
    terminal.until("at rest> ")
    for undone in ("R3", "R2"):
        terminal.type("undo\n")
        terminal.until(f"undoes {undone}: K1:14 to X1:5.int, open\n")
        terminal.until("at rest> ")
    # A key that comes while the line discipline is changed is lost or leaves a letter in the line, as it does for a
    # person, who clears the line and presses it again.
    told = ""
    for _ in range(10):
        terminal.type("\x15\x04")
        told += terminal.whatever_comes(2)
        if "7 rows added here; the job has 0 findings.\n" in told:
            break
    expect("7 rows added here; the job has 0 findings.\n" in told, f"Ctrl-D doesn't end the log, got {told!r}")
    expect(terminal.status() == 0, "a log without findings ends with another status")
    rows = rows_of(log.work / "typed.rtj", "SELECT id, `from`, `to`, value FROM reading ORDER BY number")
    expect(rows[0] == ("R1", "G1:+", "X1:2.ext", "beep") and len(rows) == 5, f"rows in the job: {rows}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(1 << 31))
    arguments = parser.parse_args()
    print(f"log_check.py: seed {arguments.seed}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        log = Log(arguments.ringtrue, Path(folder), random.Random(arguments.seed))
        check_swap(log)
        check_lines(log)
        check_values_from_a_pipe(log)
        check_new_of_a_job_that_is_there(log)
        check_results(log)
        check_results_outlive_kills(log)
        check_two_at_once(log)
        check_full_disk(log)
        check_terminal(log)
        kept = check_kills(log)
    print(f"log_check.py: {KILLS} kills, all {kept} acknowledged readings there once; piped, typed and two at once")


if __name__ == "__main__":
    main()
