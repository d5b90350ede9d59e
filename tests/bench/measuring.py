"""Whole processes measured from outside: wall time, peak memory, by turns."""

import os
import platform
import select
import statistics
import subprocess
import sys
import time
from pathlib import Path


def run(command, output, limit=None):
    """Wall seconds, peak memory in bytes and exit status of one run; status None if it was ended at the limit.

    Linux counts the memory of the process that started a program towards its peak, so whoever calls this stays small.
    """
    start = time.perf_counter()
    process = subprocess.Popen([str(c) for c in command], stdout=output, stderr=subprocess.DEVNULL)
    if limit is not None and not _ends_within(process, start + limit):
        process.kill()
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    # Told to Popen so that it doesn't wait again for a process that is gone.
    process.returncode = os.waitstatus_to_exitcode(status)
    return seconds, usage.ru_maxrss * 1024, process.returncode if process.returncode >= 0 else None


def _ends_within(process, deadline):
    """Waits without reaping, since wait4 is to tell the memory."""
    descriptor = os.pidfd_open(process.pid)
    try:
        ready, _, _ = select.select([descriptor], [], [], deadline - time.perf_counter())
        return bool(ready)
    finally:
        os.close(descriptor)


def by_turns(commands, rounds, limit=None):
    """{name: [[seconds, bytes], ...]} of commands {name: (command, good statuses)}, each round all of them in order.

    By turns, because a machine that slows down for a while then slows all. The caller has run each once before, so that
    the files are in the page cache. One that was ended at the limit gets no further runs and has None for them.
    """
    runs = {name: [] for name in commands}
    with open(os.devnull, "wb") as nowhere:
        for _ in range(rounds):
            for name, (command, good) in commands.items():
                if runs[name] is None:
                    continue
                seconds, peak, status = run(command, nowhere, limit)
                if status is None:
                    runs[name] = None
                    continue
                must_end_with(command, good, status)
                runs[name].append([seconds, peak])
    return runs


def must_end_with(command, good, status):
    if status not in good:
        sys.exit(f"bench: exit status {status}, expected {good}: {' '.join(map(str, command))}")


def seconds_of(runs):
    return [seconds for seconds, _ in runs]


def median_seconds(runs):
    return statistics.median(seconds_of(runs))


def peak(runs):
    return max(most for _, most in runs)


def busy_share(seconds=2):
    """How much of all cores other programs take, 0 to 1, while this one waits."""
    def times():
        fields = [int(word) for word in Path("/proc/stat").read_text().splitlines()[0].split()[1:]]
        return fields[3] + fields[4], sum(fields[:8])

    idle, total = times()
    time.sleep(seconds)
    idle_then, total_then = times()
    return 1 - (idle_then - idle) / (total_then - total)


def machine():
    model = platform.processor() or "unknown processor"
    for line in Path("/proc/cpuinfo").read_text().splitlines():
        if line.startswith("model name"):
            model = line.partition(":")[2].strip()
            break
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return f"{model}, {os.cpu_count()} cores, {memory:.0f} GiB, {platform.system()} {platform.release()}"
