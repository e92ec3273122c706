// SPDX-License-Identifier: Apache-2.0
#include "store/postgres_migrations.h"

namespace footring::store {

namespace {

// Text is compared byte by byte (COLLATE "C"), as SQLite does, whatever the language of the server.
// A B-tree takes no text over some 2,700 bytes: columns of unlimited length have a hash index for "is", and the
// beginning of theirs is what they are sorted by (Dialect::sort_by).
constexpr std::string_view kFirstPostgresTables[] = {
    // Whoever changes a record locks this row first: one writer at a time on all machines, and numbers of changes
    // that become visible in their order.
    "CREATE TABLE writer (one INTEGER NOT NULL PRIMARY KEY CHECK (one = 1))",
    "INSERT INTO writer (one) VALUES (1)",
    R"(CREATE TABLE counter (
        name TEXT COLLATE "C" NOT NULL PRIMARY KEY,
        value BIGINT NOT NULL))",
    R"(CREATE TABLE lot (
        id TEXT COLLATE "C" NOT NULL PRIMARY KEY,
        revision BIGINT NOT NULL,
        record TEXT NOT NULL))",
    R"(CREATE TABLE piece (
        no BIGINT NOT NULL PRIMARY KEY,
        id TEXT COLLATE "C" NOT NULL UNIQUE,
        revision BIGINT NOT NULL,
        form TEXT COLLATE "C" NOT NULL,
        shape TEXT COLLATE "C" NOT NULL,
        lot TEXT COLLATE "C" REFERENCES lot (id),
        place TEXT COLLATE "C" NOT NULL,
        treatment TEXT COLLATE "C" NOT NULL,
        grade TEXT COLLATE "C" NOT NULL,
        decided INTEGER NOT NULL CHECK (decided IN (0, 1)),
        id_key TEXT COLLATE "C" NOT NULL,
        number_key TEXT COLLATE "C" NOT NULL,
        lot_key TEXT COLLATE "C" NOT NULL,
        place_key TEXT COLLATE "C" NOT NULL))",
    R"(CREATE TABLE piece_record (
        no BIGINT NOT NULL PRIMARY KEY REFERENCES piece (no),
        record TEXT NOT NULL))",
    // The words are folded already (words.h): nothing is left for a language of PostgreSQL's own.
    R"(CREATE TABLE piece_words (
        no BIGINT NOT NULL PRIMARY KEY REFERENCES piece (no),
        words TSVECTOR NOT NULL))",
    R"(CREATE TABLE photo (
        piece TEXT COLLATE "C" NOT NULL REFERENCES piece (id),
        sha256 TEXT COLLATE "C" NOT NULL,
        revision BIGINT NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (piece, sha256)))",
    R"(CREATE TABLE kept (
        kind TEXT COLLATE "C" NOT NULL,
        id TEXT COLLATE "C" NOT NULL,
        id_key TEXT COLLATE "C" NOT NULL,
        revision BIGINT NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (kind, id)))",
    R"(CREATE TABLE batch (
        id BIGINT NOT NULL PRIMARY KEY,
        made_at TEXT COLLATE "C" NOT NULL,
        undoes BIGINT NOT NULL,
        undone_by BIGINT NOT NULL))",
    R"(CREATE TABLE change (
        id BIGINT NOT NULL PRIMARY KEY,
        batch BIGINT NOT NULL REFERENCES batch (id),
        undoes BIGINT NOT NULL,
        state_before BIGINT NOT NULL,
        state BIGINT NOT NULL,
        made_at TEXT COLLATE "C" NOT NULL,
        entity INTEGER NOT NULL CHECK (entity > 0),
        record_key TEXT COLLATE "C" NOT NULL,
        piece TEXT COLLATE "C" NOT NULL,
        what TEXT NOT NULL,
        record_before TEXT NOT NULL,
        record_after TEXT NOT NULL))",
    R"(CREATE TABLE reading (
        sha256 TEXT COLLATE "C" NOT NULL PRIMARY KEY,
        packs TEXT COLLATE "C" NOT NULL,
        record TEXT NOT NULL))",
    "CREATE INDEX piece_by_revision ON piece (revision, no)",
    "CREATE INDEX piece_by_form ON piece USING hash (form)",
    "CREATE INDEX piece_by_shape ON piece USING hash (shape)",
    "CREATE INDEX piece_by_lot ON piece (lot)",
    "CREATE INDEX piece_by_place ON piece USING hash (place)",
    "CREATE INDEX piece_by_treatment ON piece USING hash (treatment)",
    "CREATE INDEX piece_by_grade ON piece (grade)",
    "CREATE INDEX piece_by_decided ON piece (decided)",
    "CREATE INDEX piece_in_order_of_form ON piece (left(form, 200), no)",
    "CREATE INDEX piece_in_order_of_shape ON piece (left(shape, 200), no)",
    "CREATE INDEX piece_by_id_key ON piece (id_key, no)",
    "CREATE INDEX piece_by_number_key ON piece (number_key, no)",
    "CREATE INDEX piece_by_lot_key ON piece (lot_key, no)",
    "CREATE INDEX piece_by_place_key ON piece (place_key, no)",
    "CREATE INDEX piece_by_words ON piece_words USING gin (words)",
    "CREATE INDEX photo_by_sha256 ON photo (sha256)",
    "CREATE INDEX kept_in_order ON kept (kind, id_key, id)",
    "CREATE INDEX change_by_record ON change (entity, record_key, id)",
    "CREATE INDEX change_by_piece ON change (piece, id)",
    "CREATE INDEX change_by_batch ON change (batch, id)",
    "CREATE INDEX batch_by_undoes ON batch (undoes, undone_by, id)",
};

