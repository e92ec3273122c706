// SPDX-License-Identifier: Apache-2.0
#include "store/record_store.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <mutex>
#include <shared_mutex>
#include <thread>

#include "store/act.h"
#include "store/change_words.h"
#include "store/conflicts.h"
#include "store/kept_readings.h"
#include "store/kept_records.h"
#include "store/limits.h"
#include "store/people_of_tables.h"
#include "store/queue_of_tables.h"
#include "store/reading_pictures.h"
#include "store/record_json.h"
#include "store/record_kinds.h"
#include "store/sha256.h"
#include "store/time.h"
#include "store/undo.h"
#include "store/words.h"

namespace footring::store {

namespace {

constexpr std::string_view kPiecePrefix = "p-", kLotPrefix = "lot-";

constexpr std::string_view kPiece = "piece", kLot = "lot", kPhoto = "photo";

std::string_view entity_of(const ChangeRow& row) {
    switch (row.entity) {
        case Entity::kPiece:
            return kPiece;
        case Entity::kLot:
            return kLot;
        case Entity::kPhoto:
            return kPhoto;
        case Entity::kRecord:
            return kind_in(row.key);
    }
    return {};
}
std::optional<Entity> entity_named(std::string_view name) {
    if (name == kPiece) return Entity::kPiece;
    if (name == kLot) return Entity::kLot;
    if (name == kPhoto) return Entity::kPhoto;
    return record_kind(name) != nullptr ? std::optional(Entity::kRecord) : std::nullopt;
}

Expected<std::vector<PieceRecord>> with_photos(Reader& tables, const std::vector<Entry>& entries) {
    std::vector<PieceRecord> out;
    std::vector<std::string> ids;
    std::map<std::string, std::size_t> at;
    out.reserve(entries.size());
    for (const Entry& e : entries) {
        auto piece = piece_of(e);
        if (!piece) return std::unexpected(piece.error());
        at.emplace(e.key, out.size());
        ids.push_back(e.key);
        out.push_back(std::move(*piece));
    }
    for (const PhotoEntry& photo : tables.photos_of(ids)) out[at.at(photo.piece)].photos.push_back(photo.sha256);
    return out;
}

Change change_of(const ChangeRow& row) {
    const auto object = [](const std::string& text) {
        return text.empty() ? nlohmann::json() : nlohmann::json::parse(text);
    };
    Change c;
    c.id = row.id;
    c.when = row.when;
    c.entity = entity_of(row);
    c.key = row.entity == Entity::kRecord ? std::string(id_in(row.key)) : row.key;
    c.what = row.what;
    c.before = object(row.before);
    c.after = object(row.after);
    c.who = row.who;
    if (row.undoes != 0) c.undoes = row.undoes;
    c.batch = row.batch;
    return c;
}
std::vector<Change> changes_of(const std::vector<ChangeRow>& rows) {
    std::vector<Change> out;
    out.reserve(rows.size());
    for (const ChangeRow& row : rows) out.push_back(change_of(row));
    return out;
}

// Which batches each thread made.
class OwnBatches {
  public:
    void note(std::int64_t batch) {
        const std::lock_guard lock(mutex_);
        auto& mine = made_[std::this_thread::get_id()];
        mine.push_back(batch);
        if (mine.size() > kMost) mine.erase(mine.begin());
    }
    std::vector<std::int64_t> take() {
        const std::lock_guard lock(mutex_);
        const auto mine = made_.extract(std::this_thread::get_id());
        return mine.empty() ? std::vector<std::int64_t>{} : std::move(mine.mapped());
    }
    std::int64_t last() const {
        const std::lock_guard lock(mutex_);
        const auto mine = made_.find(std::this_thread::get_id());
        return mine == made_.end() || mine->second.empty() ? 0 : mine->second.back();
    }

