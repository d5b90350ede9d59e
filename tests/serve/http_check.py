#!/usr/bin/env python3
"""Asks `ringtrue serve` as browsers, broken clients and hostile ones would, and holds it to RFC 9110, RFC 9112 and the
HTML standard; what got into the job is read by Python's own sqlite3.

    http_check.py --ringtrue COMMAND [--only RULES]
"""

import argparse
import tempfile
import time
from pathlib import Path

import entry_rules
import framing_rules
import guard_rules
import http_rules
import injection_rules
import process_rules
import result_rules
import stream_rules
import token_rules
from bench import Jobs

RULES = {"http": http_rules, "framing": framing_rules, "guard": guard_rules, "token": token_rules,
         "injection": injection_rules, "entry": entry_rules, "result": result_rules, "stream": stream_rules, "process": process_rules}


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--ringtrue", type=Path, required=True)
    parser.add_argument("--only", choices=RULES)
    arguments = parser.parse_args()
    for name, rules in RULES.items():
        if arguments.only in (None, name):
            began = time.monotonic()
            with tempfile.TemporaryDirectory() as folder:
                rules.check_all(Jobs(arguments.ringtrue.resolve(), Path(folder)))
            print(f"http_check.py: {name} rules hold ({time.monotonic() - began:.0f} s)", flush=True)


if __name__ == "__main__":
    main()
