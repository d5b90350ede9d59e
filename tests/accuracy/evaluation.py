"""Judges the answer to one panel against the faults put into it, and prints the figures.

What is counted of each fault:

- not shown: without it, the others present, every reading would be the same (ohms within 2 %);
- tolerable: readings change, but none to a value that the drawing's tolerances exclude without it;
- listed: some diagnosis, or one that no reading can tell from it, names it;
- first: one of rank 1 does;
- preceded: a single fault that isn't first, and another single one of rank 1, put into the panel instead, gives the
  same beeps and opens, and ohms within 10 % or within the drawing's tolerances: no answer could tell but by luck. The
  same if it is listed and all that stands first in all findings gives these readings together.

Places joined by conductors and terminal bodies on the drawing are one place, so that a wire found there, or two nets
joined there, count as found whichever point is named; a short and an extra bridge of the same two nets are one.
Faults of the first diagnosis of rank 1 of a finding that nobody put in are false, unless an equivalent of it holds
true ones only; they are as good where that diagnosis, in place of the true faults that it explains and that stand
first in no other finding, and no larger than they are, gives the same readings. The same where all that stands first
in all findings does, and all true faults are listed further down: then they cost more.
"""

import json
import math
import statistics
from dataclasses import dataclass, field, replace

from fault_maker import KINDS, build_named, built_elements, reading_id, same_fault
from simulator import Circuit, highest_ohms, lowest_ohms, possible, same_value

NEAR = 0.10                  # of a value in ohms, for an explanation as good as the truth
TRIED_OHMS = [0.05] + [0.3 * 1.6 ** i for i in range(34)]
CROWD = 3                    # true faults in one finding that a diagnosis can hold


class Truth:
    """A panel as built, and what its readings would be with other faults."""

    def __init__(self, case):
        self.case, self.panel = case, case.panel
        self.by_region = {}
        for i, r in enumerate(case.readings):
            for p in {self.panel.region[r.red], self.panel.region[r.black]}:
                self.by_region.setdefault(p, []).append(i)

    def regions(self, faults, other):
        """Circuits in which two sets of faults may differ: those of the differences and what faults join to them."""
        groups = [{self.panel.region[p] for p in f.touched(self.panel)} for f in [*faults, *other]]
        differ = [f for f in faults if f not in other] + [f for f in other if f not in faults]
        reached = set().union(*({self.panel.region[p] for p in f.touched(self.panel)} for f in differ), set())
        while True:
            wider = reached.union(*(g for g in groups if g & reached))
            if wider == reached:
                return reached
            reached = wider

    def built(self, faults, regions):
        return [e for e in built_elements(self.panel, faults)
                if self.panel.region[e.a] in regions or self.panel.region[e.b] in regions]

    def values(self, faults):
        """All readings with these faults instead; NaN for one that may have been noted wrongly in any way."""
        values = list(self.case.values)
        for f in self.case.faults:
            if f.reading is not None and f not in faults:
                values[f.reading] = self.true_value(f.reading)
        regions = self.regions(faults, self.case.faults)
        if regions:
            circuit = Circuit(self.built(faults, regions))
            for i in {i for region in regions for i in self.by_region.get(region, ())}:
                values[i] = circuit.value(self.case.readings[i])
        for f in faults:
            if f.reading is not None:
                values[f.reading] = f.noted
        return values

    def true_value(self, number):
        r = self.case.readings[number]
        regions = {self.panel.region[r.red], self.panel.region[r.black]}
        for f in self.case.faults:
            regions |= {self.panel.region[p] for p in f.touched(self.panel)}
        return Circuit(self.built(self.case.faults, regions)).value(r)

    def changed_by(self, fault):
        """Readings that would be otherwise without the fault, and whether one is impossible without it."""
        others = [f for f in self.case.faults if f is not fault]
        without = self.values(others)
        changed = [i for i, (now, then) in enumerate(zip(self.case.values, without)) if not same_value(now, then)]
        return changed, not all(self.tolerated(changed, others))

    def as_good(self, kept, named, explains):
        """Whether these faults of an answer beside the kept true ones give the readings as noted."""
        numbers = {int(i[1:]) - 1 for i in explains}
        explained = [(n, self.case.readings[n]) for n in sorted(numbers)]
        put_in = [build_named(self.panel, n, explained) for n in named]
        if None in put_in:
            return False
        free = [f for f in put_in if f.kind == "wrong-value"]
        if len(free) > 1:
            return False
        for ohms in TRIED_OHMS if free else (0,):
            if free:
                free[0].changed = {i: replace(e, real=ohms) for i, e in free[0].changed.items()}
            if self.alike([*kept, *put_in]):
                return True
        return False

    def alike(self, faults):
        """Whether these faults give the same beeps and opens, and ohms near enough or within the tolerances."""
        further = []
        for i, (now, then) in enumerate(zip(self.case.values, self.values(faults))):
            if isinstance(then, float) and math.isnan(then) or same_value(now, then, NEAR):
                continue
            if self.case.readings[i].method != "ohms":
                return False
            further.append(i)
        return all(self.tolerated(further, faults))

    def tolerated(self, numbers, faults):
        """For each of these readings whether the tolerances of the drawing allow its value with these faults."""
        if not numbers:
            return
        regions = {self.panel.region[p] for i in numbers
                   for p in (self.case.readings[i].red, self.case.readings[i].black)}
        for f in [*self.case.faults, *faults]:
            regions |= {self.panel.region[p] for p in f.touched(self.panel)}
        elements = self.built(faults, regions)
        low, high = Circuit(elements, lowest_ohms), Circuit(elements, highest_ohms)
        for i in numbers:
            r = self.case.readings[i]
            yield possible(self.case.values[i], *(c.resistance(r.red, r.black, r.condition) for c in (low, high)))


