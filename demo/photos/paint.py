# SPDX-License-Identifier: Apache-2.0
"""What is on the glaze: the rim as an unrolled strip (columns once round the outline, rows inwards along the profile) and
the well and the underside as squares seen from above. Each is a colour image, linear light, with a mask of where metal
lies. What is painted is also measured, so that the truth is what was painted and not what was meant."""

import math

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont
from scipy import ndimage
from scipy.spatial import cKDTree

from pack import METALS, linear_of_lab, linear_of_srgb, srgb_of_linear

FONTS = ("/usr/share/fonts/truetype/dejavu/DejaVuSerif-Bold.ttf", "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
         "/usr/share/fonts/truetype/dejavu/DejaVuSerif.ttf", "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf")
INKS = {"brown": (92, 62, 40), "green": (70, 88, 60), "black": (48, 46, 46), "blue": (52, 68, 112),
        "red": (140, 58, 48), "gold": (168, 126, 52)}


def smooth_noise(shape, sigma, rng, wrap=True):
    """Noise of unit spread that changes over `sigma` px; joins left to right."""
    step = max(1, int(sigma / 3))
    small = rng.standard_normal((max(4, shape[0] // step + 1), max(4, shape[1] // step + 1)))
    small = ndimage.gaussian_filter(small, sigma / step, mode=["reflect", "wrap" if wrap else "reflect"])
    small /= small.std() + 1e-12
    big = Image.fromarray(small.astype(np.float32)).resize((shape[1], shape[0]), Image.BICUBIC)
    return np.asarray(big)


class Surface:
    """A glazed surface being decorated: `rgb` linear, `metal` 0..1."""

    def __init__(self, height, width, base, rng, uneven, px_per_mm):
        self.px = px_per_mm
        self.rng = rng
        tone = 1 + uneven * smooth_noise((height, width), 14 * px_per_mm, rng)
        self.rgb = (base[None, None, :] * tone[:, :, None]).astype(np.float32)
        self.metal = np.zeros((height, width), np.float32)
        self.ornament = np.zeros((height, width), np.float32)  # all that was laid on, before wear
        self.left = np.zeros((height, width), np.float32)      # what wear left of it

    def lay(self, rgba, top, left, metal, keep, wrap=False):
        """Lays pixels on; `keep` (same shape as the surface) is the share that wear left."""
        h, w = rgba.shape[:2]
        rows = slice(max(0, top), min(self.rgb.shape[0], top + h))
        if rows.stop <= rows.start:
            return
        rgba = rgba[rows.start - top:rows.stop - top]
        columns = slice(left, left + w)
        alpha_all = rgba[:, :, 3].astype(np.float32) / 255
        alpha = alpha_all * keep[rows, columns]
        colour = linear_of_srgb(rgba[:, :, :3] / 255.0).astype(np.float32)
        self.rgb[rows, columns] += alpha[:, :, None] * (colour - self.rgb[rows, columns])
        m = self.metal[rows, columns]
        self.metal[rows, columns] = m + alpha * ((1.0 if metal else 0.0) - m)
        self.ornament[rows, columns] = np.maximum(self.ornament[rows, columns], alpha_all)
        self.left[rows, columns] = np.maximum(self.left[rows, columns], alpha)

    def specks(self, per_dm2, area_dm2, where):
        """Dark and brown specks; returns how many. `where` (mask) says where glaze is."""
        count = int(self.rng.poisson(per_dm2 * area_dm2))
        rows, columns = np.nonzero(where)
        if not len(rows):
            return 0
        for k in self.rng.integers(0, len(rows), count):
            radius = self.rng.uniform(0.22, 0.75) * self.px
            r = int(radius * 2 + 2)
            y, x = rows[k], columns[k]
            yy, xx = np.mgrid[max(0, y - r):min(self.rgb.shape[0], y + r + 1),
                              max(0, x - r):min(self.rgb.shape[1], x + r + 1)]
            lobes = 1 + 0.3 * np.sin(3 * np.arctan2(yy - y, xx - x) + self.rng.uniform(0, 6))
            ink = np.clip(radius * lobes - np.hypot(yy - y, xx - x) + 0.5, 0, 1) * self.rng.uniform(0.6, 0.95)
            colour = np.array([0.05, 0.035, 0.025]) * self.rng.uniform(0.6, 2.2)
            self.rgb[yy, xx] += ink[:, :, None].astype(np.float32) * (colour - self.rgb[yy, xx])
        return count

    def craze(self, strength):
        """A net of fine cracks, as brown lines between random cells."""
        h, w = self.rgb.shape[:2]
        cell = 9 * self.px
        count = max(8, int(h * w / cell ** 2))
        seeds = np.stack([self.rng.uniform(0, h, count), self.rng.uniform(0, w, count)], 1)
        step = 2
        yy, xx = np.mgrid[0:h:step, 0:w:step]
        wobble = 0.12 * cell
        points = np.stack([yy + wobble * smooth_noise(yy.shape, cell / 5, self.rng),
                           xx + wobble * smooth_noise(yy.shape, cell / 5, self.rng)], -1).reshape(-1, 2)
        near, _ = cKDTree(seeds).query(points, k=2)
        line = np.clip(1 - (near[:, 1] - near[:, 0]) / (0.22 * self.px + 0.8), 0, 1).reshape(yy.shape)
        line = np.asarray(Image.fromarray(line.astype(np.float32)).resize((w, h), Image.BILINEAR)) * strength
        self.rgb *= (1 - line[:, :, None] * np.array([0.25, 0.32, 0.42], np.float32))

    def images(self, folder, name):
        rgb = (srgb_of_linear(np.clip(self.rgb, 0, 1)) * 255 + 0.5).astype(np.uint8)
        Image.fromarray(rgb).save(folder / f"{name}.png", compress_level=1)
        Image.fromarray((np.clip(self.metal, 0, 1) * 255 + 0.5).astype(np.uint8)).save(folder / f"{name}-metal.png",
                                                                                     compress_level=1)


def wear_map(shape, share, px, rng, grain_mm=(6.0, 0.8)):
    """How much of an ornament is left, everywhere: patches whose area is about `share`, thin at their edges."""
    if share <= 0:
        return np.ones(shape, np.float32)
    field = smooth_noise(shape, grain_mm[0] * px, rng) + 0.45 * smooth_noise(shape, grain_mm[1] * px, rng)
    sample = field[::4, ::4]
    threshold = np.quantile(sample, share)
    return np.clip((field - threshold) / 0.25 + 0.5, 0, 1).astype(np.float32)


def resized(rgba, width, height):
    """RGBA resized with its colour weighted by its cover, so that bare pixels lend no colour."""
    data = rgba.astype(np.float32)
    data[:, :, :3] *= data[:, :, 3:] / 255
    planes = [np.asarray(Image.fromarray(data[:, :, k]).resize((width, height), Image.LANCZOS if width < rgba.shape[1]
                                                               else Image.BICUBIC)) for k in range(4)]
    out = np.clip(np.stack(planes, -1), 0, 255)
    alpha = np.maximum(out[:, :, 3:], 1e-3) / 255
    out[:, :, :3] = np.clip(out[:, :, :3] / alpha, 0, 255)
    return out.astype(np.uint8)


class Rim:
    """The strip from s_from (negative: round the outside of the roll) to s_to."""

    def __init__(self, pack, perimeter, s_from, s_to, px, base, rng, uneven, columns_of=1):
        self.pack, self.rng, self.px = pack, rng, px
        self.s_from, self.s_to, self.perimeter = s_from, s_to, perimeter
        tile = max(1, round(perimeter * px / columns_of))
        self.columns = tile * columns_of
        self.px_along = self.columns / perimeter
        self.rows = max(8, round((s_to - s_from) * px))
        self.surface = Surface(self.rows, self.columns, base, rng, uneven, px)

    def row(self, s):
        return round((s - self.s_from) * self.px)

    def tiles(self, ornament, s_from, s_to, repeats, phase, wear, thin=1.0):
        """A border: the drawing `repeats` times round. Returns the share lost, as measured."""
        height = max(2, self.row(s_to) - self.row(s_from))
        width = self.columns // repeats
        drawing = self.pack.drawing(ornament["drawing"], max(120, height))
        # Drawn anew at each place with whole pixels, so that tiles join without seams.
        tile = resized(drawing, width, height)
        strip = np.concatenate([tile] * repeats, 1)
        if strip.shape[1] < self.columns:
            strip = resized(strip, self.columns, height)
        strip = np.roll(strip, round(phase * self.columns), 1)
        if thin < 1:
            strip = strip.copy()
            strip[:, :, 3] = (strip[:, :, 3] * thin).astype(np.uint8)
        return self._lay(strip, s_from, ornament, wear)

    def band(self, ornament, s_from, s_to, wear):
        """A line or band that runs all the way round: its drawing squeezed between two distances."""
        height = max(1, self.row(s_to) - self.row(s_from))
        drawing = self.pack.drawing(ornament["drawing"], max(60, 2 * height))
        column = resized(drawing, 8, height)[:, 4:5]
        return self._lay(np.repeat(column, self.columns, 1), s_from, ornament, wear)

    def _lay(self, strip, s_from, ornament, wear):
        surface = self.surface
        keep = wear_map(surface.metal.shape, wear, self.px, self.rng)
        top = self.row(s_from)
        surface.lay(strip, top, 0, ornament["finish"] in METALS, keep)
        rows = slice(max(0, top), min(self.rows, top + strip.shape[0]))
        laid = strip[rows.start - top:rows.stop - top, :, 3].astype(np.float32) / 255
        total = float(laid.sum())
        return 1 - float((laid * keep[rows]).sum()) / total if total else 0.0

    def clay(self, depth_of_step, clay):
        """Bare clay along the face of a break, a little beyond it."""
        depth = np.interp(np.arange(self.columns) / self.columns * (len(depth_of_step) - 1),
                          np.arange(len(depth_of_step)), depth_of_step)
        s = self.s_from + (np.arange(self.rows) + 0.5) / self.px
        beyond = np.where(depth > 0, depth + 0.5 + 0.5 * self.rng.random(self.columns), -99)
        bare = np.clip((beyond[None, :] - s[:, None]) * self.px, 0, 1)[:, :, None]
        self.surface.rgb += (bare * (clay - self.surface.rgb)).astype(np.float32)
        self.surface.metal *= 1 - bare[:, :, 0]


class Flat:
    """The well or the underside from above: a square of 2 * half mm."""

    def __init__(self, pack, half, px, base, rng, uneven):
        self.pack, self.half, self.px, self.rng = pack, half, px, rng
        self.size = round(2 * half * px)
        self.surface = Surface(self.size, self.size, base, rng, uneven, px)

    def centre(self, ornament, across_mm, angle_deg, wear, at=(0.0, 0.0)):
        """A centre ornament turned clockwise as seen; returns the share lost."""
        size = round(across_mm * self.px)
        drawing = self.pack.drawing(ornament["drawing"], max(200, size))
        scale = size / max(drawing.shape[:2])
        tile = resized(drawing, round(drawing.shape[1] * scale), round(drawing.shape[0] * scale))
        return self.paste(tile, angle_deg, ornament["finish"] in METALS, wear, at)

    def paste(self, tile, angle_deg, metal, wear, at=(0.0, 0.0)):
        turned = np.asarray(Image.fromarray(tile, "RGBA").convert("RGBa").rotate(
            -angle_deg, Image.BICUBIC, expand=True).convert("RGBA"))
        top = round(self.size / 2 + at[1] * self.px - turned.shape[0] / 2)
        left = round(self.size / 2 + at[0] * self.px - turned.shape[1] / 2)
        crop_l, crop_r = max(0, -left), max(0, left + turned.shape[1] - self.size)
        turned = turned[:, crop_l:turned.shape[1] - crop_r]
        left = max(0, left)
        surface = self.surface
        keep = wear_map(surface.metal.shape, wear, self.px, self.rng)
        surface.lay(turned, top, left, metal, keep)
        rows = slice(max(0, top), min(self.size, top + turned.shape[0]))
        laid = turned[rows.start - top:rows.stop - top, :, 3].astype(np.float32)
        total = float(laid.sum())
        return 1 - float((laid * keep[rows, left:left + turned.shape[1]]).sum()) / total if total else 0.0

    def disc(self, radius):
        yy, xx = np.mgrid[0:self.size, 0:self.size]
        return np.hypot(xx - self.size / 2, yy - self.size / 2) < radius * self.px

    def impress(self, mask, angle_deg, at, depth=0.3):
        """Letters pressed into the clay: a shade on one side and a light on the other."""
        turned = Image.fromarray(mask).rotate(-angle_deg, Image.BICUBIC, expand=True)
        layer = Image.new("L", (self.size, self.size))
        layer.paste(turned, (round(self.size / 2 + at[0] * self.px - turned.width / 2),
                             round(self.size / 2 + at[1] * self.px - turned.height / 2)))
        relief = np.asarray(layer.filter(ImageFilter.GaussianBlur(0.16 * self.px)), np.float32) / 255
        gy, gx = np.gradient(relief)
        light = np.clip((gx * 0.6 + gy * 0.8) * self.px * 1.3, -1, 1)
        self.surface.rgb *= (1 + depth * light - 0.35 * depth * relief)[:, :, None]


def text_mask(lines, font, px_height, spacing=1.25, track=0.06):
    """Lines of wording, centred, as an 8-bit mask."""
    face = ImageFont.truetype(font, px_height)
    track = track * px_height

    def width(line):
        return sum(face.getlength(c) + track for c in line) - track

    w = int(max(width(t) for t in lines) + px_height)
    h = int(px_height * spacing * len(lines) + px_height * 0.6)
    image = Image.new("L", (w, h))
    draw = ImageDraw.Draw(image)
    for i, line in enumerate(lines):
        x = (w - width(line)) / 2
        for c in line:
            draw.text((x, i * px_height * spacing), c, 255, font=face)
            x += face.getlength(c) + track
    return np.asarray(image)


def curved_mask(text, font, px_height, radius_px, under=False, track=0.1):
    """Wording along a circle: above its middle running clockwise, or below it running the other way."""
    face = ImageFont.truetype(font, px_height)
    size = int(2 * radius_px + 4 * px_height)
    image = Image.new("L", (size, size))
    total = sum(face.getlength(c) + track * px_height for c in text)
    along = -total / 2
    for c in text:
        w = face.getlength(c)
        angle = (along + w / 2) / radius_px
        along += w + track * px_height
        cell = Image.new("L", (int(3 * px_height), int(3 * px_height)))
        ImageDraw.Draw(cell).text((1.5 * px_height - w / 2, px_height), c, 255, font=face)
        if under:
            cell = cell.rotate(math.degrees(angle), Image.BICUBIC)
            x, y = size / 2 + radius_px * math.sin(angle), size / 2 + radius_px * math.cos(angle)
        else:
            cell = cell.rotate(-math.degrees(angle), Image.BICUBIC)
            x, y = size / 2 + radius_px * math.sin(angle), size / 2 - radius_px * math.cos(angle)
        image.paste(255, (int(x - 1.5 * px_height), int(y - 1.5 * px_height)), cell)
    return np.asarray(image)


def inked(mask, colour, strength):
    rgba = np.zeros((*mask.shape, 4), np.uint8)
    rgba[:, :, :3] = colour
    rgba[:, :, 3] = (mask * strength).astype(np.uint8)
    return rgba


def glaze_base(lab):
    return linear_of_lab(lab).astype(np.float32)
