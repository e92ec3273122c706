# SPDX-License-Identifier: Apache-2.0
"""Other things on the table, as POV-Ray text, and the scale card."""

import math

import cv2
import numpy as np
from PIL import Image

from pack import cache_folder, linear_of_srgb

CARD_MM = (85.60, 53.98)
CARD_THICK = 0.3
MARKER_MM, MARGIN_MM = 12.0, 4.0
PATCHES = ((15.8, 243), (26.8, 200), (37.8, 160), (48.8, 122), (59.8, 85))


def marker_corners():
    """By id 0..3 (clockwise from the top left): corners clockwise from the marker's own top left, in mm on the card."""
    w, h = CARD_MM
    m, s = MARGIN_MM, MARKER_MM
    lefts = [(m, m), (w - m - s, m), (w - m - s, h - m - s), (m, h - m - s)]
    return [[(x, y), (x + s, y), (x + s, y + s), (x, y + s)] for x, y in lefts]


def card_picture():
    """The card's face at 40 px/mm would be large; 25 px/mm is beyond what any of these photographs sees."""
    path = cache_folder() / "card-2.png"
    if path.exists():
        return path
    px = 25
    face = np.full((round(CARD_MM[1] * px), round(CARD_MM[0] * px)), 250, np.uint8)
    words = cv2.aruco.Dictionary_get(cv2.aruco.DICT_4X4_50)
    for i, corners in enumerate(marker_corners()):
        x, y = (round(v * px) for v in corners[0])
        face[y:y + 12 * px, x:x + 12 * px] = cv2.aruco.drawMarker(words, i, 12 * px)
    top = round((CARD_MM[1] - 12) / 2 * px)
    for left, grey in PATCHES:
        x = round(left * px)
        face[top:top + 12 * px, x:x + 10 * px] = grey
    # Half a pixel of softness, as printing has.
    face = cv2.GaussianBlur(face, (0, 0), 1.0)
    scratch = path.with_suffix(f".{np.random.default_rng().integers(1 << 40)}.part")
    Image.fromarray(face).convert("RGB").save(scratch, format="PNG")
    scratch.rename(path)
    return path


def v(a):
    return "<%.4f,%.4f,%.4f>" % tuple(a)


def rgb(colour8, factor=1.0):
    return "rgb " + v(linear_of_srgb(np.array(colour8) / 255.0) * factor)


def quad(corners, texture, no_shadow=False):
    """Two triangles with a picture across them; corners in order top left, top right, bottom right, bottom left."""
    return ("mesh2 { vertex_vectors { 4, " + ",".join(v(c) for c in corners) + " } "
            "uv_vectors { 4, <0,1>,<1,1>,<1,0>,<0,0> } face_indices { 2, <0,1,2>,<0,2,3> } "
            + texture + (" no_shadow" if no_shadow else "") + " }\n")


def turned(x, y, angle, px, py):
    c, s = math.cos(angle), math.sin(angle)
    return (x + c * px - s * py, y + s * px + c * py)


def card(x, y, angle, thick=CARD_THICK):
    """Corners in the world (clockwise from the top left, as seen from above) and the POV-Ray text."""
    w, h = CARD_MM
    corners = [(*turned(x, y, angle, px - w / 2, py - h / 2), thick) for px, py in ((0, 0), (w, 0), (w, h), (0, h))]
    face = 'texture { pigment { uv_mapping image_map { png "card.png" gamma srgb interpolate 2 } } finish { Matt } } SHADE'
    text = quad(corners, face)
    for i in range(4):  # its cut edges
        a, b = corners[i], corners[(i + 1) % 4]
        text += quad([a, b, (b[0], b[1], 0), (a[0], a[1], 0)], f"texture {{ pigment {{ {rgb((240, 240, 238))} }} finish {{ Matt }} }}")
    return corners, text


