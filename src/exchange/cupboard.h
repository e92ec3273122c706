// exchange/cupboard.h - pieces and lots in and out of a store: CSV, JSON, and folders of piece files.
//   JSON     an export is one object {"format": "footring-cupboard-1", "lots": [...], "records": [...], "others":
//            [...]}: lots, pieces, and all else that is kept (exchange/others.h). Importing takes that, an array of
//            records or piece files, or one of them. What the store says of its own keeping is not in it: when a
//            thing was put in, its revision, and the history of changes (store/backup.h keeps those)
//   folder   the same in separate files: pieces/*.json (piece files), lots.json (array of lots) and records.json
//            (array of {piece: id, lot, place, cost, currency, note, decision}); and photos/, where the photographs
//            lie that piece files name in `photos`; services.json, the services being built
//            (exchange/kept_services.h); and sales.csv (exchange/sales_csv.h); all but pieces/ may be missing. Or
//            an export with its photographs: cupboard.json, which is the JSON above with a member "photos", and
//            photos/
//   A piece whose id is in the store is changed: fields that the file does not have stay as they are.
//   A lot is named by id or by name; one that nobody knows is added. A new piece's cost without a currency is in
//   that of its lot. Nothing is stored when a fault is found, unless `keep_good` is given; then the good rows are
//   one change.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "exchange/others.h"
#include "exchange/pieces_csv.h"
#include "exchange/told.h"
#include "store/store.h"

namespace footring::exchange {

enum class Format { kCsv, kJson, kWorkbook };  // a workbook is written only: exchange/workbook.h
struct ImportOptions {
    Format format = Format::kCsv;
    bool dry_run = false;        // tell what would happen, store nothing
    bool keep_good = false;      // store the good rows beside reported bad ones
    book::Mapping mapping = {};  // CSV
    std::string today = {};      // "2026-03-01"; empty: no sale is in the future
    Told told = {};
    bool remember =
        false;  // keep how the columns were understood (exchange/mappings.h); the change before the pieces
};
struct Imported {
    int added = 0, changed = 0;
    int unchanged = 0;                        // already in the store exactly so
    int skipped = 0;                          // bad rows
    std::vector<Problem> problems;            // not empty only in a dry run or with keep_good
    std::vector<store::PieceRecord> preview;  // the first pieces as they would be kept, at most 20
    std::vector<Column> columns;              // CSV only
    Others others;                            // JSON and folders: what is kept beside pieces and lots
    bool stopped = false;                     // as told() wished: nothing was stored
};
// `book`: ids are looked up in it, names become ids; null: ids are taken as they stand.
std::expected<Imported, std::vector<Problem>> import_pieces(store::Store&, const book::Book* book,
                                                            std::string_view text, std::string_view where,
                                                            const ImportOptions&);
std::expected<Imported, std::vector<Problem>> import_folder(store::Store&, const book::Book* book,
                                                            const std::filesystem::path& folder,
                                                            const ImportOptions& options = {});
// In order of their ids; those of one lot when it is named.
Expected<std::vector<store::PieceRecord>> all_pieces(const store::Store&, const std::string& lot = "");
// For readers: only one's own pieces that are not private, and no cost, whatever the store shows; the members and
// columns that hold such things are left out, so that reading the file back changes none of them.
Expected<std::string> export_pieces(store::Store&, Format, store::Sight);

// Everything with its photographs, what is private included, as a folder that import_folder() takes: cupboard.json,
// and the photographs as they came in photos/, named by their SHA-256. `write(path below the folder, bytes)` writes
// a file.
struct Exported {
    std::size_t pieces = 0, photographs = 0;
};
using WriteFile = std::function<Expected<void>(const std::string& path, std::string_view bytes)>;
Expected<Exported> export_folder(store::Store&, const WriteFile&);

}  // namespace footring::exchange
