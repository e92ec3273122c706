# SPDX-License-Identifier: Apache-2.0
"""Stamped borders: one metal, three tones. Each function draws one tile; see svg_tiles for the conventions."""

from svg_tiles import *  # the pen; its names are short on purpose


def fern_pair(m):
    """Two fern fronds leaning apart from one root. It runs over many shapes and thirty years."""
    t = Tile(330)
    x = 165
    right = [(x + 4, 84), (x + 38, 76), (x + 78, 58), (x + 128, 26)]
    for curve in (mirrored(right, x), right):
        frond(t, curve, 8, 30, m, slope=52, width=0.27)
    t.stroke(m.dark, 2, quad(x - 5, 84, x - 16, 92, x - 26, 85), quad(x + 5, 84, x + 16, 92, x + 26, 85))
    bellflower(t, x, 76, -90, 38, m)
    t.fill(m.dark, dot(x, 84, 6))
    t.fill(m.light, dot(x, 84, 3))
    t.fill(m.mid, dot(x, 28, 3.6), dot(x, 18, 2.6), dot(x, 10.5, 1.8))
    for end in (0, 330):  # half a spray at either end makes a whole one where tiles meet
        inward = 1 if end == 0 else -1
        t.fill(m.mid, dot(end + inward * 8, 60, 3), dot(end + inward * 8, 44, 2.2))
        t.fill(m.dark, leaf(end + inward * 0.6, 74, -90 + inward * 14, 22, 5))
    return t


def fern_ladder(m):
    """Leaves climbing sideways between two hairlines."""
    t = Tile(120)
    rule(t, m.mid, 14, 2.2)
    rule(t, m.mid, 86, 2.2)
    rule(t, m.dark, 50, 2.6)
    for i in range(4):
        x = 6 + 30 * i
        size = 36
        t.fill(m.mid, leaf(x, 50, -52, size, 9, -0.1), leaf(x, 50, 52, size, 9, 0.1))
        t.stroke(m.light, 1.1, line(*at(x, 50, -52, 7), *at(x, 50, -55, 26)),
                 line(*at(x, 50, 52, 7), *at(x, 50, 55, 26)))
    t.fill(m.light, *[dot(15 + 30 * i, 50, 2.6) for i in range(4)])
    return t


def bellflower_drop(m):
    """Chains of husks hanging from a beaded line, long and short by turns."""
    t = Tile(130)
    rule(t, m.mid, 7, 3)
    t.fill(m.light, *beads(16, 130, 13, 3))
    for x, sizes in ((32.5, (30, 24, 18)), (97.5, (22, 15))):
        y = 22
        for size in sizes:
            bellflower(t, x, y, 90, size, m)
            y += size * 0.86
        t.fill(m.dark, dot(x, y + 3, 2.2))
    t.stroke(m.mid, 1.8, quad(32.5, 22, 65, 46, 97.5, 22), quad(97.5, 22, 113.75, 34, 130, 35),
             quad(0, 35, 16.25, 34, 32.5, 22))
    return t


def barley_sprig(m):
    """Three ears of barley tied with a bow."""
    t = Tile(325)
    x = 162
    for dx, tip_y, lean in ((-92, 40, -1), (92, 40, 1), (0, 8, 0)):
        curve = [(x, 88), (x + dx * 0.25, 74), (x + dx * 0.6, tip_y + 22 - abs(lean) * 2), (x + dx, tip_y)]
        t.stroke(m.dark, 2, cubic(*curve))
        grains, awns = [], []
        for i in range(7):
            s = mix(0.42, 0.97, i / 6)
            px, py, d = on_cubic(curve, s)
            for side in (-1, 1):
                size = mix(15, 9, i / 6)
                grains.append(leaf(px, py, d + side * 30, size, 4.4))
                awns.append(line(*at(px, py, d + side * 30, size), *at(px, py, d + side * 17, size + 13)))
        t.stroke(m.light, 0.9, *awns)
        t.fill(m.mid, *grains)
    t.fill(m.mid, leaf(x, 84, 180 - 8, 40, 6, 0.3), leaf(x, 84, 8, 40, 6, -0.3))
    t.fill(m.dark, petal(x, 86, 158, 22, 7), petal(x, 86, 22, 22, 7))
    t.fill(m.light, dot(x, 86, 4))
    t.fill(m.mid, dot(6, 62, 3), dot(319, 62, 3), dot(22, 62, 2), dot(303, 62, 2))
    return t


