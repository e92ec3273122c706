// book/pack_files.h - a pack's files, from disk or from memory. The reader knows no other way to them.
//   in      paths relative to the pack, with '/'
//   errors  kNotFound: there is no such file; kBadInput: the path leads out of the pack; kTooLarge; kUnreadable
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring::book {

inline constexpr std::size_t kMostPackBytes = std::size_t{256} << 20;  // of one file

class PackFiles {
  public:
    virtual ~PackFiles() = default;
    virtual std::string shown(std::string_view path) const = 0;  // as the person would write it
    virtual std::string folder() const = 0;                      // absolute; empty: not on a disk
    virtual Expected<std::string> read(std::string_view path) const = 0;
};

class PackOnDisk final : public PackFiles {
  public:
    explicit PackOnDisk(std::filesystem::path folder) : given_(std::move(folder)) {}
    Expected<void> open();  // kNotFound: there is no such folder
    std::string shown(std::string_view path) const override;
    std::string folder() const override { return root_.string(); }
    Expected<std::string> read(std::string_view path) const override;

  private:
    std::filesystem::path given_, root_;
};

class PackInMemory final : public PackFiles {
  public:
    PackInMemory(std::string name, std::map<std::string, std::string> files)
        : name_(std::move(name)), files_(std::move(files)) {}
    std::string shown(std::string_view path) const override { return name_ + "/" + std::string(path); }
    std::string folder() const override { return ""; }
    Expected<std::string> read(std::string_view path) const override;

  private:
    std::string name_;
    std::map<std::string, std::string> files_;
};

std::string digest_of(std::string_view bytes);  // of a file, as a pack's digest is made from; 32 hexadecimal digits

// Relative, no "..", no backslash, no scheme: the only paths that a pack may name.
bool stays_inside(std::string_view path);

}  // namespace footring::book
