// SPDX-License-Identifier: Apache-2.0
#include "store/readers_view.h"

#include <fmt/format.h>

#include "store/conflicts.h"
#include "store/people.h"
#include "store/reading_queue.h"
#include "store/record_kinds.h"

namespace footring::store {

namespace {

std::unexpected<Problem> not_for_readers(std::string_view what) {
    return fail(ProblemCode::kNotAllowed, "readers", fmt::format("a reader may not {}", what),
                "ask a keeper for another role");
}

PieceRecord for_a_reader(PieceRecord record) {
    record.cost.reset();
    record.currency.clear();
    return record;
}
Lot for_a_reader(const Lot& lot) {
    Lot shown;
    shown.id = lot.id;
    shown.name = lot.name;
    shown.revision = lot.revision;
    return shown;
}
// Which pieces are others' has to be known to whoever counts what one has.
Record letter_for_a_reader(Record record) {
    nlohmann::json shown = {{"text", "A letter."}};
    if (const auto pieces = record.body.find("pieces"); pieces != record.body.end()) shown["pieces"] = *pieces;
    record.body = std::move(shown);
    return record;
}

class NoPeople final : public People {
  public:
    Expected<Account> add(Account) override { return no(); }
    Expected<Account> account(const std::string&) const override { return no(); }
    Expected<std::vector<Account>> accounts() const override { return no(); }
    Expected<Account> set_role(const std::string&, Role) override { return no(); }
    Expected<Account> set_secret(const std::string&, std::string, const std::string&) override { return no(); }
    Expected<void> refresh_secret(const std::string&, std::string) override { return no(); }
    Expected<void> remove(const std::string&) override { return no(); }
    Expected<void> begin(const Session&) override { return no(); }
    Expected<std::optional<Session>> session(const std::string&) const override { return no(); }
    Expected<std::vector<Session>> sessions(const std::string&) const override { return no(); }
    Expected<void> keep_alive(const std::string&, const std::string&) override { return no(); }
    Expected<void> end(const std::string&) override { return no(); }
    Expected<std::int64_t> end_all(const std::string&) override { return no(); }
    Expected<void> note(Noted) override { return no(); }
    Expected<std::vector<Noted>> noted(const NotedQuery&) const override { return no(); }

  private:
    static std::unexpected<Problem> no() { return not_for_readers("see other people's accounts"); }
};

class NoReadingQueue final : public ReadingQueue {
  public:
    Expected<std::int64_t> add(const std::vector<std::string>&) override { return no(); }
    Expected<std::vector<Task>> lease(const std::string&, int, std::chrono::seconds) override { return no(); }
    Expected<bool> extend(const Task&, std::chrono::seconds) override { return no(); }
    Expected<Reading> finish(const Task&, Reading, const std::map<std::string, std::string>&) override {
        return no();
    }
    Expected<void> fail(const Task&, const Problem&) override { return no(); }
    Expected<void> give_back(const Task&) override { return no(); }
    Expected<std::vector<Task>> dead() override { return no(); }
    Expected<std::int64_t> revive() override { return no(); }
    Expected<void> remove(const std::string&) override { return no(); }
    Expected<QueueCounts> counts() override { return no(); }

  private:
    static std::unexpected<Problem> no() { return not_for_readers("work on the queue of photographs"); }
};

class ReadersView final : public Store {
  public:
    explicit ReadersView(Store& store) : store_(store) {}

    std::unique_ptr<Store> signed_by(std::string) override { return for_readers(store_); }
    People& people() override { return people_; }
    ReadingQueue& reading_queue() const override { return queue_; }

    Expected<PieceRecord> piece(const std::string& id) const override {
        auto record = store_.piece(id);
        if (!record) return record;
        if (record->is_private) return no_such("piece", id);
        return for_a_reader(std::move(*record));
    }
    Expected<Page> find(const Query& query) const override {
        Query seen = query;
        seen.sight = Sight::kReaders;
        auto page = store_.find(seen);
        if (page)
            for (PieceRecord& record : page->rows) record = for_a_reader(std::move(record));
        return page;
    }
    Expected<std::vector<Facet>> facets(Sight) const override { return store_.facets(Sight::kReaders); }
    Expected<std::vector<std::pair<std::string, std::int64_t>>> counts(Sight) const override {
        return store_.counts(Sight::kReaders);
    }
    Expected<std::vector<Lot>> lots() const override {
        auto lots = store_.lots();
        if (lots)
            for (Lot& lot : *lots) lot = for_a_reader(lot);
        return lots;
    }

