# SPDX-License-Identifier: Apache-2.0
"""footring account and footring serve --share: who gets in, and that nothing private is written out unasked."""
import json
import re
import ssl
import urllib.error
import urllib.request

from program import DEMO, ROOT
from serving import serving
from small_packs import NORTH, write_pack

PASSWORD = "correct horse battery"


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    check_accounts(program, tally)
    check_options(program, tally, north)
    check_serving(program, tally, north)
    check_private(program, tally, north)


def check_accounts(program, tally):
    words = ["account", "--data", "house"]
    program.refuses("a password that is too short", [*words, "add", "ada", "--role", "keeper"], 2,
                    ["password: it is shorter than 10 characters: take several words that nobody else would put together, "
                     "at least 10 characters"], stdin="short\n")
    program.refuses("a password that nobody gives", [*words, "add", "ada", "--role", "keeper"], 2,
                    ["password: none was given: type it, or give it as a line on standard input"])
    program.refuses("a name that is none", [*words, "add", "Ada Lovelace", "--role", "keeper"], 2,
                    ["account name: this is no name of an account: use small letters a to z, digits, '.', '-' and '_', "
                     "at most 64, a letter or digit first"], stdin=PASSWORD + "\n")
    program.refuses("an account without a role", [*words, "add", "ada"], 2,
                    ["--role: the role is missing: give reader, contributor or keeper"], stdin=PASSWORD + "\n")
    said = program.answers("the first account", [*words, "add", "ada", "--role", "keeper"], stdin=PASSWORD + "\n")
    tally.equal("what is said of it", said.out, "ada is now a keeper\n")
    program.refuses("the same account again", [*words, "add", "ada", "--role", "reader"], 2,
                    ["account ada: this account is there already: choose another name, or change the one that is there"],
                    stdin=PASSWORD + "\n")
    program.refuses("the last keeper", [*words, "remove", "ada"], 2,
                    ["account ada: this is the only keeper: make somebody else a keeper first"])
    program.answers("a reader", [*words, "add", "cleo", "--role", "reader"], stdin=PASSWORD + "\n")
    listed = program.answers("the list", [*words, "list", "--json"]).json()
    tally.equal("who is in the list", [(one["name"], one["role"]) for one in listed], [("ada", "keeper"), ("cleo", "reader")])
    tally.check("no list holds a digest", "argon2" not in json.dumps(listed))
    tally.equal("another role", program.answers("a role", [*words, "role", "cleo", "--role", "contributor"]).out,
                "cleo is now a contributor\n")
    tally.equal("another password", program.answers("a password", [*words, "password", "cleo"], stdin=PASSWORD + "!\n").out,
                "cleo is signed out everywhere, and still a contributor\n")
    tally.equal("gone", program.answers("a removal", [*words, "remove", "cleo"]).out, "cleo has no account any more\n")
    program.refuses("one who is gone", [*words, "password", "cleo"], 3,
                    ["account cleo: there is no account of this name: see the list of accounts"], stdin=PASSWORD + "\n")
    stored = b"".join(path.read_bytes() for path in (program.folder / "house").iterdir() if path.is_file())
    tally.check("no password is in the folder", PASSWORD.encode() not in stored and b"$argon2id$v=19$m=65536,t=2,p=1$" in stored)


def check_options(program, tally, north):
    for option, value in [("--address", "0.0.0.0"), ("--name", "a.example"), ("--certificate", "c.pem"), ("--key", "k.pem")]:
        program.refuses(f"{option} without --share", ["serve", "--pack", north, "--data", "house", option, value], 2,
                        [f"{option}: beyond this machine there are only people with accounts, over TLS: add --share, or "
                         "leave this option out"])
    share = ["serve", "--pack", north, "--data", "house", "--port", "0", "--share"]
    program.refuses("an address that is a name", [*share, "--address", "example.org"], 2,
                    ["--address: 'example.org' is no address of a machine: give one in digits, such as 192.168.0.7, or "
                     "0.0.0.0 for all of this machine"])
    program.refuses("a name that is an address in full", [*share, "--name", "https://a.example/"], 2,
                    ["--name: 'https://a.example/' is no name of a machine: give the part of the address between https:// "
                     "and the next / or :"])
    program.refuses("a certificate without its key", [*share, "--certificate", "c.pem"], 2,
                    ["--key: a certificate and its key belong together: give both, or none for one of its own"])
    program.refuses("a certificate that is not there", [*share, "--certificate", "c.pem", "--key", "k.pem"], 3,
                    ["c.pem: there is no such file: check the path"])
    program.refuses("a house without a keeper", ["serve", "--pack", north, "--data", "empty", "--port", "0", "--share"], 3,
                    ["--share: there is no account of a keeper, so that nobody could sign in: make one with `footring "
                     "account add NAME --role keeper`"])


