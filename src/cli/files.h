// cli/files.h - files of the person: read whole with a limit, written whole or not at all.
//   errors  kNotFound for what is not there, kTooLarge over the limit, kBadInput for a folder, kUnreadable when the
//           system refuses to read, kStore when it refuses to write
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/problem.h"
#include "cli/command.h"

namespace footring::cli {

inline constexpr std::size_t kMostInputBytes = 64'000'000;     // a cupboard of 100 000 pieces is some 40 MB
inline constexpr std::size_t kMostTableBytes = 1'000'000'000;  // a list of a million pieces is some 100 MB

Expected<std::string> read_file(const std::string& path,  // `where` of a problem is the path
                                std::size_t most_bytes = kMostInputBytes);
Expected<std::string> read_file_or_stdin(const std::string& path, World&,
                                         std::size_t most_bytes = kMostInputBytes);  // "-" is standard input
// Into a file beside it, synced, then renamed over it: a reader sees the old text or the new one.
Expected<void> write_file(const std::string& path, std::string_view text);

inline constexpr std::string_view kDemoPack = "packs/ambrel-valley", kDemoCupboard = "demo/cupboard";
inline constexpr std::string_view kLawPack = "packs/law-and-marks", kLawPackName = "law-and-marks";

// Where the demo pack, the demo cupboard and the built web app lie: $FOOTRING_SHARE, else the nearest folder above
// the program (or its ../share/footring) that holds packs/ambrel-valley. Empty: nowhere.
std::filesystem::path find_share(const std::filesystem::path& program, const std::string& from_environment);

}  // namespace footring::cli
