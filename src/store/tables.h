// store/tables.h - what a database must be able to do; the rules of the store stand above it, in record_store.h.
//   A new database implements Tables, Reader and Writer; store_contract_test.cpp then says whether it did.
//   Reads see one moment of the data. A write sees its own changes; no other write runs meanwhile.
//   errors  Reader and Writer throw what their library throws; Tables turns it into a Problem (kStore) at its door
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "store/bell.h"
#include "store/people.h"
#include "store/store.h"

namespace footring::store {

enum class Entity : std::uint8_t { kPiece = 1, kLot = 2, kPhoto = 3, kRecord = 4 };  // stored: add, never renumber

// A record as it is now.
struct Entry {
    std::string key;   // id of a piece or lot; "PIECE/SHA-256" of a photograph; "KIND/ID" of a Record
    std::string json;  // record_json.h
    std::int64_t revision = 0;
};
// What a piece is found, sorted and counted by.
struct PieceEntry : Entry {
    std::string form, shape, lot, place, treatment, grade;
    bool decided = false, is_private = false;
    std::string id_key, number_key, lot_key, place_key;  // natural_key() of id, number, the lot's name, place
    std::string words;                                   // index_words()
    std::string changed;
};
struct PhotoEntry : Entry {
    std::string piece, sha256;
};
struct RecordEntry : Entry {
    std::string kind, id, id_key;  // natural_key() of the id
};
struct ReadingEntry {
    std::string sha256, packs, json;
};
// A photograph in the queue of those to be read.
struct TaskRow {
    std::string sha256, reader, said;  // reading_queue.h
    std::int64_t no = 0;               // its place in the queue
    std::int64_t lease = 0;            // 0: nobody has it
    std::int64_t due = 0;              // when it may be leased, by seconds_now()
    int tries = 0;
    bool dead = false;
};
struct ChangeRow {
    std::int64_t id = 0, batch = 0;
    std::int64_t undoes = 0;  // id of a change, or 0
    // What the record was like before and after, by number; 0: it had never existed. A change leaves a state of its
    // own, named like the change; an undo brings the earlier state back.
    std::int64_t state_before = 0, state = 0;
    std::string when;
    Entity entity = Entity::kPiece;
    std::string key, piece;  // piece: the piece that a piece's or a photograph's change belongs to
    std::string what;
    std::string before, after;  // JSON, or empty: did not exist
    std::string who;            // of the row of the audit trail that tells of its batch; empty: there is none
};
struct BatchRow {
    std::int64_t id = 0;
    std::int64_t undoes = 0;     // id of a batch, or 0
    std::int64_t undone_by = 0;  // the batch that undid it and still holds, or 0
};
struct Found {
    std::vector<Entry> rows;
    std::int64_t total = 0;
    bool more = false;  // see Page
};

class Reader {
  public:
    virtual ~Reader() = default;
    virtual std::optional<Entry> entry(Entity, const std::string& key) = 0;
    // `words`: query_words() of the text. Rows that sort alike come in the order in which they were added,
    // backwards when descending. kChanged sorts by revision, which tells apart what changed in the same second.
    virtual Found find(const Query&, const std::vector<std::string>& words) = 0;
    virtual std::vector<Facet> facets(Sight) = 0;
    virtual std::vector<std::pair<std::string, std::int64_t>> decided_per_treatment(Sight) = 0;
    virtual std::vector<Entry> lots() = 0;                            // in order of their ids
    virtual std::vector<Entry> records(const std::string& kind) = 0;  // by their id_key
    virtual std::vector<std::string> pieces_in(const std::string& lot) = 0;
    virtual std::vector<PhotoEntry> photos_of(const std::vector<std::string>& pieces) = 0;  // oldest first
    virtual std::vector<std::string> pieces_with(const std::string& sha256) = 0;            // in order of their ids
    virtual std::vector<std::string> photo_names() = 0;  // the SHA-256 of every photograph that a piece has
    // SHA-256 and time of the newest change of every photograph that a piece ever had.
    virtual std::vector<std::pair<std::string, std::string>> photo_changes() = 0;
    virtual std::optional<ReadingEntry> reading(const std::string& sha256) = 0;
    virtual std::vector<PictureMade> pictures_made(const std::string& kind, Sight) = 0;  // in their order
    // The SHA-256 of photographs that have no reading with these packs, oldest first.
    virtual std::vector<std::string> unread(const std::string& packs) = 0;
    virtual std::int64_t seconds_now() = 0;  // by the clock of the database; only differences mean something
    virtual std::optional<TaskRow> task(const std::string& sha256) = 0;
    virtual std::vector<TaskRow> due_tasks(std::int64_t now, int most) = 0;  // not dead, by `no`
    virtual std::vector<TaskRow> dead_tasks() = 0;                           // by `no`
    virtual std::array<std::int64_t, 3> count_tasks(std::int64_t now) = 0;   // waiting, leased, dead
    virtual std::optional<ChangeRow> change(std::int64_t id) = 0;
    virtual std::optional<ChangeRow> newest_change(Entity, const std::string& key) = 0;
    virtual std::int64_t state(Entity, const std::string& key) = 0;  // left by its newest change; 0: there is none
    virtual std::vector<ChangeRow> changes_in(std::int64_t batch) = 0;              // newest first
    virtual std::vector<ChangeRow> changes_of(Entity, const std::string& key) = 0;  // newest first; see history()
    virtual std::vector<ChangeRow> recent(int limit) = 0;
    virtual std::int64_t newest_change_id() = 0;  // 0: nothing has changed yet
    virtual std::optional<BatchRow> batch(std::int64_t id) = 0;
    virtual std::optional<std::int64_t> last_undoable() = 0;

