# SPDX-License-Identifier: Apache-2.0
"""From light to a file: what lens, sensor and camera software do to a picture, then JPEG with EXIF.

The order is that of a real camera: focus, lens shading, exposure and white balance, noise in linear light, tone, sharpening,
JPEG. What was done is returned for the truth."""

import io
import math

import cv2
import numpy as np
from PIL import Image

from light import LEVEL
from pack import srgb_of_linear

EXIF_IFD, ORIENTATION, FOCAL_35, FOCAL, MODEL, SOFTWARE = 0x8769, 0x0112, 0xA405, 0x920A, 0x0110, 0x0131
TURNS = {1: 0, 6: 1, 3: 2, 8: 3}  # quarter turns anticlockwise that storing undoes


def develop(linear, scene, size):
    """RGB linear float (LEVEL is a white sheet) -> (8-bit RGB upright, what was done)."""
    draw, rng = scene.draw, scene.rng
    height, width = linear.shape[:2]
    unit = max(width, height) / 1600
    image = linear.astype(np.float32)
    # Focus: sharp at a distance near that of the middle, softer away from it.
    focus = draw.uniform(0.35, 0.7)
    depth = draw.choices([0, draw.uniform(0.5, 1.6)], (45, 55))[0]
    soft = cv2.GaussianBlur(image, (0, 0), focus * unit)
    if depth > 0:
        softer = cv2.GaussianBlur(image, (0, 0), (focus + depth) * unit)
        rows = np.abs(np.linspace(-1, 1, height) - draw.uniform(-0.2, 0.3)).astype(np.float32)
        mix = np.clip((rows - 0.35) / 0.9, 0, 1)[:, None, None] * math.sin(math.radians(scene.view[1] + 6))
        soft = soft * (1 - mix) + softer * mix
    shake = draw.choices([0, draw.uniform(0.8, 2.2)], (85, 15))[0]
    if shake:
        a, n = draw.uniform(0, math.pi), max(3, int(round(shake * unit * 2)) | 1)
        kernel = np.zeros((n, n), np.float32)
        cv2.line(kernel, *(tuple(int(round(n / 2 - 0.5 + s * n / 2 * f)) for f in (math.cos(a), math.sin(a))) for s in (-1, 1)), 1.0)
        soft = cv2.filter2D(soft, -1, kernel / max(kernel.sum(), 1e-6), borderType=cv2.BORDER_REFLECT)
    image = soft
    yy, xx = np.mgrid[0:height, 0:width].astype(np.float32)
    away = ((xx - width / 2) ** 2 + (yy - height / 2) ** 2) / ((width / 2) ** 2 + (height / 2) ** 2)
    shading = draw.uniform(0.02, 0.22)
    image = image * (1 - shading * away)[:, :, None]
    stops = min(0.3, draw.gauss(-0.08, 0.2))
    stops = scene.wishes.get("stops", stops)
    warm, green = draw.gauss(0.01, 0.05), draw.gauss(0, 0.018)
    if draw.random() < 0.12:
        warm += draw.choice([-0.1, 0.14, 0.2])
    warm = scene.wishes.get("warm", warm)
    gain = np.array([1 + warm, 1 + green, 1 - warm], np.float32)
    image = image * (0.84 / LEVEL * 2 ** stops / gain.mean()) * gain
    noise = draw.choice([0.002, 0.004, 0.007, 0.012])
    grain = rng.standard_normal(image.shape, dtype=np.float32)
    image = image + grain * noise * np.sqrt(np.clip(image, 0, 1) + 0.03)
    tone = draw.choices([0, draw.uniform(0.15, 0.4)], (70, 30))[0]
    encoded = srgb_of_linear(np.clip(image, 0, 1)).astype(np.float32)
    if tone:  # a gentle S-curve, as camera software applies
        encoded = encoded * (1 - tone) + tone * (encoded * encoded * (3 - 2 * encoded))
    crisp = draw.choices([0, draw.uniform(0.2, 0.7)], (50, 50))[0]
    if crisp:
        encoded = encoded + crisp * (encoded - cv2.GaussianBlur(encoded, (0, 0), 1.2 * unit))
    done = {"focus_px": round(focus, 2), "depth_px": round(depth, 2), "shake_px": round(shake, 2), "shading": round(shading, 3),
            "stops": round(stops, 3), "gain": [round(float(g), 4) for g in gain], "noise": noise, "tone": round(tone, 3),
            "sharpened": round(crisp, 2)}
    return (np.clip(encoded, 0, 1) * 255 + 0.5).astype(np.uint8), done


def jpeg(pixels, scene, quality=None):
    """Bytes of a JPEG; turned when the EXIF orientation says so."""
    draw = scene.draw
    quality = quality or draw.choice([80, 85, 88, 92, 95])
    with_exif = scene.wishes.get("exif", draw.random() < 0.85)
    orientation = scene.orientation if with_exif else 1
    stored = Image.fromarray(np.ascontiguousarray(np.rot90(pixels, TURNS[orientation])))
    exif = Image.Exif()
    if with_exif:
        exif[ORIENTATION] = orientation
        exif[MODEL] = "rendered, no camera"
        exif[SOFTWARE] = "demo/photos"
        # (what get_ifd() gives is not written by the Pillow of Debian 12)
        exif[EXIF_IFD] = {FOCAL_35: round(scene.view[4]), FOCAL: round(scene.view[4] / 6.0, 2)}
    out = io.BytesIO()
    stored.save(out, "JPEG", quality=quality, subsampling=draw.choice([0, 2]), optimize=True, exif=exif)
    return out.getvalue(), {"quality": quality, "exif": with_exif, "orientation": orientation}
