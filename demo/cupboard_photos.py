# SPDX-License-Identifier: Apache-2.0
"""Which pieces of the cupboard have photographs, and how they lie there. demo/photos/shown.py renders them into
demo/cupboard/photos, demo/make.py names them in the piece files."""

# number of the scene, piece, side, table, tilt, with card, further wishes
PIECES = [
    (9000, "p-0001", "front", "oak", 27, True, {}),
    (9001, "p-0003", "front", "linen", 18, True, {}),
    (9002, "p-0004", "front", "walnut", 31, True, {}),
    (9003, "p-0004", "back", "linen", 14, False, {"close": True}),
    (9004, "p-0010", "front", "blue cloth", 24, False, {}),
    (9005, "p-0017", "back", "grey paper", 10, False, {"close": True}),
    (9006, "p-0017", "front", "stripe cloth", 20, True, {}),
    (9007, "p-0024", "front", "pine", 33, False, {}),
    (9008, "p-0025", "front", "green cloth", 12, True, {}),
    (9009, "p-0030", "front", "check cloth", 16, True, {}),
    (9010, "p-0039", "front", "black paper", 9, True, {}),
    (9011, "p-0042", "front", "flower cloth", 22, False, {}),
    (9013, "p-0046", "front", "red cloth", 19, True, {}),
    (9014, "p-0049", "front", "stone", 28, True, {}),
    (9015, "p-0056", "front", "oak", 15, True, {}),
    (9016, "p-0058", "front", "walnut", 23, False, {}),
    (9017, "p-0059", "front", "pale cloth", 13, True, {}),
    (9018, "p-0092", "front", "red cloth", 30, False, {}),
    (9019, "p-0071", "front", "grey paper", 7, True, {}),
    (9021, "p-0076", "front", "blue cloth", 17, False, {}),
    (9023, "p-0098", "front", "walnut", 11, True, {}),
    (9024, "p-0106", "front", "check cloth", 29, True, {}),
    (9025, "p-0106", "back", "oak", 12, False, {"close": True}),
    (9026, "p-0113", "front", "print", 20, True, {}),
    (9027, "p-0117", "front", "grey wood", 8, False, {}),
]


def names_of(piece_id):
    """File names of a piece's photographs."""
    return [f"{piece}-{side}.jpg" for _, piece, side, *_ in PIECES if piece == piece_id]