  private:
    static constexpr std::size_t kMost = 100;
    mutable std::mutex mutex_;
    std::map<std::thread::id, std::vector<std::int64_t>> made_;
};

// What the same store has in common, whoever uses it.
struct Shared {
    std::shared_ptr<Tables> tables;
    std::unique_ptr<Blobs> blobs;
    Now now;
    std::shared_mutex sweeping;
};

class RecordStore final : public Store {
  public:
    RecordStore(std::shared_ptr<Shared> shared, std::string who)
        : shared_(std::move(shared)),
          tables_(shared_->tables.get()),
          blobs_(shared_->blobs.get()),
          now_(shared_->now),
          sweeping_(shared_->sweeping),
          who_(std::move(who)),
          people_(people_of(shared_->tables, now_, who_)),
          queue_(*tables_, *blobs_, now_, sweeping_) {}

    std::unique_ptr<Store> signed_by(std::string who) override {
        return std::make_unique<RecordStore>(shared_, std::move(who));
    }
    People& people() override { return *people_; }

    Expected<PieceRecord> put(PieceRecord record, std::string what) override {
        std::vector<PieceRecord> one;
        one.push_back(std::move(record));
        auto stored = put_all(std::move(one), std::move(what));
        if (!stored) return std::unexpected(stored.error());
        return std::move(stored->front());
    }

    Expected<std::vector<PieceRecord>> put_all(std::vector<PieceRecord> records, std::string what) override {
        if (auto ok = check_sentence(what); !ok) return std::unexpected(ok.error());
        for (std::size_t i = 0; i < records.size(); ++i) {
            const std::string& id = records[i].piece.id;
            const std::string where = !id.empty()           ? fmt::format("piece {}", id)
                                      : records.size() == 1 ? "piece"
                                                            : fmt::format("piece {} of {}", i + 1, records.size());
            if (auto ok = check(records[i], where); !ok) return std::unexpected(ok.error());
        }
        return written<std::vector<PieceRecord>>([&](Act& act) -> Expected<std::vector<PieceRecord>> {
            act.tables().expect_pieces(records.size());
            for (const PieceRecord& r : records) act.note_id(std::string(kPiecePrefix), r.piece.id);
            std::vector<std::string> replaced;
            for (PieceRecord& r : records)
                if (auto ok = put_one(act, r, what, replaced); !ok) return std::unexpected(ok.error());
            act.keep_counters();
            give_photos(act.tables(), records, replaced);
            return std::move(records);
        });
    }

    Expected<PieceRecord> piece(const std::string& id) const override {
        return read<PieceRecord>([&](Reader& tables) -> Expected<PieceRecord> {
            const auto entry = tables.entry(Entity::kPiece, id);
            if (!entry) return no_such("piece", id);
            auto found = with_photos(tables, {*entry});
            if (!found) return std::unexpected(found.error());
            return std::move(found->front());
        });
    }

    Expected<void> remove(const std::vector<std::string>& ids, std::string what) override {
        if (auto ok = check_sentence(what); !ok) return ok;
        return done([&](Act& act) -> Expected<void> {
            std::vector<std::string> once = ids;
            std::ranges::sort(once);
            once.erase(std::unique(once.begin(), once.end()), once.end());
            for (const std::string& id : once) {
                const auto entry = act.tables().entry(Entity::kPiece, id);
                if (!entry) return no_such("piece", id);
                for (const PhotoEntry& photo : act.tables().photos_of({id}))
                    act.erase(Entity::kPhoto, photo, {"Removed with its piece."});
                act.erase(Entity::kPiece, *entry, {what.empty() ? "Removed." : what});
            }
            return {};
        });
    }

    Expected<Page> find(const Query& query) const override {
        if (auto ok = check(query); !ok) return std::unexpected(ok.error());
        return read<Page>([&](Reader& tables) -> Expected<Page> {
            const Found found = tables.find(query, query_words(query.text));
            auto rows = with_photos(tables, found.rows);
            if (!rows) return std::unexpected(rows.error());
            return Page{std::move(*rows), found.total, found.more};
        });
    }
    Expected<std::vector<Facet>> facets(Sight sight) const override {
        return read<std::vector<Facet>>([&](Reader& tables) { return tables.facets(sight); });
    }
    Expected<std::vector<std::pair<std::string, std::int64_t>>> counts(Sight sight) const override {
        return read<std::vector<std::pair<std::string, std::int64_t>>>(
            [&](Reader& tables) { return tables.decided_per_treatment(sight); });
    }

