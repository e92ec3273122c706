# SPDX-License-Identifier: Apache-2.0
"""Decal borders and sprays in enamel colours, and the two printed pictures."""

from svg_tiles import *  # the pen


class Tones:
    def __init__(self, dark, mid, light):
        self.dark, self.mid, self.light = dark, mid, light


LEAF = Tones("#4c6b3c", "#7d9a58", "#b4c48a")
LEAF_COOL = Tones("#47695a", "#76998a", "#aac4b6")
ROSE = Tones("#a8364f", "#dd7f92", "#f3c0c6")
PINK = Tones("#b9566f", "#e794a4", "#f6cfd3")
BLUE = Tones("#2f4c8c", "#6486c4", "#b3c6e6")
VIOLET = Tones("#55397f", "#8b6bb3", "#c6b0dc")
RED = Tones("#9c2a1e", "#d5523a", "#f0937a")
YELLOW = Tones("#b57a14", "#eebc43", "#fae3a0")
PLUM = Tones("#3c2440", "#6f3d66", "#a9759c")
BROWN = Tones("#5d4030", "#8d6a4e", "#c3a383")
PRINT_BLUE = Tones("#24407a", "#5f7fb5", "#b9c9e2")


def rose(t, x, y, r, c, turn=0):
    """Outer petals, a cup, and a curled heart."""
    t.fill(c.light, scallop(x, y, 5, r * 0.78, r * 1.2, turn))
    t.stroke(c.mid, r * 0.06, *[quad(*at(x, y, turn + 72 * i - 24, r * 0.88), *at(x, y, turn + 72 * i, r * 1.06),
                                     *at(x, y, turn + 72 * i + 24, r * 0.88)) for i in range(5)])
    t.fill(c.mid, scallop(x, y, 5, r * 0.5, r * 0.72, turn + 36))
    t.fill(c.dark, dot(x, y, r * 0.3))
    t.stroke(c.light, r * 0.08, volute(x, y, r * 0.22, turn, 360, 0.2),
             *[quad(*at(x, y, turn + 36 + 72 * i - 28, r * 0.46), *at(x, y, turn + 36 + 72 * i, r * 0.6),
                    *at(x, y, turn + 36 + 72 * i + 28, r * 0.46)) for i in range(5)])


def open_flower(t, x, y, r, c, heart, petals=5, turn=-90, width=0.5, notch=0.16):
    """Heart-shaped petals round a stippled eye: wild rose, blossom, anemone."""
    t.fill(c.light, *[petal(x, y, turn + 360 * i / petals, r, r * width, notch) for i in range(petals)])
    t.fill(c.mid, *[leaf(x, y, turn + 360 * i / petals, r * 0.62, r * 0.17) for i in range(petals)])
    t.fill(heart.mid, dot(x, y, r * 0.2))
    t.fill(heart.dark, *[dot(*at(x, y, turn + 36 + 360 * i / petals, r * 0.3), r * 0.055) for i in range(petals)],
           dot(x, y, r * 0.08))


def leafy(t, x, y, angle, size, c, width=0.27, bend=0.0):
    t.fill(c.mid, leaf(x, y, angle, size, size * width, bend))
    t.stroke(c.dark, 0.9, line(*at(x, y, angle, 2), *at(x, y, angle + bend * 50, size * 0.8)))


def sprig(t, points, c, leaves=(), width=1.7):
    """A curved stem; leaves are (share along it, turn, size)."""
    t.stroke(c.dark, width, cubic(*points))
    for s, turn, size in leaves:
        x, y, d = on_cubic(points, s)
        leafy(t, x, y, d + turn, size, c)


def cornflower(t, x, y, r, turn=-90, c=BLUE):
    parts = []
    for i in range(9):
        a = turn + 40 * i
        ends = [at(x, y, a - 13, r), at(x, y, a - 6, r * 0.8), at(x, y, a, r * 1.04), at(x, y, a + 6, r * 0.8),
                at(x, y, a + 13, r)]
        parts.append("M" + pair(x, y) + "".join("L" + pair(*p) for p in ends) + "z")
    t.fill(c.mid, *parts)
    t.fill(c.dark, *[leaf(x, y, turn + 20 + 40 * i, r * 0.5, r * 0.08) for i in range(9)])
    t.fill(VIOLET.dark, dot(x, y, r * 0.16))


