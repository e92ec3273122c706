// SPDX-License-Identifier: Apache-2.0
#include "store/kept_records.h"

#include <fmt/format.h>

#include <algorithm>

#include "store/change_words.h"
#include "store/conflicts.h"
#include "store/limits.h"
#include "store/record_kinds.h"

namespace footring::store {

namespace {

Expected<void> put_one(Act& act, Record& r, const std::string& what) {
    if (r.id.empty() && r.revision == 0) r.id = act.free_id(std::string(record_kind(r.kind)->prefix));
    const auto stored = act.tables().entry(Entity::kRecord, record_key(r.kind, r.id));
    if (auto ok = check_revision(r.kind, r.id, r.revision, stored); !ok) return ok;
    std::optional<Record> before;
    r.created.clear();
    if (stored) {
        auto old = record_of(*stored);
        if (!old) return std::unexpected(old.error());
        before = std::move(*old);
        r.created = before->created;
        r.changed = before->changed;
        if (*before == r) return {};
    }
    act.put(r, stored ? &*stored : nullptr,
            {what.empty() ? change_in_words(before ? &*before : nullptr, r) : what});
    return {};
}

}  // namespace

Expected<void> check_kind(std::string_view kind) {
    if (record_kind(kind) != nullptr) return {};
    return fail(ProblemCode::kBadInput, "kind", fmt::format("'{}' is no kind of record", kind),
                fmt::format("use {}", record_kind_names()));
}

Expected<void> check_records(const std::vector<Record>& records) {
    for (std::size_t i = 0; i < records.size(); ++i) {
        const Record& r = records[i];
        if (auto ok = check_kind(r.kind); !ok) return ok;
        const std::string where = !r.id.empty()         ? fmt::format("{} {}", r.kind, r.id)
                                  : records.size() == 1 ? r.kind
                                                        : fmt::format("{} {} of {}", r.kind, i + 1, records.size());
        if (auto ok = check(r, where); !ok) return ok;
    }
    return {};
}

Expected<void> put_records(Act& act, std::vector<Record>& records, const std::string& what) {
    for (const Record& r : records) act.note_id(std::string(record_kind(r.kind)->prefix), r.id);
    for (Record& r : records)
        if (auto ok = put_one(act, r, what); !ok) return ok;
    act.keep_counters();
    return {};
}

Expected<void> remove_records(Act& act, const std::string& kind, std::vector<std::string> ids,
                              const std::string& what) {
    std::ranges::sort(ids);
    ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
    for (const std::string& id : ids) {
        const auto entry = act.tables().entry(Entity::kRecord, record_key(kind, id));
        if (!entry) return no_such(kind, id);
        act.erase(Entity::kRecord, *entry,
                  {what.empty() ? fmt::format("{} removed.", record_kind(kind)->title) : what});
    }
    return {};
}

Expected<Record> find_record(Reader& tables, const std::string& kind, const std::string& id) {
    const auto entry = tables.entry(Entity::kRecord, record_key(kind, id));
    if (!entry) return no_such(kind, id);
    return record_of(*entry);
}

Expected<std::vector<Record>> all_records(Reader& tables, const std::string& kind) {
    std::vector<Record> out;
    const std::vector<Entry> entries = tables.records(kind);
    out.reserve(entries.size());
    for (const Entry& entry : entries) {
        auto record = record_of(entry);
        if (!record) return std::unexpected(record.error());
        out.push_back(std::move(*record));
    }
    return out;
}

}  // namespace footring::store
