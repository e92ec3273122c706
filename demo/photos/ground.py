# SPDX-License-Identifier: Apache-2.0
"""What pieces lie on: wood, cloth, paper, stone, as pictures that join at their edges. Each is made once and kept. The table
is flat, so that its part of a photograph is a picture seen in perspective, which needs no ray tracing."""

import cv2
import numpy as np
from PIL import Image, ImageDraw, ImageFilter
from scipy import ndimage

from pack import cache_folder, linear_of_srgb

# name -> (maker, millimetres that the picture covers, roughness of the cloth's folds)
KINDS = {
    "oak": ("wood", 900, 0), "walnut": ("wood", 900, 0), "pine": ("wood", 900, 0), "grey wood": ("wood", 900, 0),
    "linen": ("cloth", 220, 1), "blue cloth": ("cloth", 220, 1), "red cloth": ("cloth", 220, 1),
    "green cloth": ("cloth", 220, 1), "pale cloth": ("cloth", 220, 1), "check cloth": ("check", 240, 1),
    "stripe cloth": ("stripe", 240, 1), "flower cloth": ("flowers", 240, 1),
    "grey paper": ("paper", 500, 0), "black paper": ("paper", 500, 0), "white paper": ("paper", 500, 0),
    "stone": ("stone", 600, 0), "print": ("print", 300, 0)}
WOODS = {"oak": ((112, 74, 42), (186, 140, 92)), "walnut": ((52, 32, 22), (112, 74, 50)),
         "pine": ((176, 128, 76), (222, 184, 134)), "grey wood": ((104, 96, 88), (164, 156, 146))}
CLOTHS = {"linen": (188, 172, 146), "blue cloth": (58, 80, 118), "red cloth": (136, 44, 42), "green cloth": (74, 96, 74),
          "pale cloth": (232, 228, 218), "check cloth": (226, 222, 212), "stripe cloth": (214, 204, 184),
          "flower cloth": (220, 210, 190)}
PAPERS = {"grey paper": (150, 150, 148), "black paper": (44, 44, 46), "white paper": (236, 235, 231)}


def noise(shape, sigma, rng):
    n = ndimage.gaussian_filter(rng.standard_normal(shape), sigma, mode="wrap")
    return n / (n.std() + 1e-12)


def wood(name, rng, size=1800):
    dark, light = (np.array(c, float) for c in WOODS[name])
    planks = 7
    height = size // planks
    rows = []
    for _ in range(planks):
        warp = noise((height, size), (18, 160), rng) * 16
        y = np.arange(height)[:, None] + warp + rng.uniform(0, 999)
        rings = 0.5 + 0.5 * np.sin(2 * np.pi * y / rng.uniform(26, 60) + noise((height, size), (8, 90), rng))
        grain = noise((height, size), (0.8, 26), rng)
        pores = np.clip(noise((height, size), (0.7, 9), rng) - 1.3, 0, 1)
        tone = 0.42 + 0.24 * (rings - 0.5) + 0.13 * grain - 0.35 * pores + rng.uniform(-0.13, 0.13)
        tone[:2] -= 0.5
        tone[2:5] -= 0.12
        rows.append(tone)
    tone = np.concatenate(rows)[:, :, None]
    return np.clip(dark + (light - dark) * np.clip(tone, -0.2, 1.2), 0, 255)


def weave(size, threads, rng):
    """Plain weave, 0 (gap) .. 1 (top of a thread), with threads of uneven thickness."""
    at = np.arange(size) / size * threads
    k = np.floor(at).astype(int)
    across = np.abs(np.sin(np.pi * at)) ** 0.6
    warp = across[None, :] * (0.8 + 0.2 * rng.random(threads))[k][None, :]
    weft = across[:, None] * (0.8 + 0.2 * rng.random(threads))[k][:, None]
    over = ((k[None, :] + k[:, None]) % 2).astype(float)
    slubs = noise((size, size), (0.6, 14), rng) * 0.05 + noise((size, size), (14, 0.6), rng) * 0.05
    return np.clip(0.25 + 0.75 * (over * warp + (1 - over) * weft) + slubs, 0, 1)


def cloth(name, rng, size=1320):
    tone = weave(size, 330, rng)
    return np.array(CLOTHS[name], float) * (0.62 + 0.42 * tone)[:, :, None]


