// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "store/sql_prepared.h"

namespace footring::store {

using soci::use;

void SqlSession::expect_pieces(std::size_t many) {
    constexpr std::size_t kMany = 2'000;
    if (many < kMany || !set_aside_.empty()) return;
    const std::int64_t before = newest_change_id();
    nothing_before_ = before == 0;
    // Of a few more to very many the indexes are better kept up.
    if (static_cast<std::int64_t>(4 * many) < before) return;
    set_aside_ = dialect_.set_aside(sql_, nothing_before_);
}

void SqlSession::finish() {
    keep_counts();
    if (set_aside_.empty()) return;
    prepared_ = std::make_unique<Prepared>();  // their tables are about to change
    for (const std::string& statement : set_aside_) sql_ << statement;
    set_aside_.clear();
}

void SqlSession::save(const PieceEntry& piece) {
    const std::int64_t known = piece.key == absent_ ? 0 : piece_no(piece.key);
    absent_ = kNoId;
    if (known != 0) {
        nothing_before_ = false;  // changed before, in this very write
        count(prepared_->get(prepared_->counted_piece, sql_).run(known), -1);
    }
    count(piece, 1);
    const std::int64_t no = known != 0 ? known : piece.revision;  // revisions are never used twice
    if (known != 0) prepared_->get(prepared_->update_piece, sql_).run(piece, no);
    else prepared_->get(prepared_->insert_piece, sql_).run(piece, no);
    if (known != 0) prepared_->get(prepared_->update_record, sql_).run(no, piece.json);
    else prepared_->get(prepared_->insert_record, sql_).run(no, piece.json);
    if (known != 0) prepared_->get(prepared_->update_words, sql_, dialect_.update_words()).run(no, piece.words);
    else prepared_->get(prepared_->insert_words, sql_, dialect_.insert_words()).run(no, piece.words);
}

void SqlSession::save_lot(const Entry& lot) {
    const std::string text = entry(Entity::kLot, lot.key)
                                 ? "UPDATE lot SET revision = :revision, record = :record WHERE id = :id"
                                 : "INSERT INTO lot (id, revision, record) VALUES (:id, :revision, :record)";
    sql_ << text, use(lot.key, "id"), use(lot.revision, "revision"), use(lot.json, "record");
}

void SqlSession::save(const PhotoEntry& photo) {
    const std::string text =
        entry(Entity::kPhoto, photo.key)
            ? "UPDATE photo SET revision = :revision, record = :record WHERE piece = :piece AND sha256 = :sha256"
            : "INSERT INTO photo (piece, sha256, revision, record) VALUES (:piece, :sha256, :revision, :record)";
    sql_ << text, use(photo.piece, "piece"), use(photo.sha256, "sha256"), use(photo.revision, "revision"),
        use(photo.json, "record");
}

void SqlSession::save(const ReadingEntry& reading) {
    erase_reading(reading.sha256);
    sql_ << "INSERT INTO reading (sha256, packs, record) VALUES (:sha256, :packs, :record)",
        use(reading.sha256, "sha256"), use(reading.packs, "packs"), use(reading.json, "record");
}

void SqlSession::save(const RecordEntry& record) {
    if (entry(Entity::kRecord, record.key)) prepared_->get(prepared_->update_kept, sql_).run(record);
    else prepared_->get(prepared_->insert_kept, sql_).run(record);
}

void SqlSession::erase_reading(const std::string& sha256) {
    sql_ << "DELETE FROM reading WHERE sha256 = :sha256", use(sha256, "sha256");
}

void SqlSession::erase(Entity entity, const std::string& key) {
    if (entity == Entity::kLot) {
        sql_ << "DELETE FROM lot WHERE id = :id", use(key, "id");
    } else if (entity == Entity::kPhoto) {
        const PhotoEntry photo = photo_named(key);
        sql_ << "DELETE FROM photo WHERE piece = :piece AND sha256 = :sha256", use(photo.piece, "piece"),
            use(photo.sha256, "sha256");
    } else if (entity == Entity::kRecord) {
        const std::string kind(kind_in(key)), id(id_in(key));
        sql_ << "DELETE FROM kept WHERE kind = :kind AND id = :id", use(kind, "kind"), use(id, "id");
    } else if (const std::int64_t no = piece_no(key); no != 0) {
        count(prepared_->get(prepared_->counted_piece, sql_).run(no), -1);
        prepared_->get(prepared_->delete_words, sql_, dialect_.delete_words()).run(no);
        prepared_->get(prepared_->delete_record, sql_, "DELETE FROM piece_record WHERE no = :no").run(no);
        prepared_->get(prepared_->delete_piece, sql_, "DELETE FROM piece WHERE no = :no").run(no);
    }
}

std::int64_t SqlSession::next_change() {
    if (last_change_ == 0) {
        last_change_ =
            std::max(newest_change_id(), counter("change"));  // of a store that was restored from a backup
    }
    return ++last_change_;
}

void SqlSession::append(const ChangeRow& row) { prepared_->get(prepared_->insert_change, sql_).run(row); }

std::int64_t SqlSession::open_batch(const std::string& when, std::int64_t undoes) {
    std::int64_t id = 0;
    sql_ << "SELECT COALESCE(MAX(id), 0) FROM batch", soci::into(id);
    id = std::max(id, counter("batch")) + 1;
    sql_ << "INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (:id, :made_at, :undoes, 0)", use(id, "id"),
        use(when, "made_at"), use(undoes, "undoes");
    return id;
}

void SqlSession::set_undone_by(std::int64_t batch, std::int64_t by) {
    sql_ << "UPDATE batch SET undone_by = :undone_by WHERE id = :id", use(by, "undone_by"), use(batch, "id");
}

std::int64_t SqlSession::counter(const std::string& name) {
    std::int64_t value = 0;
    sql_ << "SELECT COALESCE(MAX(value), 0) FROM counter WHERE name = :name", use(name, "name"), soci::into(value);
    return value;
}

void SqlSession::set_counter(const std::string& name, std::int64_t value) {
    sql_ << "DELETE FROM counter WHERE name = :name", use(name, "name");
    sql_ << "INSERT INTO counter (name, value) VALUES (:name, :value)", use(name, "name"), use(value, "value");
}

}  // namespace footring::store
