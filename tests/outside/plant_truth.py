"""What the findings of a plant say of each fault that its generator put in (faults.csv of tests/bench/make_plant.cpp)."""

from collections import defaultdict


def is_fault(true, found):
    """A fault as a finding names it is the one that was made."""
    if found["kind"] != true["kind"]:
        return False
    wires = true["wires"].split(";")
    if true["kind"] == "open":
        return found["elements"] == wires
    if true["kind"] == "missing-bridge":
        return set(found["ends"]) == {true["from"], true["to"]}
    if true["kind"] == "swap":
        return set(found["elements"]) == set(wires)
    if true["kind"] == "miswire":
        return found["elements"] == wires and found["points"] == [true["landed"]]
    return set(found["points"]) == {true["from"], true["to"]}


def way_of(true, findings):
    """How one fault stands among the findings of its cluster, likeliest first; None if nothing speaks of it."""
    readings = set(true["readings"].split(";"))
    first = findings[0]
    if len(first["faults"]) == 1 and is_fault(true, first["faults"][0]) and set(first["explains"]) == readings:
        return "named first"
    if any(is_fault(true, fault) for fault in first["faults"]):
        return "one of the faults of a first explanation"
    for finding in findings:
        sets = [finding["faults"]] + [e["faults"] for e in finding["equivalent"]]
        if any(is_fault(true, fault) for faults in sets for fault in faults):
            share = finding["probability"] / first["probability"]
            return f"a further explanation, {share:.0%} as likely as the first ({first['text']})"
    if readings < set(first["explains"]):
        return f"within a likelier common explanation ({first['text']})"
    return None


def accounts(report, truth):
    """By fault, the way in which it stands in the report; and what is wrong with the report."""
    wrong = []
    clusters = defaultdict(list)
    for finding in report["findings"]:
        clusters[finding["cluster"]].append(finding)
    cluster_of = {}
    for findings in clusters.values():
        for reading in findings[0]["explains"]:
            cluster_of[reading] = findings
    made = {reading: fault["fault"] for fault in truth for reading in fault["readings"].split(";")}
    wrong += [f"finding on reading {r}, which no fault made" for r in cluster_of if r not in made]
    wrong += [f"no finding explains reading {r} of fault {f}" for r, f in made.items() if r not in cluster_of]

    how = {}
    for true in truth:
        name = true["fault"] + " " + true["kind"] + " " + (true["wires"] or true["from"] + "-" + true["to"])
        findings = cluster_of.get(true["readings"].split(";")[0])
        way = findings and way_of(true, findings)
        if not way:
            wrong.append(f"{name}: nothing in the report speaks of it")
        else:
            how[name] = way
    return how, wrong
