// store/act.h - one write in progress: records change together with their history, in one batch.
//   Callers have checked what they hand in; an Act keeps records, their search words and the history in step.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>

#include "store/tables.h"

namespace footring::store {

std::string photo_key(const std::string& piece, const std::string& sha256);

// Stored JSON as a record again; kStore when it is none, which only a damaged database can cause.
Expected<PieceRecord> piece_of(const Entry&);
Expected<Lot> lot_of(const Entry&);
Expected<PhotoMeta> photo_of(const Entry&);
Expected<Record> record_of(const Entry&);
Expected<Reading> reading_of(const ReadingEntry&);

// How a change entered the history.
struct Cause {
    std::string what;
    std::int64_t undoes = 0;  // id of a change, or 0
    std::int64_t state = 0;   // of an undo: the state that it brings back, see ChangeRow
};

class Act {
  public:
    // The batch is opened by the first change; `undoes` is the batch that it undoes, or 0.
    // `who` is the account that changes something, or empty.
    Act(Writer& tables, std::string when, std::string who, std::int64_t undoes_batch = 0)
        : tables_(tables), when_(std::move(when)), who_(std::move(who)), undoes_batch_(undoes_batch) {}

    Writer& tables() { return tables_; }
    std::int64_t batch();
    std::int64_t batch_so_far() const { return batch_; }  // 0: nothing has changed yet
    const std::string& when() const { return when_; }

    // `before`: the stored entry, or null for a new record. The record gets its revision and times.
    // kBadInput when the lot of the piece does not exist.
    Expected<void> put(PieceRecord& after, const Entry* before, const Cause&);
    Expected<void> put(Lot& after, const Entry* before, const Cause&);
    void put(const PhotoMeta& after, const Entry* before, const Cause&);
    void put(Record& after, const Entry* before, const Cause&);
    void erase(Entity, const Entry& before, const Cause&);

    // The next free id, "p-0001" for the prefix "p-"; numbers of ids given by hand are stepped over.
    std::string free_id(const std::string& prefix);
    void note_id(const std::string& prefix, const std::string& id);
    void keep_counters();  // call it last
    void sign();           // after everything: the row of the audit trail, when somebody is known

  private:
    std::int64_t record(Entity, const std::string& key, const std::string& piece, std::int64_t id, const Cause&,
                        const Entry* before, const std::string& after);
    Expected<std::string> lot_name(const std::string& id, const std::string& piece);
    std::int64_t& counter(const std::string& prefix);

    Writer& tables_;
    std::string when_, who_;
    std::string first_words_, first_subject_;  // of its first change
    std::int64_t changes_ = 0;
    std::int64_t undoes_batch_ = 0, batch_ = 0;
    std::map<std::string, std::string> lot_names_;
    std::map<std::string, std::int64_t> counters_;
};

}  // namespace footring::store
