# SPDX-License-Identifier: Apache-2.0
"""footring apart, key and glyph: what the reference alone can tell."""
import xml.etree.ElementTree as xml

from program import DEMO
from small_packs import NORTH, SOUTH, write_pack


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    south = write_pack(program.folder / "south", SOUTH)
    check_apart(program, tally, golden, north, south)
    check_key(program, tally, golden, north)
    check_glyph(program, tally, north)


def check_apart(program, tally, golden, north, south):
    base = ["apart", "--pack", north, "--form"]
    jug = program.answers("apart on a jug", [*base, "jug", "n-1", "n-2", "n-3", "--json"]).json()
    tally.equal("n-1 and n-2 are twins on a jug, and a dish tells", jug,
                {"differences": [{"look": "glaze", "values": ["chalk", "chalk", "straw"]},
                                 {"look": "rim", "values": ["ivy", "ivy", "key"]}],
                 "telling_forms": ["dish", "jug"], "twin_groups": [["n-1", "n-2"], ["n-3"]]})
    dish = program.answers("apart on a dish", [*base, "dish", "n-1", "n-2", "--json"]).json()
    tally.equal("a dish tells n-1 from n-2 by its centre", dish,
                {"differences": [{"look": "centre", "values": ["none", "sprig"]}], "telling_forms": ["dish"],
                 "twin_groups": [["n-1"], ["n-2"]]})
    golden.equal("apart-jug.txt", program.answers("apart as a page", [*base, "jug", "n-1", "n-2", "n-3"]).out)
    golden.equal("apart-twins.txt", program.answers("twins as a page", [*base, "jug", "n-1", "n-2"]).out)
    program.refuses("unknown treatment and form", [*base, "juug", "n-1", "n-9", "x"], 3,
                    ["--form: there is no form 'juug': did you mean 'jug'?",
                     "treatment n-9: there is no treatment 'n-9': did you mean 'n-1'?",
                     "treatment x: there is no treatment 'x': use one of n-1, n-2, n-3"])
    program.refuses("a treatment twice", [*base, "jug", "n-1", "n-1"], 2,
                    ["treatment n-1: is named twice: name it once"])
    program.refuses("one treatment", [*base, "jug", "n-1"], 2,
                    ["footring apart: at least two TREATMENT are needed: see `footring apart --help`"])
    program.refuses("an id that two packs have", ["apart", "--pack", north, south, "--form", "jug", "n-1", "n-2"], 2,
                    ["treatment n-1: several open packs have a treatment 'n-1': write north:n-1 or south:n-1"])
    program.answers("a full id", ["apart", "--pack", north, south, "--form", "jug", "north:n-1", "south:n-1"])
    program.refuses("a pack that is not open", [*base, "jug", "east:n-1", "n-2"], 3,
                    ["treatment east:n-1: the pack 'east' of 'east:n-1' is not open: "
                     "open that pack as well, or correct its name"])


def leaves(key, at=0):
    node = key["nodes"][at]
    if not node["branches"]:
        return [node["treatments"]]
    return [leaf for branch in node["branches"] for leaf in leaves(key, branch["node"])]


def check_key(program, tally, golden, north):
    key = program.answers("key as JSON", ["key", "--pack", north, "--form", "jug", "--json"]).json()
    tally.equal("members of a key", list(key), ["nodes", "expected_effort_min", "optimal"])
    tally.equal("members of a node", list(key["nodes"][0]), ["treatments", "look", "effort_min", "branches"])
    tally.equal("a key of a jug ends in the twins and in n-3", sorted(leaves(key)), [["n-1", "n-2"], ["n-3"]])
    dish = program.answers("key of a dish", ["key", "--pack", north, "--form", "dish", "--json"]).json()
    tally.equal("a key of a dish ends in single treatments", sorted(leaves(dish)), [["n-1"], ["n-2"], ["n-3"]])
    golden.equal("key-dish.txt", program.answers("key as a page", ["key", "--pack", north, "--form", "dish"]).out)
    golden.equal("key-jug.txt", program.answers("key with twins", ["key", "--pack", north, "--form", "jug"]).out)
    program.answers("key of everything", ["key", "--pack", north])
    program.answers("key of a shape", ["key", "--pack", north, "--shape", "reed"])
    program.refuses("key of unknown ids", ["key", "--pack", north, "--shape", "red", "--form", "saucer"], 3,
                    ["--shape: there is no shape 'red': did you mean 'reed'?",
                     "--form: there is no form 'saucer': use one of dish, jug"])
    slow = program.answers("key with a setting",
                           ["key", "--pack", north, "--form", "dish", "--json", "--set", "effort_glance_min=7"]).json()
    tally.check("efforts come from the settings", any(n["effort_min"] == 7 for n in slow["nodes"]), slow)


def check_glyph(program, tally, north):
    for name, words in [("without a form", []), ("of a dish", ["--form", "dish"]), ("of a jug", ["--form", "jug"])]:
        svg = program.answers(f"glyph {name}", ["glyph", "--pack", north, *words, "n-2"]).out
        root = xml.fromstring(svg)
        tally.equal(f"a glyph {name} is SVG", root.tag, "{http://www.w3.org/2000/svg}svg")
        places = {g.get("data-place") for g in root.iter("{http://www.w3.org/2000/svg}g") if g.get("data-place")}
        tally.check(f"a glyph {name} has its rim", "rim" in places, places)
        as_json = program.run("glyph", "--pack", north, *words, "n-2", "--json").json()
        tally.equal(f"a glyph {name} as JSON", as_json,
                    {"treatment": "n-2", "form": words[1] if words else None, "svg": as_json["svg"]})
        tally.equal(f"a glyph {name} is the same in JSON", as_json["svg"].rstrip("\n"), svg.rstrip("\n"))
    program.refuses("glyph of unknown ids", ["glyph", "--pack", north, "--form", "bowl", "n-7"], 3,
                    ["treatment n-7: there is no treatment 'n-7': did you mean 'n-1'?",
                     "--form: there is no form 'bowl': use one of dish, jug"])
    demo = program.answers("glyph of the demo", ["glyph", "--pack", DEMO, "t-117"]).out
    tally.check("nothing in a glyph runs or loads from elsewhere",
                "<script" not in demo and "http://" not in demo.replace("http://www.w3.org/", "") and "https://" not in demo)
