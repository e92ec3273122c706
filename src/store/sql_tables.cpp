// SPDX-License-Identifier: Apache-2.0
#include "store/sql_tables.h"

#include <mutex>

#include "store/sql_session.h"

namespace footring::store {

namespace {

// Rolls back unless kept; an exception of the rollback is no news: the transaction is gone either way.
class Transaction {
  public:
    Transaction(soci::session& sql, const Dialect& dialect, bool for_writing) : sql_(sql) {
        dialect.begin(sql, for_writing);
    }
    ~Transaction() {
        if (kept_) return;
        try {
            sql_ << "ROLLBACK";
        } catch (const std::exception&) {
        }
    }
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void keep() {
        sql_ << "COMMIT";
        kept_ = true;
    }

  private:
    soci::session& sql_;
    bool kept_ = false;
};

class SqlTables final : public Tables {
  public:
    SqlTables(std::unique_ptr<Dialect> dialect, std::size_t readers)
        : dialect_(std::move(dialect)), pool_(readers) {
        dialect_->open(writing_, true);
        for (std::size_t i = 0; i < readers; ++i) dialect_->open(pool_.at(i), false);
    }

    Expected<void> read(const std::function<Expected<void>(Reader&)>& ask) const override {
        try {
            soci::session sql(pool_);
            return within(sql, false, ask);
        } catch (const std::exception& e) {
            return std::unexpected(dialect_->problem_of(e));
        }
    }
    Expected<void> write(const std::function<Expected<void>(Writer&)>& change) override {
        try {
            const std::lock_guard one(write_);
            return within(writing_, true, change);
        } catch (const std::exception& e) {
            return std::unexpected(dialect_->problem_of(e));
        }
    }

  private:
    template <class F>
    Expected<void> within(soci::session& sql, bool for_writing, const F& act) const {
        Transaction transaction(sql, *dialect_, for_writing);
        {
            SqlSession session(sql, *dialect_);
            if (auto ok = act(session); !ok) return ok;
        }
        transaction.keep();
        return {};
    }

    std::unique_ptr<Dialect> dialect_;
    mutable soci::connection_pool pool_;
    mutable soci::session writing_;
    std::mutex write_;
};

}  // namespace

std::unique_ptr<Tables> make_sql_tables(std::unique_ptr<Dialect> dialect, std::size_t readers) {
    return std::make_unique<SqlTables>(std::move(dialect), readers);
}

}  // namespace footring::store
