# SPDX-License-Identifier: Apache-2.0
"""footring examine: the JSON contract, pages, several pieces, several packs, and everything that is refused."""
import json

from program import DEMO, ROOT
from small_packs import NORTH, SOUTH, changed, write_pack

IVY_DISH = {"id": "a-1", "form": "dish", "glaze": {"value": "chalk", "sure": "sure"}, "wear": "light",
            "looks": [{"place": "rim", "value": "ivy", "sure": "sure"}], "number": "1?"}
IVY_JUG = {"id": "a-2", "form": "jug", "looks": [{"place": "rim", "value": "ivy", "sure": "likely"}], "faults": "many"}
MEMBERS = ["piece", "candidates", "open", "grade", "date", "reasons", "next", "conflicts", "verdict", "notes", "cautions"]


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    south = write_pack(program.folder / "south", SOUTH)
    check_contract(program, tally, north)
    check_pages(program, tally, golden, north)
    check_several(program, tally, north)
    check_packs(program, tally, north, south)
    check_settings(program, tally, north)
    check_refusals(program, tally, north)
    check_demo(program, tally)


def total(answer):
    return sum(c["probability"] for c in answer["candidates"]) + sum(answer["open"].values())


def check_contract(program, tally, north):
    program.write("dish.json", IVY_DISH)
    said = program.answers("one piece as JSON", ["examine", "--json", "--pack", north, "dish.json"])
    tally.equal("a single piece is one line", said.out.count("\n"), 1)
    answer = said.json()
    tally.equal("members of an answer", list(answer), MEMBERS)
    tally.equal("the answer names its piece", answer["piece"], "a-1")
    tally.equal("members of a candidate", list(answer["candidates"][0]), ["treatment", "number", "probability", "twins"])
    tally.equal("members of the open hypotheses", list(answer["open"]), ["unlisted", "elsewhere"])
    tally.equal("members of the date", list(answer["date"]), ["median", "hpd68", "hpd95", "edtf", "by_year"])
    tally.check("probabilities sum to 1 with the open ones", abs(total(answer) - 1) < 3e-4, total(answer))
    tally.check("grades sum to 1", abs(sum(answer["grade"].values()) - 1) < 1e-9, answer["grade"])
    tally.check("candidates stand in order of their odds",
                answer["candidates"] == sorted(answer["candidates"], key=lambda c: -c["probability"]), answer)
    tally.equal("the likeliest has ivy and a number that begins with 1", answer["candidates"][0]["treatment"], "n-1")
    for reason in answer["reasons"]:
        tally.equal("members of a reason", list(reason), ["look", "value", "decibans", "sources", "rows"])
    rim = next(r for r in answer["reasons"] if r["look"] == "rim")
    tally.check("the rim speaks for the likeliest and names its source", rim["decibans"] > 0 and "s-1" in rim["sources"], rim)
    for look in answer["next"]:
        tally.equal("members of a next look", list(look), ["look", "bits", "effort_min", "effect"])
        tally.check("no look promises less than nothing", look["bits"] >= -1e-12 and look["effort_min"] > 0, look)
    tally.equal("the same input gives the same bytes",
                program.run("examine", "--json", "--pack", north, "dish.json").out, said.out)
    nothing = program.answers("a piece of which nothing is known",
                              ["examine", "--json", "--pack", north, "-"], stdin="{}").json()
    shares = [c["probability"] for c in nothing["candidates"]]
    tally.check("no evidence returns the prior: 0.95 in equal parts",
                len(shares) == 3 and all(abs(p - 0.95 / 3) < 1e-9 for p in shares), shares)
    tally.equal("no evidence, no reasons", nothing["reasons"], [])


