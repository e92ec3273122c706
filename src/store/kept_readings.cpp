// SPDX-License-Identifier: Apache-2.0
#include "store/kept_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "store/act.h"
#include "store/conflicts.h"
#include "store/limits.h"
#include "store/reading_pictures.h"
#include "store/record_json.h"
#include "store/sha256.h"

namespace footring::store {

namespace {

bool is_kind(const std::string& kind) {
    return !kind.empty() && kind.size() <= 20 &&
           std::ranges::all_of(kind, [](char c) { return c >= 'a' && c <= 'z'; });
}

// Takes away the pictures that the reading of a photograph does not have.
Expected<void> tidy(Reader& tables, Blobs& blobs, const std::string& sha256) {
    std::vector<std::string> names;
    if (const auto entry = tables.reading(sha256)) {
        const auto now = reading_of(*entry);
        if (!now) return std::unexpected(now.error());
        for (const auto& [kind, digest] : now->pictures) names.push_back(picture_name(kind, digest));
    }
    return blobs.forget_pictures(sha256, names);
}

}  // namespace

Expected<Reading> keep_reading(Tables& tables, Blobs& blobs, const Now& now, Reading reading,
                               const std::map<std::string, std::string>& pictures,
                               const std::function<Expected<void>(Writer&)>& first) {
    const std::string where = fmt::format("reading of {}", reading.sha256);
    if (!is_sha256(reading.sha256)) return no_such("photograph", reading.sha256);
    if (auto ok = check(reading, where); !ok) return std::unexpected(ok.error());
    if (!blobs.has(reading.sha256)) return no_such("photograph", reading.sha256);
    reading.when = now();
    reading.pictures.clear();
    for (const auto& [kind, bytes] : pictures) {
        if (!is_kind(kind))
            return fail(ProblemCode::kBadInput, where, fmt::format("there is no kind of picture '{}'", kind),
                        "name it with the letters a to z");
        reading.pictures[kind] = sha256_of(bytes).substr(0, kDigestInNames);
    }
    auto ok = tables.write_aside(reading.sha256, [&](Writer& writer) -> Expected<void> {
        if (auto may = first(writer); !may) return may;
        for (const auto& [kind, bytes] : pictures)
            if (auto kept = blobs.keep_picture(reading.sha256, picture_name(kind, reading.pictures[kind]), bytes);
                !kept)
                return kept;
        writer.save(ReadingEntry{reading.sha256, reading.packs, to_json(reading).dump()});
        return {};
    });
    if (ok)
        ok =
            tables.write_aside(reading.sha256, [&](Writer& writer) { return tidy(writer, blobs, reading.sha256); });
    if (!ok) return std::unexpected(ok.error());
    return reading;
}

}  // namespace footring::store
