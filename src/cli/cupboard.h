// cli/cupboard.h - the pieces that a command was given, opened: a folder, or a database.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>

#include "base/problem.h"
#include "cli/command.h"
#include "store/place.h"
#include "store/store.h"

namespace footring::cli {

std::string utc_now();  // "2026-03-01T09:30:00Z"

// The key of a store of objects, as programs that speak S3 find it: in the environment.
void take_keys(store::Place&, const World&);
// Whether a command line names a store, with --data or --store, and where it is then.
bool names_cupboard(const Call&);
Expected<store::Place> place_of(const Call&, const World&, const std::string& own_name = "footring");

// When there is none yet: kMake makes an empty one, kRefuse is kNotFound, and kPretend answers as an empty one
// would and leaves no trace. A database is there when it can be reached; empty, it gets its tables.
enum class WhenMissing { kMake, kRefuse, kPretend };
Expected<std::unique_ptr<store::Store>> open_cupboard(const store::Place&, WhenMissing);
Expected<std::unique_ptr<store::Store>> open_cupboard(const Call&, const World&, WhenMissing);

// Where `serve` keeps pieces when it is not told: $XDG_DATA_HOME/footring, else ~/.local/share/footring.
Expected<std::filesystem::path> own_folder(const World&, const std::string& name);

}  // namespace footring::cli