def poppy(t, x, y, r, turn=0):
    t.fill(RED.mid, oval(*at(x, y, turn - 90, r * 0.28), r * 0.86, r * 0.66, turn))
    t.fill(RED.light, oval(*at(x, y, turn + 180, r * 0.42), r * 0.56, r * 0.66, turn),
           oval(*at(x, y, turn, r * 0.42), r * 0.56, r * 0.66, turn))
    t.fill(RED.mid, oval(*at(x, y, turn + 90, r * 0.3), r * 0.74, r * 0.5, turn))
    t.stroke(RED.dark, 1, *[line(*at(x, y, a, r * 0.3), *at(x, y, a, r * 0.7)) for a in range(0, 360, 40)])
    t.fill(PLUM.dark, dot(x, y, r * 0.24))
    t.fill(LEAF.light, dot(x, y, r * 0.1))


def violet(t, x, y, r, turn=0):
    for a, size, tone in ((-128, 0.95, VIOLET.mid), (-52, 0.95, VIOLET.mid), (168, 0.86, VIOLET.light),
                          (12, 0.86, VIOLET.light), (90, 1.05, VIOLET.mid)):
        t.fill(tone, petal(x, y, turn + a, r * size, r * 0.42))
    t.stroke(VIOLET.dark, 0.9, *[line(x, y, *at(x, y, turn + a, r * 0.58)) for a in (74, 90, 106)])
    t.fill(YELLOW.mid, dot(x, y, r * 0.16))


def harebell(t, x, y, angle, size, c=BLUE):
    """A bell hanging in the direction of angle."""
    tip = at(x, y, angle, size)
    l, r = at(*tip, angle - 90, size * 0.42), at(*tip, angle + 90, size * 0.42)
    sl, sr = at(*at(x, y, angle, size * 0.1), angle - 90, size * 0.42), at(*at(x, y, angle, size * 0.1), angle + 90,
                                                                           size * 0.42)
    m1, m2 = at(*at(x, y, angle, size * 0.8), angle - 90, size * 0.14), at(*at(x, y, angle, size * 0.8), angle + 90,
                                                                           size * 0.14)
    t.fill(c.mid, f"M{pair(x, y)}Q{pair(*sl)} {pair(*l)}L{pair(*m1)}L{pair(*at(x, y, angle, size * 1.08))}"
                  f"L{pair(*m2)}L{pair(*r)}Q{pair(*sr)} {pair(x, y)}z")
    t.stroke(c.light, 1.1, line(*at(x, y, angle - 9, size * 0.25),
                                *at(*at(x, y, angle, size * 0.78), angle - 90, size * 0.2)))
    t.fill(LEAF.dark, dot(x, y, size * 0.09))


def tulip(t, x, y, angle, size, c):
    t.fill(c.light, petal(x, y, angle, size, size * 0.3))
    t.fill(c.mid, leaf(x, y, angle - 17, size * 1.04, size * 0.3, -0.04),
           leaf(x, y, angle + 17, size * 1.04, size * 0.3, 0.04))
    t.stroke(c.dark, 1, line(*at(x, y, angle, size * 0.2), *at(x, y, angle, size * 0.7)))


def forget_me_nots(t, spots, r=4.2):
    for x, y in spots:
        t.fill(BLUE.mid, scallop(x, y, 5, r * 0.62, r * 1.36))
    t.fill(YELLOW.mid, *[dot(x, y, r * 0.32) for x, y in spots])


# --- borders --------------------------------------------------------------------------------------------------------

def rose_garland():
    t = Tile(376, grain=5)
    curve = [(0, 28), (104, 104), (272, 104), (376, 28)]
    t.stroke(LEAF.dark, 1.8, cubic(*curve))
    with t.together():
        for i in range(11):
            s = mix(0.07, 0.93, i / 10)
            x, y, d = on_cubic(curve, s)
            leafy(t, x, y, d - 48 if s < 0.5 else d + 180 + 48, 24, LEAF)
            leafy(t, x, y, d + 50 if s < 0.5 else d + 180 - 50, 18, LEAF_COOL)
    forget_me_nots(t, [(56, 46), (90, 80), (122, 52), (254, 52), (286, 80), (320, 46)])
    with t.together():
        rose(t, 148, 71, 17, PINK, 50)
        rose(t, 228, 71, 17, PINK, 0)
    rose(t, 188, 70, 25, ROSE, 20)
    for x in (0, 376):
        t.fill(YELLOW.mid, petal(x, 24, 200, 24, 10), petal(x, 24, -20, 24, 10), leaf(x, 26, 118, 34, 6),
               leaf(x, 26, 62, 34, 6))
        t.fill(YELLOW.dark, dot(x, 25, 6))
    return t


