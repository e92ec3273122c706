# SPDX-License-Identifier: Apache-2.0
"""Two small packs with ids of their own, so that nothing here works on the demo pack alone. Both are invented.

`north` has one shape with three treatments: ivy on the rim (n-1), ivy on the rim and a sprig in the centre of flat
ware (n-2: a twin of n-1 on a jug), and a key border (n-3). `south` shares ids with it: the glaze `chalk` and n-1.
"""
import csv
import json

COLUMNS = {
    "sources": "id kind creator title date locator trust",
    "makers": "id name role place years unmarked_share numbered_share note source",
    "shapes": "id maker name years note source",
    "forms": "id name ware outline aat note",
    "shape_forms": "shape form trade_size length_mm width_mm height_mm capacity_ml years source",
    "glazes": "id maker name lab_l lab_a lab_b years uranium source",
    "ornaments": "id name kind finish drawing repeats supplier shared second_share years source",
    "treatments": "id shape glaze number name grade years outlet note source",
    "treatment_ornaments": "treatment place ornament on share source",
    "code_schemes": "id pattern tables note source",
    "marks": "id maker wording drawing years shapes grade code_scheme source",
    "dated_uses": "subject date kind source",
    "statements": "id subject property value source stance note",
}

NORTH = {
    "sources": [{"id": "s-1", "kind": "catalogue", "title": "Trade list", "date": "1932", "trust": "0.9"},
                {"id": "s-2", "kind": "letter", "title": "A letter", "date": "1935"}],
    "makers": [{"id": "brickfield", "name": "Brickfield", "role": "pottery", "years": "1900/1960", "source": "s-1"}],
    "shapes": [{"id": "reed", "maker": "brickfield", "name": "Reed", "years": "1925/1945", "source": "s-1"}],
    "forms": [{"id": "dish", "name": "dish", "ware": "flat", "outline": "round"},
              {"id": "jug", "name": "jug", "ware": "hollow", "outline": "round"}],
    "glazes": [{"id": "chalk", "maker": "brickfield", "name": "Chalk", "lab_l": "93", "lab_a": "0", "lab_b": "3"},
               {"id": "straw", "maker": "brickfield", "name": "Straw", "lab_l": "88", "lab_a": "2", "lab_b": "18"}],
    "ornaments": [{"id": "ivy", "name": "Ivy", "kind": "stamp", "finish": "gold", "repeats": "6", "source": "s-1"},
                  {"id": "key", "name": "Key border", "kind": "stamp", "finish": "platinum", "source": "s-1"},
                  {"id": "sprig", "name": "Sprig", "kind": "decal", "finish": "green", "source": "s-2"}],
    "treatments": [
        {"id": "n-1", "shape": "reed", "glaze": "chalk", "number": "11", "name": "Ivy", "grade": "first",
         "years": "1930/1935", "source": "s-1"},
        {"id": "n-2", "shape": "reed", "glaze": "chalk", "number": "12", "name": "Ivy and sprig", "grade": "first",
         "years": "1933/1938", "source": "s-2"},
        {"id": "n-3", "shape": "reed", "glaze": "straw", "number": "13", "name": "Key", "grade": "any",
         "years": "1936/1940", "source": "s-1"}],
    "treatment_ornaments": [
        {"treatment": "n-1", "place": "rim", "ornament": "ivy", "on": "*", "source": "s-1"},
        {"treatment": "n-2", "place": "rim", "ornament": "ivy", "on": "*", "source": "s-2"},
        {"treatment": "n-2", "place": "centre", "ornament": "sprig", "on": "flat", "source": "s-2"},
        {"treatment": "n-3", "place": "rim", "ornament": "key", "on": "*", "source": "s-1"}],
    "marks": [{"id": "brick-mark", "maker": "brickfield", "wording": "BRICKFIELD", "years": "1925/1945", "shapes": "*"}],
}
SOUTH = {
    "makers": [{"id": "saltmarsh", "name": "Saltmarsh", "role": "pottery", "years": "1910/1950"}],
    "shapes": [{"id": "tide", "maker": "saltmarsh", "name": "Tide", "years": "1930/1950"}],
    "forms": [{"id": "basin", "name": "basin", "ware": "hollow", "outline": "round"}],
    "glazes": [{"id": "chalk", "maker": "saltmarsh", "name": "Sea chalk"}],
    "ornaments": [{"id": "wave", "name": "Wave", "kind": "print", "finish": "blue"}],
    "treatments": [{"id": "n-1", "shape": "tide", "glaze": "chalk", "number": "4", "name": "Wave", "grade": "any",
                    "years": "1935/1945"}],
    "treatment_ornaments": [{"treatment": "n-1", "place": "body", "ornament": "wave", "on": "*"}],
}


def write_pack(folder, tables, name=None):
    """Writes a Data Package. A table may also be a text, taken as it stands."""
    folder.mkdir(parents=True, exist_ok=True)
    resources = []
    for table, rows in tables.items():
        path = f"{table}.csv"
        resources.append({"name": table, "path": path, "profile": "tabular-data-resource", "encoding": "utf-8"})
        if isinstance(rows, str):
            (folder / path).write_text(rows, encoding="utf-8")
            continue
        with open(folder / path, "w", newline="", encoding="utf-8") as out:
            writer = csv.DictWriter(out, COLUMNS[table].split(), restval="", lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
    package = {"profile": "tabular-data-package", "name": name or folder.name, "title": f"{folder.name}, invented",
               "version": "1.0.0", "resources": resources}
    (folder / "datapackage.json").write_text(json.dumps(package, indent=2) + "\n", encoding="utf-8")
    return folder


def changed(tables, table, row, **cells):
    """A copy of `tables` with some cells of one row changed."""
    copy = {name: [dict(r) for r in rows] for name, rows in tables.items()}
    copy[table][row].update(cells)
    return copy