def laurel_run(m):
    """A garland of laurel, endless, with berries."""
    t = Tile(160)
    for i in range(5):
        x = 4 + 32 * i
        y = 50
        t.fill(m.mid, leaf(x, y, -36, 44, 10, 0.06), leaf(x, y, 36, 44, 10, -0.06))
        t.stroke(m.dark, 1.2, line(*at(x, y, -34, 10), *at(x, y, -33, 36)), line(*at(x, y, 34, 10), *at(x, y, 33, 36)))
        t.fill(m.light, leaf(x, y, 0, 30, 6))
    t.fill(m.dark, *[dot(24 + 32 * i, y, 4) for i, y in ((0, 20), (1, 80), (2, 20), (3, 80), (4, 20))][:5])
    t.fill(m.light, *[dot(24 + 32 * i, y, 1.8) for i, y in ((0, 20), (1, 80), (2, 20), (3, 80), (4, 20))])
    return t


def key_band(m):
    """A running key between hairlines."""
    t = Tile(80)
    rule(t, m.mid, 8, 4)
    rule(t, m.mid, 92, 4)
    s = 5.6
    t.marks.append([f'stroke="{m.mid}" stroke-width="{number(s)}" stroke-linecap="butt"',
                    "M0 78H66V26H22V60H46V44"])
    t.marks.append([f'stroke="{m.mid}" stroke-width="{number(s)}" stroke-linecap="butt"', "M63 78H80"])
    t.marks.append([f'stroke="{m.light}" stroke-width="1.3" stroke-linecap="butt"', "M0 78H66V26H22V60H46V44M66 78H80"])
    return t


def trellis_band(m):
    """Diamonds with a flower in each, between cable lines."""
    t = Tile(100)
    rule(t, m.dark, 10, 3)
    rule(t, m.dark, 90, 3)
    rule(t, m.light, 4, 2)
    rule(t, m.light, 96, 2)
    t.stroke(m.mid, 2.4, *[line(x, 11.5, x + 50, 88.5) + line(x + 50, 11.5, x, 88.5) for x in (0, 50)])
    for x in (25, 75):
        t.fill(m.light, *[petal(x, 50, 45 + 90 * i, 9, 4.5) for i in range(4)])
        t.fill(m.dark, dot(x, 50, 2.4))
    t.fill(m.light, dot(50, 50, 4), dot(0, 50, 4), dot(100, 50, 4))
    for x in (25, 75):
        t.fill(m.mid, dot(x, 20, 2.4), dot(x, 80, 2.4))
    t.fill(m.mid, dot(50, 24, 3), dot(50, 76, 3), dot(0, 24, 3), dot(0, 76, 3), dot(100, 24, 3), dot(100, 76, 3))
    return t


def swag_tassel(m):
    """Swags of husks hung between rosettes, with a tassel from each rosette."""
    t = Tile(260)
    for a, b in ((-130, 130), (130, 390)):
        curve = [(a, 22), (mix(a, b, 0.28), 88), (mix(a, b, 0.72), 88), (b, 22)]
        for i in range(11):
            s = mix(0.1, 0.9, i / 10)
            x, y, d = on_cubic(curve, s)
            if not -8 <= x <= 268:
                continue
            size = 20 - 10 * abs(s - 0.5)
            away = d if s <= 0.5 else d + 180
            t.fill(m.mid, leaf(x, y, away - 28, size, 5.2), leaf(x, y, away + 28, size, 5.2))
            t.fill(m.light, dot(x, y, 2.2))
    rosette(t, 130, 22, 20, m)
    t.stroke(m.dark, 2, line(130, 42, 130, 56))
    t.fill(m.mid, leaf(130, 54, 90, 34, 9), leaf(130, 54, 76, 30, 5), leaf(130, 54, 104, 30, 5))
    t.fill(m.dark, dot(130, 56, 4.5))
    for x in (0, 260):
        t.fill(m.dark, dot(x, 72.5, 6))
        t.fill(m.light, dot(x, 72.5, 3))
    return t


