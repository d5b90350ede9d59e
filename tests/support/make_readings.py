#!/usr/bin/python3
"""Makes a buzz-out of a netlist: the readings two wiremen would log, simulated by plain_panel.

    make_readings.py NETLIST FAULTS OUTPUT [WIRE@POINT]

NETLIST is a CSV folder or an XML file, FAULTS a faults.toml or `none` for a panel built as drawn, OUTPUT the CSV
file to write, WIRE@POINT a conductor end of a ring: the ring is then read again with that end lifted. Which readings are taken depends on the drawing alone; what the meter shows depends on the faults, and
so do the readings taken while hunting one, which faults.toml lists. The same arguments give the same bytes.
"""

import csv
import itertools
import re
import sys
import tomllib
from datetime import datetime, timedelta, timezone
from pathlib import Path

import networkx

from plain_panel import CONDUCTOR_KINDS, CONTACT_KINDS, HARD_KINDS, SEPARABLE_KINDS, Panel, split_point

START = datetime(2026, 3, 2, 7, 30, tzinfo=timezone(timedelta(hours=1)))
SECONDS_PER_READING = 15
SECONDS_PER_CONDITION = 20       # to press, turn, pull or push something first
COLUMNS = ("from", "to", "value", "time", "by", "conditions", "meter", "id")
BUZZER, OHMMETER = "M1", "M2"


def natural(text):
    """Sort key that puts X1:10 after X1:9."""
    return [(0, int(t), "") if t.isdigit() else (1, 0, t) for t in re.findall(r"\d+|\D+", text)]


def potentials(panel):
    """Each potential against every other, surge arresters pulled; PE last."""
    origins = [panel.canonical(row["point"]) for row in panel.rows("potentials")]
    pulled = "; ".join(sorted({f"{e.name}=unplugged" for e in panel.elements if e.kind == "surge"}))
    yield from ((a, b, pulled) for a, b in itertools.combinations(origins, 2))


def strips(panel):
    """Strip by strip: each terminal through its body, then against its neighbour where the drawing keeps them apart."""
    shop = [part for part in panel.sided if panel.place.get(part, "panel") != "field"]
    shop.sort(key=natural)
    for part in shop:
        yield f"{part}.int", f"{part}.ext", ""
        if panel.sided[part] == "pe-terminal":
            yield f"{part}.int", "PE", ""
        following = re.sub(r"(\d+)(?=\D*$)", lambda n: str(int(n[1]) + 1), part)
        if following not in panel.sided:
            continue
        if "fuse" == panel.sided[part] == panel.sided[following]:
            yield f"{part}.ext", f"{following}.ext", f"{part}=out; {following}=out"
        elif not panel.same_net(f"{part}.int", f"{following}.int"):
            yield f"{part}.int", f"{following}.int", ""


def conductors(panel):
    """Each conductor end to end, sheet by sheet; cores wait for the site."""
    shop = [e for e in panel.elements if e.kind in CONDUCTOR_KINDS and not e.in_field]
    shop.sort(key=lambda e: natural(e.row.get("sheet", "")))
    yield from ((e.a, e.b, "") for e in shop)


def switching(panel):
    """Fuses, breakers and isolators closed and open; contacts at rest and operated; selectors in each position."""
    for e in panel.elements:
        if e.in_field or e.name in panel.sided:
            continue
        if e.kind == "fuse":
            yield e.a, e.b, ""
        elif e.kind in ("breaker", "isolator"):
            yield e.a, e.b, ""
            yield e.a, e.b, f"{e.name}=off"
        elif e.kind == "path":
            yield e.a, e.b, ""
        elif e.kind in CONTACT_KINDS and not e.closed_in:
            yield e.a, e.b, ""
            yield e.a, e.b, f"{e.actuated_by}=operated"
        elif e.kind in CONTACT_KINDS:
            positions = {p for other in panel.elements if other.name == e.name for p in other.closed_in}
            for position in sorted(positions, key=natural):
                at_rest = position == panel.position(e.name, {})
                yield e.a, e.b, "" if at_rest else f"{e.name}=position {position}"


def channels(panel):
    """Each channel from the module to its field terminal, and each module's common back to where it is fed."""
    origins = [panel.canonical(row["point"]) for row in panel.rows("potentials")]
    commons = {}
    for row in panel.rows("channels"):
        point, terminal = panel.canonical(row["point"]), panel.canonical(row["field"])
        part, _ = split_point(terminal)
        # A terminal that can't be opened is probed wherever the lead finds metal, so without naming a side.
        says_side = panel.sided.get(part, "fuse") in SEPARABLE_KINDS
        yield point, terminal if says_side else part, ""
        commons.setdefault(panel.canonical(row["common"]))
    for common in commons:
        origin = next(o for o in origins if panel.same_net(common, o))
        yield common, origin, ""


