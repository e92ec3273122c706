# SPDX-License-Identifier: Apache-2.0
"""footring backup and restore: beside a running server, and looked into with tar and sha256sum."""
import json
import subprocess
import tarfile
import urllib.request

from serving import get, serving
from small_packs import NORTH, write_pack


def post(address, path, value):
    request = urllib.request.Request(address.rstrip("/") + path, json.dumps(value).encode(),
                                     {"Content-Type": "application/json"})
    with urllib.request.urlopen(request, timeout=20) as answer:
        return json.loads(answer.read())


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    with serving(program, "--pack", north, "--data", "data", "--json") as (line, _):
        address = json.loads(line)["address"]
        post(address, "/api/pieces", {"piece": {"id": "p-1", "form": "dish", "looks": []}, "note": "before"})
        made = program.answers("a backup beside the server", ["backup", "one.tar", "--data", "data", "--json"]).json()
        tally.equal("what is in it", (made["pieces"], made["lots"], made["photographs"], made["notes"]), (1, 0, 0, []))
        post(address, "/api/pieces", {"piece": {"id": "p-2", "form": "dish", "looks": []}, "note": "after"})
        back = program.answers("restoring beside the server", ["restore", "one.tar", "--data", "data", "--json"]).json()
        ids = [row["piece"]["id"] for row in get(address, "/api/pieces")["rows"]]
        tally.equal("the server goes on with what was restored", ids, ["p-1"])
        post(address, "/api/pieces", {"piece": {"id": "p-3", "form": "dish", "looks": []}})
        program.answers("restoring what was there before", ["restore", back["kept"], "--data", "data"])
        ids = sorted(row["piece"]["id"] for row in get(address, "/api/pieces")["rows"])
        tally.equal("the state before is there again", ids, ["p-1", "p-2"])

    with tarfile.open(program.folder / "one.tar") as tar:
        names = tar.getnames()
        tar.extractall(program.folder / "by-tar", filter="data") if hasattr(tarfile, "data_filter") else tar.extractall(
            program.folder / "by-tar")
    tally.check("any tar program reads it", {"footring-backup.json", "footring.db", "SHA256SUMS"} <= set(names), names)
    sums = subprocess.run(["sha256sum", "--check", "--quiet", "SHA256SUMS"], cwd=program.folder / "by-tar",
                          capture_output=True, text=True)
    tally.equal("sha256sum agrees with its list", (sums.returncode, sums.stdout), (0, ""))
    subprocess.run(["tar", "cf", "../again.tar", "."], cwd=program.folder / "by-tar", check=True)
    program.answers("what tar packed again is a backup", ["restore", "again.tar", "--data", "from-tar"])

    said = program.run("backup", "one.tar", "--check")
    tally.equal("a backup that is whole", (said.status, said.out.split(", made")[0]),
                (0, "one.tar is whole: 1 piece in 0 lots, 0 photographs"))
    bytes_of_it = bytearray((program.folder / "one.tar").read_bytes())
    bytes_of_it[5000] ^= 1
    (program.folder / "bad.tar").write_bytes(bytes_of_it)
    for words in (["restore", "bad.tar", "--data", "fresh"], ["backup", "bad.tar", "--check"]):
        refused = program.run(*words)
        tally.equal(f"{words[0]} of a damaged backup", (refused.status, refused.out, refused.err),
                    (2, "", "bad.tar: the backup is damaged: footring.db is not as it was (its checksum differs): "
                            "take another backup\n"))
    tally.check("nothing was restored of it", not (program.folder / "fresh" / "footring.db").exists())
    for name, words, status, err in [
        ("a name that is taken", ["backup", "one.tar", "--data", "data"], 2,
         "one.tar: there is a file of this name already: choose another name; a backup never replaces another\n"),
        ("no folder", ["backup", "x.tar"], 2,
         "--data: no folder of pieces is named: add --data DIR, or --check to check a backup that is there\n"),
        ("no store", ["backup", "x.tar", "--data", "north"], 3,
         "north: there is no store in this folder: name the folder that `footring serve --data` uses\n"),
        ("no such backup", ["restore", "none.tar", "--data", "data"], 3,
         "none.tar: there is no such file: bring it back from a backup\n"),
    ]:
        refused = program.run(*words)
        tally.equal(f"refused: {name}", (refused.status, refused.out, refused.err), (status, "", err))
