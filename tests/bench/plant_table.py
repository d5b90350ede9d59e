#!/usr/bin/env python3
"""Makes of the figures of plant_runs.py, pieces_bench and plant_answers.py a text, prints it, and writes it where asked.

    plant_table.py FIGURES [--out FILE.md]

FIGURES is the folder with plant.json and, as far as they were made, pieces.json and answers.json. Nobody types a number.
"""

import argparse
import json
import math
from pathlib import Path

from measuring import median_seconds, peak, seconds_of
from must_hold import lines as must_hold

PIECES = [
    ("interning the ends", "intern", "std::unordered_map", "intern_unordered_map"),
    ("splitting CSV", "csv_split", "memchr", "csv_split_memchr"),
    ("graph with its nets", "graph_with_nets", "Boost graph and components", "boost_graph_with_components"),
    ("tracing all channels", "trace", "Boost components", "boost_components"),
    ("whole diagnosis, 20 faults", "whole_diagnosis", None, None),
    ("one more reading", "one_more_reading", None, None),
]


LEAST_FOR_BYTES = 100_000


def table(header, rows):
    widths = [max(len(str(row[i])) for row in [header, *rows]) for i in range(len(header))]

    def line(cells):
        first, *rest = (str(cell).ljust(w) if i == 0 else str(cell).rjust(w) for i, (cell, w) in enumerate(zip(cells, widths)))
        return "| " + " | ".join([first, *rest]) + " |"

    rule = "| " + " | ".join("-" * w if i == 0 else "-" * (w - 1) + ":" for i, w in enumerate(widths)) + " |"
    return "\n".join([line(header), rule, *map(line, rows)])


def of_size(size, found, smaller, limit):
    """`smaller`: the size before and its figures, or None."""
    rows = []
    for name, runs in found["runs"].items():
        if not runs:
            rows.append([name, f"over {limit}", *[""] * 7])
            continue
        median, seconds = median_seconds(runs), seconds_of(runs)
        beyond = f"{(peak(runs) - found['input'][name]) / size:.0f}" if size >= LEAST_FOR_BYTES else ""
        growth = ""
        if smaller and smaller[1]["runs"].get(name):
            growth = f"{math.log(median / median_seconds(smaller[1]['runs'][name]), size / smaller[0]):.2f}"
        rows.append([name, f"{median:.3f}", f"{min(seconds):.3f}", f"{max(seconds):.3f}", len(runs),
                     f"{median / median_seconds(found['runs']['floor']):.2f}", f"{peak(runs) / 2**20:.0f}", beyond, growth])
    return table(["", "median s", "min s", "max s", "rounds", "to floor", "peak MiB", "bytes beyond", "growth"], rows)


def plant_text(plant):
    limit = plant["limit"]
    busy = f"Before the runs other programs took {plant['busy']:.0%} of the cores at most"
    if plant["busy"] > 0.1:
        busy = f"**Provisional**: {busy[0].lower()}{busy[1:]}"
    text = [f"Machine: {plant['machine']}. Date: {plant['date']}. {busy}.", "",
            "Whole processes by wait4, by turns. *to floor*: the median by the floor's. *bytes beyond*: peak memory beyond the size of",
            "the input files, by conductor. *growth*: the exponent with which time grows from the size above, log of the ratio of",
            "the medians by log of the ratio of the sizes. The least peak that can be told is that of the program that measures,",
            "some 17 MiB, which says nothing at the smallest size.", ""]
    smaller = None
    for size, found in sorted((int(size), found) for size, found in plant["sizes"].items()):
        text += [f"## {size:,} conductors and readings", "", f"The floor says {found['floor says']}.", "",
                 of_size(size, found, smaller, limit), ""]
        if "trace and components" in found:
            text += ["Without loading, " + alone(found["trace and components"]) + ".", ""]
        smaller = size, found
    return text


def alone(rounds):
    def spread(values):
        middle = sorted(values)[len(values) // 2]
        return f"{1e3 * middle:.0f} ms ({1e3 * min(values):.0f} to {1e3 * max(values):.0f})"
    return (f"tracing all channels takes {spread([t for t, _ in rounds])}, connected components of the same graph "
            f"{spread([c for _, c in rounds])}")


def pieces_text(pieces):
    times = {b["name"].partition("/")[0]: (b["real_time"], b["time_unit"]) for b in pieces["benchmarks"]}
    rows = []
    for what, name, floor_is, floor in PIECES:
        time, unit = times[name]
        beside = [floor_is, f"{times[floor][0]:.2f} {times[floor][1]}", f"{time / times[floor][0]:.2f}"] if floor else [""] * 3
        rows.append([what, f"{time:.2f} {unit}", *beside])
    return ["## The hot pieces", "", f"Google Benchmark, {pieces['context']['date'][:16]}; 100,000 conductors, the diagnosis 20,000.", "",
            table(["", "takes", "floor", "takes", "ratio"], rows), ""]


def answers_text(answers):
    accounts = answers["accounts"]
    ways = ", ".join(f"{count} {way}" for way, count in sorted(accounts.items(), key=lambda item: -item[1]))
    wrong = f"**{len(answers['wrong'])} answers are wrong.** " if answers["wrong"] else ""
    return ["## The answers", "", f"{wrong}Of {answers['faults']} faults in the plant of 1,000,000 conductors: {ways}.", "",
            answers["panels"] + ".", ""]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("figures", type=Path)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()

    def figures(name):
        file = options.figures / f"{name}.json"
        return json.loads(file.read_text()) if file.exists() else None

    plant, pieces, answers = figures("plant"), figures("pieces"), figures("answers")
    text = ["# Plant scale, measured", "", "Written by `scripts/bench`; see there for what is run.", ""]
    text += plant_text(plant)
    text += pieces_text(pieces) if pieces else []
    text += answers_text(answers) if answers else []
    text += ["## Must hold", "", *must_hold(plant, answers), ""]
    print("\n".join(text))
    if options.out:
        options.out.write_text("\n".join(text))


if __name__ == "__main__":
    main()
