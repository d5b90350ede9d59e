#!/usr/bin/env python3
"""Generates a plant unless it is there.

    plant_files.py MAKE_PLANT FOLDER CONDUCTORS
"""

import hashlib
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
SEED = 1


def make_plant(make, folder, size):
    """Made anew only if the generator or what was asked of it has changed; the stamp is written last."""
    sources = b"".join((HERE / name).read_bytes() for name in ("make_plant.cpp", "plant_panel.hpp"))
    stamp = f"{size} conductors, seed {SEED}, {hashlib.sha256(sources).hexdigest()[:16]}"
    file = folder / "stamp"
    if file.exists() and file.read_text() == stamp:
        return
    for old in ("stamp", "conductors.xml"):
        (folder / old).unlink(missing_ok=True)
    print(f"bench: making {folder}", flush=True)
    subprocess.run([make, folder, str(size), str(SEED)], check=True)
    file.write_text(stamp)


def truth(folder):
    """The ids of the readings that disagree."""
    rows = (folder / "faults.csv").read_text().splitlines()
    return {reading for row in rows[1:] for reading in row.rpartition(",")[2].split(";")}


if __name__ == "__main__":
    make_plant(sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]))
