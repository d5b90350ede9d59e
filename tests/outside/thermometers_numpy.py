#!/usr/bin/env python3
"""Compares the sheets of `ringtrue analog` with the standards' functions as numpy evaluates them.

    thermometers_numpy.py --ringtrue BINARY [--seed N]

Random thermometers over all of their range. Forward: IEC 60751 and the reference functions of NIST Monograph 175. And
backward: NIST's inverse functions, which are fits of their own, must bring each mV back to its temperature within
their stated error (at most 0.06 °C), so that a mistyped coefficient can't agree with itself. numpy's roots do so for
the ohms. Coefficients in the order of the powers.
"""

import argparse
import csv
import json
import random
import subprocess
import tempfile
from pathlib import Path

import numpy
from numpy.polynomial.polynomial import polyroots, polyval

FORWARD = {  # from, to, coefficients
    "K": [
        (-270, 0, [0, 3.94501280250e-2, 2.36223735980e-5, -3.28589067840e-7, -4.99048287770e-9, -6.75090591730e-11,
                   -5.74103274280e-13, -3.10888728940e-15, -1.04516093650e-17, -1.98892668780e-20, -1.63226974860e-23]),
        (0, 1372, [-1.76004136860e-2, 3.89212049750e-2, 1.85587700320e-5, -9.94575928740e-8, 3.18409457190e-10,
                   -5.60728448890e-13, 5.60750590590e-16, -3.20207200030e-19, 9.71511471520e-23, -1.21047212750e-26]),
    ],
    "J": [
        (-210, 760, [0, 5.03811878150e-2, 3.04758369300e-5, -8.56810657200e-8, 1.32281952950e-10, -1.70529583370e-13,
                     2.09480906970e-16, -1.25383953360e-19, 1.56317256970e-23]),
        (760, 1200, [2.96456256810e2, -1.49761277860, 3.17871039240e-3, -3.18476867010e-6, 1.57208190040e-9,
                     -3.06913690560e-13]),
    ],
}
BACKWARD = {  # from mV, to mV, coefficients
    "K": [
        (-5.891, 0, [0, 2.5173462e1, -1.1662878, -1.0833638, -8.9773540e-1, -3.7342377e-1, -8.6632643e-2, -1.0450598e-2,
                     -5.1920577e-4]),
        (0, 20.644, [0, 2.508355e1, 7.860106e-2, -2.503131e-1, 8.315270e-2, -1.228034e-2, 9.804036e-4, -4.413030e-5,
                     1.057734e-6, -1.052755e-8]),
        (20.644, 54.886, [-1.318058e2, 4.830222e1, -1.646031, 5.464731e-2, -9.650715e-4, 8.802193e-6, -3.110810e-8]),
    ],
    "J": [
        (-8.095, 0, [0, 1.9528268e1, -1.2286185, -1.0752178, -5.9086933e-1, -1.7256713e-1, -2.8131513e-2, -2.3963370e-3,
                     -8.3823321e-5]),
        (0, 42.919, [0, 1.978425e1, -2.001204e-1, 1.036969e-2, -2.549687e-4, 3.585153e-6, -5.344285e-8, 5.099890e-10]),
        (42.919, 69.553, [-3.11358187e3, 3.00543684e2, -9.94773230, 1.70276630e-1, -1.43033468e-3, 4.73886084e-6]),
    ],
}
RANGES = {"Pt100": (-200, 850), "Pt1000": (-200, 850), "K": (-270, 1372), "J": (-210, 1200)}
A, B, C = 3.9083e-3, -5.775e-7, -4.183e-12
EACH = 60  # thermometers of each kind


def expect(condition, text):
    if not condition:
        raise SystemExit(f"thermometers_numpy.py: {text}")


def piece(pieces, x):
    return next(coefficients for low, high, coefficients in pieces if x < high or high == pieces[-1][1])


def millivolts(kind, celsius):
    value = polyval(celsius, piece(FORWARD[kind], celsius))
    if kind == "K" and celsius >= 0:
        value += 0.118597600000 * numpy.exp(-0.118343200000e-3 * (celsius - 126.968600000) ** 2)
    return value


