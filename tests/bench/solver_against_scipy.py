#!/usr/bin/env python3
"""Puts the solver's time beside SciPy's for the same two networks, in the same run.

    solver_against_scipy.py BENCH [ELEMENTS [ROUNDS]]

BENCH is build/bench/solver_bench. For SciPy the grounded Laplacian is assembled from arrays and solved by its sparse
LU (SuperLU with minimum-degree ordering of A+A'), both networks, as here. Prints times and the ratio; asserts none.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu


def networks_in(path):
    """(nodes, from, to, a, b, ohms) for each network of a file."""
    blocks, rows = [], None
    for line in Path(path).read_text().splitlines():
        if line.startswith("network"):
            rows = []
            blocks.append((*map(int, line.split()[1:]), rows))
        else:
            rows.append(line.split())
    for nodes, start, end, rows in blocks:
        a, b, ohms = zip(*rows)
        yield nodes, start, end, numpy.array(a, int), numpy.array(b, int), numpy.array(ohms, float)


def solve(nodes, start, end, a, b, ohms):
    """Ohms between two nodes by the Laplacian without the row and column of `end`."""
    siemens = 1 / ohms
    i, j = numpy.concatenate([a, b, a, b]), numpy.concatenate([a, b, b, a])
    values = numpy.concatenate([siemens, siemens, -siemens, -siemens])
    laplacian = coo_matrix((values, (i, j)), shape=(nodes, nodes)).tocsc()
    kept = numpy.delete(numpy.arange(nodes), end)
    current = numpy.zeros(nodes)
    current[start] = 1
    solver = splu(laplacian[kept][:, kept], permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0,
                  options={"SymmetricMode": True})
    volts = numpy.zeros(nodes)
    volts[kept] = solver.solve(current[kept])
    return volts[start]


def main():
    bench = sys.argv[1]
    elements = sys.argv[2] if len(sys.argv) > 2 else "10000"
    rounds = int(sys.argv[3]) if len(sys.argv) > 3 else 15
    for shape in ("panel", "grid"):
        with tempfile.TemporaryDirectory() as folder:
            file = f"{folder}/networks"
            line = subprocess.run([bench, shape, elements, str(rounds), file], check=True, capture_output=True,
                                  text=True).stdout.strip()
            networks = list(networks_in(file))
        times = []
        for _ in range(rounds):
            begin = time.perf_counter()
            for network in networks:
                solve(*network)
            times.append((time.perf_counter() - begin) * 1000)
        ours, theirs = float(line.split()[-2]), statistics.median(times)
        print(f"{shape}: {line}; SciPy {theirs:.3f} ms; ratio {ours / theirs:.2f}")


if __name__ == "__main__":
    main()
