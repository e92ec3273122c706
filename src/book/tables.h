// book/tables.h - the one list of a pack's tables and columns.
//   The reader (pack.h), the page docs/packs.md and every datapackage.json are made from it; tests hold them
//   together. To add a column: 1. a line in tables.cpp; 2. its member in book.h and its reading in rows.cpp;
//   3. run `FOOTRING_WRITE=1 book_test --gtest_filter='Tables.*'`, which rewrites the page and the packs'
//   descriptors.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace footring::book {

// How a cell is written. In every type a blank cell means: not recorded.
enum class CellType {
    kId,       // lower-kebab, unique in its pack
    kText,     // anything
    kRef,      // an id of `refers`, or pack:id
    kRefs,     // such ids joined by ;
    kShapes,   // kRefs, or * for every one
    kOn,       // *, flat, hollow, or a form
    kSubject,  // an id of any table that `refers` lists
    kWord,     // one of `words`
    kFinish,   // gold, platinum, silver, or a colour name in lower case
    kNumber,   // from `lowest` to `highest`, '.' as the decimal point
    kWhole,    // the same without a fraction
    kEdtf,     // a date or period, ISO 8601-2:2019
    kDrawing,  // path inside the pack of an SVG or PNG file
    kPattern,  // RE2 with named groups
    kJson      // a JSON object
};

struct Column {
    std::string_view name;
    CellType type = CellType::kText;
    bool required = false;      // the column must be there, and none of its cells blank
    std::string_view refers{};  // table of a kRef, kRefs or kShapes; tables of a kSubject, separated by |
    std::string_view words{};   // of a kWord, separated by |
    double lowest = 0, highest = 0;
    std::string_view sentence{};  // what it says, for the page
};

struct Table {
    std::string_view name;      // its file is NAME.csv
    std::string_view sentence;  // what one row is
    std::vector<Column> columns;
    std::vector<std::string_view> key;  // no two rows agree in all of these; empty: rows may repeat
    bool has_id() const { return columns.front().type == CellType::kId; }
    const Column* column(std::string_view column_name) const;
};

std::span<const Table> all_tables();  // a table stands after those it refers to
const Table* table_named(std::string_view name);
std::vector<std::string> words_of(const Column&);

// What a datapackage.json says besides its tables.
struct PackAbout {
    std::string name;  // a-z 0-9 . _ -: the `pack` of `pack:id`
    std::string title, description;
    std::string version = "1.0.0";
    std::string licence = "CC-BY-4.0";  // an SPDX or Open Definition name
    std::vector<std::string> contributors;
    std::vector<std::string> tables;   // the ones that the pack has; empty: all
    std::vector<std::string> outward;  // columns that hold ids of other packs, such as "shapes.maker": a Table
                                       // Schema cannot say that, so these get no foreignKeys
};
// A Frictionless Data Package (version 1 of the standard) with a full Table Schema for each table; ends in a line
// break.
std::string data_package_json(const PackAbout&);
std::string data_package_json(std::string name, std::string title, std::string description);
nlohmann::ordered_json table_schema(const Table&, const PackAbout& = {});
nlohmann::ordered_json table_dialect();  // said outright: programs that guess a delimiter guess wrong on free text

std::string tables_markdown();  // the tables of docs/packs.md

}  // namespace footring::book
