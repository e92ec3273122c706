# SPDX-License-Identifier: Apache-2.0
"""footring worth: sales, estimates, hauls, and what it refuses."""
import json

from program import DEMO, ROOT

SALES = ROOT / "demo/cupboard/sales.csv"
BASE = ["worth", "--pack", DEMO, "--sales", SALES]
HAUL = {"name": "Box of seconds", "premium_percent": 25, "carriage": 12, "selling_percent": 13, "margin_percent": 30, "date": "2026-01",
        "pieces": [{"form": "dinner-plate", "treatment": "t-117", "condition": "fair", "count": 4},
                   {"piece": {"id": "p-1", "form": "sugar", "looks": [{"place": "rim", "value": "fern-pair", "sure": "likely"}]}}]}


def check(program, tally, golden):
    said = program.answers("a described thing", [*BASE, "--form", "teapot", "--treatment", "t-117", "--condition", "good",
                                                 "--date", "2026-01", "--json"]).json()
    tally.equal("members of an estimate", list(said),
                ["piece", "currency", "date", "market", "condition", "worth", "words", "identities", "base", "terms", "comparables",
                 "based_on", "defers", "notes"])
    tally.equal("its currency, and what is left out", (said["currency"], said["based_on"]["sales"], said["based_on"]["left_out"]),
                ("USD", 520, [{"why": "in GBP; no exchange rate is assumed", "count": 80}]))
    price = said["base"]["price"]
    for term in said["terms"]:
        price *= term["factor"]
    middle = said["identities"][0]["median"]
    tally.check("base and factors multiply to the middle price", abs(price / middle - 1) < 0.01, f"{price} {middle}")
    low, high = said["worth"]["ninety"]
    tally.check("the interval holds the median", low < said["worth"]["median"] < high)
    tally.check("comparable sales are shown", len(said["comparables"]) == 8, str(said["comparables"]))
    cheap = program.answers("a saucer", [*BASE, "--form", "saucer", "--treatment", "t-117", "--date", "2026-01", "--json"]).json()
    tally.check("a saucer is cheaper than a teapot", 3 * cheap["worth"]["median"] < said["worth"]["median"])
    damaged = program.answers("a damaged teapot", [*BASE, "--form", "teapot", "--treatment", "t-117", "--condition", "chipped",
                                                   "--date", "2026-01", "--json"]).json()
    tally.check("damage costs", 1.5 * damaged["worth"]["median"] < said["worth"]["median"])
    piece = program.answers("a piece", [*BASE, ROOT / "demo/cupboard/pieces/p-0041.json", "--date", "2026-01", "--json"]).json()
    tally.equal("a piece keeps its id", piece["piece"], "p-0041")
    tally.check("it may be several things", len(piece["identities"]) > 3)
    tally.check("whose odds sum to one", abs(sum(i["probability"] for i in piece["identities"]) - 1) < 0.01)
    model = program.answers("the sales as a whole", [*BASE, "--json"]).json()
    tally.check("records that look mistaken are named", 5 <= len(model["doubtful"]) <= 40, str(len(model["doubtful"])))
    page = program.answers("a page", [*BASE, "--form", "teapot", "--date", "2026-01"]).out
    tally.check("a page defers to an appraiser", "ask a qualified appraiser" in " ".join(page.split()))

    path = program.write("haul.json", json.dumps(HAUL))
    lot = program.answers("a haul", [*BASE, "--haul", path, "--json"]).json()
    outlay, income = lot["top_bid"] * 1.25 + 12, lot["mean"] * 0.87
    tally.check("the top bid leaves the margin on average", abs(income / outlay / 1.3 - 1) < 0.001, f"{income} {outlay}")
    tally.equal("pieces of the lot", lot["pieces_count"], 5)
    tally.check("the cost is shared whole", abs(sum(p["cost_share"] for p in lot["pieces"]) - lot["at_bid"]["outlay"]) < 0.011)
    tally.equal("a haul is the same each time", program.answers("again", [*BASE, "--haul", path, "--json"]).json(), lot)

    bad = program.write("bad.csv", "date,price,currency,form,treatment\n2019,-4,USD,dinner-plate,t-117\n2199,5,USD,dinner-plat,t-117\n"
                                   "2019,5,XQX,dinner-plate,t-117\n2019,99999999,USD,dinner-plate,t-117\n")
    said = program.run("worth", "--pack", DEMO, "--sales", bad)
    lines = [line.replace(str(bad), "bad.csv") for line in said.err.splitlines()]
    tally.equal("every fault of the sales is told", [line.split("; today")[0] for line in lines],
                ["bad.csv:2: price: -4 is a negative price: give what was paid",
                 "bad.csv:3: date: '2199' is in the future: give the day on which it was sold",
                 "bad.csv:3: form: there is no form 'dinner-plat': did you mean 'dinner-plate'?",
                 "bad.csv:4: currency: 'XQX' is not a currency of ISO 4217: give its code of three letters, as in USD",
                 "bad.csv:5: price: 99999999 USD for one piece of tableware cannot be right: check the decimal point and the currency"])
    tally.equal("and the status says so", said.status, 2)
    few = program.write("few.csv", "date,price,currency,form\n2019,20,USD,dinner-plate\n2019,30,USD,dinner-plate\n")
    program.refuses("two sales", ["worth", "--pack", DEMO, "--sales", few], 3,
                    ["sales: there are only 2 sales in USD: record or import at least 8 of one currency"])
    program.refuses("no sales in a currency", [*BASE, "--currency", "JPY"], 3,
                    ["--currency: there are no sales in JPY: name a currency of the sales; no exchange rate is assumed"])
    program.refuses("words that are none", [*BASE, "--condition", "rough", "--form", "teapott", "--currency", "dollars"], 2,
                    ["--condition: 'rough' is none of its words: use mint, good, fair, poor or damaged",
                     "--currency: 'dollars' is not a currency of ISO 4217: give its code of three letters, as in USD",
                     "--form: there is no form 'teapott': did you mean 'teapot'?"])
    wrong = program.write("wrong.json", '{"pieces": [{"form": "saucer", "count": 0}, {"form": "sauser"}], "premium_percent": -1}')
    program.refuses("a haul with faults", [*BASE, "--haul", wrong], 2,
                    [f"{wrong}: /premium_percent: this is not a number from 0 to 200: mend it, or leave it out",
                     f"{wrong}: /pieces/0/count: this is not a whole number from 1 to 2000: mend it, or leave it out for 1",
                     f"{wrong}: /pieces/1/form: there is no form 'sauser': did you mean 'saucer'?"])
