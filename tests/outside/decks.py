#!/usr/bin/env python3
"""Checks the nets against real connectivity that nobody here wrote: a circuit simulator's example decks.

Source: Debian 12 package gnucap, version 1:0.36~20171003-1.1 (a general-purpose circuit simulator, GPL), the
files /usr/share/doc/gnucap/examples/*.ckt. They are read where the package put them; none is copied here.

A deck lists elements and, for each pin, the node it is on, so the nodes state the nets. Each pin becomes a
point (pin 2 of R1 is `R1:2`), the pins of a node are joined by conductors in a shuffled chain, and the
deck's subcircuits are unfolded. Each deck is given to the tool twice: as a wire list alone, and as a folder
whose parts.csv holds the elements too; these conduct softly or not at all and must not join nets. Then the
nets at rest must be exactly the nodes. The decks titled "A 1153 node circuit" must come out with 1153.

A deck that uses something outside the plain element list is left out, counted by reason.

Run: decks.py --dump-nets PATH [--seed N]
"""

import argparse
import csv
import gzip
import random
import re
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from pathlib import Path

from netlist_maker import run, seed_from

PACKAGE = "gnucap"
FOLDER = "usr/share/doc/gnucap/examples"
LEAST_DECKS = 300
# "A 1153 node circuit" counts without ground. This variant of it sets its reference apart from ground by one
# more source, and with it has one node more than the title that it kept.
NODES_BESIDE_TITLE = {"eq3-1153.fg2.ckt": 1}

# First letter of an element -> its count of pins (SPICE's letters). Not here: Q, U and X, whose count shows
# from their model; K, which couples two others and has no pin.
PINS = {"R": 2, "C": 2, "L": 2, "V": 2, "I": 2, "D": 2, "Y": 2, "F": 2, "H": 2, "W": 2,
        "J": 3, "E": 4, "G": 4, "S": 4, "T": 4, "M": 4}
PART_KINDS = {"R": "resistor", "C": "capacitor", "L": "coil", "V": "supply", "I": "supply", "D": "diode"}
# Commands that change the circuit or bring in another file or language.
ALTERING = {"include", "lib", "get", "merge", "delete", "modify", "clear", "build", "insert", "verilog", "spectre",
            "acs", "spice", "unmark", "mark", "attach", "load", "simulator", "function", "global", "alter"}
# Where a controlled source's second pair would stand: its controlling pins come elsewhere.
FUNCTIONS = re.compile(r"(poly|pwl|vcr|vcg|vccap|table|fit|tanh|posy|laplace|value|freq|vol|cur)\b", re.IGNORECASE)
NAME = re.compile(r"[A-Z][A-Z0-9_]*")
NODE = re.compile(r"[A-Z0-9_]+")


class LeftOut(Exception):
    """The deck uses something that this reader doesn't take; the text is the reason."""


class Scope:
    """The top of a deck, or one subcircuit."""

    def __init__(self, ports=()):
        self.ports = list(ports)
        self.elements = []      # (name, nodes, subcircuit or "")


def logical_lines(text):
    """Continuations joined, comments and the title dropped, up to the first .end"""
    lines = []
    for line in text.splitlines()[1:]:
        line = re.split(r"[;']|//", line, maxsplit=1)[0].rstrip()
        if not line.strip() or line.lstrip()[0] in "*#":
            continue
        if line.lstrip()[0] == "+" and lines:
            lines[-1] += " " + line.lstrip()[1:]
        elif line.strip().lower() == ".end":
            break
        else:
            lines.append(line.strip())
    return [line.upper() for line in lines]


def words_of(line):
    """`R1 (A B) 10` and `R1 A B 10` alike."""
    line = re.sub(r"^(\S+?)\s*\(([^()=]*)\)", r"\1 \2 ", line)
    return line.replace(",", " ").split()


