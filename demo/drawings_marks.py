# SPDX-License-Identifier: Apache-2.0
"""Marks: a device and the wording, in one printer's colour. Letters are strokes, so that no typeface is needed."""

from svg_tiles import *  # the pen

# Strokes on a grid four wide and six high; letters of one stroke each are polylines split at a space.
ALPHABET = {
    "A": "06,20,46 14,34", "B": "06,00,30,41,42,33,03 33,44,45,36,06", "C": "41,30,10,01,05,16,36,45",
    "D": "00,30,42,44,36,06,00", "E": "40,00,06,46 03,33", "F": "40,00,06 03,33", "G": "41,30,10,01,05,16,36,45,43,23",
    "H": "00,06 40,46 03,43", "I": "20,26", "J": "40,45,36,16,05", "K": "00,06 40,03,46", "L": "00,06,46",
    "M": "06,00,23,40,46", "N": "06,00,46,40", "O": "10,30,41,45,36,16,05,01,10", "P": "06,00,30,41,42,33,03",
    "Q": "10,30,41,45,36,16,05,01,10 34,46", "R": "06,00,30,41,42,33,03 23,46",
            "S": "41,30,10,01,02,13,33,44,45,36,16,05",
    "T": "00,40 20,26", "U": "00,05,16,36,45,40", "V": "00,26,40", "W": "00,16,23,36,40", "X": "00,46 40,06",
    "Y": "00,23,40 23,26", "Z": "00,40,06,46", "-": "13,33", "2": "01,10,30,41,42,06,46",
}


def wording(text, centre_x, top, height):
    """The path of a line of capitals centred on x."""
    unit = height / 6
    advance = 5.6 * unit
    x0 = centre_x - (len(text) * advance - 1.6 * unit) / 2
    path = ""
    for i, letter in enumerate(text):
        for stroke in ALPHABET.get(letter, "").split():
            points = [(x0 + i * advance + int(p[0]) * unit, top + int(p[1]) * unit) for p in stroke.split(",")]
            path += "M" + "L".join(pair(*p) for p in points)
    return path


INKS = {"ring": "#5d6b4a", "shield": "#3c4a63", "leaf": "#5d6b4a", "star": "#8a6a1f", "banner": "#3c4a63",
        "plain": "#55504a", "ticket": "#6b3b36", "wave": "#2f5368", "arch": "#4a4541"}


def mark(words, device):
    """A mark 200 wide: the device above or around its lines of wording."""
    lines = [w.strip() for w in words.split("/")]
    ink = INKS[device]
    size = min(13.0, 168 / (max(len(w) for w in lines) * 5.6 / 6))
    t = Tile(200, 120)
    top = 60 - (len(lines) * size * 1.7 - size * 0.7) / 2
    if device == "ring":
        t.stroke(ink, 1.6, oval(100, 60, 96, 46), oval(100, 60, 91, 42))
        size = min(size, 128 / (max(len(w) for w in lines) * 5.6 / 6))
    elif device == "shield":
        top += 16
        t.stroke(ink, 1.8, "M84 6H116V20C116 32 106 38 100 42C94 38 84 32 84 20z", line(84, 16, 116, 16),
                 line(100, 16, 100, 41))
    elif device == "leaf":
        top += 14
        for side in (-1, 1):
            for k in range(6):
                t.fill(ink, leaf(100 + side * (4 + 9 * k), 30 - 2.2 * k, -90 + side * 36, 15 - k, 3),
                       leaf(100 + side * (4 + 9 * k), 30 - 2.2 * k, side * 30 + (0 if side > 0 else 180), 12 - k, 2.6))
            t.stroke(ink, 1.3, quad(100, 34, 100 + side * 26, 30, 100 + side * 56, 16))
    elif device == "star":
        top += 14
        t.fill(ink, star(100, 20, 5, 16, 6.4))
        t.stroke(ink, 1.2, line(40, 20, 76, 20), line(124, 20, 160, 20))
    elif device == "banner":
        above, below = top - 12, top + len(lines) * size * 1.7 + 4
        t.stroke(ink, 1.6, quad(8, above, 100, above - 12, 192, above), quad(8, below, 100, below + 12, 192, below))
    elif device == "ticket":
        half = len(lines) * size * 0.95 + 8
        t.stroke(ink, 1.6, f"M14 {number(60 - half)}H186V{number(60 + half)}H14z")
    elif device == "wave":
        top -= 10
        base = top + len(lines) * size * 1.7 + 8
        t.stroke(ink, 1.8, *["M40 " + number(base + d) + "q10 -9 20 0t20 0t20 0t20 0t20 0t20 0" for d in (0, 9)])
    elif device == "arch":
        top += 12
        t.stroke(ink, 2, "M70 44V24A30 22 0 0 1 130 24V44", "M78 44V26A22 16 0 0 1 122 26V44")
    for i, text in enumerate(lines):
        height = size if i == 0 else size * 0.86
        t.stroke(ink, max(1.1, height * 0.14), wording(text, 100, top + i * size * 1.7, height))
    return t