def check_serving(program, tally, north):
    trusting = ssl.create_default_context()
    trusting.check_hostname = False
    trusting.verify_mode = ssl.CERT_NONE

    def ask(address, path, body=None, cookie="", context=trusting):
        request = urllib.request.Request(address.rstrip("/") + path, data=None if body is None else json.dumps(body).encode(),
                                         headers={"Content-Type": "application/json", **({"Cookie": cookie} if cookie else {})})
        try:
            with urllib.request.urlopen(request, timeout=20, context=context) as answer:
                return answer.status, json.loads(answer.read()), answer.headers
        except urllib.error.HTTPError as refused:
            return refused.code, json.loads(refused.read()), refused.headers

    prints = []
    for _ in range(2):
        with serving(program, "--pack", north, "--data", "house", "--share", "--address", "127.0.0.1", "--name", "localhost",
                     "--json") as (line, process):
            told = json.loads(line)
            tally.check("it is shared over TLS, under the name that was given", told["address"].startswith("https://localhost:"), told)
            prints.append(told["fingerprint"])
            here = told["address"]
            tally.equal("nobody is let in unknown", ask(here, "/api/pieces")[0], 401)
            tally.equal("a wrong password", ask(here, "/api/door/sign-in", {"name": "ada", "password": "x"})[0], 401)
            status, _, headers = ask(here, "/api/door/sign-in", {"name": "ada", "password": PASSWORD})
            cookie = (headers["Set-Cookie"] or "").split(";")[0]
            tally.equal("the right one", status, 200)
            tally.equal("and then the pieces", ask(here, "/api/pieces", cookie=cookie)[0], 200)
            own = ssl.create_default_context(cafile=str(program.folder / "house/tls/own.pem"))
            tally.equal("who knows its certificate needs to trust nothing else", ask(here, "/api/alive", context=own)[0], 200)
            said = program.run("account", "--data", "house", "list")
            tally.check("accounts cannot be changed behind its back", said.status == 1 and len(said.lines) == 1, said)
    tally.check("its own certificate stays the same", prints[0] == prints[1] and re.fullmatch("([0-9A-F]{2}:){31}[0-9A-F]{2}", prints[0]), prints)
    with serving(program, "--pack", north, "--data", "house", "--share", "--address", "127.0.0.1") as (line, process):
        text = line + "".join(process.stdout.readline() for _ in range(3))
        tally.check("the page says where it is and shows the fingerprint", "https://" in line and prints[0] in text, text)
    backup = program.answers("a backup of a shared house", ["backup", "house.tar", "--data", "house"])
    listing = program.folder / "house.tar"
    tally.check("no backup holds the key of its certificate", b"PRIVATE KEY" not in listing.read_bytes(), backup)


