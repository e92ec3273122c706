// store/folder_blobs.h - photographs as files: photos/ab/abcdef..., thumbs/ab/abcdef..., named by the SHA-256 of
// the
//   original bytes. A file arrives in incoming/ and is moved into place when it is whole and on the disk; what a
//   crash left in incoming/ is deleted when the folder is opened, and in a folder that several programs share when
//   it is a day old.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <memory>

#include "store/disk.h"
#include "store/tables.h"

namespace footring::store {

enum class Sharing { kAlone, kShared };
Expected<std::unique_ptr<Blobs>> open_folder_blobs(const std::filesystem::path& folder, DiskCalls& = real_disk(),
                                                   Sharing = Sharing::kAlone);

}  // namespace footring::store
