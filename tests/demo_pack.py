#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""The invented reference pack and its cupboard: made by demo/make.py, byte for byte, and rich enough to be worth
opening. Prints `N passed, N failed`."""

import csv
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

ROOT = pathlib.Path(__file__).resolve().parent.parent
PACK, CUPBOARD = ROOT / "packs" / "ambrel-valley", ROOT / "demo" / "cupboard"
SVG = "{http://www.w3.org/2000/svg}"
passed = failed = 0


def fact(sentence, holds, detail=""):
    global passed, failed
    if holds:
        passed += 1
    else:
        failed += 1
        print(f"FAILED: {sentence}{': ' if detail else ''}{detail}")


def table(name):
    with open(PACK / f"{name}.csv", encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def files_under(folder):
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def span(years):
    """First and last year of the notations that this pack uses, ~ and ? ignored; open ends are far away."""
    def year(text, figure):
        text = re.sub(r"[~?%]", "", text)[:4]
        return int(text.replace("X", figure)) if text not in ("", "..") else {"0": 0, "9": 9999}[figure]
    first, slash, last = years.partition("/")
    return (0, 9999) if not years else (year(first, "0"), year(last if slash else first, "9"))


def within(inner, outer):
    """Whether a period lies in another, with the slack that ~ and ? allow."""
    slack = 5 if re.search(r"[~?X]", inner + outer) else 0
    (a, b), (c, d) = span(inner), span(outer)
    return (b == 9999 or b <= d + slack) and (a == 0 or a >= c - slack)


def made_again():
    with tempfile.TemporaryDirectory() as folder:
        again = pathlib.Path(folder)
        run = subprocess.run([sys.executable, "-B", str(ROOT / "demo" / "make.py"), folder], capture_output=True,
                             text=True)
        fact("demo/make.py runs", run.returncode == 0, run.stderr)
        for ours in (PACK, CUPBOARD):
            name = ours.relative_to(ROOT).as_posix()
            # Photographs are rendered by demo/photos/shown.py; tests/photos.py holds them to the piece files.
            old = {path: data for path, data in files_under(ours).items() if not path.startswith("photos/")}
            new = files_under(again / name)
            fact(f"{name} has the files that demo/make.py writes", set(old) == set(new), str(set(old) ^ set(new)))
            other = [path for path in sorted(set(old) & set(new)) if old[path] != new[path]]
            fact(f"{name} is what demo/make.py writes, byte for byte", not other, ", ".join(other[:5]))


def counts(tables):
    least = {"makers": 6, "shapes": 9, "forms": 25, "shape_forms": 150, "glazes": 8, "ornaments": 40,
             "treatments": 150, "treatment_ornaments": 500, "marks": 30, "code_schemes": 3, "dated_uses": 60,
             "sources": 40, "statements": 12}
    for name, number in least.items():
        fact(f"at least {number} rows in {name}", len(tables[name]) >= number, str(len(tables[name])))
    roles = [row["role"] for row in tables["makers"]]
    fact("three or four potteries", roles.count("pottery") in (3, 4))
    fact("one outside decorator", roles.count("decorator") == 1)
    fact("one or two suppliers", roles.count("supplier") in (1, 2))
    fact("flat and hollow forms", {row["ware"] for row in tables["forms"]} == {"flat", "hollow"})
    fact("every kind of ornament", {row["kind"] for row in tables["ornaments"]}
         == {"stamp", "decal", "line", "band", "print", "solid", "relief"})
    finishes = {row["finish"] for row in tables["ornaments"]}
    fact("gold, platinum, silver and several colours", {"gold", "platinum", "silver"} < finishes and len(finishes) >= 9)
    fact("one glaze bears uranium", [row["uranium"] for row in tables["glazes"]].count("yes") == 1)
    fact("some treatments were sold by one outlet only", sum(bool(r["outlet"]) for r in tables["treatments"]) >= 6)
    fact("some treatments have no number", sum(not r["number"] for r in tables["treatments"]) >= 6)
    fact("some numbers nobody explains",
         sum("not explained" in r["name"] for r in tables["treatments"]) >= 5)
    fact("first, second and either grade", {r["grade"] for r in tables["treatments"]} == {"first", "second", "any"})


def ids(tables):
    keyed = [row["id"] for rows in tables.values() for row in rows if "id" in row]
    fact("no id stands in two tables", len(keyed) == len(set(keyed)), str({i for i in keyed if keyed.count(i) > 1}))
    odd = [i for i in keyed if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", i)]
    fact("ids are lower-kebab", not odd, str(odd))
    descriptor = json.loads((PACK / "datapackage.json").read_text("utf-8"))
    for resource in descriptor["resources"]:
        for key in resource["schema"].get("foreignKeys", []):
            known = {row["id"] for row in tables[key["reference"]["resource"]]}
            lost = {row[key["fields"]] for row in tables[resource["name"]] if row[key["fields"]]} - known
            fact(f"{resource['name']}.{key['fields']} is known", not lost, str(lost))
    sourced = {row["source"] for rows in tables.values() for row in rows if "source" in row}
    lost = sourced - {row["id"] for row in tables["sources"]}
    fact("every row names a known source", not lost, str(lost))
    subjects = {row["subject"] for name in ("dated_uses", "statements") for row in tables[name]}
    fact("subjects are known", subjects <= set(keyed), str(subjects - set(keyed)))
    fact("each source is used", {row["id"] for row in tables["sources"]} <= sourced,
         str({row["id"] for row in tables["sources"]} - sourced))
    fact("each source says that it is invented", all(row["title"].endswith("(invented)") for row in tables["sources"]))
    fact("the pack says that it is invented",
         "(invented)" in descriptor["title"] and "invented" in descriptor["description"])
    with open(ROOT / "tests" / "facts" / "aat_forms.csv", encoding="utf-8", newline="") as lines:
        terms = {"http://vocab.getty.edu/aat/" + row["aat_id"]
                 for row in csv.DictReader(lines) if row["group"] == "form"}
    used = {row["aat"] for row in tables["forms"] if row["aat"]}
    fact("form terms are those of tests/facts/aat_forms.csv", used and used <= terms, str(used - terms))
    fact("the thesaurus is credited", "This work contains information from the Art & Architecture Thesaurus (AAT), "
         "made available by the J. Paul Getty Trust under the ODC-By licence." in descriptor["description"])


def years(tables):
    by_id = {row["id"]: row for rows in tables.values() for row in rows if "id" in row}
    for treatment in tables["treatments"]:
        inside = [treatment["shape"], treatment["glaze"]] + [
            row["ornament"] for row in tables["treatment_ornaments"]
            if row["treatment"] == treatment["id"] and row["share"] != "0"]
        outside = [i for i in inside if not within(treatment["years"], by_id[i]["years"])]
        if outside:
            fact(f"{treatment['id']} ({treatment['years']}) lies in the years of its parts", False,
                 ", ".join(f"{i} {by_id[i]['years']}" for i in outside))
    fact("treatments lie in the years of their shape, glaze and ornaments", True)
    for name in ("shapes", "glazes", "marks"):
        late = [row["id"] for row in tables[name] if not within(row["years"], by_id[row["maker"]]["years"])]
        fact(f"{name} lie in their maker's years", not late, str(late))
    early = [(row["subject"], row["date"]) for row in tables["dated_uses"]
             if not within(row["date"], by_id[row["subject"]]["years"])]
    fact("dated uses lie in their subject's years", not early, str(early))
    notations = " ".join(row["years"] for rows in tables.values() for row in rows if "years" in row)
    for name, pattern in (("~", r"\d~"), ("?", r"\d\?"), ("an unspecified year", r"\dX"), ("an open end", r"/\.\.")):
        fact(f"some period is written with {name}", re.search(pattern, notations) is not None)


def looks(tables):
    rows = {}
    for row in tables["treatment_ornaments"]:
        rows.setdefault(row["treatment"], set()).add((row["place"], row["ornament"], row["on"], row["share"]))
    ware = {row["id"]: row["ware"] for row in tables["forms"]}
    shapes = {}
    for row in tables["treatments"]:
        shapes.setdefault((row["shape"], row["glaze"]), []).append(row)

    def off_flat(treatment, but=()):
        """Rows that speak of hollow ware, those on the forms `but` left out; a place that is flat only drops out."""
        return {r for r in rows.get(treatment, ()) if r[2] != "flat" and ware.get(r[2]) != "flat" and r[2] not in but}

    crowded = set()
    for treatment, its in rows.items():
        for place, on in {(r[0], r[2]) for r in its}:
            if sum(float(r[3] or 1) for r in its if (r[0], r[2]) == (place, on)) > 1:
                crowded.add(f"{treatment} {place} {on}")
    fact("no place bears two ornaments at once", not crowded, str(crowded))
    pairs = twins = lid_twins = 0
    cover = ("covered-dish",)
    for same in shapes.values():
        for i, a in enumerate(same):
            for b in same[i + 1:]:
                look_a, look_b = rows.get(a["id"], set()), rows.get(b["id"], set())
                if {a["grade"], b["grade"]} == {"first", "second"} and look_a == look_b and a["number"] != b["number"]:
                    pairs += 1
                elif look_a != look_b and look_a and off_flat(a["id"]) == off_flat(b["id"]):
                    twins += 1
                elif look_a != look_b and set() != off_flat(a["id"], cover) == off_flat(b["id"], cover):
                    lid_twins += 1
    fact("firsts and seconds of one look under two numbers", pairs >= 15, str(pairs))
    fact("treatments that only flat ware tells apart", twins >= 8, str(twins))
    fact("treatments that only flat ware and the covered dish tell apart", lid_twins >= 3, str(lid_twins))
    shares = [row["share"] for row in tables["treatment_ornaments"]]
    fact("some ornaments are on a share of the pieces", sum(0 < float(s) < 1 for s in shares if s) >= 8)
    fact("some rows state absence", shares.count("0") >= 5)
    fern = [row for row in tables["treatments"] if any(r[1] == "fern-pair" for r in rows.get(row["id"], ()))]
    spans = [span(row["years"]) for row in fern]
    fact("the fern pair runs over four shapes or more", len({row["shape"] for row in fern}) >= 4)
    fact("the fern pair runs over thirty years or more", max(s[1] for s in spans) - min(s[0] for s in spans) >= 30)
    shared = {row["id"] for row in tables["ornaments"] if row["shared"] == "yes" and row["supplier"]}
    maker = {row["id"]: row["maker"] for row in tables["shapes"]}
    several = [o for o in shared if len({maker[row["shape"]] for row in tables["treatments"]
                                         if any(r[1] == o for r in rows.get(row["id"], ()))}) > 1]
    fact("stamps of one supplier are on ware of several potteries", len(several) >= 8, str(len(several)))
    fact("some ornaments lean to seconds", sum(bool(row["second_share"]) for row in tables["ornaments"]) >= 6)
    stances = {}
    for row in tables["statements"]:
        stances.setdefault((row["subject"], row["property"], row["value"]),
                           {}).setdefault(row["stance"], set()).add(row["source"])
    contested = [s for s in stances.values() if len(s) == 2 and not s["for"] & s["against"]]
    fact("some statements are contested by other sources", len(contested) >= 4, str(len(contested)))
    kinds = {row["kind"] for row in tables["dated_uses"]}
    fact("dated uses of every kind", kinds == {"advertisement", "order form", "catalogue", "dated mark", "letter",
                                               "find"})
    measured = [row for row in tables["shape_forms"] if re.fullmatch(r"[\d.]+ in", row["trade_size"])]
    apart = [row for row in measured if abs(float(row["trade_size"][:-3]) * 25.4 - float(row["length_mm"])) > 15]
    fact("catalogue inches are not measured inches", len(apart) > 60, str(len(apart)))


def drawings(tables):
    wanted = {row["drawing"]: row for name in ("ornaments", "marks") for row in tables[name]}
    there = {path.relative_to(PACK).as_posix() for path in (PACK / "drawings").iterdir()}
    fact("every ornament and mark has its drawing, and there are no others", set(wanted) == there)
    large = [name for name in there if (PACK / name).stat().st_size >= 6000]
    fact("drawings are smaller than 6 kB", not large, str(large))
    centres = {r["ornament"] for r in tables["treatment_ornaments"] if r["place"] == "centre"}
    for name in sorted(there):
        root = xml.parse(PACK / name).getroot()
        box = root.get("viewBox", "").split()
        if {e.tag for e in root.iter()} - {SVG + "svg", SVG + "g", SVG + "path"}:
            fact(f"{name} is made of paths only", False)
        row = wanted[name]
        if "kind" in row:
            border = box[:2] == ["0", "0"] and box[3] == "100"
            right = box == ["0", "0", "200", "200"] if row["id"] in centres else border
            if not right:
                fact(f"{name} keeps to the size of tiles", False, " ".join(box))
    fact("drawings are paths of the agreed size", True)


def cupboard(tables):
    pieces = {path.stem: json.loads(path.read_text("utf-8")) for path in (CUPBOARD / "pieces").glob("*.json")}
    lots, records, truth = (json.loads((CUPBOARD / f"{name}.json").read_text("utf-8")) for name in ("lots", "records",
                                                                                                    "truth"))
    records = {record["piece"]: record for record in records}
    fact("120 pieces, each with its record and its truth",
         len(pieces) == 120 and set(pieces) == set(records) == set(truth))
    fact("12 lots, each with pieces",
         len(lots) == 12 and {lot["id"] for lot in lots} == {r["lot"] for r in records.values()})
    fact("about half are decided", 45 <= sum("decision" in r for r in records.values()) <= 75)
    known = {name: {row["id"] for row in tables[name]} for name in ("treatments", "shapes", "glazes", "forms",
                                                                    "ornaments", "marks")}
    fact("pieces are of listed treatments or of none",
         set(truth.values()) <= known["treatments"] | {"unlisted", "elsewhere"})
    fact("both kinds of outsider", {"unlisted", "elsewhere"} <= set(truth.values()))
    words = {"none", "something", "worn"}
    wrong = [i for i, p in pieces.items()
             if p["id"] != i or p["form"] not in known["forms"]
             or p.get("shape", {}).get("value", "harrow") not in known["shapes"]
             or p.get("glaze", {}).get("value", "oat") not in known["glazes"]
             or p.get("mark", {}).get("value", "none") not in known["marks"] | words
             or not {look["value"] for look in p["looks"]} <= known["ornaments"] | words]
    fact("pieces speak of the pack's rows", not wrong, str(wrong))
    decided = {r["decision"]["treatment"] for r in records.values() if "decision" in r}
    full = {f"ambrel-valley:{i}" for i in known["treatments"]}
    fact("decisions name treatments, or say that none is listed", decided <= full | {"unlisted", "elsewhere"},
         str(decided - full))
    seen = [look["value"] for p in pieces.values() for look in p["looks"]]
    numbers = [p["number"]["value"] for p in pieces.values() if "number" in p]
    fact("some looks are worn, some not recognised", "worn" in seen and "something" in seen)
    fact("some numbers are partly illegible", sum("?" in n for n in numbers) >= 4)
    fact("some pieces bear date codes", sum("date_code" in p for p in pieces.values()) >= 8)
    for field in ("shape", "glaze", "wear", "mark", "number", "faults", "length_mm"):
        fact(f"some pieces lack {field}", 3 <= sum(field not in p for p in pieces.values()) <= 100)
    visitor = pieces["p-0041"]
    pattern = re.compile(visitor["number"]["value"].replace("?", "."))
    fits = [row["id"] for row in tables["treatments"] if row["shape"] == "harrow" and row["glaze"] == "oat"
            and pattern.fullmatch(row["number"])
            and any((r["treatment"], r["ornament"]) == (row["id"], "fern-pair") for r in tables["treatment_ornaments"])]
    fact("several treatments answer to p-0041", len(fits) >= 3 and truth["p-0041"] in fits, str(fits))
    fact("the lid of p-0041 is not looked at",
         visitor["form"] == "sugar" and "lid" not in {look["place"] for look in visitor["looks"]})


tables = {path.stem: table(path.stem) for path in PACK.glob("*.csv")}
made_again()
for part in (counts, ids, years, looks, drawings, cupboard):
    part(tables)
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed else 0)
