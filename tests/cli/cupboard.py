# SPDX-License-Identifier: Apache-2.0
"""footring import and export: nothing half stored, nothing lost on the way out and in again."""
import csv
import io
import json

from program import DEMO, ROOT
from small_packs import NORTH, write_pack

TABLE = """id,form,shape,shape_sure,glaze,rim,rim_sure,number,note
a-1,dish,reed,likely,chalk,ivy,sure,1?,"chipped, old"
a-2,jug,reed,sure,straw,key,guess,none,=1+1
"""


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    check_import(program, tally, north)
    check_wrong_rows(program, tally, north)
    check_options(program, tally, north)
    check_export(program, tally, north)
    check_sales(program, tally)
    check_demo(program, tally)
    check_everything(program, tally)


def exported(program, data, *words):
    return program.run("export", "--data", data, *words).out


def check_import(program, tally, north):
    program.write("table.csv", TABLE)
    words = ["import", "--data", "data", "--pack", north, "table.csv"]
    dry = program.run(*words, "--dry-run")
    tally.check("a dry run makes no cupboard", not (program.folder / "data").exists(), dry)
    tally.equal("a dry run needs no cupboard", (dry.status, dry.err), (0, ""))
    said = program.answers("import of a table", words)
    tally.equal("what was imported", said.out, "2 added, 0 changed, 0 already there, 0 left out\n")
    again = program.answers("import of the same table", words)
    tally.equal("the same table again changes nothing", again.out, "0 added, 0 changed, 2 already there, 0 left out\n")
    program.write("one.csv", "id,rim\na-1,key\n")
    one = program.answers("import of a change", [*words[:-1], "one.csv", "--json"]).json()
    tally.equal("members of an import", list(one),
                ["added", "changed", "unchanged", "skipped", "others", "problems", "preview", "columns"])
    tally.equal("one piece changed", (one["added"], one["changed"]), (0, 1))
    rows = {row["id"]: row for row in csv.DictReader(io.StringIO(exported(program, "data")))}
    tally.equal("fields that the file does not have stay", (rows["a-1"]["rim"], rows["a-1"]["glaze"], rows["a-1"]["note"]),
                ("key", "chalk", "chipped, old"))
    piped = program.answers("import of standard input", [*words[:-1], "-", "--format", "json"],
                            stdin=json.dumps({"id": "a-3", "form": "jug"}))
    tally.equal("standard input is imported", piped.out, "1 added, 0 changed, 0 already there, 0 left out\n")


def check_wrong_rows(program, tally, north):
    program.write("wrong.csv", "id,form,rim\nb-1,dish,ivy\nb-2,dsh,ivy\nb-3,jug,ivvy\n")
    before = exported(program, "data")
    words = ["import", "--data", "data", "--pack", north, "wrong.csv"]
    said = program.run(*words)
    tally.equal("wrong rows are refused", (said.status, said.out), (2, ""))
    tally.check("each wrong row is told with its line and column",
                len(said.lines) == 2 and said.lines[0].startswith("wrong.csv:3:") and "dsh" in said.lines[0]
                and said.lines[1].startswith("wrong.csv:4:") and "ivvy" in said.lines[1], said.err)
    tally.equal("nothing is stored beside a wrong row", exported(program, "data"), before)
    kept = program.run(*words, "--keep-good")
    tally.equal("good rows are kept on request", (kept.status, kept.out),
                (2, "1 added, 0 changed, 0 already there, 2 left out\n"))
    tally.equal("the wrong rows are told all the same", kept.err, said.err)
    tally.check("the good row is stored", "b-1" in exported(program, "data"))
    for name, content in [("empty", b""), ("binary", bytes(range(256))), ("not UTF-8", b"id,note\nx,\xff\n"),
                          ("torn", b'id,note\nx,"open\n'), ("of huge numbers", b"id,length_mm\nx,1e400\n")]:
        program.write("bad.csv", content)
        before = exported(program, "data")
        said = program.run("import", "--data", "data", "--pack", north, "bad.csv")
        tally.check(f"a table that is {name} is refused", said.status == 2 and said.out == "" and said.lines, said)
        tally.equal(f"nothing is stored of a table that is {name}", exported(program, "data"), before)
    for name, content in [("empty", b""), ("torn", b'[{"id": "x"}'), ("deep", b"[" * 200000)]:
        program.write("bad.json", content)
        said = program.run("import", "--data", "data", "--pack", north, "bad.json")
        tally.check(f"JSON that is {name} is refused", said.status == 2 and said.out == "" and said.lines, said)


