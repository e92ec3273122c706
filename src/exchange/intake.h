// exchange/intake.h - rows from any kind of file on their way into a store: looked up, laid over what is kept.
//   Used by the readers of cupboard.h, which differ only in how they come to the rows.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "exchange/cupboard.h"
#include "store/store.h"

namespace footring::exchange {

struct Row {
    std::string where;  // "pieces.csv:12", "import: /records/3"
    store::PieceRecord record;
    std::shared_ptr<const std::set<std::string>> fields;  // that the file has, as overlay.h names them; never null
};
struct LotRow {
    store::Lot lot;
    bool named_only = false;  // the file has nothing of it but id and name
};
struct Intake {
    std::vector<LotRow> lots;  // that the file has
    std::vector<Row> rows;     // sound so far
    std::vector<store::Record> others;
    int bad_rows = 0;
    std::vector<Problem> problems;  // of the bad rows and of the file
    std::vector<Column> columns;
    bool stopped = false;  // as ImportOptions::told wished
};

// `look_up_ids`: whether the ids of the rows still have to be looked up in `book`.
std::expected<Imported, std::vector<Problem>> take_in(store::Store&, const book::Book* book, Intake,
                                                      bool look_up_ids, const ImportOptions&);

}  // namespace footring::exchange
