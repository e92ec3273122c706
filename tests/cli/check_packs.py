# SPDX-License-Identifier: Apache-2.0
"""footring check: sound packs, every kind of broken one, and several together."""
from program import DEMO
from small_packs import NORTH, SOUTH, changed, write_pack


def check(program, tally, golden):
    north = write_pack(program.folder / "north", NORTH)
    south = write_pack(program.folder / "south", SOUTH)
    said = program.answers("check of two packs", ["check", north, south])
    tally.equal("a sound pack is counted", said.out,
                "north 1.0.0: no faults in 3 treatments, 3 ornaments, 1 shapes, 1 marks, 2 sources\n"
                "south 1.0.0: no faults in 1 treatments, 1 ornaments, 1 shapes, 0 marks, 0 sources\n")
    tally.equal("no faults as JSON", program.answers("check as JSON", ["check", "--json", north]).json(), {"problems": []})
    program.answers("check of the demo pack", ["check", DEMO])

    program.refuses("check of nothing", ["check"], 2, ["footring check: PACK is missing: see `footring check --help`"])
    program.refuses("check of a missing folder", ["check", "nowhere"], 3, missing_folder("nowhere"))
    program.write("file.txt", "x")
    said = program.run("check", "file.txt")
    tally.check("check of a file is refused in one line", said.status in (2, 3) and len(said.lines) == 1, said)
    (program.folder / "empty").mkdir()
    said = program.run("check", "empty")
    tally.check("check of a folder without a datapackage.json is refused", said.status in (2, 3) and said.lines, said)

    check_faults(program, tally)
    check_torn(program, tally)


def missing_folder(name):
    return [f"{name}: there is no such folder: check the path of the pack"]


def check_faults(program, tally):
    broken = changed(NORTH, "treatments", 0, glaze="chalky")
    broken = changed(broken, "treatment_ornaments", 2, share="1.5")
    broken = changed(broken, "shapes", 0, years="1945/1925")
    folder = write_pack(program.folder / "broken", broken)
    said = program.run("check", folder)
    tally.equal("faults of a pack: exit status", (said.status, said.out), (2, ""))
    tally.check("each fault has file, line and column",
                all(line.startswith(f"{folder}/") and line.split(".csv:")[1].split(":")[1].isdigit() for line in said.lines),
                said.err)
    for name, at, word in [("an unknown glaze", "treatments.csv:2:", "chalky"),
                           ("a share over 1", "treatment_ornaments.csv:4:", "1.5"),
                           ("a period that ends before it begins", "shapes.csv:2:", "1945")]:
        tally.check(f"{name} is told", any(at in line and word in line for line in said.lines), said.err)
    as_json = program.run("check", "--json", folder)
    tally.equal("faults as JSON: exit status", as_json.status, 2)
    problems = as_json.json()["problems"]
    tally.equal("members of a problem", {tuple(p) for p in problems}, {("code", "where", "what", "remedy")})
    tally.equal("the same faults as lines and as JSON",
                [f"{p['where']}: {p['what']}: {p['remedy']}" for p in problems], said.lines)
    both = program.run("check", folder, "nowhere")
    tally.equal("bad input goes before not found", both.status, 2)
    # A reasoning command refuses the same pack in the same words.
    other = program.run("key", "--pack", folder)
    tally.equal("key refuses a broken pack as check does", (other.status, other.err, other.out), (2, said.err, ""))


def check_torn(program, tally):
    for name, text in [("not UTF-8", b"id,name\nreed,\xff\xfe\n"), ("binary", bytes(range(256)) * 4), ("empty", b""),
                       ("an open quote", b'id,maker,name,years,note,source\nreed,brickfield,"Reed\n')]:
        folder = write_pack(program.folder / f"torn {name}", NORTH)
        (folder / "shapes.csv").write_bytes(text)
        said = program.run("check", folder)
        tally.check(f"a table that is {name} is refused", said.status == 2 and said.lines and said.out == "", said)
        tally.check(f"a table that is {name} is named", any("shapes.csv" in line for line in said.lines), said.err)
    for name, text in [("binary", b"\x00\x01\x02"), ("empty", b""), ("a list", b"[]"), ("deep", b"[" * 100000)]:
        folder = write_pack(program.folder / f"descriptor {name}", NORTH)
        (folder / "datapackage.json").write_bytes(text)
        said = program.run("check", folder)
        tally.check(f"a descriptor that is {name} is refused", said.status == 2 and said.lines and said.out == "", said)
