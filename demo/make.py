#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Writes the invented reference pack and the cupboard of pieces drawn from it. Same bytes on every run.

    demo/make.py            writes packs/ambrel-valley and demo/cupboard
    demo/make.py FOLDER     writes the same two folders under FOLDER instead

The table schemas belong to the program (src/book/tables.h); they are taken from the pack's datapackage.json as it
stands, where `FOOTRING_WRITE=1 book_test --gtest_filter='Tables.*'` renews them.
"""

import csv
import io
import json
import pathlib
import sys

sys.dont_write_bytecode = True
ROOT = pathlib.Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "demo"))

import cupboard  # noqa: E402
import pack_tables  # noqa: E402
import sales  # noqa: E402

PACK = "packs/ambrel-valley"
ABOUT = {
    "profile": "tabular-data-package",
    "name": "ambrel-valley",
    "title": "Potteries of the Ambrel valley (invented)",
    "description": "An invented reference: four potteries, a decorator and two suppliers that never were, with their "
                   "shapes, glazes, ornaments, treatments, marks and papers. Made to show and to test the program; "
                   "nothing in it speaks of a real maker. Form terms carry identifiers of the Art & Architecture "
                   "Thesaurus: This work contains information from the Art & Architecture Thesaurus (AAT), made "
                   "available by the J. Paul Getty Trust under the ODC-By licence.",
    "version": "1.0.0",
    "licenses": [{"name": "Apache-2.0"}],
    "contributors": [{"title": "demo/make.py (all invented)"}],
}


def write(path, text):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode("utf-8"))


def csv_text(columns, rows):
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    for row in rows:
        if len(row) != len(columns):
            raise ValueError(f"{len(row)} cells for {columns}: {row}")
        writer.writerow(row)
    return out.getvalue()


def write_pack(folder):
    tiles = pack_tables.drawings()
    tables = pack_tables.all_tables(tiles)
    resources = json.loads((ROOT / PACK / "datapackage.json").read_text("utf-8"))["resources"]
    for resource in resources:
        columns = [field["name"] for field in resource["schema"]["fields"]]
        write(folder / resource["path"], csv_text(columns, tables[resource["name"]]))
    write(folder / "datapackage.json", json.dumps({**ABOUT, "resources": resources}, indent=2,
                                                  ensure_ascii=False) + "\n")
    for name, tile in {**tiles, **pack_tables.mark_drawings()}.items():
        write(folder / "drawings" / f"{name}.svg", tile.svg())
    return tables


def main(arguments):
    target = pathlib.Path(arguments[0]) if arguments else ROOT
    tables = write_pack(target / PACK)
    for path, text in cupboard.files(tables).items():
        write(target / "demo" / "cupboard" / path, text)
    write(target / "demo" / "cupboard" / "sales.csv", csv_text(sales.COLUMNS, sales.rows(tables)))


if __name__ == "__main__":
    main(sys.argv[1:])
