#!/usr/bin/env python3
"""Checks the nets at rest against NetworkX, a general-purpose graph library (Debian: python3-networkx).

The other side is tests/support/plain_panel.py, which shares no code with the tool and takes its connected
components from NetworkX. Compared on the demo netlists (CSV and XML) and on random netlists, every second
one written as XML. A mismatch is shrunk and printed as input text with the nets that differ.

Run: nets_networkx.py --dump-nets PATH [--count N] [--seed N]
"""

import argparse
import random
import sys
import tempfile
from pathlib import Path

from netlist_maker import RandomNetlist, as_text, demo_files, full_name, run, seed_from, shrunk, write_csv, write_xml
from plain_panel import Panel


def dumped_nets(dump_nets, netlist):
    nets = {}
    for line in run([dump_nets, netlist]).splitlines():
        point, _, number = line.rpartition("\t")
        nets.setdefault(number, set()).add(point)
    return list(nets.values())


def compare(dump_nets, netlist):
    """(differences as text lines, nets and points that agree, points only the dump has).

    The plain model makes a point only of what an element touches. The tool also lists the loose end of a
    spare core and a channel's point that nothing is wired to. Such a net is let pass, but only when none of
    its points is known to the model, so it can hide no join.
    """
    panel = Panel.load(netlist)
    theirs = {frozenset(full_name(p, panel.facts) for p in net) for net in panel.nets()}
    known = set().union(*theirs)
    ours = [frozenset(full_name(p, panel.facts) for p in net) for net in dumped_nets(dump_nets, netlist)]
    loose = [net for net in ours if not net & known]
    ours = {net for net in ours if net & known}
    differences = [f"  only ringtrue: {' '.join(sorted(net))}" for net in sorted(ours - theirs, key=sorted)]
    differences += [f"  only NetworkX: {' '.join(sorted(net))}" for net in sorted(theirs - ours, key=sorted)]
    return differences, len(theirs & ours), len(known), sum(map(len, loose))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--dump-nets", required=True)
    parser.add_argument("--ringtrue", help="not used; taken so that all outside checks are called alike")
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int)
    options = parser.parse_args()
    seed = seed_from(options)
    failed = 0

    for netlist in demo_files():
        differences, nets, points, loose = compare(options.dump_nets, netlist)
        print(f"{netlist}: {points} points, {nets} nets equal, {len(differences)} differ, {loose} loose points")
        print("\n".join(differences), end="\n" if differences else "")
        failed += bool(differences)

    total_nets = total_points = joined = 0
    with tempfile.TemporaryDirectory(prefix="ringtrue-nets-") as folder:
        for number in range(options.count):
            tables = RandomNetlist(random.Random(f"{seed}/{number}")).tables
            as_xml = number % 2 == 1

            def write(rows, name=f"n{number}", as_xml=as_xml):
                path = Path(folder) / name
                return write_xml(path.with_suffix(".xml"), rows) if as_xml else write_csv(path, rows)

            netlist = write(tables)
            differences, nets, points, _ = compare(options.dump_nets, netlist)
            total_nets, total_points = total_nets + nets, total_points + points
            joined += points - nets
            if differences:
                failed += 1
                fewest = shrunk(tables, lambda rows: fails(options.dump_nets, write(rows, "shrinking")))
                print(f"random netlist {number} of seed {seed} ({'XML' if as_xml else 'CSV'}), shrunk:")
                print(as_text(fewest))
                print("\n".join(compare(options.dump_nets, write(fewest, "shrunk"))[0]))
                if failed >= 5:
                    print("stopped after five mismatches")
                    break
    print(f"{options.count} random netlists: {total_points} points in {total_nets} nets")
    # So many nets of one point would mean that the maker joins nothing and the check shows nothing.
    if not failed and joined < 10 * options.count:
        print("the random netlists join too few points to show anything")
        failed += 1
    print("nets_networkx: " + (f"FAILED, {failed} netlists differ" if failed else "OK, every net equals NetworkX's"))
    return 1 if failed else 0


def fails(dump_nets, netlist):
    """For shrinking: a netlist that one side refuses is no smaller form of the same mismatch."""
    try:
        return bool(compare(dump_nets, netlist)[0])
    except (RuntimeError, ValueError, TypeError):
        return False


if __name__ == "__main__":
    sys.exit(main())
