// store/disk.h - files that are on the disk, whole, when the function returns.
//   DiskCalls is the narrow way out to the operating system; tests put one in its place that fails, or that forgets
//   what was not synced, as when the power goes.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>
#include <string_view>
#include <utility>

#include "base/problem.h"

namespace footring::store {

// As the system calls of the same names: -1 and errno when they fail.
class DiskCalls {
  public:
    virtual ~DiskCalls() = default;
    virtual int open(const char* path, int flags, mode_t mode);
    virtual ssize_t write(int file, const void* bytes, std::size_t size);
    virtual int fsync(int file);
    virtual int close(int file);
    virtual int rename(const char* from, const char* to);
    virtual int unlink(const char* path);
    virtual int mkdir(const char* path, mode_t mode);
};
DiskCalls& real_disk();

// kStore, with what to do about this errno.
Problem disk_problem(const std::filesystem::path&, int error);

// Creates the folder and those above it, and makes their names durable.
Expected<void> make_folder(const std::filesystem::path&, DiskCalls& = real_disk());
// Writes `incoming`, syncs it, moves it to `path`, syncs the folder: `path` never holds half of the bytes.
Expected<void> write_file(const std::filesystem::path& path, const std::filesystem::path& incoming,
                          std::string_view bytes, DiskCalls& = real_disk());
// Moves a file that is whole and synced; the folder is synced too.
Expected<void> move_file(const std::filesystem::path& from, const std::filesystem::path& to,
                         DiskCalls& = real_disk());
Expected<std::string> read_file(const std::filesystem::path&);  // kNotFound when there is none

// A file in the making; what was not kept is deleted again.
class OutFile {
  public:
    static Expected<OutFile> make(const std::filesystem::path&);  // replaces one that is there
    OutFile(OutFile&& other) noexcept
        : path_(std::move(other.path_)), file_(std::exchange(other.file_, -1)), kept_(other.kept_) {}
    OutFile& operator=(OutFile&&) = delete;
    ~OutFile();
    const std::filesystem::path& path() const { return path_; }
    Expected<void> write(std::string_view);
    Expected<void> sync();
    void keep() { kept_ = true; }

  private:
    OutFile(std::filesystem::path path, int file) : path_(std::move(path)), file_(file) {}
    std::filesystem::path path_;
    int file_;
    bool kept_ = false;
};

// A file that is read from front to back.
class InFile {
  public:
    static Expected<InFile> open(const std::filesystem::path&);  // kNotFound when there is none
    InFile(InFile&& other) noexcept : path_(std::move(other.path_)), file_(std::exchange(other.file_, -1)) {}
    InFile& operator=(InFile&&) = delete;
    ~InFile();
    Expected<std::string> read(std::size_t most);  // less only at the end

  private:
    InFile(std::filesystem::path path, int file) : path_(std::move(path)), file_(file) {}
    std::filesystem::path path_;
    int file_;
};

}  // namespace footring::store