def check(name, rng, size=1320):
    out = cloth(name, rng, size)
    stripe = (np.arange(size) // (size // 12)) % 2
    ink = np.array((62, 84, 128) if rng.random() < 0.5 else (150, 52, 50)) / 235
    cover = 0.5 * (stripe[:, None] + stripe[None, :])[:, :, None]
    return out * (1 - cover + cover * ink)


def stripe(name, rng, size=1320):
    out = cloth(name, rng, size)
    at = np.arange(size) % (size // 4)
    line = ((at < 60) | ((at > 90) & (at < 110)) | ((at > 130) & (at < 150)))[None, :, None]
    return out * np.where(line, np.array((92, 104, 128)) / 235, 1.0)


def flowers(name, rng, size=1320):
    out = Image.new("RGB", (size, size), (255, 255, 255))
    draw = ImageDraw.Draw(out)
    for _ in range(46):
        x, y, r, turn = rng.uniform(0, size), rng.uniform(0, size), rng.uniform(26, 62), rng.uniform(0, 6)
        colour = [(150, 70, 84), (92, 108, 156), (176, 140, 70)][rng.integers(3)]
        for dx in (-size, 0, size):
            for dy in (-size, 0, size):
                for k in range(6):
                    px, py = x + dx + r * 0.6 * np.cos(turn + k * 1.047), y + dy + r * 0.6 * np.sin(turn + k * 1.047)
                    draw.ellipse([px - r * 0.42, py - r * 0.42, px + r * 0.42, py + r * 0.42], fill=colour)
                draw.ellipse([x + dx - r * .25, y + dy - r * .25, x + dx + r * .25, y + dy + r * .25], fill=(214, 190, 90))
                draw.line([x + dx, y + dy, x + dx + 2.2 * r * np.cos(turn), y + dy + 2.2 * r * np.sin(turn)],
                          fill=(96, 116, 84), width=7)
    print_ = np.asarray(out.filter(ImageFilter.GaussianBlur(1.5)), float) / 255
    return cloth(name, rng, size) * (0.15 + 0.85 * print_)


def paper(name, rng, size=1000):
    fibre = 0.012 * noise((size, size), 1.2, rng) + 0.012 * noise((size, size), 60, rng)
    return np.array(PAPERS[name], float) * (1 + fibre)[:, :, None]


def stone(name, rng, size=1200):
    field = noise((size, size), 90, rng) + 0.5 * noise((size, size), 26, rng) + 0.25 * noise((size, size), 6, rng)
    vein = np.exp(-np.abs(noise((size, size), 70, rng) + 0.3 * noise((size, size), 14, rng)) * 16)
    tone = 0.75 + 0.05 * field - 0.28 * vein + 0.012 * noise((size, size), 0.8, rng)
    return np.array((214, 210, 204), float) * tone[:, :, None]


def print_sheet(name, rng, size=1500):
    """A printed sheet: lines of dark marks in columns, which mean nothing."""
    out = Image.new("L", (size, size), 226)
    draw = ImageDraw.Draw(out)
    for column in range(3):
        x0 = 30 + column * 490
        for y in range(30, size - 20, 20):
            x = x0
            while x < x0 + 430 and rng.random() > 0.02:
                w = rng.uniform(12, 60)
                draw.rectangle([x, y, min(x + w, x0 + 440), y + 9], fill=int(rng.uniform(70, 120)))
                x += w + 10
    grey = np.asarray(out.filter(ImageFilter.GaussianBlur(1.2)), float)[:, :, None]
    return grey * np.array((1.0, 0.985, 0.94))


MAKERS = {"wood": wood, "cloth": cloth, "check": check, "stripe": stripe, "flowers": flowers, "paper": paper,
          "stone": stone, "print": print_sheet}


def picture(name):
    """(path, mm covered, folds)"""
    maker, covers, folds = KINDS[name]
    path = cache_folder() / f"ground-3-{name.replace(' ', '-')}.png"
    if not path.exists():
        rng = np.random.default_rng(sum(map(ord, name)))
        pixels = np.clip(MAKERS[maker](name, rng), 0, 255).astype(np.uint8)
        scratch = path.with_suffix(f".{np.random.default_rng().integers(1 << 40)}.part")
        Image.fromarray(pixels).save(scratch, format="PNG", compress_level=1)
        scratch.rename(path)
    return path, covers, folds


def seen(name, camera, room, dark, turn, shift, rng):
    """The table as the camera sees it, linear RGB; `dark` is the shade over +-520 mm (light.ground_shade); the picture is
    turned and shifted by so much."""
    path, covers, folds = picture(name)
    tile = linear_of_srgb(np.asarray(Image.open(path)) / 255.0).astype(np.float32)
    wanted = covers * camera.focal / camera.distance * 1.15  # px across that the photograph can show
    if wanted < tile.shape[1]:
        tile = cv2.resize(tile, None, fx=wanted / tile.shape[1], fy=wanted / tile.shape[1], interpolation=cv2.INTER_AREA)
    world = np.linalg.inv(camera.matrix()[:, [0, 1, 3]])  # from px
    xx, yy = np.meshgrid(np.arange(camera.width) + 0.5, np.arange(camera.height) + 0.5)
    h = world @ np.stack([xx.ravel(), yy.ravel(), np.ones(xx.size)])
    x, y = (h[:2] / h[2]).reshape(2, *xx.shape)
    c, s = np.cos(turn), np.sin(turn)
    u, v = ((c * x + s * y + shift[0]) / covers % 1), ((-s * x + c * y + shift[1]) / covers % 1)
    table = cv2.remap(tile, (u * tile.shape[1] - 0.5).astype(np.float32), (v * tile.shape[0] - 0.5).astype(np.float32),
                      cv2.INTER_LINEAR, borderMode=cv2.BORDER_WRAP)
    step = 16
    light = room.on_table(np.stack([x[::step, ::step].ravel(), y[::step, ::step].ravel()], 1))
    light = light.reshape(*x[::step, ::step].shape, 3)
    if folds:
        light *= 1 + 0.05 * ndimage.gaussian_filter(rng.standard_normal(light.shape[:2]), 5)[:, :, None] * 5
    light = cv2.resize(light.astype(np.float32), (camera.width, camera.height), interpolation=cv2.INTER_CUBIC)
    shade = cv2.remap(dark, ((x + 520) * dark.shape[1] / 1040 - 0.5).astype(np.float32),
                      ((y + 520) * dark.shape[0] / 1040 - 0.5).astype(np.float32), cv2.INTER_LINEAR)
    return table * light * (1 - shade)[:, :, None]