def read_deck(text):
    """The top scope and the subcircuits by name."""
    lines = logical_lines(text)
    models = {words_of(line)[1] for line in lines if line.startswith(".MODEL") and len(words_of(line)) > 1}
    open_scopes, subcircuits = [Scope()], {}
    for line in lines:
        words = words_of(line)
        if line.startswith((".SUBCKT", ".MACRO")):
            if len(words) < 3 or words[1] in subcircuits:
                raise LeftOut("subcircuit defined twice or without ports")
            subcircuits[words[1]] = Scope(w for w in words[2:] if "=" not in w)
            open_scopes.append(subcircuits[words[1]])
        elif line.startswith((".ENDS", ".EOM")):
            open_scopes.pop()
            if not open_scopes:
                raise LeftOut(".ends without .subckt")
        elif line.startswith("."):
            if words[0][1:].lower() in ALTERING:
                raise LeftOut(f"command {words[0].lower()}")
        else:
            open_scopes[-1].elements.append(read_element(words, models))
    if len(open_scopes) != 1:
        raise LeftOut(".subckt without .ends")
    return open_scopes[0], subcircuits


def read_element(words, models):
    name, letter = words[0], words[0][0]
    if not NAME.fullmatch(name):
        raise LeftOut("an element's name with other characters")
    if letter == "K":
        return name, [], ""
    if letter == "X":
        plain = [w for w in words[1:] if "=" not in w and w != "PARAMS:"]
        return name, checked(plain[:-1]), plain[-1]
    if letter in "QU":
        at = next((i for i, w in enumerate(words) if w in models and i >= (4 if letter == "Q" else 6)), None)
        if at is None or (letter == "Q" and at > 5):
            raise LeftOut(f"element {letter} with a model that the deck lacks")
        return name, checked(words[1:at]), ""
    if letter not in PINS:
        raise LeftOut(f"element {letter}")
    nodes = words[1 : 1 + PINS[letter]]
    if letter in "EG" and any(FUNCTIONS.match(n) for n in nodes):
        raise LeftOut("a source controlled by a function")
    if len(nodes) < PINS[letter] or len(words) == 1 + PINS[letter] and letter in "EGSTMJ":
        raise LeftOut("an element with too few pins")
    return name, checked(nodes), ""


def checked(nodes):
    if not nodes or not all(NODE.fullmatch(n) for n in nodes):
        raise LeftOut("a node's name with other characters")
    return nodes


def unfold(scope, subcircuits, node_names, path, pins_of, depth=0):
    """Adds every pin of a scope to its node. `node_names` maps a port to the node outside; ground is one everywhere."""
    if depth > 20:
        raise LeftOut("subcircuits without end")
    seen = set()
    for name, nodes, subcircuit in scope.elements:
        if name in seen:
            raise LeftOut("two elements of one name")
        seen.add(name)
        outside = [n if n == "0" else node_names.get(n, n + path) for n in nodes]
        if subcircuit:
            inner = subcircuits.get(subcircuit)
            if inner is None or len(inner.ports) != len(outside) or len(set(inner.ports)) != len(inner.ports):
                raise LeftOut("a subcircuit that the deck lacks or with other ports")
            unfold(inner, subcircuits, dict(zip(inner.ports, outside)), f"_{name}{path}", pins_of, depth + 1)
            continue
        for number, node in enumerate(outside, 1):
            pins_of[node].append((name + path, number))


def nodes_of(text):
    """Node -> its pins, each a pair of element and pin number."""
    top, subcircuits = read_deck(text)
    pins_of = defaultdict(list)
    unfold(top, subcircuits, {}, "", pins_of)
    if sum(map(len, pins_of.values())) < 4:
        raise LeftOut("fewer than four pins")
    return dict(pins_of)


def point(pin):
    return f"{pin[0]}:{pin[1]}"


def write_conductors(path, pins_of, rng):
    rows = []
    for pins in pins_of.values():
        chain = rng.sample(pins, len(pins))
        rows += [rng.sample(pair, 2) for pair in zip(chain, chain[1:])]
    rng.shuffle(rows)
    with open(path, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["wire", "from", "to"])
        writer.writerows([str(i), point(a), point(b)] for i, (a, b) in enumerate(rows, 1))
    return len(rows)


def write_parts(path, pins_of):
    count = Counter(name for pins in pins_of.values() for name, _ in pins)
    with open(path, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["part", "kind", "a", "b"])
        for name in sorted(count):
            kind = PART_KINDS.get(name[0], "electronics")
            writer.writerows([name, kind, str(i), str(i + 1)] for i in range(1, count[name]))


