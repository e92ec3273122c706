// store/backup.h - a folder of pieces in one file, made while it is in use; docs/backups.md is the page on it.
//   A backup is a tar file (tar.h): footring-backup.json says what it is, footring.db is the database of one
//   moment, the rest of the folder goes in as it is, and SHA256SUMS, last, holds the SHA-256 of every file in the
//   form that `sha256sum --check` reads. Needs no lock: a server goes on serving and writing, and nobody waits.
//   errors  kNotFound: no store there, no such backup; kBadInput: the file is there already;
//           kStore: the disk refuses, or the store is damaged, so that a backup of it would be too;
//           kUnreadable: check_backup() says what is wrong
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "base/problem.h"
#include "store/store.h"

namespace footring::store {

inline constexpr std::string_view kBackupInfo = "footring-backup.json", kBackupSums = "SHA256SUMS",
                                  kDatabase = "footring.db";

struct BackupInfo {
    std::string made;  // UTC
    int tables = 0;    // the version of its tables, see docs/store.md
    std::int64_t pieces = 0, lots = 0, photographs = 0, changes = 0;
    bool with_photographs = true;  // else only the database: the photographs stay where they are
    friend bool operator==(const BackupInfo&, const BackupInfo&) = default;
};
struct Backup {
    BackupInfo info;
    std::map<std::string, std::string> sums;  // SHA-256 of each file, by name; without SHA256SUMS
    std::uint64_t bytes = 0;                  // of the whole file
    std::vector<std::string> notes;  // photographs that should be there and are not, or are not as they were
};
struct BackupOptions {
    bool with_photographs = true;
};

// `out`: the file to write; in a folder that is there it gets a name of its own,
// "footring-2026-03-01T09-30-00Z.tar". It appears when it is whole, on the disk, and has been read back and
// compared.
struct Made {
    std::filesystem::path file;
    Backup backup;
};
Expected<Made> make_backup(const std::filesystem::path& folder, const std::filesystem::path& out,
                           const BackupOptions&, const Now&);
std::string backup_name(const std::string& moment);

// What it says of itself at its beginning; whether the rest agrees only check_backup() tells.
Expected<BackupInfo> look_at_backup(const std::filesystem::path& file);
// Reads all of it and compares every sum.
Expected<Backup> check_backup(const std::filesystem::path& file);

}  // namespace footring::store
