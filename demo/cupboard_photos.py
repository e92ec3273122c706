# SPDX-License-Identifier: Apache-2.0
"""Which pieces of the cupboard have photographs, and how they lie there. demo/photos/shown.py renders them into
demo/cupboard/photos, demo/make.py names them in the piece files."""

# piece, side, table, tilt, with card, further wishes
PIECES = [
    ("p-0001", "front", "oak", 27, True, {}),
    ("p-0003", "front", "linen", 18, True, {}),
    ("p-0004", "front", "walnut", 31, True, {}),
    ("p-0004", "back", "linen", 14, False, {"close": True}),
    ("p-0010", "front", "blue cloth", 24, False, {}),
    ("p-0017", "back", "grey paper", 10, False, {"close": True}),
    ("p-0017", "front", "stripe cloth", 20, True, {}),
    ("p-0024", "front", "pine", 33, False, {}),
    ("p-0025", "front", "green cloth", 12, True, {}),
    ("p-0030", "front", "check cloth", 16, True, {}),
    ("p-0039", "front", "black paper", 9, True, {}),
    ("p-0042", "front", "flower cloth", 22, False, {}),
    ("p-0045", "front", "grey wood", 26, True, {}),
    ("p-0046", "front", "red cloth", 19, True, {}),
    ("p-0049", "front", "stone", 28, True, {}),
    ("p-0056", "front", "oak", 15, True, {}),
    ("p-0058", "front", "walnut", 23, False, {}),
    ("p-0059", "front", "pale cloth", 13, True, {}),
    ("p-0092", "front", "red cloth", 30, False, {}),
    ("p-0071", "front", "grey paper", 7, True, {}),
    ("p-0075", "front", "pine", 21, True, {}),
    ("p-0076", "front", "blue cloth", 17, False, {}),
    ("p-0079", "front", "green cloth", 25, False, {}),
    ("p-0098", "front", "walnut", 11, True, {}),
    ("p-0106", "front", "check cloth", 29, True, {}),
    ("p-0106", "back", "oak", 12, False, {"close": True}),
    ("p-0113", "front", "print", 20, True, {}),
    ("p-0117", "front", "grey wood", 8, False, {}),
]


def names_of(piece_id):
    """File names of a piece's photographs."""
    return [f"{piece}-{side}.jpg" for piece, side, *_ in PIECES if piece == piece_id]