    Expected<std::string> photo_bytes(const std::string& sha256) const override {
        return shown<std::string>(sha256, [&] { return store_.photo_bytes(sha256); });
    }
    Expected<std::string> thumbnail(const std::string& sha256) const override {
        return shown<std::string>(sha256, [&] { return store_.thumbnail(sha256); });
    }
    Expected<std::vector<PhotoMeta>> photos(const std::string& piece_id) const override {
        if (const auto known = piece(piece_id); !known) return std::unexpected(known.error());
        return store_.photos(piece_id);
    }
    Expected<std::vector<std::string>> pieces_with(const std::string& sha256) const override {
        auto all = store_.pieces_with(sha256);
        if (!all) return all;
        std::vector<std::string> out;
        for (const std::string& id : *all) {
            const auto known = piece(id);
            if (known) out.push_back(id);
            else if (known.error().code != ProblemCode::kNotFound) return std::unexpected(known.error());
        }
        return out;
    }
    Expected<Reading> reading(const std::string& sha256) const override {
        return shown<Reading>(sha256, [&] { return store_.reading(sha256); });
    }
    Expected<std::string> reading_picture(const std::string& sha256, const std::string& kind) const override {
        return shown<std::string>(sha256, [&] { return store_.reading_picture(sha256, kind); });
    }

    Expected<Record> record(const std::string& kind, const std::string& id) const override {
        auto record = store_.record(kind, id);
        if (!record) return record;
        switch (record_kind(kind)->readers) {
            case ReadersSee::kAll:
                return record;
            case ReadersSee::kPieces:
                return letter_for_a_reader(std::move(*record));
            case ReadersSee::kNothing:
                break;
        }
        return no_such(kind, id);
    }
    Expected<std::vector<Record>> records(const std::string& kind) const override {
        auto records = store_.records(kind);
        if (!records) return records;
        switch (record_kind(kind)->readers) {
            case ReadersSee::kAll:
                return records;
            case ReadersSee::kPieces:
                for (Record& record : *records) record = letter_for_a_reader(std::move(record));
                return records;
            case ReadersSee::kNothing:
                break;
        }
        return std::vector<Record>{};
    }

    // That something changed, and of what kind, is needed by whoever keeps answers ready; what changed is not
    // shown.
    Expected<std::vector<Change>> recent(int limit) const override {
        auto changes = store_.recent(limit);
        if (!changes) return changes;
        for (Change& change : *changes) {
            Change shown;
            shown.id = change.id;
            shown.batch = change.batch;
            shown.when = change.when;
            shown.entity = change.entity;
            change = std::move(shown);
        }
        return changes;
    }
    Expected<std::int64_t> await_change(std::int64_t after, std::chrono::milliseconds most) const override {
        return store_.await_change(after, most);
    }
    std::vector<std::int64_t> take_own_batches() override { return {}; }
    std::int64_t own_batch() const override { return 0; }
    Expected<std::vector<Change>> history(const std::string&, const std::string&) const override {
        return not_for_readers("see the history");
    }
    Expected<std::optional<std::int64_t>> last_undoable() const override { return std::optional<std::int64_t>{}; }
    Expected<std::vector<PictureMade>> pictures_made(const std::string& kind, Sight) const override {
        return store_.pictures_made(kind, Sight::kReaders);
    }
    Expected<std::vector<std::string>> unread(const std::string&) const override { return no(); }

    Expected<PieceRecord> put(PieceRecord, std::string) override { return no(); }
    Expected<std::vector<PieceRecord>> put_all(std::vector<PieceRecord>, std::string) override { return no(); }
    Expected<void> remove(const std::vector<std::string>&, std::string) override { return no(); }
    Expected<Lot> put(Lot, std::string) override { return no(); }
    Expected<void> remove_lot(const std::string&, std::string) override { return no(); }
    Expected<PhotoMeta> add_photo(PhotoMeta, std::string_view, std::string_view) override { return no(); }
    Expected<void> remove_photo(const std::string&, const std::string&) override { return no(); }
    Expected<PhotoMeta> correct_photo(const std::string&, const std::string&, nlohmann::json,
                                      std::string) override {
        return no();
    }
    Expected<Record> put(Record, std::string) override { return no(); }
    Expected<std::vector<Record>> put_all(std::vector<Record>, std::string) override { return no(); }
    Expected<void> remove_records(const std::string&, const std::vector<std::string>&, std::string) override {
        return no();
    }
    Expected<Reading> put_reading(Reading, const std::map<std::string, std::string>&) override { return no(); }
    Expected<std::int64_t> sweep(int) override { return no(); }
    Expected<std::int64_t> undo(std::int64_t) override { return no(); }

  private:
    static std::unexpected<Problem> no() { return not_for_readers("change anything"); }

    // Bytes are kept by what they are, whatever pieces have them: one that is shown is enough.
    template <class T, class F>
    Expected<T> shown(const std::string& sha256, F ask) const {
        const auto pieces = pieces_with(sha256);
        if (!pieces) return std::unexpected(pieces.error());
        if (pieces->empty()) return no_such("photograph", sha256);
        return ask();
    }

    Store& store_;
    NoPeople people_;
    mutable NoReadingQueue queue_;
};

}  // namespace

std::unique_ptr<Store> for_readers(Store& store) { return std::make_unique<ReadersView>(store); }

}  // namespace footring::store
