// SPDX-License-Identifier: Apache-2.0
#include "exchange/mappings.h"

#include <algorithm>
#include <utility>

#include "book/json_reader.h"

namespace footring::exchange {

namespace {

using nlohmann::json;

json to_json(const KeptMapping& kept) {
    return {{"of", kept.of}, {"headings", kept.headings}, {"mapping", kept.mapping}};
}

std::vector<std::string> sorted(std::vector<std::string> headings) {
    std::ranges::sort(headings);
    return headings;
}

// The record of a table with these headings; a record of another version is passed over.
Expected<std::optional<std::pair<store::Record, KeptMapping>>> record_of(const store::Store& store,
                                                                         std::string_view of,
                                                                         const std::vector<std::string>& headings) {
    auto records = store.records("mapping");
    if (!records) return std::unexpected(records.error());
    for (store::Record& record : *records) {
        auto kept = mapping_from_json(record.body, record.id);
        if (kept && kept->of == of && kept->headings == headings)
            return std::pair(std::move(record), std::move(*kept));
    }
    return std::nullopt;
}

}  // namespace

std::expected<KeptMapping, std::vector<Problem>> mapping_from_json(const json& body, const std::string& where) {
    std::vector<Problem> problems;
    book::JsonReader reader(body, where, problems);
    KeptMapping out;
    reader.verbatim("of", out.of);
    if (const json* headings = reader.member("headings")) {
        const bool texts =
            headings->is_array() && std::ranges::all_of(*headings, [](const json& one) { return one.is_string(); });
        if (texts) out.headings = sorted(headings->get<std::vector<std::string>>());
        else reader.fault("headings", "this is no list of headings", R"(write ["No.", ...])");
    }
    if (const json* mapping = reader.member("mapping")) {
        bool sound = mapping->is_object();
        for (const auto& [heading, field] : mapping->items()) {
            sound = sound && (field.is_string() || field.is_null());
            if (sound) out.mapping[heading] = field.is_string() ? field.get<std::string>() : "";
        }
        if (!sound)
            reader.fault("mapping", "this is no object of headings and fields", R"(write {"No.": "number"})");
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

Expected<std::optional<book::Mapping>> remembered(const store::Store& store, std::string_view of,
                                                  const std::vector<std::string>& headings) {
    auto record = record_of(store, of, sorted(headings));
    if (!record) return std::unexpected(record.error());
    if (!*record) return std::nullopt;
    return std::move((*record)->second.mapping);
}

Expected<void> remember(store::Store& store, std::string_view of, const std::vector<book::MatchedColumn>& columns) {
    KeptMapping now;
    now.of = of;
    for (const book::MatchedColumn& one : columns) {
        now.headings.push_back(one.column);
        now.mapping[one.column] = one.field;
    }
    std::ranges::sort(now.headings);
    auto known = record_of(store, of, now.headings);
    if (!known) return std::unexpected(known.error());
    if (*known && (*known)->second == now) return {};
    store::Record record;
    if (*known) record = std::move((*known)->first);
    record.kind = "mapping";
    record.body = to_json(now);
    if (const auto stored = store.put(std::move(record), ""); !stored) return std::unexpected(stored.error());
    return {};
}

}  // namespace footring::exchange
