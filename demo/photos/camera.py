# SPDX-License-Identifier: Apache-2.0
"""A pinhole camera over the table, and the ellipses that circles become in it.

World: mm; x right, y towards the viewer, z up from the table. Photo: px, origin at the outer corner of the top-left pixel,
y down. With these axes the camera looks down -z, its y is the photo's y, and nothing is mirrored."""

import math

import cv2
import numpy as np

DIAGONAL_MM = 43.27  # of the 35 mm frame


class Camera:
    def __init__(self, target, tilt_deg, distance, roll_deg, f35, size):
        self.width, self.height = size
        self.f35, self.tilt_deg, self.distance = f35, tilt_deg, distance
        self.focal = f35 * math.hypot(*size) / DIAGONAL_MM
        t, r = math.radians(tilt_deg), math.radians(roll_deg)
        self.forward = np.array([0, -math.sin(t), -math.cos(t)])
        right, down = np.array([1.0, 0, 0]), np.array([0, math.cos(t), -math.sin(t)])
        self.right = math.cos(r) * right + math.sin(r) * down
        self.down = -math.sin(r) * right + math.cos(r) * down
        self.at = np.array([*target, 0.0]) - distance * self.forward

    def matrix(self):
        """3 x 4, photo from world."""
        k = np.array([[self.focal, 0, self.width / 2], [0, self.focal, self.height / 2], [0, 0, 1]])
        turn = np.stack([self.right, self.down, self.forward])
        return k @ np.concatenate([turn, (-turn @ self.at)[:, None]], 1)

    def project(self, points):
        h = np.asarray(points, float).reshape(-1, 3) @ self.matrix()[:, :3].T + self.matrix()[:, 3]
        return h[:, :2] / h[:, 2:]

    def holds(self, points, margin):
        """Whether all points lie in the photo, `margin` (share of its height) from its border."""
        p, m = self.project(points), margin * self.height
        return bool((p[:, 0] > m).all() and (p[:, 0] < self.width - m).all() and (p[:, 1] > m).all()
                    and (p[:, 1] < self.height - m).all())

    def pov(self):
        def v(a):
            return "<%.12f,%.12f,%.12f>" % tuple(a)
        return (f"camera {{ perspective location {v(self.at)} direction {v(self.forward)} "
                f"right {v(self.right * self.width / self.focal)} up {v(-self.down * self.height / self.focal)} }}\n")


def ellipse_of(points):
    """centre, semi-axes (longer first), angle of the longer in [-90, 90), of the ellipse through points in px."""
    points = np.asarray(points, float)
    middle, scale = points.mean(0), np.abs(points - points.mean(0)).max()
    x, y = ((points - middle) / scale).T
    design = np.stack([x * x, x * y, y * y, x, y], 1)
    a, b, c, d, e = np.linalg.lstsq(design, np.ones(len(x)), rcond=None)[0]
    m = np.array([[a, b / 2], [b / 2, c]])
    centre = -np.linalg.solve(2 * m, [d, e])
    value = 1 + centre @ m @ centre
    lengths, axes = np.linalg.eigh(m / value)
    angle = math.degrees(math.atan2(axes[1, 0], axes[0, 0]))
    angle = (angle + 90) % 180 - 90
    return {"centre_px": [float(v) for v in centre * scale + middle],
            "axes_px": [float(scale / math.sqrt(v)) for v in lengths], "angle_deg": angle}


def silhouette(camera, rows):
    """Of a rolled rim given as rows of points (rows x steps x 3): the outermost seen point of each step."""
    seen = np.stack([camera.project(row) for row in rows])
    middle = seen[0].mean(0)
    far = np.linalg.norm(seen - middle, axis=2).argmax(0)
    return seen[far, np.arange(seen.shape[1])]


def convex(points):
    return cv2.convexHull(np.asarray(points, np.float32).reshape(-1, 1, 2))


def inside(hull, point):
    """Distance of a point inside a hull (> 0) or outside (< 0), px."""
    return cv2.pointPolygonTest(hull, (float(point[0]), float(point[1])), True)
