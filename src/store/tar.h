// store/tar.h - files in one file, as POSIX tar has it (IEEE Std 1003.1, pax and ustar interchange formats).
//   So any tar program can look into a backup without Footring.
//   written  regular files, mode 0644, names relative and with '/'; a pax header where a name or a size needs one
//   read     the same, and what another tar program makes of the same files: folders are stepped over, "./" goes
//   errors   kUnreadable, with what is wrong: no tar, ends in the middle, a name that leads out of the folder
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/problem.h"
#include "store/disk.h"

namespace footring::store {

class TarWriter {
  public:
    explicit TarWriter(OutFile& out) : out_(out) {}
    // `seconds`: since 1970, what a tar program shows as the file's time.
    Expected<void> begin(const std::string& name, std::uint64_t size, std::int64_t seconds);
    Expected<void> write(std::string_view part);  // the parts must add up to the size
    Expected<void> end();
    Expected<void> finish();

  private:
    OutFile& out_;
    std::uint64_t size_ = 0, written_ = 0;
};

class TarReader {
  public:
    static Expected<TarReader> open(const std::filesystem::path& file);
    struct Member {
        std::string name;
        std::uint64_t size = 0;
    };
    // The next file; absent: there is none. What was not read of the one before is stepped over.
    Expected<std::optional<Member>> next();
    // Up to `most` bytes of it; empty: it is read whole.
    Expected<std::string> read(std::size_t most);
    Expected<std::string> read_whole(std::size_t most);  // kUnreadable when it is larger

  private:
    TarReader(std::filesystem::path path, InFile in) : path_(std::move(path)), in_(std::move(in)) {}
    Expected<std::string> take(std::size_t bytes);  // exactly so many
    std::unexpected<Problem> unreadable(std::string what) const;

    std::filesystem::path path_;
    InFile in_;
    Member member_;
    std::uint64_t left_ = 0, padding_ = 0;
    bool any_ = false;
};

}  // namespace footring::store