def cornflower_spray():
    t = Tile(430)
    for side in (-1, 1):
        sprig(t, [(215, 84), (215 + side * 30, 76), (215 + side * 62, 54), (215 + side * 96, 58)], LEAF_COOL,
              ((0.3, -side * 40, 30), (0.55, side * 46, 22), (0.7, -side * 44, 26)))
        cornflower(t, 215 + side * 98, 56, 17, -90 + side * 30)
        sprig(t, [(215 + side * 104, 66), (215 + side * 130, 84), (215 + side * 150, 80), (215 + side * 166, 62)],
              LEAF_COOL, ((0.5, side * 50, 20), (0.75, -side * 50, 16)), 1.3)
        t.fill(BLUE.mid, petal(215 + side * 166, 62, -60 if side > 0 else -120, 16, 5))
        t.fill(LEAF_COOL.dark, dot(215 + side * 166, 62, 4))
    sprig(t, [(215, 86), (214, 70), (216, 56), (215, 44)], LEAF_COOL, ((0.3, -46, 26), (0.4, 46, 26)))
    cornflower(t, 215, 32, 24)
    t.fill(BLUE.light, dot(6, 54, 3), dot(424, 54, 3), dot(18, 48, 2), dot(412, 48, 2))
    return t


def poppy_meadow():
    t = Tile(520, grain=5)
    plants = ((38, 16, 34, "poppy"), (100, -10, 50, "cornflower"), (150, 22, 22, "barley"), (206, 12, 30, "poppy"),
              (272, -16, 46, "cornflower"), (318, 12, 54, "poppy"), (384, 22, 24, "barley"), (430, 12, 40, "poppy"),
              (490, -10, 26, "cornflower"))
    with t.together():
        for x, lean, top, plant in plants:
            curve = [(x, 96), (x + lean * 0.2, 74), (x + lean, top + 24), (x + lean, top)]
            if plant == "barley":
                t.stroke(YELLOW.dark, 1.5, cubic(*curve))
                for s in (0.7, 0.8, 0.9, 1):
                    gx, gy, d = on_cubic(curve, s)
                    t.fill(YELLOW.mid, leaf(gx, gy, d - 26, 11, 3.4), leaf(gx, gy, d + 26, 11, 3.4))
            else:
                sprig(t, curve, LEAF, ((0.3, 42, 22), (0.42, -46, 18)), 1.5)
            if plant == "cornflower":
                cornflower(t, x + lean, top, 12)
        t.stroke(LEAF.mid, 1.6, *[quad(x, 97, x + 3 + x % 5, 84, x + 9 - x % 19, 70 + x % 13)
                                  for x in range(16, 510, 38)])
    with t.together():
        for x, lean, top, plant in plants:
            if plant == "poppy":
                poppy(t, x + lean, top, 19, lean)
    return t


def violet_posy():
    t = Tile(330)
    for a, size in ((-150, 46), (-30, 46), (-172, 34), (-8, 34)):
        x, y = at(165, 78, a, 12)
        leafy(t, x, y, a, size, LEAF, 0.34)
    for cx, cy, px, py in ((165, 80, 128, 46), (165, 80, 202, 46), (165, 80, 165, 30)):
        t.stroke(LEAF.dark, 1.6, quad(cx, cy, px, cy - 10, px, py))
    violet(t, 128, 46, 17, -14)
    violet(t, 202, 46, 17, 14)
    violet(t, 165, 34, 20)
    t.stroke(LEAF.dark, 1.8, line(165, 80, 156, 95), line(165, 80, 165, 97), line(165, 80, 174, 95))
    t.fill(YELLOW.mid, oval(165, 80, 8, 4))
    for x in (22, 308):
        violet(t, x, 58, 9, 10)
    t.fill(LEAF.mid, leaf(30, 62, 20, 22, 5), leaf(300, 62, 160, 22, 5), dot(0, 58, 2.4), dot(330, 58, 2.4))
    return t


