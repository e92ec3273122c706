// store/record_kinds.h - what may be kept as a Record: the kinds, and how each is named.
//   To add a kind: a line here, and its word in the `entity` of Change in server/openapi.json. Nothing else:
//   tables, history and undo are the same for all. A kind is stored by its name: add, never rename.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

namespace footring::store {

// What a reader sees of it (readers_view.h): everything, which pieces it names, or not even that it is there.
enum class ReadersSee { kAll, kPieces, kNothing };

struct RecordKind {
    std::string_view name;    // lower-case letters; none of piece, lot, photo
    std::string_view prefix;  // of the ids that the store gives: "sale-0001"
    std::string_view title;   // how a sentence of the history begins: "Sale added."
    ReadersSee readers = ReadersSee::kNothing;
};
inline constexpr RecordKind kRecordKinds[] = {
    {"sale", "sale-", "Sale", ReadersSee::kAll},
    {"service", "service-", "Service", ReadersSee::kAll},
    {"composition", "composition-", "Composition", ReadersSee::kAll},  // what a service is made of
    {"letter", "letter-", "Letter", ReadersSee::kPieces},
    {"mapping", "mapping-", "Mapping",
     ReadersSee::kNothing},  // of the columns of a spreadsheet that is imported again and again
    {"haul", "haul-", "Haul", ReadersSee::kNothing},  // a box lot under thought
};

const RecordKind* record_kind(std::string_view name);  // null: there is no such kind
std::string record_kind_names();                       // "sale, service ... or haul", for a remedy

// The key of a Record among all kinds, "sale/sale-0001"; no kind has a slash in its name.
std::string record_key(std::string_view kind, std::string_view id);
std::string_view kind_in(std::string_view key);
std::string_view id_in(std::string_view key);

}  // namespace footring::store
