#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
# Writes ellipse_fits.csv: points near ellipses and what scikit-image's EllipseModel (direct least squares, Halir and
# Flusser 1998) makes of them. Run with Debian's python3-skimage; the same numbers each time.
import csv
import math
import os
import numpy as np
from skimage.measure import EllipseModel

random = np.random.default_rng(1998)
cases = [  # centre, semi-axes, turn, first angle, last angle, noise, points
    (500, 400, 300, 220, 0.3, 0.0, 2 * math.pi, 0.0, 12),
    (500, 400, 300, 220, 0.3, 0.0, 2 * math.pi, 0.5, 24),
    (120.5, 80.25, 60, 58, -0.7, 0.0, 2 * math.pi, 0.3, 16),
    (1000, 700, 600, 350, 1.2, 0.2, 3.6, 0.4, 30),
    (-50, 300, 420, 250, -1.4, -1.2, 1.2, 0.2, 30),
]
with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "ellipse_fits.csv"), "w", newline="") as file:
    out = csv.writer(file, lineterminator="\n")
    out.writerow(["case", "x", "y", "centre_x", "centre_y", "long", "short"])
    for number, (cx, cy, a, b, turn, first, last, noise, count) in enumerate(cases):
        t = np.linspace(first, last, count, endpoint=last - first < 6)
        points = np.stack([cx + a * np.cos(t) * math.cos(turn) - b * np.sin(t) * math.sin(turn),
                           cy + a * np.cos(t) * math.sin(turn) + b * np.sin(t) * math.cos(turn)], 1)
        points = np.round(points + random.normal(0, noise, points.shape), 4)
        model = EllipseModel()
        assert model.estimate(points)
        x, y, p, q, _ = model.params
        for px, py in points:
            out.writerow([number, f"{px:.4f}", f"{py:.4f}", f"{x:.6f}", f"{y:.6f}", f"{max(p, q):.6f}", f"{min(p, q):.6f}"])
