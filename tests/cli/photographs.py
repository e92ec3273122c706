# SPDX-License-Identifier: Apache-2.0
"""footring read and footring card: the JSON that others build on, options, and photographs that are none."""
import struct
import zlib

from program import DEMO, ROOT

MEMBERS = {
    "photo": ["file", "width", "height"],
    "scale": ["mm_per_px", "sigma", "source"],
    "outline": ["kind", "centre_px", "axes_px", "angle_deg", "long_mm", "short_mm", "sigma_mm"],
    "border": ["present", "repeats", "finish", "wear", "ornaments"],
    "edge_line": ["present", "colour"],
    "verge_line": ["present", "colour"],
    "centre": ["present", "ornaments"],
    "glaze": ["lab", "nearest"],
    "faults": ["specks_per_dm2", "unevenness"],
    "wording": None,
    "marks": None,
    "looks": None,
    "notes": None,
}


def png(width, height, grey=200):
    """A plain picture, made by hand (ISO/IEC 15948)."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    rows = (b"\0" + bytes([grey]) * width) * height
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)) +
            chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


def check(program, tally, golden):
    (program.folder / "plain.png").write_bytes(png(400, 300))
    (program.folder / "torn.png").write_bytes(png(400, 300)[:60])
    check_members(program, tally)
    check_refusals(program, tally)
    check_card(program, tally)


def check_members(program, tally):
    plain = program.answers("read of a picture without a piece", ["read", "--json", "plain.png"]).json()
    tally.equal("the members stand in their order", list(plain)[:len(MEMBERS)], list(MEMBERS))
    for name, members in MEMBERS.items():
        if members and plain[name] is not None:
            tally.equal(f"members of {name}", list(plain[name])[:len(members)], members)
    tally.equal("a plain picture holds no piece", (plain["outline"]["kind"], plain["outline"]["axes_px"]), ("none", None))
    tally.equal("without a card there is no scale", plain["scale"], None)
    tally.check("what is missing is said", any("scale card" in note for note in plain["notes"]), plain["notes"])
    tally.equal("nothing is suggested of nothing", plain["looks"], [])

    photos = sorted((ROOT / "demo/cupboard/photos").glob("*.jpg"))
    if tally.check("the demo has photographs", len(photos) > 0):
        seen = program.answers("read of a demo photograph", ["read", "--json", "--pack", DEMO, photos[0]]).json()
        for name, members in MEMBERS.items():
            if members and seen[name] is not None:
                tally.equal(f"members of {name} in a photograph of a piece", list(seen[name])[:len(members)], members)
        again = program.answers("read again", ["read", "--json", "--pack", DEMO, photos[0]]).json()
        tally.equal("the same photograph gives the same reading", again, seen)
        page = program.answers("read as a page", ["read", "--pack", DEMO, photos[0]])
        tally.check("the page begins with the file", page.out.startswith(str(photos[0])), page.out)


def check_refusals(program, tally):
    for words, line in [
        (["read", "nowhere.jpg"], "nowhere.jpg: there is no such file: check the path\n"),
        (["read", "torn.png"],
         "torn.png: the photograph is torn: it ends too early, or its data are damaged: copy it from the camera again\n"),
        (["read", "--rim-height-mm", "high", "plain.png"],
         "--rim-height-mm: 'high' is no height of a rim in mm: write a number from 0 to 300\n"),
        (["read", "--rim-height-mm", "-1", "plain.png"],
         "--rim-height-mm: '-1' is no height of a rim in mm: write a number from 0 to 300\n"),
        (["read", "--side", "left", "plain.png"], "--side: 'left' is not one of its values: choose one of front, back\n"),
        (["read", "--pictures", "nowhere", "plain.png"], "nowhere: there is no such folder: make it first\n"),
    ]:
        said = program.run(*words)
        tally.equal(f"{' '.join(words)} says", (said.out, said.err), ("", line))
    both = program.run("read", "--json", "torn.png", "plain.png")
    tally.equal("a torn photograph does not hide the others", (both.status, both.out.count("\n"), both.err.count("\n")),
                (2, 1, 1))


def check_card(program, tally):
    for paper in ("a4", "letter"):
        said = program.answers(f"card on {paper}", ["card", "--paper", paper, "--out", f"{paper}.pdf", "--json"]).json()
        tally.equal(f"card on {paper} as JSON", said, {"file": f"{paper}.pdf", "paper": paper})
        tally.check(f"card on {paper} is a PDF", (program.folder / f"{paper}.pdf").read_bytes().startswith(b"%PDF-"))
    said = program.run("card", "--json")
    tally.equal("a card is no JSON", said.err, "--json: a page of paper is no JSON: add --out FILE, and the answer names the file\n")