def check_pages(program, tally, golden, north):
    program.write("jug.json", IVY_JUG)
    golden.equal("examine-dish.txt", program.answers("a page", ["examine", "--pack", north, "dish.json"]).out)
    jug = program.answers("a page of twins", ["examine", "--pack", north, "jug.json"]).out
    golden.equal("examine-jug.txt", jug)
    words = ["reply", "--pack", north, "dish.json", "--name", "Ms Carr", "--subject", "a dish"]
    golden.equal("reply-dish.txt", program.answers("a reply", [*words, "--signature", "Orla"]).out)
    reply = program.answers("a reply as JSON", [*words, "--json"]).json()
    tally.equal("members of a reply", list(reply), ["text", "paragraphs", "asks"])
    tally.equal("the text is the paragraphs", reply["text"], "\n\n".join(reply["paragraphs"]) + "\n")
    for width in ("40", "60", "120"):
        narrow = program.run("examine", "--pack", north, "jug.json", env={"COLUMNS": width}).out
        tally.check(f"a page {width} wide is not wider", max(map(len, narrow.splitlines())) <= int(width), narrow)
    both = program.answers("two pages", ["examine", "--pack", north, "dish.json", "jug.json"]).out
    tally.check("two pages are parted by a rule", both.endswith(jug) and "\n" + "─" * 80 + "\n" in both, both)


def check_several(program, tally, north):
    program.write("list.json", [IVY_DISH, IVY_JUG])
    said = program.answers("several pieces", ["examine", "--json", "--pack", north, "list.json", "dish.json"])
    answers = [json.loads(line) for line in said.out.splitlines()]
    tally.equal("one line a piece, in order", [a["piece"] for a in answers], ["a-1", "a-2", "a-1"])
    tally.equal("an answer does not depend on its neighbours", answers[0], answers[2])
    said = program.answers("standard input", ["examine", "--json", "--pack", north, "-"], stdin=json.dumps(IVY_JUG))
    tally.equal("standard input is read", said.json(), answers[1])
    noted = program.answers("a field that nobody knows", ["examine", "--json", "--pack", north, "-"],
                            stdin=json.dumps([{**IVY_JUG, "colour": "white"}, IVY_DISH]))
    first, second = [json.loads(line)["notes"] for line in noted.out.splitlines()]
    tally.check("a note stands with its own piece", len(first) == 1 and "colour" in first[0] and second == [],
                (first, second))


def check_packs(program, tally, north, south):
    refused = ["examine", "--json", "--pack", north, "--pack", south, "dish.json"]
    program.refuses("an id that two packs have", refused, 2,
                    ["dish.json: /glaze/value: several open packs have a glaze 'chalk': write north:chalk or south:chalk"])
    full = {**IVY_DISH, "glaze": {"value": "north:chalk", "sure": "sure"}}
    program.write("full.json", full)
    answers = []
    for words in (["--pack", north, "--pack", south, "full.json"], ["--pack", north, south, "full.json"],
                  ["full.json", "--pack", north, south]):
        said = program.answers("two packs", ["examine", "--json", *words])
        answers.append(said.out)
    tally.equal("packs may follow one --pack or each have their own", answers[1:], [answers[0]] * 2)
    ids = [c["treatment"] for c in json.loads(answers[0])["candidates"]]
    tally.check("ids that several packs have are written in full", "north:n-1" in ids and "n-2" in ids, ids)


def check_settings(program, tally, north):
    def odds(*words):
        return program.answers("settings", ["examine", "--json", "--pack", north, *words, "dish.json"]).json()
    tally.equal("no open hypotheses when their prior is 0", odds("--set", "open_prior=0")["open"],
                {"unlisted": 0.0, "elsewhere": 0.0})
    shown = odds("--set", "least_shown=0.5")["candidates"]
    tally.check("candidates under least_shown are left out", all(c["probability"] >= 0.5 for c in shown), shown)
    uses = {**changed(NORTH, "treatments", 0), "dated_uses": [{"subject": "n-3", "date": "1937", "kind": "letter"}] * 3}
    counted = write_pack(program.folder / "counted", uses)
    prior = program.answers("pack counts", ["examine", "--json", "--pack", counted, "--set", "prior_pack_counts=1", "-"],
                            stdin="{}").json()
    tally.equal("three dated uses: n-3 has (1 + 3) of 6 parts", prior["candidates"][0]["treatment"], "n-3")
    tally.check("the prior follows the counts", abs(prior["candidates"][0]["probability"] - 0.95 * 4 / 6) < 1e-9, prior)


