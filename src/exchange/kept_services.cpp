// SPDX-License-Identifier: Apache-2.0
#include "exchange/kept_services.h"

#include <fmt/format.h>

#include "services/plan.h"

namespace footring::exchange {

std::expected<services::Service, std::vector<Problem>> service_of(const store::Record& record) {
    auto read = services::service_from_json(record.body, record.id);
    if (read) read->id = record.id;
    return read;
}

std::expected<services::Composition, std::vector<Problem>> composition_of(const store::Record& record) {
    auto read = services::composition_from_json(record.body, record.id, false);
    if (!read) return read;
    read->id = record.id;
    if (read->name.empty()) read->name = record.id;
    return read;
}

std::expected<services::Given, std::vector<Problem>> kept_services(const store::Store& store) {
    services::Given out;
    std::vector<Problem> problems;
    const auto read = [&](const char* kind, auto of, auto& into) {
        const auto records = store.records(kind);
        if (!records) {
            problems.push_back(records.error());
            return;
        }
        for (const store::Record& record : *records) {
            auto one = of(record);
            if (one) into.push_back(std::move(*one));
            else problems.insert(problems.end(), one.error().begin(), one.error().end());
        }
    };
    read("composition", composition_of, out.compositions);
    read("service", service_of, out.services);
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

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
