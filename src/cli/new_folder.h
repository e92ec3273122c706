// cli/new_folder.h - a folder of files that is written whole or not at all.
//   The files go into OUT.partial; finish() puts it in the place of OUT. An older OUT is replaced only when it has
//   the file `marker`: then we wrote it, and nobody's own files are lost. errors  kBadInput for an OUT that is not
//   ours, kNotFound for a folder above it that is missing, kStore when the
//           disk refuses; whatever was begun is taken away again
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring::cli {

class NewFolder {
  public:
    static Expected<NewFolder> begin(const std::string& out, std::string_view marker);
    NewFolder(NewFolder&&) noexcept;
    NewFolder& operator=(NewFolder&&) = delete;
    ~NewFolder();

    Expected<void> write(const std::string& path, std::string_view bytes);  // path below OUT, with '/'
    Expected<void> finish();                                                // writes the marker too

  private:
    NewFolder(std::filesystem::path out, std::string marker);
    std::filesystem::path out_, partial_;
    std::string marker_;
    bool open_ = true;
};

}  // namespace footring::cli
