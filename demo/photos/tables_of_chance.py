# SPDX-License-Identifier: Apache-2.0
"""src/photo/measured.h from what was measured: for each feature, the share right by score.

Each table keeps the rows of GUESSES, careful guesses made before anything was measured. A guess counts as much as four
readings, so that a row with few readings is not taken at its word; a row without any keeps its guess and says count 0. A better
score never means a smaller share: neighbours that say otherwise are averaged (the pool-adjacent-violators rule of isotonic
regression)."""

import pathlib
import re

HEADER = pathlib.Path(__file__).resolve().parent.parent.parent / "src/photo/measured.h"
WORTH = 4  # readings that a guess counts for
ORNAMENT = [(0.95, 0.97), (0.85, 0.90), (0.70, 0.80), (0.50, 0.62), (0.30, 0.40)]
PRESENCE = [(0.97, 0.98), (0.90, 0.93), (0.75, 0.80), (0.50, 0.60)]
GUESSES = {
    "RimOrnament": ORNAMENT, "CentreOrnament": ORNAMENT,
    "LineOrnament": [(0.95, 0.90), (0.80, 0.80), (0.60, 0.65), (0.40, 0.45)],
    "BorderPresence": PRESENCE, "LinePresence": PRESENCE, "CentrePresence": PRESENCE,
    "Glaze": [(0.95, 0.92), (0.80, 0.82), (0.60, 0.65), (0.40, 0.45)],
    "Mark": [(0.95, 0.96), (0.85, 0.90), (0.70, 0.78), (0.50, 0.60), (0.30, 0.40)],
    "MarkThere": [(0.85, 0.97), (0.60, 0.88), (0.30, 0.70)], "MarkAbsent": [(0.70, 0.70), (0.40, 0.60)],
    "Number": [(0.90, 0.88), (0.75, 0.75), (0.50, 0.60)],
    "Form": [(0.90, 0.88), (0.75, 0.75), (0.50, 0.55)], "Shape": [(0.90, 0.85), (0.75, 0.72), (0.50, 0.52)],
    "Length": [(0.85, 0.95), (0.60, 0.88), (0.30, 0.65)]}


def rows(guesses, pairs):
    """[(score_from, share_right, count)] by falling score."""
    made, above = [], float("inf")
    for score_from, guess in guesses:
        inside = [right for score, right in pairs if score_from - 1e-9 <= score < above]
        above = score_from - 1e-9
        made.append([score_from, (sum(inside) + WORTH * guess) / (len(inside) + WORTH), len(inside)])
    pools = []
    for row in made:
        pools.append([row])
        while len(pools) > 1 and mean(pools[-1]) > mean(pools[-2]):
            low = pools.pop()
            pools[-1] += low
    return [(score, mean(pool), count) for pool in pools for score, _, count in pool]


def mean(pool):
    weight = sum(count + WORTH for *_, count in pool)
    return sum(share * (count + WORTH) for _, share, count in pool) / weight


def table(name, made):
    start = f"inline constexpr std::array {name} = {{"
    lines, line = [], start
    for k, (score, share, count) in enumerate(made):
        cell = f"Row{{{score:.2f}, {share:.3f}, {count}}}" + ("," if k + 1 < len(made) else "};")
        if len(line) + len(cell) > 116:
            lines.append(line.rstrip())
            line = " " * len(start)
        line += cell + " "
    return "\n".join([*lines, line.rstrip()])


def measured_h(account, count):
    """The header as it stands, with the tables that were measured put in the place of their old ones."""
    text = HEADER.read_text("utf-8")
    for feature, pairs in account.chances.items():
        name = f"k{feature}"
        made = table(name, rows(GUESSES[feature], pairs))
        text, changed = re.subn(rf"inline constexpr std::array {name} = \{{.*?\}};", lambda _: made, text, flags=re.DOTALL)
        if not changed:
            raise ValueError(f"{HEADER.name}: there is no table {name}")
    if len(account.wear_errors) >= 12:
        errors = sorted(abs(e) for e in account.wear_errors)
        sigma = max(0.01, errors[int(0.68 * (len(errors) - 1))])  # robust: 68 % of errors are smaller
        text = re.sub(r"kWearSigma = [0-9.]+;", f"kWearSigma = {sigma:.3f};", text)
    about = (f"//   Written by demo/photos/accuracy.py --measured from {count} rendered photographs (docs/photo-accuracy.md);\n"
             "//   count 0: never measured, a careful guess. Each table: rows by\n")
    return re.sub(r"//   (MADE BY HAND|Written by).*?Each table: rows by\n", lambda _: about, text, flags=re.DOTALL)
