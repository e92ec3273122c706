#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""A second invented pack, drawn by lot, so that accuracy is not measured on the demonstration alone: 40 borders of another
style in twenty families of two, other proportions, other glazes, other wording. Same bytes for the same seed.

    demo/photos/other_pack.py FOLDER [SEED]
"""

import csv
import json
import math
import pathlib
import random
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
TONES = {"gold": ("#b98b2e", "#8b6514", "#ddb95e"), "platinum": ("#949b9e", "#62686b", "#c6cbcd"),
         "silver": ("#a4a4a4", "#707070", "#d2d2d2"), "blue": ("#2f5597", "#1d3766", "#7f9fd0"),
         "green": ("#3f7a4a", "#27522f", "#8db78f"), "red": ("#a8322d", "#741f1c", "#d98880"),
         "brown": ("#7a4a2b", "#523019", "#b58a66"), "black": ("#2c2c2e", "#111112", "#77777a"),
         "pink": ("#d07f94", "#a04e66", "#eab7c3"), "violet": ("#6d4f96", "#483069", "#a98fc9")}
FINISHES = ["gold", "blue", "gold", "green", "platinum", "red", "gold", "brown", "silver", "black", "gold", "pink", "blue",
            "gold", "violet", "platinum", "gold", "red", "blue", "gold"]


def path(d, fill="none", stroke="none", width=0.0):
    return f'<path d="{d}" fill="{fill}" stroke="{stroke}" stroke-width="{width:g}"/>'


def dot(x, y, r, fill):
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" fill="{fill}"/>'


def poly(points, fill):
    return '<polygon points="' + " ".join(f"{x:.1f},{y:.1f}" for x, y in points) + f'" fill="{fill}"/>'


def leaf(x, y, angle, long, wide, fill):
    a = math.radians(angle)
    tx, ty = x + long * math.cos(a), y + long * math.sin(a)
    mx, my, nx, ny = (x + tx) / 2, (y + ty) / 2, -wide * math.sin(a), wide * math.cos(a)
    return path(f"M{x:.1f} {y:.1f}Q{mx + nx:.1f} {my + ny:.1f} {tx:.1f} {ty:.1f}Q{mx - nx:.1f} {my - ny:.1f} {x:.1f} {y:.1f}z", fill)


def star(x, y, n, out, inner, fill, turn=-90):
    return poly([(x + (out if k % 2 == 0 else inner) * math.cos(math.radians(turn + 180 * k / n)),
                  y + (out if k % 2 == 0 else inner) * math.sin(math.radians(turn + 180 * k / n))) for k in range(2 * n)], fill)


def flower(x, y, n, r, fill, heart):
    return [dot(x + 0.62 * r * math.cos(2 * math.pi * k / n), y + 0.62 * r * math.sin(2 * math.pi * k / n), 0.4 * r, fill)
            for k in range(n)] + [dot(x, y, 0.32 * r, heart)]


def heart(x, y, s, fill):
    return path(f"M{x:.1f} {y + s:.1f}C{x - 1.6 * s:.1f} {y - .2 * s:.1f} {x - .7 * s:.1f} {y - 1.3 * s:.1f} {x:.1f} {y - .4 * s:.1f}"
                f"C{x + .7 * s:.1f} {y - 1.3 * s:.1f} {x + 1.6 * s:.1f} {y - .2 * s:.1f} {x:.1f} {y + s:.1f}z", fill)


def border(family, variant, c, dark, light):
    """(width, elements); the drawing is 100 high, its top towards the edge."""
    v, out = variant, []
    if family == 0:  # zigzag and dots
        w = 60 if v else 90
        out = [path(f"M0 70L{w / 4} 30L{w / 2} 70L{w * .75} 30L{w} 70", stroke=c, width=7 if v else 4),
               dot(w / 4, 55, 5, dark), dot(w * .75, 55, 5, dark), path(f"M0 84H{w}", stroke=c, width=3)]
        out += [dot(w / 2, 24, 6, light)] if v else [path(f"M0 16H{w}", stroke=dark, width=5)]
    elif family == 1:  # lozenges
        w = 80 if v else 130
        out = [poly([(0, 50), (w / 2, 15), (w, 50), (w / 2, 85)], c), poly([(w * .3, 50), (w / 2, 34), (w * .7, 50), (w / 2, 66)], light)]
        out += [dot(0, 18, 7, dark), dot(w, 18, 7, dark)] if v else [dot(0, 82, 9, dark), dot(w, 82, 9, dark), star(w / 2, 50, 4, 12, 4, dark)]
    elif family == 2:  # scallops with drops
        w = 110 if v else 70
        out = [path(f"M0 10Q{w / 2} {80 if v else 60} {w} 10", stroke=c, width=6), path(f"M0 10Q{w / 2} 55 {w} 10", stroke=light, width=2),
               leaf(0, 12, 90, 60, 9, dark), leaf(w, 12, 90, 60, 9, dark), dot(w / 2, 62 if v else 52, 7, c)]
        out += flower(w / 2, 84, 5, 11, c, dark) if v else []
    elif family == 3:  # running vine
        w = 200 if v else 150
        out = [path(f"M0 50Q{w / 4} {5 if v else 15} {w / 2} 50T{w} 50", stroke=dark, width=3)]
        for k in range(8 if v else 6):
            x = w * (k + .5) / (8 if v else 6)
            y = 50 - (24 if v else 19) * math.sin(2 * math.pi * x / w)
            out.append(leaf(x, y, -60 if k % 2 else 70, 26 if v else 32, 8, c))
        out += flower(w / 4, 78, 6, 14, light, dark) if v else [dot(w * .75, 26, 9, light)]
    elif family == 4:  # pots of tulips
        w = 180 if v else 120
        out = [path(f"M{w / 2} 92V30", stroke=dark, width=4), path(f"M{w / 2 - 14} 12L{w / 2 - 12} 36Q{w / 2} 46 {w / 2 + 12} 36L{w / 2 + 14} 12L{w / 2} 24z", c),
               leaf(w / 2, 80, -140, 44, 10, c), leaf(w / 2, 80, -40, 44, 10, c)]
        out += [path(f"M{w / 2 - 42} 92Q{w / 2 - 40} 60 {w / 2 - 44} 52", stroke=dark, width=3), dot(w / 2 - 44, 46, 10, light),
                path(f"M{w / 2 + 42} 92Q{w / 2 + 40} 60 {w / 2 + 44} 52", stroke=dark, width=3), dot(w / 2 + 44, 46, 10, light)] if v else []
    elif family == 5:  # hearts
        w = 90 if v else 140
        out = [heart(w / 2, 46, 24 if v else 30, c), dot(0, 50, 6, dark), dot(w, 50, 6, dark)]
        out += [path(f"M0 88H{w}", stroke=dark, width=4)] if v else [heart(w / 2, 44, 14, light), leaf(w * .12, 70, -30, 34, 7, dark), leaf(w * .88, 70, 210, 34, 7, dark)]
    elif family == 6:  # stars and bars
        w = 100 if v else 160
        out = [star(w / 2, 48, 5 if v else 8, 34, 14, c), path("M2 20V80", stroke=dark, width=4), path(f"M{w - 2} 20V80", stroke=dark, width=4)]
        out += [] if v else [dot(w * .16, 48, 7, light), dot(w * .84, 48, 7, light), dot(w / 2, 48, 7, light)]
    elif family == 7:  # guilloche
        w = 120 if v else 84
        out = [path(f"M0 50C{w / 6} 10 {w / 3} 10 {w / 2} 50S{w * .83:.0f} 90 {w} 50", stroke=c, width=7),
               path(f"M0 50C{w / 6} 90 {w / 3} 90 {w / 2} 50S{w * .83:.0f} 10 {w} 50", stroke=dark, width=7),
               dot(w / 4, 50, 9 if v else 6, light), dot(w * .75, 50, 9 if v else 6, light)]
        out += [path(f"M0 94H{w}", stroke=c, width=3), path(f"M0 6H{w}", stroke=c, width=3)] if v else []
    elif family == 8:  # steps
        w = 70 if v else 112
        out = [path(f"M0 78H{w * .3:.1f}V50H{w * .55:.1f}V24H{w * .8:.1f}V78H{w}", stroke=c, width=8 if v else 6)]
        out += [] if v else [path(f"M0 92H{w}", stroke=dark, width=4), dot(w * .18, 40, 8, light)]
    elif family == 9:  # rope
        w = 40 if v else 64
        out = [path(f"M{k * w / 2 - 8:.0f} 68Q{k * w / 2 + w / 4:.0f} 66 {k * w / 2 + w / 2 + 8:.0f} 34", stroke=c, width=9 if v else 13) for k in (-1, 0, 1, 2)]
        out += [path(f"M0 80H{w}", stroke=dark, width=3), path(f"M0 22H{w}", stroke=dark, width=3)]
    elif family == 10:  # fans
        w = 124 if v else 96
        out = [path(f"M{w / 2} 88L{w / 2 + 52 * math.cos(math.radians(a)):.1f} {88 + (66 if v else 56) * math.sin(math.radians(a)):.1f}", stroke=c, width=6)
               for a in range(-160, -10, 20 if v else 30)] + [dot(w / 2, 88, 11, dark)]
        out += [dot(3, 30, 5, light), dot(w - 3, 30, 5, light)] if v else [path(f"M0 96H{w}", stroke=dark, width=3)]
    elif family == 11:  # daisies
        w = 150 if v else 96
        out = flower(w / 2, 50, 8 if v else 6, 32, c, dark) + [path(f"M0 50H{w / 2 - 36}", stroke=dark, width=4), path(f"M{w / 2 + 36} 50H{w}", stroke=dark, width=4)]
        out += [leaf(w * .08, 50, -50, 26, 7, light), leaf(w * .92, 50, 130, 26, 7, light)] if v else []
    elif family == 12:  # crosses in squares
        w = 86 if v else 120
        out = [path(f"M{w / 2 - 32} 18h64v64h-64z", stroke=c, width=5), path(f"M{w / 2 - 20} 30L{w / 2 + 20} 70M{w / 2 + 20} 30L{w / 2 - 20} 70", stroke=dark, width=7)]
        out += [] if v else [star(4, 50, 4, 20, 6, c), star(w - 4, 50, 4, 20, 6, c)]
    elif family == 13:  # bows
        w = 220 if v else 160
        out = [leaf(w / 2, 44, 200, 50, 20, c), leaf(w / 2, 44, -20, 50, 20, c), dot(w / 2, 44, 8, dark),
               path(f"M{w / 2} 44Q{w / 2 - 16} 70 {w / 2 - 30} 90M{w / 2} 44Q{w / 2 + 16} 70 {w / 2 + 30} 90", stroke=dark, width=5)]
        out += [path(f"M0 30Q{w / 4} 60 {w / 2 - 30} 44M{w} 30Q{w * .75} 60 {w / 2 + 30} 44", stroke=light, width=4)] if v else [dot(4, 44, 8, light), dot(w - 4, 44, 8, light)]
    elif family == 14:  # birds
        w = 170 if v else 230
        x = w / 2
        out = [path(f"M{x - 40} 50Q{x - 10} 20 {x + 22} 44L{x + 52} 32L{x + 38} 52Q{x + 6} 82 {x - 40} 50z", c), dot(x - 30, 44, 12, c), poly([(x - 41, 40), (x - 56, 46), (x - 40, 50)], dark),
               leaf(x - 6, 50, -20, 34, 9, light)]
        out += [leaf(6, 70, -60, 34, 8, dark), leaf(w - 6, 70, -120, 34, 8, dark)] if v else flower(8, 52, 5, 16, dark, light) + flower(w - 8, 52, 5, 16, dark, light) + [path(f"M{x - 70} 88H{x + 70}", stroke=dark, width=4)]
    elif family == 15:  # scales
        w = 56 if v else 76
        out = [path(f"M0 {y}Q{w / 2} {y + 34} {w} {y}", stroke=c if k % 2 else dark, width=5) for k, y in enumerate((8, 34, 60) if v else (14, 52))]
        out += [dot(w / 2, 40 if v else 58, 6, light)]
    elif family == 16:  # commas
        w = 100 if v else 144
        out = [path(f"M{w * .3:.0f} 78C{w * .05:.0f} 60 {w * .2:.0f} 14 {w * .55:.0f} 22C{w * .85:.0f} 30 {w * .6:.0f} 62 {w * .45:.0f} 46C{w * .5:.0f} 70 {w * .4:.0f} 80 {w * .3:.0f} 78z", c),
               dot(w * .52, 36, 6, light)]
        out += [] if v else [star(w * .9, 60, 6, 16, 6, dark), path(f"M0 92H{w}", stroke=dark, width=4)]
    elif family == 17:  # grapes
        w = 132 if v else 190
        out = [dot(w / 2 + dx, 34 + dy, 9, c if (dx + dy) % 2 else dark) for dy, row in ((0, (-22, -7, 8, 23)), (14, (-15, 0, 15)), (28, (-8, 7)), (42, (0,))) for dx in row]
        out += [leaf(w / 2, 22, 160, 44, 14, light), leaf(w / 2, 22, 20, 44, 14, light)] + ([] if v else [path(f"M0 22Q{w / 8} 50 {w / 4} 22M{w * .75} 22Q{w * .875} 50 {w} 22", stroke=dark, width=4)])
    elif family == 18:  # arrows
        w = 78 if v else 110
        out = [poly([(w * .1, 50), (w * .6, 22), (w * .45, 50), (w * .6, 78)], c), poly([(w * .55, 50), (w, 28), (w * .85, 50), (w, 72)], dark if v else light)]
        out += [path(f"M0 10H{w}", stroke=dark, width=4)] if v else []
    else:  # arches
        w = 92 if v else 136
        out = [path(f"M6 90V50A{w / 2 - 6} {40 if v else 34} 0 0 1 {w - 6} 50V90", stroke=c, width=6), path(f"M20 90V54A{w / 2 - 20} 26 0 0 1 {w - 20} 54V90", stroke=light, width=3)]
        out += [dot(w / 2, 62, 8, dark)] if v else flower(w / 2, 66, 5, 15, dark, light)
    return w, out


def medallion(k, c, dark, light, draw):
    n, out = 5 + k % 5, []
    if k % 3 == 0:
        out += [f'<circle cx="100" cy="100" r="{80 + k}" fill="none" stroke="{c}" stroke-width="5"/>']
    for i in range(n):
        a = 360 * i / n - 90
        x, y = 100 + 46 * math.cos(math.radians(a)), 100 + 46 * math.sin(math.radians(a))
        out.append([leaf(x, y, a, 40, 16, c), star(x, y, 5, 20, 8, c, a), heart(x, y, 16, c), dot(x, y, 17, c)][k % 4])
        out.append(leaf(100, 100, a + 180 / n, 42 + 5 * (k % 3), 9, dark))
    out += flower(100, 100, 6, 22, light, dark) if k % 2 else [star(100, 100, 8, 26, 10, light), dot(100, 100, 8, dark)]
    if k >= 6:
        x = 60 + 10 * (k - 6)
        out.append(poly([(x, 20), (x + 14, 36), (x - 14, 36)], dark))
    return out


def svg(width, height, elements):
    return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}">'
            + "".join(elements) + "</svg>\n")


FORMS = [("plate-large", "Large plate", "flat", "round"), ("plate-middle", "Middle plate", "flat", "round"),
         ("plate-small", "Small plate", "flat", "round"), ("soup-plate", "Soup plate", "flat", "round"),
         ("under-cup", "Saucer", "flat", "round"), ("meat-dish", "Meat dish", "flat", "oval"),
         ("quad-plate", "Square plate", "flat", "square"), ("eight-plate", "Eight-sided plate", "flat", "octagonal"),
         ("salad", "Salad bowl", "flat", "round")]
SIZES = {"plate-large": (263, "", 27), "plate-middle": (214, "", 22), "plate-small": (171, "", 18), "soup-plate": (236, "", 39),
         "under-cup": (144, "", 20), "meat-dish": (342, 262, 34), "quad-plate": (226, 226, 23), "eight-plate": (239, 239, 24),
         "salad": (231, "", 68)}
GLAZES = [("g-white", 93.8, 0.1, 2.2), ("g-cream", 90.6, 0.9, 11.4), ("g-ivory", 87.4, 2.6, 17.8), ("g-blue-white", 90.1, -1.9, -3.4),
          ("g-celadon", 81.2, -8.8, 6.3), ("g-straw", 84.0, 0.4, 31.5), ("g-shell", 86.1, 6.2, 7.0), ("g-dove", 74.5, -0.6, 1.2)]
WORDS = ["OSTLER & FINCH", "TARNSIDE", "COPPERHILL WORKS", "SEVEN ELMS POTTERY", "LARKFIELD", "HOLLOWAY BRIGHTWARE", "QUARRY LANE",
         "FIRST QUALITY / TARNSIDE", "MADE BY / LARKFIELD POTTERS", "THISTLEDOWN"]


def tables(draw):
    out = {name: [] for name in ("code_schemes", "dated_uses", "statements")}
    out["makers"] = [("works", "The other works (invented)", "pottery", "Nowhere", "1900/1960", "", "", "", "s-1")]
    out["sources"] = [("s-1", "catalogue", "Invented", "A list that never was", "1920", "", "0.8")]
    out["shapes"] = [(s, "works", s.title(), "1900/1960", "", "s-1") for s in ("alder", "birch", "cedar")]
    out["forms"] = [(*f, "", "") for f in FORMS]
    out["shape_forms"] = [(s, f, "", round(l * k, 1), round(w * k, 1) if w else "", round(h * k, 1), "", "", "s-1")
                          for s, k in (("alder", 1.0), ("birch", 0.965), ("cedar", 1.04)) for f, (l, w, h) in SIZES.items()]
    out["glazes"] = [(i, "works", i[2:].title(), *lab, "1900/1960", "no", "s-1") for i, *lab in GLAZES]
    out["marks"] = [(f"k-{n + 1}", "works", words, "", "1900/1960", "*", "", "", "s-1") for n, words in enumerate(WORDS)]
    ornaments, files = [], {}
    for family in range(20):
        for variant in (0, 1):
            finish = FINISHES[(family + 7 * variant) % 20]
            width, elements = border(family, variant, *TONES[finish])
            name = f"b-{family:02d}-{'ab'[variant]}"
            files[f"drawings/{name}.svg"] = svg(width, 100, elements)
            # So many that the border stands 0.10 to 0.17 of the plate's half high.
            repeats = max(4, round(2 * math.pi * 0.9 / (draw.uniform(0.12, 0.2) * width / 100)))
            ornaments.append((name, f"Border {family} {'ab'[variant]}", "decal" if finish not in ("gold", "platinum", "silver") else "stamp",
                              finish, f"drawings/{name}.svg", repeats, "", "", "", "1900/1960", "s-1"))
    for k in range(12):
        finish = FINISHES[(3 * k + 1) % 20]
        files[f"drawings/c-{k:02d}.svg"] = svg(200, 200, medallion(k, *TONES[finish], draw))
        ornaments.append((f"c-{k:02d}", f"Middle {k}", "decal", finish, f"drawings/c-{k:02d}.svg", "", "", "", "", "1900/1960", "s-1"))
    lines = ("gold", "platinum", "blue", "green", "red", "brown", "black")
    for colour in lines:
        c, dark, _ = TONES[colour]
        files[f"drawings/l-{colour}.svg"] = svg(100, 100, [f'<rect x="0" y="0" width="100" height="100" fill="{c}"/>'])
        ornaments.append((f"l-{colour}", f"{colour.title()} line", "line", colour, f"drawings/l-{colour}.svg", "", "", "", "", "1900/1960", "s-1"))
    out["ornaments"] = ornaments
    out["treatments"], out["treatment_ornaments"] = [], []
    for n in range(64):
        t = f"t-{n:02d}"
        out["treatments"].append((t, ("alder", "birch", "cedar")[n % 3], GLAZES[draw.randrange(8)][0], str(300 + n), f"Treatment {n}", "any",
                                  "1900/1960", "", "", "s-1"))
        rows = []
        if n % 8 != 7:
            rows.append(("rim", ornaments[n * 7 % 40][0]))
        if draw.random() < 0.45:
            rows.append(("centre", f"c-{draw.randrange(12):02d}"))
        if draw.random() < 0.6:
            rows.append(("edge", f"l-{draw.choice(lines)}"))
        if draw.random() < 0.3:
            rows.append(("verge", f"l-{draw.choice(lines)}"))
        out["treatment_ornaments"] += [(t, place, o, "*", "", "s-1") for place, o in rows]
    return out, files


def main(arguments):
    folder = pathlib.Path(arguments[0])
    draw = random.Random(int(arguments[1]) if len(arguments) > 1 else 7)
    made, files = tables(draw)
    about = json.loads((ROOT / "packs/ambrel-valley/datapackage.json").read_text("utf-8"))
    about.update({"name": folder.name, "title": "A second pack, drawn by lot (invented)", "description": "Made by demo/photos/other_pack.py."})
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "datapackage.json").write_text(json.dumps(about, indent=2) + "\n", "utf-8")
    for resource in about["resources"]:
        with open(folder / resource["path"], "w", encoding="utf-8", newline="") as out:
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow([field["name"] for field in resource["schema"]["fields"]])
            writer.writerows(made[resource["name"]])
    for name, text in files.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text, "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
