// SPDX-License-Identifier: Apache-2.0
#include "exchange/kept_services.h"

#include <fmt/format.h>

#include "services/plan.h"

namespace footring::exchange {

std::expected<std::vector<store::Record>, std::vector<Problem>> service_records(const nlohmann::json& value,
                                                                                const book::Book* book,
                                                                                const std::string& where) {
    const auto given = services::given_from_json(value, where);
    if (!given) return std::unexpected(given.error());
    if (book != nullptr)
        if (const auto plan = services::plan(given->services, given->compositions, *book, Settings{}, where); !plan)
            return std::unexpected(plan.error());
    std::vector<store::Record> out;
    const auto add = [&](const char* kind, const std::string& id, nlohmann::json body) {
        store::Record record;
        record.kind = kind;
        record.id = id;
        body.erase("id");  // the record has it
        record.body = std::move(body);
        out.push_back(std::move(record));
    };
    for (const services::Composition& one : given->compositions) add("composition", one.id, services::to_json(one));
    for (std::size_t i = 0; i < given->services.size(); ++i) {
        const services::Service& one = given->services[i];
        if (one.id.empty())
            return std::unexpected(
                std::vector<Problem>{{ProblemCode::kBadInput, fmt::format("{}: /services/{}/id", where, i),
                                      "the service has no id", "give it one, such as \"fern-for-eight\""}});
        add("service", one.id, services::to_json(one));
    }
    return out;
}

}  // namespace footring::exchange
