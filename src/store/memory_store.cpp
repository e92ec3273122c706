// SPDX-License-Identifier: Apache-2.0
#include "store/memory_store.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <mutex>
#include <set>
#include <tuple>

#include "store/reading_pictures.h"
#include "store/record_store.h"
#include "store/words.h"

namespace footring::store {

namespace {

struct NumberedPiece : PieceEntry {
    std::int64_t no = 0;  // in the order in which pieces were added
};
struct Data {
    std::map<std::string, NumberedPiece> pieces;
    std::map<std::string, Entry> lots;
    std::map<std::string, PhotoEntry> photos;
    std::map<std::int64_t, std::shared_ptr<const ChangeRow>> changes;
    std::map<std::int64_t, BatchRow> batches;
    std::map<std::string, std::int64_t> counters;
    std::map<std::string, ReadingEntry> readings;
    std::map<std::string, RecordEntry> records;
    std::map<std::string, Account> accounts;
    std::map<std::string, Session> sessions;
    std::vector<Noted> audit;  // oldest first
    std::map<std::string, TaskRow> tasks;
};

bool answers(const NumberedPiece& p, const Query& q, const std::vector<std::string>& words) {
    const auto fits = [](const std::string& wanted, const std::string& value) {
        return wanted.empty() || wanted == value;
    };
    return fits(q.form, p.form) && fits(q.shape, p.shape) && fits(q.lot, p.lot) && fits(q.place, p.place) &&
           fits(q.treatment, p.treatment) && fits(q.grade, p.grade) && (!q.decided || *q.decided == p.decided) &&
           !(q.sight == Sight::kReaders && p.is_private) && has_words(p.words, words);
}
std::string sort_key(const NumberedPiece& p, Query::Sort sort) {
    switch (sort) {
        case Query::Sort::kChanged:
            return fmt::format("{:020}", p.revision);
        case Query::Sort::kId:
            return p.id_key;
        case Query::Sort::kForm:
            return p.form;
        case Query::Sort::kShape:
            return p.shape;
        case Query::Sort::kNumber:
            return p.number_key;
        case Query::Sort::kLot:
            return p.lot_key;
        case Query::Sort::kPlace:
            return p.place_key;
    }
    return {};
}
template <class Map>
auto value_at(const Map& map, const typename Map::key_type& key) -> std::optional<typename Map::mapped_type> {
    const auto at = map.find(key);
    return at == map.end() ? std::nullopt : std::optional(at->second);
}

class MemorySession final : public Writer {
  public:
    explicit MemorySession(Data& data) : data_(data) {}

