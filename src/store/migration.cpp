// SPDX-License-Identifier: Apache-2.0
#include "store/migration.h"

#include <fmt/format.h>

namespace footring::store {

using soci::use;

Expected<void> migrate(soci::session& sql, std::span<const Migration> all, const std::string& where,
                       const Now& now) {
    sql << "CREATE TABLE IF NOT EXISTS schema_version (version INTEGER NOT NULL PRIMARY KEY, what TEXT NOT NULL, "
           "applied TEXT NOT NULL)";
    int have = 0;
    sql << "SELECT COALESCE(MAX(version), 0) FROM schema_version", soci::into(have);
    if (have > all.back().version)
        return fail(ProblemCode::kStore, where,
                    fmt::format("a newer Footring wrote this store (version {} of its tables; "
                                "this program knows {})",
                                have, all.back().version),
                    "use that newer program, or a backup from before it");
    if (have == all.back().version) return {};
    const std::string applied = now();  // one moment for all of them
    for (const Migration& migration : all) {
        if (migration.version <= have) continue;
        soci::transaction step(sql);
        for (const std::string_view statement : migration.statements) sql << std::string(statement);
        const std::string what(migration.what);
        sql << "INSERT INTO schema_version (version, what, applied) VALUES (:version, :what, :applied)",
            use(migration.version, "version"), use(what, "what"), use(applied, "applied");
        step.commit();
    }
    return {};
}

}  // namespace footring::store
