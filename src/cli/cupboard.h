// cli/cupboard.h - the folder of pieces that a command was given, opened.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>

#include "base/problem.h"
#include "cli/command.h"
#include "store/store.h"

namespace footring::cli {

std::string utc_now();  // "2026-03-01T09:30:00Z"

// The store of --data. When there is none yet: kMake makes an empty one, kRefuse is kNotFound, and kPretend answers
// as an empty one would and leaves no trace.
enum class WhenMissing { kMake, kRefuse, kPretend };
Expected<std::unique_ptr<store::Store>> open_cupboard(const std::string& folder, WhenMissing when_missing);

// Where `serve` keeps pieces when it is not told: $XDG_DATA_HOME/footring, else ~/.local/share/footring.
Expected<std::filesystem::path> own_folder(const World&, const std::string& name);

}  // namespace footring::cli