    std::optional<Entry> entry(Entity entity, const std::string& key) override {
        if (entity == Entity::kPiece) return value_at(data_.pieces, key);
        if (entity == Entity::kLot) return value_at(data_.lots, key);
        if (entity == Entity::kRecord) return value_at(data_.records, key);
        return value_at(data_.photos, key);
    }
    Found find(const Query& query, const std::vector<std::string>& words) override {
        std::vector<std::pair<std::pair<std::string, std::int64_t>, const Entry*>> rows;
        for (const auto& [id, piece] : data_.pieces)
            if (answers(piece, query, words)) rows.push_back({{sort_key(piece, query.sort), piece.no}, &piece});
        std::ranges::sort(rows);
        if (query.descending) std::ranges::reverse(rows);
        Found found{{}, static_cast<std::int64_t>(rows.size())};
        for (std::size_t i = static_cast<std::size_t>(query.offset); i < rows.size(); ++i)
            if (found.rows.size() < static_cast<std::size_t>(query.limit)) found.rows.push_back(*rows[i].second);
        return found;
    }
    std::vector<Facet> facets(Sight sight) override {
        std::vector<Facet> out;
        const auto count = [&](const std::string& field, auto value_of) {
            std::map<std::string, std::int64_t> counts;
            for (const auto& [id, piece] : data_.pieces)
                if (const std::string value = value_of(piece); !value.empty() && is_seen(piece, sight))
                    ++counts[value];
            const auto begin = static_cast<std::ptrdiff_t>(out.size());
            for (const auto& [value, n] : counts) out.push_back({field, value, n});
            std::stable_sort(out.begin() + begin, out.end(),
                             [](const Facet& a, const Facet& b) { return a.count > b.count; });
        };
        count("form", [](const PieceEntry& p) { return p.form; });
        count("shape", [](const PieceEntry& p) { return p.shape; });
        count("lot", [](const PieceEntry& p) { return p.lot; });
        count("place", [](const PieceEntry& p) { return p.place; });
        count("treatment", [](const PieceEntry& p) { return p.treatment; });
        count("grade", [](const PieceEntry& p) { return p.grade; });
        for (const bool decided : {true, false}) {
            const auto n = std::ranges::count_if(data_.pieces, [&](const auto& p) {
                return p.second.decided == decided && is_seen(p.second, sight);
            });
            if (n > 0) out.push_back({"decided", decided ? "yes" : "no", n});
        }
        return out;
    }
    std::vector<std::pair<std::string, std::int64_t>> decided_per_treatment(Sight sight) override {
        std::map<std::string, std::int64_t> counts;
        for (const auto& [id, p] : data_.pieces)
            if (is_seen(p, sight) && p.treatment != "" && p.treatment != "unlisted" && p.treatment != "elsewhere")
                ++counts[p.treatment];
        return {counts.begin(), counts.end()};
    }
    std::vector<Entry> lots() override {
        std::vector<Entry> out;
        for (const auto& [id, lot] : data_.lots) out.push_back(lot);
        return out;
    }
    std::vector<Entry> records(const std::string& kind) override {
        std::vector<RecordEntry> sorted;
        for (const auto& [key, record] : data_.records)
            if (record.kind == kind) sorted.push_back(record);
        std::ranges::sort(sorted, {}, [](const RecordEntry& r) { return std::tie(r.id_key, r.id); });
        return {sorted.begin(), sorted.end()};
    }
    std::vector<std::string> pieces_in(const std::string& lot) override {
        std::vector<std::string> out;
        for (const auto& [id, piece] : data_.pieces)
            if (piece.lot == lot) out.push_back(id);
        return out;
    }
    std::vector<PhotoEntry> photos_of(const std::vector<std::string>& pieces) override {
        std::vector<PhotoEntry> out;
        const std::set<std::string> wanted(pieces.begin(), pieces.end());
        std::set<std::string> seen;
        for (const auto& [id, change] : data_.changes) {  // in the order of their first arrival
            if (change->entity != Entity::kPhoto || !wanted.contains(change->piece)) continue;
            const auto photo = data_.photos.find(change->key);
            if (photo != data_.photos.end() && seen.insert(change->key).second) out.push_back(photo->second);
        }
        return out;
    }
    std::vector<std::string> pieces_with(const std::string& sha256) override {
        std::vector<std::string> out;
        for (const auto& [key, photo] : data_.photos)
            if (photo.sha256 == sha256) out.push_back(photo.piece);
        std::ranges::sort(out);
        return out;
    }
    std::vector<std::string> photo_names() override {
        std::vector<std::string> out;
        for (const auto& [key, photo] : data_.photos) out.push_back(photo.sha256);
        return out;
    }
    std::vector<std::pair<std::string, std::string>> photo_changes() override {
        std::vector<std::pair<std::string, std::string>> out;
        for (const auto& [id, change] : data_.changes)
            if (change->entity == Entity::kPhoto)
                out.emplace_back(change->key.substr(change->key.rfind('/') + 1), change->when);
        return out;
    }
    std::optional<ReadingEntry> reading(const std::string& sha256) override {
        return value_at(data_.readings, sha256);
    }
    std::vector<PictureMade> pictures_made(const std::string& kind, Sight sight) override {
        std::vector<PictureMade> out;
        for (const auto& [key, photo] : data_.photos) {
            const auto reading = data_.readings.find(photo.sha256);
            if (reading == data_.readings.end()) continue;
            const std::string named = before_digest(kind);
            const std::size_t at = reading->second.json.find(named);
            if (at == std::string::npos) continue;
            if (sight == Sight::kReaders && data_.pieces.at(photo.piece).is_private) continue;
            out.push_back(
                {photo.piece, photo.sha256, reading->second.json.substr(at + named.size(), kDigestInNames)});
        }
        std::ranges::sort(out);
        return out;
    }
    std::vector<std::string> unread(const std::string& packs) override {
        std::vector<std::string> out;
        std::set<std::string> seen;
        for (const auto& [id, change] : data_.changes) {  // in the order of their first arrival
            if (change->entity != Entity::kPhoto || !data_.photos.contains(change->key)) continue;
            const std::string& sha256 = data_.photos.at(change->key).sha256;
            const auto known = data_.readings.find(sha256);
            if ((known == data_.readings.end() || known->second.packs != packs) && seen.insert(sha256).second)
                out.push_back(sha256);
        }
        return out;
    }
    std::optional<ChangeRow> change(std::int64_t id) override {
        const auto row = value_at(data_.changes, id);
        return row ? std::optional(with_who(**row)) : std::nullopt;
    }
    std::optional<ChangeRow> newest_change(Entity entity, const std::string& key) override {
        const auto rows = changes_of(entity, key);
        for (const ChangeRow& row : rows)
            if (row.entity == entity && row.key == key) return row;
        return std::nullopt;
    }
    std::int64_t state(Entity entity, const std::string& key) override {
        const auto newest = newest_change(entity, key);
        return newest ? newest->state : 0;
    }
    std::vector<ChangeRow> changes_in(std::int64_t batch) override {
        return newest_first([&](const ChangeRow& c) { return c.batch == batch; });
    }
    std::vector<ChangeRow> changes_of(Entity entity, const std::string& key) override {
        return newest_first([&](const ChangeRow& c) {
            return entity == Entity::kPiece ? c.piece == key : c.entity == entity && c.key == key;
        });
    }
    std::vector<ChangeRow> recent(int limit) override {
        auto rows = newest_first([](const ChangeRow&) { return true; });
        rows.resize(std::min(rows.size(), static_cast<std::size_t>(limit)));
        return rows;
    }
    std::int64_t newest_change_id() override { return data_.changes.empty() ? 0 : data_.changes.rbegin()->first; }
    std::int64_t seconds_now() override {
        return std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now().time_since_epoch())
            .count();
    }
    std::optional<TaskRow> task(const std::string& sha256) override { return value_at(data_.tasks, sha256); }
    std::vector<TaskRow> due_tasks(std::int64_t now, int most) override {
        auto out = tasks_that([&](const TaskRow& task) { return !task.dead && task.due <= now; });
        if (out.size() > static_cast<std::size_t>(most)) out.resize(static_cast<std::size_t>(most));
        return out;
    }
    std::vector<TaskRow> dead_tasks() override {
        return tasks_that([](const TaskRow& task) { return task.dead; });
    }
    std::array<std::int64_t, 3> count_tasks(std::int64_t now) override {
        std::array<std::int64_t, 3> counts{};
        for (const auto& [name, task] : data_.tasks)
            ++counts[task.dead ? 2 : task.lease == 0 || task.due <= now ? 0 : 1];
        return counts;
    }
    std::optional<BatchRow> batch(std::int64_t id) override { return value_at(data_.batches, id); }
    std::optional<std::int64_t> last_undoable() override {
        for (auto at = data_.batches.rbegin(); at != data_.batches.rend(); ++at)
            if (at->second.undoes == 0 && at->second.undone_by == 0) return at->first;
        return std::nullopt;
    }

