// store/restore.h - a folder of pieces as a backup has it; docs/backups.md is the page on it.
//   The whole backup is checked before anything is touched. Then its photographs come in beside what is there, and
//   last the database, in one transaction: at every moment the folder is the old one or the new one, and a Footring
//   that has it open goes on with the new one.
//   kept     what the folder held before, as a backup of its own in backups/, or, when it cannot be read, beside
//   the
//            new one under another name
//   numbers  ids and revisions go on above those of both: none is used twice
//   errors   those of backup.h; kStore: another program, or a Footring of another version, has the folder
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/backup.h"

namespace footring::store {

struct Restored {
    BackupInfo info;
    std::int64_t files = 0;          // photographs and others that were not there or were different
    std::filesystem::path kept;      // where the state before is; empty: there was none
    std::vector<std::string> notes;  // photographs that the backup speaks of and nobody has
};
Expected<Restored> restore_backup(const std::filesystem::path& file, const std::filesystem::path& folder,
                                  const Now&);

}  // namespace footring::store