def check_refusals(program, tally, north):
    def refuses(name, content, lines, status=2):
        program.write("p.json", content)
        program.refuses(name, ["examine", "--pack", north, "p.json"], status, lines)

    program.refuses("missing file", ["examine", "--pack", north, "none.json"], 3,
                    ["none.json: there is no such file: check the path"])
    program.refuses("a folder for a piece", ["examine", "--pack", north, "--json", program.folder], 2,
                    [f"{program.folder}: this is a folder, not a file: name a file in it"])
    program.refuses("missing pack", ["examine", "--pack", "nowhere", "dish.json"], 3,
                    ["nowhere: there is no such folder: check the path of the pack"])
    program.refuses("standard input twice", ["examine", "--pack", north, "-", "-"], 2,
                    ["standard input: is named twice: write - once"], stdin="{}")
    refuses("an empty list", [], ["p.json: there is no piece in this file: write a piece, or a list of pieces"])
    for name, content in [("empty", b""), ("binary", bytes(range(256))), ("torn", b'{"id": "x"'), ("two values", b"{} {}"),
                          ("a number", b"7"), ("deep", b"[" * 200000), ("not UTF-8", b'{"id": "\xff"}'),
                          ("a huge number", b'{"length_mm": 1e999}'), ("a huge length", b'{"length_mm": 1e300}'),
                          ("a negative length", b'{"height_mm": -3}'), ("a field twice", b'{"id": "a", "id": "b"}'),
                          ("a wrong place", b'{"looks": [{"place": "lip", "value": "none"}]}'),
                          ("a wrong sure", b'{"looks": [{"place": "rim", "value": "none", "sure": "very"}]}')]:
        program.write("p.json", content)
        said = program.run("examine", "--json", "--pack", north, "p.json")
        tally.check(f"a piece file that is {name} is refused in lines of three parts",
                    said.status == 2 and said.out == "" and said.lines
                    and all(line.startswith("p.json") and line.count(": ") >= 2 for line in said.lines), said)
    refuses("unknown ids", {"form": "dsh", "glaze": {"value": "chalc"}, "looks": [{"place": "rim", "value": "ivvy"}],
                            "mark": {"value": "m-9"}},
            ["p.json: /form: there is no form 'dsh': did you mean 'dish'?",
             "p.json: /glaze/value: there is no glaze 'chalc': did you mean 'chalk'?",
             "p.json: /looks/0/value: there is no ornament 'ivvy': did you mean 'ivy'?",
             "p.json: /mark/value: there is no mark 'm-9': use one of brick-mark"])
    refuses("unknown ids in a list", [IVY_DISH, {"form": "juug"}],
            ["p.json: /1/form: there is no form 'juug': did you mean 'jug'?"])
    program.write("p.json", {"form": "dsh"})
    program.refuses("faults of several files at once", ["examine", "--pack", north, "dish.json", "p.json", "none.json"], 2,
                    ["p.json: /form: there is no form 'dsh': did you mean 'dish'?",
                     "none.json: there is no such file: check the path"])
    program.refuses("faults of pack and settings at once",
                    ["examine", "--pack", "nowhere", "--set", "x=1", "dish.json"], 3,
                    ["setting x: there is no setting of this name: run `footring settings` for the list",
                     "nowhere: there is no such folder: check the path of the pack"])


def check_demo(program, tally):
    pieces = sorted((ROOT / "demo/cupboard/pieces").glob("*.json"))
    tally.check("the demo has pieces", len(pieces) >= 20, len(pieces))
    said = program.answers("every demo piece", ["examine", "--json", "--pack", DEMO, *pieces])
    answers = [json.loads(line) for line in said.out.splitlines()]
    tally.equal("one line for each demo piece", len(answers), len(pieces))
    for answer in answers:
        tally.check(f"odds of {answer['piece']} sum to 1", abs(total(answer) - 1) < 0.01, total(answer))
