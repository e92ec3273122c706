// SPDX-License-Identifier: Apache-2.0
#include "exchange/others.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "base/text.h"
#include "book/json_reader.h"
#include "exchange/letter.h"
#include "exchange/mappings.h"
#include "services/composition.h"
#include "services/service.h"
#include "store/record_kinds.h"
#include "worth/sale.h"

namespace footring::exchange {

namespace {

using nlohmann::json;
using Problems = std::vector<Problem>;

template <class T>
Problems faults(std::expected<T, Problems> read) {
    return read ? Problems{} : std::move(read.error());
}

// What is wrong with a body of this kind. A kind that has no reader of its own is taken as it is.
Problems faults_of(const std::string& kind, const json& body, const std::string& where) {
    if (kind == "sale") return faults(worth::sale_from_json(body, "", where));
    if (kind == "letter") return faults(letter_from_json(body, where));
    if (kind == "service") return faults(services::service_from_json(body, where));
    if (kind == "composition") return faults(services::composition_from_json(body, where, false));
    if (kind == "mapping") return faults(mapping_from_json(body, where));
    return {};
}

}  // namespace

Expected<nlohmann::ordered_json> others_json(const store::Store& store) {
    auto out = nlohmann::ordered_json::array();
    for (const store::RecordKind& kind : store::kRecordKinds) {
        const auto records = store.records(std::string(kind.name));
        if (!records) return std::unexpected(records.error());
        for (const store::Record& record : *records)
            out.push_back({{"kind", record.kind}, {"id", record.id}, {"body", record.body}});
    }
    return out;
}

std::expected<std::vector<store::Record>, Problems> others_from_json(const json& list, const std::string& where) {
    if (!list.is_array())
        return std::unexpected(
            Problems{{ProblemCode::kBadInput, where, "this is not a list", "put it in square brackets"}});
    std::vector<store::Record> out;
    Problems problems;
    std::set<std::string> seen;
    for (std::size_t at = 0; at < list.size(); ++at) {
        const std::string here = fmt::format("{}/{}", where, at);
        const std::size_t before = problems.size();
        book::JsonReader reader(list[at], here, problems);
        store::Record record;
        reader.verbatim("kind", record.kind);
        reader.verbatim("id", record.id);
        const json* body = reader.member("body");
        if (problems.size() != before) continue;
        if (store::record_kind(record.kind) == nullptr)
            reader.fault("kind", fmt::format("nothing of the kind '{}' is kept", record.kind),
                         fmt::format("write {}", store::record_kind_names()));
        else if (record.id.empty()) reader.fault("id", "it is missing", "give the id that it has in the export");
        else if (!seen.insert(store::record_key(record.kind, record.id)).second)
            reader.fault("id", fmt::format("the {} '{}' is in the list twice", record.kind, record.id),
                         "keep one of them");
        if (body == nullptr || !body->is_object())
            reader.fault("body", "this is no object", "give what is kept, in braces");
        else std::ranges::move(faults_of(record.kind, *body, here + "/body"), std::back_inserter(problems));
        if (problems.size() != before) continue;
        record.body = *body;
        out.push_back(std::move(record));
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

Expected<Others> keep_others(store::Store& store, std::vector<store::Record> records, bool dry_run) {
    // One statement a kind, however many there are.
    std::map<std::string, std::map<std::string, store::Record>> there;
    for (const store::Record& record : records) {
        if (there.contains(record.kind)) continue;
        auto all = store.records(record.kind);
        if (!all) return std::unexpected(all.error());
        auto& kept = there[record.kind];
        for (store::Record& one : *all) kept.emplace(one.id, std::move(one));
    }
    Others out;
    std::vector<store::Record> changed;
    for (store::Record& record : records) {
        const auto& kept = there[record.kind];
        const auto old = kept.find(record.id);
        record.revision = old == kept.end() ? 0 : old->second.revision;
        if (old != kept.end() && old->second.body == record.body) {
            ++out.unchanged;
            continue;
        }
        ++(old == kept.end() ? out.added : out.changed);
        changed.push_back(std::move(record));
    }
    if (dry_run || changed.empty()) return out;
    if (const auto stored = store.put_all(std::move(changed), ""); !stored) return std::unexpected(stored.error());
    return out;
}

}  // namespace footring::exchange
