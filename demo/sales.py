# SPDX-License-Identifier: Apache-2.0
"""600 invented sales, drawn from the model of prices (docs/worth.md): the logarithm of a price is the sum of what form,
shape, decoration, treatment, condition, grade, market, venue, year and size make of it, and noise. Three in a hundred
records are mistaken: a slip of the pen, a set sold as one, a piece that was something else.

Two currencies: each has its sales, and no rate between them is meant. 80 of the sales are in GBP, as if from shops on
the other shore, at a level of their own.
"""

import math

from cupboard import Draw, Reference

SEED = 1931
SALES, IN_GBP = 600, 80
FIRST_YEAR, LAST_YEAR = 2012, 2025
# What a form brings beside a dinner plate, as a logarithm: what is hollow, lidded or large, and what breaks.
FORMS = {"dinner-plate": 0, "luncheon-plate": -0.15, "breakfast-plate": -0.2, "pie-plate": -0.45, "bread-plate": -0.55,
         "square-plate": 0.1, "octagon-plate": 0.15, "cake-plate": 0.5, "coupe-soup": -0.1, "rim-soup": 0.05,
         "fruit-dish": -0.6, "oatmeal-bowl": -0.3, "saucer": -0.9, "small-platter": 0.6, "large-platter": 1.05,
         "nappy": 0.55, "baker": 0.5, "gravy-stand": 0.15, "celery-tray": 0.45, "bread-tray": 0.6, "cup": -0.35,
         "coffee-cup": 0.1, "egg-cup": 0.25, "sugar": 0.55, "creamer": 0.35, "teapot": 1.5, "coffeepot": 1.6,
         "covered-dish": 1.35, "sauce-boat": 0.8, "jug": 0.95, "bowl": 0.4, "slop-bowl": 0.3, "butter-dish": 1.2,
         "jam-jar": 1.1}
SOLD_OFTEN = {"dinner-plate": 8, "luncheon-plate": 5, "bread-plate": 5, "saucer": 4, "cup": 5, "sugar": 4, "creamer": 4,
              "small-platter": 4, "large-platter": 4, "nappy": 4, "covered-dish": 3, "teapot": 3, "sauce-boat": 3}
CONDITIONS = {"mint": (0.22, 2), "good": (0.02, 5), "fair": (-0.25, 3), "poor": (-0.6, 1), "damaged": (-1.05, 1.5)}
VENUES = [("Tollgate Rooms, auction (invented)", "auction", -0.05, 6), ("Ambrel Bridge salerooms (invented)", "auction", 0.05, 4),
          ("The Corner Shelf, dealer (invented)", "dealer", 0.45, 4), ("Quillet & Dace, dealer (invented)", "dealer", 0.55, 2),
          ("Pinmarsh flea market (invented)", "fair", -0.25, 3), ("Drovemere fair (invented)", "fair", -0.15, 2),
          ("online sale (invented)", "online", 0.1, 6), ("private sale (invented)", "private", -0.05, 1)]
NOTES = {"slip": "Price as printed in the list.", "set": "", "other": ""}
COLUMNS = ["id", "date", "price", "currency", "form", "treatment", "shape", "size_mm", "condition", "grade", "venue",
           "market", "source", "note"]


class Effects:
    """One effect for each name, drawn when it is first asked for."""

    def __init__(self, draw, sigma):
        self.draw, self.sigma, self.known = draw, sigma, {}

    def __getitem__(self, name):
        if name not in self.known:
            self.known[name] = self.draw.near(self.sigma)
        return self.known[name]


def rounded(price):
    """As people price: to halves under 10, to whole ones under 100, to fives above."""
    step = 0.5 if price < 10 else 1 if price < 100 else 5
    return max(step, round(price / step) * step)


def rows(tables):
    draw = Draw(SEED)
    reference = Reference(tables)
    treatments = list(reference.treatments)
    # Few treatments are met often: each comes up as one over its place in a drawn order.
    order = sorted(treatments, key=lambda _: draw.near(1))
    often = [1 / (3 + i) for i in range(len(order))]
    shape, decoration, treatment, cell = Effects(draw, 0.15), Effects(draw, 0.35), Effects(draw, 0.25), Effects(draw, 0.12)
    year_level = Effects(draw, 0.05)
    found = []
    for i in range(SALES):
        t = draw.one(order, often)
        row = reference.treatments[t]
        forms = [form for s, form in reference.sizes if s == row[1]]
        form = draw.one(forms, [SOLD_OFTEN.get(f, 1) for f in forms])
        decorated = ";".join(sorted(f"{place}={ornament}" for place, ornament, _, share in reference.rows.get(t, []) if share))
        venue, market, level, _ = draw.one(VENUES, [v[3] for v in VENUES])
        condition = draw.one(list(CONDITIONS), [weight for _, weight in CONDITIONS.values()])
        grade = row[5] if row[5] != "any" else ("second" if draw.chance(0.25) else "first")
        year, month, day = draw.one(range(FIRST_YEAR, LAST_YEAR + 1)), draw.one(range(1, 13)), draw.one(range(1, 29))
        length = float(reference.sizes[(row[1], form)][3] or 0)
        size = length + draw.near(2) if length and draw.chance(0.6) else None
        log_price = (math.log(24) + FORMS[form] + shape[row[1]] + decoration[decorated] + treatment[t] + cell[t, form]
                     + CONDITIONS[condition][0] + (-0.45 if grade == "second" else 0.05) + level
                     - 0.012 * (year - 2018) + year_level[year] + draw.near(0.33))
        kind = draw.one(["sound", "slip", "set", "other"], [97, 1, 1, 1])
        log_price += {"sound": 0, "slip": math.log(10), "set": math.log(5), "other": -1.6}[kind]
        gbp = i % (SALES // IN_GBP) == 3 and sum(r["currency"] == "GBP" for r in found) < IN_GBP
        if gbp:
            log_price -= 0.2  # a level of its own, not a rate
        precision = draw.one(["day", "month", "year"], [80, 15, 5])
        date = f"{year}-{month:02}-{day:02}" if precision == "day" else f"{year}-{month:02}" if precision == "month" else f"{year}"
        unidentified = draw.chance(0.05)
        found.append({
            "date": date, "price": f"{rounded(math.exp(log_price)):g}", "currency": "GBP" if gbp else "USD", "form": form,
            "treatment": "" if unidentified else f"ambrel-valley:{t}", "shape": row[1] if unidentified else "",
            "size_mm": f"{size:.0f}" if size else "", "condition": condition if draw.chance(0.95) else "",
            "grade": grade if draw.chance(0.8) else "", "venue": venue, "market": market,
            "source": f"invented list {year}, no. {draw.one(range(1, 900))}", "note": NOTES.get(kind, "")})
    found.sort(key=lambda r: r["date"])
    for i, r in enumerate(found, 1):
        r["id"] = f"sale-{i:04}"
    return [[r[column] for column in COLUMNS] for r in found]
