// cli/services_input.h - the pieces and the services of a command line, tied to the Book.
//   Pieces come from a cupboard (a folder with footring.db), from a cupboard folder as `import` reads it (pieces/
//   and records.json), or from a folder of piece files. What a person decided goes before what the odds say.
//   Services come from files, or else from the cupboard itself.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "cli/command.h"
#include "cli/form_views.h"
#include "cli/reference.h"
#include "services/fit.h"

namespace footring::cli {

struct ServicesInput {
    services::Given given;
    std::string where;  // where the services come from, for problems
    std::vector<services::Owned> pieces;
};
// Every fault at once in `problems`.
ServicesInput read_services_input(const Call&, World&, const Reference&, FormViews&,
                                  std::vector<Problem>& problems);

// One piece file, examined.
Expected<services::Owned> read_found_piece(const std::string& path, World&, const Reference&, FormViews&,
                                           std::vector<Problem>& problems);

}  // namespace footring::cli