    virtual std::optional<Account> account(const std::string& name) = 0;
    virtual std::vector<Account> accounts() = 0;  // by name
    virtual std::optional<Session> session(const std::string& digest) = 0;
    virtual std::vector<Session> sessions_of(const std::string& account) = 0;
    virtual std::vector<Noted> noted(const NotedQuery&) = 0;  // newest first
};

class Writer : public Reader {
  public:
    // So many pieces are about to be saved: what speeds that up may be done now, and undone before the commit.
    virtual void expect_pieces(std::size_t) {}
    virtual void save(const PieceEntry&) = 0;  // adds, or replaces the one with this key
    virtual void save_lot(const Entry&) = 0;
    virtual void save(const PhotoEntry&) = 0;
    virtual void save(const ReadingEntry&) = 0;  // adds, or replaces
    virtual void save(const RecordEntry&) = 0;
    virtual void add(const TaskRow&) = 0;
    // Only when it is still leased as `lease`: whether it was. Asked of the row itself, whoever changes it
    // meanwhile.
    virtual bool change_task(const TaskRow&, std::int64_t lease) = 0;
    virtual bool erase_task(const std::string& sha256, std::int64_t lease) = 0;
    virtual void erase(Entity, const std::string& key) = 0;
    virtual void erase_reading(const std::string& sha256) = 0;
    virtual std::int64_t next_change() = 0;  // a number above every one given before
    virtual void append(const ChangeRow&) = 0;
    virtual std::int64_t open_batch(const std::string& when, std::int64_t undoes) = 0;
    virtual void set_undone_by(std::int64_t batch, std::int64_t by) = 0;
    virtual std::int64_t counter(const std::string& name) = 0;  // 0 at first
    virtual void set_counter(const std::string& name, std::int64_t value) = 0;

    virtual void save(const Account&) = 0;  // adds, or replaces the one of this name
    virtual void erase_account(const std::string& name) = 0;
    virtual void save(const Session&) = 0;  // adds, or replaces
    virtual void erase_session(const std::string& digest) = 0;
    virtual void erase_sessions_until(const std::string& moment) = 0;  // that ended then or before
    virtual void append(const Noted&) = 0;                             // gives it the next id
};

class Tables {
  public:
    virtual ~Tables() = default;
    virtual Expected<void> read(const std::function<Expected<void>(Reader&)>&) const = 0;
    // Keeps nothing when the function returns a Problem or throws. Changes become visible in the order of their
    // numbers, whichever program made them: who has seen change 7 has seen all before it.
    virtual Expected<void> write(const std::function<Expected<void>(Writer&)>&) = 0;
    // The same for what has no history, such as a reading: waits only for others who write what `name` names.
    virtual Expected<void> write_aside(const std::string& name, const std::function<Expected<void>(Writer&)>&) = 0;
    // Rings after every write(), of this program and of others on the same database.
    virtual const Bell& bell() const = 0;
};

// Where the bytes of photographs are.
class Blobs {
  public:
    virtual ~Blobs() = default;
    // Both are on the disk when this returns; writing the same again does nothing.
    virtual Expected<void> keep(const std::string& sha256, std::string_view bytes, std::string_view thumbnail) = 0;
    virtual Expected<std::string> bytes(const std::string& sha256) const = 0;
    virtual Expected<std::string> thumbnail(const std::string& sha256) const = 0;
    virtual bool has(const std::string& sha256) const = 0;
    struct File {
        std::string sha256, written;  // UTC, as Now gives it
    };
    virtual Expected<std::vector<File>> all() const = 0;
    virtual Expected<void> forget(const std::string& sha256) = 0;  // and its pictures

    // Pictures made from a photograph, by a name that says kind and content: "strip-0a1b2c3d4e5f6071".
    virtual Expected<void> keep_picture(const std::string& sha256, const std::string& name, std::string_view) = 0;
    virtual Expected<std::string> picture(const std::string& sha256, const std::string& name) const = 0;
    virtual Expected<void> forget_pictures(const std::string& sha256, const std::vector<std::string>& but) = 0;
};

}  // namespace footring::store
