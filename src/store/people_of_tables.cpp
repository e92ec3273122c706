// SPDX-License-Identifier: Apache-2.0
#include "store/people_of_tables.h"

#include <fmt/format.h>

#include <algorithm>

namespace footring::store {

namespace {

struct RoleName {
    Role role;
    std::string_view name;
};
constexpr RoleName kRoles[] = {{Role::kNobody, "nobody"},
                               {Role::kReader, "reader"},
                               {Role::kContributor, "contributor"},
                               {Role::kKeeper, "keeper"}};

constexpr std::size_t kLongestName = 64;

class PeopleOfTables final : public People {
  public:
    PeopleOfTables(std::shared_ptr<Tables> tables, Now now, std::string who)
        : tables_(std::move(tables)), now_(std::move(now)), who_(std::move(who)) {}

    Expected<Account> add(Account account) override {
        if (auto ok = check_account_name(account.name); !ok) return std::unexpected(ok.error());
        account.created = account.changed = now_();
        return written<Account>([&](Writer& tables) -> Expected<Account> {
            if (tables.account(account.name))
                return fail(ProblemCode::kConflict, where(account.name), "this account is there already",
                            "choose another name, or change the one that is there");
            tables.save(account);
            told(tables, fmt::format("Account added, as {}.", name_of(account.role)), account.name);
            return account;
        });
    }
    Expected<Account> account(const std::string& name) const override {
        return read<Account>([&](Reader& tables) { return known(tables, name); });
    }
    Expected<std::vector<Account>> accounts() const override {
        return read<std::vector<Account>>([](Reader& tables) { return tables.accounts(); });
    }
    Expected<Account> set_role(const std::string& name, Role role) override {
        return written<Account>([&](Writer& tables) -> Expected<Account> {
            auto account = known(tables, name);
            if (!account || account->role == role) return account;
            if (auto ok = others_keep(tables, *account); !ok) return std::unexpected(ok.error());
            const std::string_view before = name_of(account->role);
            account->role = role;
            account->changed = now_();
            tables.save(*account);
            told(tables, fmt::format("Now {}, before {}.", name_of(role), before), name);
            return account;
        });
    }
    Expected<Account> set_secret(const std::string& name, std::string secret, const std::string& but) override {
        return written<Account>([&](Writer& tables) -> Expected<Account> {
            auto account = known(tables, name);
            if (!account) return account;
            account->secret = std::move(secret);
            account->changed = now_();
            tables.save(*account);
            for (const Session& session : tables.sessions_of(name))
                if (session.digest != but) tables.erase_session(session.digest);
            told(tables, "New password.", name);
            return account;
        });
    }
    Expected<void> refresh_secret(const std::string& name, std::string secret) override {
        return tables_->write([&](Writer& tables) -> Expected<void> {
            auto account = known(tables, name);
            if (!account) return std::unexpected(account.error());
            account->secret = std::move(secret);
            tables.save(*account);
            return {};
        });
    }
    Expected<void> remove(const std::string& name) override {
        return tables_->write([&](Writer& tables) -> Expected<void> {
            const auto account = known(tables, name);
            if (!account) return std::unexpected(account.error());
            if (auto ok = others_keep(tables, *account); !ok) return ok;
            for (const Session& session : tables.sessions_of(name)) tables.erase_session(session.digest);
            tables.erase_account(name);
            told(tables, "Account removed.", name);
            return {};
        });
    }

    Expected<void> begin(const Session& session) override {
        return tables_->write([&](Writer& tables) -> Expected<void> {
            const auto account = known(tables, session.account);
            if (!account) return std::unexpected(account.error());
            tables.erase_sessions_until(now_());  // those that are over
            tables.save(session);
            Noted row;
            row.who = session.account;
            row.what = "Signed in.";
            row.subject = subject_of(session.account);
            row.origin = session.origin;
            keep(tables, std::move(row));
            return {};
        });
    }
    Expected<std::optional<Session>> session(const std::string& digest) const override {
        return read<std::optional<Session>>([&](Reader& tables) {
            auto found = tables.session(digest);
            if (found && found->ends <= now_()) found.reset();
            return found;
        });
    }
    Expected<std::vector<Session>> sessions(const std::string& account) const override {
        return read<std::vector<Session>>([&](Reader& tables) {
            std::vector<Session> all = tables.sessions_of(account);
            const std::string now = now_();
            std::erase_if(all, [&](const Session& session) { return session.ends <= now; });
            std::ranges::sort(all, [](const Session& a, const Session& b) {
                return a.begun != b.begun ? a.begun > b.begun : a.digest < b.digest;
            });
            return all;
        });
    }
    Expected<void> keep_alive(const std::string& digest, const std::string& ends) override {
        return tables_->write([&](Writer& tables) -> Expected<void> {
            auto session = tables.session(digest);
            if (!session) return {};
            session->seen = now_();
            session->ends = ends;
            tables.save(*session);
            return {};
        });
    }
    Expected<void> end(const std::string& digest) override {
        return tables_->write([&](Writer& tables) -> Expected<void> {
            const auto session = tables.session(digest);
            if (!session) return {};
            tables.erase_session(digest);
            told(tables, "Signed out.", session->account);
            return {};
        });
    }
    Expected<std::int64_t> end_all(const std::string& account) override {
        return written<std::int64_t>([&](Writer& tables) -> Expected<std::int64_t> {
            const auto all = tables.sessions_of(account);
            for (const Session& session : all) tables.erase_session(session.digest);
            if (!all.empty()) told(tables, "Signed out everywhere.", account);
            return static_cast<std::int64_t>(all.size());
        });
    }

