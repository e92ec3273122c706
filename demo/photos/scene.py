# SPDX-License-Identifier: Apache-2.0
"""One invented photograph: what lies on the table, how it is lit and seen, and the truth about it.

    Scene(pack, seed, number, wishes)   the same scene for the same arguments
        .write(folder, size)            scene.pov and its pictures
        .truth                          what the photograph shows
`wishes` override what would be drawn by lot: side, treatment, form, wear, tilt_deg, card, table, ... (see Scene._wish).
"""

import math
import random
import shutil

import numpy as np

import ground
import light
import things
from camera import Camera, convex, ellipse_of, inside, silhouette
from decorated import CLAY, Decorated
from pack import Pack, linear_of_lab
from paint import glaze_base
from shapes import STEPS, Body, Outline, Profile, mesh_text

TABLES = ("oak", "walnut", "pine", "grey wood", "linen", "blue cloth", "red cloth", "green cloth", "pale cloth",
          "check cloth", "stripe cloth", "flower cloth", "grey paper", "black paper", "white paper", "stone", "print")
LOW_CONTRAST = ("pale cloth", "white paper", "stone", "flower cloth", "print")
FORM_WEIGHT = {"dinner-plate": 6, "luncheon-plate": 4, "breakfast-plate": 3, "pie-plate": 2, "bread-plate": 2, "saucer": 3,
               "square-plate": 4, "octagon-plate": 4, "small-platter": 2, "large-platter": 1.5, "nappy": 1,
               "coupe-soup": 1.5, "rim-soup": 1.5}
WEAR = (("none", 0, 0), ("light", 0.03, 0.12), ("moderate", 0.12, 0.3), ("heavy", 0.3, 0.6))