    std::optional<Account> account(const std::string& name) override { return value_at(data_.accounts, name); }
    std::vector<Account> accounts() override {
        std::vector<Account> out;
        for (const auto& [name, account] : data_.accounts) out.push_back(account);
        return out;
    }
    std::optional<Session> session(const std::string& digest) override { return value_at(data_.sessions, digest); }
    std::vector<Session> sessions_of(const std::string& account) override {
        std::vector<Session> out;
        for (const auto& [digest, session] : data_.sessions)
            if (session.account == account) out.push_back(session);
        return out;
    }
    std::vector<Noted> noted(const NotedQuery& query) override {
        std::vector<Noted> out;
        for (auto row = data_.audit.rbegin(); row != data_.audit.rend(); ++row)
            if ((query.who.empty() || query.who == row->who) &&
                (query.subject.empty() || query.subject == row->subject) &&
                (query.before == 0 || row->id < query.before) && out.size() < static_cast<std::size_t>(query.limit))
                out.push_back(*row);
        return out;
    }

    void save(const PieceEntry& piece) override {
        const auto known = data_.pieces.find(piece.key);
        const std::int64_t no = known == data_.pieces.end() ? piece.revision : known->second.no;
        data_.pieces.insert_or_assign(piece.key, NumberedPiece{piece, no});
    }
    void save_lot(const Entry& lot) override { data_.lots.insert_or_assign(lot.key, lot); }
    void save(const PhotoEntry& photo) override { data_.photos.insert_or_assign(photo.key, photo); }
    void save(const ReadingEntry& reading) override { data_.readings.insert_or_assign(reading.sha256, reading); }
    void save(const RecordEntry& record) override { data_.records.insert_or_assign(record.key, record); }
    void erase_reading(const std::string& sha256) override { data_.readings.erase(sha256); }
    void erase(Entity entity, const std::string& key) override {
        if (entity == Entity::kPiece) data_.pieces.erase(key);
        if (entity == Entity::kLot) data_.lots.erase(key);
        if (entity == Entity::kPhoto) data_.photos.erase(key);
        if (entity == Entity::kRecord) data_.records.erase(key);
    }
    void add(const TaskRow& task) override { data_.tasks[task.sha256] = task; }
    bool change_task(const TaskRow& task, std::int64_t lease) override {
        const auto at = data_.tasks.find(task.sha256);
        if (at == data_.tasks.end() || at->second.lease != lease) return false;
        at->second = task;
        return true;
    }
    bool erase_task(const std::string& sha256, std::int64_t lease) override {
        const auto at = data_.tasks.find(sha256);
        if (at == data_.tasks.end() || at->second.lease != lease) return false;
        data_.tasks.erase(at);
        return true;
    }
    std::int64_t next_change() override { return data_.changes.empty() ? 1 : data_.changes.rbegin()->first + 1; }
    void append(const ChangeRow& row) override { data_.changes[row.id] = std::make_shared<const ChangeRow>(row); }
    std::int64_t open_batch(const std::string&, std::int64_t undoes) override {
        const std::int64_t id = data_.batches.empty() ? 1 : data_.batches.rbegin()->first + 1;
        data_.batches[id] = {id, undoes, 0};
        return id;
    }
    void set_undone_by(std::int64_t batch, std::int64_t by) override { data_.batches.at(batch).undone_by = by; }
    std::int64_t counter(const std::string& name) override { return value_at(data_.counters, name).value_or(0); }
    void set_counter(const std::string& name, std::int64_t value) override { data_.counters[name] = value; }
    void save(const Account& account) override { data_.accounts.insert_or_assign(account.name, account); }
    void erase_account(const std::string& name) override { data_.accounts.erase(name); }
    void save(const Session& session) override { data_.sessions.insert_or_assign(session.digest, session); }
    void erase_session(const std::string& digest) override { data_.sessions.erase(digest); }
    void erase_sessions_until(const std::string& moment) override {
        std::erase_if(data_.sessions, [&](const auto& each) { return each.second.ends <= moment; });
    }
    void append(const Noted& row) override {
        data_.audit.push_back(row);
        data_.audit.back().id = static_cast<std::int64_t>(data_.audit.size());
    }