def apple_bough():
    t = Tile(520, grain=5)
    bough = [(20, 74), (150, 96), (330, 22), (500, 44)]
    t.stroke(BROWN.mid, 4.2, cubic(*bough))
    t.stroke(BROWN.dark, 1.4, cubic(*bough))
    with t.together():
        for s, turn, size in ((0.08, -50, 24), (0.2, 50, 26), (0.34, -60, 30), (0.5, 60, 26), (0.66, -54, 28),
                              (0.8, 50, 26), (0.94, -40, 24), (1, 10, 22)):
            x, y, d = on_cubic(bough, s)
            leafy(t, x, y, d + turn, size, LEAF, 0.34)
    with t.together():
        for s, off, r in ((0.14, -22, 17), (0.3, 20, 15), (0.44, -21, 20), (0.6, 23, 17), (0.73, -19, 15),
                          (0.88, 21, 17)):
            x, y, d = on_cubic(bough, s)
            fx, fy = at(x, y, d + 90, off)
            t.stroke(LEAF.dark, 1.2, line(x, y, fx, fy))
            open_flower(t, fx, fy, r, PINK, YELLOW, turn=off * 3)
        for s, off in ((0.24, -20), (0.53, -18), (0.8, -20), (0.96, 14)):
            x, y, d = on_cubic(bough, s)
            fx, fy = at(x, y, d + 90, off)
            t.stroke(LEAF.dark, 1.2, line(x, y, fx, fy))
            t.fill(ROSE.mid, dot(fx, fy, 5))
            t.fill(PINK.light, dot(fx - 1.2, fy - 1.4, 2.2))
    return t


def bramble_trail():
    t = Tile(430, grain=5)
    halves = ([(0, 52), (54, 20), (108, 20), (161, 52)], [(161, 52), (214, 84), (376, 84), (430, 52)])
    t.stroke(BROWN.dark, 2, *[cubic(*half) for half in halves])
    turned = Tones("#7a3b22", "#b4673a", "#dca672")
    with t.together():
        for half, s, side, tones in ((0, 0.22, 1, LEAF), (0, 0.5, -1, turned), (0, 0.86, 1, LEAF), (1, 0.2, -1, turned),
                                     (1, 0.42, 1, LEAF), (1, 0.62, -1, LEAF), (1, 0.86, 1, turned)):
            x, y, d = on_cubic(halves[half], s)
            for turn in (0, 46, -46):
                leafy(t, x, y, d + side * 78 + turn, 27 if turn == 0 else 20, tones, 0.32)
        for half, s, side in ((0, 0.08, -1), (0, 0.36, 1), (0, 0.7, 1), (1, 0.1, 1), (1, 0.52, -1), (1, 0.74, -1)):
            x, y, d = on_cubic(halves[half], s)
            bx, by = at(x, y, d + side * 84, 14)
            t.stroke(BROWN.dark, 1.3, line(x, y, bx, by))
            down = 1 if side > 0 else -1
            t.fill(PLUM.mid, scallop(bx, by + down * 5, 7, 7, 10.5))
            t.fill(PLUM.light, *[dot(bx + dx, by + down * dy - 1, 1.3) for dx, dy in ((-4.6, 0), (3.4, 0), (-1, 11))])
        for half, s, side in ((0, 0.84, -1), (1, 0.32, -1), (1, 0.94, -1)):
            x, y, d = on_cubic(halves[half], s)
            fx, fy = at(x, y, d + side * 84, 17)
            t.stroke(LEAF.dark, 1.2, line(x, y, fx, fy))
            open_flower(t, fx, fy, 10, PINK, YELLOW)
    return t


def tulip_row():
    t = Tile(260)
    for x, c, h in ((40, RED, 52), (96, YELLOW, 42), (152, VIOLET, 52), (208, YELLOW, 42)):
        top = 92 - h
        t.stroke(LEAF.dark, 1.8, line(x, 92, x, top))
        leafy(t, x, 90, -118, 38, LEAF, 0.2, 0.1)
        leafy(t, x, 90, -62, 38, LEAF, 0.2, -0.1)
        tulip(t, x, top + 4, -90, 28, c)
    t.rect(LEAF.mid, 0, 92, 260, 3)
    t.fill(BLUE.mid, *[dot(12 + 28 * i - (0 if i else 0), 86, 2.6) for i in (0, 2, 4, 6, 8) if i != 9])
    return t


