// book/sheet.h - one table of one pack as it stands in its file: the header understood, each row as wide as it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "book/csv.h"
#include "book/descriptor.h"
#include "book/faults.h"
#include "book/tables.h"

namespace footring::book {

struct Sheet {
    const Table* table = nullptr;
    std::string file;          // as the person would write it
    std::vector<int> cell_of;  // by column of the table: index into the cells of a row; -1: not in the header
    std::vector<CsvRow> rows;  // without the header and rows that are blank throughout
    bool complete = true;      // false: rows may be missing, so an id that is not here is not a fault

    int index(std::string_view column) const;  // of a column of the table
    // Text of a cell; empty when it is blank or its column is not there.
    const std::string& text(std::size_t row, int column) const;
    Spot spot(std::size_t row, int column) const;
    Spot spot(std::size_t row, std::string_view column) const { return spot(row, index(column)); }
    std::uint32_t line(std::size_t row) const { return rows[row].cells.front().line; }
};

// `bytes_read` receives the bytes of the file, for the digest of the pack.
Sheet read_sheet(const PackFiles&, const Table&, const TableFile&, Faults&, std::string& bytes_read);

}  // namespace footring::book