def ribbon_bow(m):
    """Bows whose ribbons wave on to the next bow."""
    t = Tile(260)
    x = 130
    wave = [(x + 8, 44), (x + 44, 78), (x + 92, 84), (x + 130, 50)]
    for curve in (wave, mirrored(wave, x)):
        t.stroke(m.mid, 7, cubic(*curve))
    for curve in (wave, mirrored(wave, x)):
        t.stroke(m.light, 2, cubic(*curve))
    for side in (0, 1):
        a = 0 if side else 180
        flip = -1 if side else 1
        t.fill(m.mid, petal(x, 42, a + flip * 20, 50, 22))
        t.fill(m.dark, petal(x + (8 if side else -8), 41, a + flip * 20, 34, 11))
        t.fill(m.light, leaf(x, 42, a + flip * 32, 44, 6))
        t.fill(m.mid, leaf(x, 46, 90 + flip * 26, 44, 8, flip * 0.2))
        t.stroke(m.dark, 1.4, line(*at(x, 46, 90 + flip * 24, 10), *at(x, 46, 90 + flip * 30, 34)))
    t.fill(m.dark, oval(x, 43, 8, 9))
    t.fill(m.light, oval(x, 42, 4, 5))
    for end in (0, 260):
        t.fill(m.dark, dot(end, 50, 7))
        t.fill(m.light, dot(end, 50, 3.4))
    for cx in (62, 198):
        t.fill(m.mid, dot(cx, 40, 3), dot(cx - 9, 34, 2), dot(cx + 9, 34, 2))
    return t


def lyre_scroll(m):
    """A lyre between facing scrolls."""
    t = Tile(330)
    x = 165
    for side in (-1, 1):
        def sx(v):
            return x + side * v
        t.stroke(m.mid, 5, f"M{pair(sx(4), 88)}C{pair(sx(40), 84)} {pair(sx(14), 46)} {pair(sx(24), 26)}",
                 volute(sx(31), 24, 8, 180 if side > 0 else 0, side * 290, 0.3))
        t.stroke(m.mid, 4, f"M{pair(sx(26), 84)}C{pair(sx(60), 92)} {pair(sx(96), 84)} {pair(sx(108), 60)}",
                 volute(sx(94), 58, 14.5, 8 if side > 0 else 172, -side * 400, 0.3))
        for px, py, a in ((52, 84, -62), (72, 84, -48), (90, 78, -20)):
            angle = a if side > 0 else 180 - a
            t.fill(m.mid, leaf(sx(px), py, angle, 22, 5.5))
        t.fill(m.dark, dot(sx(94), 58, 3.6))
        t.stroke(m.mid, 2.4, quad(sx(109), 62, sx(136), 66, sx(165), 52))
        t.fill(m.mid, leaf(sx(132), 63, -90 + side * 38, 24, 5), leaf(sx(128), 63, 90 - side * 48, 18, 4.4))
    t.stroke(m.light, 1.4, *[line(x + d, 26, x + d, 78) for d in (-8, 0, 8)])
    t.stroke(m.dark, 3.4, line(x - 24, 27, x + 24, 27))
    t.fill(m.mid, leaf(x, 26, -90, 20, 6), leaf(x, 26, -60, 15, 4), leaf(x, 26, -120, 15, 4))
    t.fill(m.dark, oval(x, 86, 17, 6))
    t.fill(m.light, oval(x, 85, 10, 2.6))
    for end in (0, 330):
        t.fill(m.dark, dot(end, 51, 5.5))
        t.fill(m.light, dot(end, 51, 2.6))
    return t


def star_dot(m):
    """Eight-rayed stars and clusters of dots by turns."""
    t = Tile(110)
    t.fill(m.mid, star(28, 50, 8, 27, 9))
    t.fill(m.dark, star(28, 50, 8, 14, 6))
    t.fill(m.light, dot(28, 50, 4))
    x = 83
    t.fill(m.mid, dot(x, 50, 6), dot(x, 28, 3.6), dot(x, 72, 3.6), dot(x - 16, 50, 3.6), dot(x + 16, 50, 3.6))
    t.fill(m.light, dot(x, 50, 2.6))
    rule(t, m.mid, 8, 3)
    rule(t, m.mid, 92, 3)
    return t


