#!/usr/bin/env python3
"""Compares what ringtrue says of each channel of the grain dryer with io_tests.csv, written by hand from the drawing.

    io_table.py --ringtrue BINARY

Columns of io_tests.csv, empty where nothing is to be said:
test    jumper, sensor, operate, analog, drive or none; why_none: the role for which there is none
from, to, third    terminals of the channel's return, its field, and a sensor's further lead
with    the sensor, the selector's position, or what stands for the device of an analog channel
led, seen    the LED, and what it shows: at rest, with the input changed, and changed back
bare, read    a plain jumper from `from` to `to`, with no readings and with readings-good.csv
why_no_jumper    every reason for which it is refused
plus, minus, leads    where the sensor, calibrator or meter goes; of a sensor with three leads its signal goes to `to`
at_0, at_50, at_100    signal, value and raw count there
drive, responds    whether the logic turns the output on and off ("stop box": with a box of real stop devices at the
                   terminals in STOP_BOX), and what moves or lights
"""

import argparse
import csv
import json
import re
import subprocess
import unittest
from pathlib import Path

DEMO = Path(__file__).resolve().parent.parent.parent / "netlists" / "grain-dryer"
# The two channels of the pull cord.
STOP_BOX = [frozenset({"X6:1.ext", "X6:2.ext"}), frozenset({"X6:3.ext", "X6:4.ext"})]
VERDICTS = {"yes": "drivable", "stop box": "substitute"}
POINT = re.compile(r"[A-Z]+\d+:[\w+-]+(?:\.(?:int|ext))?")


