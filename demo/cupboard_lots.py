# SPDX-License-Identifier: Apache-2.0
"""The twelve lots that the cupboard was bought in, and the small words of its records."""


def _lot(i, name, date, place, cost, currency, note, pieces, treatments, outsiders=None):
    return {"id": f"lot-{i:02d}", "name": name, "date": date, "place": place, "cost": cost, "currency": currency,
            "note": note, "pieces": pieces, "treatments": treatments, "outsiders": outsiders or {},
            "each": round(cost / pieces, 2)}


# treatments: ids, or a shape id for any treatment of that shape, or a glaze id
LOTS = [
    _lot(1, "Harrow service from a house clearance", "2016-05-21", "House clearance, Upper Tarn Lane (invented)", 140.0,
         "USD", "Two treatments mixed in one service.", 16, ["t-117", "t-117", "t-127", "t-617"]),
    _lot(2, "Weir tea things", "2017-03", "Market hall, Ambrel Bridge (invented)", 46.0, "USD", "", 9,
         ["t-w4", "t-w5", "t-w4x"]),
    _lot(3, "Box of seconds", "2017-09-02", "Barn sale, Drovemere (invented)", 12.0, "USD", "Sold by weight.", 10,
         ["t-104", "t-135", "t-617", "t-606", "t-w28", "t-2822"]),
    _lot(4, "Six good pieces, bought singly", "2018~", "Several stalls", 95.0, "USD", "", 5,
         ["t-m3", "t-m5", "t-2806", "t-w15", "t-o7"]),
    _lot(5, "One sugar bowl", "2024-10-06", "Flea market, Pinmarsh (invented)", 9.0, "USD",
         "The seller knew nothing of it.", 1, ["t-117"]),
    _lot(6, "Medlar and Bullace, mixed", "2019-06-15", "Auction, Ambrel Bridge (invented)", 130.0, "USD",
         "Lot 212; 14 pieces and two chipped ones given away.", 14, ["medlar", "bullace"], {9: "unlisted"}),
    _lot(7, "Coulter, early ware", "2020-02", "By letter from a collector", 118.0, "USD", "", 10, ["coulter"]),
    _lot(8, "Drovemere oranges and yellows", "2021-08-28", "Estate sale, Drovemere (invented)", 88.0, "USD",
         "Ask the counter about the orange ones.", 9, ["lintel", "corbel"], {4: "elsewhere"}),
    _lot(9, "Costard for daily use", "2022-01-15/2022-03", "Charity shops", 31.5, "USD", "Bought to eat from.", 10,
         ["costard", "winnow"]),
    _lot(10, "Dealer's stock, unsorted", "2023-04-29", "Nettle & Crane, closing sale (invented)", 175.0, "USD",
         "Twenty pieces that the dealer could not name.", 20,
         ["harrow", "weir", "towpath", "osier", "medlar"], {3: "unlisted", 8: "elsewhere", 15: "unlisted"}),
    _lot(11, "Gift of a neighbour", "2023?", "Gift", 0.0, "USD", "No price; kept for the family's sake.", 6,
         ["t-t6", "t-t7", "t-t9"], {5: "elsewhere"}),
    _lot(12, "Fern pair from abroad", "2024-11", "Sent from overseas", 92.0, "EUR",
         "Every shape that bears the fern, for comparison.", 10,
         ["t-212", "t-162", "t-303", "t-o11", "t-w7", "t-t14", "t-2809", "t-3519", "t-lintel-117", "t-m7"]),
]

# How often a form is met; all others 2.
COMMON = {"dinner-plate": 8, "bread-plate": 7, "saucer": 7, "cup": 7, "pie-plate": 5, "fruit-dish": 5, "sugar": 4,
          "creamer": 4, "small-platter": 4, "large-platter": 3, "covered-dish": 4, "nappy": 4, "baker": 3}

KEPT = ["Glass case", "Oak dresser, left", "Oak dresser, right", "Shelf A1", "Shelf A2", "Shelf B1", "Shelf B3",
        "Box 4", "Box 7", "Kitchen"]
NOTES = ["", "", "", "", "Hairline from the edge.", "Knife marks.", "Stained under the glaze.", "Fresh, as unused.",
         "Small flake at the foot.", "Gold rubbed by stacking.", "Old price in grease pencil.", "Crazed all over."]
REASONS = ["Stamp and glaze agree with the catalogue.", "Number read with the loupe.", "Compared with a marked plate.",
           "By the mark and its date code.", "Same service as its neighbours.",
           "By the centre, which only this one has.",
           "Edge and handle settle it."]


def pool(lot, treatments):
    """The treatments that a lot is drawn from; ids, shapes and glazes may be named."""
    found = []
    for name in lot["treatments"]:
        if name in treatments:
            found.append(name)
        else:
            some = [i for i, row in treatments.items() if name in (row[1], row[2])]
            if not some:
                raise ValueError(f"{lot['id']}: no treatment, shape or glaze {name}")
            found += some
    return found