    Expected<Lot> put(Lot lot, std::string what) override {
        if (auto ok = check_sentence(what); !ok) return std::unexpected(ok.error());
        if (auto ok = check(lot, lot.id.empty() ? "lot" : fmt::format("lot {}", lot.id)); !ok)
            return std::unexpected(ok.error());
        return written<Lot>([&](Act& act) -> Expected<Lot> {
            act.note_id(std::string(kLotPrefix), lot.id);
            if (lot.id.empty()) lot.id = act.free_id(std::string(kLotPrefix));
            const auto stored = act.tables().entry(Entity::kLot, lot.id);
            if (auto ok = check_revision("lot", lot.id, lot.revision, stored); !ok)
                return std::unexpected(ok.error());
            std::optional<Lot> before;
            if (stored) {
                auto old = lot_of(*stored);
                if (!old) return old;
                if (*old == lot) return old;
                before = std::move(*old);
            }
            Cause cause{what.empty() ? change_in_words(before ? &*before : nullptr, lot) : what};
            if (auto ok = act.put(lot, stored ? &*stored : nullptr, cause); !ok) return std::unexpected(ok.error());
            act.keep_counters();
            return lot;
        });
    }
    Expected<std::vector<Lot>> lots() const override {
        return read<std::vector<Lot>>([](Reader& tables) -> Expected<std::vector<Lot>> {
            std::vector<Lot> out;
            for (const Entry& entry : tables.lots()) {
                auto lot = lot_of(entry);
                if (!lot) return std::unexpected(lot.error());
                out.push_back(std::move(*lot));
            }
            return out;
        });
    }
    Expected<void> remove_lot(const std::string& id, std::string what) override {
        if (auto ok = check_sentence(what); !ok) return ok;
        return done([&](Act& act) -> Expected<void> {
            const auto entry = act.tables().entry(Entity::kLot, id);
            if (!entry) return no_such("lot", id);
            if (const auto inside = act.tables().pieces_in(id); !inside.empty())
                return fail(ProblemCode::kConflict, fmt::format("lot {}", id),
                            inside.size() == 1 ? fmt::format("piece {} is in this lot", inside.front())
                                               : fmt::format("{} pieces are in this lot", inside.size()),
                            "move them to another lot first");
            act.erase(Entity::kLot, *entry, {what.empty() ? "Lot removed." : what});
            return {};
        });
    }

