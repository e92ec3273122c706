# SPDX-License-Identifier: Apache-2.0
"""footring clue, code, sequence, unseen, assemblage and leach."""
import re

from program import DEMO, ROOT
from small_packs import NORTH, write_pack

LAW = ROOT / "packs/law-and-marks"


def check(program, tally, golden):
    check_clue(program, tally, golden)
    check_code(program, tally, golden)
    check_date(program, tally)
    check_sequence(program, tally)
    check_years(program, tally)
    check_unseen(program, tally)
    check_assemblage(program, tally)
    check_leach(program, tally, golden)


def check_clue(program, tally, golden):
    said = program.answers("a clue", ["clue", "MADE IN OCCUPIED JAPAN", "--json"]).json()
    tally.equal("members of an answer", list(said), ["clues", "years", "only_rarely", "conflict", "set_aside"])
    first = said["clues"][0]
    tally.equal("members of a clue", list(first),
                ["clue", "kind", "name", "text", "span", "likeness", "years", "rarely", "rule", "jurisdiction", "verified",
                 "trust", "weight", "note", "sources", "row", "number", "within"])
    tally.equal("Occupied Japan", (first["clue"], first["years"], first["span"], first["verified"], first["within"]),
                ("occupied-japan", "1947-02-20/1952-04-28", [0, 22], "yes", None))
    tally.equal("its years", said["years"], "1947/1952")
    golden.equal("clue-japan.txt", program.answers("a clue as a page", ["clue", "Made in\nOccupied Japan"]).out)
    golden.equal("clue-mixed.txt", program.answers("clues as a page", ["clue", "ENGLAND", "Rd No 424100", "Oven Proof"]).out)
    golden.equal("clue-conflict.txt", program.answers("clues that clash", ["clue", "NIPPON", "Microwave safe"]).out)
    golden.equal("clue-none.txt", program.answers("no clue", ["clue", "a rose and two leaves"]).out)
    tally.equal("text from standard input", program.answers("-", ["clue", "-", "--json"], stdin="made in\noccupied japan\n").json()["years"],
                "1947/1952")
    number = program.answers("a number", ["clue", "Des. Pat. No 118,900", "--json"]).json()["clues"]
    tally.equal("an unverified number says so", [(c["clue"], c["number"], c["verified"]) for c in number if c["number"]],
                [("us-design-patents", {"value": 118900, "given": "1940"}, "no")])
    marks = program.answers("a mark of a pack", ["clue", "HARROW by Kettlewharf WARRANTED", "--json", "--pack", DEMO]).json()
    tally.equal("marks of other packs are found", [c["clue"] for c in marks["clues"] if c["kind"] == "mark" and not c["within"]],
                ["m-4"])
    same = program.answers("the law pack named", ["clue", "NIPPON", "--json", "--pack", LAW])
    tally.equal("naming the law pack changes nothing", same.out, program.run("clue", "NIPPON", "--json").out)
    program.refuses("no text", ["clue", " "], 2, ["text: is empty: type what stands on the underside"])
    program.refuses("no such pack", ["clue", "x", "--pack", "nowhere"], 3,
                    ["nowhere: there is no such folder: check the path of the pack"])
    program.refuses("no law pack", ["clue", "x"], 3,
                    ["packs/law-and-marks: the pack is not beside the program: name its folder with --pack, or say with "
                     "FOOTRING_SHARE where packs/ lies"], env={"FOOTRING_SHARE": str(program.folder)})


def check_code(program, tally, golden):
    said = program.answers("a diamond", ["code", "registration-diamond", "IV X 12 3 C", "--json"]).json()
    tally.equal("members of a code", list(said), ["code", "years", "outside_marks", "readings"])
    tally.equal("its reading", [(r["scheme"], r["date"], r["years"], r["weight"]) for r in said["readings"]],
                [("registration-diamond-1842", "1842-01-12", [1842], 1)])
    tally.equal("what its parts mean", [(p["group"], p["token"], p["meaning"]) for p in said["readings"][0]["parts"]],
                [("class", "IV", "ceramics"), ("year", "X", "1842"), ("day", "12", None), ("parcel", "3", None),
                 ("month", "C", "January")])
    golden.equal("code-diamond.txt", program.answers("a diamond in words", ["code", "registration-diamond", "IV", "K", "5", "2", "R"]).out)
    several = program.answers("several codes", ["code", "code-kettlewharf", "C", "K", "--json", "--pack", DEMO]).out
    tally.equal("an object a line", len(several.splitlines()), 2)
    narrowed = program.answers("a code beside a mark", ["code", "code-kettlewharf", "C", "--mark", "m-4", "--json", "--pack", DEMO]).json()
    tally.equal("the mark decides", [(r["date"], r["weight"]) for r in narrowed["readings"] if r["weight"]], [("1933", 1)])
    program.refuses("a letter that is not used", ["code", "registration-diamond", "IV X 12 3 Q"], 2,
                    ["code IV X 12 3 Q: month 'Q' is not used in the scheme 'registration-diamond-1842': "
                     "use one of ?, A, B, C, D, E, G, H, I, K, M, R, W"])
    program.refuses("no such scheme", ["code", "registration-diamnd", "x"], 3,
                    ["scheme registration-diamnd: there is no code scheme 'registration-diamnd': "
                     "did you mean 'registration-diamond'?"])
    program.refuses("no such mark", ["code", "registration-diamond", "x", "--mark", "m-99", "--pack", DEMO], 3,
                    ["--mark: there is no mark 'm-99': did you mean 'm-9'?"])


