// SPDX-License-Identifier: Apache-2.0
#include "store/sqlite_migrations.h"

namespace footring::store {

namespace {

constexpr std::string_view kFirstTables[] = {
    R"(CREATE TABLE counter (
        name TEXT NOT NULL PRIMARY KEY,
        value INTEGER NOT NULL))",
    R"(CREATE TABLE lot (
        id TEXT NOT NULL PRIMARY KEY,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL))",
    // Narrow rows, so that counting and sorting touch few pages; the record itself is in piece_record.
    R"(CREATE TABLE piece (
        no INTEGER NOT NULL PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        revision INTEGER NOT NULL,
        form TEXT NOT NULL,
        shape TEXT NOT NULL,
        lot TEXT REFERENCES lot (id),
        place TEXT NOT NULL,
        treatment TEXT NOT NULL,
        grade TEXT NOT NULL,
        decided INTEGER NOT NULL CHECK (decided IN (0, 1)),
        id_key TEXT NOT NULL,
        number_key TEXT NOT NULL,
        lot_key TEXT NOT NULL,
        place_key TEXT NOT NULL))",
    R"(CREATE TABLE piece_record (
        no INTEGER NOT NULL PRIMARY KEY REFERENCES piece (no),
        record TEXT NOT NULL))",
    R"(CREATE TABLE photo (
        piece TEXT NOT NULL REFERENCES piece (id),
        sha256 TEXT NOT NULL,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (piece, sha256)))",
    R"(CREATE TABLE batch (
        id INTEGER NOT NULL PRIMARY KEY,
        made_at TEXT NOT NULL,
        undoes INTEGER NOT NULL,
        undone_by INTEGER NOT NULL))",
    R"(CREATE TABLE change (
        id INTEGER NOT NULL PRIMARY KEY,
        batch INTEGER NOT NULL REFERENCES batch (id),
        undoes INTEGER NOT NULL,
        state_before INTEGER NOT NULL,
        state INTEGER NOT NULL,
        made_at TEXT NOT NULL,
        entity INTEGER NOT NULL CHECK (entity IN (1, 2, 3)),
        record_key TEXT NOT NULL,
        piece TEXT NOT NULL,
        what TEXT NOT NULL,
        record_before TEXT NOT NULL,
        record_after TEXT NOT NULL))",
    "CREATE INDEX piece_by_revision ON piece (revision)",
    "CREATE INDEX piece_by_form ON piece (form)",
    "CREATE INDEX piece_by_shape ON piece (shape)",
    "CREATE INDEX piece_by_lot ON piece (lot)",
    "CREATE INDEX piece_by_place ON piece (place)",
    "CREATE INDEX piece_by_treatment ON piece (treatment)",
    "CREATE INDEX piece_by_grade ON piece (grade)",
    "CREATE INDEX piece_by_decided ON piece (decided)",
    "CREATE INDEX piece_by_id_key ON piece (id_key)",
    "CREATE INDEX piece_by_number_key ON piece (number_key)",
    "CREATE INDEX piece_by_lot_key ON piece (lot_key)",
    "CREATE INDEX piece_by_place_key ON piece (place_key)",
    "CREATE INDEX photo_by_sha256 ON photo (sha256)",
    "CREATE INDEX change_by_record ON change (entity, record_key)",
    "CREATE INDEX change_by_piece ON change (piece)",
    "CREATE INDEX change_by_batch ON change (batch)",
    "CREATE INDEX batch_by_undoes ON batch (undoes, undone_by)",
    // The words are folded already (words.h); short beginnings get lists of their own for search as one types.
    R"(CREATE VIRTUAL TABLE piece_words USING fts5 (
        words, tokenize = 'ascii', detail = 'none', columnsize = 0, prefix = '1 2 3'))",
};

// One reading for all pieces that have the same bytes, so that it does not hang on a row of photo.
constexpr std::string_view kReadings[] = {
    R"(CREATE TABLE reading (
        sha256 TEXT NOT NULL PRIMARY KEY,
        packs TEXT NOT NULL,
        record TEXT NOT NULL))",
};

// A CHECK cannot be changed in place, so the history moves into a new table; its indexes are made anew. The new one
// leaves open how many kinds of record there are.
constexpr std::string_view kKeptRecords[] = {
    R"(CREATE TABLE kept (
        kind TEXT NOT NULL,
        id TEXT NOT NULL,
        id_key TEXT NOT NULL,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (kind, id)))",
    "CREATE INDEX kept_in_order ON kept (kind, id_key, id)",
    R"(CREATE TABLE change_of_any (
        id INTEGER NOT NULL PRIMARY KEY,
        batch INTEGER NOT NULL REFERENCES batch (id),
        undoes INTEGER NOT NULL,
        state_before INTEGER NOT NULL,
        state INTEGER NOT NULL,
        made_at TEXT NOT NULL,
        entity INTEGER NOT NULL CHECK (entity > 0),
        record_key TEXT NOT NULL,
        piece TEXT NOT NULL,
        what TEXT NOT NULL,
        record_before TEXT NOT NULL,
        record_after TEXT NOT NULL))",
    R"(INSERT INTO change_of_any (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what,
            record_before, record_after)
        SELECT id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before,
            record_after FROM change ORDER BY id)",
    "DROP TABLE change",
    "ALTER TABLE change_of_any RENAME TO change",
    "CREATE INDEX change_by_record ON change (entity, record_key)",
    "CREATE INDEX change_by_piece ON change (piece)",
    "CREATE INDEX change_by_batch ON change (batch)",
};