def lace_edge(m):
    """Scallops filled with net, each ending in a picot."""
    t = Tile(90)
    rule(t, m.mid, 5, 5)
    t.stroke(m.mid, 2.6, "M0 8C4 58 36 80 45 80C54 80 86 58 90 8")
    t.stroke(m.dark, 1.2, "M8 8C12 46 38 68 45 68C52 68 78 46 82 8")
    net = []
    for row, (y, xs) in enumerate(((18, (21, 33, 45, 57, 69)), (29, (27, 39, 51, 63)), (40, (33, 45, 57)),
                                   (51, (39, 51)))):
        net += [dot(x, y, 2.5) for x in xs]
    t.fill(m.mid, *net)
    t.fill(m.light, dot(45, 60, 3))
    t.fill(m.dark, dot(45, 87, 4), dot(31, 80.5, 2.6), dot(59, 80.5, 2.6), dot(18, 67, 2.6), dot(72, 67, 2.6))
    t.fill(m.mid, dot(0, 24, 3.4), dot(90, 24, 3.4), dot(0, 36, 2.2), dot(90, 36, 2.2))
    return t


def acorn_sprig(m):
    """Two acorns under lobed oak leaves, then an open twig."""
    t = Tile(430)
    x = 215

    def oak(cx, cy, angle, size):
        """A lobed leaf: three lobes a side, bulging between valleys, and one at the tip."""
        def point(along, out):
            return at(*at(cx, cy, angle, size * along), angle + 90, size * out)
        path = "M" + pair(cx, cy)
        lobes = ((0.1, 0.25, 0.30, 0.07), (0.36, 0.36, 0.54, 0.08), (0.62, 0.31, 0.76, 0.06))
        for along, out, valley, narrow in lobes:
            path += f"C{pair(*point(along, out))} {pair(*point(valley + 0.04, out))} {pair(*point(valley, narrow))}"
        path += f"C{pair(*point(0.84, 0.2))} {pair(*point(1.04, 0.14))} {pair(*point(1.02, 0))}"
        path += f"C{pair(*point(1.04, -0.14))} {pair(*point(0.84, -0.2))} {pair(*point(0.76, -0.06))}"
        for (along, out, valley, _), (_, _, before, narrow) in zip(lobes[::-1], lobes[1::-1] + ((0, 0, 0, 0),)):
            path += f"C{pair(*point(valley + 0.04, -out))} {pair(*point(along, -out))} {pair(*point(before, -narrow))}"
        t.fill(m.mid, path + "z")
        t.stroke(m.light, 1.4, line(cx, cy, *point(0.9, 0)),
                 *[line(*point(f, 0), *point(f + 0.09, s * 0.15)) for f in (0.14, 0.38, 0.6) for s in (-1, 1)])

    for side in (-1, 1):
        t.stroke(m.dark, 2.4, quad(x, 40, x + side * 60, 30, x + side * 128, 62),
                 quad(x + side * 128, 62, x + side * 170, 82, x + side * 215, 60))
        oak(x + side * 30, 36, 90 - side * 62, 62)
        oak(x + side * 84, 40, -90 + side * 72, 54)
        t.fill(m.mid, leaf(x + side * 140, 68, -90 + side * 40, 26, 6), leaf(x + side * 156, 74, 90 - side * 50, 22, 5),
               leaf(x + side * 178, 76, -90 + side * 50, 24, 5))
    for side in (-1, 1):
        cx = x + side * 14
        a = 90 - side * 14
        t.stroke(m.dark, 2.2, line(x, 40, cx, 52))
        t.fill(m.mid, petal(*at(cx, 52, a, 6), a, 30, 10))
        t.fill(m.dark, oval(*at(cx, 52, a, 6), 10, 7, a - 90))
        t.stroke(m.light, 1.3, line(*at(cx + 3, 60, a, 4), *at(cx + 3, 60, a, 16)))
    t.fill(m.dark, dot(x, 40, 4.5), dot(0, 60, 4), dot(430, 60, 4))
    return t


