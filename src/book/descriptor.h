// book/descriptor.h - datapackage.json: what a pack says of itself, and which file holds which table.
//   out     absent when the file cannot be used at all; lesser faults are told and the rest is read
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/faults.h"
#include "book/pack_files.h"

namespace footring::book {

inline constexpr std::string_view kDescriptor = "datapackage.json";

struct TableFile {
    std::string path;
    bool listed = false;  // named by the descriptor, so it has to be there
    Spot spot;            // of its path in the descriptor
    char delimiter = ',';
    std::vector<std::string> missing{""};  // cell texts that mean: not recorded
};
struct Descriptor {
    Pack pack;
    std::string text;                              // the file
    std::map<std::string_view, TableFile> tables;  // every table of all_tables()
};

std::optional<Descriptor> read_descriptor(const PackFiles&, Faults&);

}  // namespace footring::book
