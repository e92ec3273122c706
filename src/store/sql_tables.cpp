// SPDX-License-Identifier: Apache-2.0
#include "store/sql_tables.h"

#include <mutex>

#include "store/sql_session.h"

namespace footring::store {

namespace {

// Rolls back unless kept; an exception of the rollback is no news: the transaction is gone either way.
class Transaction {
  public:
    template <class Begin>
    Transaction(soci::session& sql, const Dialect& dialect, const Begin& begin) : sql_(sql), dialect_(dialect) {
        try {
            begin();
        } catch (const std::exception&) {
            roll_back();
            throw;
        }
    }
    ~Transaction() {
        if (!kept_) roll_back();
    }
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void keep() {
        sql_ << "COMMIT";
        kept_ = true;
    }

  private:
    void roll_back() {
        try {
            dialect_.rollback(sql_);
        } catch (const std::exception&) {
        }
    }
    soci::session& sql_;
    const Dialect& dialect_;
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
            return within(
                sql, [&] { dialect_->begin(sql, false); }, ask, [] {});
        } catch (const std::exception& e) {
            return std::unexpected(dialect_->problem_of(e));
        }
    }
    Expected<void> write(const std::function<Expected<void>(Writer&)>& change) override {
        auto ok = alone([&] {
            return within(
                writing_, [&] { dialect_->begin(writing_, true); }, change,
                [&] { dialect_->tell_others(writing_); });
        });
        if (ok) bell_.ring();
        return ok;
    }
    Expected<void> write_aside(const std::string& name,
                               const std::function<Expected<void>(Writer&)>& change) override {
        return alone([&] {
            return within(
                writing_, [&] { dialect_->begin_aside(writing_, name); }, change, [] {});
        });
    }
    const Bell& bell() const override {
        std::call_once(listening_, [this] { ear_ = dialect_->listen(bell_); });
        return bell_;
    }

  private:
    template <class F>
    Expected<void> alone(const F& act) {
        try {
            const std::lock_guard one(write_);
            auto ok = act();
            if (ok) dialect_->tidy(writing_);
            return ok;
        } catch (const std::exception& e) {
            return std::unexpected(dialect_->problem_of(e));
        }
    }
    template <class Begin, class F, class Last>
    Expected<void> within(soci::session& sql, const Begin& begin, const F& act, const Last& last) const {
        Transaction transaction(sql, *dialect_, begin);
        {
            SqlSession session(sql, *dialect_);
            if (auto ok = act(session); !ok) return ok;
            session.finish();
        }
        last();
        transaction.keep();
        return {};
    }

    std::unique_ptr<Dialect> dialect_;
    mutable soci::connection_pool pool_;
    mutable soci::session writing_;
    std::mutex write_;
    mutable Bell bell_;
    mutable std::once_flag listening_;
    mutable std::shared_ptr<void> ear_;  // last: it rings the bell
};

}  // namespace

void Dialect::begin_aside(soci::session& sql, const std::string&) const { begin(sql, true); }
void Dialect::rollback(soci::session& sql) const { sql << "ROLLBACK"; }

std::unique_ptr<Tables> make_sql_tables(std::unique_ptr<Dialect> dialect, std::size_t readers) {
    return std::make_unique<SqlTables>(std::move(dialect), readers);
}

}  // namespace footring::store
