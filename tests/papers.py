#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Papers as files: every kind as PDF and HTML over the demo, taken apart by poppler and looked at as pixels.

    tests/papers.py [FOLDER]    FOOTRING_BIN names the program; with FOLDER the papers and their pages stay there

What is held: text comes out in reading order and complete, fonts are embedded, the file is tagged and named, pages have
margins and are not blank, QR codes lead where they should, photographs are the JPEG files themselves, the same order gives
the same bytes, and nothing in HTML loads or runs.
"""
import html.parser
import json
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))
from tally import Tally  # noqa: E402

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(os.environ.get("FOOTRING_BIN", ROOT / "build/test/bin/footring")).resolve()
DEMO = ROOT / "packs/ambrel-valley"
DATE = "2026-03-01"
SCHEDULE = [{"piece": "p-0041", "description": "Sugar, lidded, Harrow", "low": 20, "middle": 31, "high": 48, "currency": "USD",
             "basis": "6 sales since 2019"},
            {"piece": "p-0004", "description": "Dinner plate, Harrow", "low": 9, "middle": 14, "high": 22, "currency": "USD",
             "basis": "11 sales since 2020"},
            {"piece": "p-0001", "description": "Nappy, Harrow"}]
WANTS = [{"service": "Table for six", "form": "cup", "treatment": "t-117", "have": 4, "want": 6, "up_to": 12, "currency": "USD"},
         {"service": "Table for six", "form": "saucer", "treatment": "t-117", "have": 5, "want": 6, "note": "plain will do"}]
# name: kind, words of the order, what must be read in it, most pages
PAPERS = {
    "dossier-ornament": ("dossier", ["--of", "ornament:fern-pair"],
                         ["Fern pair", "The story in order of time", "Shape by shape", "What is contested", "for", "against",
                          "trust 0.90", "Who used it", "Open questions", "Sources", "(invented)"], 24),
    "dossier-treatment": ("dossier", ["--of", "treatment:t-117"], ["117 Fern pair with rosette", "Marks", "Sources"], 8),
    "dossier-shape": ("dossier", ["--of", "shape:corbel"], ["Corbel", "How to tell them apart", "Drovemere"], 10),
    "talk": ("talk", ["--of", "ornament:fern-pair"], ["What to bring", "Turn over", "On being sure", "Sources"], 16),
    "key": ("key", ["--of", "shape:harrow"], ["33 treatments", "step 2", "The treatments drawn"], 2),
    "labels": ("labels", ["--piece", "p-0004", "--piece", "p-0041", "--piece", "p-0007"], ["p-0004", "117 Fern pair with rosette"], 1),
    "labels-price": ("labels", ["--labels", "price", "--paper", "letter", "--lot", "lot-01", "--price", "p-0004=28.00"], ["28.00"], 2),
    "inventory": ("inventory", ["--private"], ["120 pieces", "Paid in all", "Box 4"], 3),
    "condition": ("condition", ["--piece", "p-0004", "--mark", "0.40,0.62,chip at the rim"],
                  ["chip at the rim", "Found on looking again"], 3),
    "schedule": ("schedule", ["--rows", "schedule.json"], ["not an appraisal", "qualified appraiser", "no estimate"], 1),
    "schedule-kept": ("schedule", ["--lot", "lot-01"], ["not an appraisal", "qualified appraiser", "what dealers ask", "In all"], 8),
    "wants-kept": ("wants", [], ["Fern pair with rosette", "it is no valuation", "which looks the same"], 1),
    "wants": ("wants", ["--rows", "wants.json"], ["Table for six", "plain will do"], 1),
}


def run(*words, **how):
    return subprocess.run([str(word) for word in words], capture_output=True, timeout=120, **how)


def order(folder, name, form="pdf", out=None):
    kind, words, _, _ = PAPERS[name]
    file = folder / (out or f"{name}.{form}")
    said = run(BIN, "paper", kind, "--pack", DEMO, "--data", folder / "data", "--date", DATE, "--format", form, "--out", file, *words,
               cwd=folder)
    return file, said


class Page(html.parser.HTMLParser):
    def __init__(self):
        super().__init__()
        self.text, self.tags, self.skip = [], [], 0
        self.ids, self.links, self.alts = [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.skip += tag in ("style", "title")
        attrs = dict(attrs)
        if "id" in attrs:
            self.ids.append(attrs["id"])
        if tag == "a":
            self.links.append(attrs.get("href", ""))
        if tag == "img":
            self.alts.append(attrs.get("alt"))
            assert attrs["src"].startswith("data:image/"), attrs["src"][:80]

    def handle_endtag(self, tag):
        self.skip -= tag in ("style", "title")

    def handle_data(self, data):
        if not self.skip:
            self.text.append(data)


def words_of(text):
    """Letters and digits in order, hyphens at line ends and ligatures undone: what is compared, whatever the layout."""
    text = text.replace("\ufb01", "fi").replace("\ufb02", "fl").replace("\ufb00", "ff").replace("\ufb03", "ffi")
    text = re.sub(r"(\w)-\n\s*(\w)", r"\1\2", text)
    return re.findall(r"\w+", text)


def check_pdf(tally, folder, name, file):
    _, _, expected, most = PAPERS[name]
    raw = run("pdftotext", "-raw", file, "-").stdout.decode()
    plain = re.sub(r"\s+", " ", re.sub(r"(\w)-\n(\w)", r"\1\2", raw))
    for words in expected:
        tally.check(f"{name}: '{words}' can be read and selected", words in plain, plain[:1500])
    tally.check(f"{name}: no soft hyphens or replacement signs in the text", not re.search("[\u00ad\ufffd]", raw))
    info = run("pdfinfo", file).stdout.decode()
    tally.check(f"{name}: is tagged", re.search(r"Tagged:\s+yes", info), info)
    tally.check(f"{name}: has a title and the date of the order", re.search(r"Title:\s+\w", info) and "2026" in info, info)
    tally.check(f"{name}: the file names its language", b"/Lang (en-GB)" in file.read_bytes())
    pages = int(re.search(r"Pages:\s+(\d+)", info)[1])
    tally.check(f"{name}: has at most {most} pages", pages <= most, pages)
    fonts = run("pdffonts", file).stdout.decode().splitlines()[2:]
    tally.check(f"{name}: every font is embedded as a subset and has its letters named", len(fonts) > 0 and
                all(re.search(r"\byes yes yes\b", line) for line in fonts), "\n".join(fonts))
    tally.check(f"{name}: fonts are the two families", all(re.search(r"EBGaramond|Lato|CairoFont", line) for line in fonts), "\n".join(fonts))
    broken = run("pdfinfo", "-struct", file)
    tally.check(f"{name}: the tree of tags can be read", broken.returncode == 0 and b"P (block)" in broken.stdout)
    roots = [line for line in broken.stdout.decode().splitlines() if line and not line.startswith(" ")]
    tally.equal(f"{name}: the tree of tags has one root", roots, ["Document"])
    run("pdftoppm", "-r", "50", "-gray", "-png", file, folder / f"page-{name}")
    sheets = sorted(folder.glob(f"page-{name}-[0-9]*.png"))   # not those of 'wants-kept' with those of 'wants'
    tally.equal(f"{name}: every page can be drawn", len(sheets), pages)
    for i, sheet in enumerate(sheets, 1):
        grey = cv2.imread(str(sheet), cv2.IMREAD_GRAYSCALE)
        ink = np.argwhere(grey < 200)
        tally.check(f"{name}: page {i} is not blank", len(ink) > 100)
        edge = 2 if name.startswith("labels") else round(9 * 50 / 25.4)
        inside = grey[edge:-edge, edge:-edge]
        tally.check(f"{name}: page {i} keeps its margins", (grey < 200).sum() == (inside < 200).sum())
    return raw


def check_html(tally, name, file, raw):
    text = file.read_text(encoding="utf-8")
    page = Page()
    page.feed(text)
    tally.check(f"{name}: HTML runs and loads nothing", not {"script", "iframe", "link", "object", "embed"} & set(page.tags) and
                "url(" not in text and "@import" not in text)
    tally.equal(f"{name}: ids of the page are there once", sorted(page.ids), sorted(set(page.ids)))
    inner = {link[1:] for link in page.links if link.startswith("#")}
    tally.check(f"{name}: links within the page lead somewhere", inner <= set(page.ids), sorted(inner - set(page.ids)))
    tally.check(f"{name}: every picture says what it shows", all(page.alts), page.alts.count(None))
    # Both are the same paper: every word of the page stands in the PDF as often, apart from its foot and its contents.
    said = set(words_of(" ".join(page.text)))
    printed = set(words_of(raw))
    lost = {word for word in said - printed if not any(word in other or other in word for other in printed)}
    tally.check(f"{name}: PDF and HTML say the same", len(lost) <= 2, sorted(lost)[:40])


def check_codes(tally, folder, file):
    run("pdftoppm", "-r", "300", "-png", file, folder / "codes")
    found = set()
    for sheet in sorted(folder.glob("codes-*.png")):
        found |= set(run("zbarimg", "--raw", "-q", sheet).stdout.decode().split())
    tally.equal("labels: each QR code leads to the page of its piece", found,
                {f"http://localhost:8377/cupboard/{piece}" for piece in ("p-0004", "p-0041", "p-0007")})


def check_refusals(tally, folder):
    def refused(words, status, sentence):
        said = run(BIN, "paper", *words, "--pack", DEMO, cwd=folder)
        tally.equal(f"refuses {' '.join(words)}", (said.returncode, said.stderr.decode()), (status, sentence + "\n"))
        tally.check(f"refuses {' '.join(words)}: nothing is printed", said.stdout == b"")

    refused(["dossier"], 2, "--of: nothing is named: write ornament:ID, treatment:ID or shape:ID")
    refused(["dossier", "--of", "ornament:ferm-pair"], 3,
            "--of: there is no ornament 'ferm-pair': did you mean 'fern-pair'?")
    refused(["key", "--of", "shape:harrow", "--form", "dish"], 3, "--form: there is no form 'dish': see forms.csv of the open packs")
    refused(["labels"], 2, "--data: a paper of kind 'labels' is about pieces: name the folder that holds them")
    refused(["inventory", "--data", "nowhere"], 3,
            "nowhere: there is no cupboard in this folder: check the path; `footring serve --data DIR` and `footring import` make one")
    refused(["schedule"], 2, "--rows: a paper of kind 'schedule' is set from rows: give them as a JSON list, or name the folder with --data that they "
            "are worked out from")
    (folder / "bad.json").write_text('[{"piece": "p-1", "low": 9, "high": 3}]')
    refused(["schedule", "--rows", "bad.json"], 2,
            "rows: /0: low, middle and high do not rise: put the smallest into low and the largest into high")
    (folder / "odd.json").write_text('[{"piece": "p-1", "worth": 9}]')
    refused(["schedule", "--rows", "odd.json"], 2,
            "rows: /0/worth: 'worth' is no member of these rows: the members are piece, description, low, middle, high, currency, "
            "basis, note")
    refused(["key", "--of", "shape:harrow", "--date", "soon"], 2,
            "--date: 's' cannot begin a date (character 1): write a date such as 1934, 1934-05, 1934~ (about), 193X (the 1930s), "
            "1931/1940 or ../1940 (not later)")


def main():
    tally = Tally()
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(temporary)
        folder.mkdir(exist_ok=True)
        (folder / "schedule.json").write_text(json.dumps(SCHEDULE))
        (folder / "wants.json").write_text(json.dumps(WANTS))
        taken = run(BIN, "import", "--data", folder / "data", "--pack", DEMO, ROOT / "demo/cupboard")
        tally.equal("the demo cupboard is taken in", taken.returncode, 0)
        for name in PAPERS:
            file, said = order(folder, name)
            if not tally.equal(f"{name}: is set", (said.returncode, said.stderr.decode()), (0, "")):
                continue
            raw = check_pdf(tally, folder, name, file)
            again, _ = order(folder, name, out=f"{name}-again.pdf")
            tally.check(f"{name}: the same order gives the same file", again.read_bytes() == file.read_bytes())
            page, said = order(folder, name, "html")
            if tally.equal(f"{name}: is set as HTML", (said.returncode, said.stderr.decode()), (0, "")):
                check_html(tally, name, page, raw)
        check_codes(tally, folder, folder / "labels.pdf")
        photos = run("pdfimages", "-list", folder / "dossier-ornament.pdf").stdout.decode()
        tally.check("photographs are in the dossier as the JPEG files that they are", photos.count(" jpeg ") >= 5, photos)
        outline = (folder / "dossier-ornament.pdf").read_bytes()
        tally.check("a dossier has an outline and links", b"/Outlines" in outline and outline.count(b"/Subtype /Link") > 50)
        check_refusals(tally, folder)
    return tally.end()


if __name__ == "__main__":
    sys.exit(main())
