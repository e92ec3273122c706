# SPDX-License-Identifier: Apache-2.0
"""A reference pack as the photographs need it: tables by id, what a treatment bears on a form, drawings as pixels."""

import csv
import hashlib
import pathlib
import subprocess
import tempfile

import numpy as np
from PIL import Image

METALS = ("gold", "platinum", "silver")


def cache_folder():
    folder = pathlib.Path(tempfile.gettempdir()) / "footring-photos-cache"
    folder.mkdir(exist_ok=True)
    return folder


class Pack:
    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.ornaments = self._by_id("ornaments")
        self.forms = self._by_id("forms")
        self.glazes = self._by_id("glazes")
        self.shapes = self._by_id("shapes")
        self.treatments = self._by_id("treatments")
        self.marks = self._by_id("marks")
        self.sizes = [r for r in self._rows("shape_forms") if r["length_mm"]]
        self.decorated = {}
        for row in self._rows("treatment_ornaments"):
            self.decorated.setdefault(row["treatment"], []).append(row)

    def _rows(self, name):
        with open(self.folder / f"{name}.csv", encoding="utf-8", newline="") as lines:
            return list(csv.DictReader(lines))

    def _by_id(self, name):
        return {row["id"]: row for row in self._rows(name)}

    def bears(self, treatment, form, chance):
        """place -> ornament ids that one piece bears; the most specific row wins; `chance(q)` is true with that
        chance and decides about shares."""
        ware, found = self.forms[form]["ware"], {}
        rank = {"*": 0, ware: 1, form: 2}
        places = {}
        for row in self.decorated.get(treatment, []):
            if row["on"] in rank:
                places.setdefault(row["place"], []).append((rank[row["on"]], row["ornament"], float(row["share"] or 1)))
        for place, rows in places.items():
            best = max(r[0] for r in rows)
            kept = [o for r, o, share in rows if r == best and share > 0 and chance(share)]
            if kept:
                found[place] = kept
        return found

    def glaze_lab(self, glaze):
        row = self.glazes[glaze]
        return [float(row["lab_l"]), float(row["lab_a"]), float(row["lab_b"])]

    def drawing(self, name, height):
        """RGBA pixels of a drawing, `height` px high; transparent where it is bare."""
        path = self.folder / name
        data = path.read_bytes()
        if path.suffix.lower() != ".svg":
            tile = Image.open(path).convert("RGBA")
            width = max(1, round(tile.width * height / tile.height))
            return np.asarray(tile.resize((width, height), Image.LANCZOS))
        cached = cache_folder() / f"{hashlib.sha256(data).hexdigest()[:24]}-{height}.png"
        if not cached.exists():
            made = subprocess.run(["rsvg-convert", "-h", str(height), str(path)], check=True, capture_output=True)
            scratch = cached.with_suffix(f".{np.random.default_rng().integers(1 << 40)}.part")
            scratch.write_bytes(made.stdout)
            scratch.rename(cached)
        return np.asarray(Image.open(cached).convert("RGBA"))


def srgb_of_linear(value):
    value = np.clip(value, 0, None)
    return np.where(value <= 0.0031308, 12.92 * value, 1.055 * np.power(value, 1 / 2.4) - 0.055)


def linear_of_srgb(value):
    value = np.asarray(value, dtype=np.float64)
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


# CIE L*a*b* (D50) to linear sRGB; the matrix is the Bradford-adapted one, common practice.
WHITE_D50 = np.array([0.96422, 1.0, 0.82521])
RGB_OF_XYZ_D50 = np.array([[3.1338561, -1.6168667, -0.4906146],
                           [-0.9787684, 1.9161415, 0.0334540],
                           [0.0719453, -0.2289914, 1.4052427]])


def linear_of_lab(lab):
    fy = (lab[0] + 16) / 116
    f = np.array([fy + lab[1] / 500, fy, fy - lab[2] / 200])
    xyz = np.where(f > 6 / 29, f ** 3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * WHITE_D50
    return np.clip(RGB_OF_XYZ_D50 @ xyz, 0, 1)


def lab_of_linear(rgb):
    xyz = np.linalg.inv(RGB_OF_XYZ_D50) @ np.asarray(rgb, dtype=np.float64) / WHITE_D50
    f = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    return [float(116 * f[1] - 16), float(500 * (f[0] - f[1])), float(200 * (f[1] - f[2]))]
