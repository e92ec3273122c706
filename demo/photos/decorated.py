# SPDX-License-Identifier: Apache-2.0
"""What a piece of a pack bears, laid on its surfaces, and the truth about it: lines and borders of the rim, the centre, faults;
of an underside the mark and the number. The base of Scene, which draws the lots."""

import math

import numpy as np

from pack import METALS, linear_of_srgb
from paint import FONTS, INKS, Flat, Rim, curved_mask, glaze_base, inked, resized, text_mask

CLAY = linear_of_srgb(np.array([222, 208, 186]) / 255.0)


def one_line(text):
    return " ".join(text.split())


class Decorated:
    def _rim_plan(self):
        """Where on the rim things are laid: list of (ornament, place, d_from, d_to), from the edge inwards."""
        draw, profile, inr = self.draw, self.profile, self.outline.inradius
        room = profile.verge * 0.95 if profile.verge else 0.42 * inr
        plan, inner = [], draw.uniform(1.6, 3.4)
        for o in self.bears.get("edge", []):
            if o["kind"] in ("relief", "solid"):
                continue
            wide = (draw.uniform(0.6, 0.9) if "hairline" in o["id"] else draw.uniform(3.0, 4.2) if "double" in o["id"] else
                    draw.uniform(1.3, 2.4)) if o["kind"] == "line" else draw.uniform(4, 7)
            start = draw.uniform(0.2, 0.7) if "hairline" in o["id"] else -1.0
            plan.append((o, "edge", start, start + wide + (1.0 if start < 0 else 0)))
            inner = max(inner, plan[-1][3] + draw.uniform(1.2, 3.0))
        rims = sorted(self.bears.get("rim", []), key=lambda o: o["kind"] != "band")
        for o in rims:
            if o["kind"] == "relief":
                continue
            if not o["repeats"]:
                wide = min(draw.uniform(0.045, 0.12) * inr * 2, room - inner - (0.35 * room if len(rims) > 1 else 0))
                if wide > 2:
                    plan.append((o, "rim", inner, inner + wide))
                    inner += wide + draw.uniform(0.5, 2)
                continue
            tile = self.pack.drawing(o["drawing"], 120)
            repeats = int(o["repeats"])
            natural = self.outline.perimeter * (1 - inner / inr * 1.1) / repeats * tile.shape[0] / tile.shape[1]
            tall = min(natural * draw.uniform(0.93, 1.06), room - inner)
            if tall > 2.5:
                plan.append((o, "rim", inner, inner + tall))
                inner += tall + 1
        for o in self.bears.get("verge", []):
            if o["kind"] == "relief":
                continue
            wide = (draw.uniform(0.6, 0.9) if "hairline" in o["id"] else draw.uniform(0.9, 1.8)) if o["kind"] == "line" \
                else draw.uniform(3, 5)
            # A coupe has no verge: the line runs where its wall ends.
            at = (profile.verge or 0.9 * self.body.split_d) - draw.uniform(0.2, 0.8)
            if at - wide > inner - 0.8:
                plan.append((o, "verge", at - wide, at))
        return plan

    def _paint_front(self, folder, px):
        rng, draw, profile = self.rng, self.draw, self.profile
        base = glaze_base(self.lab_seen)
        uneven = draw.choice([0.004, 0.008, 0.02])
        plan = self._rim_plan()
        repeats = next((int(o["repeats"]) for o, place, *_ in plan if place == "rim" and o["repeats"]), 1)
        rim = Rim(self.pack, self.outline.perimeter, -2.5 * profile.roll, self.body.split_s, px, base, rng, uneven, repeats)
        long_half = self.outline.a
        truth, self.phase = self.truth, draw.random()
        truth["border"], truth["edge_line"], truth["verge_line"] = {"present": False}, {"present": False}, {"present": False}
        borders = []
        for o, place, d_from, d_to in plan:
            s_from, s_to = (d_from if d_from < 0 else profile.s_of(d_from)), profile.s_of(d_to)
            wear = self.wear * draw.uniform(0.75, 1.25) * (1.3 if place == "edge" else 1) if o["finish"] in METALS else 0.25 * self.wear
            wear = 0.6 if place in self.wishes.get("worn_places", []) else min(wear, 0.75)
            if o["repeats"]:
                lost = rim.tiles(o, s_from, s_to, int(o["repeats"]), self.phase if repeats == int(o["repeats"]) else 0.0, wear)
            else:
                lost = rim.band(o, s_from, s_to, wear)
            what = {"present": True, "id": o["id"], "finish": o["finish"], "wear": round(lost, 4)}
            if place == "rim" or (place == "verge" and o["repeats"]):
                n = int(o["repeats"]) if o["repeats"] else None
                what.update({"kind": o["kind"], "repeats": n, "d_mm": [round(d_from, 2), round(d_to, 2)],
                             "t": [round(d_from / long_half, 4), round(d_to / long_half, 4)],
                             "phase": round((self.phase + 0.5 / n) % 1, 5) if n else None})
                borders.append(what)
            else:
                d_from = max(d_from, 0)
                what.update({"colour": o["finish"], "width_mm": round(d_to - d_from, 2),
                             "t": [round(d_from / long_half, 4), round(d_to / long_half, 4)]})
                truth["edge_line" if place == "edge" else "verge_line"] = what
        # The border that a person names is the one that repeats; a band beside it is told as well.
        borders.sort(key=lambda b: b["repeats"] is None)
        if borders:
            truth["border"] = borders[0]
            if len(borders) > 1:
                truth["border"]["beside"] = [b["id"] for b in borders[1:]]
        relief = [o["id"] for o in self.bears.get("rim", []) + self.bears.get("edge", []) if o["kind"] == "relief"]
        if relief:
            truth["relief"] = relief
        well_half = self.outline.a * (1 - self.body.split_d / self.outline.inradius) * 1.03 if self.outline.kind in (
            "square", "octagonal") else self.outline.a - self.body.split_d * 0.98 + 1
        well = Flat(self.pack, well_half, px, base, rng, uneven)
        self.well_half = well_half
        truth["centre"] = {"present": False}
        for o in self.bears.get("centre", [])[:1]:
            room = 2 * (self.outline.inradius - profile.well)
            share = {"stamp": (0.34, 0.55), "decal": (0.5, 0.75), "print": (0.8, 0.97)}.get(o["kind"], (0.4, 0.6))
            across, turn = room * draw.uniform(*share), draw.gauss(0, 5) if draw.random() < 0.7 else draw.uniform(0, 360)
            wear = self.wear * 0.7 if o["finish"] in METALS else 0.2 * self.wear
            wear = 0.6 if "centre" in self.wishes.get("worn_places", []) else wear
            at = (draw.gauss(0, 0.012) * room, draw.gauss(0, 0.012) * room)
            lost = well.centre(o, across, turn, wear, at)
            truth["centre"] = {"present": True, "id": o["id"], "finish": o["finish"], "wear": round(lost, 4),
                               "across_mm": round(across, 2), "radius": round(across / 2 / long_half, 4),
                               "middle": [round(at[0] / long_half, 4), round(at[1] / long_half, 4)],
                               "angle_deg": round(turn % 360, 2)}
        self._faults(rim, well)
        if self.body.broken:
            rim.clay(self.loss, CLAY)
        rim.surface.images(folder, "rim")
        well.surface.images(folder, "well")
        self.rim = rim
        self.has_metal = {"rim": bool(rim.surface.metal.max() > 0), "well": bool(well.surface.metal.max() > 0)}

    def _faults(self, rim, well):
        area_rim = self.outline.perimeter * self.body.split_d * (1 - 0.5 * self.body.split_d / self.outline.inradius) / 1e4
        share = 1 - self.body.split_d / self.outline.inradius
        area_well = math.pi * self.outline.a * self.outline.b * share ** 2 / 1e4
        rows = np.arange(rim.rows)[:, None] > rim.row(1.0)
        count = rim.surface.specks(self.specks, area_rim, np.broadcast_to(rows, rim.surface.metal.shape))
        seen = well.disc((self.outline.inradius - self.body.split_d) * 0.98)
        count += well.surface.specks(self.specks, float(seen.sum()) / well.px ** 2 / 1e4, seen)
        self.truth["specks_per_dm2"] = round(count / (area_rim + area_well), 2)
        self.truth["specks"] = count
        if self.crazed:
            rim.surface.craze(0.8)
            well.surface.craze(0.8)
            self.disturbances.append("crazed")

    def _paint_back(self, folder, px):
        rng, profile = self.rng, self.profile
        base = glaze_base(self.lab_seen)
        # The underside has a square of its own inside the foot ring.
        half = (self.outline.a * (1 - profile.ring / self.outline.inradius) if self.outline.kind in ("square", "octagonal")
                else self.outline.a - profile.ring) + 2
        self.base_half = half
        flat = Flat(self.pack, half, px * 1.6, base, rng, 0.01)
        self.truth["specks_per_dm2"] = round(self.specks, 2)
        flat.surface.specks(self.specks, (2 * half) ** 2 / 1e4, np.ones(flat.surface.metal.shape, bool))
        self._mark(flat)
        flat.surface.images(folder, "base")
        self.has_metal = {"base": bool(flat.surface.metal.max() > 0)}

    def _mark(self, flat):
        draw, truth = self.draw, self.truth
        maker = self.pack.shapes[self.shape]["maker"] if self.shape in self.pack.shapes else ""
        marks = [m for m in self.pack.marks.values() if m["maker"] == maker
                 and (m["shapes"] in ("*", "") or self.shape in m["shapes"].split(";"))] or list(self.pack.marks.values())
        mark = draw.choice(marks) if marks else None
        room = 2 * (min(self.outline.b, self.outline.a) - self.profile.ring)
        how = draw.choices(["drawing", "lines", "curved", "none"], (45, 25, 18, 12))[0]
        how = self._wish("mark_as", lambda: how)
        if "mark" in self.wishes:
            mark = self.pack.marks[self.wishes["mark"]] if self.wishes["mark"] else None
        if mark is None:
            how = "none"
        if how == "drawing" and not mark["drawing"]:
            how = "lines"
        turn = draw.gauss(0, 12) if draw.random() < 0.6 else draw.uniform(0, 360)
        turn = self._wish("mark_turn", lambda: turn)
        ink = draw.choice([n for n in INKS if n != "gold"])
        strength = draw.uniform(0.7, 1.0)
        wear = draw.choices([0, draw.uniform(0.03, 0.15)], (75, 25))[0]
        at = (draw.gauss(0, 0.04) * room, draw.gauss(0, 0.04) * room)
        truth["mark"] = {"id": "none", "wording": ""}
        if how != "none":
            lines = [one_line(t) for t in mark["wording"].split("/")]
            font = draw.choice(FONTS)
            if how == "drawing":
                across = min(draw.uniform(34, 52), room * 0.9)
                drawing = self.pack.drawing(mark["drawing"], 500)
                scale = across * flat.px / drawing.shape[1]
                tile = resized(drawing, round(drawing.shape[1] * scale), round(drawing.shape[0] * scale)).copy()
                tile[:, :, 3] = (tile[:, :, 3] * strength).astype(np.uint8)
            else:
                tall = draw.uniform(2.6, 4.6)
                big = round(tall * flat.px)
                if how == "lines":
                    mask = text_mask(lines, font, big)
                else:
                    radius = max(len(lines[0]) * tall * 0.24, 8)
                    mask = curved_mask(lines[0], font, big, radius * flat.px).copy()
                    if len(lines) > 1:
                        below = curved_mask(lines[1], font, big, radius * flat.px, under=True)
                        mask = np.maximum(mask, below)
                    for line in lines[2:]:
                        inner = text_mask([line], font, round(big * 0.8))
                        y, x = (mask.shape[0] - inner.shape[0]) // 2, (mask.shape[1] - inner.shape[1]) // 2
                        mask[y:y + inner.shape[0], x:x + inner.shape[1]] = inner
                tile = inked(mask, INKS[ink], strength)
                across = max(tile.shape[:2]) / flat.px
                if across > room * 0.95:
                    f = room * 0.95 / across
                    tile = resized(tile, round(tile.shape[1] * f), round(tile.shape[0] * f))
            flat.paste(tile, turn, False, wear, at)
            truth["mark"] = {"id": mark["id"], "wording": mark["wording"], "as": how, "turned_deg": round(turn % 360, 1),
                             "ink": ink if how != "drawing" else "drawing", "wear": round(wear, 3)}
        number = self.pack.treatments[self.treatment]["number"]
        as_ = draw.choices(["none", "printed", "impressed", "gilt"], (40, 25, 15, 20))[0]
        as_ = self._wish("number_as", lambda: as_)
        truth["treatment_number"] = {"text": "", "as": "none"}
        if number and as_ != "none":
            r, a = room * draw.uniform(0.26, 0.34), math.radians(turn + 90 + draw.gauss(0, 14))
            place = (at[0] + r * math.cos(a), at[1] + r * math.sin(a))
            mask = text_mask([number], draw.choice(FONTS), round(draw.uniform(3.4, 5) * flat.px))
            if as_ == "impressed":
                flat.impress(mask, turn + draw.gauss(0, 5), place)
            else:
                flat.paste(inked(mask, INKS["gold" if as_ == "gilt" else draw.choice(["brown", "black", "green", "red"])], 0.92),
                           turn + draw.gauss(0, 5), as_ == "gilt", 0, place)
            truth["treatment_number"] = {"text": number, "as": as_}
