// SPDX-License-Identifier: Apache-2.0
#include "cli/mapping.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/text.h"

namespace footring::cli {

book::Mapping read_mapping(const Call& call, const std::vector<std::string>& fields,
                           std::vector<Problem>& problems) {
    book::Mapping mapping;
    const auto add = [&](std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, "--map", std::move(what), std::move(remedy)});
    };
    for (const std::string& pair : call.all("--map")) {
        // The last '=', because a column may have one in its name and a field never has.
        const std::size_t equals = pair.rfind('=');
        if (equals == std::string::npos || equals == 0) {
            add(fmt::format("'{}' is not COLUMN=FIELD", pair),
                "write --map \"Column of the file=field\", or --map COLUMN= to leave it out");
            continue;
        }
        const std::string column = pair.substr(0, equals), field = pair.substr(equals + 1);
        if (!field.empty() && std::ranges::find(fields, field) == fields.end())
            add(fmt::format("there is no field '{}'", field),
                did_you_mean(field, fields, fmt::format("the fields are {}", fmt::join(fields, ", "))));
        else if (!mapping.emplace(column, field).second)
            add(fmt::format("column '{}' is mapped twice", column), "map it once");
    }
    return mapping;
}

}  // namespace footring::cli
