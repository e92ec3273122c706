# SPDX-License-Identifier: Apache-2.0
"""A small pen for ornament tiles.

A tile is a list of marks, each a fill or a stroke. Marks of the same style that follow one another share one
<path>, so that a tile stays compact. Only svg, path and circle are written (no text, gradients, clips, uses or style
sheets): whatever reads the drawings needs a small part of SVG only.

Border tiles are "0 0 W 100": the top is the outer edge of the rim, the bottom is towards the verge, and the tile
repeats from left to right. Centre tiles are "0 0 200 200". Lengths are in those units, angles in degrees from +x
towards +y (y runs down), so -90 points to the edge of the rim.
"""

import contextlib
import math
import re

GOLD_DARK, GOLD, GOLD_LIGHT = "#8a6a1f", "#c79a3b", "#e7c878"
PLATINUM_DARK, PLATINUM, PLATINUM_LIGHT = "#5d6468", "#9aa2a6", "#ccd2d4"
SILVER_DARK, SILVER, SILVER_LIGHT = "#6f7072", "#a9abad", "#d9dadb"


class Metal:
    """Three tones of one metal, dark to light."""

    def __init__(self, dark, mid, light):
        self.dark, self.mid, self.light = dark, mid, light


GOLDEN = Metal(GOLD_DARK, GOLD, GOLD_LIGHT)
PLATINEOUS = Metal(PLATINUM_DARK, PLATINUM, PLATINUM_LIGHT)
SILVERY = Metal(SILVER_DARK, SILVER, SILVER_LIGHT)


def number(value):
    """One decimal at most, no trailing zero, never -0."""
    text = f"{value:.1f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def pair(x, y):
    return number(x) + " " + number(y)


def at(x, y, angle, distance):
    """The point at that distance in that direction."""
    a = math.radians(angle)
    return x + distance * math.cos(a), y + distance * math.sin(a)


def mix(a, b, t):
    return a + (b - a) * t


class Tile:
    def __init__(self, width, height=100, grain=1):
        self.width, self.height, self.grain = width, height, grain
        self.marks = []  # [style, path data], in the order of drawing
        self.joined_from = None

    def fill(self, colour, *paths):
        self._path(f'fill="{colour}"', paths)

    def stroke(self, colour, width, *paths):
        self._path(f'stroke="{colour}" stroke-width="{number(width)}"', paths)

    @contextlib.contextmanager
    def together(self):
        """Marks of one style become one path, whatever stood between: for motifs that do not overlap."""
        self.joined_from = len(self.marks)
        yield
        self.joined_from = None

    def _path(self, style, paths):
        data = "".join(paths)
        first = max(0, len(self.marks) - 1) if self.joined_from is None else self.joined_from
        for mark in self.marks[first:]:
            if mark[0] == style:
                mark[1] += data
                return
        self.marks.append([style, data])

    def rect(self, colour, x, y, width, height):
        self.fill(colour, f"M{pair(x, y)}h{number(width)}v{number(height)}h{number(-width)}z")

    def svg(self):
        body = "".join(f'<path {style} d="{short(data, self.grain)}"/>\n' for style, data in self.marks)
        return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(self.width)} {number(self.height)}">\n'
                f'<g fill="none" stroke-linecap="round">\n{body}</g>\n</svg>\n')


COORDINATES = {"M": 2, "L": 2, "Q": 4, "C": 6, "S": 4, "T": 2, "A": 7, "H": 1, "V": 1, "Z": 0}


def short(data, grain=1):
    """The same path with relative coordinates and no needless character. It counts in tenths, so that nothing drifts;
    a grain of 5 puts points on halves of a unit, which nobody sees in a crowded tile and which saves a sixth."""
    out, here, start = [], (0, 0), (0, 0)
    for letter, text in re.findall(r"([A-Za-z])([^A-Za-z]*)", data):
        kind, relative = letter.upper(), letter.islower()
        values = [round(float(v) * 10) for v in re.findall(r"-?\d*\.?\d+", text)]
        size = COORDINATES[kind]
        for k in range(0, max(1, len(values)), max(1, size)):
            group = values[k:k + size]
            if not relative and kind != "A":
                group = [grain * round(v / grain) for v in group]
            base = (0, 0) if relative else here
            if kind == "Z":
                out.append("z")
                here = start
                continue
            if kind == "H" or kind == "V":
                axis = 0 if kind == "H" else 1
                group = [group[0] - base[axis]]
                here = (here[0] + group[0], here[1]) if axis == 0 else (here[0], here[1] + group[0])
            else:
                points = range(5, 7) if kind == "A" else range(size)
                for i in points:
                    group[i] -= base[(i - points[0]) % 2]
                here = (here[0] + group[-2], here[1] + group[-1])
            if kind == "M":
                start = here
            line_after_move = kind == "M" and k > 0  # further pairs of a move are lines
            command = ("l" if line_after_move else kind.lower()) if kind != "M" or k > 0 else "m"
            if not out and command == "m":
                command = "M"
            out.append(command + joined(group))
    return "".join(out)