  private:
    template <class F>
    std::vector<TaskRow> tasks_that(F wanted) {
        std::vector<TaskRow> out;
        for (const auto& [name, task] : data_.tasks)
            if (wanted(task)) out.push_back(task);
        std::ranges::sort(out, {}, &TaskRow::no);
        return out;
    }
    template <class F>
    std::vector<ChangeRow> newest_first(F wanted) {
        std::vector<ChangeRow> out;
        for (auto at = data_.changes.rbegin(); at != data_.changes.rend(); ++at)
            if (wanted(*at->second)) out.push_back(with_who(*at->second));
        return out;
    }
    ChangeRow with_who(ChangeRow row) const {
        for (const Noted& told : data_.audit)
            if (told.batch == row.batch) row.who = told.who;
        return row;
    }
    static bool is_seen(const PieceEntry& piece, Sight sight) { return sight == Sight::kAll || !piece.is_private; }
    Data& data_;
};

class MemoryTables final : public Tables {
  public:
    Expected<void> read(const std::function<Expected<void>(Reader&)>& ask) const override {
        const auto now = moment();
        Data& same = const_cast<Data&>(*now);  // a Reader only looks
        MemorySession session(same);
        return ask(session);
    }
    Expected<void> write(const std::function<Expected<void>(Writer&)>& act) override {
        const std::lock_guard one(write_);
        const auto next = std::make_shared<Data>(*moment());
        MemorySession session(*next);
        if (auto ok = act(session); !ok) return ok;
        {
            const std::lock_guard swap(swap_);
            data_ = next;
        }
        bell_.ring();
        return {};
    }
    Expected<void> write_aside(const std::string&, const std::function<Expected<void>(Writer&)>& act) override {
        return write(act);
    }
    const Bell& bell() const override { return bell_; }

