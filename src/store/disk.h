// store/disk.h - files that are on the disk, whole, when the function returns.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring::store {

// kStore, with what to do about this errno.
Problem disk_problem(const std::filesystem::path&, int error);

// Creates the folder and those above it, and makes their names durable.
Expected<void> make_folder(const std::filesystem::path&);
// Writes `incoming`, syncs it, moves it to `path`, syncs the folder: `path` never holds half of the bytes.
Expected<void> write_file(const std::filesystem::path& path, const std::filesystem::path& incoming,
                          std::string_view bytes);
Expected<std::string> read_file(const std::filesystem::path&);  // kNotFound when there is none

}  // namespace footring::store
