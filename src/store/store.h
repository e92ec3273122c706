// store/store.h - what one has: pieces, lots, photographs, decisions, and the history of every change.
//   One interface, several databases (SQLite, PostgreSQL); store_contract_test.cpp runs on each.
//   Every call is one transaction: it happened whole, or not at all. Every change is kept and can be undone.
//   What a call has returned is on the disk: a crash afterwards loses nothing of it (docs/store.md).
//   limits  64 kB per text and per correction, 200 bytes per id, 1 MB for the engine's answer, for a reading and
//   for
//           the body of a Record: kTooLarge beyond. Text is UTF-8 without
//           NUL: else kBadInput. Dates are kept as given: whoever calls has read them with edtf/edtf.h.
//   errors  kStore whatever the disk or the database refuses, with what to do about it
//   Thread rule: one Store may be called from many threads; reads do not wait for writes.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "looks/piece.h"

namespace footring::store {

using Now = std::function<std::string()>;  // UTC, "2026-03-01T09:30:00Z"; an argument, so that tests choose it

struct Lot {
    std::string id;                       // empty: gets the next free "lot-0001"
    std::string name, date, place, note;  // name is not empty, date is EDTF, place is where it was bought
    std::optional<double> cost;
    std::string currency;
    std::int64_t revision = 0;  // see PieceRecord
    friend bool operator==(const Lot&, const Lot&) = default;
};
// What the person decided for a piece.
struct Decision {
    std::string treatment;  // "pack:id", or "unlisted", "elsewhere"
    std::string grade;      // first, second, or empty
    std::string date;       // EDTF or empty
    std::string note;
    friend bool operator==(const Decision&, const Decision&) = default;
};
// What the engine said at that moment, kept beside the decision.
struct Attribution {
    nlohmann::json answer;  // the `examine --json` object
    std::string packs;      // "pack@version digest" of every open pack
    std::string when;
    friend bool operator==(const Attribution&, const Attribution&) = default;
};
struct PieceRecord {
    looks::Piece piece;
    bool is_private = false;  // no reader sees it, nor does any export, unless it is asked for: readers_view.h
    std::string lot;          // id of a lot, or empty
    std::string place;        // where it is kept
    std::optional<double> cost;
    std::string currency, note;
    std::optional<Decision> decision;
    std::optional<Attribution> attribution;
    std::string search_words;         // what else it is found by: the number and name of the decided treatment
    std::string created, changed;     // set by the store
    std::int64_t revision = 0;        // set by the store: id of its newest change, never used twice; 0: new
    std::vector<std::string> photos;  // set by the store: SHA-256 of its photographs, oldest first
    friend bool operator==(const PieceRecord&, const PieceRecord&) = default;
};
struct PhotoMeta {
    std::string sha256;             // of the original bytes: its name
    std::string piece, name, type;  // piece id; file name as given; MIME type
    std::int64_t bytes = 0;
    int width = 0, height = 0;
    std::string added;
    nlohmann::json corrections;  // what a person mended of its reading, an object of the caller's; null: nothing
    friend bool operator==(const PhotoMeta&, const PhotoMeta&) = default;
};
// What the program read from the bytes of a photograph. It can be made again at any time, so it has no history, and
// it is one for all pieces that have these bytes.
struct Reading {
    std::string sha256;
    nlohmann::json asked;  // what a person gave for it: side, rim height, rim by hand
    nlohmann::json found;  // the `read --json` object and what the pages draw
    std::string packs;     // "pack@version digest" of every pack that was open: with others it is stale
    std::string when;      // set by the store
    std::map<std::string, std::string> pictures;  // set by the store: kind and digest of each, "strip": "0a1b..."
    friend bool operator==(const Reading&, const Reading&) = default;
};
// Anything else that is kept: a sale, a service, a letter. The store knows its kind and id; what is in the body is
// the caller's, whose shape it has.
struct Record {
    std::string kind;                                // one of store/record_kinds.h: else kBadInput
    std::string id;                                  // empty: gets the next free one, "sale-0001"
    nlohmann::json body = nlohmann::json::object();  // an object, at most 64 levels deep
    std::string created, changed;                    // set by the store
    std::int64_t revision = 0;                       // see PieceRecord
    friend bool operator==(const Record&, const Record&) = default;
};
struct Change {
    std::int64_t id = 0;
    std::string who;                // account; empty: where nobody signs in
    std::string when, entity, key;  // entity: piece, lot, photo or the kind of a Record; key: its id, and
                                    // "PIECE/SHA-256" of a photo
    std::string what;               // one sentence: "Rim: fern-pair (sure)."
    nlohmann::json before, after;   // as store/record_json.h writes them; null: did not exist
    std::optional<std::int64_t> undoes;
    std::int64_t batch = 0;  // changes made by one call share it
};

// How much of what is kept is looked at: all of it, or what a reader may see.
enum class Sight : std::uint8_t { kAll, kReaders };

struct PictureMade {
    std::string piece, sha256;  // of the photograph
    std::string digest;         // of the picture: another one has another
    friend auto operator<=>(const PictureMade&, const PictureMade&) = default;
};

struct Query {
    std::string text;  // every word must occur in: id, form, shape, glaze, ornaments, number, mark,
                       // treatment, search_words, lot and its name, place, notes
                       // (prefix match; case, accents and punctuation do not count)
    std::string form, shape, lot, place, treatment, grade;  // empty: any
    std::optional<bool> decided;
    Sight sight = Sight::kAll;
    enum class Sort { kChanged, kId, kForm, kShape, kNumber, kLot, kPlace } sort = Sort::kChanged;  // 9 before 117
    bool descending = true;
    int limit = 100, offset = 0;  // limit 0: only the total; kBadInput when negative
    // False, for who searches as they type: the same rows, but of what very many pieces answer the total need not
    // be known. A page at the beginning then takes milliseconds, however many pieces there are.
    bool counted = true;
};
struct Page {
    std::vector<PieceRecord> rows;
    std::int64_t total = 0;  // without limit and offset
    bool more = false;       // never when `counted`: there are more than `total`
};
// Values that occur, with how often: what the filters of the Cupboard offer.
struct Facet {
    std::string field, value;  // field as in Query; value of `decided` is yes or no
    std::int64_t count;
    friend bool operator==(const Facet&, const Facet&) = default;
};

class People;

class ReadingQueue;

class Store {
  public:
    virtual ~Store() = default;