def check_options(program, tally, north):
    base = ["import", "--data", "data", "--pack", north]
    program.refuses("missing file", [*base, "none.csv"], 3, ["none.csv: there is no such file: check the path"])
    program.write("pieces.xls", "x")
    program.refuses("unknown kind of file", [*base, "pieces.xls"], 2,
                    ["pieces.xls: its name does not tell whether it is CSV or JSON: "
                     "add --format csv or --format json"])
    program.refuses("wrong mapping", [*base, "table.csv", "--map", "Rand", "--map", "Rand=rimm"], 2,
                    ["--map: 'Rand' is not COLUMN=FIELD: "
                     "write --map \"Column of the file=field\", or --map COLUMN= to leave it out",
                     "--map: there is no field 'rimm': did you mean 'rim'?"])
    program.write("german.csv", "Nr;Rand;Egal\nc-1;ivy;x\n")
    said = program.answers("a mapped table", [*base, "german.csv", "--map", "Nr=id", "--map", "Rand=rim", "--map", "Egal="])
    tally.equal("a column that was left out is named", said.out,
                "1 added, 0 changed, 0 already there, 0 left out\ncolumn 'Egal' was not taken\n")
    program.write("german2.csv", "Rand;Egal;Nr\nkey;y;c-2\n")
    again = program.answers("the same list again", [*base, "german2.csv", "--json"]).json()
    tally.equal("its columns are understood as the last time", {one["column"]: one["field"] for one in again["columns"]},
                {"Nr": "id", "Rand": "rim", "Egal": None})
    program.refuses("a file for the cupboard", ["import", "--data", "table.csv", "--pack", north, "table.csv"], 2,
                    ["table.csv: this is a file, not a folder: name a folder"])


def check_site(program, tally, north):
    words = ["export", "site", "--pack", north]
    site = program.folder / "site"
    program.refuses("a site without a folder", words, 2,
                    ["--out: a site is a folder of files: name one that does not exist yet: --out site"])
    program.refuses("chosen pieces of no folder", [*words, "--every-piece", "--out", "site"], 2,
                    ["--data: no folder of pieces is named: name the folder that holds them: --data DIR"])
    tally.check("what is refused leaves nothing", not site.exists())
    account = program.answers("a site", [*words, "--out", "site", "--json"]).json()
    tally.equal("what a site shows without being asked for pieces", (account["pieces"], account["photographs"]), (0, 0))
    tally.equal("pages", account["pages"], len(list(site.rglob("*.html"))))
    (site / "treatments" / "stale.html").write_text("old")
    program.answers("the site again", [*words, "--data", "data", "--every-piece", "--out", "site/"])
    tally.check("an older site is replaced whole", not (site / "treatments" / "stale.html").exists())
    tally.equal("nothing is left beside it", sorted(p.name for p in program.folder.glob("site*")), ["site"])
    (program.folder / "mine").mkdir()
    (program.folder / "mine" / "letter.txt").write_text("dear")
    program.refuses("a folder of somebody's own", [*words, "--out", "mine"], 2,
                    ["mine: something else is there: name a folder that does not exist yet"])
    tally.equal("what was there stays", [p.name for p in (program.folder / "mine").iterdir()], ["letter.txt"])


