# SPDX-License-Identifier: Apache-2.0
"""The six services that the owner of the invented cupboard is building. Format: docs/services.md."""


def line(*forms, name="", count=1, trade_size=""):
    made = {"name": name} if name else {}
    made |= {"forms": list(forms), "count": count}
    return made | ({"trade_size": trade_size} if trade_size else {})


COMPOSITIONS = [
    {"id": "supper", "name": "Supper things", "settings": 2,
     "setting": [line("dinner-plate"), line("fruit-dish"), line("cup"), line("saucer")],
     "serving": [line("nappy", "baker", name="Vegetable dish", count=2), line("sugar"), line("creamer"), line("jug")],
     "note": "What the table by the window holds."},
    {"id": "tea-for-one", "name": "Tea for one", "settings": 1,
     "setting": [line("dinner-plate", "bread-plate", name="Plate"), line("cup"), line("saucer")],
     "serving": [], "note": ""},
    {"id": "side-table", "name": "Side table", "settings": 0, "setting": [],
     "serving": [line("fruit-dish", count=2), line("covered-dish"), line("large-platter", "small-platter", name="Platter"),
                 line("sauce-boat"), line("butter-dish")], "note": "Serving pieces only."},
]

SERVICES = [
    {"id": "fern-rosette", "name": "Fern pair with rosette", "treatments": ["t-117", "t-617"], "composition": "supper",
     "worst_wear": "moderate", "refuse": ["p-0009"],
     "note": "First and second grade together. The jug stays where it is."},
    {"id": "fern-wreath", "name": "Fern pair with wreath", "treatments": ["t-127", "t-627"],
     "composition": {"id": "", "name": "Tea things", "settings": 2, "setting": [line("cup"), line("saucer")],
                     "serving": [line("sugar"), line("creamer")], "note": ""},
     "note": "Cups, sugars and creamers are the same as those with the rosette."},
    {"id": "tulip-tea", "name": "Tulip tea", "treatments": ["t-t9"], "composition": "tea-for-one", "grades": "first",
     "note": ""},
    {"id": "wave-side-table", "name": "Wave scroll on the side table", "treatments": ["t-w4", "t-w4x"],
     "composition": "side-table", "insist": ["p-0019"],
     "note": "The covered dish is the one without the star; it stands in until the right one turns up."},
    {"id": "honey-52", "name": "Fern ladder, 52 pieces", "treatments": ["t-106", "t-606"], "composition": "set-of-52",
     "least_odds": 0.4, "note": "Hardly begun."},
    {"id": "apple-tea", "name": "Apple bough tea", "treatments": ["t-t7"], "composition": "tea-for-6", "settings": 2,
     "worst_faults": "few", "setting_value": 60, "note": ""},
]


def services_file():
    return {"compositions": COMPOSITIONS, "services": SERVICES}