def pansy_ribbon():
    """Pansies on a broken ribbon of blue."""
    t = Tile(300)
    top, left = "M0 34C40 34 66 66 110 50", "M300 34C260 34 234 66 190 50"
    t.fill(BLUE.light, top + "L110 62C66 78 40 46 0 46z", left + "L190 62C234 78 260 46 300 46z")
    t.stroke(BLUE.mid, 1.2, top, left, "M0 46C40 46 66 78 110 62", "M300 46C260 46 234 78 190 62")
    for a in (-160, -20, 160, 20, 205, -25):
        leafy(t, *at(150, 54, a, 22), a, 26, LEAF, 0.3)
    for a, tone in ((-130, VIOLET.dark), (-50, VIOLET.dark), (175, VIOLET.light), (5, VIOLET.light)):
        t.fill(tone, dot(*at(150, 52, a, 17), 16))
    t.fill(YELLOW.mid, dot(150, 68, 17))
    t.stroke(PLUM.dark, 1.5, *[line(*at(150, 54, a, 5), *at(150, 54, a, 17)) for a in (60, 75, 90, 105, 120, 165, 15)])
    t.fill(LEAF.dark, dot(150, 54, 3.6))
    return t


def hedgerow_print():
    """A brown transfer print: fence, hedge, two birds."""
    t = Tile(300)
    t.rect(BROWN.mid, 0, 94, 300, 3)
    t.stroke(BROWN.mid, 3, *[line(x, 94, x, 62) for x in range(15, 300, 30)], line(0, 72, 300, 72),
             line(0, 84, 300, 84))
    t.stroke(BROWN.dark, 0.9, *[line(x + 2.4, 92, x + 2.4, 64) for x in range(15, 300, 30)])
    for x, y, r in ((30, 52, 17), (56, 44, 21), (86, 54, 16), (196, 54, 16), (224, 42, 22), (254, 52, 17)):
        t.fill(BROWN.light, dot(x, y, r))
        t.stroke(BROWN.dark, 1.1, *[quad(*at(x, y, a, r * k), *at(x, y, a + 16, r * k * 1.2), *at(x, y, a + 32, r * k))
                                    for k in (0.9, 0.5) for a in range(190, 350, 40)])
    for x, flip in ((128, 1), (168, -1)):
        t.fill(BROWN.mid, oval(x, 58, 12, 7, -20 * flip), dot(x + 10 * flip, 50, 5),
               polygon([(x - 8 * flip, 60), (x - 24 * flip, 66), (x - 20 * flip, 58)]))
        t.fill(BROWN.dark, polygon([(x + 14 * flip, 49), (x + 20 * flip, 51), (x + 14 * flip, 52.5)]),
               leaf(x + 4 * flip, 55, 180 + 20 if flip > 0 else -20, 16, 4))
        t.stroke(BROWN.dark, 1.2, line(x, 64, x, 71), line(x + 3 * flip, 64, x + 3 * flip, 71))
    t.stroke(BROWN.mid, 1.3, "M140 24q4 -6 8 0q4 -6 8 0", "M178 14q3 -5 6 0q3 -5 6 0", "M108 16q3 -5 6 0q3 -5 6 0")
    return t


# --- centres --------------------------------------------------------------------------------------------------------

def basket_bouquet():
    t = Tile(200, 200, grain=5)
    with t.together():
        for a, size in ((-160, 46), (-140, 50), (-118, 44), (-62, 44), (-40, 50), (-20, 46)):
            leafy(t, *at(100, 110, a, 26), a, size, LEAF, 0.26)
    t.fill(BROWN.light, "M58 116H142L130 166H70z")
    t.stroke(BROWN.mid, 3, "M58 130H142M62 143H138M66 156H134",
             *[line(x, 118, 100 + (x - 100) * 0.72, 164) for x in range(64, 142, 15)])
    t.stroke(BROWN.dark, 2, "M56 116H144L131 167H69L56 116")
    with t.together():
        cornflower(t, 62, 78, 15)
        cornflower(t, 140, 76, 15)
        open_flower(t, 100, 50, 18, PINK, YELLOW)
    forget_me_nots(t, [(48, 104), (152, 104)], 5)
    rose(t, 100, 92, 27, ROSE, 10)
    rose(t, 72, 106, 16, PINK, 40)
    rose(t, 130, 106, 16, Tones(YELLOW.dark, YELLOW.mid, YELLOW.light), 0)
    return t