    Expected<PhotoMeta> add_photo(PhotoMeta meta, std::string_view bytes, std::string_view thumbnail) override {
        const std::string where = fmt::format("piece {}: photograph", meta.piece);
        if (auto ok = check(meta, where); !ok) return std::unexpected(ok.error());
        if (bytes.empty())
            return fail(ProblemCode::kBadInput, where, "the file is empty", "send the photograph itself");
        if (auto known = piece(meta.piece); !known) return std::unexpected(known.error());
        meta.sha256 = sha256_of(bytes);
        meta.bytes = static_cast<std::int64_t>(bytes.size());
        // Nobody sweeps between the file's arrival and the row that needs it.
        const std::shared_lock no_sweep(sweeping_);
        if (auto ok = blobs_->keep(meta.sha256, bytes, thumbnail); !ok) return std::unexpected(ok.error());
        return written<PhotoMeta>([&](Act& act) -> Expected<PhotoMeta> {
            if (!act.tables().entry(Entity::kPiece, meta.piece)) return no_such("piece", meta.piece);
            if (const auto known = act.tables().entry(Entity::kPhoto, photo_key(meta.piece, meta.sha256)))
                return photo_of(*known);
            meta.added = act.when();
            act.put(meta, nullptr,
                    {fmt::format("Photograph {} added.", meta.name.empty() ? "without name" : meta.name)});
            return meta;
        });
    }
    Expected<std::string> photo_bytes(const std::string& sha256) const override {
        if (!is_sha256(sha256)) return no_such("photograph", sha256);
        auto bytes = blobs_->bytes(sha256);
        if (bytes && sha256_of(*bytes) != sha256)
            return fail(ProblemCode::kStore, fmt::format("photograph {}", sha256),
                        "the file no longer holds what was stored", "bring this file back from a backup");
        return bytes;
    }
    Expected<std::string> thumbnail(const std::string& sha256) const override {
        if (!is_sha256(sha256)) return no_such("photograph", sha256);
        return blobs_->thumbnail(sha256);
    }
    Expected<std::vector<PhotoMeta>> photos(const std::string& piece) const override {
        return read<std::vector<PhotoMeta>>([&](Reader& tables) -> Expected<std::vector<PhotoMeta>> {
            if (!tables.entry(Entity::kPiece, piece)) return no_such("piece", piece);
            std::vector<PhotoMeta> out;
            for (const PhotoEntry& entry : tables.photos_of({piece})) {
                auto photo = photo_of(entry);
                if (!photo) return std::unexpected(photo.error());
                out.push_back(std::move(*photo));
            }
            return out;
        });
    }
    Expected<std::vector<std::string>> pieces_with(const std::string& sha256) const override {
        return read<std::vector<std::string>>([&](Reader& tables) { return tables.pieces_with(sha256); });
    }
    Expected<void> remove_photo(const std::string& piece, const std::string& sha256) override {
        if (!is_sha256(sha256)) return no_such("photograph", photo_key(piece, sha256));
        return done([&](Act& act) -> Expected<void> {
            const auto entry = act.tables().entry(Entity::kPhoto, photo_key(piece, sha256));
            if (!entry) return no_such("photograph", photo_key(piece, sha256));
            const auto photo = photo_of(*entry);
            if (!photo) return std::unexpected(photo.error());
            act.erase(Entity::kPhoto, *entry,
                      {fmt::format("Photograph {} removed.", photo->name.empty() ? "without name" : photo->name)});
            return {};
        });
    }
    Expected<PhotoMeta> correct_photo(const std::string& piece_id, const std::string& sha256,
                                      nlohmann::json corrections, std::string what) override {
        if (auto ok = check_sentence(what); !ok) return std::unexpected(ok.error());
        return written<PhotoMeta>([&](Act& act) -> Expected<PhotoMeta> {
            const auto entry = act.tables().entry(Entity::kPhoto, photo_key(piece_id, sha256));
            if (!entry) return no_such("photograph", photo_key(piece_id, sha256));
            auto photo = photo_of(*entry);
            if (!photo || photo->corrections == corrections) return photo;
            photo->corrections = std::move(corrections);
            if (auto ok = check(*photo, fmt::format("photograph {}", photo->name)); !ok)
                return std::unexpected(ok.error());
            act.put(*photo, &*entry, {what.empty() ? fmt::format("Reading of {} corrected.", photo->name) : what});
            return photo;
        });
    }

    Expected<Record> put(Record record, std::string what) override {
        std::vector<Record> one;
        one.push_back(std::move(record));
        auto stored = put_all(std::move(one), std::move(what));
        if (!stored) return std::unexpected(stored.error());
        return std::move(stored->front());
    }
    Expected<std::vector<Record>> put_all(std::vector<Record> records, std::string what) override {
        if (auto ok = check_sentence(what); !ok) return std::unexpected(ok.error());
        if (auto ok = check_records(records); !ok) return std::unexpected(ok.error());
        return written<std::vector<Record>>([&](Act& act) -> Expected<std::vector<Record>> {
            if (auto ok = put_records(act, records, what); !ok) return std::unexpected(ok.error());
            return std::move(records);
        });
    }
    Expected<Record> record(const std::string& kind, const std::string& id) const override {
        if (auto ok = check_kind(kind); !ok) return std::unexpected(ok.error());
        return read<Record>([&](Reader& tables) { return find_record(tables, kind, id); });
    }
    Expected<std::vector<Record>> records(const std::string& kind) const override {
        if (auto ok = check_kind(kind); !ok) return std::unexpected(ok.error());
        return read<std::vector<Record>>([&](Reader& tables) { return all_records(tables, kind); });
    }
    Expected<void> remove_records(const std::string& kind, const std::vector<std::string>& ids,
                                  std::string what) override {
        if (auto ok = check_kind(kind); !ok) return ok;
        if (auto ok = check_sentence(what); !ok) return ok;
        return done([&](Act& act) { return store::remove_records(act, kind, ids, what); });
    }