// A session without its account is none. The audit trail outlives accounts, and names them by what they were
// called.
constexpr std::string_view kPeople[] = {
    "ALTER TABLE piece ADD COLUMN is_private INTEGER NOT NULL DEFAULT 0 CHECK (is_private IN (0, 1))",
    R"(CREATE TABLE account (
        name TEXT NOT NULL PRIMARY KEY,
        role INTEGER NOT NULL CHECK (role > 0),
        secret TEXT NOT NULL,
        created TEXT NOT NULL,
        changed TEXT NOT NULL))",
    R"(CREATE TABLE session (
        digest TEXT NOT NULL PRIMARY KEY,
        account TEXT NOT NULL REFERENCES account (name),
        begun TEXT NOT NULL,
        seen TEXT NOT NULL,
        ends TEXT NOT NULL,
        origin TEXT NOT NULL))",
    R"(CREATE TABLE audit (
        id INTEGER NOT NULL PRIMARY KEY,
        made_at TEXT NOT NULL,
        who TEXT NOT NULL,
        what TEXT NOT NULL,
        subject TEXT NOT NULL,
        batch INTEGER NOT NULL,
        origin TEXT NOT NULL))",
    "CREATE INDEX session_by_account ON session (account)",
    "CREATE INDEX audit_by_batch ON audit (batch)",
    "CREATE INDEX audit_by_who ON audit (who)",
    "CREATE INDEX audit_by_subject ON audit (subject)",
};

// Photographs that wait to be read (reading_queue.h).
constexpr std::string_view kReadingTasks[] = {
    R"(CREATE TABLE reading_task (
        sha256 TEXT NOT NULL PRIMARY KEY,
        no INTEGER NOT NULL,
        reader TEXT NOT NULL,
        lease INTEGER NOT NULL,
        due INTEGER NOT NULL,
        tries INTEGER NOT NULL,
        dead INTEGER NOT NULL CHECK (dead IN (0, 1)),
        said TEXT NOT NULL))",
    "CREATE INDEX reading_task_in_order ON reading_task (dead, no)",
};

// How many pieces have each value that the Cupboard is filtered by, kept with every change: counting a million
// pieces anew takes as long as reading them. And the few that were changed after they had been added
// (sql_find.cpp).
constexpr std::string_view kFacets[] = {
    R"(CREATE TABLE facet (
        field TEXT NOT NULL,
        value TEXT NOT NULL,
        is_private INTEGER NOT NULL CHECK (is_private IN (0, 1)),
        pieces INTEGER NOT NULL))",
    "CREATE INDEX facet_by_value ON facet (field, value, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'form', form, is_private, COUNT(*) FROM piece WHERE form <> '' GROUP BY form, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'shape', shape, is_private, COUNT(*) FROM piece WHERE shape <> '' GROUP BY shape, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'lot', lot, is_private, COUNT(*) FROM piece WHERE lot <> '' GROUP BY lot, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'place', place, is_private, COUNT(*) FROM piece WHERE place <> '' GROUP BY place, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'treatment', treatment, is_private, COUNT(*) FROM piece WHERE treatment <> '' GROUP BY treatment, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'grade', grade, is_private, COUNT(*) FROM piece WHERE grade <> '' GROUP BY grade, is_private)",
    R"(INSERT INTO facet (field, value, is_private, pieces)
        SELECT 'decided', CASE decided WHEN 1 THEN 'yes' ELSE 'no' END, is_private, COUNT(*) FROM piece
        GROUP BY decided, is_private)",
    "CREATE INDEX piece_changed ON piece (revision) WHERE revision <> no",
};

constexpr Migration kMigrations[] = {
    {1, "the first tables", kFirstTables},
    {2, "readings of photographs", kReadings},
    {3, "records of other kinds", kKeptRecords},
    {4, "private pieces, accounts, sessions, the audit trail", kPeople},
    {5, "the queue of photographs to be read", kReadingTasks},
    {6, "how many pieces have each value, and those that were changed", kFacets},
};

}  // namespace

std::span<const Migration> sqlite_migrations() { return kMigrations; }

}  // namespace footring::store