def dated_pack(program):
    tables = dict(NORTH)
    tables["treatments"] = [{"id": f"n-{n}", "shape": "reed", "number": str(n), "years": str(year)}
                            for n, year in ((100, 1926), (110, 1928), (130, 1932), (140, 1930), (150, 1936), (160, 1938))]
    tables["treatment_ornaments"] = []
    tables["dated_uses"] = [{"subject": "n-100", "date": "1926", "kind": "letter", "source": "s-2"},
                            {"subject": "n-100", "date": "1932", "kind": "catalogue", "source": "s-1"},
                            {"subject": "n-110", "date": "1932", "kind": "catalogue", "source": "s-1"},
                            {"subject": "n-130", "date": "1932", "kind": "catalogue", "source": "s-1"}]
    return write_pack(program.folder / "dated", tables)


def check_date(program, tally):
    piece = ROOT / "demo/cupboard/pieces/p-0041.json"
    alone = program.answers("a date", ["date", "--json", "--pack", DEMO, "--", piece]).json()
    tally.equal("members of a date", list(alone),
                ["piece", "date", "statements", "contradictions", "complete", "frees", "hypotheses", "notes"])
    tally.equal("members of a statement", list(alone["statements"][0]),
                ["subject", "what", "span", "trust", "holds", "cut_before", "cut_after", "sources", "row", "agrees"])
    with_law = program.answers("with a law", ["date", "--json", "--clue", "Made in Occupied Japan", "--pack", DEMO, "--", piece]).json()
    with_habit = program.answers("with a habit", ["date", "--json", "--clue", "Microwave safe", "--pack", DEMO, "--", piece]).json()
    law, habit = with_law["statements"][-1], with_habit["statements"][-1]
    tally.equal("clues are statements", (law["subject"], habit["subject"]), ("wording occupied-japan", "wording microwave-wording"))
    tally.equal("years of a law", (law["span"]["first"], law["span"]["last"]), (1947, 1952))
    tally.check("an unverified habit weighs less than a law", habit["trust"] < 0.6 * law["trust"], (habit["trust"], law["trust"]))
    tally.check("a law moves the date", with_law["date"]["median"] > alone["date"]["median"], with_law["date"])
    tally.check("what cannot hold beside it is named", any(law["subject"] in s for c in with_law["contradictions"] for s in c["statements"])
                or not with_law["contradictions"], with_law["contradictions"])
    program.refuses("a clue of nothing", ["date", "--clue", "?", "--pack", DEMO, "--", "nowhere.json"], 3,
                    ["nowhere.json: there is no such file: check the path"])
    program.write("numbered.json", '{"id": "p", "form": "dish", "shape": {"value": "reed"}, "number": {"value": "120"}}')
    numbered = program.answers("an undated number", ["date", "--json", "--pack", dated_pack(program), "--", "numbered.json"]).json()
    tally.equal("a number on no listed treatment is a statement",
                [s["what"].split(":")[0].split(",")[0] for s in numbered["statements"] if s["subject"] == "number 120"], ["given out about 1930"])


def check_years(program, tally):
    said = program.answers("years", ["years", "--of", "ornament:fern-pair", "--json", "--pack", DEMO]).json()
    tally.equal("members of years", list(said),
                ["title", "of", "first", "last", "lanes", "ticks", "glazes", "numbers", "pieces", "notes"])
    tally.equal("its title", said["title"], "Fern pair across shapes")
    tally.check("several shapes bear it", len(said["lanes"]) > 3, [lane["shape"] for lane in said["lanes"]])
    spans = [bar["span"] for lane in said["lanes"] for bar in lane["bars"]]
    tally.check("every bar lies within the years", all(
        said["first"] <= s["soft_first"] <= s["first"] <= s["last"] <= s["soft_last"] <= said["last"] for s in spans), spans)
    program.answers("years as a page", ["years", "--of", "maker:kettlewharf", "--pack", DEMO])
    program.answers("a cupboard", ["import", "--pack", DEMO, "--data", "years", "--", ROOT / "demo/cupboard"])
    own = program.answers("one's own", ["years", "--of", "cupboard", "--data", "years", "--json", "--pack", DEMO]).json()
    tally.equal("every piece is there", len(own["pieces"]), 120)
    program.refuses("no such ornament", ["years", "--of", "ornament:fern-pare", "--pack", DEMO], 3,
                    ["--of: there is no ornament 'fern-pare': did you mean 'fern-pair'?"])
    program.refuses("pieces of nobody", ["years", "--of", "cupboard", "--pack", DEMO], 2,
                    ["--of: asks for your pieces without --data: add --data DIR"])


