// store/kept_records.h - the rules for a Record: ids, conflicts, history; record_store.h holds those of the rest.
//   errors  kBadInput: no such kind; kNotFound, kConflict as conflicts.h says
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/act.h"

namespace footring::store {

Expected<void> check_kind(std::string_view kind);
// Every Record as limits.h wants it, before anything is written.
Expected<void> check_records(const std::vector<Record>&);

// Adds or replaces, all of them; they get their ids, revisions and times.
Expected<void> put_records(Act&, std::vector<Record>&, const std::string& what);
Expected<void> remove_records(Act&, const std::string& kind, std::vector<std::string> ids, const std::string& what);

Expected<Record> find_record(Reader&, const std::string& kind, const std::string& id);
Expected<std::vector<Record>> all_records(Reader&, const std::string& kind);

}  // namespace footring::store
