# SPDX-License-Identifier: Apache-2.0
"""The cupboard: 120 pieces in 12 lots, drawn from the pack's treatments and seen by a person who can be mistaken.

Everything random comes from Draw, which uses only random(), whose sequence for a seed Python promises not to change.
The draw follows the model of naming: loss by wear, unrecorded shares, sureness that is deserved.
"""

import json
import random
import re

import cupboard_letters
import cupboard_lots
import cupboard_photos
import cupboard_services
from pack_tables import LIDDED

SEED = 1912
PACK_NAME = "ambrel-valley"
PLACES = ("rim", "verge", "centre", "edge", "handle", "lid", "finial", "body", "inside")
HANDLED = ("cup", "coffee-cup", "sugar", "creamer", "teapot", "coffeepot", "covered-dish", "sauce-boat", "jug",
           "cake-plate")
LOSS = {"none": 0, "light": 0.05, "moderate": 0.2, "heavy": 0.5}
LOSS_AT = {"edge": 1, "handle": 1, "finial": 1, "centre": 0.3, "inside": 0.3}  # others 0.5
SURENESS = {"sure": 0.98, "likely": 0.85, "guess": 0.6}
# What is taken for what, in poor light.
CONFUSED = {"fern-pair": "barley-sprig", "barley-sprig": "fern-pair", "fern-ladder": "laurel-run",
            "laurel-run": "fern-ladder", "rosette": "compass-star", "compass-star": "rosette",
            "laurel-medallion": "fern-wreath", "fern-wreath": "laurel-medallion", "lace-edge": "arcade",
            "arcade": "lace-edge", "gold-line": "gold-hairline", "gold-hairline": "gold-line",
            "lyre-scroll": "shell-scroll", "shell-scroll": "lyre-scroll", "oat": "whey", "whey": "oat",
            "buttermilk": "whey", "snow": "chalk", "chalk": "snow", "frost": "snow", "hearth-white": "chalk",
            "harrow": "coulter", "coulter": "harrow", "medlar": "bullace", "bullace": "medlar"}


class Draw:
    def __init__(self, seed):
        self._random = random.Random(seed).random

    def chance(self, p):
        return self._random() < p

    def one(self, items, weights=None):
        weights = weights or [1] * len(items)
        at = self._random() * sum(weights)
        for item, weight in zip(items, weights):
            at -= weight
            if at < 0:
                return item
        return items[-1]

    def near(self, sigma):
        """About normal: the sum of twelve."""
        return sigma * (sum(self._random() for _ in range(12)) - 6)


def ends(years):
    """First and last year of a period as this pack writes it; open ends are those of the pack."""
    def year(text, unspecified):
        return int(text.strip("~?%").replace("X", unspecified)) if text not in ("", "..") else None
    first, _, last = years.partition("/")
    return year(first, "0") or 1888, (year(last, "9") if last else year(first, "9")) or 1974


