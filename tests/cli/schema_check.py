#!/usr/bin/env python3
"""Validates what `ringtrue ... --json` prints, and record.json, against the shipped JSON Schemas, with python3-jsonschema.

    schema_check.py BINARY

Each schema is checked to be a schema, each output to be valid, and each output with a key taken out or an unknown
one put in to be refused: a schema that takes anything would prove nothing.
"""

import copy
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import jsonschema

ROOT = Path(__file__).resolve().parent.parent.parent
INPUTS = "tests/golden/inputs"
CALLS = {  # by schema
    "analog": [
        ["netlists/grain-dryer", "--all"],
        ["netlists/grain-dryer", "MOISTURE_IN", "--seen", "0=8.1,50=25,3.6mA=failure"],
        [f"{INPUTS}/analog", "--all", "--cold-junction", "25"],
        [f"{INPUTS}/analog", "--all"],
        ["netlists/grain-dryer", "FAN_SPEED", "--seen", "50=5.001", "--tolerance", "0.1"],
    ],
    "check": [
        ["netlists/quickstart"],
        ["netlists/grain-dryer"],
        [f"{INPUTS}/small"],
        [f"{INPUTS}/drawing"],
    ],
    "compare": [
        ["netlists/quickstart", "netlists/quickstart/readings.csv"],
        ["netlists/quickstart", "netlists/quickstart/readings-good.csv"],
        ["netlists/grain-dryer", "netlists/grain-dryer/readings.csv"],
        ["netlists/grain-dryer/netlist.xml", "netlists/grain-dryer/readings-good.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/one_open.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/unknown_point.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/unstable.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/repaired/readings.csv"],
        [f"{INPUTS}/small/conductors.csv", f"{INPUTS}/one_open.csv"],
    ],
    "drive": [
        ["netlists/grain-dryer"],
        ["netlists/grain-dryer", "FAN", "%QX3.3"],
        ["netlists/grain-dryer", "HORN", "BEACON", "--unproven", "A. Tester"],
        ["netlists/quickstart", "--logic", f"{INPUTS}/auger.st", "--most-volts", "12"],
        ["netlists/grain-dryer", "--done", "netlists/grain-dryer/readings-good.csv"],
    ],
    "energise": [
        ["netlists/quickstart"],
        ["netlists/grain-dryer"],
        [f"{INPUTS}/small"],
        [f"{INPUTS}/relays"],
    ],
    "expect": [
        ["netlists/grain-dryer", "504"],
        ["netlists/grain-dryer", "K10:A2", "K10:A1"],
        ["netlists/grain-dryer", "K21:A1", "K21:A2", "--when", "A4=unplugged", "--meter", "netlists/grain-dryer/meters.csv"],
        ["netlists/quickstart", "K1:A1", "X1:4"],
    ],
    "faults": [
        ["netlists/quickstart", "netlists/quickstart/readings.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/one_open.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/ohms.csv"],
    ],
    "job": [  # made below
        ["quickstart.rtj"],
        ["open.rtj"],
    ],
    "jumper": [
        ["netlists/quickstart", "--all"],
        ["netlists/quickstart", "AUGER_RELAY", "HOPPER_FULL", "--unproven", "A. Tester"],
        ["netlists/grain-dryer", "--all", "--done", "netlists/grain-dryer/readings-good.csv"],
        ["netlists/grain-dryer", "STOP_RESET"],
    ],
    "locate": [
        ["netlists/quickstart", "HOPPER_FULL"],
        ["netlists/grain-dryer", "GAS_PRESSURE"],
        ["netlists/grain-dryer", "GAS_PRESSURE", "--volts", "G1:+=24", "--volts", "A1:0.6=12", "--volts", "A1:M=24"],
        ["netlists/grain-dryer", "MOISTURE_IN", "--likely"],
    ],
    "next": [
        ["netlists/quickstart", "netlists/quickstart/readings.csv"],
        ["netlists/quickstart", "netlists/quickstart/readings-good.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/contradiction.csv"],
        [f"{INPUTS}/small", f"{INPUTS}/one_open.csv"],
        ["netlists/grain-dryer", "netlists/grain-dryer/readings.csv"],
        ["netlists/quickstart", f"{INPUTS}/low_coil.csv"],
    ],
    "plan": [
        ["netlists/quickstart"],
        ["netlists/grain-dryer"],
        ["netlists/grain-dryer", "--goal", "identify"],
        ["netlists/grain-dryer", "--elements", "all", "--no-lifts"],
        ["netlists/grain-dryer", "--elements", "all", "--bodies", "off", "--done", "netlists/grain-dryer/readings.csv"],
        ["netlists/quickstart", "--goal", "identify", "--isolation", "all", "--certificate"],
    ],
    "record": [  # made below
        ["quickstart.rtj"],
        ["open.rtj"],
    ],
    "retest": [
        ["netlists/quickstart", "netlists/quickstart-b"],
        ["netlists/quickstart", "netlists/quickstart-b", "netlists/quickstart/readings.csv"],
        ["netlists/quickstart-b", "netlists/quickstart", "netlists/quickstart/readings-good.csv"],
        [f"{INPUTS}/small", "netlists/grain-dryer", f"{INPUTS}/ohms.csv"],
    ],
    "trace": [
        ["netlists/quickstart"],
        ["netlists/grain-dryer"],
        [f"{INPUTS}/small"],
        [f"{INPUTS}/small/conductors.csv"],
    ],
}
CALL_OF_SCHEMA = {"faults": ["compare", "--faults"], "job": ["job", "info"]}  # else the verb of that name
JOBS = {"quickstart.rtj": "netlists/quickstart", "open.rtj": f"{INPUTS}/open_change"}  # and where their readings are