def check_private(program, tally, north):
    """Marks that nobody may find in what leaves the house, unless --private asks for it."""
    lots = [{"id": "lot-1", "name": "Attic", "place": "SECRETLOT", "note": "SECRETLOT", "cost": 918273, "currency": "ZZQ"}]
    records = [
        {"piece": {"id": "s-1", "form": "dish", "shape": {"value": "reed"}, "looks": [{"place": "rim", "value": "ivy"}]},
         "lot": "lot-1", "cost": 918273.5, "currency": "ZZQ", "note": "plain"},
        {"piece": {"id": "s-hidden", "form": "dish", "shape": {"value": "reed"}, "looks": [{"place": "rim", "value": "ivy"}]},
         "private": True, "cost": 918273, "currency": "ZZQ", "note": "SECRETPIECE", "place": "SECRETPIECE"},
    ]
    program.write("planted.json", {"format": "footring-cupboard-1", "lots": lots, "records": records})
    program.answers("the planted pieces", ["import", "--data", "planted", "--pack", north, "planted.json"])
    marks = ["SECRET", "918273", "ZZQ", "s-hidden"]
    ways = {
        "pieces as CSV": ["export", "--data", "planted"],
        "pieces as JSON": ["export", "--data", "planted", "--format", "json"],
        "linked-art": ["export", "linked-art", "--data", "planted", "--pack", north],
        "dublin-core": ["export", "dublin-core", "--data", "planted", "--pack", north],
        "inventory": ["paper", "inventory", "--data", "planted", "--pack", north, "--format", "html"],
        "labels": ["paper", "labels", "--data", "planted", "--pack", north, "--format", "html"],
        "dossier": ["paper", "dossier", "--of", "ornament:ivy", "--data", "planted", "--pack", north, "--format", "html"],
        "talk": ["paper", "talk", "--of", "ornament:ivy", "--data", "planted", "--pack", north, "--format", "html"],
    }
    for name, words in ways.items():
        out = program.answers(f"{name} of what was planted", words).out
        chosen = name in ("dossier", "talk")  # these show pieces of their own choice
        tally.check(f"{name}: nothing private", not [mark for mark in marks if mark in out] and (chosen or "s-1" in out),
                    [mark for mark in marks if mark in out])
        asked = program.answers(f"{name} with what is private", [*words, "--private"]).out
        tally.check(f"{name}: the private piece when asked for", chosen or "s-hidden" in asked)
    for format, how in [("xlsx", []), ("site", ["--every-piece"])]:
        for private in (False, True):
            out = program.folder / f"out-{private}.{format}"
            words = (["export", "--data", "planted", "--out", out] if format == "xlsx" else
                     ["export", "site", "--data", "planted", "--pack", north, "--out", out, *how])
            program.answers(f"{format}, private {private}", [*words, *(["--private"] if private else [])])
            tally.equal(f"{format}: holds the private piece only when asked", held(out, "s-hidden"), private)
            tally.equal(f"{format}: the open one always", held(out, "s-1"), True)
            tally.check(f"{format}: costs only in a table, and when asked", held(out, "918273") == (private and format == "xlsx"))
    program.refuses("a private piece by its name", ["export", "linked-art", "--data", "planted", "--pack", north, "--piece", "s-hidden"], 2,
                    ["piece s-hidden: it is private: add --private to take it along all the same"])
    program.refuses("a paper of a private piece", ["paper", "condition", "--piece", "s-hidden", "--data", "planted", "--pack", north], 2,
                    ["--piece: piece s-hidden is private: add --private to set the paper all the same"])

    # Reading back what was written for others changes nothing that it did not hold.
    whole = program.answers("everything", ["export", "--data", "planted", "--format", "json", "--private"]).out
    for format in ("csv", "json"):
        program.write(f"for-others.{format}", program.run("export", "--data", "planted", "--format", format).out)
        again = program.answers(f"{format} read back", ["import", "--data", "planted", "--pack", north, f"for-others.{format}"])
        tally.equal(f"{format} read back changes nothing", again.out, "0 added, 0 changed, 1 already there, 0 left out\n")
    tally.equal("all is as it was", program.run("export", "--data", "planted", "--format", "json", "--private").out, whole)
    # How much stayed at home is said; the folder for one's own keeping leaves nothing there, unasked.
    told = program.answers("a table", ["export", "--data", "planted", "--out", "told.csv"]).out
    tally.equal("what was left out is said", told,
                "1 piece written to told.csv; 1 left out, private or of a letter: --private takes it along\n")
    told = program.answers("a table for oneself", ["export", "--data", "planted", "--out", "told.csv", "--private"]).out
    tally.equal("nothing left out", told, "2 pieces written to told.csv\n")
    told = program.answers("an open format", ["export", "linked-art", "--data", "planted", "--pack", north, "--out", "told.json", "--json"]).json()
    tally.equal("an open format says it too", (told["pieces"], told["left_out"]), (1, 1))
    program.answers("the folder", ["export", "everything", "--data", "planted", "--out", "kept"])
    program.answers("the folder into an empty house", ["import", "--data", "third", "--pack", north, "kept"])
    bare = lambda text: re.sub(r'"(created|changed)": "[^"]*"|"revision": \d+', "", text)  # noqa: E731
    tally.equal("the folder loses nothing", bare(program.run("export", "--data", "third", "--format", "json", "--private").out), bare(whole))
    # And what was written for one's own keeping loses nothing.
    program.write("own.json", whole)
    program.answers("into an empty house", ["import", "--data", "second", "--pack", north, "own.json"])
    tally.equal("one's own keeping loses nothing",
                bare(program.run("export", "--data", "second", "--format", "json", "--private").out), bare(whole))


def held(path, mark):
    """Whether a file, a workbook or a folder of files holds the text."""
    import zipfile
    if path.is_dir():
        return any(mark.encode() in one.read_bytes() or mark in one.name for one in path.rglob("*") if one.is_file())
    with zipfile.ZipFile(path) as parts:
        return any(mark.encode() in parts.read(name) for name in parts.namelist())