def wild_rose_spray():
    t = Tile(200, 200)
    sprig(t, [(38, 158), (70, 150), (120, 100), (164, 46)], LEAF,
          ((0.12, 50, 34), (0.24, -46, 36), (0.5, 56, 38), (0.76, 50, 34), (0.84, -50, 30), (1, 4, 26)), 2.4)
    sprig(t, [(92, 124), (84, 100), (66, 84), (54, 60)], LEAF, ((0.4, -48, 30), (0.8, 50, 28), (0.7, -50, 24)), 1.8)
    open_flower(t, 116, 100, 33, PINK, YELLOW, turn=-60)
    open_flower(t, 70, 132, 23, PINK, YELLOW, turn=-100)
    for x, y, a in ((54, 56, -110), (150, 72, 10)):
        t.fill(ROSE.mid, petal(x, y, a, 24, 9))
        t.fill(PINK.light, leaf(x, y, a - 10, 20, 4))
        t.fill(LEAF.dark, leaf(x, y, a - 34, 15, 3.4), leaf(x, y, a + 34, 15, 3.4), dot(x, y, 4))
    return t


def harebell_tuft():
    t = Tile(200, 200)
    for curve in ([(100, 170), (96, 130), (74, 90), (48, 76)], [(100, 170), (102, 120), (112, 76), (140, 60)],
                  [(100, 170), (98, 120), (90, 70), (86, 42)], [(100, 170), (112, 140), (138, 116), (160, 110)]):
        t.stroke(LEAF_COOL.dark, 1.6, cubic(*curve))
    for a, size in ((-150, 66), (-128, 56), (-106, 40), (-70, 48), (-48, 62), (-28, 60)):
        leafy(t, 100, 172, a, size, LEAF_COOL, 0.1, 0.06)
    harebell(t, 48, 76, 112, 30)
    harebell(t, 140, 60, 74, 32)
    harebell(t, 86, 42, 104, 30)
    harebell(t, 160, 110, 82, 26)
    harebell(t, 108, 92, 96, 26)
    t.stroke(LEAF_COOL.dark, 1.3, quad(104, 108, 112, 90, 108, 90))
    return t


def wren_bough():
    t = Tile(200, 200)
    bough = [(22, 138), (70, 150), (130, 118), (182, 126)]
    t.stroke(BROWN.mid, 5, cubic(*bough))
    t.stroke(BROWN.dark, 1.6, cubic(*bough))
    for s, turn, size in ((0.02, 160, 22), (0.1, 50, 28), (0.22, -50, 30), (0.36, 60, 26), (0.8, 58, 28),
                          (0.9, -56, 32), (1, 8, 28)):
        x, y, d = on_cubic(bough, s)
        leafy(t, x, y, d + turn, size, LEAF, 0.34)
    # tail, body, breast, head
    t.fill(BROWN.dark, polygon([(66, 98), (44, 52), (58, 48), (80, 88)]))
    t.fill(BROWN.mid, "M62 104C62 76 92 66 112 72C124 62 142 68 142 82C142 112 118 132 96 130C76 128 62 120 62 104z")
    t.fill(BROWN.light, "M92 130C118 128 136 112 140 90C128 92 112 100 104 110C98 118 94 124 92 130z")
    t.fill(BROWN.dark, "M70 100C78 86 98 84 112 92C104 106 84 114 70 100z", polygon([(141, 76), (158, 79), (141, 83)]))
    t.stroke(BROWN.light, 1.6, quad(78, 99, 90, 92, 104, 94), quad(80, 103, 92, 100, 100, 100),
             quad(120, 72, 128, 70, 136, 72))
    t.fill(PLUM.dark, dot(130, 77, 3))
    t.fill("#ffffff", dot(131, 76, 1))
    t.stroke(BROWN.dark, 2, line(96, 128, 96, 138), line(108, 126, 109, 136))
    open_flower(t, 40, 128, 16, PINK, YELLOW)
    open_flower(t, 166, 110, 14, PINK, YELLOW, turn=-70)
    t.fill(ROSE.mid, dot(150, 140, 5), dot(28, 152, 4.4))
    return t