def make_jobs(binary, folder):
    """The jobs stand in the place of their names in CALLS."""
    for name, readings in JOBS.items():
        call = [binary, "job", "new", folder / name, "netlists/quickstart", "--readings", f"{readings}/readings.csv"]
        subprocess.run(call, capture_output=True, cwd=ROOT, check=True)
    for schema in ("job", "record"):
        CALLS[schema] = [[folder / name] for (name,) in CALLS[schema]]
    for finding, decision in (("R015", "accepted"), ("R016", "drawing")):
        call = [binary, "job", "decide", folder / "quickstart.rtj", finding, decision, "--by", "tester A", "--text", "seen"]
        subprocess.run(call, capture_output=True, cwd=ROOT, check=True)
    call = [binary, "job", "sign", folder / "quickstart.rtj", "checked", "--by", "tester A", "--open"]
    subprocess.run(call, capture_output=True, cwd=ROOT, check=True)
    CALLS["compare"].append([folder / "quickstart.rtj"])
    dark = [folder / "quickstart.rtj", "HOPPER_FULL"]
    for _ in range(2):      # the second makes the first one an older reading
        subprocess.run([binary, "locate", *dark, "--volts", "G1:+=24", "--by", "tester A"], capture_output=True, cwd=ROOT, check=True)
    CALLS["locate"].append(dark)


def record_of(binary, job):
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run([binary, "record", job, f"{folder}/record"], capture_output=True, cwd=ROOT)
        if done.returncode not in (0, 1):
            raise SystemExit(f"ringtrue record {job}: status {done.returncode}: {done.stderr.decode()}")
        return json.loads(Path(folder, "record/record.json").read_text(encoding="utf-8"))


def output_of(binary, schema, arguments):
    if schema == "record":
        return record_of(binary, *arguments)
    verb = CALL_OF_SCHEMA.get(schema, [schema])
    done = subprocess.run([binary, *verb, *arguments, "--json"], capture_output=True, cwd=ROOT)
    if done.returncode not in (0, 1):
        raise SystemExit(f"ringtrue {' '.join(map(str, verb + arguments))}: status {done.returncode}: {done.stderr.decode()}")
    return json.loads(done.stdout.decode("utf-8"))


def objects_in(value):
    """Every object inside a JSON value, the value itself included."""
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else []:
        yield from objects_in(inner)


def damaged(value):
    """Copies of the value, each with one object's key taken out or an unknown key put in; one per shape of object."""
    seen = set()
    for number, item in enumerate(objects_in(value)):
        shape = tuple(sorted(item))
        if shape in seen:
            continue
        seen.add(shape)
        for key in [*shape, None]:
            broken = copy.deepcopy(value)
            target = next(o for i, o in enumerate(objects_in(broken)) if i == number)
            if key is None:
                target["unheard of"] = 1
            else:
                del target[key]
            yield key, broken


def main():
    if len(sys.argv) != 2:
        raise SystemExit("usage: schema_check.py BINARY")
    binary = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as folder:
        make_jobs(binary, Path(folder))
        check_all(binary)


def check_all(binary):
    good, refused = 0, 0
    for verb, calls in CALLS.items():
        schema = json.loads((ROOT / f"netlists/schema/{verb}.schema.json").read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        validator = jsonschema.Draft202012Validator(schema)
        for arguments in calls:
            output = output_of(binary, verb, arguments)
            for error in validator.iter_errors(output):
                where = "/".join(str(step) for step in error.absolute_path)
                raise SystemExit(f"ringtrue {verb} {' '.join(map(str, arguments))}: {where}: {error.message}")
            good += 1
        for arguments in (calls[-1], calls[4] if len(calls) > 4 else calls[0]):
            for key, broken in damaged(output_of(binary, verb, arguments)):
                if validator.is_valid(broken):
                    raise SystemExit(f"{verb}.schema.json takes an output {'with an unknown key' if key is None else 'without ' + key}")
                refused += 1
    print(f"schema_check.py: {good} outputs are valid, {refused} damaged ones are refused")


if __name__ == "__main__":
    main()