def check_sequence(program, tally):
    pack = dated_pack(program)
    said = program.answers("a number", ["sequence", "--shape", "reed", "120", "170", "--json", "--pack", pack]).json()
    tally.equal("members of a sequence", list(said), ["numbers", "dated", "outliers", "typical_years"])
    between, after = said["numbers"]
    # 110 is 1928; 130 and 140 are out of order, (1932 + 1930) / 2 = 1931; half-way from 110 to 130
    tally.equal("the line at 120", round(between["year"], 9), 1929.5)
    tally.check("its interval holds it", between["low"] <= 1929.5 <= between["high"], between)
    tally.equal("where it lies", (between["where"], after["where"], after["edtf"][-3:]), ("between", "after", "/.."))
    tally.equal("the dated numbers", [(d["number"], d["line"]) for d in said["dated"]],
                [(100, 1926), (110, 1928), (130, 1931), (140, 1931), (150, 1936), (160, 1938)])
    program.refuses("no number", ["sequence", "--pack", pack, "--shape", "reed", "1?7"], 2,
                    ["number 1?7: does not end in up to nine digits: write it as in 117 or H-117"])
    program.refuses("two sequences", ["sequence", "--pack", pack, "--", "H-1", "2"], 2,
                    ["number 2: is of another sequence than the first: ask for one sequence at a time"])
    program.refuses("nothing dated", ["sequence", "--pack", pack, "--", "H-1"], 2,
                    ["sequence: no number of it is dated: give the years of more treatments, or ask for a wider sequence"])


def check_unseen(program, tally):
    pack = dated_pack(program)
    said = program.answers("unseen", ["unseen", "--shape", "reed", "--json", "--pack", pack]).json()
    tally.equal("members of unseen", list(said), ["sequences", "kinds"])
    one = said["sequences"][0]
    tally.equal("missing numbers", (one["missing"], one["missing_count"]),
                ([[101, 109], [111, 129], [131, 139], [141, 149], [151, 159]], 55))
    # Given 100, the five others are drawn from above it: m = 60, k = 5: 60 + 60/5 - 1 = 71
    tally.equal("the highest number", (one["estimate"]["counted_from"], one["estimate"]["unbiased"], one["estimate"]["upper"]),
                (101, 171, 224))
    kinds = said["kinds"]
    tally.equal("sightings", (kinds["listed"], kinds["seen"], kinds["sightings"], kinds["finds"]), (6, 3, 4, 2))
    tally.equal("Chao1 of f1 = 2, f2 = 1", [e["value"] for e in kinds["estimates"] if e["estimator"] == "chao1"], [3.5])
    tally.check("each estimate says what it assumes", all(len(e["assumes"]) > 20 for e in kinds["estimates"]), kinds)
    from_one = program.answers("from 1", ["unseen", "--from", "1", "--json", "--pack", pack]).json()["sequences"][0]
    tally.equal("counted from 1", round(from_one["estimate"]["unbiased"], 9), round(160 + 160 / 6 - 1, 9))
    page = program.answers("unseen as a page", ["unseen", "--pack", DEMO]).out
    tally.check("one number is told as one", not re.search(r"\b1 (numbers|times|treatments|finds|sightings)", page)
                and "1 number is recorded, 77" in page, page)
    ivy = program.answers("of an ornament", ["unseen", "--ornament", "fern-pair", "--json", "--pack", DEMO]).json()["kinds"]["listed"]
    tally.check("an ornament narrows it", 0 < ivy < 50, ivy)
    data = ["--data", "cupboard"]
    program.answers("a cupboard", ["import", "--pack", DEMO, *data, "--", ROOT / "demo/cupboard"])
    alone = program.answers("packs alone", ["unseen", "--json", "--pack", DEMO]).json()["kinds"]
    both = program.answers("with the cupboard", ["unseen", "--json", *data, "--pack", DEMO]).json()["kinds"]
    tally.check("decided pieces are sightings", both["sightings"] >= alone["sightings"], (alone["sightings"], both["sightings"]))
    program.refuses("a number from 0", ["unseen", "--pack", pack, "--from", "0"], 2,
                    ["--from: '0' is not a number from 1 on: write the first number that was given out, such as 101"])
    program.refuses("no cupboard", ["unseen", "--pack", pack, "--data", "nowhere"], 3,
                    ["nowhere: there is no cupboard in this folder: check the path; `footring serve --data DIR` and "
                     "`footring import` make one"])