def card_point(x, y, angle, px, py):
    w, h = CARD_MM
    return (*turned(x, y, angle, px - w / 2, py - h / 2), CARD_THICK)


# Each thing: (radius of the room it takes, POV-Ray text, the convex solids that shade the table, as points).

def disc(x, y, r, z):
    t = np.linspace(0, 2 * math.pi, 25)[:-1]
    return [(x + r * math.cos(a), y + r * math.sin(a), z) for a in t]


def block(x, y, turn, w, d, tall):
    return [(*turned(x, y, turn, px, py), z) for px in (-w / 2, w / 2) for py in (-d / 2, d / 2) for z in (0, tall)]


def coin(x, y, rng):
    r, tall = rng.uniform(9, 14), rng.uniform(1.5, 2.2)
    metal = [(150, 150, 152), (176, 140, 70), (150, 92, 60)][rng.integers(3)]
    f = f"texture {{ pigment {{ {rgb(metal)} }} finish {{ Steel }} normal {{ bumps 0.25 scale 1.6 }} }}"
    return r, (f"union {{ cylinder {{ <{x:.2f},{y:.2f},0>,<{x:.2f},{y:.2f},{tall - 0.25:.2f}>,{r:.2f} }} "
               f"torus {{ {r - 0.5:.2f},0.5 rotate x*90 translate <{x:.2f},{y:.2f},{tall - 0.45:.2f}> }} "
               f"cylinder {{ <{x:.2f},{y:.2f},0>,<{x:.2f},{y:.2f},{tall - 0.1:.2f}>,{r * 0.5:.2f} }} {f} }}\n"), [
                   disc(x, y, r, 0) + disc(x, y, r, tall)]


def tumbler(x, y, rng):
    r, tall = rng.uniform(28, 36), rng.uniform(60, 95)
    a = f"<{x:.2f},{y:.2f},"
    return r + 2, (f"difference {{ cone {{ {a}0.3>,{r * 0.86:.2f},{a}{tall:.1f}>,{r:.2f} }} "
                   f"cone {{ {a}6>,{r * 0.86 - 2:.2f},{a}{tall + 0.1:.1f}>,{r - 1.8:.2f} }} "
                   "texture { pigment { rgbf <0.97,0.98,0.98,0.96> } finish { diffuse 0.05 specular 0.6 roughness 0.003 "
                   "reflection { 0.02, 0.8 fresnel on } conserve_energy } } interior { ior 1.48 } no_shadow }\n"), []


def spoon(x, y, rng):
    length, turn = rng.uniform(110, 180), rng.uniform(0, 2 * math.pi)
    def at(px, py, z):
        return "<%.2f,%.2f,%.2f>" % (*turned(x, y, turn, px, py), z)
    bowl = length * 0.15
    c, s = math.cos(turn), math.sin(turn)
    f = f"texture {{ pigment {{ {rgb((172, 172, 170))} }} finish {{ Steel }} }}"
    ax, ay = turned(x, y, turn, -length / 2 + bowl, 0)
    return length / 2, (f"union {{ difference {{ sphere {{ 0,1 scale <{bowl:.2f},{bowl * 0.66:.2f},6> }} "
                        f"sphere {{ 0,1 scale <{bowl * 0.94:.2f},{bowl * 0.6:.2f},5.4> translate z*1.2 }} "
                        "box { <-99,-99,2>,<99,99,99> } "
                        f"matrix <{c:.5f},{s:.5f},0,{-s:.5f},{c:.5f},0,0,0,1,{ax:.2f},{ay:.2f},6> }} "
                        f"sphere_sweep {{ cubic_spline 6, {at(-length * .4, 0, 6)},2 {at(-length * .27, 0, 6.8)},2.2 "
                        f"{at(-length * .15, 0, 10)},2.4 {at(length * .1, 0, 8)},2.2 {at(length * .45, 0, 4)},3.4 "
                        f"{at(length * .6, 0, 4)},3.4 tolerance 0.01 }} {f} }}\n"), [
                             disc(ax, ay, bowl * 0.75, 2), block(*turned(x, y, turn, length * 0.15, 0), turn, length * 0.6, 5, 9)]


