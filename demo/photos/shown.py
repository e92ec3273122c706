#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The photographs that are kept with the program: of pieces of the demonstration cupboard (demo/cupboard/photos, named in the
piece files) and some more of everything (demo/photos/shown). Small enough to keep.

    demo/photos/shown.py [NAME...]      renders those that are missing, or the named ones anew

A piece is painted as its piece file says: what was seen at each place, its wear and faults, its mark and number, its length."""

import json
import pathlib
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))

sys.path.insert(1, str(pathlib.Path(__file__).resolve().parent.parent))

from cupboard_photos import PIECES  # noqa: E402
from pack import Pack  # noqa: E402
from render import photograph, put  # noqa: E402
from scene import Scene  # noqa: E402

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
SIZE, QUALITY = (1280, 960), 88
FAULTS = {"none": 0, "few": 1.4, "many": 6.5}

# name, wishes
MORE = [
    ("octagon-canary", {"treatment": "t-lintel-f", "form": "octagon-plate", "table": "linen", "tilt_deg": 24, "card": True}),
    ("square-towpath", {"treatment": "t-t9", "form": "square-plate", "table": "blue cloth", "tilt_deg": 17, "card": True, "spin_deg": 8}),
    ("square-bare", {"treatment": "t-t7", "form": "square-plate", "bears": {}, "table": "walnut", "tilt_deg": 30, "card": False, "spin_deg": -31}),
    ("key-band-steep", {"treatment": "t-209", "form": "dinner-plate", "table": "oak", "tilt_deg": 43, "card": True}),
    ("pale-on-pale", {"treatment": "t-201", "form": "dinner-plate", "table": "pale cloth", "tilt_deg": 20, "card": True}),
    ("trellis-worn", {"treatment": "t-121", "form": "luncheon-plate", "wear": "heavy", "table": "green cloth", "tilt_deg": 14, "card": True}),
    ("wedge-missing", {"treatment": "t-119", "form": "dinner-plate", "wedge": True, "table": "grey wood", "tilt_deg": 22, "card": True}),
    ("chips-and-specks", {"treatment": "t-123", "form": "pie-plate", "chips": 3, "specks_per_dm2": 7, "table": "stone", "tilt_deg": 12, "card": True}),
    ("two-plates", {"treatment": "t-216", "form": "breakfast-plate", "second": True, "table": "stripe cloth", "tilt_deg": 27, "card": False}),
    ("cut-by-border", {"treatment": "t-206", "form": "dinner-plate", "cropped": True, "card": False, "table": "red cloth", "tilt_deg": 16}),
    ("underside-curved", {"side": "back", "treatment": "t-117", "form": "dinner-plate", "mark": "m-4", "mark_as": "curved", "close": True, "table": "oak", "tilt_deg": 10}),
    ("underside-whole", {"side": "back", "treatment": "t-w4", "form": "dinner-plate", "mark": "m-14", "mark_as": "drawing", "close": False, "card": True, "table": "linen", "tilt_deg": 18}),
    ("underside-bare", {"side": "back", "treatment": "t-2814", "form": "saucer", "mark": None, "number_as": "impressed", "close": False, "card": True, "table": "walnut", "tilt_deg": 12}),
    ("underside-lines", {"side": "back", "treatment": "t-5109", "form": "pie-plate", "mark": "m-26", "mark_as": "lines", "close": True, "table": "blue cloth", "tilt_deg": 15}),
    ("no-piece", {"side": "none", "table": "oak", "tilt_deg": 15, "card": True}),
]


def wishes_of(pack, piece, treatment, side):
    """What the piece file says, as wishes of a scene."""
    bears = {}
    carried = pack.bears(treatment, piece["form"], lambda q: q >= 0.5) if treatment in pack.treatments else {}
    worn = []
    seen = {look["place"]: look["value"] for look in piece["looks"]}
    for place in ("rim", "edge", "verge", "centre"):
        value = seen.get(place, "unlooked")
        if value in ("something", "worn", "unlooked"):
            bears[place] = carried.get(place, [])
            worn += [place] if value == "worn" else []
        else:
            bears[place] = [] if value == "none" else [value] + [o for o in carried.get(place, []) if o != value and value in carried[place]]
    wishes = {"side": side, "form": piece["form"], "bears": bears, "worn_places": worn, "wear": piece.get("wear", "none"),
              "specks_per_dm2": FAULTS[piece.get("faults", "none")], "crazed": False, "chips": 0, "wedge": False, "exif": True,
              "orientation": 1, "portrait": False, "cropped": False, "label": False, "second": False}
    if treatment in pack.treatments:
        wishes["treatment"] = treatment
    if "glaze" in piece:
        wishes["glaze"] = piece["glaze"]["value"]
    if "length_mm" in piece:
        wishes["length_mm"] = piece["length_mm"]
    if side == "back":
        mark = piece.get("mark", {"value": "none"})["value"]
        wishes.update({"mark": None if mark == "none" else mark, "mark_as": "drawing", "warm": 0.01, "card": False,
                       "number_as": "none" if piece.get("number", {"value": "none"})["value"] == "none" else "gilt"})
    return wishes


def entries():
    """name -> (folder, seed, wishes, piece id or nothing)"""
    pack = Pack(ROOT / "packs/ambrel-valley")
    truth = json.loads((ROOT / "demo/cupboard/truth.json").read_text("utf-8"))
    found = {}
    for number, piece_id, side, table, tilt, card, more in PIECES:
        piece = json.loads((ROOT / f"demo/cupboard/pieces/{piece_id}.json").read_text("utf-8"))
        wishes = {**wishes_of(pack, piece, truth[piece_id], side), "table": table, "tilt_deg": tilt, "card": card, **more}
        found[f"{piece_id}-{side}"] = (ROOT / "demo/cupboard/photos", number, wishes, piece_id)
    for k, (name, wishes) in enumerate(MORE):
        plain = {"side": "front", "orientation": 6 if name == "key-band-steep" else 1, "portrait": False, "cropped": False, "wear": "light",
                 "second": False, "label": False, "chips": 0, "wedge": False, "specks_per_dm2": 0, "crazed": False, "exif": True}
        found[name] = (ROOT / "demo/photos/shown", 9100 + k, {**plain, **wishes}, None)
    return pack, found


def main(names):
    pack, found = entries()
    # Undersides and bowls last: they take longest.
    slow = [n for n in found if found[n][2].get("form") in ("nappy", "bowl") or found[n][2]["side"] == "back"]
    for name in sorted(found, key=lambda n: n in slow):
        folder, number, wishes, piece = found[name]
        photo = folder / f"{name}.jpg"
        if name not in names if names else photo.exists():
            continue
        scene = Scene(pack, 3, number, {"stops": -0.02, **wishes})
        data, truth = photograph(scene, SIZE, QUALITY, fine=False)
        truth.update({"file": photo.name, **({"piece": piece} if piece else {})})
        folder.mkdir(parents=True, exist_ok=True)
        put(photo, data)
        put(photo.with_suffix(".json"), (json.dumps(truth, indent=1, ensure_ascii=False) + "\n").encode())
        print(photo.relative_to(ROOT), len(data) // 1024, "kB", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