    // The same store for one account: what is changed through it is written down under that name.
    virtual std::unique_ptr<Store> signed_by(std::string who) = 0;
    virtual People& people() = 0;  // store/people.h: accounts, sessions, the audit trail

    virtual ReadingQueue& reading_queue() const = 0;  // store/reading_queue.h: photographs that wait to be read

    // Adds (revision 0) or replaces. kConflict when `revision` is not the stored one. Returns it as stored.
    // An empty piece id gets the next free "p-0001". `what` is the sentence of the history; an empty one is made
    // from the difference. A put that changes nothing is not a change: it returns what is stored.
    virtual Expected<PieceRecord> put(PieceRecord, std::string what) = 0;
    virtual Expected<std::vector<PieceRecord>> put_all(std::vector<PieceRecord>, std::string what) = 0;  // or none
    virtual Expected<PieceRecord> piece(const std::string& id) const = 0;  // kNotFound
    virtual Expected<void> remove(const std::vector<std::string>& piece_ids, std::string what) = 0;
    virtual Expected<Page> find(const Query&) const = 0;
    virtual Expected<std::vector<Facet>> facets(
        Sight = Sight::kAll) const = 0;  // most frequent first in each field
    // Decided pieces per treatment id, for the prior; without "unlisted" and "elsewhere".
    virtual Expected<std::vector<std::pair<std::string, std::int64_t>>> counts(Sight = Sight::kAll) const = 0;

    virtual Expected<Lot> put(Lot, std::string what) = 0;
    virtual Expected<std::vector<Lot>> lots() const = 0;
    virtual Expected<void> remove_lot(const std::string& id, std::string what) = 0;  // kConflict: pieces are in it