  private:
    std::shared_ptr<const Data> moment() const {
        const std::lock_guard swap(swap_);
        return data_;
    }
    std::mutex write_;
    mutable std::mutex swap_;
    Bell bell_;
    std::shared_ptr<const Data> data_ = std::make_shared<Data>();
};

class MemoryBlobs final : public Blobs {
  public:
    Expected<void> keep(const std::string& sha256, std::string_view bytes, std::string_view thumbnail) override {
        const std::lock_guard one(mutex_);
        files_.try_emplace(sha256, bytes, thumbnail);
        return {};
    }
    Expected<std::string> bytes(const std::string& sha256) const override { return fetch(sha256, 0); }
    Expected<std::string> thumbnail(const std::string& sha256) const override { return fetch(sha256, 1); }
    bool has(const std::string& sha256) const override {
        const std::lock_guard one(mutex_);
        return files_.contains(sha256);
    }
    Expected<std::vector<File>> all() const override {
        const std::lock_guard one(mutex_);
        std::vector<File> out;
        for (const auto& [name, file] : files_) out.push_back({name, ""});
        return out;
    }
    Expected<void> forget(const std::string& sha256) override {
        const std::lock_guard one(mutex_);
        files_.erase(sha256);
        pictures_.erase(sha256);
        return {};
    }
    Expected<void> keep_picture(const std::string& sha256, const std::string& name,
                                std::string_view bytes) override {
        const std::lock_guard one(mutex_);
        pictures_[sha256].insert_or_assign(name, std::string(bytes));
        return {};
    }
    Expected<std::string> picture(const std::string& sha256, const std::string& name) const override {
        const std::lock_guard one(mutex_);
        const auto of = pictures_.find(sha256);
        if (of == pictures_.end() || !of->second.contains(name))
            return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256),
                        "there is no such picture of it", "read the photograph again");
        return of->second.at(name);
    }
    Expected<void> forget_pictures(const std::string& sha256, const std::vector<std::string>& but) override {
        const std::lock_guard one(mutex_);
        std::erase_if(pictures_[sha256],
                      [&](const auto& one_of) { return std::ranges::find(but, one_of.first) == but.end(); });
        return {};
    }

  private:
    Expected<std::string> fetch(const std::string& sha256, int which) const {
        const std::lock_guard one(mutex_);
        const auto file = files_.find(sha256);
        if (file == files_.end())
            return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256), "there is no such photograph",
                        "add it again, or bring it back from a backup");
        return which == 0 ? file->second.first : file->second.second;
    }
    mutable std::mutex mutex_;
    std::map<std::string, std::pair<std::string, std::string>> files_;
    std::map<std::string, std::map<std::string, std::string>> pictures_;
};

}  // namespace

std::unique_ptr<Store> open_in_memory(Now now) {
    return make_store(std::make_unique<MemoryTables>(), std::make_unique<MemoryBlobs>(), std::move(now));
}

}  // namespace footring::store
