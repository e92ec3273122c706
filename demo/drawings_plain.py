# SPDX-License-Identifier: Apache-2.0
"""Stamped centres, lines, bands, solid colour and moulded relief."""

from svg_tiles import *  # the pen


# --- centres, one metal ---------------------------------------------------------------------------------------------

def centre_rosette(m):
    t = Tile(200, 200)
    t.fill(m.mid, *[leaf(100, 100, 22.5 + 45 * i, 82, 15) for i in range(8)])
    t.stroke(m.light, 1.6, *[line(*at(100, 100, 22.5 + 45 * i, 34),
                                  *at(100, 100, 22.5 + 45 * i, 70)) for i in range(8)])
    t.fill(m.dark, *[dot(*at(100, 100, 45 * i, 58), 4) for i in range(8)])
    t.fill(m.mid, *[dot(*at(100, 100, 45 * i, 72), 2.6) for i in range(8)])
    rosette(t, 100, 100, 48, m, 8)
    t.stroke(m.mid, 2, dot(100, 100, 88))
    return t


def fern_wreath(m):
    t = Tile(200, 200)
    right = [(104, 178), (196, 168), (196, 48), (126, 24)]
    for curve in (mirrored(right, 100), right):
        frond(t, curve, 11, 30, m, slope=50, width=0.26, start=0.06, stem=2.6)
    bellflower(t, 100, 172, -90, 34, m)
    t.stroke(m.dark, 2.4, quad(100, 178, 84, 192, 74, 182), quad(100, 178, 116, 192, 126, 182))
    t.fill(m.dark, dot(100, 177, 6))
    t.fill(m.light, dot(100, 177, 3))
    t.fill(m.mid, dot(100, 24, 4), dot(88, 26, 2.4), dot(112, 26, 2.4))
    return t


def laurel_medallion(m):
    t = Tile(200, 200)
    for i in range(20):
        a = 18 * i
        x, y = at(100, 100, a, 74)
        t.fill(m.mid, leaf(x, y, a + 60, 26, 6), leaf(x, y, a + 120, 26, 6))
        t.fill(m.dark, dot(x, y, 2.6))
    t.stroke(m.mid, 2, dot(100, 100, 48))
    t.stroke(m.light, 2, dot(100, 100, 43))
    t.fill(m.mid, star(100, 100, 8, 34, 12))
    t.fill(m.light, dot(100, 100, 7))
    return t


def urn_medallion(m):
    t = Tile(200, 200)
    t.stroke(m.mid, 3, oval(100, 100, 66, 88))
    t.fill(m.dark, *[dot(100 + 77 * math.cos(math.radians(a)), 100 + 97 * math.sin(math.radians(a)),
                         2) for a in range(0, 360, 12)])
    t.fill(m.mid, "M70 92H130C130 124 116 134 108 138L106 152H120V160H80V152H94L92 138C84 134 70 124 70 92z")
    t.fill(m.light, "M78 98H90C90 118 96 128 98 132C86 128 78 116 78 98z")
    t.fill(m.dark, "M66 86H134V92H66z", "M78 160H122V165H78z")
    t.stroke(m.mid, 4, "M72 96C54 96 54 122 78 120", "M128 96C146 96 146 122 122 120")
    for a, size in ((-90, 52), (-116, 42), (-64, 42), (-140, 34), (-40, 34)):
        t.fill(m.mid, leaf(100, 86, a, size, size * 0.16))
        t.stroke(m.light, 1.2, line(*at(100, 86, a, 8), *at(100, 86, a, size * 0.76)))
    for x, y in ((76, 66), (124, 66), (88, 50), (112, 50)):
        t.fill(m.dark, dot(x, y, 3.4))
    t.stroke(m.dark, 1.6, "M80 106Q100 128 120 106")
    return t


