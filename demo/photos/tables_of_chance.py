# SPDX-License-Identifier: Apache-2.0
"""src/photo/measured.h from what was measured: for each feature, the share right by score. Rows keep at least a dozen
readings, and a better score never means a smaller share: neighbours that say otherwise are joined (the pool-adjacent-violators
rule of isotonic regression). A feature that was never measured keeps the careful guess it had."""

import math
import re
import pathlib

LEAST = 12
HEADER = pathlib.Path(__file__).resolve().parent.parent.parent / "src/photo/measured.h"


def rows(pairs, bins=8):
    """[(score_from, share_right, count)] by falling score."""
    pairs = sorted(pairs, key=lambda p: -p[0])
    size = max(LEAST, math.ceil(len(pairs) / bins))
    blocks, at = [], 0
    while at < len(pairs):
        end = min(len(pairs), at + size)
        while end < len(pairs) and pairs[end][0] == pairs[end - 1][0]:
            end += 1  # equal scores stay together
        if len(pairs) - end < LEAST:
            end = len(pairs)
        block = pairs[at:end]
        blocks.append([block[-1][0], sum(right for _, right in block), len(block)])
        at = end
    joined = []
    for block in blocks:
        joined.append(block)
        while len(joined) > 1 and joined[-1][1] / joined[-1][2] > joined[-2][1] / joined[-2][2]:
            low = joined.pop()
            joined[-1] = [low[0], joined[-1][1] + low[1], joined[-1][2] + low[2]]
    return [(math.floor(score * 1000) / 1000, right / count, count) for score, right, count in joined]


def table(name, made):
    text = f"inline constexpr std::array {name} = {{"
    cells = [f"Row{{{score:.3f}, {share:.3f}, {count}}}" for score, share, count in made]
    lines, line = [], text
    for k, cell in enumerate(cells):
        piece = cell + (", " if k + 1 < len(cells) else "};")
        if len(line) + len(piece.rstrip()) > 116:
            lines.append(line.rstrip())
            line = " " * len(text)
        line += piece
    return "\n".join([*lines, line])


def measured_h(account, count):
    """The header as it stands, with the tables that were measured put in the place of their old ones."""
    text = HEADER.read_text("utf-8")
    for feature, pairs in account.chances.items():
        name = f"k{feature}"
        if len(pairs) < LEAST:
            continue
        text, changed = re.subn(rf"inline constexpr std::array {name} = \{{.*?\}};", lambda _: table(name, rows(pairs)), text,
                                flags=re.DOTALL)
        if not changed:
            raise ValueError(f"{HEADER.name}: there is no table {name}")
    if len(account.wear_errors) >= LEAST:
        errors = sorted(abs(e) for e in account.wear_errors)
        sigma = max(0.01, errors[int(0.68 * (len(errors) - 1))])  # robust: 68 % of errors are smaller
        text = re.sub(r"kWearSigma = [0-9.]+;", f"kWearSigma = {sigma:.3f};", text)
    about = (f"//   Written by demo/photos/accuracy.py --measured from {count} rendered photographs (docs/photo-accuracy.md);\n"
             "//   count 0: never measured, a careful guess. Each table: rows by\n")
    return re.sub(r"//   (MADE BY HAND|Written by).*?Each table: rows by\n", lambda _: about, text, flags=re.DOTALL)
