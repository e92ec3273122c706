// book/pack_writer.h - the files of an edited pack onto the disk: all of them, or none.
//   The new files are written beside the old ones (PACK/.footring-edit/), synced, and listed in a journal; then
//   each takes its place by a rename. A crash before the journal is complete leaves the pack as it was; a crash
//   behind it is finished by the next finish_edit(). No reader ever sees half of a file. in      `before` of each
//   file is what the edit was made from: kConflict when the disk holds anything else errors  kStore whatever the
//   disk refuses; kConflict; kBadInput when the pack is read-only A table that is a symbolic link inside of the
//   pack stays one: the file that it leads to is replaced.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/pack_edit.h"

namespace footring::book {

Expected<void> write_pack(const std::filesystem::path& folder, const std::vector<FileChange>&);

// Completes or clears away an edit during which the program or the machine stopped. Does nothing mostly.
Expected<void> finish_edit(const std::filesystem::path& folder);

// Why the pack cannot be edited where it is: "its folder is read-only". Absent: it can.
std::optional<std::string> why_not_editable(const std::filesystem::path& folder);

// The whole folder to a place that is not there yet; a crash leaves nothing of it there.
Expected<void> copy_pack(const std::filesystem::path& folder, const std::filesystem::path& to);

}  // namespace footring::book
