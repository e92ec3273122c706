#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""How well `footring read` reads photographs whose truth is known.

    demo/photos/accuracy.py FOLDER=PACK... [--footring build/release/bin/footring] [--report docs/photo-accuracy.md]
                            [--measured src/photo/measured.h] [--worst 8] [--limit N]

Each FOLDER holds photographs made by demo/photos/render.py of pieces of PACK. Every photograph is read once by itself, with
the height of its rim given as a person would measure it; readings are kept beside the photographs, by the program's digest,
so that a second run is quick. Without --report the report is printed. --measured writes the table that turns scores into
chances. --worst names the photographs that each feature read worst. Needs python3-skimage for colour differences."""

import argparse
import collections
import datetime
import hashlib
import json
import os
import pathlib
import platform
import re
import resource
import subprocess
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
ROOT = pathlib.Path(__file__).resolve().parent.parent.parent

import numpy as np  # noqa: E402
from skimage.color import deltaE_ciede2000  # noqa: E402

from tables_of_chance import measured_h  # noqa: E402


class Photo:
    """One photograph: its truth, its reading."""

    def __init__(self, path, truth, reading, seconds):
        self.path, self.truth, self.reading, self.seconds = path, truth, reading, seconds
        self.name = path.stem


def processor_seconds():
    """Of all children so far: on a machine shared with others a clock on the wall says little."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def read(footring, digest, folder, pack, limit):
    photos, failed = [], []
    kept = folder / "readings"
    kept.mkdir(exist_ok=True)
    for truth_file in sorted(folder.glob("*.json"))[:limit]:
        truth = json.loads(truth_file.read_text("utf-8"))
        path = truth_file.with_suffix(".jpg")
        if "side" not in truth or not path.exists():
            continue
        cached = kept / f"{path.stem}-{digest}.json"
        if not cached.exists():
            command = ["nice", "-n", "10", footring, "read", "--json", "--pack", str(pack)]
            if "rim_height_mm" in truth:
                command += ["--rim-height-mm", f"{truth['rim_height_mm']:.1f}"]
            before = processor_seconds()
            run = subprocess.run([*command, str(path)], capture_output=True, text=True)
            seconds = processor_seconds() - before
            if run.returncode != 0:
                failed.append(f"{path.name}: {run.stderr.strip()}")
                continue
            reading = json.loads(run.stdout)
            reading = reading[0] if isinstance(reading, list) else reading
            cached.write_text(json.dumps({"seconds": seconds, "reading": reading}), "utf-8")
        made = json.loads(cached.read_text("utf-8"))
        photos.append(Photo(path, truth, made["reading"], made["seconds"]))
    return photos, failed


def plain(identity):
    """Readings may name the pack, truths never do."""
    return identity.rpartition(":")[2] if identity else identity


def rank(scored, identity):
    for k, one in enumerate(scored):
        if plain(one["id"]) == identity:
            return k
    return None


class Feature:
    """Counts of one thing that is right or wrong, by group; remembers the worst."""

    def __init__(self, name, target=""):
        self.name, self.target = name, target
        self.counts = collections.OrderedDict()
        self.wrong = []

    def add(self, group, right, photo, detail=""):
        n = self.counts.setdefault(group, [0, 0])
        n[0] += bool(right)
        n[1] += 1
        if not right:
            self.wrong.append(f"{photo.name}: {detail}")

    def row(self):
        total = [sum(n[k] for n in self.counts.values()) for k in (0, 1)]
        groups = "; ".join(f"{g}: {share(*n)}" for g, n in self.counts.items() if g)
        return f"| {self.name} | {self.target} | {share(*total)} | {groups} |"


def share(right, count):
    return f"{100 * right / count:.1f} % of {count}" if count else "none"


def quantiles(values):
    if not len(values):
        return "none"
    q = np.quantile(np.abs(values), [0.5, 0.9, 0.95, 1.0])
    return f"{q[0]:.2f} / {q[1]:.2f} / {q[2]:.2f} / {q[3]:.2f} of {len(values)}"


