#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Writes a footring.db as the SQL that makes it again, for src/store/test_data/; src/store/test_fixtures.h says when.

usage: tools/store_fixture.py DIR/footring.db >src/store/test_data/schema_N.sql

Unlike the sqlite3 program's own dump it keeps the header of the file and needs no writing to the schema: the shadow
tables of the full-text index are left to the index itself."""
import sqlite3
import sys

APPLICATION_ID = 0x46545231


def literal(value):
    if value is None:
        return "NULL"
    if isinstance(value, int):
        return str(value)
    return "'" + value.replace("'", "''") + "'"


def main(path):
    db = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    objects = db.execute("SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY rowid").fetchall()
    fts = [name for kind, name, sql in objects if sql.upper().startswith("CREATE VIRTUAL TABLE")]
    shadows = tuple(f"{name}_" for name in fts if name)
    shadowed = {name for kind, name, _ in objects
                if any(name == s + part for s in shadows for part in ("data", "idx", "content", "docsize", "config"))}
    if db.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        sys.exit(f"{path}: this is no store of Footring: name a footring.db")
    print(f"PRAGMA application_id = {APPLICATION_ID};")
    for kind, name, sql in objects:
        if name not in shadowed:
            print(sql.rstrip() + ";")
    for kind, name, _ in objects:
        if kind != "table" or name in shadowed:
            continue
        columns = [row[1] for row in db.execute(f"PRAGMA table_info({name})")]
        if name in fts:
            columns.insert(0, "rowid")
        for row in db.execute(f"SELECT {', '.join(columns)} FROM {name} ORDER BY 1, 2"):
            print(f"INSERT INTO {name} ({', '.join(columns)}) VALUES ({', '.join(map(literal, row))});")


if len(sys.argv) != 2:
    sys.exit(__doc__)
main(sys.argv[1])
