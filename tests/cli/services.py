# SPDX-License-Identifier: Apache-2.0
"""footring services: what stands where over the demo cupboard, and what is refused."""
import json

from program import DEMO, ROOT

CUPBOARD = ROOT / "demo/cupboard"


def check(program, tally, golden):
    words = ["services", "--pack", DEMO, "--pieces", CUPBOARD]
    golden.equal("services.txt", program.answers("services as a page", [*words, "--wants", "--part", "--date", "2026-01"]).out)
    golden.equal("compositions.txt", program.answers("compositions", ["services", "--compositions"]).out)
    said = program.answers("services", [*words, "--wants", "--part", "--json"]).json()
    tally.equal("members of an answer", list(said),
                ["objective", "complete", "settings", "whole", "proved", "goals", "services", "bought", "spent", "prices",
                 "notes", "size", "wants", "parting"])
    tally.equal("it is proved", (said["proved"], [goal["ending"] for goal in said["goals"]]), (True, ["best"]))
    check_tables(tally, said)
    check_states(tally, said)
    check_objectives(program, tally, words)
    check_found(program, tally, words)
    check_cupboard(program, tally, words, said)
    check_refusals(program, tally, words)


def places(said):
    for service in said["services"]:
        for setting in service["table"]:
            yield from ((service, setting["setting"], place) for place in setting["places"])
        yield from ((service, None, place) for place in service["serving"])


def check_tables(tally, said):
    used = [place["piece"] for _, _, place in places(said) if place["piece"]]
    tally.equal("each piece stands once", len(used), len(set(used)))
    parted = {row["piece"] for row in said["parting"]}
    tally.equal("a piece stands somewhere or is parted with", (len(used) + len(parted), parted & set(used)), (120, set()))
    for service in said["services"]:
        full = [s for s in service["table"] if all(place["state"] != "missing" for place in s["places"])]
        tally.equal(f"{service['service']['id']}: complete settings are those without a gap",
                    (service["complete"], len(full), [s["complete"] for s in service["table"]].count(True)),
                    (len(full),) * 3)
    tally.check("every place says why", all(place["why"].endswith(".") for _, _, place in places(said)), said)


def check_states(tally, said):
    states = {place["state"] for _, _, place in places(said)}
    tally.equal("the demo has every state", states, {"filled", "interchangeable", "doubtful", "missing"})
    tally.check("the demo has a whole service", any(service["whole"] for service in said["services"]), said)
    tally.check("the demo has an insisted piece", any(place["insisted"] for _, _, place in places(said)), said)
    kinds = {row["kind"] for row in said["parting"]}
    tally.equal("the demo has duplicates and strays", kinds, {"duplicate", "stray"})


def check_objectives(program, tally, words):
    complete = {}
    for objective in ("settings", "services", "value", "purchase"):
        extra = ["--budget", "90", "--date", "2026-01"] if objective == "purchase" else []
        said = program.answers(objective, [*words, "--objective", objective, *extra, "--json"]).json()
        complete[objective] = (said["complete"], said["whole"], said["spent"])
        tally.check(f"{objective}: proved", said["proved"], said["goals"])
    tally.check("no objective completes more settings than that one",
                all(complete["settings"][0] >= complete[o][0] for o in ("services", "value")), complete)
    tally.check("none has more whole services", all(complete["services"][1] >= complete[o][1] for o in ("settings", "value")), complete)
    tally.check("a purchase completes more and keeps its budget",
                complete["purchase"][0] > complete["settings"][0] and 0 < complete["purchase"][2] <= 90, complete)
    program.write("prices.csv", "treatment,form,price\n,,10\nt-117,saucer,4.5\n")
    priced = program.answers("prices", [*words, "--wants", "--prices", "prices.csv", "--json"]).json()["wants"]
    tally.equal("the cheapest want", (priced["steps"][0]["cost"], priced["prices"]),
                (4.5, {"known": True, "currency": "", "basis": ""}))
    check_estimates(program, tally, words)
    once, twice = (program.answers("again", [*words, "--json"]).out for _ in range(2))
    tally.equal("the same pieces give the same bytes", once, twice)