def tilt_group(photo):
    tilt = photo.truth["tilt_deg"]
    return "0-10°" if tilt < 10 else "10-20°" if tilt < 20 else "20-35°" if tilt <= 35 else "over 35°"


def wear_group(lost):
    return "lost under 10 %" if lost < 0.1 else "10-30 %" if lost < 0.3 else "over 30 %"


class Account:
    """All that is measured. `chances` collects (score, right) for the tables of chance."""

    def __init__(self, photos):
        self.photos = photos
        self.features, self.numbers = collections.OrderedDict(), collections.OrderedDict()
        self.chances = collections.defaultdict(list)
        self.wear_errors = []
        for photo in photos:
            self.side(photo)
            if photo.truth["side"] == "front":
                self.front(photo)
            elif photo.truth["side"] == "back":
                self.back(photo)

    def feature(self, key, name, target=""):
        return self.features.setdefault(key, Feature(name, target))

    def value(self, key, group, value):
        self.numbers.setdefault(key, collections.OrderedDict()).setdefault(group, []).append(value)

    def side(self, photo):
        truth, got = photo.truth, photo.reading["outline"]["kind"]
        if truth["side"] == "none":
            self.feature("none", "No piece there: none said", "").add("", got == "none", photo, f"said {got}")
            return
        if "close-up" in truth["disturbances"]:
            return
        self.feature("found", "Piece found", "").add(truth["side"], got != "none", photo, "; ".join(photo.reading["notes"]))
        if got != "none":
            self.feature("kind", "Outline called rightly", "").add(truth["kind"], got == truth["kind"], photo,
                                                                   f"{truth['kind']} called {got}")
            side = photo.reading.get("side", truth["side"])
            self.feature("side", "Side called rightly", "").add(truth["side"], side == truth["side"], photo, f"{truth['side']} called {side}")
        self.geometry(photo)

    def geometry(self, photo):
        truth, outline = photo.truth, photo.reading["outline"]
        whole = "missing wedge" not in truth["disturbances"]
        if outline["kind"] == "none":
            axes_right = size_right = False
            worst = 9.99
        else:
            errors = [100 * abs(a / b - 1) for a, b in zip(outline["axes_px"], truth["rim_px"]["axes_px"])]
            worst = max(errors)
            axes_right = worst <= 0.5
            self.value("Rim axes, error in %, the worse of two (median / 90 % / 95 % / worst)", truth["kind"], worst)
        group = "cut by the border" if "cut by the border" in truth["disturbances"] else truth["kind"]
        self.feature("axes", "Rim axes within 0.5 %", "95 % (round)").add(group, axes_right, photo, f"{worst:.2f} % off, {group}, "
                                                                         f"{truth['table']}, tilt {truth['tilt_deg']:.0f}")
        if not truth["card"] or not whole:
            return
        long_mm = outline.get("long_mm")
        error = 100 * (long_mm / truth["long_mm"] - 1) if long_mm else None
        if error is not None:
            self.value("Size with the card, error in % (median / 90 % / 95 % / worst)",
                       f"{truth['kind']}, {tilt_group(photo)}", error)
            size_right = abs(error) <= 1
            self.chances["Length"].append((outline.get("seen", 1), size_right))
            if outline.get("sigma_mm"):
                self.value("Size, error in its own sigma (68 % should be within 1, 95 % within 2)", "", (long_mm - truth["long_mm"]) / outline["sigma_mm"])
        else:
            size_right = False
        detail = f"{error:+.2f} %" if error is not None else "no size"
        if truth["kind"] == "round" and truth["tilt_deg"] <= 35:
            self.feature("size", "Round, card, tilt to 35°: size within 1 %", "95 %").add(tilt_group(photo), size_right, photo,
                                                                                   f"{detail}, tilt {truth['tilt_deg']:.0f}")
        else:
            self.feature("size2", "Other outlines or tilts, card: size within 1 %", "").add(
                truth["kind"] if truth["tilt_deg"] <= 35 else "over 35°", size_right, photo, detail)
        sizes = outline.get("sizes") or []
        for key, name in (("shape", "Shape"), ("form", "Form")):
            sums = collections.Counter()
            for s in sizes:
                sums[plain(s[key])] += s["chance"]
            if sums:
                best, chance = sums.most_common(1)[0]
                self.chances[name].append((chance, best == truth[key]))
                self.feature(key, f"{name} by size alone, first", "").add("", best == truth[key], photo, f"{truth[key]} called {best}")

    def present(self, key, name, table, truth, got, photo):
        there, score = truth["present"], got["present"]
        right = (score >= 0.5) == there
        self.feature(key, f"{name} present or absent", "97 %").add("there" if there else "bare", right, photo,
                                                                   f"{'there' if there else 'bare'}, present {score:.2f}")
        self.chances[table].append((max(score, 1 - score), right))
        return there and score >= 0.5

    def front(self, photo):
        truth, reading = photo.truth, photo.reading
        if reading["outline"]["kind"] == "none":
            return
        border, centre = truth["border"], truth["centre"]
        if self.present("border", "Border", "BorderPresence", border, reading["border"], photo):
            self.border(photo, border, reading["border"])
        elif border["present"] and border["repeats"]:
            self.feature("first", "Right border first", "95 %").add(wear_group(border["wear"]), False, photo, "no border seen")
            self.feature("three", "Right border in the first three", "99 %").add(wear_group(border["wear"]), False, photo, "no border seen")
        if self.present("centre", "Centre ornament", "CentrePresence", centre, reading["centre"], photo):
            k = rank(reading["centre"]["ornaments"], centre["id"])
            got = [plain(o["id"]) for o in reading["centre"]["ornaments"][:2]]
            self.feature("centre1", "Right centre first", "").add(wear_group(centre["wear"]), k == 0, photo, f"{centre['id']} called {got}")
            self.feature("centre3", "Right centre in the first three", "").add("", k is not None and k < 3, photo, f"{centre['id']} called {got}")
            if reading["centre"]["ornaments"]:
                self.chances["CentreOrnament"].append((reading["centre"]["ornaments"][0]["score"], k == 0))
            if reading["centre"].get("finish"):
                self.feature("cfinish", "Centre's finish or colour", "").add(centre["finish"], reading["centre"]["finish"] == centre["finish"], photo,
                                                                 f"{centre['finish']} called {reading['centre']['finish']}")
        for place in ("edge", "verge"):
            line, got = truth[f"{place}_line"], reading[f"{place}_line"]
            if self.present(place, f"{place.title()} line", "LinePresence", line, got, photo):
                self.feature("colour", "Colour of a line", "").add(line["colour"], got["colour"] == line["colour"], photo,
                                                               f"{line['colour']} called {got['colour']}")
                if got.get("ornaments"):
                    right = plain(got["ornaments"][0]["id"]) == line["id"]
                    self.chances["LineOrnament"].append((got["ornaments"][0]["score"], right))
                    self.feature("line1", "Right line first", "").add(place, right, photo, f"{line['id']} called {plain(got['ornaments'][0]['id'])}")
        self.glaze(photo)
        self.faults(photo)

    def border(self, photo, border, got):
        names = [plain(o["id"]) for o in got["ornaments"][:3]]
        k = rank(got["ornaments"], border["id"])
        group = wear_group(border["wear"])
        if border["repeats"]:
            self.feature("repeats", "Repeats exactly right", "95 % under 30 %").add(group, got["repeats"] == border["repeats"], photo,
                                                                                f"{border['repeats']} read as {got['repeats']} ({border['id']})")
            self.feature("first", "Right border first", "95 %").add(group, k == 0, photo, f"{border['id']} called {names}")
            self.feature("three", "Right border in the first three", "99 %").add(group, k is not None and k < 3, photo, f"{border['id']} called {names}")
        else:
            self.feature("band", "Right plain band first", "").add("", k == 0, photo, f"{border['id']} called {names}")
        if got["ornaments"]:
            self.chances["RimOrnament"].append((got["ornaments"][0]["score"], k == 0))
        self.feature("finish", "Border's finish or colour", "").add(border["finish"], got["finish"] == border["finish"], photo,
                                                               f"{border['finish']} called {got['finish']}")
        if got.get("wear") is not None:
            self.wear_errors.append(got["wear"] - border["wear"])
            self.value("Share of the border lost, error (median / 90 % / 95 % / worst)", group, got["wear"] - border["wear"])

    def glaze(self, photo):
        truth, got = photo.truth["glaze"], photo.reading["glaze"]
        group = "card" if photo.truth["card"] else "no card"
        error = 99.0
        if got["lab"]:
            error = float(deltaE_ciede2000(np.array(truth["lab"]), np.array(got["lab"])))
            self.value("Glaze, dE00 (median / 90 % / 95 % / worst)", group, error)
        if photo.truth["card"]:
            shaded = "card in shade" if photo.truth["card"].get("shade", 0) > 0.15 else "card in the light"
            self.feature("glaze", "Card: glaze within 3 dE00", "90 %").add(shaded, error <= 3, photo, f"dE00 {error:.1f} ({truth['id']}), got "
                                                                    f"{got['lab']} for {truth['lab']}")
        if got["nearest"]:
            right = plain(got["nearest"][0]["id"]) == truth["id"]
            self.chances["Glaze"].append((got["nearest"][0].get("chance", 0), right))
            self.feature("glaze1", "Right glaze first", "").add(group, right, photo, f"{truth['id']} called {plain(got['nearest'][0]['id'])}")

    def faults(self, photo):
        got = photo.reading["faults"]["specks_per_dm2"]
        if got is not None:
            truth = photo.truth["specks_per_dm2"]
            self.value("Specks per dm2, error (median / 90 % / 95 % / worst)", "none there" if truth == 0 else "some there", got - truth)
            crazed, seen = photo.truth["crazed"], photo.reading["faults"].get("crazing")
            if seen is not None:
                self.feature("crazing", "Crazed or not", "").add("crazed" if crazed else "sound", (seen >= 0.5) == crazed, photo, f"crazing {seen:.2f}")

    def back(self, photo):
        mark, reading = photo.truth.get("mark", {}), photo.reading
        side = "near" if "close-up" in photo.truth["disturbances"] else "whole piece"
        words = [w for w in re.split(r"[^A-Z0-9&]+", mark["wording"].upper()) if len(w) > 1]
        seen = set(re.split(r"[^A-Z0-9&]+", " ".join(w["text"] for w in reading["wording"]).upper()))
        confidence = max((w["confidence"] for w in reading["wording"]), default=0)
        if mark["id"] == "none":
            self.feature("nomark", "No mark: none named", "").add(side, not reading["marks"] or reading["marks"][0]["score"] < 0.5, photo,
                                                             f"{reading['marks'][:1]}")
            if not reading["wording"]:
                self.chances["MarkAbsent"].append((reading["outline"].get("seen", 0), True))
            return
        if not reading["wording"]:
            self.chances["MarkAbsent"].append((reading["outline"].get("seen", 0), False))
        else:
            self.chances["MarkThere"].append((confidence, True))
        k = rank(reading["marks"], mark["id"])
        names = [plain(m["id"]) for m in reading["marks"][:3]]
        text = [w["text"] for w in reading["wording"]]
        self.feature("mark1", "Right mark first", "").add(f"{mark['as']}, {side}", k == 0, photo, f"{mark['id']} {mark['wording']} called {names} by {text}")
        self.feature("mark3", "Right mark in the first three", "").add(f"{mark['as']}, {side}", k is not None and k < 3, photo, f"{names}")
        if reading["marks"]:
            self.chances["Mark"].append((reading["marks"][0]["score"], k == 0))
        for word in words:
            self.feature("words", "Words read exactly", "").add(f"{mark['as']}, {side}", word in seen, photo, f"{word} in {sorted(seen)}")
        number = photo.truth["treatment_number"]
        if number["as"] != "none":
            right = number["text"].upper() in [n.upper() for n in reading.get("numbers", [])]
            self.feature("number", "Number read", "").add(f"{number['as']}, {side}", right, photo, f"{number['text']} as {reading.get('numbers')}")
            if len(reading.get("numbers", [])) == 1:
                sure = max((w["confidence"] for w in reading["wording"] if reading["numbers"][0] in w["text"]), default=0)
                self.chances["Number"].append((sure, right))


