// store/move.h - a whole store from one database to another: a folder to PostgreSQL, or back, or to a newer home.
//   Everything goes: pieces, lots, photographs, readings, records, counters and the whole history, so that what
//   could be undone before can be undone after. Both are held alone meanwhile; the old one stays as it was. The
//   tables arrive in one transaction, after the photographs: killed at any moment it leaves a target whose tables
//   are empty, and the next run starts over with the photographs that are there already.
//   Before that transaction ends each table is read back: the number and the SHA-256 of its rows must agree.
//   errors  kConflict: the target holds something; kNotFound: there is no store to move; kStore: one of them is in
//   use,
//           refuses, or holds a photograph that is not what its name says
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "store/place.h"

namespace footring::store {

struct MovedTable {
    std::string name;
    std::int64_t rows = 0;
    std::string digest;  // SHA-256 of its rows in the order of their keys, the same in every database
};
struct Moved {
    std::vector<MovedTable> tables;
    std::int64_t photographs = 0, photograph_bytes = 0, already_there = 0;  // files; the last of the first
    std::int64_t pictures = 0;                                              // made by readings
};
// `told` hears what is being moved and how much of it so far; it may be empty.
using Telling = std::function<void(const std::string& what, std::int64_t done)>;
Expected<Moved> move_store(const Place& from, const Place& to, Now now, const Telling& told = {});

// The tables that are moved, for the test that no table is forgotten.
std::vector<std::string> moved_tables();

}  // namespace footring::store
