// SPDX-License-Identifier: Apache-2.0
#include "store/postgres_store.h"

#include "store/postgres_dialect.h"
#include "store/record_store.h"

namespace footring::store {

namespace {
constexpr std::size_t kReaders = 6;  // reads at the same time of one program; one more waits its turn
}

Expected<std::unique_ptr<Store>> open_postgres(const std::string& address, std::unique_ptr<Blobs> photographs,
                                               Now now) {
    if (auto ok = prepare_postgres(address, now); !ok) return std::unexpected(ok.error());
    try {
        return make_store(make_sql_tables(make_postgres_dialect(address), kReaders), std::move(photographs),
                          std::move(now));
    } catch (const std::exception& e) {
        return std::unexpected(make_postgres_dialect(address)->problem_of(e));
    }
}

}  // namespace footring::store
