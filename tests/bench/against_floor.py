#!/usr/bin/env python3
"""Runs the floor program and `ringtrue compare` by turns and prints their times, memory and ratio.

By turns, because a machine that slows down for a while then slows both. One run of each goes ahead
unmeasured: it brings the files into the page cache, and its output is checked against the truth that
was written with the plant, so that no time is printed for a wrong answer without saying so.
"""

import argparse
import csv
import json
import os
import platform
import statistics
import subprocess
import sys
import time
from pathlib import Path


def run(command, output):
    """Wall seconds, peak memory in MiB and exit status of one run."""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=output)
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    # Told to Popen so that it doesn't wait again for a process that is gone.
    process.returncode = os.waitstatus_to_exitcode(status)
    return seconds, usage.ru_maxrss / 1024, process.returncode


def must_end_with(command, expected, status):
    if status not in expected:
        sys.exit(f"bench: status {status}, expected {expected}: {' '.join(map(str, command))}")


def machine():
    model = platform.processor() or "unknown processor"
    for line in Path("/proc/cpuinfo").read_text().splitlines():
        if line.startswith("model name"):
            model = line.partition(":")[2].strip()
            break
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return f"{model}, {os.cpu_count()} cores, {memory:.0f} GiB, {platform.system()} {platform.release()}"


def rows(path):
    with open(path, "rb") as file:
        return sum(block.count(b"\n") for block in iter(lambda: file.read(1 << 20), b"")) - 1


def answer_against_truth(report, faults_csv):
    """One line: how many of the faults made stand at rank 1 with exactly their readings."""
    with open(faults_csv, newline="") as file:
        faults = list(csv.DictReader(file))
    true_faults = {(f["kind"], frozenset(f["readings"].split(";"))) for f in faults}
    named = set()
    for finding in report.get("findings", []):
        if finding.get("rank") == 1 and len(finding.get("faults", [])) == 1:
            named.add((finding["faults"][0]["kind"], frozenset(finding.get("explains", []))))
    clusters = report.get("summary", {}).get("clusters", "?")
    right = len(true_faults & named)
    # Two opens side by side and nothing else read there look like two exchanged wires, which is likelier.
    others = [r for kind, r in true_faults - named]
    explained = {frozenset(f["explains"]) for f in report.get("findings", []) if f["rank"] == 1}
    together = sum(any(r < e for e in explained) for r in others)
    mark = f", {together} more within a likelier common explanation" if together else ""
    mark += "" if right + together == len(faults) else "   <-- NOT the truth"
    return f"{clusters} clusters, {right} of {len(faults)} faults at rank 1 with exactly their readings{mark}"


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--floor", required=True)
    parser.add_argument("--ringtrue", required=True)
    parser.add_argument("--plant", required=True, type=Path)
    parser.add_argument("--rounds", type=int, default=5)
    options = parser.parse_args()

    conductors, readings = options.plant / "conductors.csv", options.plant / "readings.csv"
    floor = [options.floor, conductors]
    compare = [options.ringtrue, "compare", options.plant, readings, "--json"]

    floor_says = subprocess.run(floor, capture_output=True, text=True, check=True).stdout.strip()
    report_file = options.plant.parent / "report.json"
    with open(report_file, "wb") as file:
        must_end_with(compare, (0, 1), run(compare, file)[2])

    measured = {"floor": [], "compare": []}
    with open(os.devnull, "wb") as nowhere:
        for _ in range(options.rounds):
            for name, command, expected in (("floor", floor, (0,)), ("compare", compare, (0, 1))):
                seconds, mib, status = run(command, nowhere)
                must_end_with(command, expected, status)
                measured[name].append((seconds, mib))

    # Read only now: Linux counts the memory of the process that started a program towards its peak.
    with open(report_file, encoding="utf-8") as file:
        answer = answer_against_truth(json.load(file), options.plant / "faults.csv")

    print(f"\nmachine     {machine()}")
    for name, path in (("conductors", conductors), ("readings", readings)):
        print(f"{name:<11} {rows(path):>9} rows {path.stat().st_size:>11} bytes")
    print(f"floor says  {floor_says}")
    print(f"compare     {answer}")
    print(f"\n{'':<9}{'median s':>10}{'min s':>8}{'max s':>8}{'peak MiB':>10}   ({options.rounds} rounds, by turns)")
    median = {}
    for name, runs in measured.items():
        seconds = [r[0] for r in runs]
        median[name] = statistics.median(seconds)
        peak = max(r[1] for r in runs)
        print(f"{name:<9}{median[name]:>10.2f}{min(seconds):>8.2f}{max(seconds):>8.2f}{peak:>10.0f}")
    print(f"\nratio of the medians, compare to floor: {median['compare'] / median['floor']:.2f}")


if __name__ == "__main__":
    main()
