// book/pack.h - packs from disk: a folder that is a Frictionless Data Package becomes a Book, or every fault in it.
//   in      folders, each with datapackage.json (resources named as the tables of docs/packs.md; a resource's path
//           is honoured, a missing table is empty, columns may stand in any order, unknown columns are ignored)
//   out     one Book over all of them; references are to ids of the same pack, or `pack:id` of another given one
//   errors  every fault at once, in order of file and line, as file:line:column (1-based; the column counts
//           characters of that line, as an editor does); kNotFound when a folder is not there
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <filesystem>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::book {

std::expected<Book, std::vector<Problem>> read_packs(const std::vector<std::filesystem::path>& folders);

// The same with one folder more, unless a pack of the same name is among them: packs that hold for any maker.
std::expected<Book, std::vector<Problem>> read_packs_besides(std::vector<std::filesystem::path> folders,
                                                             const std::filesystem::path& more);

// The faults alone: what `footring check` prints. Empty when the packs are sound.
std::vector<Problem> check_packs(const std::vector<std::filesystem::path>& folders);

}  // namespace footring::book
