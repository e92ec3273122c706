// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "store/reading_pictures.h"
#include "store/sql_prepared.h"

namespace footring::store {

using soci::into;
using soci::use;

namespace {

constexpr const char* kChangeColumns =
    "SELECT id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, "
    "record_after, COALESCE((SELECT MAX(a.who) FROM audit a WHERE a.batch = change.batch), '') FROM change";

// Changes that meet a condition with one parameter :asked.
template <class T>
std::vector<ChangeRow> changes(soci::session& sql, const std::string& condition, const T& asked) {
    ChangeRow row;
    int entity = 0;
    soci::statement statement =
        (sql.prepare << kChangeColumns + condition, use(asked, "asked"), into(row.id), into(row.batch),
         into(row.undoes), into(row.state_before), into(row.state), into(row.when), into(entity), into(row.key),
         into(row.piece), into(row.what), into(row.before), into(row.after), into(row.who));
    std::vector<ChangeRow> out;
    statement.execute(false);
    while (statement.fetch()) {
        row.entity = static_cast<Entity>(entity);
        out.push_back(row);
    }
    return out;
}

std::optional<ChangeRow> first(std::vector<ChangeRow> rows) {
    return rows.empty() ? std::nullopt : std::optional(std::move(rows.front()));
}
std::string of_entity(Entity entity) {
    return fmt::format(" WHERE entity = {} AND record_key = :asked", static_cast<int>(entity));
}

}  // namespace

SqlSession::SqlSession(soci::session& sql, const Dialect& dialect)
    : sql_(sql), dialect_(dialect), prepared_(std::make_unique<Prepared>()) {}
SqlSession::~SqlSession() = default;

std::int64_t SqlSession::piece_no(const std::string& id) {
    return prepared_->get(prepared_->piece_no, sql_).run(id);
}

std::optional<Entry> SqlSession::entry(Entity entity, const std::string& key) {
    if (entity == Entity::kPiece) {
        auto found = prepared_->get(prepared_->piece_by_id, sql_).run(key);
        if (!found) absent_ = key;
        return found;
    }
    if (entity == Entity::kRecord) return prepared_->get(prepared_->kept_by_id, sql_).run(key);
    Entry found;
    found.key = key;
    if (entity == Entity::kLot) {
        sql_ << "SELECT revision, record FROM lot WHERE id = :id", use(key, "id"), into(found.revision),
            into(found.json);
    } else {
        const PhotoEntry photo = photo_named(key);
        sql_ << "SELECT revision, record FROM photo WHERE piece = :piece AND sha256 = :sha256",
            use(photo.piece, "piece"), use(photo.sha256, "sha256"), into(found.revision), into(found.json);
    }
    return sql_.got_data() ? std::optional(found) : std::nullopt;
}

std::vector<Entry> SqlSession::lots() {
    std::vector<Entry> out;
    Entry lot;
    soci::statement statement =
        (sql_.prepare << "SELECT id, revision, record FROM lot", into(lot.key), into(lot.revision), into(lot.json));
    statement.execute(false);
    while (statement.fetch()) out.push_back(lot);
    std::ranges::sort(out, {}, &Entry::key);
    return out;
}

std::vector<Entry> SqlSession::records(const std::string& kind) {
    std::vector<Entry> out;
    Entry found;
    std::string id;
    soci::statement statement = (sql_.prepare << "SELECT id, revision, record FROM kept WHERE kind = :kind "
                                                 "ORDER BY id_key, id",
                                 use(kind, "kind"), into(id), into(found.revision), into(found.json));
    statement.execute(false);
    while (statement.fetch()) {
        found.key = record_key(kind, id);
        out.push_back(found);
    }
    return out;
}

std::vector<std::string> SqlSession::pieces_in(const std::string& lot) {
    std::vector<std::string> out;
    std::string id;
    soci::statement statement =
        (sql_.prepare << "SELECT id FROM piece WHERE lot = :lot ORDER BY no", use(lot, "lot"), into(id));
    statement.execute(false);
    while (statement.fetch()) out.push_back(id);
    return out;
}

std::vector<PhotoEntry> SqlSession::photos_of(const std::vector<std::string>& pieces) {
    constexpr std::size_t kAtOnce = 500;  // parameters of one statement
    std::vector<PhotoEntry> out;
    for (std::size_t begin = 0; begin < pieces.size(); begin += kAtOnce) {
        PhotoEntry photo;
        soci::statement statement(sql_);
        std::string names;
        for (std::size_t i = begin; i < pieces.size() && i < begin + kAtOnce; ++i) {
            const std::string name = fmt::format("p{}", i - begin);
            (names += names.empty() ? ":" : ", :") += name;
            statement.exchange(use(pieces[i], name));
        }
        statement.exchange(into(photo.piece));
        statement.exchange(into(photo.sha256));
        statement.exchange(into(photo.revision));
        statement.exchange(into(photo.json));
        statement.alloc();
        // The first change of a photograph is its arrival, however often it was removed and brought back since.
        statement.prepare(
            fmt::format("SELECT piece, sha256, revision, record FROM photo WHERE piece IN ({}) "
                        "ORDER BY piece, (SELECT MIN(c.id) FROM change c WHERE c.entity = {} "
                        "AND c.record_key = photo.piece || '/' || photo.sha256)",
                        names, static_cast<int>(Entity::kPhoto)));
        statement.define_and_bind();
        statement.execute(false);
        while (statement.fetch()) {
            photo.key = photo.piece + "/" + photo.sha256;
            out.push_back(photo);
        }
    }
    return out;
}

std::vector<std::string> SqlSession::pieces_with(const std::string& sha256) {
    std::vector<std::string> out;
    std::string piece;
    soci::statement statement =
        (sql_.prepare << "SELECT piece FROM photo WHERE sha256 = :sha256", use(sha256, "sha256"), into(piece));
    statement.execute(false);
    while (statement.fetch()) out.push_back(piece);
    std::ranges::sort(out);
    return out;
}

std::vector<std::string> SqlSession::photo_names() {
    std::vector<std::string> out;
    std::string name;
    soci::statement statement = (sql_.prepare << "SELECT DISTINCT sha256 FROM photo", into(name));
    statement.execute(false);
    while (statement.fetch()) out.push_back(name);
    return out;
}

std::vector<std::pair<std::string, std::string>> SqlSession::photo_changes() {
    std::vector<std::pair<std::string, std::string>> out;
    std::string key, when;
    soci::statement statement =
        (sql_.prepare << fmt::format("SELECT record_key, MAX(made_at) FROM change WHERE entity = {} "
                                     "GROUP BY record_key",
                                     static_cast<int>(Entity::kPhoto)),
         into(key), into(when));
    statement.execute(false);
    while (statement.fetch()) out.emplace_back(key.substr(key.rfind('/') + 1), when);
    return out;
}

std::optional<ReadingEntry> SqlSession::reading(const std::string& sha256) {
    ReadingEntry found;
    found.sha256 = sha256;
    sql_ << "SELECT packs, record FROM reading WHERE sha256 = :sha256", use(sha256, "sha256"), into(found.packs),
        into(found.json);
    return sql_.got_data() ? std::optional(found) : std::nullopt;
}

std::vector<PictureMade> SqlSession::pictures_made(const std::string& kind, Sight sight) {
    std::vector<PictureMade> out;
    PictureMade row;
    const std::string named = before_digest(kind);
    const int most = most_hidden(sight);
    const std::string at = dialect_.position("r.record", ":named");
    soci::statement statement =
        (sql_.prepare << fmt::format(
             "SELECT p.piece, p.sha256, substr(r.record, {0} + {1}, {2}) FROM photo p JOIN piece c ON c.id = "
             "p.piece "
             "JOIN reading r ON r.sha256 = p.sha256 WHERE c.is_private <= :most AND {0} > 0",
             at, named.size(), kDigestInNames),
         use(named, "named"), use(most, "most"), into(row.piece), into(row.sha256), into(row.digest));
    statement.execute(false);
    while (statement.fetch()) out.push_back(row);
    std::ranges::sort(out);
    return out;
}

std::vector<std::string> SqlSession::unread(const std::string& packs) {
    std::vector<std::string> out;
    std::string name;
    std::int64_t first = 0;
    // The revision of a photograph grows when it is corrected; its first change is its arrival.
    soci::statement statement =
        (sql_.prepare << fmt::format(
             "SELECT p.sha256, MIN((SELECT MIN(c.id) FROM change c WHERE c.entity = {} AND c.record_key = p.piece "
             "|| "
             "'/' || p.sha256)) AS arrived FROM photo p LEFT JOIN reading r ON r.sha256 = p.sha256 "
             "WHERE r.sha256 IS NULL OR r.packs <> :packs GROUP BY p.sha256 ORDER BY arrived",
             static_cast<int>(Entity::kPhoto)),
         use(packs, "packs"), into(name), into(first));
    statement.execute(false);
    while (statement.fetch()) out.push_back(name);
    return out;
}

std::optional<ChangeRow> SqlSession::change(std::int64_t id) {
    return first(changes(sql_, " WHERE id = :asked", id));
}
std::int64_t SqlSession::state(Entity entity, const std::string& key) {
    if (nothing_before_) return 0;
    return prepared_->get(prepared_->state_of, sql_).run(entity, key);
}
std::optional<ChangeRow> SqlSession::newest_change(Entity entity, const std::string& key) {
    return first(changes(sql_, of_entity(entity) + " ORDER BY id DESC LIMIT 1", key));
}
std::vector<ChangeRow> SqlSession::changes_in(std::int64_t batch) {
    return changes(sql_, " WHERE batch = :asked ORDER BY id DESC", batch);
}
std::vector<ChangeRow> SqlSession::changes_of(Entity entity, const std::string& key) {
    const std::string condition = entity == Entity::kPiece ? " WHERE piece = :asked" : of_entity(entity);
    return changes(sql_, condition + " ORDER BY id DESC", key);
}
std::vector<ChangeRow> SqlSession::recent(int limit) {
    return changes(sql_, " ORDER BY id DESC LIMIT :asked", limit);
}

std::int64_t SqlSession::newest_change_id() {
    std::int64_t id = 0;
    sql_ << "SELECT COALESCE(MAX(id), 0) FROM change", into(id);
    return id;
}

std::optional<BatchRow> SqlSession::batch(std::int64_t id) {
    BatchRow row;
    sql_ << "SELECT id, undoes, undone_by FROM batch WHERE id = :id", use(id, "id"), into(row.id), into(row.undoes),
        into(row.undone_by);
    return sql_.got_data() ? std::optional(row) : std::nullopt;
}

std::optional<std::int64_t> SqlSession::last_undoable() {
    std::int64_t id = 0;
    sql_ << "SELECT COALESCE(MAX(id), 0) FROM batch WHERE undoes = 0 AND undone_by = 0", into(id);
    return id == 0 ? std::nullopt : std::optional(id);
}

}  // namespace footring::store
