// store/automatic_backups.h - backups that nobody has to think of, in DIR/backups: when one is due, which are kept.
//   They hold the database alone: photographs are written once and never changed, so that they stay where they are.
//   A backup against the loss of the disk is made with make_backup(), to another disk.
//   kept     the newest of each of the last days, weeks (from Monday) and months on which one was made. Days are
//            counted by the backups, not by the clock: a clock that is wrong deletes nothing.
//   deleted  only files with the names that are given here
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/backup.h"

namespace footring::store {

struct KeepBackups {
    int days = 7, weeks = 4, months = 12;
    int before_restoring = 3;  // newest of those that restoring made
    double every_hours = 24;
};

// Of these file names, those that are no longer kept.
std::vector<std::string> no_longer_kept(std::vector<std::string> names, const KeepBackups&);

// Makes one when the newest is `every_hours` old (or of a time to come) and something changed since, and deletes
// what is no longer kept. Absent: none was due. A store without history needs none.
Expected<std::optional<Made>> backup_when_due(const std::filesystem::path& folder, const KeepBackups&, const Now&);

}  // namespace footring::store
