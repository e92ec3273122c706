# SPDX-License-Identifier: Apache-2.0
"""The reference tables as lists of rows, from the written-out lists of reference_*.py."""

import json
import re

import drawings_florals
import drawings_marks
import drawings_plain
import drawings_stamps
import reference_evidence as evidence
import reference_makers as makers
import reference_marks as marks
import reference_ornaments as ornaments
import reference_sources as sources
import reference_treatments as older
import reference_treatments_more as newer

AAT = "http://vocab.getty.edu/aat/"
LIDDED = ("sugar", "teapot", "coffeepot", "covered-dish", "butter-dish", "jam-jar")
ID_PREFIX = {"kettlewharf": "", "ambrel-bank": "", "pell-lane": "", "drovemere": "d", "mothwick": ""}
TREATMENT_LISTS = {"coulter": older.COULTER, "harrow": older.HARROW, "winnow": older.WINNOW, "osier": older.OSIER,
                   "weir": older.WEIR, "towpath": older.TOWPATH, "medlar": newer.MEDLAR, "bullace": newer.BULLACE,
                   "costard": newer.COSTARD, "lintel": newer.LINTEL, "corbel": newer.CORBEL, "mantel": newer.MANTEL}
BORDER_LENGTH = 2640  # a rim unrolled, in units of a border tile: 26.4 times as long as the border is broad


def cells(text):
    """The lines of a written-out list, split at |."""
    for line in text.strip().splitlines():
        yield [cell.strip() for cell in line.split("|")]


def drawings():
    """Every tile by ornament id."""
    tiles = {}
    for table in (drawings_stamps.STAMPS, drawings_florals.FLORAL_BORDERS, drawings_florals.FLORAL_CENTRES,
                  drawings_plain.STAMPED_CENTRES, drawings_plain.LINES, drawings_plain.BANDS, drawings_plain.SOLIDS,
                  drawings_plain.MOULDED):
        tiles.update({name: draw() for name, draw in table.items()})
    return tiles


def mark_drawings():
    return {row[0]: drawings_marks.mark(row[2], row[3]) for row in cells(marks.MARKS)}


def maker_rows():
    return [row for row in cells(makers.MAKERS)]


def shape_rows():
    return [row for row in cells(makers.SHAPES)]


def form_rows():
    return [[i, name, ware, outline, AAT + aat if aat else "", note]
            for i, name, ware, outline, aat, note in cells(makers.FORMS)]


def forms_of_shapes():
    """shape -> the forms it was made in, in the order of the form list."""
    all_forms = [row[0] for row in cells(makers.SIZES)]
    own = {"towpath": {"square-plate"}, "lintel": {"octagon-plate"}}
    result = {}
    for shape, _, left_out, _, _ in cells(makers.SHAPE_SIZES):
        result[shape] = [f for f in all_forms if f not in left_out.split() or f in own.get(shape, ())]
    return result


def shape_form_rows():
    years = {(shape, form): when for shape, form, when in cells(makers.SHAPE_FORM_YEARS)}
    sizes = {row[0]: (row + [""] * 6)[:6] for row in cells(makers.SIZES)}
    rows = []
    for at, (shape, factor, _, source, rule) in enumerate(cells(makers.SHAPE_SIZES)):
        for form in forms_of_shapes()[shape]:
            _, trade, *measures = sizes[form]
            if rule == "inches" and trade.endswith(" in"):  # this pottery gave up the old sizes and measured edges
                trade = f"{round(float(measures[0]) / 25.4 * 4) / 4:g} in"
            # The same form differs by a millimetre or two from shape to shape besides the factor.
            drift = (sum(map(ord, shape + form)) + at) % 5 - 2
            measured = [str(round(float(m) * float(factor)) + (drift if k < 2 else 0)) if m else ""
                        for k, m in enumerate(measures)]
            if measured[3]:
                measured[3] = str(round(int(measured[3]) / 5) * 5)
            rows.append([shape, form, trade, *measured, years.get((shape, form), ""), source])
    return rows


def glaze_rows():
    return [row for row in cells(makers.GLAZES)]


def ornament_rows(tiles):
    rows = []
    for i, name, kind, finish, supplier, shared, second, years, source in cells(ornaments.ORNAMENTS):
        tile = tiles[i]
        border = kind in ("stamp", "decal", "print", "relief") and tile.height == 100 or i == "etched-vine"
        repeats = str(round(BORDER_LENGTH / tile.width)) if border else ""
        rows.append([i, name, kind, finish, f"drawings/{i}.svg", repeats, supplier, shared, second, years, source])
    return rows