def nets_of(dump_nets, netlist):
    nets = defaultdict(set)
    for line in run([dump_nets, netlist]).splitlines():
        name, _, number = line.rpartition("\t")
        nets[number].add(name)
    return {frozenset(net) for net in nets.values()}


def check_deck(dump_nets, folder, pins_of, rng):
    """Texts of what differs, and the count of conductors."""
    nodes = {frozenset(map(point, pins)) for pins in pins_of.values()}
    netlist = folder / "netlist"
    netlist.mkdir(parents=True)
    conductors = write_conductors(netlist / "conductors.csv", pins_of, rng)
    differences = []
    # A pin alone on its node is on no conductor, so a wire list alone doesn't hold it.
    for name, path, expected in (("wire list alone", netlist / "conductors.csv", {n for n in nodes if len(n) > 1}),
                                 ("with parts", netlist, nodes)):
        if name == "with parts":
            write_parts(netlist / "parts.csv", pins_of)
        found = nets_of(dump_nets, path) if conductors or name == "with parts" else set()
        differences += [f"{name}, only the deck: {' '.join(sorted(n))}" for n in expected - found]
        differences += [f"{name}, only ringtrue: {' '.join(sorted(n))}" for n in found - expected]
    return sorted(differences), conductors


def deck_folder(temporary):
    """Where the package put its decks; a system set up to leave out documentation gets them from the package file."""
    if any(Path("/", FOLDER).glob("*.ckt*")):
        return Path("/", FOLDER)
    subprocess.run(["apt-get", "-q", "download", PACKAGE], cwd=temporary, check=True)
    for package in temporary.glob("*.deb"):
        subprocess.run(["dpkg-deb", "-x", package, temporary / "package"], check=True)
    return temporary / "package" / FOLDER


def text_of(path):
    data = path.read_bytes()
    return (gzip.decompress(data) if path.suffix == ".gz" else data).decode("latin-1")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--dump-nets", required=True)
    parser.add_argument("--ringtrue", help="not used; taken so that all outside checks are called alike")
    parser.add_argument("--seed", type=int)
    options = parser.parse_args()
    seed = seed_from(options)
    totals, left_out, failed = Counter(), Counter(), 0
    with tempfile.TemporaryDirectory(prefix="ringtrue-decks-") as temporary:
        temporary = Path(temporary)
        folder = deck_folder(temporary)
        version = subprocess.run(["dpkg-query", "-W", "-f", "${Version}", PACKAGE], capture_output=True, text=True).stdout
        print(f"decks of the Debian package {PACKAGE} {version or '(not installed)'}: {folder}")
        for path in sorted(folder.glob("*.ckt*")):
            text = text_of(path)
            try:
                pins_of = nodes_of(text)
            except LeftOut as reason:
                left_out[str(reason)] += 1
                continue
            differences, conductors = check_deck(options.dump_nets, temporary / path.stem, pins_of,
                                                 random.Random(f"{seed}/{path.name}"))
            stated = re.match(r"A (\d+) node circuit", text)
            if stated:
                totals["decks that state their count of nodes"] += 1
                expected = int(stated.group(1)) + NODES_BESIDE_TITLE.get(path.name, 0)
                if len(pins_of) - ("0" in pins_of) != expected:
                    differences.append(f"{len(pins_of)} nodes with ground, the title states {expected} without")
            totals.update({"decks": 1, "nodes": len(pins_of), "pins": sum(map(len, pins_of.values())),
                           "conductors": conductors})
            totals["most nodes"] = max(totals["most nodes"], len(pins_of))
            if differences:
                failed += 1
                print("\n".join([f"{path.name}: {len(differences)} nets differ", *("  " + d for d in differences[:10])]))
    print("checked: " + ", ".join(f"{v} {k}" for k, v in totals.items()))
    print("left out: " + (", ".join(f"{v} with {k}" for k, v in left_out.most_common()) or "none"))
    if totals["decks"] < LEAST_DECKS or not totals["decks that state their count of nodes"]:
        print(f"expected at least {LEAST_DECKS} decks and one that states its count of nodes")
        failed += 1
    print("decks: " + (f"FAILED, {failed}" if failed else "OK, the nets are exactly the decks' nodes"))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