def check_estimates(program, tally, words):
    """What is wanted is priced by the sales beside the pieces, and says so; the same figure as `footring worth` has it."""
    said = program.answers("estimates", [*words, "--wants", "--date", "2026-01", "--json"]).json()["wants"]
    tally.equal("the currency of most sales", (said["prices"]["known"], said["prices"]["currency"]), (True, "USD"))
    tally.check("an estimate is told as one", "no valuation" in said["text"], said["text"])
    tally.check("each has its range", all(row["low"] < row["price"] < row["high"] for row in said["list"]), said["list"])
    row = next(row for row in said["list"] if row["form"]["id"] == "saucer" and row["treatment"]["number"] == "617")
    worth = program.answers("the same saucer", ["worth", "--pack", DEMO, "--sales", CUPBOARD / "sales.csv", "--form", "saucer",
                                                "--treatment", "t-617", "--date", "2026-01", "--json"]).json()["worth"]
    tally.equal("as an estimate of its worth", (row["price"], row["low"], row["high"]), (worth["median"], *worth["ninety"]))
    pounds = program.answers("in pounds", [*words, "--wants", "--currency", "GBP", "--date", "2026-01", "--json"]).json()["wants"]
    tally.equal("another currency", pounds["prices"]["currency"], "GBP")
    program.refuses("a currency without sales", [*words, "--wants", "--currency", "JPY"], 3,
                    ["sales: there are no sales in JPY: choose a currency of the sales; no exchange rate is assumed"])
    program.refuses("prices and sales", [*words, "--wants", "--prices", "prices.csv", "--sales", CUPBOARD / "sales.csv"], 2,
                    ["--sales: prices are given already: leave --sales or --prices out: estimates come from the one, prices from "
                     "the other"])


def check_found(program, tally, words):
    saucer = json.loads((CUPBOARD / "pieces/p-0005.json").read_text(encoding="utf-8"))
    program.write("find.json", saucer)
    said = program.answers("a find", [*words, "--found", "find.json", "--json"]).json()["found"]
    tally.equal("what a find completes", (said["fits"], said["gain"], said["sentence"]),
                (True, 1, "Completes setting 2 of 2 in Fern pair with rosette."))
    tally.equal("services that it does not fit say why", len(said["services"]) + len(said["why"]), 6)


def check_cupboard(program, tally, words, said):
    program.answers("import", ["import", "--data", "kept", "--pack", DEMO, CUPBOARD])
    kept = program.answers("services of a cupboard", ["services", "--pack", DEMO, "--pieces", "kept", "--json"]).json()
    by_id = {service["service"]["id"]: service for service in kept["services"]}
    tally.equal("a cupboard keeps its services", {s["service"]["id"]: s["complete"] for s in said["services"]},
                {i: s["complete"] for i, s in by_id.items()})
    again = program.answers("import again", ["import", "--data", "kept", "--pack", DEMO, CUPBOARD])
    tally.equal("importing again changes nothing", again.out, "0 added, 0 changed, 120 already there, 0 left out\n")


def check_refusals(program, tally, words):
    one = {"id": "tea", "treatments": ["t-117"], "composition": {"settings": 1, "setting": [{"forms": ["cup"]}]}}

    def refuses(name, service, lines, extra=(), status=2):
        program.write("wrong.json", service)
        program.refuses(name, [*words, "--service", "wrong.json", *extra], status, lines)

    refuses("a form that nothing can fill", {**one, "composition": {"setting": [{"forms": ["ice-bucket"]}]}},
            ["wrong.json: tea/composition: no form of the open packs is called 'ice-bucket': nothing could fill the line "
             "'ice-bucket': name a form of the packs by its id, or take the line out"])
    refuses("a composition that nothing can fill",
            {**one, "treatments": ["t-lintel-b"], "composition": {"name": "Egg set", "setting": [{"forms": ["egg-cup"]}]}},
            ["wrong.json: tea/composition: nothing can fill the composition 'Egg set': Lintel has none of its forms on "
             "record: name forms that the shape was made in, or another treatment"])
    refuses("insistence that cannot be", {**one, "insist": ["p-0006", "p-0008"]},
            ["tea: insist: 2 pieces are insisted on for 1 place (tea cup): p-0006, p-0008: take one of them off the list, "
             "or make the service larger"])
    refuses("an unknown piece", {**one, "insist": ["p-9999"]},
            ["tea: insist: there is no piece 'p-9999': check its id, or take it off the list"])
    refuses("a negative budget", one, ["--budget: -3 cannot be: write a number from 0 to 1e+12"],
            ["--objective", "purchase", "--budget=-3"])
    refuses("a budget without a purchase", one,
            ["--budget: a budget is for a purchase: add --objective purchase, or leave --budget out"], ["--budget", "3"])
    program.refuses("no pieces", ["services", "--pack", DEMO], 2,
                    ["footring services: --pieces is missing: add --pieces DIR"])
    program.refuses("no such folder", ["services", "--pack", DEMO, "--pieces", "nowhere"], 3,
                    ["nowhere: there is no such folder: name a cupboard, or a folder of piece files"])