def joined(tenths):
    text = ""
    for value in tenths:
        token = number(value / 10)
        token = token.replace("0.", ".", 1) if token.startswith(("0.", "-0.")) else token
        text += token if not text or token.startswith("-") else " " + token
    return text


# --- pieces of path -------------------------------------------------------------------------------------------------

def line(x0, y0, x1, y1):
    return f"M{pair(x0, y0)}L{pair(x1, y1)}"


def polygon(points):
    return "M" + "L".join(pair(x, y) for x, y in points) + "z"


def quad(x0, y0, cx, cy, x1, y1):
    return f"M{pair(x0, y0)}Q{pair(cx, cy)} {pair(x1, y1)}"


def cubic(p0, p1, p2, p3):
    return f"M{pair(*p0)}C{pair(*p1)} {pair(*p2)} {pair(*p3)}"


def dot(x, y, r):
    r2 = number(2 * r)
    r1 = number(r)
    return f"M{pair(x - r, y)}a{r1} {r1} 0 1 0 {r2} 0a{r1} {r1} 0 1 0 -{r2} 0z"


def oval(x, y, rx, ry, angle=0):
    x0, y0 = at(x, y, angle, -rx)
    x1, y1 = at(x, y, angle, rx)
    radii = f"{number(rx)} {number(ry)} {number(angle)}"
    return f"M{pair(x0, y0)}A{radii} 1 0 {pair(x1, y1)}A{radii} 1 0 {pair(x0, y0)}z"


def leaf(x, y, angle, length, width, bend=0.0):
    """An almond from (x, y); bend sends the tip sideways by that share of the length."""
    tip = at(*at(x, y, angle, length), angle + 90, bend * length)
    mid = at(x, y, angle, length * 0.45)
    left, right = at(*mid, angle - 90, width), at(*mid, angle + 90, width)
    return f"M{pair(x, y)}Q{pair(*left)} {pair(*tip)}Q{pair(*right)} {pair(x, y)}z"


def petal(x, y, angle, length, width, notch=0.0):
    """A round-ended petal from (x, y); notch (0..1) cuts a heart into its end."""
    tip = at(x, y, angle, length * (1 - notch))
    out = length * 1.15
    left, right = at(*at(x, y, angle, out * 0.85), angle - 90, width), at(*at(x, y, angle, out * 0.85), angle + 90,
                                                                          width)
    near_l, near_r = at(*at(x, y, angle, length * 0.3), angle - 90, width * 0.7), at(
        *at(x, y, angle, length * 0.3), angle + 90, width * 0.7)
    return (f"M{pair(x, y)}C{pair(*near_l)} {pair(*left)} {pair(*tip)}"
            f"C{pair(*right)} {pair(*near_r)} {pair(x, y)}z")


def scallop(x, y, lobes, valley, swell, turn=-90):
    """A closed outline of round lobes: valleys at one radius, each lobe pulled out towards another."""
    path = "M" + pair(*at(x, y, turn - 180 / lobes, valley))
    for i in range(lobes):
        def point(part, radius):  # part of half a lobe, from its middle
            return pair(*at(x, y, turn + (360 * i + 180 * part) / lobes, radius))
        path += f"Q{point(-0.61, swell)} {point(0, swell * 0.86)}Q{point(0.61, swell)} {point(1, valley)}"
    return path + "z"


def star(x, y, points, outer, inner, turn=-90):
    corners = []
    for i in range(2 * points):
        corners.append(at(x, y, turn + 180 * i / points, outer if i % 2 == 0 else inner))
    return polygon(corners)


