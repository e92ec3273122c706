#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The line of `footring sequence`, against scikit-learn's IsotonicRegression on made packs. Prints `N passed, N failed`."""
import csv
import json
import os
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy
from sklearn.isotonic import IsotonicRegression

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))
from tally import Tally  # noqa: E402

BIN = os.environ.get("FOOTRING_BIN", str(ROOT / "build/test/bin/footring"))
SOFT = {"": 0, "~": 3, "?": 5}  # the settings soft_about_years and soft_uncertain_years


def made_pack(folder, chance):
    """Treatments whose years rise with their numbers, unevenly and with slips; returns (number, year, mark) of each."""
    (folder / "datapackage.json").write_text(json.dumps({"name": "made"}))
    points = []
    for _ in range(chance.randrange(5, 120)):
        number = chance.randrange(1, 300)
        year = 1900 + int(number ** 0.7) + chance.randrange(-6, 7)
        points.append((number, year, chance.choice(["", "", "~", "?"])))
    # One shape has a number once, so each stands on a shape of its own; a maker joins them.
    (folder / "makers.csv").write_text("id\nmill\n")
    with open(folder / "shapes.csv", "w", newline="") as file:
        csv.writer(file).writerows([["id", "maker"], *([f"s-{i}", "mill"] for i in range(len(points)))])
    with open(folder / "treatments.csv", "w", newline="") as file:
        csv.writer(file).writerows([["id", "shape", "number", "years"],
                                    *([f"t-{i}", f"s-{i}", n, f"{y}{mark}"] for i, (n, y, mark) in enumerate(points))])
    return points


def main():
    tally = Tally()
    chance = random.Random(20)
    for round_ in range(25):
        with tempfile.TemporaryDirectory() as scratch:
            points = made_pack(Path(scratch), chance)
            asked = sorted({1, 150, 299, *(chance.randrange(1, 300) for _ in range(5))})
            run = subprocess.run([BIN, "sequence", "--pack", scratch, "--maker", "mill", "--json", "--set",
                                  "sequence_outlier=100", "--set", "sequence_resamples=50", "--", *map(str, asked)],
                                 capture_output=True, text=True, timeout=60)
            if not tally.check(f"round {round_} is answered", run.returncode == 0, run.stderr):
                continue
            got = json.loads(run.stdout)
            numbers = numpy.array([p[0] for p in points], float)
            years = numpy.array([p[1] for p in points], float)
            widths = numpy.array([2 * SOFT[p[2]] for p in points], float)
            line = IsotonicRegression(out_of_bounds="clip").fit(numbers, years, sample_weight=1 / (1 + widths ** 2 / 12))
            ours = numpy.array([d["line"] for d in got["dated"]])
            theirs = line.predict(numpy.array([d["number"] for d in got["dated"]], float))
            tally.check(f"round {round_}: the line at {len(points)} dated numbers", numpy.allclose(ours, theirs, atol=1e-4),
                        f"largest difference {numpy.abs(ours - theirs).max()}")
            ours = numpy.array([n["year"] for n in got["numbers"]])
            theirs = line.predict(numpy.array(asked, float))
            tally.check(f"round {round_}: the line at undated numbers", numpy.allclose(ours, theirs, atol=1e-4),
                        f"{list(zip(asked, ours, theirs))}")
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