def ohms(kind, celsius):
    powers = [1, A, B] if celsius >= 0 else [1, A, B, -100 * C, C]
    return float(kind[2:]) * polyval(celsius, powers)


def celsius_of_ohms(kind, value):
    ratio = value / float(kind[2:])
    powers = [1 - ratio, A, B] if ratio >= 1 else [1 - ratio, A, B, -100 * C, C]
    real = [root.real for root in polyroots(powers) if abs(root.imag) < 1e-6]
    return min(real, key=abs)


def write_netlist(folder, rows):
    (folder / "conductors.csv").write_text("wire,from,to\n1,A1:0,X1:1\n", encoding="utf-8")
    with open(folder / "channels.csv", "w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(["point", "type", "tag", "signal", "low", "high", "unit", "raw_low", "raw_high"])
        writer.writerows(rows)


def sheets(binary, folder, *options):
    call = [binary, "analog", folder, "--all", "--json", *options]
    done = subprocess.run(call, capture_output=True)
    expect(done.returncode == 0, f"status {done.returncode}: {done.stderr.decode()}")
    return {channel["tag"]: channel for channel in json.loads(done.stdout)["channels"]}


def check_point(kind, celsius, given, cold):
    if kind.startswith("Pt"):
        expect(abs(given - ohms(kind, celsius)) < 1e-9 * given, f"{kind} at {celsius} °C: {given} Ω, numpy {ohms(kind, celsius)}")
        back = celsius_of_ohms(kind, given)
        expect(abs(back - celsius) < 1e-5, f"{kind}: {given} Ω is {back} °C, not {celsius}")
        return
    expected = millivolts(kind, celsius) - millivolts(kind, cold)
    expect(abs(given - expected) < 1e-9, f"{kind} at {celsius} °C, cold {cold} °C: {given} mV, numpy {expected}")
    if cold == 0 and BACKWARD[kind][0][0] <= given <= BACKWARD[kind][-1][1]:
        back = polyval(given, piece(BACKWARD[kind], given))
        expect(abs(back - celsius) < 0.07, f"{kind}: {given} mV is {back} °C by the inverse function, not {celsius}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True, type=Path)
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    choose = random.Random(arguments.seed)
    rows, drawn = [], {}
    for kind, ends in RANGES.items():
        for number in range(EACH):
            low, high = ends if number == 0 else (choose.uniform(*ends), choose.uniform(*ends))
            raw = choose.randint(-32768, 0), choose.randint(1, 65535)
            drawn[f"{kind}_{number}"] = kind, low, high, raw
            rows.append([f"A{len(rows) + 2}:1", "AI", f"{kind}_{number}", kind, low, high, "degC", *raw])
    points = 0
    with tempfile.TemporaryDirectory() as folder:
        write_netlist(Path(folder), rows)
        for cold, options in ((0, []), (23.5, ["--cold-junction", "23.5"]), (-12, ["--cold-junction", "-12"])):
            for tag, channel in sheets(arguments.ringtrue.resolve(), folder, *options).items():
                kind, low, high, raw = drawn[tag]
                inside = [point for point in channel["points"] if point["kind"] == "in-range"]
                expect(len(inside) == 5, f"{tag}: {len(inside)} points")
                for point, share in zip(inside, (0, 0.25, 0.5, 0.75, 1)):
                    celsius = low + (high - low) * share
                    expect(abs(point["value"] - celsius) < 1e-9 * (1 + abs(celsius)), f"{tag}: {point['value']} °C, not {celsius}")
                    expect(abs(point["raw"] - (raw[0] + (raw[1] - raw[0]) * share)) < 1e-6, f"{tag}: raw {point['raw']}")
                    check_point(kind, celsius, point["signal"], cold)
                    points += 1
    expect(points == 3 * 5 * EACH * len(RANGES), f"only {points} points")
    print(f"thermometers_numpy.py: {points} points of {len(rows)} thermometers agree")


if __name__ == "__main__":
    main()
