// store/sql_prepared.h - the statements that a large write repeats, each with the variables it is bound to.
//   SOCI binds addresses: these objects are made in place and never move.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/record_kinds.h"
#include "store/sql_session.h"

namespace footring::store {

// The two halves of the key of a photograph.
inline PhotoEntry photo_named(const std::string& key) {
    PhotoEntry photo;
    const std::size_t slash = key.rfind('/');
    photo.key = key;
    photo.piece = key.substr(0, slash);
    photo.sha256 = slash == std::string::npos ? "" : key.substr(slash + 1);
    return photo;
}

struct PieceStatement {
    PieceEntry row;
    std::int64_t no = 0;
    int decided = 0, is_private = 0;
    soci::indicator lot_is = soci::i_null;
    soci::statement statement;
    PieceStatement(soci::session& sql, const std::string& text)
        : statement((sql.prepare << text, soci::use(no, "no"), soci::use(row.key, "id"),
                     soci::use(row.revision, "revision"), soci::use(row.form, "form"),
                     soci::use(row.shape, "shape"), soci::use(row.lot, lot_is, "lot"),
                     soci::use(row.place, "place"), soci::use(row.treatment, "treatment"),
                     soci::use(row.grade, "grade"), soci::use(decided, "decided"),
                     soci::use(is_private, "is_private"), soci::use(row.id_key, "id_key"),
                     soci::use(row.number_key, "number_key"), soci::use(row.lot_key, "lot_key"),
                     soci::use(row.place_key, "place_key"))) {}
    void run(const PieceEntry& piece, std::int64_t at) {
        row = piece;
        no = at;
        decided = piece.decided ? 1 : 0;
        is_private = piece.is_private ? 1 : 0;
        lot_is = piece.lot.empty() ? soci::i_null : soci::i_ok;
        statement.execute(true);
    }
};
struct InsertPiece : PieceStatement {
    explicit InsertPiece(soci::session& sql)
        : PieceStatement(
              sql,
              "INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, "
              "is_private, "
              "id_key, number_key, lot_key, place_key) VALUES (:no, :id, :revision, :form, :shape, :lot, "
              ":place, :treatment, :grade, :decided, :is_private, :id_key, :number_key, :lot_key, :place_key)") {}
};
struct UpdatePiece : PieceStatement {
    explicit UpdatePiece(soci::session& sql)
        : PieceStatement(
              sql,
              "UPDATE piece SET id = :id, revision = :revision, form = :form, shape = :shape, lot = :lot, "
              "place = :place, treatment = :treatment, grade = :grade, decided = :decided, is_private = "
              ":is_private, "
              "id_key = :id_key, number_key = :number_key, lot_key = :lot_key, place_key = :place_key "
              "WHERE no = :no") {}
};

struct NumberStatement {
    std::int64_t no = 0;
    soci::statement statement;
    NumberStatement(soci::session& sql, const std::string& text)
        : statement((sql.prepare << text, soci::use(no, "no"))) {}
    void run(std::int64_t at) {
        no = at;
        statement.execute(true);
    }
};
struct TextStatement {
    std::int64_t no = 0;
    std::string text;
    soci::statement statement;
    TextStatement(soci::session& sql, const std::string& words, const char* name)
        : statement((sql.prepare << words, soci::use(no, "no"), soci::use(text, name))) {}
    void run(std::int64_t at, const std::string& value) {
        no = at;
        text = value;
        statement.execute(true);
    }
};
struct WordsStatement : TextStatement {
    WordsStatement(soci::session& sql, const std::string& asked) : TextStatement(sql, asked, "words") {}
};
struct InsertRecord : TextStatement {
    explicit InsertRecord(soci::session& sql)
        : TextStatement(sql, "INSERT INTO piece_record (no, record) VALUES (:no, :record)", "record") {}
};
struct UpdateRecord : TextStatement {
    explicit UpdateRecord(soci::session& sql)
        : TextStatement(sql, "UPDATE piece_record SET record = :record WHERE no = :no", "record") {}
};

struct RecordStatement {
    RecordEntry row;
    soci::statement statement;
    RecordStatement(soci::session& sql, const std::string& text)
        : statement((sql.prepare << text, soci::use(row.kind, "kind"), soci::use(row.id, "id"),
                     soci::use(row.id_key, "id_key"), soci::use(row.revision, "revision"),
                     soci::use(row.json, "record"))) {}
    void run(const RecordEntry& record) {
        row = record;
        statement.execute(true);
    }
};
struct InsertKept : RecordStatement {
    explicit InsertKept(soci::session& sql)
        : RecordStatement(sql,
                          "INSERT INTO kept (kind, id, id_key, revision, record) "
                          "VALUES (:kind, :id, :id_key, :revision, :record)") {}
};
struct UpdateKept : RecordStatement {
    explicit UpdateKept(soci::session& sql)
        : RecordStatement(sql,
                          "UPDATE kept SET id_key = :id_key, revision = :revision, record = :record "
                          "WHERE kind = :kind AND id = :id") {}
};
struct KeptById {
    std::string kind, id;
    Entry found;
    soci::statement statement;
    explicit KeptById(soci::session& sql)
        : statement((sql.prepare << "SELECT revision, record FROM kept WHERE kind = :kind AND id = :id",
                     soci::use(kind, "kind"), soci::use(id, "id"), soci::into(found.revision),
                     soci::into(found.json))) {}
    std::optional<Entry> run(const std::string& key) {
        kind = kind_in(key);
        id = id_in(key);
        found.key = key;
        return statement.execute(true) ? std::optional(found) : std::nullopt;
    }
};

struct InsertChange {
    ChangeRow row;
    int entity = 0;
    soci::statement statement;
    explicit InsertChange(soci::session& sql)
        : statement(
              (sql.prepare
                   << "INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, "
                      "piece, "
                      "what, record_before, record_after) VALUES (:id, :batch, :undoes, :state_before, :state, "
                      ":made_at, :entity, :record_key, :piece, :what, :record_before, :record_after)",
               soci::use(row.id, "id"), soci::use(row.batch, "batch"), soci::use(row.undoes, "undoes"),
               soci::use(row.state_before, "state_before"), soci::use(row.state, "state"),
               soci::use(row.when, "made_at"), soci::use(entity, "entity"), soci::use(row.key, "record_key"),
               soci::use(row.piece, "piece"), soci::use(row.what, "what"), soci::use(row.before, "record_before"),
               soci::use(row.after, "record_after"))) {}
    void run(const ChangeRow& change) {
        row = change;
        entity = static_cast<int>(change.entity);
        statement.execute(true);
    }
};

struct StateOf {
    int entity = 0;
    std::string key;
    std::int64_t state = 0;
    soci::statement statement;
    explicit StateOf(soci::session& sql)
        : statement((sql.prepare << "SELECT state FROM change WHERE entity = :entity AND record_key = :record_key "
                                    "ORDER BY id DESC LIMIT 1",
                     soci::use(entity, "entity"), soci::use(key, "record_key"), soci::into(state))) {}
    std::int64_t run(Entity of, const std::string& record) {
        entity = static_cast<int>(of);
        key = record;
        return statement.execute(true) ? state : 0;
    }
};

struct PieceNo {
    std::string id;
    std::int64_t no = 0;
    soci::statement statement;
    explicit PieceNo(soci::session& sql)
        : statement((sql.prepare << "SELECT no FROM piece WHERE id = :id", soci::use(id, "id"), soci::into(no))) {}
    std::int64_t run(const std::string& piece) {
        id = piece;
        return statement.execute(true) ? no : 0;
    }
};
// What a piece is counted by.
struct CountedPiece {
    std::int64_t no = 0;
    PieceEntry found;
    int decided = 0, is_private = 0;
    soci::statement statement;
    explicit CountedPiece(soci::session& sql)
        : statement(
              (sql.prepare << "SELECT form, shape, COALESCE(lot, ''), place, treatment, grade, decided, is_private "
                              "FROM piece WHERE no = :no",
               soci::use(no, "no"), soci::into(found.form), soci::into(found.shape), soci::into(found.lot),
               soci::into(found.place), soci::into(found.treatment), soci::into(found.grade), soci::into(decided),
               soci::into(is_private))) {}
    const PieceEntry& run(std::int64_t piece) {
        no = piece;
        statement.execute(true);
        found.decided = decided != 0;
        found.is_private = is_private != 0;
        return found;
    }
};
// One more, or fewer, that has a value: see SqlSession::keep_counts().
struct CountFacet {
    std::string field, value;
    int is_private = 0;
    std::int64_t by = 0;
    soci::statement statement;
    CountFacet(soci::session& sql, const std::string& text)
        : statement((sql.prepare << text, soci::use(field, "field"), soci::use(value, "value"),
                     soci::use(is_private, "is_private"), soci::use(by, "pieces"))) {}
    bool run(const std::string& of, const std::string& what, bool hidden, std::int64_t pieces) {
        field = of;
        value = what;
        is_private = hidden ? 1 : 0;
        by = pieces;
        statement.execute(true);
        return statement.get_affected_rows() > 0;
    }
};
// Of a piece, by its id or by its number.
struct PieceById {
    std::string id;
    Entry found;
    soci::statement statement;
    explicit PieceById(soci::session& sql)
        : statement((sql.prepare << "SELECT p.id, p.revision, r.record FROM piece p JOIN piece_record r "
                                    "ON r.no = p.no WHERE p.id = :id",
                     soci::use(id, "id"), soci::into(found.key), soci::into(found.revision),
                     soci::into(found.json))) {}
    std::optional<Entry> run(const std::string& piece) {
        id = piece;
        return statement.execute(true) ? std::optional(found) : std::nullopt;
    }
};
struct PieceByNo {
    std::int64_t no = 0;
    Entry found;
    soci::statement statement;
    explicit PieceByNo(soci::session& sql)
        : statement((sql.prepare << "SELECT p.id, p.revision, r.record FROM piece p JOIN piece_record r "
                                    "ON r.no = p.no WHERE p.no = :no",
                     soci::use(no, "no"), soci::into(found.key), soci::into(found.revision),
                     soci::into(found.json))) {}
    std::optional<Entry> run(std::int64_t piece) {
        no = piece;
        return statement.execute(true) ? std::optional(found) : std::nullopt;
    }
};

struct SqlSession::Prepared {
    std::unique_ptr<InsertPiece> insert_piece;
    std::unique_ptr<UpdatePiece> update_piece;
    std::unique_ptr<InsertRecord> insert_record;
    std::unique_ptr<UpdateRecord> update_record;
    std::unique_ptr<WordsStatement> insert_words, update_words;
    std::unique_ptr<NumberStatement> delete_words, delete_record, delete_piece;
    std::unique_ptr<InsertKept> insert_kept;
    std::unique_ptr<UpdateKept> update_kept;
    std::unique_ptr<KeptById> kept_by_id;
    std::unique_ptr<InsertChange> insert_change;
    std::unique_ptr<StateOf> state_of;
    std::unique_ptr<PieceNo> piece_no;
    std::unique_ptr<CountedPiece> counted_piece;
    std::unique_ptr<CountFacet> update_facet, insert_facet;
    std::unique_ptr<PieceById> piece_by_id;
    std::unique_ptr<PieceByNo> piece_by_no;

    // Prepares on first use.
    template <class S, class... Text>
    static S& get(std::unique_ptr<S>& statement, soci::session& sql, const Text&... text) {
        if (!statement) statement = std::make_unique<S>(sql, text...);
        return *statement;
    }
};

}  // namespace footring::store