    Expected<void> note(Noted row) override {
        return tables_->write([&](Writer& tables) -> Expected<void> {
            if (row.who.empty()) row.who = who_;
            keep(tables, std::move(row));
            return {};
        });
    }
    Expected<std::vector<Noted>> noted(const NotedQuery& query) const override {
        if (query.limit < 0)
            return fail(ProblemCode::kBadInput, "query", "limit is a number from 0 on", "leave it out for 100");
        return read<std::vector<Noted>>([&](Reader& tables) { return tables.noted(query); });
    }

  private:
    static std::string where(const std::string& name) { return fmt::format("account {}", name); }
    static std::string subject_of(const std::string& name) { return fmt::format("account {}", name); }

    static Expected<Account> known(Reader& tables, const std::string& name) {
        auto account = tables.account(name);
        if (!account)
            return fail(ProblemCode::kNotFound, where(name), "there is no account of this name",
                        "see the list of accounts");
        return std::move(*account);
    }
    // Somebody must be able to let people in, and to take a role away again.
    static Expected<void> others_keep(Reader& tables, const Account& gone) {
        if (gone.role != Role::kKeeper) return {};
        const auto all = tables.accounts();
        if (std::ranges::count(all, Role::kKeeper, &Account::role) > 1) return {};
        return fail(ProblemCode::kConflict, where(gone.name), "this is the only keeper",
                    "make somebody else a keeper first");
    }
    void keep(Writer& tables, Noted row) const {
        row.when = now_();
        tables.append(row);
    }
    void told(Writer& tables, std::string what, const std::string& account) const {
        Noted row;
        row.who = who_.empty() ? account : who_;
        row.what = std::move(what);
        row.subject = subject_of(account);
        keep(tables, std::move(row));
    }

    template <class T, class F>
    Expected<T> read(F ask) const {
        std::optional<T> answer;
        auto ok = tables_->read([&](Reader& tables) -> Expected<void> {
            Expected<T> found = ask(tables);
            if (!found) return std::unexpected(found.error());
            answer.emplace(std::move(*found));
            return {};
        });
        if (!ok) return std::unexpected(ok.error());
        return std::move(*answer);
    }
    template <class T, class F>
    Expected<T> written(F change) {
        std::optional<T> answer;
        auto ok = tables_->write([&](Writer& tables) -> Expected<void> {
            Expected<T> made = change(tables);
            if (!made) return std::unexpected(made.error());
            answer.emplace(std::move(*made));
            return {};
        });
        if (!ok) return std::unexpected(ok.error());
        return std::move(*answer);
    }

    std::shared_ptr<Tables> tables_;
    Now now_;
    std::string who_;
};

}  // namespace

std::string_view name_of(Role role) { return kRoles[static_cast<std::size_t>(role)].name; }
std::optional<Role> role_named(std::string_view name) {
    for (const RoleName& each : kRoles)
        if (each.name == name && each.role != Role::kNobody) return each.role;
    return std::nullopt;
}

Expected<void> check_account_name(std::string_view name) {
    const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
    const bool sound =
        !name.empty() && name.size() <= kLongestName && plain(name.front()) &&
        std::ranges::all_of(name, [&](char c) { return plain(c) || c == '.' || c == '-' || c == '_'; });
    if (sound) return {};
    return fail(
        ProblemCode::kBadInput, "account name", "this is no name of an account",
        fmt::format("use small letters a to z, digits, '.', '-' and '_', at most {}, a letter or digit first",
                    kLongestName));
}

std::unique_ptr<People> people_of(std::shared_ptr<Tables> tables, Now now, std::string who) {
    return std::make_unique<PeopleOfTables>(std::move(tables), std::move(now), std::move(who));
}

}  // namespace footring::store
