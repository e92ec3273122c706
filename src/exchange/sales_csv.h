// exchange/sales_csv.h - recorded sales as a table: one sale a row (worth/sale.h says what each field is).
//   columns id, date, price, currency, form, treatment, shape, size_mm, condition, grade, venue, market, source,
//   note in      commas, semicolons or tabs, whichever the header line has most of. A column is matched to a field
//   by name
//           without regard to case, spaces and punctuation (also by common words: "sold" is date, "number" is
//           treatment, "seller" is venue), or as `mapping` says. Form, treatment and shape may be ids, names or
//           numbers of a given Book; a number that several shapes have is settled by the column shape. Sizes may be
//           in cm or inches. A row without a currency has `currency`; one without a market has what its venue says.
//   out     RFC 4180, UTF-8, LF, guarded against formulas (exchange/csv_fields.h); reading gives the same sales
//   errors  every fault with file, line and column; a row that repeats an earlier one in everything but its id is a
//           duplicate and left out
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "exchange/names.h"
#include "exchange/pieces_csv.h"
#include "worth/sale.h"

namespace footring::exchange {

struct SaleField {
    std::string_view name, sentence;
};
const std::vector<SaleField>& sale_fields();
std::vector<std::string> sale_field_names();

struct SaleRow {
    int line;
    worth::Sale sale;
};
struct Duplicate {
    std::string where, what;  // "sales.csv:14", "the same as line 9"
};
struct ReadSales {
    std::vector<Column> columns;
    std::vector<SaleRow> rows;  // the good ones
    int bad_rows = 0;
    std::vector<Problem> problems;
    std::vector<Duplicate> duplicates;  // within the file
    std::vector<std::string> notes;     // records that may be of one sale
    bool stopped = false;               // as told() wished: nothing of this may be used
};
struct SalesReading {
    book::Mapping mapping = {};
    std::string currency = {};  // of rows that have none
    std::string today = {};     // empty: no date is in the future
};
ReadSales read_sales_csv(std::string_view text, const SalesReading&, const book::Book* book, std::string_view where,
                         const Told& told = {});
std::vector<std::string> sale_cells(const worth::Sale&);  // in the order of sale_fields()
std::string write_sales_csv(const std::vector<worth::Sale>&);

// Looks up form, treatment and shape: ids, names or numbers become ids ("pack:id" for a treatment). `where(field)`
// says where a field stands.
void settle_sale(worth::Sale&, const book::Book&, const Names&,
                 const std::function<std::string(std::string_view)>& where, std::vector<Problem>&);

}  // namespace footring::exchange