def compass_star(m):
    t = Tile(200, 200)
    t.stroke(m.mid, 2.4, dot(100, 100, 86), dot(100, 100, 79))
    for turn, outer, inner, tone in ((22.5, 52, 12, m.mid), (45, 66, 14, m.mid), (0, 78, 16, m.mid)):
        points = 8 if turn == 22.5 else 4
        t.fill(tone, star(100, 100, points, outer, inner, turn))
    t.fill(m.dark, *[polygon([(100, 100), at(100, 100, a, 78), at(100, 100, a + 45, 16)]) for a in range(0, 360, 90)],
           *[polygon([(100, 100), at(100, 100, a + 45, 66), at(100, 100, a + 90, 14)]) for a in range(0, 360, 90)])
    t.fill(m.light, dot(100, 100, 9))
    t.fill(m.dark, *[dot(*at(100, 100, a, 82.5), 2.2) for a in range(0, 360, 15)])
    return t


def platinum_tuft(m):
    t = Tile(200, 200)
    for a, size, bend in ((-90, 130, 0), (-108, 112, -0.12), (-72, 112, 0.12), (-128, 92, -0.2), (-52, 92, 0.2),
                          (-146, 68, -0.24), (-34, 68, 0.24)):
        t.fill(m.mid, leaf(100, 166, a, size, 7, bend))
    for a, size in ((-99, 104), (-81, 104), (-118, 86), (-62, 86)):
        tip = at(100, 166, a, size)
        t.stroke(m.dark, 1.4, line(100, 166, *tip))
        t.fill(m.dark, *[leaf(*at(100, 166, a, size - 8 * k), a + s, 13, 3) for k in range(4) for s in (-24, 24)])
    t.stroke(m.light, 3, quad(74, 170, 100, 160, 126, 170))
    return t


# --- lines, bands and solid colour ----------------------------------------------------------------------------------

def metal_line(m):
    """The tile of a line is the line itself: its full height is the line's width."""
    t = Tile(100)
    t.rect(m.mid, 0, 0, 100, 100)
    t.rect(m.light, 0, 22, 100, 22)
    t.rect(m.dark, 0, 84, 100, 16)
    return t


def double_line(m):
    t = Tile(100)
    t.rect(m.mid, 0, 0, 100, 46)
    t.rect(m.light, 0, 12, 100, 12)
    t.rect(m.mid, 0, 78, 100, 22)
    return t


def enamel_line(colour):
    t = Tile(100)
    t.rect(colour, 0, 0, 100, 100)
    return t


def metal_band(m):
    t = Tile(100)
    t.rect(m.mid, 0, 4, 100, 66)
    t.rect(m.light, 0, 14, 100, 12)
    t.rect(m.dark, 0, 64, 100, 6)
    t.rect(m.mid, 0, 84, 100, 6)
    return t


def enamel_band(colour, m=None):
    """A band of enamel, between two metal lines if a metal is given."""
    t = Tile(100)
    t.rect(colour, 0, 8 if m else 0, 100, 80 if m else 88)
    if m:
        t.rect(m.mid, 0, 0, 100, 8)
        t.rect(m.mid, 0, 88, 100, 8)
        t.rect(m.light, 0, 2, 100, 2.4)
        t.rect(m.light, 0, 90, 100, 2.4)
    return t


def graded_bands(colours):
    """Bands of one colour thinning out towards the verge, as from a turning wheel."""
    t = Tile(100)
    y = 0
    for height, gap, colour in zip((34, 16, 9, 5), (8, 9, 9, 0), colours):
        t.rect(colour, 0, y, 100, height)
        y += height + gap
    return t


# --- moulded relief, drawn as light and shade of a pale body --------------------------------------------------------

SHADE, LIT, BODY = "#b9ad97", "#fffdf6", "#e6dcc8"


def relief_beads():
    t = Tile(80)
    for x in (20, 60):
        t.fill(SHADE, dot(x + 2, 52, 15))
        t.fill(BODY, dot(x, 50, 15))
        t.fill(LIT, dot(x - 4, 45, 6))
    t.rect(SHADE, 0, 80, 80, 3)
    t.rect(LIT, 0, 77, 80, 3)
    return t