def mill_view():
    """A blue printed view: the mill, the weir, poplars, in a ring of dots."""
    t = Tile(200, 200)
    c = PRINT_BLUE
    t.fill(c.light, "M24 120C40 108 60 112 78 104C100 96 140 100 176 112L176 122H24z")
    t.fill(c.mid, *[leaf(x, 116, -90, h, w) for x, h, w in ((40, 66, 11), (54, 78, 12), (154, 70, 11), (168, 54, 10))])
    t.stroke(c.dark, 1.2, *[line(x, 118, x, 118 - h) for x, h in ((40, 52), (54, 62), (154, 56), (168, 42))])
    t.fill("#eef2f9", "M76 124V80H124V124z")
    t.fill(c.mid, "M70 82L100 52L130 82z", "M106 124V80H124V124z")
    t.stroke(c.dark, 1.4, "M76 124V80H124V124M70 82L100 52L130 82z",
             *[line(75 + i * 5, 82 - i * 5, 125 - i * 5, 82 - i * 5) for i in range(1, 5)])
    t.fill(c.dark, "M84 92h8v10h-8z", "M84 108h8v16h-8z", "M110 92h7v9h-7z")
    t.stroke(c.dark, 2.2, dot(136, 114, 18), dot(136, 114, 4))
    t.stroke(c.dark, 1.5, *[line(136, 114, *at(136, 114, a, 18)) for a in range(0, 360, 45)])
    t.stroke(c.mid, 1.8, *[quad(26 + 4 * i, 128 + 7 * i, 64 + 30 * (i % 2), 122 + 7 * i, 100, 128 + 7 * i) +
                           quad(100, 128 + 7 * i, 130 - 20 * (i % 2), 134 + 7 * i, 174 - 4 * i,
                                128 + 7 * i) for i in range(5)])
    t.stroke(c.dark, 1.2, *[line(70 + 10 * i, 152, 66 + 10 * i, 166) for i in range(7)])
    t.stroke(c.dark, 1.3, "M84 34q4 -6 8 0q4 -6 8 0", "M112 42q3 -5 6 0q3 -5 6 0", "M66 46q3 -5 6 0q3 -5 6 0")
    t.fill(c.mid, *[dot(*at(100, 104, 10 * i, 92), 2.6 if i % 2 else 1.6) for i in range(36)])
    return t


def pear_bough():
    t = Tile(200, 200)
    sprig(t, [(40, 48), (80, 40), (120, 52), (160, 40)], BROWN, (), 3.4)
    for x, y, a, size in ((60, 44, -60, 36), (84, 43, -110, 34), (112, 49, -70, 36), (140, 46, -120, 34),
                          (48, 47, 130, 34), (152, 42, 40, 36), (100, 46, 90, 40), (160, 40, -10, 30)):
        leafy(t, x, y, a, size, LEAF, 0.3)
    for x, top, lean, size in ((76, 50, 8, 1.0), (128, 54, -8, 0.92)):
        t.stroke(BROWN.dark, 2.2, quad(x, top - 6, x + 2, top + 8, x, top + 16))
        k = size
        t.fill(YELLOW.mid, f"M{pair(x, top + 12)}"
                           f"C{pair(x + 16 * k, top + 14)} {pair(x + 12 * k, top + 44)} {pair(x + 26 * k, top + 62)}"
                           f"C{pair(x + 40 * k, top + 92)} {pair(x + 18 * k, top + 106)} {pair(x, top + 104)}"
                           f"C{pair(x - 18 * k, top + 106)} {pair(x - 40 * k, top + 92)} {pair(x - 26 * k, top + 62)}"
                           f"C{pair(x - 12 * k, top + 44)} {pair(x - 16 * k, top + 14)} {pair(x, top + 12)}z")
        t.fill(YELLOW.light, oval(x - 9 * k, top + 70, 9 * k, 20 * k, 12))
        t.fill(RED.light, oval(x + 17 * k, top + 80, 8 * k, 16 * k, -14))
        t.fill(BROWN.dark, polygon([(x - 4, top + 101), (x + 4, top + 101), (x, top + 109)]))
        t.fill(YELLOW.dark, *[dot(x + dx * k, top + dy, 1) for dx,
                              dy in ((4, 66), (-2, 84), (8, 92), (-14, 94), (2, 44), (10, 74))])
    return t


FLORAL_BORDERS = {
    "rose-garland": rose_garland, "cornflower-spray": cornflower_spray, "poppy-meadow": poppy_meadow,
    "violet-posy": violet_posy, "apple-bough": apple_bough, "bramble-trail": bramble_trail,
    "tulip-row": tulip_row, "pansy-ribbon": pansy_ribbon, "hedgerow-print": hedgerow_print,
}
FLORAL_CENTRES = {
    "basket-bouquet": basket_bouquet, "wild-rose-spray": wild_rose_spray, "harebell-tuft": harebell_tuft,
    "wren-bough": wren_bough, "mill-view": mill_view, "pear-bough": pear_bough,
}