class Reference:
    """The pack's tables by id."""

    def __init__(self, tables):
        def by_id(name):
            return {row[0]: row for row in tables[name]}
        self.treatments, self.shapes, self.glazes = by_id("treatments"), by_id("shapes"), by_id("glazes")
        self.ornaments, self.makers, self.marks, self.forms = map(by_id, ("ornaments", "makers", "marks", "forms"))
        self.schemes = {row[0]: json.loads(row[2]) for row in tables["code_schemes"]}
        self.sizes = {(row[0], row[1]): row for row in tables["shape_forms"]}
        self.rows = {}
        for treatment, place, ornament, on, share, _ in tables["treatment_ornaments"]:
            self.rows.setdefault(treatment, []).append((place, ornament, on, float(share or 1)))

    def years(self, treatment):
        row = self.treatments[treatment]
        spans = [ends(row[6]), ends(self.shapes[row[1]][3]), ends(self.glazes[row[2]][6])]
        spans += [ends(self.ornaments[o][9]) for _, o, _, share in self.rows.get(treatment, []) if share]
        return max(s[0] for s in spans), min(s[1] for s in spans)

    def maker(self, treatment):
        return self.makers[self.shapes[self.treatments[treatment][1]][1]]

    def carried(self, treatment, form, draw):
        """place -> ornament that this very piece bears."""
        ware = self.forms[form][2]
        found = {}
        for place in PLACES:
            rows = [(rank, o, share) for p, o, on, share in self.rows.get(treatment, []) if p == place
                    for rank in [{"*": 0, ware: 1, form: 2}.get(on)] if rank is not None]
            best = max((r[0] for r in rows), default=None)
            for rank, ornament, share in rows:
                if rank == best and draw.chance(share):
                    found[place] = ornament
        return found

    def code(self, mark, year, draw):
        scheme = self.marks[mark][7]
        if not scheme:
            return ""
        tables = self.schemes[scheme]
        if scheme == "code-ambrel":
            return draw.one(list(tables["month"])) + f"{year % 100:02d}"
        if scheme == "code-pell":
            decade = next((k for k, v in tables["decade"].items() if v == year // 10 * 10), None)
            return draw.one(list(tables["plant"])) + decade + str(year % 10) if decade else ""
        for token, means in tables["year"].items():
            if year in means if isinstance(means, list) else ends(means)[0] <= year <= ends(means)[1]:
                return token
        return ""


def places_of(form, ware):
    places = ["rim", "edge"]
    places += ["centre", "verge"] if ware == "flat" else ["body", "inside"]
    places += ["handle"] if form in HANDLED else []
    return places + (["lid", "finial"] if form in LIDDED else [])


class Observer:
    def __init__(self, draw):
        self.draw = draw

    def seen(self, truth, mistake="something"):
        """{value, sure}, right as often as the sureness says."""
        sure = self.draw.one(list(SURENESS), (70, 22, 8))
        if self.draw.chance(SURENESS[sure]):
            return {"value": truth, "sure": sure}
        if truth == "none":
            return {"value": "something", "sure": "guess"}
        return {"value": CONFUSED.get(truth, mistake), "sure": sure if sure != "sure" else "likely"}

    def number(self, number):
        text = re.sub(r"[0-9]", lambda d: "?" if self.draw.chance(0.12) else d.group(), number)
        if len(number) > 3 and self.draw.chance(0.15):
            text = number[:2] + "*"
        sure = self.draw.one(["sure", "likely", "guess"], (70, 25, 5))
        return {"value": text, "sure": sure}


def lost(ornament, place, wear, draw):
    kind, finish = ornament[2], ornament[3]
    over_glaze = finish in ("gold", "platinum", "silver") or kind == "line"
    return over_glaze and draw.chance(min(0.9, LOSS[wear] * LOSS_AT.get(place, 0.5)))


def observe(reference, i, treatment, form, grade, year, draw, shown=None):
    """A piece file of this treatment; `shown` overrides what it bears (outsiders)."""
    eye = Observer(draw)
    _, shape, glaze, number, *_ = reference.treatments[treatment]
    ware = reference.forms[form][2]
    carried = reference.carried(treatment, form, draw) if shown is None else shown
    wear = draw.one(["none", "light", "moderate", "heavy"], (22, 42, 27, 9))
    piece = {"id": i, "form": form}
    if draw.chance(0.86):
        piece["shape"] = eye.seen(shape, shape)
    if draw.chance(0.88):
        piece["glaze"] = eye.seen(glaze, glaze)
    if draw.chance(0.92):
        piece["wear"] = wear
    looks = []
    for place in places_of(form, ware):
        truth = carried.get(place, "none")
        usual = {"rim": 0.99, "edge": 0.85, "centre": 0.95, "handle": 0.7, "body": 0.6}.get(place, 0.45)
        if not draw.chance(usual):
            continue
        if truth != "none" and lost(reference.ornaments[truth], place, wear, draw):
            looks.append({"place": place, "value": draw.one(["none", "worn"]), "sure": draw.one(["sure", "likely"])})
        else:
            looks.append({"place": place, **eye.seen(truth)})
    piece["looks"] = looks
    maker = reference.maker(treatment)
    valid = [m for m, row in reference.marks.items()
             if row[1] == maker[0] and ends(row[4])[0] <= year <= ends(row[4])[1]
             and (row[5] == "*" or shape in row[5].split(";")) and (row[6] != "second" or grade == "second")]
    mark = draw.one(valid) if valid and not draw.chance(float(maker[5])) else None
    if draw.chance(0.9):
        piece["mark"] = eye.seen(mark) if mark else {"value": "none", "sure": "sure"}
    if number and shown is None and draw.chance(float(maker[6])):
        piece["number"] = eye.number(number)
    elif draw.chance(0.6):
        piece["number"] = {"value": "none", "sure": "sure"}
    code = reference.code(mark, year, draw) if mark and piece.get("mark", {}).get("value") == mark else ""
    if code and draw.chance(0.7):
        piece["date_code"] = code
    if draw.chance(0.85):
        piece["faults"] = draw.one(["none", "few", "many"], (10, 40, 50) if grade == "second" else (80, 18, 2))
    size = reference.sizes[(shape, form)]
    if draw.chance(0.65):
        piece["length_mm"] = round(float(size[3]) + draw.near(1.1))
        if size[4] and size[4] != size[3] and draw.chance(0.5):
            piece["width_mm"] = round(float(size[4]) + draw.near(1.0))
    if draw.chance(0.25):
        piece["height_mm"] = round(float(size[5]) + draw.near(0.9))
    piece["photos"] = []
    return piece


def first_piece():
    """p-0041, the one that a visitor sees first: a sugar bowl whose lid nobody has looked at. Three treatments of the
    same stamp and glaze fit the number; two of them are twins on a sugar, and the lid tells the third."""
    return {"id": "p-0041", "form": "sugar", "shape": {"value": "harrow", "sure": "likely"},
            "glaze": {"value": "oat", "sure": "sure"}, "wear": "moderate",
            "looks": [{"place": "rim", "value": "fern-pair", "sure": "sure"},
                      {"place": "edge", "value": "none", "sure": "likely"},
                      {"place": "handle", "value": "worn", "sure": "likely"}],
            "mark": {"value": "none", "sure": "sure"}, "number": {"value": "1?7", "sure": "likely"}, "faults": "few",
            "length_mm": 158, "photos": []}


def outsider(reference, i, kind, draw):
    """A piece of no listed treatment: a known shape with another border, or decorated elsewhere."""
    treatment = draw.one(sorted(t for t, r in reference.treatments.items() if r[3] and reference.rows.get(t)))
    shape = reference.treatments[treatment][1]
    forms = [f for s, f in reference.sizes if s == shape]
    used = {o for t, rows in reference.rows.items() if reference.treatments[t][1] == shape for _, o, _, _ in rows}
    strange = sorted(o for o, r in reference.ornaments.items() if o not in used and r[2] in ("stamp", "decal") and r[5])
    form = draw.one(forms)
    shown = {"rim": draw.one(strange), "edge": draw.one(["maroon-line", "platinum-line", "gold-double-line"])}
    if kind == "elsewhere":  # a decorator's mixture: nothing of it goes together in the book
        shown |= {place: draw.one(["mill-view", "pear-bough", "silver-compass", "basket-bouquet"])
                  for place in ("centre", "body")}
        shown["verge"] = shown["inside"] = "blue-line"
    piece = observe(reference, i, treatment, form, "first", reference.years(treatment)[0] + 3, draw, shown)
    if kind == "elsewhere":
        piece.pop("shape", None)
        piece["mark"] = {"value": "something", "sure": "sure"}
        piece.pop("date_code", None)
    return piece


def decision(reference, treatment, grade, year, draw):
    first, last = max(year - draw.one([2, 3, 5]), reference.years(treatment)[0]), min(
        year + draw.one([2, 3, 6]), reference.years(treatment)[1])
    said = treatment
    note = draw.one(cupboard_lots.REASONS)

    def rim(t):
        return {ornament for place, ornament, _, _ in reference.rows.get(t, []) if place == "rim"}

    same = [t for t in reference.rows if t != treatment and rim(t) == rim(treatment)
            and reference.treatments[t][1] == reference.treatments[treatment][1]]
    if same and draw.chance(0.08):  # the person decided wrongly, as happens
        said, note = draw.one(sorted(same)), "From memory, without the book."
    return {"treatment": f"{PACK_NAME}:{said}", "grade": grade, "date": f"{first}/{last}" if first < last else str(year), "note": note}


def pieces_and_records(reference):
    draw = Draw(SEED)
    pieces, records, truth = {}, {}, {}
    n = 0
    for lot in cupboard_lots.LOTS:
        for k in range(lot["pieces"]):
            n += 1
            i = f"p-{n:04d}"
            kind = lot["outsiders"].get(k)
            known = None
            if i == "p-0041":
                pieces[i], truth[i] = first_piece(), "t-117"
            elif kind:
                pieces[i], truth[i] = outsider(reference, i, kind, draw), kind
            else:
                treatment = draw.one(cupboard_lots.pool(lot, reference.treatments))
                shape = reference.treatments[treatment][1]
                forms = [f for s, f in reference.sizes if s == shape]
                form = draw.one(forms, [cupboard_lots.COMMON.get(f, 2) for f in forms])
                grade = reference.treatments[treatment][5]
                grade = ("second" if draw.chance(0.25) else "first") if grade == "any" else grade
                first, last = reference.years(treatment)
                year = first + int(draw.one(list(range(last - first + 1))))
                pieces[i], truth[i] = observe(reference, i, treatment, form, grade, year, draw), treatment
                known = (treatment, grade, year)
            records[i] = {"piece": i, "lot": lot["id"], "place": draw.one(cupboard_lots.KEPT),
                          "cost": round(lot["each"] * draw.one([0.5, 0.8, 1, 1, 1.2, 1.8]), 2),
                          "currency": lot["currency"], "note": draw.one(cupboard_lots.NOTES)}
            if known and draw.chance(0.55):
                records[i]["decision"] = decision(reference, *known, draw)
            elif kind and draw.chance(0.5):
                records[i]["decision"] = {"treatment": kind, "grade": "", "date": "", "note": "In no book that I have."}
    records["p-0041"]["note"] = "Bought alone. Lid taped down by the seller; not yet opened."
    return pieces, records, truth


def lots_file():
    return [{k: lot[k] for k in ("id", "name", "date", "place", "cost", "currency", "note")}
            for lot in cupboard_lots.LOTS]


def json_text(value):
    return json.dumps(value, indent=2, ensure_ascii=False) + "\n"


def files(tables):
    """path under demo/cupboard -> text"""
    pieces, records, truth = pieces_and_records(Reference(tables))
    for i, piece in pieces.items():
        piece["photos"] = cupboard_photos.names_of(i)
    result = {f"pieces/{i}.json": json_text(piece) for i, piece in pieces.items()}
    result["lots.json"] = json_text(lots_file())
    result["records.json"] = json_text(list(records.values()))
    result["services.json"] = json_text(cupboard_services.services_file())
    result["others.json"] = json_text(cupboard_letters.OTHERS)
    result["truth.json"] = json_text(truth)
    return result