def shell_scroll(m):
    """A scallop shell with a long leafy scroll at each hand."""
    t = Tile(430)
    x = 215
    for i in range(7):
        a = -90 + (i - 3) * 24
        t.fill(m.mid, petal(x, 78, a, 54 - abs(i - 3) * 4, 9))
    t.stroke(m.dark, 1.6, *[line(*at(x, 78, -90 + (i - 2.5) * 24, 16),
                                 *at(x, 78, -90 + (i - 2.5) * 24, 42)) for i in range(6)])
    t.stroke(m.light, 1.4, *[line(*at(x, 78, -90 + (i - 3) * 24, 24),
                                  *at(x, 78, -90 + (i - 3) * 24, 46)) for i in range(7)])
    t.fill(m.dark, oval(x, 80, 13, 7))
    t.fill(m.light, oval(x, 79, 7, 3.4))
    for side in (-1, 1):
        def sx(v):
            return x + side * v
        curve = [(sx(16), 82), (sx(62), 98), (sx(112), 80), (sx(118), 44)]
        t.stroke(m.mid, 4.6, cubic(*curve), volute(sx(101), 43, 17, 2 if side > 0 else 178, -side * 420, 0.24))
        for s, turn, size in ((0.2, -50, 26), (0.4, -46, 30), (0.58, -44, 30), (0.3, 44, 12), (0.55, 50, 16),
                              (0.76, 52, 18)):
            px, py, d = on_cubic(curve, s)
            t.fill(m.mid, leaf(px, py, d + side * turn, size, size * 0.22, bend=side * 0.1))
        t.fill(m.dark, dot(sx(101), 43, 4))
        tail = [(sx(112), 74), (sx(136), 92), (sx(176), 84), (sx(215), 58)]
        t.stroke(m.mid, 2.6, cubic(*tail))
        for s in (0.3, 0.5, 0.7):
            px, py, d = on_cubic(tail, s)
            t.fill(m.mid, leaf(px, py, d - side * 52, 22, 5), leaf(px, py, d + side * 52, 13, 3.4))
    t.fill(m.dark, dot(0, 58, 5), dot(430, 58, 5))
    t.fill(m.light, dot(0, 58, 2.4), dot(430, 58, 2.4))
    return t


def ivy_trail(m):
    """A stem that waves without end, an ivy leaf in each hollow."""
    t = Tile(200)
    t.stroke(m.dark, 2.6, "M0 50C25 22 75 22 100 50S175 78 200 50")

    def ivy(x, y, angle, size):
        parts = [petal(x, y, angle, size, size * 0.3)]
        for turn, share in ((52, 0.78), (-52, 0.78), (104, 0.5), (-104, 0.5)):
            parts.append(leaf(x, y, angle + turn, size * share, size * 0.26))
        t.fill(m.mid, *parts)
        t.stroke(m.light, 1.3, *[line(x, y, *at(x, y, angle + turn, size * share))
                                 for turn, share in ((0, 0.74), (50, 0.55), (-50, 0.55))])

    t.stroke(m.dark, 1.8, quad(40, 29, 50, 40, 50, 50), quad(140, 71, 150, 60, 150, 50))
    ivy(50, 52, 90, 38)
    ivy(150, 48, -90, 38)
    for x, y, a, r in ((12, 40, -60, 18), (88, 39, -20, 20), (112, 61, 60, 18), (188, 61, 20, 20)):
        t.stroke(m.mid, 1.6, line(x, y, *at(x, y, a, r * 0.6)))
        t.fill(m.mid, dot(*at(x, y, a, r * 0.6), 3.4), dot(*at(x, y, a + 40, r * 0.8), 2.8),
               dot(*at(x, y, a - 40, r * 0.8), 2.8))
    return t


def arcade(m):
    """Pointed arches, a fleuron in each."""
    t = Tile(90)
    rule(t, m.mid, 93, 5)
    t.stroke(m.mid, 3.4, "M0 92V62C0 34 24 20 45 8C66 20 90 34 90 62V92")
    t.stroke(m.light, 1.3, "M9 88V64C9 42 28 30 45 20C62 30 81 42 81 64V88")
    t.fill(m.mid, leaf(45, 84, -90, 46, 9), leaf(45, 84, -128, 30, 7, -0.2), leaf(45, 84, -52, 30, 7, 0.2))
    t.stroke(m.light, 1.3, line(45, 76, 45, 48))
    t.fill(m.dark, dot(45, 84, 4), dot(45, 8, 4.5))
    t.fill(m.dark, dot(0, 34, 4), dot(90, 34, 4))
    t.fill(m.mid, dot(0, 22, 2.6), dot(90, 22, 2.6))
    return t