class Scene(Decorated):
    def __init__(self, pack, seed, number, wishes=None):
        self.pack = pack if isinstance(pack, Pack) else Pack(pack)
        self.wishes = dict(wishes or {})
        self.draw = random.Random(f"{seed}/{number}")
        self.rng = np.random.default_rng([seed, number])
        self.number = number
        self.name = f"{self.pack.folder.name}-{number:04d}"
        kind = self.draw.random()
        self.side = self._wish("side", lambda: "none" if kind < 0.05 else "back" if kind < 0.17 else "front")
        self.disturbances = []
        self.truth = {"scene": self.name, "pack": self.pack.folder.name, "side": self.side,
                      "kind": "none" if self.side == "none" else None}
        if self.side != "none":
            self._choose_piece()
        self._choose_view(seed, number)

    def _wish(self, name, otherwise):
        """Lots are always drawn, so that a wish for one thing leaves the others as they were."""
        drawn = otherwise()
        return self.wishes.get(name, drawn)

    # --- the piece ---------------------------------------------------------------------------------------------------

    def _forms_of(self, shape):
        found = []
        for row in self.pack.sizes:
            form = self.pack.forms[row["form"]]
            wide = row["width_mm"] or row["length_mm"]
            lugs = form["outline"] == "round" and wide != row["length_mm"]
            flat = form["ware"] == "flat" or row["form"] in ("bowl", "slop-bowl")
            if self.side == "back":  # a deep bowl upside down hides its own rim
                flat = form["ware"] == "flat" and float(row["height_mm"] or 999) < 0.17 * float(row["length_mm"])
            if row["shape"] == shape and flat and not lugs and form["outline"] != "other" and row["height_mm"]:
                found.append(row)
        return found

    def _choose_piece(self):
        draw = self.draw
        order = sorted(t for t, r in self.pack.treatments.items() if self._forms_of(r["shape"]))
        random.Random(len(order)).shuffle(order)
        # Every treatment in turn; some again by lot.
        self.treatment = self._wish("treatment", lambda: order[self.number * 7 % len(order)])
        row = self.pack.treatments[self.treatment]
        sizes = self._forms_of(row["shape"])
        size = draw.choices(sizes, [FORM_WEIGHT.get(s["form"], 0.6) for s in sizes])[0]
        if "form" in self.wishes:
            size = next(s for s in sizes if s["form"] == self.wishes["form"])
        self.form, self.shape, self.glaze = size["form"], row["shape"], row["glaze"]
        form = self.pack.forms[self.form]
        length = float(size["length_mm"]) + draw.gauss(0, 0.7)
        width = float(size["width_mm"] or size["length_mm"]) + draw.gauss(0, 0.5)
        kind = form["outline"]
        if kind != "oval":
            width = length
        length = self._wish("length_mm", lambda: length)
        if kind != "oval":
            width = length
        height = float(size["height_mm"])
        self.outline = Outline(kind, length, width, corner=draw.uniform(0.1, 0.3) if kind == "square" else
                               draw.uniform(0.05, 0.12), chamfer=draw.choice([0, 0, draw.uniform(0.2, 0.35)]))
        ratio = height / self.outline.inradius
        profile = ("coupe" if "coupe" in self.form or draw.random() < 0.08 else "soup" if "soup" in self.form else
                   "rimmed" if ratio < 0.33 else "coupe" if ratio < 0.5 else "bowl")
        if ratio >= 0.33 and profile == "rimmed":
            profile = "coupe"
        self.profile = Profile(profile, self.outline.inradius, height, self.rng)
        bears = self.pack.bears(self.treatment, self.form, lambda q: draw.random() < q)
        plain = draw.random() < 0.07
        if plain and "bears" not in self.wishes and "treatment" not in self.wishes:
            bears = {}
        bears = self.wishes.get("bears", bears)
        self.bears = {p: [self.pack.ornaments[o] for o in ids if o in self.pack.ornaments] for p, ids in bears.items()}
        if draw.random() < 0.04 and "glaze" not in self.wishes:
            self.glaze = draw.choice(sorted(self.pack.glazes))
        self.glaze = self.wishes.get("glaze", self.glaze)
        level = draw.choices(WEAR, (40, 30, 20, 10))[0]
        level = next((w for w in WEAR if w[0] == self.wishes.get("wear")), level)
        self.wear_word, self.wear = level[0], draw.uniform(level[1], level[2])
        self.specks = self._wish("specks_per_dm2", lambda: draw.choices([0, draw.uniform(0.5, 2), draw.uniform(2, 9)],
                                                                         (70, 20, 10))[0])
        self.crazed = self._wish("crazed", lambda: draw.random() < 0.05)
        self.loss = self._breakage()
        self.lab = self.pack.glaze_lab(self.glaze)
        self.lab_seen = [self.lab[0] + draw.gauss(0, 0.35), self.lab[1] + draw.gauss(0, 0.2), self.lab[2] + draw.gauss(0, 0.3)]
        self.truth.update({
            "kind": kind, "treatment": self.treatment, "form": self.form, "shape": self.shape, "profile": profile,
            "long_mm": round(length, 2), "short_mm": round(width, 2), "wear": self.wear_word,
            "glaze": {"id": self.glaze, "lab": [round(v, 2) for v in self.lab_seen]},
            "specks_per_dm2": None, "crazed": self.crazed, "bears": {p: [o["id"] for o in v] for p, v in self.bears.items()}})

    def _breakage(self):
        draw, loss = self.draw, np.zeros(STEPS + 1)
        step = self.outline.perimeter / STEPS
        chips = draw.choices((0, 1, 3), (84, 12, 4))[0]
        wedge = draw.random() < 0.03
        chips, wedge = self.wishes.get("chips", chips), self.wishes.get("wedge", wedge)
        if self.outline.kind not in ("round", "oval"):
            return loss
        for k in range(chips + (1 if wedge else 0)):
            big = wedge and k == chips
            half = draw.uniform(22, 40) if big else draw.uniform(2.5, 7)
            deep = draw.uniform(12, 26) if big else draw.uniform(1.2, 3.5)
            middle = draw.randrange(STEPS)
            reach = int(half / step) + 1
            for i in range(-reach, reach + 1):
                t = 1 - (abs(i) * step / half) ** (1.0 if big else 2)
                if t > 0:
                    jag = 1 + 0.12 * draw.gauss(0, 1)
                    at = (middle + i) % STEPS
                    loss[at] = max(loss[at], deep * min(1.0, t * 1.25) * jag)
        loss = np.maximum(loss, 0)
        loss[STEPS] = loss[0]
        if chips:
            self.disturbances.append("chip" if chips == 1 else "chips")
        if wedge:
            self.disturbances.append("missing wedge")
        return loss

    # --- the view ----------------------------------------------------------------------------------------------------

    def _choose_view(self, seed, number):
        draw = self.draw
        self.table = self._wish("table", lambda: draw.choice(TABLES))
        tilt = draw.choices([draw.uniform(0, 8), draw.uniform(8, 22), draw.uniform(22, 35), draw.uniform(35, 45)],
                            (18, 34, 33, 15))[0]
        tilt = self._wish("tilt_deg", lambda: tilt)
        roll = draw.gauss(0, 3)
        f35 = self._wish("f35", lambda: draw.choice([24, 25, 26, 26, 27, 28, 28, 30, 35]))
        with_card = self._wish("card", lambda: draw.random() < 0.6)
        self.spin = self._wish("spin_deg", lambda: draw.uniform(0, 360) if draw.random() < 0.6 else draw.gauss(0, 6))
        upright = draw.random() < 0.12
        self.orientation = self._wish("orientation", lambda: draw.choices([1, 6, 8, 3], (80, 10, 6, 4))[0])
        tall = self._wish("portrait", lambda: upright)
        self.landscape = not tall
        base = (1600, 1200) if self.landscape else (1200, 1600)
        plate_height = self.profile.height if self.side != "none" else 0
        self.room = light.Room(self.rng)
        again = np.random.default_rng([seed, number, 7])
        while self.room.glares(tilt) and again.random() < 0.8:
            self.room = light.Room(again)  # who takes the picture steps aside
        away_from_light = -self.room.toward[:2] / np.linalg.norm(self.room.toward[:2])
        shadow = plate_height * np.linalg.norm(self.room.toward[:2]) / self.room.toward[2]
        careful = draw.random() < 0.85
        self._place_piece(plate_height)
        rim = self.silhouette_rows.reshape(-1, 3)[::7] if self.side != "none" else np.array(
            [[x, y, 0] for x in (-120, 120) for y in (-90, 90)], float)
        close = self._wish("close", lambda: draw.random() < 0.5) and self.side == "back"
        if close:  # the mark is what the photograph is of
            with_card = False
            rim = self.world(self.body.parts["ring"][0][0]) * [0.8, 0.8, 1]
            self.disturbances.append("close-up")
        crop = self._wish("cropped", lambda: draw.random() < 0.06) and not with_card and self.side == "front"
        for _ in range(200):
            card_text, card_corners, card_at = "", None, None
            must = rim
            if with_card:
                angle = draw.uniform(0, 2 * math.pi)
                card_turn = angle + draw.choice([0, math.pi / 2, math.pi, -math.pi / 2]) + draw.gauss(0, 0.25)
                reach = np.linalg.norm(rim[:, :2], axis=1).max() if self.side != "none" else draw.uniform(0, 100)
                in_shadow = np.dot(away_from_light, [math.cos(angle), math.sin(angle)]) > 0.3 and shadow > 12
                if careful and in_shadow and self.side != "none":
                    continue  # who lays the card down sees to it that it has the light of the piece
                away = reach + draw.uniform(34, 62) + plate_height * math.tan(math.radians(tilt)) * 0.4
                card_at = (away * math.cos(angle), away * math.sin(angle), card_turn)
                card_corners, card_text = things.card(*card_at)
                must = np.concatenate([rim, np.array(card_corners)])
            middle = (must[:, :2].max(0) + must[:, :2].min(0)) / 2
            target = middle + np.array([draw.gauss(0, 10), draw.gauss(0, 10)])
            # The nearest place from which all is in the picture, then a little further.
            near, far = 200.0, 1500.0
            for _ in range(24):
                mid = (near + far) / 2
                near, far = (near, mid) if Camera(target, tilt, mid, roll, f35, base).holds(must, 0.02) else (mid, far)
            distance = max(far * (draw.uniform(0.84, 0.93) if crop else draw.uniform(1.01, 1.3)), 160 if close else 300)
            if distance > 900 or not far < 1499:
                continue
            camera = Camera(target, tilt, distance, roll, f35, base)
            if with_card and self.side != "none":
                hull = convex(camera.project(self.body_world))
                edge = [things.card_point(*card_at, px, py) for px in np.linspace(0, things.CARD_MM[0], 9)
                        for py in np.linspace(0, things.CARD_MM[1], 7)]
                flat = convex(self.body_world[:, :2])
                if any(inside(hull, p) > -6 for p in camera.project(edge)) or any(inside(flat, p[:2]) > -5 for p in edge):
                    continue
            break
        else:
            raise ValueError(f"{self.name}: no view holds the piece")
        if crop:
            self.disturbances.append("cut by the border")
        self.view = (target, tilt, distance, roll, f35)
        self.card_at, self.card_corners, self.card_text = card_at, card_corners, card_text
        self._clutter()

    def camera(self, size):
        long, short = max(size), min(size)
        return Camera(*self.view, (long, short) if self.landscape else (short, long))

    def _place_piece(self, height):
        """The grids in the world: turned by `spin`, face down when the underside is shown."""
        if self.side == "none":
            return
        c, s = math.cos(math.radians(self.spin)), math.sin(math.radians(self.spin))
        self.turn = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
        split = (self.profile.verge + 2.5) if self.profile.verge else min(0.55 * self.outline.inradius, self.profile.well)
        self.body = Body(self.outline, self.profile, split, self.loss)
        whole = Body(self.outline, self.profile, split, None)
        self.silhouette_rows = np.stack([self.world(r) for r in np.concatenate(
            [whole.parts["rim"][0][:9], whole.parts["under"][0][:6]])])
        self.body_world = np.concatenate([self.world(whole.parts[p][0].reshape(-1, 3)[::11]) for p in ("rim", "under", "ring")])
        self.rim_z = self.profile.rim_z if self.side == "front" else self.profile.height - self.profile.rim_z

    def world(self, points, direction=False):
        points = np.asarray(points, float)
        if self.side == "back":
            points = points * [1, 1, -1] + ([0, 0, 0] if direction else [0, 0, self.profile.height])
        return points @ self.turn.T

    def _clutter(self):
        draw = self.draw
        wanted = self._wish("things", lambda: draw.choices((0, 1, 2, 4), (52, 20, 16, 12))[0])
        if self.side == "none":
            wanted = max(wanted, draw.choice((1, 2, 3, 5)))
        second = self._wish("second", lambda: draw.random() < 0.12) and self.side == "front"
        label = self._wish("label", lambda: draw.random() < 0.05) and self.side == "front"
        self.others, self.solids, self.footprints, taken = "", [], [], []
        reach = np.linalg.norm(self.silhouette_rows[0][:, :2], axis=1).max() if self.side != "none" else 0
        camera = self.camera((1600, 1200))
        hull = convex(camera.project(self.body_world)) if self.side != "none" else None
        self.second_text = ""
        if second:
            self._second_piece(reach, taken, camera, hull)
        kinds = list(things.THINGS)
        for _ in range(wanted):
            kind = draw.choice(kinds)
            state = self.rng.bit_generator.state
            for _ in range(40):
                at = np.array([draw.uniform(-330, 330), draw.uniform(-280, 280)]) + self.view[0]
                self.rng.bit_generator.state = state
                radius, text, solids = things.THINGS[kind](*at, self.rng)
                if self.side != "none" and np.linalg.norm(at) < reach + radius + 6:
                    continue
                if self.card_at and math.hypot(at[0] - self.card_at[0], at[1] - self.card_at[1]) < 54 + radius:
                    continue
                if any(math.hypot(at[0] - x, at[1] - y) < r + radius + 4 for x, y, r in taken):
                    continue
                p = camera.project([[*at, 0.0]])[0]
                if not (-40 < p[0] < camera.width + 40 and -40 < p[1] < camera.height + 40):
                    continue
                tall = camera.project([[*at, 95.0 if kind == "glass" else 40.0]])[0]
                if hull is not None and inside(hull, tall) > -20:
                    continue
                if self.card_at is not None and kind in ("glass", "box"):
                    near = convex(camera.project(self.card_corners))
                    if inside(near, tall) > -160:
                        continue
                taken.append((*at, radius))
                self.others += text
                self.solids += solids
                if kind not in self.disturbances:
                    self.disturbances.append(kind)
                break
        if label:
            d = self.profile.well + 0.3 * (self.outline.inradius - self.profile.well)
            a, out = draw.uniform(0, 2 * math.pi), self.outline.inradius - d
            p = self.world([out * math.cos(a), out * math.sin(a), self.profile.floor])
            self.others += things.sticker(p, [0, 0, 1], draw.uniform(7, 11), draw.choice([(240, 238, 230), (236, 214, 90), (226, 92, 62)]))
            self.disturbances.append("price label")

    def _second_piece(self, reach, taken, camera, hull):
        draw = self.draw
        size = draw.uniform(110, 200)
        outline = Outline("round", size, size)
        profile = Profile("rimmed", size / 2, draw.uniform(15, 22), self.rng)
        body = Body(outline, profile, profile.verge + 2, None)
        for _ in range(60):
            a = draw.uniform(0, 2 * math.pi)
            away = reach + size / 2 + draw.uniform(1, 30)
            at = np.array([away * math.cos(a), away * math.sin(a)])
            if self.card_at and np.linalg.norm(at - self.card_at[:2]) < size / 2 + 56:
                continue
            p = camera.project([[*at, 10.0]])[0]
            if not (-120 < p[0] < camera.width + 120 and -120 < p[1] < camera.height + 120):
                continue
            # What stands in front must not hide the rim of the piece itself.
            if inside(hull, camera.project([[*at, 25.0]])[0]) < -20:
                lab = self.pack.glaze_lab(draw.choice(sorted(self.pack.glazes)))
                pigment = "rgb " + things.v(linear_of_lab(lab))
                text = ""
                for part, (grid, normal, _) in body.parts.items():
                    text += mesh_text(f"Second_{part}", grid, normal)
                    text += (f"object {{ Second_{part} texture {{ pigment {{ {pigment} }} finish {{ Glaze }} }} "
                             f"interior {{ ior 1.5 }} translate <{at[0]:.2f},{at[1]:.2f},0> }}\n")
                self.second_text = text
                rim = body.parts["rim"][0][0] + [*at, 0]
                self.footprints.append((rim, profile.rim_z))
                self.solids.append(np.concatenate([rim, body.parts["ring"][0][0] + [*at, 0]]))
                taken.append((*at, size / 2))
                self.disturbances.append("second plate")
                return

    # --- out ---------------------------------------------------------------------------------------------------------

    def write(self, folder, size, fine=True):
        """scene.pov with its pictures in `folder`; fills the truth for a photograph of that size. Call once."""
        camera = self.camera(size)
        folder.mkdir(parents=True, exist_ok=True)
        text = [light.HEAD, camera.pov()]
        room = self.room
        # Shallow pieces shade nothing of themselves, and the shade on the table can be painted.
        baked = self.side == "none" or (self.side == "front" and self.profile.height < 0.45 * self.outline.inradius)
        if self.side != "none":
            self.solids.append(self.body_world)
            self.footprints.append((self.silhouette_rows[0], self.rim_z))
        text.append(room.pov(baked, fine))
        path, covers, _ = ground.picture(self.table)
        # POV-Ray may read only beside the scene, as Debian sets it up.
        shutil.copy(path, folder / "ground.png")
        shutil.copy(things.card_picture(), folder / "card.png")
        dark, shade = light.ground_shade(self.footprints, self.solids, room, folder)
        # The ray tracer sees the table in mirrors only; ground.seen() draws it.
        text.append(f'plane {{ z, 0 texture {{ pigment {{ image_map {{ png "ground.png" gamma srgb }} scale <{covers},{covers},1> }} '
                    "finish { Matt } } no_image no_shadow }\n")
        grain, shift = self.draw.uniform(0, math.pi), [self.draw.uniform(0, 900), self.draw.uniform(0, 900)]
        self.dark = dark
        self.table_seen = ground.seen(self.table, camera, room, dark, grain, shift, self.rng)
        text += [self.card_text.replace("SHADE", shade), self.second_text, self.others]
        if self.side != "none":
            px = 1.35 * camera.focal / self.view[2]
            (self._paint_front if self.side == "front" else self._paint_back)(folder, px)
            text.append(self._piece_text())
        (folder / "scene.pov").write_text("".join(text))
        self._finish_truth(camera, room.truth)

    def _piece_text(self):
        glaze = "pigment { rgb " + things.v(glaze_base(self.lab_seen)) + " } finish { Glaze }"
        clay = "pigment { rgb " + things.v(CLAY * 0.9) + " } finish { Matt }"
        pictures = {"rim", "well"} if self.side == "front" else {"base"}
        out = []
        for part, (grid, normal, s) in self.body.parts.items():
            uv = None
            if part in pictures:
                uv = self._uv(part, grid, s)
            out.append(mesh_text(f"Piece_{part}", self.world(grid), self.world(normal, direction=True), uv))
            texture = f"texture {{ {clay if part in ('ring', 'break') else glaze} }}"
            if part in pictures:
                def skin(finish):
                    return (f'uv_mapping pigment {{ image_map {{ png "{part}.png" gamma srgb interpolate 2 }} }} '
                            f"finish {{ {finish} }}")
                texture = f"texture {{ {skin('Glaze')} }}"
                if self.has_metal[part]:
                    texture = (f'texture {{ uv_mapping image_pattern {{ png "{part}-metal.png" gamma 1.0 interpolate 2 }} '
                               f"texture_map {{ [0 {skin('Glaze')}] [1 {skin('Metal')}] }} }}")
            inner = "" if part in ("ring", "break") else "interior { ior 1.5 }"
            out.append(f"object {{ Piece_{part} {texture} {inner} }}\n")
        return "".join(out)

    def _uv(self, part, grid, s):
        if part == "rim":
            along = np.broadcast_to(np.linspace(0, 1, STEPS + 1), grid.shape[:2])
            down = np.broadcast_to(((s - self.rim.s_from) / (self.rim.rows / self.rim.px))[:, None], grid.shape[:2])
            return np.stack([along, 1 - down], -1)
        half = self.well_half if part == "well" else self.base_half
        x, y = grid[:, :, 0], grid[:, :, 1]
        return np.stack([x / (2 * half) + 0.5, 0.5 - y / (2 * half)], -1)

    def _finish_truth(self, camera, lit):
        truth = self.truth
        truth["photo"] = {"width": camera.width, "height": camera.height, "f35": camera.f35,
                          "focal_px": round(camera.focal, 3), "distance_mm": round(camera.distance, 1)}
        truth.update({"table": self.table, "low_contrast": self.table in LOW_CONTRAST, "light": lit,
                      "disturbances": self.disturbances, "card": None})
        if self.card_at:
            def px(points):
                return [[round(float(v), 3) for v in p] for p in camera.project(points)]
            under = [things.card_point(*self.card_at, x, y) for x in (18, 43, 68) for y in (22, 32)]
            shade = [float(self.dark[min(max(int(p[1] + 520), 0), 1039), min(max(int(p[0] + 520), 0), 1039)]) for p in under]
            truth["card"] = {"corners_px": px(self.card_corners), "thick_mm": things.CARD_THICK, "shade": round(max(shade), 3),
                             "markers_px": [
                px([things.card_point(*self.card_at, *p) for p in corners]) for corners in things.marker_corners()]}
        if self.side == "none":
            truth["tilt_deg"] = round(camera.tilt_deg, 3)
            return
        frame = np.eye(4)
        frame[:3, :3] = self.turn
        if self.side == "back":  # seen from below: x of the piece seen stays x, y stays down, z towards the camera
            frame[:3, :3] = self.turn
        frame[2, 3] = self.rim_z
        matrix = camera.matrix() @ frame
        matrix /= np.linalg.norm(matrix[2, :3])
        truth["photo_from_plate_mm"] = [[float(f"{v:.9g}") for v in row] for row in matrix]
        sight = camera.at - np.array([0, 0, self.rim_z])
        truth["tilt_deg"] = round(math.degrees(math.acos(sight[2] / np.linalg.norm(sight))), 3)
        truth["rim_height_mm"] = round(self.rim_z - (things.CARD_THICK if self.card_at else 0), 3)
        truth["plate_frame"] = "mm; origin at the rim's centre, x along the long axis, y down when x is right and seen from above, z up"
        t = np.linspace(0, 2 * math.pi, 361)[:-1]
        edge = np.stack([self.outline.a * np.cos(t), self.outline.b * np.sin(t), 0 * t], 1) @ self.turn.T + [0, 0, self.rim_z]
        circle = ellipse_of(camera.project(edge))
        rim = circle if self.outline.kind not in ("round", "oval") else ellipse_of(
            silhouette(camera, self.silhouette_rows)[:-1])

        def rounded(e):
            return {"centre_px": [round(v, 3) for v in e["centre_px"]], "axes_px": [round(v, 3) for v in e["axes_px"]],
                    "angle_deg": round(e["angle_deg"], 3)}
        truth["rim_px"] = rounded(rim)
        truth["rim_circle_px"] = rounded(circle)
        truth["scale_mm_per_px"] = round(float(np.linalg.norm(camera.at - [0, 0, self.rim_z]) / camera.focal), 6)
        if truth.get("centre", {}).get("present"):
            middle = self.world([0, 0, self.profile.floor])
            a = math.radians(truth["centre"]["angle_deg"])
            tip = self.world([10 * math.cos(a), 10 * math.sin(a), self.profile.floor])
            p, q = camera.project([middle, tip])
            truth["centre"]["angle_px_deg"] = round(math.degrees(math.atan2(*(q - p)[::-1])) % 360, 2)