def unplugged(panel):
    """Condition that takes modules, supplies, lamps and arresters off the commons: they could carry a beep."""
    plugged = sorted({e.name for e in panel.elements if e.kind in ("electronics", "supply", "input", "lamp", "surge") and not e.in_field}, key=natural)
    return "; ".join(f"{name}=unplugged" for name in plugged)


def commons(panel):
    """What sits on the net of a potential, again, with what could carry a beep unplugged."""
    origins = [panel.canonical(row["point"]) for row in panel.rows("potentials")]
    for e in panel.elements:
        closed = e.kind in CONDUCTOR_KINDS or e.kind in ("fuse", "plug", "disconnect", "terminal", "path", "breaker")
        if closed and not e.in_field and any(panel.same_net(e.a, o) or panel.same_net(e.b, o) for o in origins):
            yield e.a, e.b, unplugged(panel)


def lamps(panel):
    """Each lamp, which may beep through its cold filament, and the same pins with it taken out."""
    for e in panel.elements:
        if e.kind == "lamp" and not e.in_field:
            yield e.a, e.b, ""
            yield e.a, e.b, f"{e.name}=unplugged"


def coils(panel):
    """Each coil in ohms, with what else could carry current unplugged; across a diode also the other way round."""
    pulled = unplugged(panel).split("; ")
    across = [{p for p in panel._network("").hard if panel.same_net(p, d.a)} for d in panel.elements if d.kind == "diode"]
    for e in panel.elements:
        if e.kind != "coil" or e.in_field or e.ohms is None:
            continue
        condition = "; ".join(p for p in pulled if p != f"{e.name}=unplugged")
        yield e.a, e.b, condition
        if any(e.b in net for net in across):
            yield e.b, e.a, condition


def ring(panel, lifted):
    """The ring that holds the lifted conductor, each member end to end, and the lifted one from its loose end."""
    wire, point = lifted.split("@")
    condition = f"{unplugged(panel)}; {lifted}=lifted"
    hard = [e for e in panel.elements if e.kind in HARD_KINDS and e.a != e.b and panel.conducts(e, {})]
    graph = networkx.Graph((e.a, e.b) for e in hard)
    own = next(e for e in hard if e.row.get("wire") == wire)
    block = next(b for b in networkx.biconnected_components(graph) if {own.a, own.b} <= b)
    yield lifted, own.b if panel.canonical(point) == own.a else own.a, condition
    yield from ((e.a, e.b, condition) for e in hard if e is not own and {e.a, e.b} <= block)


def buzz_out(panel, faults, lifted):
    """(from, to, condition, who, meter) in the order taken; a pair already read under the same condition isn't read again."""
    plan = [("wireman A", potentials), ("wireman A", strips), ("wireman B", conductors),
            ("wireman A", switching), ("wireman B", channels)]
    taken = set()
    hunts = [(*hunt, "")[:3] for fault in faults for hunt in fault.get("hunt", [])]
    plan += [("wireman A", commons)] + ([("wireman A", lambda p: ring(p, lifted))] if lifted else [])
    for who, section in [*plan, ("wireman B", lambda _: hunts), ("wireman B", lamps)]:
        for red, black, condition in section(panel):
            key = (frozenset((red, black)), condition)
            if red != black and key not in taken:
                taken.add(key)
                yield red, black, condition, who, BUZZER
    yield from ((*one, "wireman B", OHMMETER) for one in coils(panel))


def shown(panel, red, black, condition, meter):
    """The value as written down: three digits of an ohmmeter, `OL` where it shows nothing."""
    if meter == BUZZER:
        return panel.reads(red, black, condition)
    ohms = panel.ohms(red, black, condition)
    return "OL" if ohms == float("inf") else f"{ohms:.3g}"


def main():
    if len(sys.argv) not in (4, 5):
        sys.exit(__doc__)
    netlist, fault_file, output = sys.argv[1:4]
    lifted = sys.argv[4] if len(sys.argv) == 5 else ""
    faults = [] if fault_file == "none" else tomllib.loads(Path(fault_file).read_text(encoding="utf-8"))["fault"]
    drawn = Panel.load(netlist)
    built = drawn.with_faults(faults)
    clock, differing = START, 0
    with open(output, "w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(COLUMNS)
        for number, (red, black, condition, who, meter) in enumerate(buzz_out(drawn, faults, lifted), 1):
            clock += timedelta(seconds=SECONDS_PER_READING + (SECONDS_PER_CONDITION if condition else 0))
            value = shown(built, red, black, condition, meter)
            differing += value != shown(drawn, red, black, condition, meter)
            out.writerow((red, black, value, clock.isoformat(), who, condition, meter, f"R{number:03}"))
    print(f"{output}: {number} readings, {differing} unlike the drawing")


if __name__ == "__main__":
    main()
