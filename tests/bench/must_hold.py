"""What plant scale must hold, each as one line: what, the measured ratio and its spread, the limit, whether it holds."""

import statistics

from measuring import median_seconds, peak, seconds_of

MILLION, TEN = 1_000_000, 10_000_000


def line(what, measured, limit, holds, spread=""):
    return f"- **{'holds' if holds else 'FALLS SHORT'}**: {what}: {measured}{spread}; limit {limit}."


def ratio_line(what, ratio, limit, at_least=False, rounds=None):
    spread = f" (by round {min(rounds):.2f} to {max(rounds):.2f})" if rounds else ""
    holds = ratio >= limit if at_least else ratio <= limit
    return line(what, f"{ratio:.2f}", f"{'at least' if at_least else 'at most'} {limit:g}", holds, spread)


def by_round(runs, others):
    return [a / b for a, b in zip(seconds_of(runs), seconds_of(others))]


def of_million(found):
    runs = found["runs"]
    compare = median_seconds(runs["compare"])
    yield ratio_line("compare to the floor, 1M, CSV", compare / median_seconds(runs["floor"]), 1,
                     rounds=by_round(runs["compare"], runs["floor"]))
    for script, limit in (("NetworkX", 10), ("pandas with igraph", 4)):
        if script in runs:
            times = [t / compare for t in seconds_of(runs[script])]
            yield ratio_line(f"{script} to compare, 1M", median_seconds(runs[script]) / compare, limit, True, times)
        else:
            yield f"- **not measured**: {script} to compare, 1M; limit at least {limit}."
    allowed = [c + 1.5 * w for c, w in zip(seconds_of(runs["compare"]), seconds_of(runs["walk through XML"]))]
    yield ratio_line("compare from XML to compare from CSV and 1.5 times the walk, 1M",
                     median_seconds(runs["compare from XML"]) / (compare + 1.5 * median_seconds(runs["walk through XML"])), 1,
                     rounds=[x / a for x, a in zip(seconds_of(runs["compare from XML"]), allowed)])
    traced = found["trace and components"]
    yield ratio_line("tracing all channels to connected components, 1M, compute only",
                     statistics.median(t for t, _ in traced) / statistics.median(c for _, c in traced), 2,
                     rounds=[t / c for t, c in traced])


def bytes_line(size, found):
    beyond = (peak(found["runs"]["compare"]) - found["input"]["compare"]) / size
    return line(f"bytes of compare's peak memory beyond the input, by conductor, {size // MILLION}M", f"{beyond:.0f}",
                "at most 400", beyond <= 400)


def of_growth(million, ten):
    large, small = ({name: median_seconds(at["runs"][name]) for name in ("compare", "floor")} for at in (ten, million))
    yield ratio_line("growth of compare from 1M to 10M to that of the floor",
                     large["compare"] / small["compare"] / (large["floor"] / small["floor"]), 1.1)
    yield ratio_line("memory of compare, 10M to 1M", peak(ten["runs"]["compare"]) / peak(million["runs"]["compare"]), 11)


def lines(plant, answers):
    sizes = {int(size): found for size, found in plant["sizes"].items()}
    text = []
    if MILLION in sizes:
        text += of_million(sizes[MILLION])
    text += [bytes_line(size, sizes[size]) for size in (MILLION, TEN) if size in sizes]
    if MILLION in sizes and TEN in sizes:
        text += of_growth(sizes[MILLION], sizes[TEN])
    if answers:
        text.append(line("faults of the 1M plant accounted for, panels alone the same", f"{sum(answers['accounts'].values())} faults, "
                         f"{len(answers['wrong'])} answers wrong", f"{answers['faults']} faults, none wrong",
                         not answers["wrong"] and sum(answers["accounts"].values()) == answers["faults"]))
    return text
