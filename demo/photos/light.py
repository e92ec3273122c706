# SPDX-License-Identifier: Apache-2.0
"""A room with one window, a dim ceiling and a little light from elsewhere; the finishes of things in it."""

import math

import cv2
import numpy as np

from things import v

DIFFUSE = 0.9
LEVEL = 0.42      # what a white sheet on the table comes to, so that highlights have room above
AMBIENT = 0.07

HEAD = f"""#version 3.7;
global_settings {{ assumed_gamma 1.0 max_trace_level 5 }}
#declare Matt = finish {{ diffuse {DIFFUSE} ambient {AMBIENT * LEVEL:.4f} }}
#declare Paint = finish {{ diffuse {DIFFUSE} ambient {AMBIENT * LEVEL:.4f} specular 0.35 roughness 0.02 }}
#declare Polish = finish {{ diffuse {DIFFUSE} ambient {AMBIENT * LEVEL:.4f} specular 0.10 roughness 0.06 }}
#declare Glaze = finish {{ diffuse {DIFFUSE} ambient {AMBIENT * LEVEL:.4f} reflection {{ 0.0, 0.9 fresnel on }} conserve_energy }}
#declare Metal = finish {{ diffuse 0.58 ambient {AMBIENT * LEVEL:.4f} specular 0.45 roughness 0.02 metallic
  reflection {{ 0.45 metallic }} }}
#declare Steel = finish {{ diffuse 0.3 ambient 0.02 specular 0.7 roughness 0.01 metallic reflection {{ 0.5 metallic }} }}
"""


