# SPDX-License-Identifier: Apache-2.0
"""Bodies of plates, platters, bowls and cups: an outline and a profile make a closed grid of points.

Plate frame of these scripts: mm; x to the right, y towards the viewer (down in a photograph from above), z up. Seen from
above, the outline runs from +x towards +y, so that at the far side of the plate it runs to the right.
An outline is a closed curve in equal steps of its length; a profile says how high the top and the under side lie at a
distance d inwards from the outermost edge, which is the equator of the rolled rim.
"""

import math

import numpy as np

STEPS = 288  # round the outline; the sagitta of one step of a dinner plate is 8 micrometres


def _polygon_rounded(corners, radius):
    """Dense points along a convex polygon with rounded corners, from the middle of its first side."""
    points, n = [], len(corners)
    for i in range(n):
        a, b, c = corners[i], corners[(i + 1) % n], corners[(i + 2) % n]
        u, v = (b - a) / np.linalg.norm(b - a), (c - b) / np.linalg.norm(c - b)
        turn = math.acos(float(np.clip(u @ v, -1, 1)))
        cut = radius * math.tan(turn / 2)
        start = (a + b) / 2
        points.append(start + np.outer(np.linspace(0, 1, 200), b - u * cut - start))
        middle = b - u * cut + radius * np.array([-u[1], u[0]])
        first = math.atan2(*(b - u * cut - middle)[::-1])
        angles = first + np.linspace(0, turn, 60)[1:]
        points.append(middle + radius * np.stack([np.cos(angles), np.sin(angles)], 1))
        end = (b + c) / 2
        points.append(b + v * cut + np.outer(np.linspace(0, 1, 200)[1:-1], end - b - v * cut))
    return np.concatenate(points)


class Outline:
    """kind: round, oval, square or octagonal; length and width are what a rule across it reads."""

    def __init__(self, kind, length, width, corner=0.15, chamfer=0.0):
        self.kind, self.a, self.b = kind, length / 2, width / 2
        if kind in ("round", "oval"):
            t = np.linspace(0, 2 * math.pi, 24001)[:-1]
            dense = np.stack([self.a * np.cos(t), self.b * np.sin(t)], 1)
        elif kind == "square":
            a, b, c = self.a, self.b, chamfer * self.b
            if c > 0:
                corners = [(a, -b + c), (a, b - c), (a - c, b), (-a + c, b), (-a, b - c), (-a, -b + c), (-a + c, -b),
                           (a - c, -b)]
            else:
                corners = [(a, -b), (a, b), (-a, b), (-a, -b)]
            dense = _polygon_rounded([np.array(p) for p in corners], corner * self.b)
        else:
            reach = 1 / math.cos(math.pi / 8)
            corners = [np.array([self.a * reach * math.cos(math.pi / 8 * (2 * k - 1)),
                                 self.b * reach * math.sin(math.pi / 8 * (2 * k - 1))]) for k in range(8)]
            dense = _polygon_rounded(corners, corner * self.b)
        closed = np.concatenate([dense, dense[:1]])
        along = np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))])
        self.perimeter = float(along[-1])
        at = np.linspace(0, self.perimeter, STEPS + 1)
        self.points = np.stack([np.interp(at, along, closed[:, k]) for k in (0, 1)], 1)
        self.points[-1] = self.points[0]
        forward = np.roll(self.points[:-1], -1, 0) - np.roll(self.points[:-1], 1, 0)
        forward /= np.linalg.norm(forward, axis=1, keepdims=True)
        inward = np.stack([-forward[:, 1], forward[:, 0]], 1)
        self.inward = np.concatenate([inward, inward[:1]])
        self.inradius = min(self.a, self.b)

    def at(self, d, d_fixed):
        """Points at distances d inwards (array) x steps: parallel to the outline up to d_fixed, then shrinking to the
        middle."""
        d = np.asarray(d, dtype=float)[:, None, None]
        parallel = self.points + np.minimum(d, d_fixed) * self.inward
        shrink = 1 - np.clip(d - d_fixed, 0, None) / (self.inradius - d_fixed)
        return parallel * shrink


def _hermite(d0, z0, m0, d1, z1, m1, n):
    t = np.linspace(0, 1, n)
    h = d1 - d0
    z = ((2 * t**3 - 3 * t**2 + 1) * z0 + (t**3 - 2 * t**2 + t) * h * m0 + (-2 * t**3 + 3 * t**2) * z1
         + (t**3 - t**2) * h * m1)
    return d0 + h * t, z