@dataclass
class Judged:
    """One fault and what the answer makes of it."""

    fault: object
    changed: list
    impossible: bool
    listed: bool = False
    first: bool = False
    preceded: bool = False
    crowded: bool = False


@dataclass
class Answer:
    case: object
    truth: Truth
    clusters: dict      # number -> diagnoses
    judged: list


def likeliest(diagnoses):
    """The first diagnosis of rank 1 of a finding."""
    return next((d for d in diagnoses if d["rank"] == 1), None)


def first_is_as_good(truth, clusters):
    """Whether all that stands first gives, together, the readings as noted."""
    first = [d for d in map(likeliest, clusters.values()) if d]
    named = {json.dumps(n, sort_keys=True): n for d in first for n in d["faults"]}
    return bool(first) and truth.as_good([], named.values(), [i for d in first for i in d["explains"]])


def alternatives(diagnosis):
    """The sets of faults of a diagnosis and of those that no reading can tell from it."""
    return [diagnosis["faults"], *(e["faults"] for e in diagnosis["equivalent"])]


def case_of_answer(case, answer):
    """The answer judged fault by fault."""
    truth = Truth(case)
    clusters = {}
    for d in answer["findings"]:
        clusters.setdefault(d["cluster"], []).append(d)
    judged = [Judged(f, *truth.changed_by(f)) for f in case.faults]
    for j in judged:
        for d in answer["findings"]:
            if any(same_fault(case.panel, j.fault, n, d["explains"]) for s in alternatives(d) for n in s):
                j.listed = True
                j.first |= d["rank"] == 1
        if len(judged) == 1 and j.impossible and not j.first:
            j.preceded = j.listed and first_is_as_good(truth, clusters) or any(d["rank"] == 1 and len(s) == 1 and truth.as_good([], s, d["explains"])
                             for d in answer["findings"] for s in alternatives(d))
    for diagnoses in clusters.values():
        inside = explained_by(judged, diagnoses)
        for j in inside:
            j.crowded |= len(inside) > CROWD
    return Answer(case, truth, clusters, judged)


def explained_by(judged, diagnoses):
    """The true faults that change a reading of this finding."""
    ids = {i for d in diagnoses for i in d["explains"]}
    return [j for j in judged if any(reading_id(i) in ids for i in j.changed)]


def short_form(n):
    ends, points = "+".join(n["ends"]), "+".join(n["points"])
    return " ".join(filter(None, (n["kind"], "+".join(n["elements"]), ends and f"at {ends}",
                                  points and f"to {points}")))


def short_form_of(f):
    return short_form({"kind": f.kind, "elements": f.elements, "ends": f.ends, "points": f.points})


