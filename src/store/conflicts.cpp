// SPDX-License-Identifier: Apache-2.0
#include "store/conflicts.h"

#include <fmt/format.h>

namespace footring::store {

std::unexpected<Problem> no_such(std::string_view kind, const std::string& id) {
    return fail(ProblemCode::kNotFound, fmt::format("{} {}", kind, id),
                fmt::format("there is no {} of this id", kind), "check the id; the history shows what was removed");
}

Expected<void> check_revision(std::string_view kind, const std::string& id, std::int64_t revision,
                              const std::optional<Entry>& stored) {
    const auto conflict = [&](std::string what, std::string remedy) {
        return fail(ProblemCode::kConflict, fmt::format("{} {}", kind, id), std::move(what), std::move(remedy));
    };
    if (!stored && revision == 0) return {};
    if (!stored) return conflict("it was removed since you opened it", "undo the removal, or add it anew");
    if (revision == 0)
        return conflict(fmt::format("there is a {} of this id already", kind),
                        "open that one, or leave the id empty to get the next free one");
    if (revision != stored->revision)
        return conflict("it was changed since you opened it", "look at it again and repeat your change");
    return {};
}

}  // namespace footring::store