def check_export(program, tally, north):
    out = exported(program, "data")
    said = program.answers("export to a file", ["export", "--data", "data", "--out", "out.csv"])
    tally.equal("what was exported", said.out, f"{len(out.splitlines()) - 1} pieces written to out.csv\n")
    tally.equal("file and standard output are the same", (program.folder / "out.csv").read_text(), out)
    tally.equal("nothing else is left beside the file", [p.name for p in program.folder.glob("out.csv*")], ["out.csv"])
    tally.check("a text like a formula is made harmless", "'=1+1" in out, out)
    account = program.answers("export with an account", ["export", "--data", "data", "--out", "out.json", "--json"]).json()
    tally.equal("the account of an export", (account["file"], account["format"]), ("out.json", "json"))
    tally.equal("--json alone is --format json", exported(program, "data", "--json"),
                exported(program, "data", "--format", "json"))
    for name in ("out.csv", "out.json"):
        program.answers(f"import of {name}", ["import", "--data", f"copy of {name}", "--pack", north, name])
        tally.equal(f"{name} loses no piece", exported(program, f"copy of {name}"), out)
    program.refuses("an open format without pieces", ["export", "linked-art", "--pack", north], 2,
                    ["--data: no folder of pieces is named: name the folder that holds them: --data DIR"])
    program.refuses("an address that is none", ["export", "skos", "--pack", north, "--base", "shelf"], 2,
                    ["--base: 'shelf' is no address: write one that begins with https://, such as https://plates.example/"])
    program.refuses("a manifest without photographs", ["export", "iiif", "--pack", north, "--data", "data"], 3,
                    ["export iiif: none of these pieces has a photograph: "
                     "name pieces that have some, or leave --piece out"])
    program.refuses("a piece that is not there", ["export", "dublin-core", "--pack", north, "--data", "data", "--piece", "b-9"], 3,
                    ["piece b-9: there is no piece of this id: check the id; the history shows what was removed"])
    said = program.answers("words to a file", ["export", "skos", "--pack", north, "--out", "words.ttl"])
    tally.check("how many words", said.out.endswith(" words written to words.ttl\n"), said.out)
    check_site(program, tally, north)
    whole = json.loads((program.folder / "out.json").read_text())
    theirs, own = (row["piece"]["id"] for row in whole["records"][:2])
    whole["records"] = whole["records"][:2]
    whole["others"] = [{"kind": "letter", "id": "letter-0001", "body": {"name": "Ms Carr", "received": "2026-02-11",
                                                                         "state": "new", "pieces": [theirs]}}]
    program.write("with a letter.json", json.dumps(whole))
    program.answers("import of a letter", ["import", "--data", "lettered", "--pack", north, "with a letter.json"])
    shown = json.loads(program.answers("what one shows", ["export", "linked-art", "--pack", north, "--data", "lettered"]).out)
    tally.equal("the piece of a letter is not shown as one's own", shown["id"].rsplit("/", 1)[1], own)
    said = program.answers("one piece", ["export", "site", "--pack", north, "--data", "lettered", "--every-piece", "--out", "few"])
    tally.check("one piece is counted as one", " pages with 1 piece and " in said.out, said.out)
    program.refuses("export of no cupboard", ["export", "--data", "nowhere"], 3,
                    ["nowhere: there is no cupboard in this folder: "
                     "check the path; `footring serve --data DIR` and `footring import` make one"])
    tally.check("export makes no folder", not (program.folder / "nowhere").exists())
    program.refuses("export into a folder", ["export", "--data", "data", "--out", "north"], 2,
                    ["north: this is a folder, not a file: name a file in it"])
    program.refuses("export into a missing folder", ["export", "--data", "data", "--out", "no/out.csv"], 3,
                    ["no: there is no such folder: make it first"])
    (program.folder / "damaged").mkdir()
    program.write("damaged/footring.db", b"this is no database" * 100)
    said = program.run("export", "--data", "damaged")
    tally.check("a damaged cupboard is told and left alone",
                said.status == 1 and said.out == "" and len(said.lines) == 1
                and (program.folder / "damaged/footring.db").read_bytes().startswith(b"this is no database"), said)


def check_sales(program, tally):
    program.write("sold.csv", "sold,paid,item,number\n2024-01,20,Dinner plate,t-117\n2024-02,nothing,Dinner plate,t-117\n")
    words = ["import", "--as", "sales", "--data", "sales data", "--pack", DEMO, "sold.csv", "--currency", "USD"]
    wrong = program.run(*words)
    tally.check("a table of sales with a fault is refused whole",
                wrong.status == 2 and wrong.out == "" and wrong.lines[0].startswith("sold.csv:3: paid:"), wrong)
    said = program.run(*words, "--keep-good")
    tally.equal("the good sale is kept", (said.status, said.out), (2, "1 added, 0 changed, 0 already there, 1 left out\n"))
    again = program.run(*words, "--keep-good", "--json")
    tally.equal("the same sale again is a duplicate", (again.json()["added"], len(again.json()["duplicates"])), (0, 1))
    program.refuses("sales of a folder", ["import", "--as", "sales", "--data", "sales data", "--pack", DEMO, ROOT / "demo/cupboard"], 2,
                    [f"{ROOT / 'demo/cupboard'}: a folder is no table of sales: name the file, or leave --as out: sales.csv of a "
                     "cupboard folder comes with it"])