@dataclass
class Tally:
    """Sums over the panels of one size and number of faults."""

    judged: list = field(default_factory=list)
    seconds: list = field(default_factory=list)
    classes: list = field(default_factory=list)
    named: int = 0
    false: int = 0
    false_as_good: int = 0
    no_room: int = 0        # panels without a place for the fault
    cut_short: int = 0      # answers that took too long

    def add(self, answer, seconds):
        """Counts one panel; gives a line for each fault that is shown and not named first, and each false one."""
        self.seconds.append(seconds)
        self.judged += answer.judged
        misses = [f"{'not first' if j.listed else 'not listed'}"
                  f"{', preceded by an indistinguishable explanation' * j.preceded}{', crowded' * j.crowded}: "
                  f"{short_form_of(j.fault)}" for j in answer.judged if j.impossible and not j.first]
        whole = None
        for number, diagnoses in answer.clusters.items():
            self.classes += [1 + len(d["equivalent"]) for d in diagnoses]
            if (first := likeliest(diagnoses)) is None:
                continue
            false = min((self.false_faults(answer, s, first["explains"]) for s in alternatives(first)), key=len)
            self.named += len(first["faults"])
            self.false += len(false)
            if not false:
                continue
            elsewhere = [j.fault for n, others in answer.clusters.items() if n != number and likeliest(others)
                         for j in answer.judged if self.names(answer, likeliest(others), j.fault)]
            replaced = [j.fault for j in explained_by(answer.judged, diagnoses) if j.fault not in elsewhere]
            kept = [f for f in answer.case.faults if f not in replaced]
            as_good = (len(first["faults"]) <= len(replaced) and
                       answer.truth.as_good(kept, first["faults"], first["explains"]))
            if not as_good and all(j.listed for j in answer.judged if j.impossible):
                whole = first_is_as_good(answer.truth, answer.clusters) if whole is None else whole
                as_good = whole
            self.false_as_good += len(false) * as_good
            if not as_good:
                misses.append(f"false in finding {number}: {'; '.join(map(short_form, false))} (true there: "
                              f"{'; '.join(map(short_form_of, replaced)) or 'none'})")
        return misses

    @staticmethod
    def names(answer, diagnosis, fault):
        return any(same_fault(answer.case.panel, fault, n, diagnosis["explains"])
                   for s in alternatives(diagnosis) for n in s)

    @staticmethod
    def false_faults(answer, faults, explains):
        return [n for n in faults
                if not any(same_fault(answer.case.panel, f, n, explains) for f in answer.case.faults)]


def share(part, whole):
    return f"{100 * part / whole:.1f} %" if whole else "-"


def counts(judged):
    """Figures of faults, in the order of the columns below."""
    shown = [j for j in judged if j.impossible]
    listed, first = sum(j.listed for j in shown), sum(j.first for j in shown)
    preceded = sum(j.preceded for j in shown)
    return {"faults": len(judged), "not shown": sum(not j.changed for j in judged),
            "tolerable": sum(bool(j.changed) and not j.impossible for j in judged), "judged": len(shown),
            "listed": share(listed, len(shown)), "first": share(first, len(shown)), "preceded": preceded,
            "first, fair": share(first, len(shown) - preceded)}


def print_table(rows):
    keys = list(rows[0])
    widths = [max(len(k), *(len(str(row[k])) for row in rows)) for k in keys]
    for line in [keys, *([row[k] for k in keys] for row in rows)]:
        print("  ".join(str(cell).rjust(width) for cell, width in zip(line, widths)))
    print()


def print_tables(tallies):
    """All figures, then the kinds of the single faults, then the goals."""
    rows, single, twenty = [], [], []
    for (size, count), t in tallies.items():
        calm = [j for j in t.judged if j.impossible and not j.crowded]
        single += t.judged if count == 1 else []
        twenty += calm if count == 20 else []
        figures = counts(t.judged)
        if count != 1:
            figures["preceded"] = figures["first, fair"] = "-"
        rows.append({"size": size, "at once": count, "panels": len(t.seconds), "no room": t.no_room, **figures,
                     "crowded": sum(j.impossible and j.crowded for j in t.judged),
                     "listed, not crowded": share(sum(j.listed for j in calm), len(calm)),
                     "class mean": f"{statistics.mean(t.classes or [0]):.2f}", "greatest": max(t.classes, default=0),
                     "named at rank 1": t.named, "false": share(t.false, t.named),
                     "as good": share(t.false_as_good, t.named),
                     "s median": f"{statistics.median(t.seconds or [0]):.3f}",
                     "s greatest": f"{max(t.seconds, default=0):.3f}", "cut short": t.cut_short})
    print()
    print_table(rows)
    if single:
        print("Single faults by kind, all sizes")
        print_table([{"kind": kind, **counts([j for j in single if j.fault.kind == kind])} for kind in KINDS])
    print("Goals")
    shown = [j for j in single if j.impossible]
    fair = [j for j in shown if not j.preceded]
    goal("single faults listed", "100 %", sum(j.listed for j in shown), len(shown))
    goal("single faults first, of those with no indistinguishable explanation first", "95 % or more",
         sum(j.first for j in fair), len(fair))
    goal("single faults first, of all shown", "no goal", sum(j.first for j in shown), len(shown))
    goal(f"20 at once listed, findings of more than {CROWD} apart", "99 % or more",
         sum(j.listed for j in twenty), len(twenty))
    named, false, as_good = (sum(getattr(t, key) for t in tallies.values())
                             for key in ("named", "false", "false_as_good"))
    goal("false faults at rank 1, indistinguishable ones apart", "below 2 %", false - as_good, named)
    goal("false faults at rank 1, all", "no goal", false, named)


def goal(what, wanted, part, whole):
    print(f"  {what}: {share(part, whole)} ({part} of {whole}), goal {wanted}")
