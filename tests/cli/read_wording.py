# SPDX-License-Identifier: Apache-2.0
"""From a photograph of an underside to a date: the wording is read, found to be a clue of a law, and heard by `date`.

The photographs are drawn here: a glazed underside with foot ring and lamp, wording of no maker in plain capitals."""
import json
import urllib.request

import numpy
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from program import DEMO
from serving import serving

FONT = "/usr/share/fonts/truetype/lato/Lato-Bold.ttf"
SIZE = (1200, 900)


def underside(path, lines, turned_deg, capital_px=24):
    """A plate turned over, from straight above, with lines of wording in the middle."""
    width, height = SIZE
    y, x = numpy.mgrid[0:height, 0:width]
    radius = 0.46 * height
    dx, dy = (x - width / 2) / radius, (y - height / 2) / radius
    d = numpy.hypot(dx, dy)
    light = 1 + 0.06 * dx + 0.04 * dy
    for at, deep in ((0.62, -0.14), (0.645, 0.07), (0.985, -0.12)):
        light += deep * numpy.exp(-((d - at) / 0.012) ** 2)
    lamp = 45 * numpy.exp(-((dx - 0.3) / 0.1) ** 2 - ((dy + 0.28) / 0.05) ** 2)
    plate = numpy.array([230, 222, 205])[None, None, :] * light[..., None] + lamp[..., None]
    table = numpy.array([110, 90, 70])[None, None, :] + 8 * numpy.sin(x * 0.21)[..., None]
    picture = Image.fromarray(numpy.clip(numpy.where(d[..., None] < 1, plate, table), 0, 255).astype("uint8"))
    print_on = Image.new("L", SIZE, 0)
    font = ImageFont.truetype(FONT, round(capital_px / 0.72))
    draw = ImageDraw.Draw(print_on)
    for at, line in enumerate(lines):
        draw.text((width / 2, height / 2 + (at - (len(lines) - 1) / 2) * 1.8 * capital_px), line, 255, font, "mm")
    print_on = print_on.rotate(-turned_deg, Image.Resampling.BICUBIC, center=(width / 2, height / 2))
    picture.paste((60, 66, 70), mask=print_on)
    picture = picture.filter(ImageFilter.GaussianBlur(0.8))
    grain = numpy.random.default_rng(7).normal(0, 2.5, (height, width, 3))
    Image.fromarray(numpy.clip(numpy.asarray(picture) + grain, 0, 255).astype("uint8")).save(path, quality=92)


def ask(address, path, body, kind="application/json"):
    data = body if isinstance(body, bytes) else json.dumps(body).encode()
    request = urllib.request.Request(address.rstrip("/") + path, data, {"Content-Type": kind})
    with urllib.request.urlopen(request, timeout=120) as answer:
        return json.loads(answer.read())


def counted(clues):
    return [(c["clue"], c["years"]) for c in clues["clues"] if not c["within"]] if clues else []


def check(program, tally, golden):
    japan = program.folder / "japan.jpg"
    underside(japan, ["MADE IN", "OCCUPIED JAPAN"], 0)
    underside(program.folder / "turned.jpg", ["MADE IN", "OCCUPIED JAPAN"], 147)
    underside(program.folder / "number.jpg", ["Rd No 424100", "MADE IN ENGLAND"], 12)
    for name in ("japan.jpg", "turned.jpg"):
        seen = program.answers(f"read of {name}", ["read", "--json", "--side", "back", name]).json()
        tally.equal(f"{name}: two lines of wording are one clue", counted(seen["clues"]),
                    [("occupied-japan", "1947-02-20/1952-04-28")])
    seen = program.answers("read of number.jpg", ["read", "--json", "--side", "back", "number.jpg"]).json()
    found = dict(counted(seen["clues"]))
    tally.equal("a registered number is read and dated", found.get("uk-registered-designs"), "1903/..")
    page = program.answers("read as a page", ["read", "--side", "back", "japan.jpg"]).out
    tally.check("the page tells what the wording tells",
                'Made in Occupied Japan ("MADE IN OCCUPIED JAPAN"): between 20 February 1947' in page, page)

    # The same photograph in the cupboard: the web app reads it, and from then on both it and `date` hear it.
    piece = {"id": "p-1", "form": "dinner-plate", "shape": {"value": "harrow", "sure": "likely"}}
    program.write("p-1.json", piece)
    dated = ["date", "--json", "--pack", DEMO, "--data", "data", "p-1.json"]
    with serving(program, "--pack", DEMO, "--data", "data", "--json") as (line, _):
        address = json.loads(line)["address"]
        ask(address, "/api/pieces", {"piece": piece})
        photo = ask(address, "/api/pieces/p-1/photos?name=japan.jpg", japan.read_bytes(), "image/jpeg")["sha256"]
        before = ask(address, "/api/date", {"piece": piece})
        read = ask(address, f"/api/photos/{photo}/read", {"side": "back"})
        tally.equal("the reading has the clue", counted(read["clues"]), [("occupied-japan", "1947-02-20/1952-04-28")])
        after = ask(address, "/api/date", {"piece": piece})
        mine = lambda answer: [s for s in answer["statements"] if s["subject"].startswith("wording ")]
        tally.equal("before it is read nothing is heard", mine(before), [])
        tally.equal("then the wording is a statement", [s["subject"] for s in mine(after)], ["wording occupied-japan"])
        tally.check("it names the photograph", "photograph japan.jpg" in mine(after)[0]["what"], mine(after))
        confidence = sum(w["confidence"] for w in read["reading"]["wording"]) / len(read["reading"]["wording"])
        tally.check("it is trusted as far as it was read surely", abs(mine(after)[0]["trust"] - 0.98 * confidence) < 0.02,
                    (mine(after)[0]["trust"], confidence))
        tally.check("the date moves to where the wording points", after["date"]["median"] > before["date"]["median"] + 2,
                    (before["date"]["median"], after["date"]["median"]))
    told = program.answers("date with what photographs read", dated).json()
    tally.equal("the command says what the web app says", told, after)
    tally.equal("without the cupboard nothing was read", [s for s in program.answers("date alone", dated[:4] + ["p-1.json"]).json()
                                                          ["statements"] if s["subject"].startswith("wording ")], [])
