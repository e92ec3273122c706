// SPDX-License-Identifier: Apache-2.0
#include "store/record_kinds.h"

#include <algorithm>
#include <iterator>

namespace footring::store {

const RecordKind* record_kind(std::string_view name) {
    const auto* at = std::ranges::find(kRecordKinds, name, &RecordKind::name);
    return at == std::end(kRecordKinds) ? nullptr : at;
}

std::string record_kind_names() {
    std::string out;
    for (const RecordKind& kind : kRecordKinds) {
        if (!out.empty()) out += &kind == std::end(kRecordKinds) - 1 ? " or " : ", ";
        out += kind.name;
    }
    return out;
}

std::string record_key(std::string_view kind, std::string_view id) {
    return std::string(kind).append("/").append(id);
}
std::string_view kind_in(std::string_view key) { return key.substr(0, key.find('/')); }
std::string_view id_in(std::string_view key) { return key.substr(key.find('/') + 1); }

}  // namespace footring::store