class Profile:
    """Top side: (d, z) from the equator of the roll to the middle; under side likewise. `verge` is the d at which the
    rim ends (None for a coupe), `well` the d at which the flat begins, `rim_z` the height of the outermost edge."""

    def __init__(self, kind, inradius, height, rng):
        self.kind, self.inradius, self.height = kind, inradius, height
        roll = self.roll = rng.uniform(1.0, 1.9) if height > 15 else rng.uniform(0.9, 1.3)
        foot = min(3.0, 0.12 * height + 0.4)
        self.thick = rng.uniform(3.6, 4.8)
        floor = self.floor = foot + self.thick
        self.rim_z = height - roll
        if kind == "rimmed":
            width = inradius * rng.uniform(0.25, 0.31)
            well = min(width + inradius * rng.uniform(0.09, 0.14), 0.6 * inradius)
            rise = (height - floor) * rng.uniform(0.46, 0.6)
        elif kind == "soup":
            width = inradius * rng.uniform(0.25, 0.29)
            well = width + inradius * rng.uniform(0.24, 0.3)
            rise = (height - floor) * rng.uniform(0.22, 0.32)
        if kind in ("rimmed", "soup"):
            self.verge = width
            slope = rise / (width - roll)
            lean = math.atan(slope)
            turn = np.linspace(0, math.pi / 2 + lean, 9)
            d = [roll - roll * np.cos(turn)]
            z = [self.rim_z + roll * np.sin(turn)]
            end_d, end_z = d[0][-1], z[0][-1]
            verge_z = end_z - slope * (width - end_d)
            t = np.linspace(0, 1, 14)[1:]
            bow = rng.uniform(-0.5, 0.8)
            d.append(end_d + (width - end_d) * t)
            z.append(end_z + (verge_z - end_z) * t - bow * np.sin(math.pi * t))
            drop = (verge_z - floor) / (well - width)
            dd, zz = _hermite(width, verge_z, -max(slope, 1.2 * drop), well, floor, 0, 14)
            d.append(dd[1:])
            z.append(zz[1:])
        else:  # coupe or bowl: one curve from the edge to the flat
            self.verge = None
            well = inradius * (rng.uniform(0.5, 0.62) if kind == "bowl" else rng.uniform(0.42, 0.55))
            power = rng.uniform(1.9, 2.4)
            lean = math.atan(power * (height - floor) / (well - roll))
            turn = np.linspace(0, math.pi / 2 + lean, 9)
            d = [roll - roll * np.cos(turn)]
            z = [self.rim_z + roll * np.sin(turn)]
            end_d, end_z = d[0][-1], z[0][-1]
            t = np.linspace(0, 1, 30)[1:]
            d.append(end_d + (well - end_d) * t)
            z.append(floor + (end_z - floor) * (1 - t) ** power)
        self.well = well
        t = np.linspace(0, 1, 8)[1:]
        d.append(well + (inradius - well) * t * 0.9999)
        z.append(floor + 0 * t)
        self.d, self.z = np.concatenate(d), np.concatenate(z)
        self.s = np.concatenate([[0], np.cumsum(np.hypot(np.diff(self.d), np.diff(self.z)))])
        self._under(foot, rng)

    def _under(self, foot, rng):
        roll, well = self.roll, self.well
        turn = np.linspace(0, math.pi / 2, 6)
        d, z = [roll - roll * np.cos(turn)], [self.rim_z - roll * np.sin(turn)]
        ring = self.ring = min(well + self.inradius * rng.uniform(0.0, 0.05), 0.75 * self.inradius)
        at = np.linspace(roll, ring, 22)[1:-1]
        thick = np.minimum(self.thick, 2 * roll + (at - roll) * 0.12)
        # The wall is as thick across as on the flat, so that steep walls lie further out.
        slope = np.abs(np.gradient(np.interp(at, self.d, self.z), at))
        below = np.interp(at, self.d, self.z) - thick * np.hypot(1, np.minimum(slope, 2))
        d.append(at)
        z.append(np.maximum(below, foot * 0.55))
        width = self.foot_width = rng.uniform(2.2, 3.4)
        d.append(ring + np.array([0, 0.7, width - 0.7, width, width + 1.6, width + 5]))
        z.append(np.array([0.8, 0, 0, 0.8, foot * 0.9, foot]))
        t = np.linspace(0, 1, 6)[1:]
        d.append(d[-1][-1] + (self.inradius - d[-1][-1]) * t * 0.9999)
        z.append(foot + 0 * t)
        self.under_d, self.under_z = np.concatenate(d), np.concatenate(z)
        self.foot = foot
        self.foot_from = len(self.under_d) - 11   # index of the first point of the foot ring
        self.foot_to = self.foot_from + 3

    def s_of(self, d):
        return float(np.interp(d, self.d, self.s))

    def z_of(self, d):
        return np.interp(d, self.d, self.z)

    def under_z_of(self, d):
        return np.interp(d, self.under_d, self.under_z)