def on_cubic(p, t):
    """The point and the direction (degrees) of a cubic at t."""
    u = 1 - t
    x = u**3 * p[0][0] + 3 * u * u * t * p[1][0] + 3 * u * t * t * p[2][0] + t**3 * p[3][0]
    y = u**3 * p[0][1] + 3 * u * u * t * p[1][1] + 3 * u * t * t * p[2][1] + t**3 * p[3][1]
    dx = 3 * u * u * (p[1][0] - p[0][0]) + 6 * u * t * (p[2][0] - p[1][0]) + 3 * t * t * (p[3][0] - p[2][0])
    dy = 3 * u * u * (p[1][1] - p[0][1]) + 6 * u * t * (p[2][1] - p[1][1]) + 3 * t * t * (p[3][1] - p[2][1])
    return x, y, math.degrees(math.atan2(dy, dx))


def mirrored(points, axis_x):
    return [(2 * axis_x - x, y) for x, y in points]


def frond(tile, curve, pairs, length, tones, start=0.12, slope=48, width=0.3, stem=2.4, end_leaf=True):
    """Leaves in pairs along a cubic, shrinking towards its tip, on a stem. tones is a Metal or an object like it."""
    leaves, veins = [], []
    for i in range(pairs):
        t = mix(start, 0.95, i / max(1, pairs - 1))
        size = length * (1 - 0.72 * i / pairs) * (0.8 + 0.2 * min(1, i))
        x, y, direction = on_cubic(curve, t)
        for side in (-1, 1):
            angle = direction + side * slope
            leaves.append(leaf(x, y, angle, size, size * width, bend=-side * 0.12))
            veins.append(line(*at(x, y, angle, size * 0.15), *at(x, y, angle - side * 5, size * 0.66)))
    if end_leaf:
        x, y, direction = on_cubic(curve, 1)
        leaves.append(leaf(x, y, direction, length * 0.32, length * 0.1))
    tile.fill(tones.mid, *leaves)
    tile.stroke(tones.light, 1.1, *veins)
    tile.stroke(tones.dark, stem, cubic(*curve))


def volute(x, y, radius, start, sweep, tightness=0.34):
    """A spiral that begins at `radius` in the direction `start` and winds by `sweep` degrees inwards."""
    steps = max(3, int(abs(sweep) / 45))
    path = ""
    previous = None
    for i in range(steps + 1):
        s = i / steps
        r = radius * mix(1, tightness, s) if tightness > 0 else radius * (1 - s)
        p = at(x, y, start + sweep * s, r)
        if previous is None:
            path = f"M{pair(*p)}"
        else:
            half = at(x, y, start + sweep * (s - 0.5 / steps),
                      (previous + r) / 2 / math.cos(math.radians(sweep / steps / 2)))
            path += f"Q{pair(*half)} {pair(*p)}"
        previous = r
    return path


def rosette(tile, x, y, radius, tones, petals=8, turn=-90):
    tile.fill(tones.mid, *[petal(x, y, turn + 360 * i / petals, radius, radius * 2.6 / petals) for i in range(petals)])
    tile.stroke(tones.dark, radius * 0.05, *[line(*at(x, y, turn + 360 * i / petals, radius * 0.34),
                                                  *at(x, y, turn + 360 * i / petals, radius * 0.72))
                                             for i in range(petals)])
    tile.fill(tones.dark, dot(x, y, radius * 0.26))
    tile.fill(tones.light, dot(x, y, radius * 0.15))


def bellflower(tile, x, y, angle, size, tones):
    """A husk: three lobes opening in the direction of angle, with a bead at its head."""
    tile.fill(tones.mid, leaf(x, y, angle - 26, size * 0.9, size * 0.42, bend=-0.1),
              leaf(x, y, angle + 26, size * 0.9, size * 0.42, bend=0.1))
    tile.fill(tones.light, leaf(x, y, angle, size, size * 0.36))
    tile.fill(tones.dark, dot(x, y, size * 0.13))


def beads(y, width, step, r):
    return [dot(step / 2 + i * step, y, r) for i in range(round(width / step))]


def rule(tile, colour, y, thickness):
    """A line round the whole rim; it runs over both ends of the tile, so that it joins."""
    tile.rect(colour, 0, y - thickness / 2, tile.width, thickness)