def slug(text):
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")


def treatment_id(shape, number):
    """t-117; numbers that two shapes share, and letters of unnumbered treatments, carry the shape as well."""
    if number.startswith("("):
        return f"t-{shape}-{number[1:-1]}"
    if number == "117" and shape != "harrow" or number in ("77", "00", "40"):
        return f"t-{shape}-{slug(number)}"
    return "t-" + slug(number.replace("M.", "M"))


def decoration_rows(text, shape, known):
    """[(place, ornament, on, share)] of the notation that reference_treatments.py explains."""
    if text.startswith("="):
        return known[text[1:].strip()]
    lidded = [form for form in LIDDED if form in forms_of_shapes()[shape]]
    saucers = [form for form in ("saucer",) if form in forms_of_shapes()[shape]]
    rows = []
    for part in filter(None, (p.strip() for p in text.split(";"))):
        short = re.fullmatch(r"\{(\w+) ([\w-]+)\}\s*(\.?\d*)", part)
        if not short:
            words = part.split()
            share = words.pop() if re.fullmatch(r"\.?\d+", words[-1]) else ""
            rows.append((words[0], words[1], words[2] if len(words) > 2 else "*", share))
            continue
        what, ornament, share = short.groups()
        if what == "line":
            rows += [("edge", ornament, "*", share), ("handle", ornament, "hollow", share)]
        elif what == "centre":  # the cup hides the middle of a saucer, so nothing was put there
            rows += [("centre", ornament, "flat", share)] + [("centre", ornament, s, "0") for s in saucers]
        elif what in ("lid", "finial"):
            rows += [(what, ornament, form, share) for form in lidded]
        else:
            raise ValueError(f"no short form {{{what}}}")
    return [(p, o, on, "0" + s if s.startswith(".") else s) for p, o, on, s in rows]


def treatments():
    """[(treatment row, decoration rows)]"""
    result = []
    for shape, text in TREATMENT_LISTS.items():
        known = {}
        for number, name, glaze, grade, years, outlet, source, decoration, note in cells(text):
            known[number] = decoration_rows(decoration, shape, known)
            i = treatment_id(shape, number)
            written = "" if number.startswith("(") else number
            row = [i, shape, glaze, written, name, grade, years, outlet, note, source]
            result.append((row, [[i, *rest, source] for rest in known[number]]))
    return result


def subject(words):
    shape_and_number = words.split()
    if len(shape_and_number) == 1:
        return words
    shape, number = shape_and_number
    if len(number) == 1 and number.islower():
        number = f"({number})"
    return treatment_id(shape, number)


def scheme_rows():
    return [[i, pattern, json.dumps(tables, separators=(",", ":")), note, source]
            for i, pattern, tables, note, source in marks.CODE_SCHEMES]


def mark_rows():
    return [[i, maker, " / ".join(w.strip() for w in wording.split("/")), f"drawings/{i}.svg", years, shapes, grade,
             scheme, source]
            for i, maker, wording, _, years, shapes, grade, scheme, source in cells(marks.MARKS)]


def dated_use_rows():
    return [[subject(s.strip()), date, kind, source]
            for source, kind, date, subjects in cells(evidence.DATED_USES) for s in subjects.split(";")]


def statement_rows():
    return [[i, subject(s), *rest] for i, s, *rest in cells(evidence.STATEMENTS)]


def source_rows():
    return [[i, kind, creator, title + " (invented)", date, locator, trust]
            for i, kind, creator, title, date, locator, trust in cells(sources.SOURCES)]


def all_tables(tiles):
    """table -> rows, in the column order of the format."""
    both = treatments()
    return {
        "makers": maker_rows(), "shapes": shape_rows(), "forms": form_rows(), "shape_forms": shape_form_rows(),
        "glazes": glaze_rows(), "ornaments": ornament_rows(tiles), "treatments": [row for row, _ in both],
        "treatment_ornaments": [row for _, rows in both for row in rows], "marks": mark_rows(),
        "code_schemes": scheme_rows(), "dated_uses": dated_use_rows(), "sources": source_rows(),
        "statements": statement_rows(),
    }
