// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/json_page.h"

namespace footring::cli {

namespace {

Outcome version(const Call& call, World&) {
    if (call.json()) return page(json_line({{"name", "footring"}, {"version", FOOTRING_VERSION}}));
    return page("footring " FOOTRING_VERSION "\n");
}

}  // namespace

Command version_command() {
    return {.name = "version",
            .sentence = "Prints the version of the program.",
            .detail = {},
            .arguments = {},
            .options = {},
            .run = version};
}

}  // namespace footring::cli