def ground_shade(footprints, solids, room, folder):
    """Shade painted on the table, shade.png; returns it (darkness over +-520 mm) and its texture layer.
    footprints  (points, height) of pieces whose rim stands that high: the dim ceiling's shade is a blurred footprint, for a
                broad light of its own would cost more than the rest of the picture
    solids      convex bodies that stand in the window's light, each as points; traced from 144 points of the window"""
    half, size = 520, 1040
    px = size / (2 * half)

    def fill(mask, points):
        at = np.round((np.asarray(points)[:, :2] + half) * px * 16).astype(np.int32)
        cv2.fillConvexPoly(mask, cv2.convexHull(at), 255, cv2.LINE_AA, 4)

    dark = np.zeros((size, size), np.float32)
    for points, height in footprints:
        mask = np.zeros((size, size), np.uint8)
        fill(mask, points)
        near = cv2.GaussianBlur(mask, (0, 0), max(0.8, 0.45 * height * px)).astype(np.float32)
        wide = cv2.GaussianBlur(cv2.resize(mask, (260, 260), interpolation=cv2.INTER_AREA), (0, 0),
                                max(1.0, 0.4 * height * px)).astype(np.float32)
        soft = 0.55 * near + 0.45 * cv2.resize(wide, (size, size))
        dark = np.maximum(dark, 0.34 * np.clip(soft / 255 * 1.25, 0, 1))
    hidden = np.zeros((size, size), np.float32)
    for i in range(12):
        for j in range(12):
            lamp = room.middle + room.across * room.w * ((i + 0.5) / 12 - 0.5) + room.up * room.h * ((j + 0.5) / 12 - 0.5)
            mask = np.zeros((size, size), np.uint8)
            for solid in solids:
                body = np.asarray(solid)
                reach = (body[:, 2] / (lamp[2] - body[:, 2]))[:, None]
                fill(mask, body[:, :2] + (body[:, :2] - lamp[:2]) * reach)
            hidden += mask
    dark = np.clip(room.share["window"] * hidden / (144 * 255) + dark, 0, 0.95)
    rgba = np.zeros((size, size, 4), np.uint8)
    rgba[:, :, 3] = (255 * dark).astype(np.uint8)
    cv2.imwrite(str(folder / "shade.png"), rgba, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    # An image of POV-Ray has its first row at the top, where y is greatest; here y runs down.
    return dark, (f'texture {{ pigment {{ image_map {{ png "shade.png" once interpolate 2 }} translate <-0.5,-0.5,0> '
                  f"scale <{2 * half},{-2 * half},1> }} finish {{ Matt }} }}")


class Room:
    """Lights and surroundings, drawn by lot."""

    def __init__(self, rng):
        azimuth = rng.uniform(-0.25, 1.25) * math.pi  # mostly from the far side: -y is away from the viewer
        height = math.radians(rng.uniform(32, 62))
        self.far = rng.uniform(1700, 2600)
        self.w, self.h = rng.uniform(700, 1300), rng.uniform(900, 1500)
        self.toward = np.array([math.cos(azimuth) * math.cos(height), -math.sin(azimuth) * math.cos(height), math.sin(height)])
        self.middle = self.far * self.toward
        self.across = np.array([-self.toward[1], self.toward[0], 0]) / math.hypot(self.toward[0], self.toward[1])
        up = np.cross(self.across, self.toward)
        self.up = up * (np.sign(up[2]) if up[2] else 1)
        self.share = {"window": rng.uniform(0.5, 0.68), "ceiling": rng.uniform(0.2, 0.3)}
        self.warmth = rng.uniform(-0.06, 0.1)
        self.dim, self.drift = LEVEL * rng.uniform(0.5, 0.9), rng.uniform(0, 50)
        self.truth = {"window_azimuth_deg": round(math.degrees(azimuth), 1),
                      "window_height_deg": round(math.degrees(height), 1)}

    def glares(self, tilt_deg):
        """Whether a flat piece mirrors the window into a camera that looks down so steeply."""
        t = math.radians(tilt_deg)
        mirrored = np.array([0, -math.sin(t), math.cos(t)])
        return math.degrees(math.acos(float(np.clip(mirrored @ self.toward, -1, 1)))) < 19

    def lamps(self):
        """(place, colour) of the window, the ceiling and what other walls give back."""
        tint = np.array([1 + self.warmth, 1.0, 1 - self.warmth])
        key = LEVEL * self.share["window"] / DIFFUSE / self.toward[2] * np.array([1 - 0.03, 1.0, 1 + 0.03])
        top = LEVEL * self.share["ceiling"] / DIFFUSE * tint
        rest = LEVEL * (1 - self.share["window"] - self.share["ceiling"] - AMBIENT) / DIFFUSE * tint
        return ((self.middle, key), (np.array([150, 120, 2500.0]), top),
                (np.array([-self.toward[0], -self.toward[1], 1.6]) * 1500, rest))

    def on_table(self, points):
        """Light that a white table at these points (n x 2) sends back, RGB."""
        out = np.full((len(points), 3), AMBIENT * LEVEL, np.float64)
        flat = np.concatenate([points, np.zeros((len(points), 1))], 1)
        for place, colour in self.lamps():
            way = place - flat
            out += DIFFUSE * (way[:, 2] / np.linalg.norm(way, axis=1))[:, None] * colour
        return out

    def pov(self, baked, fine=True):
        """`baked`: shade is painted on the table, and the window's light casts none of its own; else `fine` says whether
        its shadows are soft, which takes three times as long."""
        (middle, key), (above, top), (beyond, rest) = self.lamps()
        shadows = "shadowless" if baked else f"area_light {v(self.across * self.w)},{v(self.up * self.h)},9,9 adaptive 0"
        shadows = "" if not baked and not fine else shadows
        text = (f"light_source {{ {v(middle)} rgb {v(key)} {shadows} }}\n"
                f"light_source {{ {v(above)} rgb {v(top)} shadowless }}\n"
                f"light_source {{ {v(beyond)} rgb {v(rest)} shadowless }}\n")
        # The window itself, in panes, where glossy things mirror it.
        glow = key * math.pi / (self.w * self.h / self.far ** 2) * 0.9
        back = self.middle + 30 * self.toward
        for i in range(2):
            for j in range(3):
                x0, x1 = (i - 1) * self.w / 2 + 18, i * self.w / 2 - 18
                y0, y1 = (j / 3 - 0.5) * self.h + 18, ((j + 1) / 3 - 0.5) * self.h - 18
                p = [back + self.across * x + self.up * y for x, y in ((x0, y1), (x1, y1), (x1, y0), (x0, y0))]
                text += ("mesh2 { vertex_vectors { 4, " + ",".join(v(c) for c in p)
                         + " } face_indices { 2, <0,1,2>,<0,2,3> } texture { pigment { rgb 1 } "
                         + f"finish {{ diffuse 0 ambient 0 emission rgb {v(glow)} }} }} no_shadow }}\n")
        tones = [v(np.array(c) * self.dim) for c in ([0.16, 0.15, 0.14], [0.5, 0.49, 0.46], [0.95, 0.94, 0.9])]
        return text + (f"sphere {{ 0, 1 hollow texture {{ pigment {{ bozo scale <0.6,0.6,0.35> translate {self.drift:.2f} color_map {{ "
                       f"[0.2 rgb {tones[0]}] [0.55 rgb {tones[1]}] [0.9 rgb {tones[2]}] }} }} finish {{ diffuse 0 ambient 0 "
                       "emission 1 } } scale 90000 no_image no_shadow }\n")