def honeysuckle(m):
    """Anthemion and bud, linked by scrolls."""
    t = Tile(200)
    for cx, lengths, spread in ((50, (54, 50, 44, 34), 24), (150, (40, 32), 30)):
        parts = []
        for i, size in enumerate(lengths):
            for side in ((0,) if i == 0 else (-1, 1)):
                parts.append(petal(cx, 76, -90 + side * spread * i, size, 6.5))
        t.fill(m.mid, *parts)
        t.stroke(m.light, 1.3, *[line(*at(cx, 76, -90 + side * spread * i, size * 0.4),
                                      *at(cx, 76, -90 + side * spread * i, size * 0.8))
                                 for i, size in enumerate(lengths) for side in ((0,) if i == 0 else (-1, 1))])
        t.fill(m.dark, oval(cx, 77, 8, 6))
    t.stroke(m.dark, 2.6, "M50 82C66 98 92 96 100 78C108 60 128 66 142 80", "M150 82C166 98 192 96 200 78",
             "M0 78C8 60 28 66 42 80")
    t.fill(m.mid, dot(100, 66, 3.6), dot(0, 66, 3.6), dot(200, 66, 3.6))
    rule(t, m.mid, 6, 3)
    return t


def wave_scroll(m):
    """The running dog: waves that curl over, with a bead in each trough."""
    t = Tile(100)
    rule(t, m.dark, 90, 4)
    for x in (0, 50):
        t.fill(m.mid, f"M{x} 84C{x + 4} 44 {x + 22} 18 {x + 40} 22C{x + 54} 26 {x + 54} 52 {x + 40} 52"
                      f"C{x + 32} 52 {x + 30} 42 {x + 38} 40C{x + 28} 34 {x + 22} 46 {x + 26} 58"
                      f"C{x + 32} 76 {x + 46} 74 {x + 50} 84z")
        t.stroke(m.light, 1.5, f"M{x + 8} 76C{x + 12} 48 {x + 24} 30 {x + 38} 29")
        t.fill(m.dark, dot(x + 14, 22, 3.6))
    rule(t, m.mid, 8, 3)
    return t


def step_fan(m):
    """Stepped fans of the thirties."""
    t = Tile(140)
    for x, base in ((35, 88), (105, 88)):
        for i, (r, tone) in enumerate(((56, m.mid), (44, m.light), (32, m.mid), (20, m.dark))):
            t.fill(tone, f"M{pair(x - r * 0.6, base)}A{number(r * 0.6)} {number(r)} 0 0 1 {pair(x + r * 0.6, base)}z")
        t.stroke(m.dark, 1.3, *[line(*at(x, base, a, 20), x + 33.6 * math.cos(math.radians(a)),
                                     base + 56 * math.sin(math.radians(a)))
                                for a in (-150, -120, -90, -60, -30)])
    rule(t, m.dark, 92, 5)
    for x in (0, 70, 140):
        t.fill(m.mid, polygon([(x, 20), (x + 6, 40), (x, 60), (x - 6, 40)]))
    rule(t, m.mid, 8, 3)
    return t


def long_grass(m):
    """Blades of grass blown one way, thin and long."""
    t = Tile(430)
    for i in range(10):
        x, lean, top = 4 + 43 * i, 62 + (i * 37) % 40, 12 + (i * 23) % 30
        for shift in (0, -430) if x + lean > 430 else (0,):  # what bends over the end comes in at the beginning
            curve = [(x + shift, 94), (x + shift + 6, 66), (x + shift + lean * 0.5, top + 16), (x + shift + lean, top)]
            t.stroke(m.mid if i % 3 else m.dark, 2.2, cubic(*curve))
            if i % 3 == 1:
                t.fill(m.light, leaf(x + shift + 2, 94, -52, 50, 5, 0.2))
            for k in range(5):
                px, py, d = on_cubic(curve, mix(0.58, 1, k / 4))
                t.fill(m.mid, leaf(px, py, d - 24, 12 - k, 2.8), leaf(px, py, d + 24, 12 - k, 2.8))
    return t