def normals_of(grid):
    """Unit normals of a closed grid (rows x steps + 1 x 3)."""
    down = np.gradient(grid, axis=0)
    ring = grid[:, :-1]
    along = np.roll(ring, -1, 1) - np.roll(ring, 1, 1)
    along = np.concatenate([along, along[:, :1]], 1)
    normal = np.cross(along, down)
    size = np.linalg.norm(normal, axis=2, keepdims=True)
    normal = np.divide(normal, size, out=np.zeros_like(normal), where=size > 1e-9)
    # The middle, where the grid has shrunk to a point, takes the normal of the ring before it.
    normal[-1] = normal[-2]
    return normal


class Body:
    """The grids of one piece, foot at z = 0: `rim` and `well` of the top side, `under`, `ring` and `base` below.
    `loss` is a function of the step (0..STEPS) that says how far the edge has broken away there, in mm."""

    def __init__(self, outline, profile, split, loss=None):
        self.outline, self.profile = outline, profile
        fixed = min(max(profile.well, profile.ring), 0.8 * outline.inradius)
        if outline.kind == "oval":  # a curve parallel to an ellipse stays smooth down to b * b / a
            fixed = min(fixed, 0.9 * outline.b ** 2 / outline.a)
        elif outline.kind != "round":  # polygons shrink towards their middle: sides stay parallel, corners sharpen
            fixed = 0.0
        depth = np.zeros(STEPS + 1) if loss is None else loss
        cut = int(np.searchsorted(profile.d, split))
        self.split_d, self.split_s = float(profile.d[cut]), float(profile.s[cut])
        top = self._grid(profile.d, profile.z, profile.z_of, fixed, depth)
        below = self._grid(profile.under_d, profile.under_z, profile.under_z_of, fixed, depth)
        top_normals, below_normals = normals_of(top), normals_of(below)
        self.parts = {
            "rim": (top[:cut + 1], top_normals[:cut + 1], profile.s[:cut + 1]),
            "well": (top[cut:], top_normals[cut:], None),
            "under": (below[:profile.foot_from + 1], below_normals[:profile.foot_from + 1], None),
            "ring": (below[profile.foot_from:profile.foot_to + 1], below_normals[profile.foot_from:profile.foot_to + 1],
                     None),
            "base": (below[profile.foot_to:], below_normals[profile.foot_to:], None)}
        # The face of a break, between the two sides.
        self.broken = bool(depth.max() > 0)
        if self.broken:
            outwards = np.concatenate([-outline.inward, np.zeros((STEPS + 1, 1))], 1)
            self.parts["break"] = (np.stack([top[0], below[0]]), np.stack([outwards, outwards]), None)

    def _grid(self, d, z, z_of, fixed, depth):
        flat = self.outline.at(d, fixed)
        grid = np.concatenate([flat, np.broadcast_to(z[:, None, None], (*flat.shape[:2], 1))], 2)
        if depth.max() > 0:
            for i in np.nonzero(depth > 0)[0]:
                rows = d < depth[i]
                edge = self.outline.points[i] + self.outline.inward[i] * depth[i]
                grid[rows, i, :2] = edge
                grid[rows, i, 2] = z_of(depth[i])
        return grid

    def rim_points(self):
        """Points of the rolled rim, from which its silhouette comes."""
        n = 9
        top = self.parts["rim"][0][:n]
        below = self.parts["under"][0][:6]
        return np.concatenate([top, below]).reshape(-1, 3)


def mesh_text(name, grid, normal, uv=None):
    """POV-Ray's mesh2 of a grid whose last column is its first."""
    rows, columns = grid.shape[:2]
    count = rows * columns
    out = [f"#declare {name} = mesh2 {{\nvertex_vectors {{ {count},\n"]
    out.append(",".join("<%.4f,%.4f,%.4f>" % tuple(p) for p in grid.reshape(-1, 3).tolist()))
    out.append(f"}}\nnormal_vectors {{ {count},\n")
    out.append(",".join("<%.4f,%.4f,%.4f>" % tuple(p) for p in normal.reshape(-1, 3).tolist()))
    if uv is not None:
        out.append(f"}}\nuv_vectors {{ {count},\n")
        out.append(",".join("<%.6f,%.6f>" % tuple(p) for p in uv.reshape(-1, 2).tolist()))
    index = np.arange(count).reshape(rows, columns)
    a, b, c, d = index[:-1, :-1], index[:-1, 1:], index[1:, 1:], index[1:, :-1]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    points = grid.reshape(-1, 3)
    area = np.linalg.norm(np.cross(points[faces[:, 1]] - points[faces[:, 0]], points[faces[:, 2]] - points[faces[:, 0]]),
                          axis=1)
    faces = faces[area > 1e-7]
    out.append(f"}}\nface_indices {{ {len(faces)},\n")
    out.append(",".join("<%d,%d,%d>" % tuple(f) for f in faces.tolist()))
    out.append("}\n}\n")
    return "".join(out)
