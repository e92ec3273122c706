// SPDX-License-Identifier: Apache-2.0
#include "store/disk.h"
#include "store/folder_blobs.h"
#include "store/folder_lock.h"
#include "store/record_store.h"
#include "store/sqlite_dialect.h"
#include "store/store.h"

namespace footring::store {

namespace {

constexpr std::size_t kReaders = 4;  // reads at the same time; one more waits its turn

// Holds the folder as long as the database is open.
class LockedTables final : public Tables {
  public:
    LockedTables(FolderLock lock, std::unique_ptr<Tables> tables)
        : lock_(std::move(lock)), tables_(std::move(tables)) {}
    Expected<void> read(const std::function<Expected<void>(Reader&)>& ask) const override {
        return tables_->read(ask);
    }
    Expected<void> write(const std::function<Expected<void>(Writer&)>& act) override { return tables_->write(act); }
    Expected<void> write_aside(const std::string& name,
                               const std::function<Expected<void>(Writer&)>& act) override {
        return tables_->write_aside(name, act);
    }
    const Bell& bell() const override { return tables_->bell(); }

  private:
    FolderLock lock_;
    std::unique_ptr<Tables> tables_;
};

}  // namespace

Expected<std::unique_ptr<Store>> open_sqlite(const std::filesystem::path& dir, Now now) {
    if (auto ok = make_folder(dir); !ok) return std::unexpected(ok.error());
    auto lock = FolderLock::take(dir);
    if (!lock) return std::unexpected(lock.error());
    const std::filesystem::path file = dir / "footring.db";
    if (auto ok = prepare_sqlite(file, now); !ok) return std::unexpected(ok.error());
    auto blobs = open_folder_blobs(dir);
    if (!blobs) return std::unexpected(blobs.error());
    try {
        auto tables = make_sql_tables(make_sqlite_dialect(file), kReaders);
        return make_store(std::make_unique<LockedTables>(std::move(*lock), std::move(tables)), std::move(*blobs),
                          std::move(now));
    } catch (const std::exception& e) {
        return std::unexpected(make_sqlite_dialect(file)->problem_of(e));
    }
}

}  // namespace footring::store