def pearl_string(m):
    """One string of graded beads."""
    t = Tile(104)
    for x, r in ((13, 6), (39, 10), (65, 15), (91, 10)):
        t.fill(m.mid, dot(x, 50, r))
        t.fill(m.light, dot(x - r * 0.25, 50 - r * 0.25, r * 0.45))
    t.stroke(m.dark, 1.6, line(0, 50, 7, 50), line(19, 50, 29, 50), line(49, 50, 50, 50), line(80, 50, 81, 50),
             line(101, 50, 104, 50))
    rule(t, m.mid, 18, 2.4)
    rule(t, m.mid, 82, 2.4)
    return t


def clover_dash(m):
    """A clover leaf, a dash, a clover leaf: the cheapest of the stamps."""
    t = Tile(130)
    for a in (-90, 30, 150):
        t.fill(m.mid, petal(36, 52, a, 24, 14, 0.2))
    t.stroke(m.light, 1.4, *[line(36, 52, *at(36, 52, a, 15)) for a in (-90, 30, 150)])
    t.stroke(m.dark, 2.4, quad(36, 52, 38, 70, 46, 80))
    t.stroke(m.mid, 4.4, line(74, 52, 116, 52))
    t.fill(m.dark, dot(95, 38, 3), dot(95, 66, 3))
    return t


def etched_vine(m):
    """A broad gold ground, etched: the vine stands dull on bright metal."""
    t = Tile(200)
    t.rect(m.mid, 0, 0, 200, 100)
    t.rect(m.light, 0, 6, 200, 5)
    t.rect(m.light, 0, 89, 200, 5)
    t.stroke(m.dark, 3, "M0 50C25 20 75 20 100 50S175 80 200 50")
    for x, y, a in ((30, 31, 70), (58, 28, 110), (130, 70, -70), (158, 72, -110)):
        t.fill(m.dark, leaf(x, y, a, 34, 10), leaf(x, y, a + 40, 22, 6), leaf(x, y, a - 40, 22, 6))
    for x, y in ((100, 24), (0, 76), (200, 76)):
        t.fill(m.light, *[dot(x + dx, y + dy, 4.4) for dx,
                          dy in ((-7, -6), (0, -6), (7, -6), (-3.5, 1), (3.5, 1), (0, 8))])
    return t


STAMPS = {
    "fern-pair": lambda: fern_pair(GOLDEN), "fern-ladder": lambda: fern_ladder(GOLDEN),
    "bellflower-drop": lambda: bellflower_drop(GOLDEN), "barley-sprig": lambda: barley_sprig(GOLDEN),
    "laurel-run": lambda: laurel_run(GOLDEN), "key-band": lambda: key_band(GOLDEN),
    "trellis-band": lambda: trellis_band(GOLDEN), "swag-tassel": lambda: swag_tassel(GOLDEN),
    "ribbon-bow": lambda: ribbon_bow(GOLDEN), "lyre-scroll": lambda: lyre_scroll(GOLDEN),
    "star-dot": lambda: star_dot(GOLDEN), "lace-edge": lambda: lace_edge(GOLDEN),
    "acorn-sprig": lambda: acorn_sprig(GOLDEN), "shell-scroll": lambda: shell_scroll(GOLDEN),
    "ivy-trail": lambda: ivy_trail(GOLDEN), "arcade": lambda: arcade(GOLDEN),
    "honeysuckle": lambda: honeysuckle(GOLDEN), "wave-scroll": lambda: wave_scroll(GOLDEN),
    "pearl-string": lambda: pearl_string(GOLDEN), "clover-dash": lambda: clover_dash(GOLDEN),
    "etched-vine": lambda: etched_vine(GOLDEN), "step-fan": lambda: step_fan(PLATINEOUS),
    "long-grass": lambda: long_grass(PLATINEOUS), "silver-lace": lambda: lace_edge(SILVERY),
    "silver-star": lambda: star_dot(SILVERY),
}