def check_assemblage(program, tally):
    pieces = [ROOT / f"demo/cupboard/pieces/p-{n:04}.json" for n in (1, 2, 3)]
    said = program.answers("an assemblage", ["assemblage", "--json", "--pack", DEMO, "--", *pieces]).json()
    tally.equal("members of an assemblage", list(said),
                ["pieces", "mean_date", "terminus_post_quem", "by_year", "out_of_step", "dates"])
    medians = [d["median"] for d in said["dates"]]
    tally.equal("the mean of the medians", round(said["mean_date"]["mean"], 9), round(sum(medians) / 3, 9))
    examined = [program.run("examine", "--json", "--pack", DEMO, "--", p).json()["date"] for p in pieces]
    tally.equal("medians are those of examine", medians, [e["median"] for e in examined])
    tally.equal("sums are pieces", round(sum(said["by_year"]["pieces"]), 6), 3)
    tally.equal("not before the latest", said["terminus_post_quem"]["year"], max(d["not_before"] for d in said["dates"]))
    lot = program.answers("a lot", ["assemblage", "--json", "--data", "cupboard", "--lot", "lot-01", "--pack", DEMO]).json()
    tally.check("a lot has its pieces", 0 < lot["pieces"] < 120, lot["pieces"])
    page = program.answers("as a page", ["assemblage", "--data", "cupboard", "--lot", "lot-06", "--pack", DEMO]).out
    tally.check("the page names what is out of step", "Out of step" in page and "Mean date" in page, page)
    program.refuses("no such lot", ["assemblage", "--data", "cupboard", "--lot", "lot-99", "--pack", DEMO], 3,
                    ["--lot: there is no lot 'lot-99' in this cupboard: check its id on the Cupboard page, or leave --lot out "
                     "for all pieces"])
    program.refuses("a lot of nowhere", ["assemblage", "--lot", "lot-01", "--pack", DEMO], 2,
                    ["--lot: is given without --data: add --data DIR",
                     "footring assemblage: no piece is given: name piece files, or a cupboard with --data DIR"])


RESULTS = "unit,lead_mg_per_l,cadmium_mg_per_l\nA,3.4,<0.02\nB,2.1,<0.02\n"


def check_leach(program, tally, golden):
    program.write("results.csv", RESULTS)
    said = program.answers("leach", ["leach", "results.csv", "--depth-mm", "22", "--json"]).json()
    tally.equal("members of leach", list(said), ["units", "categories", "verdicts", "notes"])
    tally.equal("members of a verdict", list(said["verdicts"][0]),
                ["authority", "document", "substance", "category", "limit", "unit", "rule", "verdict", "because",
                 "value_verified", "rule_verified", "in_force", "note"])
    by = {(v["authority"], v["substance"], v["in_force"], v["unit"]): v["verdict"] for v in said["verdicts"]}
    tally.equal("two plates are not six", by["US FDA", "lead", True, "mg/L"], "cannot tell")
    tally.equal("per area was not measured", by["European Union", "lead", True, "mg/dm2"], "cannot tell")
    tally.equal("over the warning threshold", by["California", "lead", True, "mg/L"], "fail")
    for category in ("table", "cup", "pitcher", "storage", "cooking"):
        for depth in ("20", "80"):
            page = program.answers(f"{category}, {depth} mm",
                                   ["leach", "results.csv", "--depth-mm", depth, "--volume-ml", "900", "--category", category]).out
            tally.check(f"{category}, {depth} mm: nothing is called safe", " safe" not in page.replace("safe harbour", ""), page)
    golden.equal("leach-bowl.txt", program.answers("a bowl", ["leach", "results.csv", "--depth-mm", "60", "--volume-ml", "900"]).out)
    program.refuses("no numbers", ["leach", "results.csv", "--depth-mm", "deep", "--volume-ml", "-1"], 2,
                    ["--depth-mm: 'deep' is not a number from 0 to 2000: write it without its unit, as in 24.5",
                     "--volume-ml: '-1' is not a number from 0 to 100000: write it without its unit, as in 24.5"])
    program.refuses("no such file", ["leach", "nowhere.csv"], 3, ["nowhere.csv: there is no such file: check the path"])
    program.write("bad.csv", "unit,lead_mg_per_l\nA,much\n")
    program.refuses("no amount", ["leach", "bad.csv"], 2,
                    ["bad.csv:2:3: lead_mg_per_l 'much' is not an amount: write a number such as 0.35, or <0.02 for less than "
                     "can be measured, without its unit"])