def pencil(x, y, rng):
    length, turn = rng.uniform(100, 175), rng.uniform(0, 2 * math.pi)
    colour = [(196, 52, 40), (40, 78, 140), (224, 178, 50), (44, 100, 66), (40, 40, 42)][rng.integers(5)]
    def at(px):
        return "<%.2f,%.2f,3.6>" % turned(x, y, turn, px, 0)
    h = length / 2
    return h, (f"union {{ cylinder {{ {at(-h)},{at(h - 20)},3.6 texture {{ pigment {{ {rgb(colour)} }} finish {{ Paint }} }} }} "
               f"cone {{ {at(h - 20)},3.6,{at(h - 4)},0.9 texture {{ pigment {{ {rgb((214, 176, 128))} }} finish {{ Matt }} }} }} "
               f"cone {{ {at(h - 4)},0.9,{at(h)},0.2 texture {{ pigment {{ {rgb((40, 40, 42))} }} finish {{ Matt }} }} }} }}\n"), [
                   block(x, y, turn, length - 12, 7, 7)]


def box(x, y, rng):
    w, d, tall, turn = rng.uniform(50, 130), rng.uniform(40, 90), rng.uniform(6, 40), rng.uniform(0, math.pi)
    colour = [(120, 46, 40), (54, 74, 92), (90, 96, 66), (196, 184, 160), (60, 54, 50), (160, 130, 90)][rng.integers(6)]
    c, s = math.cos(turn), math.sin(turn)
    return math.hypot(w, d) / 2, (f"box {{ <{-w / 2:.1f},{-d / 2:.1f},0>,<{w / 2:.1f},{d / 2:.1f},{tall:.1f}> "
                                  f"texture {{ pigment {{ {rgb(colour)} }} finish {{ Matt }} }} "
                                  f"matrix <{c:.5f},{s:.5f},0,{-s:.5f},{c:.5f},0,0,0,1,{x:.2f},{y:.2f},0> }}\n"), [
                                      block(x, y, turn, w, d, tall)]


def napkin(x, y, rng):
    w, d, turn = rng.uniform(90, 160), rng.uniform(90, 160), rng.uniform(0, math.pi)
    colour = [(226, 220, 206), (176, 60, 52), (70, 96, 130), (200, 190, 120)][rng.integers(4)]
    c, s = math.cos(turn), math.sin(turn)
    text = "union { "
    for k in range(3):
        q = 1 - 0.03 * k
        text += f"box {{ <{-w * q / 2:.1f},{-d * q / 2:.1f},{k * 1.2:.1f}>,<{w * q / 2:.1f},{d * q / 2:.1f},{k * 1.2 + 1.1:.1f}> }} "
    return math.hypot(w, d) / 2, (text + f"texture {{ pigment {{ {rgb(colour)} }} finish {{ Matt }} normal {{ bumps 0.35 scale 9 }} }} "
                                  f"matrix <{c:.5f},{s:.5f},0,{-s:.5f},{c:.5f},0,0,0,1,{x:.2f},{y:.2f},0> }}\n"), [
                                      block(x, y, turn, w, d, 3.5)]


THINGS = {"coin": coin, "glass": tumbler, "spoon": spoon, "pencil": pencil, "box": box, "napkin": napkin}


def sticker(centre, normal, radius, colour):
    """A round price label on the glaze."""
    n = np.asarray(normal, float) / np.linalg.norm(normal)
    a = np.asarray(centre) + 0.05 * n
    b = a + 0.12 * n
    return (f"cylinder {{ {v(a)},{v(b)},{radius:.2f} texture {{ pigment {{ {rgb(colour)} }} finish {{ Matt }} }} }}\n")
