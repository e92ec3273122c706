// book/reading.h - packs while they are being read, before they are a Book. For the files of the reader only.
//   pack.cpp opens them; ids.cpp registers every id, so that rows may refer forwards; rows.cpp turns cells into
//   rows; sense.cpp asks whether the rows agree with each other. Each adds the faults it meets and goes on.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <expected>
#include <limits>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "book/book.h"
#include "book/descriptor.h"
#include "book/faults.h"
#include "book/pack_files.h"
#include "book/sheet.h"

namespace footring::book {

// A reference that could not be resolved; only ever in a Book that is thrown away because of it.
inline constexpr std::uint32_t kNoRow = std::numeric_limits<std::uint32_t>::max();

std::size_t table_index(std::string_view name);  // of all_tables()
template <class T>
std::size_t table_index() {
    static const std::size_t index = table_index(Book::table_name<T>());
    return index;
}

struct OpenPack {
    std::unique_ptr<PackFiles> files;
    Descriptor descriptor;
    std::vector<Sheet> sheets;                                         // by table_index
    std::vector<std::unordered_map<std::string, std::uint32_t>> rows;  // by table_index: id -> row of the sheet
    std::vector<std::uint32_t> offset;           // by table_index: what the row numbers of the Book begin with
    std::map<std::string, std::string> digests;  // by path: of each file that was read

    void note_digest(const std::string& path, std::string_view bytes);
    const std::string& name() const { return descriptor.pack.id; }
};

struct Reading {
    std::vector<OpenPack> packs;
    Faults faults;
    Book book;
    // Looking for the nearest id walks the whole table; after so many unknown ids the list is at fault, not a
    // letter.
    int suggestions_left = 300;

    // The row of the Book for "oat" or "pack:oat" as written in a cell of pack `from`.
    struct Found {
        std::uint32_t row = kNoRow;
        std::size_t pack = 0;
        std::string what, remedy;  // when there is none; both empty: it may be in a table that could not be read
    };
    Found find_row(std::size_t from, std::size_t table, std::string_view id);
    const Sheet& sheet_of(std::size_t table, const Origin& origin) const {
        return packs[origin.pack].sheets[table];
    }
};

// Packs from any kind of files become a Book; `faults`: what went wrong before.
std::expected<Book, std::vector<Problem>> read_all(std::vector<std::unique_ptr<PackFiles>>, Faults faults);

void register_ids(Reading&);
void read_rows(Reading&);
void check_sense(Reading&);

}  // namespace footring::book