def rows_of(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def by_point(entries):
    return {one["point"]: one for one in entries}


class IoTable(unittest.TestCase):
    ringtrue = None

    @classmethod
    def setUpClass(cls):
        cls.table = rows_of(Path(__file__).parent / "io_tests.csv")
        names = [row["channel"] for row in cls.table]
        readings = ["--done", str(DEMO / "readings-good.csv")]
        cls.bare = by_point(cls.said("jumper", *names)["tests"])
        cls.read = by_point(cls.said("jumper", *names, *readings)["tests"])
        cls.analog = by_point(cls.said("analog", "--all")["channels"])
        cls.driven = cls.said("drive")
        cls.drive = by_point(cls.driven["outputs"])

    @classmethod
    def said(cls, verb, *words):
        done = subprocess.run([cls.ringtrue, verb, DEMO, "--json", *words], capture_output=True)
        return json.loads(done.stdout)

    def rows(self, *tests):
        return [(row, self.bare[row["channel"]]) for row in self.table if row["test"] in tests]

    def test_each_channel_stands_in_the_table_once(self):
        drawn = [(row["point"], row["tag"]) for row in rows_of(DEMO / "channels.csv")]
        self.assertEqual([(row["channel"], row["tag"]) for row in self.table], drawn)

    def test_each_row_says_what_its_test_needs(self):
        fitted = {"device", "from", "to", "led", "seen", "bare", "read"}
        measured = {"device", "from", "to", "with", "plus", "minus", "at_0", "at_50", "at_100"}
        needs = {
            "jumper": fitted,
            "sensor": fitted | {"with", "plus", "minus"},
            "operate": fitted | {"why_no_jumper"},
            "none": fitted - {"seen"} | {"why_no_jumper", "why_none"},
            "analog": measured,
            "drive": {"device", "from", "to", "led", "drive", "responds"},
        }
        may = {"sensor": {"third"}, "operate": {"with"}, "analog": {"leads"}}
        for row in self.table:
            filled = {column for column, cell in row.items() if cell} - {"channel", "tag", "test"}
            kind = row["test"]
            self.assertLessEqual(needs[kind], filled, row)
            self.assertLessEqual(filled, needs[kind] | may.get(kind, set()), row)

    def test_terminals_device_and_led(self):
        for row, said in self.rows("jumper", "sensor", "operate", "none", "analog", "drive"):
            with self.subTest(row["channel"]):
                self.assertEqual(said["tag"], row["tag"])
                self.assertEqual(said["device"], row["device"])
                self.assertEqual({said["return"], said["field"]}, {row["from"], row["to"]})
                self.assertEqual(said["return"], row["from"])
                self.assertEqual(said["third"] or "", row["third"])
                self.assertEqual(f"{said['module']} {said['led']}".strip() if said["led"] else "", row["led"])

    def test_inputs(self):
        for row, said in self.rows("jumper", "sensor", "operate", "none"):
            with self.subTest(row["channel"]):
                self.assertEqual(said["test"], row["test"])
                self.assertEqual(re.findall(r"\b(?:dark|lit)\b", said["expect"]), row["seen"].split())
                if row["seen"]:
                    self.assertEqual("lit" if said["lit_at_rest"] else "dark", row["seen"].split()[0])
                self.assertIn(row["with"], said["what"] + said["do"])

    def test_what_is_done_names_these_terminals_and_no_other(self):
        for row, said in self.rows("jumper", "sensor"):
            with self.subTest(row["channel"]):
                self.assertEqual(set(POINT.findall(said["do"])), {row["from"], row["to"], row["third"]} - {""})
                wanted = [f"plus to {row['plus']}", f"minus to {row['minus']}"]
                if row["test"] == "jumper":
                    wanted = [f"from {row['from']} to {row['to']}"]
                elif row["third"]:
                    wanted.append(f"signal to {row['to']}")
                for words in wanted:
                    self.assertRegex(said["do"], re.escape(words) + r"\b")
        for row, said in self.rows("operate"):
            with self.subTest(row["channel"]):
                self.assertIn(row["device"], re.findall(r"[A-Z]+\d+", said["do"]))
                self.assertEqual(POINT.findall(said["do"]), [])
        for row, said in self.rows("none"):
            with self.subTest(row["channel"]):
                self.assertEqual(POINT.findall(said["do"]), [])
                self.assertIn(
                    (row["why_none"], "channel-has-role"),
                    [(name, reason["id"]) for reason in said["jumper"]["reasons"] for name in reason["names"]],
                )

    def test_fitted_stands_for_the_healthy_device_where_normal_is_1(self):
        normal = {row["point"]: row["normal"] for row in rows_of(DEMO / "channels.csv")}
        for row, said in self.rows("jumper", "sensor"):
            with self.subTest(row["channel"]):
                self.assertEqual("healthy device" in said["stands_for"], normal[row["channel"]] == "1")

    def test_jumpers(self):
        for row, said in self.rows("jumper", "sensor", "operate", "none"):
            with self.subTest(row["channel"]):
                self.assertEqual(said["jumper"]["answer"], row["bare"])
                self.assertEqual(self.read[row["channel"]]["jumper"]["answer"], row["read"])
                why = {reason["id"] for reason in said["jumper"]["reasons"] if reason["refuses"]}
                self.assertEqual(why, set(row["why_no_jumper"].split()))

    def test_only_digital_inputs_get_a_jumper(self):
        for row, said in self.rows("analog", "drive"):
            with self.subTest(row["channel"]):
                self.assertIsNone(said["jumper"])

    def test_analog_channels(self):
        for row, said in self.rows("analog"):
            with self.subTest(row["channel"]):
                sheet = self.analog[row["channel"]]
                self.assertEqual(sheet["lacking"], [])
                connect = sheet["connect"]
                self.assertEqual(connect["simulator"], row["with"])
                self.assertEqual((connect["plus"], connect["minus"]), (row["plus"], row["minus"]))
                self.assertTrue(connect["polarity_known"])
                self.assertEqual([lead["terminal"] for lead in connect["further_leads"]], row["leads"].split())
                by_percent = {point["percent"]: point for point in sheet["points"]}
                for percent in (0, 50, 100):
                    signal, signal_unit, value, unit, raw = row[f"at_{percent}"].split()
                    point = by_percent[percent]
                    self.assertEqual((sheet["signal_unit"], sheet["unit"]), (signal_unit, unit))
                    self.assertAlmostEqual(point["signal"], float(signal), places=3)
                    self.assertAlmostEqual(point["value"], float(value))
                    self.assertAlmostEqual(point["raw"], float(raw))

    def test_the_input_sheet_hooks_analog_channels_up_likewise(self):
        turns = {"resistance-decade": "between {plus} and {minus}"}
        for row, said in self.rows("analog"):
            with self.subTest(row["channel"]):
                self.assertEqual(said["test"], "analog")
                self.assertEqual(
                    set(POINT.findall(said["do"].split(" (drawn to")[0])),
                    {row["plus"], row["minus"], *row["leads"].split()},
                )
                self.assertIn(turns.get(row["with"], "plus to {plus}, minus to {minus}").format(**row), said["do"])

    def test_outputs(self):
        for row, said in self.rows("drive"):
            with self.subTest(row["channel"]):
                self.assertEqual(said["test"], "output")
                output = self.drive[row["channel"]]
                self.assertEqual(output["verdict"], VERDICTS[row["drive"]], output["reason"])
                for part in row["responds"].split():
                    self.assertRegex(output["responds"], rf"\b{part}\b")
                self.assertTrue({row["from"], row["to"]} <= set(POINT.findall(output["measure"])), output["measure"])

    def test_the_stop_box_has_both_channels_apart(self):
        between = re.findall(r"between (\S+) and (\S+)", json.dumps(self.driven))
        at_box = {frozenset(pair) for pair in between if set(pair) & frozenset.union(*STOP_BOX)}
        self.assertEqual(at_box, set(STOP_BOX))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--ringtrue", required=True, type=Path)
    IoTable.ringtrue = parser.parse_args().ringtrue.resolve()
    unittest.main(argv=["io_table.py"])