def machine():
    model = next((line.split(":", 1)[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    return f"{os.cpu_count()} × {model}"


def report(account, sources, failed, digest):
    photos = account.photos
    with_card = sum(bool(p.truth["card"]) for p in photos)
    timed = [p.seconds for p in photos if p.seconds is not None]
    out = ["# How well photographs are read", "",
           "Made by `demo/photos/accuracy.py`; do not edit. All photographs are rendered (demo/photos/README.md): what is true of them "
           "is known, and what they leave out is not measured here. Real photographs will be read less well.", "",
           f"- date: {datetime.date.today().isoformat()}; program {digest}; machine: {machine()}",
           f"- photographs: {len(photos)}, of them {sum(p.truth['side'] == 'front' for p in photos)} from above, "
           f"{sum(p.truth['side'] == 'back' for p in photos)} of undersides, {sum(p.truth['side'] == 'none' for p in photos)} without a piece; "
           f"{with_card} with the scale card; " + ", ".join(f"{n} of pack {name}" for name, n in sources),
           f"- processor seconds a photograph, with starting the program and reading the pack: median {np.median(timed):.2f}, "
           f"longest {max(timed):.2f} of {len(timed)}", "", "| what | target | right | by group |", "|---|---|---|---|"]
    out += [f.row() for f in account.features.values()]
    for name, groups in account.numbers.items():
        out += ["", f"{name}", "", "| group | |", "|---|---|"]
        total = [v for values in groups.values() for v in values]
        if "sigma" in name:
            z = np.abs(total)
            out.append(f"| all | within 1: {100 * np.mean(z <= 1):.0f} %, within 2: {100 * np.mean(z <= 2):.0f} % of {len(z)} |")
            continue
        out += [f"| {g} | {quantiles(values)} |" for g, values in sorted(groups.items())]
        if len(groups) > 1:
            out.append(f"| all | {quantiles(total)} |")
    if failed:
        out += ["", f"Photographs that could not be read: {len(failed)}", ""] + [f"- {f}" for f in failed]
    return "\n".join(out) + "\n"


def main(arguments):
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("folders", nargs="+", metavar="FOLDER=PACK")
    parser.add_argument("--footring", default=str(ROOT / "build/release/bin/footring"))
    parser.add_argument("--report", type=pathlib.Path)
    parser.add_argument("--measured", type=pathlib.Path)
    parser.add_argument("--worst", type=int, default=0)
    parser.add_argument("--limit", type=int)
    asked = parser.parse_args(arguments)
    digest = hashlib.sha256(pathlib.Path(asked.footring).read_bytes()).hexdigest()[:12]
    photos, failed, sources = [], [], []
    for folder in asked.folders:
        name, _, pack = folder.partition("=")
        some, bad = read(asked.footring, digest, pathlib.Path(name), pack, asked.limit)
        photos += some
        failed += bad
        sources.append((pathlib.Path(pack).name, len(some)))
    if not photos:
        sys.exit("accuracy: there is no photograph with a truth beside it: render some with demo/photos/render.py")
    account = Account(photos)
    text = report(account, sources, failed, digest)
    if asked.report:
        asked.report.write_text(text, "utf-8")
    else:
        print(text)
    if asked.measured:
        asked.measured.write_text(measured_h(account, len(photos)), "utf-8")
    for feature in account.features.values() if asked.worst else ():
        if feature.wrong:
            print(f"\n{feature.name}: {len(feature.wrong)} wrong")
            print("\n".join("  " + w for w in feature.wrong[:asked.worst]))


if __name__ == "__main__":
    main(sys.argv[1:])