# Things of every kind beside the demo's own pieces, lots, photographs, sales and services, with text that is awkward.
OTHERS = [
    {"kind": "letter", "id": "letter-0007", "body": {
        "name": "Ms Carr", "address": "1, High Street\nAmbrel", "received": "2026-03", "subject": "a plate", "text": " What is it?\n\n",
        "state": "answered", "pieces": ["p-0004"], "reply": "Dear Ms Carr,\n\nit is \u201c117\u201d.\n", "answered": "2026-03-04",
        "sighting": True, "note": ""}},
    {"kind": "mapping", "id": "mapping-0002", "body": {"of": "pieces", "headings": ["Egal", "Nr"], "mapping": {"Nr": "id", "Egal": ""}}},
    {"kind": "haul", "id": "haul-0001", "body": {"anything": [1, 2.5, None, {"deep": True}]}},
    {"kind": "composition", "id": "tea-for-two", "body": {
        "name": "Tea for two", "settings": 2, "setting": [{"forms": ["cup"], "count": 1}, {"forms": ["saucer"], "count": 1}]}},
]


def check_everything(program, tally):
    """Export of everything, import into an empty store, export again: the same bytes, photographs included."""
    program.write("others.json", json.dumps({"format": "footring-cupboard-1", "lots": [], "records": [], "others": OTHERS}))
    program.answers("things of every kind", ["import", "--data", "demo data", "--pack", DEMO, "others.json"])
    account = program.answers("everything", ["export", "everything", "--data", "demo data", "--out", "first", "--json"]).json()
    photographs = [p for p in (program.folder / "first/photos").iterdir()]
    tally.check("the demo has photographs", account["photographs"] >= len(photographs) > 20, account)
    written = json.loads((program.folder / "first/cupboard.json").read_text())
    kinds = {one["kind"] for one in written["others"]}
    tally.equal("every kind that is kept goes out", kinds, {"sale", "service", "composition", "letter", "mapping", "haul"})
    for other in OTHERS:
        tally.check(f"{other['id']} goes out as it is kept", other in written["others"])
    taken = program.answers("everything into an empty store", ["import", "--data", "second data", "--pack", DEMO, "first", "--json"]).json()
    tally.equal("all of it is new", (taken["added"], taken["others"]["added"], taken["problems"]),
                (len(written["records"]), len(written["others"]), []))
    program.answers("everything again", ["export", "everything", "--data", "second data", "--out", "second"])
    files = sorted(p.relative_to(program.folder / "first") for p in (program.folder / "first").rglob("*") if p.is_file())
    tally.equal("the same files", files,
                sorted(p.relative_to(program.folder / "second") for p in (program.folder / "second").rglob("*") if p.is_file()))
    for file in files:
        same = (program.folder / "first" / file).read_bytes() == (program.folder / "second" / file).read_bytes()
        tally.check(f"{file} is the same", same)
    for words in ([], ["--format", "json"]):
        tally.equal(f"export {' '.join(words)} is the same", exported(program, "second data", *words), exported(program, "demo data", *words))
    again = program.answers("everything once more", ["import", "--data", "second data", "--pack", DEMO, "first", "--json"]).json()
    tally.equal("importing again changes nothing", (again["added"], again["changed"], again["others"]["added"], again["others"]["changed"]),
                (0, 0, 0, 0))
    photographs[0].write_bytes(photographs[1].read_bytes())
    said = program.run("import", "--data", "third data", "--pack", DEMO, "first")
    tally.check("a photograph that is another is refused, and nothing is stored",
                said.status == 2 and "these are not the bytes that were exported" in said.err
                and exported(program, "third data") in ("", exported(program, "third data", "--format", "csv"))
                and "p-0004" not in exported(program, "third data"), said)
    bad = [{"kind": "letter", "id": "letter-1", "body": {"state": "lost"}}, {"kind": "soup", "id": "x", "body": {}},
           {"kind": "sale", "id": "sale-1", "body": {"price": -1}}]
    program.write("bad others.json", json.dumps({"format": "footring-cupboard-1", "records": [], "others": bad}))
    said = program.run("import", "--data", "second data", "--pack", DEMO, "bad others.json")
    tally.check("every fault of what is beside pieces is told",
                said.status == 2 and all(f"/others/{i}" in said.err for i in range(3)) and "nothing of the kind 'soup'" in said.err, said)


def check_demo(program, tally):
    pieces = len(list((ROOT / "demo/cupboard/pieces").glob("*.json")))
    words = ["import", "--data", "demo data", "--pack", DEMO, ROOT / "demo/cupboard", "--json"]
    tally.equal("the demo cupboard is imported", program.answers("demo", words).json()["added"], pieces)
    again = program.answers("demo again", words).json()
    tally.equal("the demo cupboard again changes nothing", (again["added"], again["changed"], again["unchanged"]),
                (0, 0, pieces))