// A session without its account is none. The audit trail outlives accounts, and names them by what they were
// called.
constexpr std::string_view kPostgresPeople[] = {
    "ALTER TABLE piece ADD COLUMN is_private INTEGER NOT NULL DEFAULT 0 CHECK (is_private IN (0, 1))",
    R"(CREATE TABLE account (
        name TEXT COLLATE "C" NOT NULL PRIMARY KEY,
        role INTEGER NOT NULL CHECK (role > 0),
        secret TEXT NOT NULL,
        created TEXT COLLATE "C" NOT NULL,
        changed TEXT COLLATE "C" NOT NULL))",
    R"(CREATE TABLE session (
        digest TEXT COLLATE "C" NOT NULL PRIMARY KEY,
        account TEXT COLLATE "C" NOT NULL REFERENCES account (name),
        begun TEXT COLLATE "C" NOT NULL,
        seen TEXT COLLATE "C" NOT NULL,
        ends TEXT COLLATE "C" NOT NULL,
        origin TEXT NOT NULL))",
    R"(CREATE TABLE audit (
        id BIGINT NOT NULL PRIMARY KEY,
        made_at TEXT COLLATE "C" NOT NULL,
        who TEXT COLLATE "C" NOT NULL,
        what TEXT NOT NULL,
        subject TEXT COLLATE "C" NOT NULL,
        batch BIGINT NOT NULL,
        origin TEXT NOT NULL))",
    "CREATE INDEX session_by_account ON session (account)",
    "CREATE INDEX audit_by_batch ON audit (batch)",
    "CREATE INDEX audit_by_who ON audit (who)",
    "CREATE INDEX audit_by_subject ON audit (subject)",
};

// Photographs that wait to be read (reading_queue.h).
constexpr std::string_view kPostgresReadingTasks[] = {
    R"(CREATE TABLE reading_task (
        sha256 TEXT COLLATE "C" NOT NULL PRIMARY KEY,
        no BIGINT NOT NULL,
        reader TEXT NOT NULL,
        lease BIGINT NOT NULL,
        due BIGINT NOT NULL,
        tries INTEGER NOT NULL,
        dead INTEGER NOT NULL CHECK (dead IN (0, 1)),
        said TEXT NOT NULL))",
    "CREATE INDEX reading_task_in_order ON reading_task (dead, no)",
};

// How many pieces have each value that the Cupboard is filtered by, kept with every change: counting a million
// pieces anew takes as long as reading them. And the few that were changed after they had been added
// (sql_find.cpp).
constexpr std::string_view kPostgresFacets[] = {
    R"(CREATE TABLE facet (
        field TEXT COLLATE "C" NOT NULL,
        value TEXT COLLATE "C" NOT NULL,
        is_private INTEGER NOT NULL CHECK (is_private IN (0, 1)),
        pieces BIGINT NOT NULL))",
    "CREATE INDEX facet_by_value ON facet USING hash (value)",
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

constexpr Migration kPostgresMigrations[] = {
    {3, "the first tables in PostgreSQL", kFirstPostgresTables},
    {4, "private pieces, accounts, sessions, the audit trail", kPostgresPeople},
    {5, "the queue of photographs to be read", kPostgresReadingTasks},
    {6, "how many pieces have each value, and those that were changed", kPostgresFacets},
};

}  // namespace

std::span<const Migration> postgres_migrations() { return kPostgresMigrations; }

}  // namespace footring::store
