// exchange/sales.h - sales in and out of a store, where each is a Record of kind "sale" with the JSON of
// worth/sale.h.
//   A row whose id is in the store changes that sale. A row without an id is new, unless a stored sale agrees with
//   it in everything: then it is a duplicate and left out. Nothing is stored when a fault is found, unless
//   keep_good is given; then the good rows are one change.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/sales_csv.h"
#include "store/store.h"

namespace footring::exchange {

struct KeptSale {
    worth::Sale sale;
    std::string created, changed;
    std::int64_t revision = 0;
};
// All sales in the order of their ids. A record that is no sound sale (of a later version, say) is left out and
// counted.
struct KeptSales {
    std::vector<KeptSale> sales;
    int unreadable = 0;
};
Expected<KeptSales> kept_sales(const store::Store&);
KeptSale kept_sale(const store::Record&);  // whatever can be read of it
store::Record sale_record(const worth::Sale&, std::int64_t revision);
std::string sale_words(const worth::Sale&);  // "2019-05: 24.50 USD, dinner-plate"

struct SalesImport {
    SalesReading reading;
    bool dry_run = false, keep_good = false;
    Told told = {};
    bool remember = false;  // keep how the columns were understood (exchange/mappings.h)
};
struct ImportedSales {
    int added = 0, changed = 0, unchanged = 0;
    int skipped = 0;  // bad rows
    std::vector<Duplicate> duplicates;
    std::vector<Problem> problems;     // not empty only in a dry run or with keep_good
    std::vector<worth::Sale> preview;  // the first 20
    std::vector<Column> columns;
    std::vector<std::string> notes;
    bool stopped = false;  // as told() wished: nothing was stored
};
std::expected<ImportedSales, std::vector<Problem>> import_sales(store::Store&, const book::Book* book,
                                                                std::string_view text, std::string_view where,
                                                                const SalesImport&);

}  // namespace footring::exchange