def relief_gadroon():
    t = Tile(60)
    for x in (0, 30):
        t.fill(SHADE, f"M{x + 4} 10C{x + 30} 12 {x + 34} 60 {x + 14} 92C{x + 2} 80 {x - 4} 40 {x + 4} 10z")
        t.fill(BODY, f"M{x + 3} 12C{x + 24} 16 {x + 27} 56 {x + 13} 86C{x + 4} 74 {x - 1} 40 {x + 3} 12z")
        t.stroke(LIT, 3, f"M{x + 7} 22C{x + 10} 40 {x + 11} 56 {x + 12} 70")
    t.rect(SHADE, 0, 4, 60, 3)
    t.rect(LIT, 0, 1, 60, 3)
    return t


def relief_flutes():
    t = Tile(50)
    for x in (0, 25):
        t.rect(BODY, x, 0, 25, 100)
        t.rect(SHADE, x, 0, 5, 100)
        t.rect(LIT, x + 14, 0, 5, 100)
    return t


def relief_ferns():
    """A fern moulded in the clay, the pattern behind the stamp of the same leaf."""
    t = Tile(160)
    curve = [(8, 80), (50, 84), (100, 64), (152, 20)]
    frond(t, [(x + 2, y + 3) for x, y in curve], 8, 30, Metal(SHADE, SHADE, SHADE), slope=54)
    frond(t, curve, 8, 30, Metal("#d8ccb4", BODY, LIT), slope=54)
    return t


MOULDED = {"relief-beads": relief_beads, "relief-gadroon": relief_gadroon, "relief-flutes": relief_flutes,
           "relief-ferns": relief_ferns}
STAMPED_CENTRES = {
    "rosette": lambda: centre_rosette(GOLDEN), "fern-wreath": lambda: fern_wreath(GOLDEN),
    "laurel-medallion": lambda: laurel_medallion(GOLDEN), "urn-medallion": lambda: urn_medallion(GOLDEN),
    "compass-star": lambda: compass_star(GOLDEN), "platinum-tuft": lambda: platinum_tuft(PLATINEOUS),
    "silver-compass": lambda: compass_star(SILVERY),
}
LINES = {
    "gold-line": lambda: metal_line(GOLDEN), "gold-hairline": lambda: metal_line(GOLDEN),
    "gold-double-line": lambda: double_line(GOLDEN), "platinum-line": lambda: metal_line(PLATINEOUS),
    "silver-line": lambda: metal_line(SILVERY), "blue-line": lambda: enamel_line("#3a5a9c"),
    "green-line": lambda: enamel_line("#4f7d5a"), "maroon-line": lambda: enamel_line("#7a2433"),
    "black-line": lambda: enamel_line("#2e2b29"), "coral-line": lambda: enamel_line("#d8694f"),
}
BANDS = {
    "gold-band": lambda: metal_band(GOLDEN), "platinum-band": lambda: metal_band(PLATINEOUS),
    "cobalt-band": lambda: enamel_band("#27397a", GOLDEN), "maroon-band": lambda: enamel_band("#712536", GOLDEN),
    "ivory-band": lambda: enamel_band("#ecd9ad", GOLDEN), "sage-band": lambda: enamel_band("#a3b594"),
    "turquoise-bands": lambda: graded_bands(("#3f9a98", "#3f9a98", "#6fb7b3", "#a5d2cd")),
    "rust-bands": lambda: graded_bands(("#a9512c", "#a9512c", "#c47a50", "#dfab87")),
}
SOLIDS = {
    "gold-solid": lambda: metal_line(GOLDEN), "platinum-solid": lambda: metal_line(PLATINEOUS),
    "cobalt-solid": lambda: enamel_line("#27397a"), "maroon-solid": lambda: enamel_line("#712536"),
}