    // Original bytes are kept untouched, named by their SHA-256; the same bytes twice are stored once.
    virtual Expected<PhotoMeta> add_photo(PhotoMeta, std::string_view bytes, std::string_view thumbnail_jpeg) = 0;
    virtual Expected<std::string> photo_bytes(const std::string& sha256) const = 0;
    virtual Expected<std::string> thumbnail(const std::string& sha256) const = 0;
    virtual Expected<std::vector<PhotoMeta>> photos(const std::string& piece) const = 0;
    // The pieces that have this photograph, in order of their ids; none: it belongs to nothing any more.
    virtual Expected<std::vector<std::string>> pieces_with(const std::string& sha256) const = 0;
    virtual Expected<void> remove_photo(const std::string& piece, const std::string& sha256) = 0;
    // What a person mended of a reading; the rest of the PhotoMeta stays as it was added. Part of the history.
    virtual Expected<PhotoMeta> correct_photo(const std::string& piece, const std::string& sha256,
                                              nlohmann::json corrections, std::string what) = 0;

    // As for pieces. The records of one call may be of several kinds.
    virtual Expected<Record> put(Record, std::string what) = 0;
    virtual Expected<std::vector<Record>> put_all(std::vector<Record>, std::string what) = 0;   // or none
    virtual Expected<Record> record(const std::string& kind, const std::string& id) const = 0;  // kNotFound
    // All of them in the order of their ids, sale-2 before sale-10; one statement, however many there are.
    virtual Expected<std::vector<Record>> records(const std::string& kind) const = 0;
    virtual Expected<void> remove_records(const std::string& kind, const std::vector<std::string>& ids,
                                          std::string what) = 0;

    // `pictures`: bytes by kind (a-z, "strip", "mark" ...); they replace all earlier ones. kNotFound when the
    // bytes of the photograph are not here. A crash leaves the old reading with its pictures, or the new one with
    // its own.
    virtual Expected<Reading> put_reading(Reading, const std::map<std::string, std::string>& pictures) = 0;
    virtual Expected<Reading> reading(const std::string& sha256) const = 0;  // kNotFound: not read yet
    virtual Expected<std::string> reading_picture(const std::string& sha256, const std::string& kind) const = 0;
    // The pictures of that kind that readings of photographs of pieces have, by piece and photograph.
    virtual Expected<std::vector<PictureMade>> pictures_made(const std::string& kind, Sight) const = 0;
    // Photographs without a reading, or read with other packs; in the order in which they were added.
    virtual Expected<std::vector<std::string>> unread(const std::string& packs) const = 0;
    // Deletes the bytes of photographs that no piece has had for `days` days; how many. Only ever done when asked:
    // until then the removal of a photograph can be undone.
    virtual Expected<std::int64_t> sweep(int days) = 0;

    // Newest first. The history of a piece includes that of its photographs.
    virtual Expected<std::vector<Change>> history(const std::string& entity, const std::string& key) const = 0;
    virtual Expected<std::vector<Change>> recent(int limit) const = 0;
    // Undoes every change of that batch, as a new batch, whose id it returns; kConflict when something changed
    // since. Undoing an undo does the change again.
    virtual Expected<std::int64_t> undo(std::int64_t batch) = 0;
    // The newest batch that is neither an undo nor undone; absent: nothing to undo.
    virtual Expected<std::optional<std::int64_t>> last_undoable() const = 0;

    // The batches of the changes that the calling thread made through this Store, oldest first, since it asked last
    // (of many, the last hundred): with others changing the same store "the newest" may be theirs.
    virtual std::vector<std::int64_t> take_own_batches() = 0;
    virtual std::int64_t own_batch() const = 0;  // the last of them, which stays; 0: none
    // The id of the newest change, whoever made it, as soon as it is above `after`, and at most so long after.
    virtual Expected<std::int64_t> await_change(std::int64_t after, std::chrono::milliseconds most) const = 0;
};

// Opens or creates the folder DIR: footring.db, photos/, thumbs/. Migrates forward; checks integrity.
// kStore when another server holds it, when the disk refuses, or when the file is damaged (with what to do).
Expected<std::unique_ptr<Store>> open_sqlite(const std::filesystem::path& dir, Now now);

}  // namespace footring::store