    Expected<Reading> put_reading(Reading reading, const std::map<std::string, std::string>& pictures) override {
        const std::shared_lock no_sweep(sweeping_);
        return keep_reading(*tables_, *blobs_, now_, std::move(reading), pictures,
                            [](Writer&) -> Expected<void> { return {}; });
    }
    ReadingQueue& reading_queue() const override { return queue_; }
    Expected<Reading> reading(const std::string& sha256) const override {
        return read<Reading>([&](Reader& tables) -> Expected<Reading> {
            const auto entry = tables.reading(sha256);
            if (!entry)
                return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256),
                            "it has not been read yet", "read it first");
            return reading_of(*entry);
        });
    }
    Expected<std::string> reading_picture(const std::string& sha256, const std::string& kind) const override {
        const auto known = reading(sha256);
        if (!known) return std::unexpected(known.error());
        const auto at = known->pictures.find(kind);
        if (at == known->pictures.end())
            return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256),
                        fmt::format("its reading has no picture '{}'", kind),
                        "it is made where the photograph shows what it needs");
        return blobs_->picture(sha256, picture_name(kind, at->second));
    }
    Expected<std::vector<PictureMade>> pictures_made(const std::string& kind, Sight sight) const override {
        return read<std::vector<PictureMade>>([&](Reader& tables) { return tables.pictures_made(kind, sight); });
    }
    Expected<std::vector<std::string>> unread(const std::string& packs) const override {
        return read<std::vector<std::string>>([&](Reader& tables) { return tables.unread(packs); });
    }

    Expected<std::int64_t> sweep(int days) override {
        const auto until = days_before(now_(), days);
        if (!until) return std::unexpected(until.error());
        const std::unique_lock alone(sweeping_);
        std::int64_t swept = 0;
        auto ok = tables_->write([&](Writer& tables) -> Expected<void> {  // no photograph comes back meanwhile
            const auto files = blobs_->all();
            if (!files) return std::unexpected(files.error());
            std::vector<std::string> used = tables.photo_names();
            std::ranges::sort(used);  // a database may sort by other rules
            std::map<std::string, std::string> taken_away;
            for (const auto& [sha256, when] : tables.photo_changes()) {
                std::string& last = taken_away[sha256];
                last = std::max(last, when);
            }
            for (const Blobs::File& file : *files) {
                if (std::ranges::binary_search(used, file.sha256)) continue;
                const auto since = taken_away.find(file.sha256);
                if ((since == taken_away.end() ? file.written : since->second) > *until) continue;
                if (auto gone = blobs_->forget(file.sha256); !gone) return gone;
                tables.erase_reading(file.sha256);
                ++swept;
            }
            return {};
        });
        if (!ok) return std::unexpected(ok.error());
        return swept;
    }

    Expected<std::vector<Change>> history(const std::string& entity, const std::string& key) const override {
        const auto kind = entity_named(entity);
        if (!kind)
            return fail(ProblemCode::kBadInput, "history", fmt::format("'{}' is no kind of record", entity),
                        fmt::format("use piece, lot, photo, {}", record_kind_names()));
        return read<std::vector<Change>>([&](Reader& tables) {
            return changes_of(tables.changes_of(*kind, *kind == Entity::kRecord ? record_key(entity, key) : key));
        });
    }
    Expected<std::vector<Change>> recent(int limit) const override {
        return read<std::vector<Change>>(
            [&](Reader& tables) { return changes_of(tables.recent(std::max(limit, 0))); });
    }
    Expected<std::int64_t> undo(std::int64_t batch) override {
        const std::shared_lock no_sweep(sweeping_);
        std::int64_t undone = 0;
        auto ok = tables_->write([&](Writer& tables) -> Expected<void> {
            const auto done = undo_batch(tables, *blobs_, now_(), who_, batch);
            if (!done) return std::unexpected(done.error());
            undone = *done;
            return {};
        });
        if (!ok) return std::unexpected(ok.error());
        own_.note(undone);
        return undone;
    }
    Expected<std::optional<std::int64_t>> last_undoable() const override {
        return read<std::optional<std::int64_t>>([](Reader& tables) { return tables.last_undoable(); });
    }

    std::vector<std::int64_t> take_own_batches() override { return own_.take(); }
    std::int64_t own_batch() const override { return own_.last(); }
    Expected<std::int64_t> await_change(std::int64_t after, std::chrono::milliseconds most) const override {
        const auto until = std::chrono::steady_clock::now() + most;
        for (;;) {
            const std::uint64_t heard = tables_->bell().rings();
            const auto newest = read<std::int64_t>([](Reader& tables) { return tables.newest_change_id(); });
            if (!newest || *newest > after || std::chrono::steady_clock::now() >= until) return newest;
            tables_->bell().wait(heard, until);
        }
    }

  private:
    template <class T, class F>
    Expected<T> read(F ask) const {
        std::optional<T> answer;
        auto ok = tables_->read([&](Reader& tables) -> Expected<void> {
            Expected<T> found = ask(tables);
            if (!found) return std::unexpected(found.error());
            answer = std::move(*found);
            return {};
        });
        if (!ok) return std::unexpected(ok.error());
        return std::move(*answer);
    }
    template <class T, class F>
    Expected<T> written(F change) {
        std::optional<T> answer;
        auto ok = done([&](Act& act) -> Expected<void> {
            Expected<T> made = change(act);
            if (!made) return std::unexpected(made.error());
            answer = std::move(*made);
            return {};
        });
        if (!ok) return std::unexpected(ok.error());
        return std::move(*answer);
    }
    template <class F>
    Expected<void> done(F change) {
        std::int64_t batch = 0;
        auto ok = tables_->write([&](Writer& tables) -> Expected<void> {
            Act act(tables, now_(), who_);
            if (auto made = change(act); !made) return made;
            act.sign();
            batch = act.batch_so_far();
            return {};
        });
        if (ok && batch != 0) own_.note(batch);
        return ok;
    }

    Expected<void> put_one(Act& act, PieceRecord& r, const std::string& what, std::vector<std::string>& replaced) {
        std::string& id = r.piece.id;
        if (id.empty() && r.revision == 0) id = act.free_id(std::string(kPiecePrefix));
        const auto stored = act.tables().entry(Entity::kPiece, id);
        if (auto ok = check_revision("piece", id, r.revision, stored); !ok) return ok;
        std::optional<PieceRecord> before;
        r.created.clear();
        if (stored) {
            auto old = piece_of(*stored);
            if (!old) return std::unexpected(old.error());
            before = std::move(*old);
            replaced.push_back(id);
            r.created = before->created;
            r.changed = before->changed;
            r.photos.clear();
            if (*before == r) return {};
        }
        const Cause cause{what.empty() ? change_in_words(before ? &*before : nullptr, r) : what};
        return act.put(r, stored ? &*stored : nullptr, cause);
    }

    static void give_photos(Reader& tables, std::vector<PieceRecord>& records,
                            const std::vector<std::string>& ids) {
        if (ids.empty()) return;
        std::map<std::string, std::vector<std::string>> photos;
        for (PhotoEntry& photo : tables.photos_of(ids)) photos[photo.piece].push_back(std::move(photo.sha256));
        if (photos.empty()) return;
        for (PieceRecord& r : records)
            if (const auto at = photos.find(r.piece.id); at != photos.end()) r.photos = at->second;
    }

    std::shared_ptr<Shared> shared_;
    Tables* tables_;
    Blobs* blobs_;
    const Now& now_;
    std::shared_mutex& sweeping_;
    std::string who_;
    std::unique_ptr<People> people_;
    OwnBatches own_;
    mutable QueueOfTables queue_;
};

}  // namespace

std::unique_ptr<Store> make_store(std::unique_ptr<Tables> tables, std::unique_ptr<Blobs> blobs, Now now) {
    auto shared = std::make_shared<Shared>();
    shared->tables = std::move(tables);
    shared->blobs = std::move(blobs);
    shared->now = std::move(now);
    return std::make_unique<RecordStore>(std::move(shared), "");
}

}  // namespace footring::store
