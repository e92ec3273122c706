// store/people.h - who may come in when a house is shared: accounts, sessions, and who did what.
//   An account has a name, a role, and the digest of its password; a session is one browser that is signed in, kept
//   by the digest of its token, so that who reads the database can sign in as nobody. The audit trail has a row for
//   each change of what is kept (written together with it) and for what happens at the door; it only grows.
//   What a call does is written down under the name that Store::signed_by() was given.
//   errors  kBadInput: no name; kConflict: taken, or nobody would be left to keep the house; kNotFound; kStore
//   Thread rule: as Store.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::store {

// Each may do what those before it may. Stored: add, never renumber.
//   reader       sees what is not private, and no costs: readers_view.h
//   contributor  sees everything that one has, and changes it
//   keeper       besides: people, backups, the audit trail
enum class Role : std::uint8_t { kNobody = 0, kReader = 1, kContributor = 2, kKeeper = 3 };
std::string_view name_of(Role);                    // "reader"
std::optional<Role> role_named(std::string_view);  // absent: none of the three that an account can have
inline constexpr std::string_view kRoleNames = "reader, contributor or keeper";

struct Account {
    std::string name;  // a-z, 0-9 and . - _ ; begins with a letter or digit; at most 64
    Role role = Role::kReader;
    std::string secret;            // digest of the password with its salt and cost, see server/password.h
    std::string created, changed;  // set by the store
    friend bool operator==(const Account&, const Account&) = default;
};
struct Session {
    std::string digest;  // SHA-256 of its token
    std::string account;
    std::string begun, seen, ends;  // moments; it is over when `ends` is past
    std::string origin;             // the address that signed in
    friend bool operator==(const Session&, const Session&) = default;
};
struct Noted {
    std::int64_t id = 0;     // set by the store
    std::string when;        // the same
    std::string who;         // account; "" only where nobody is known: a sign-in that failed
    std::string what;        // a sentence: "Signed in." "Rim: fern-pair (sure). (and 11 more changes)"
    std::string subject;     // "piece p-0041", "account ada"; of several changes at once the first
    std::int64_t batch = 0;  // of the changes that it tells of, or 0
    std::string origin;      // address, of what happens at the door
    friend bool operator==(const Noted&, const Noted&) = default;
};
struct NotedQuery {
    std::string who, subject;  // empty: any
    std::int64_t before = 0;   // only rows with a smaller id; 0: from the newest on
    int limit = 100;
};

class People {
  public:
    virtual ~People() = default;

    virtual Expected<Account> add(Account) = 0;
    virtual Expected<Account> account(const std::string& name) const = 0;
    virtual Expected<std::vector<Account>> accounts() const = 0;  // by name
    // A new role ends nothing; a new secret ends all sessions of the account but the one of this digest.
    virtual Expected<Account> set_role(const std::string& name, Role) = 0;
    virtual Expected<Account> set_secret(const std::string& name, std::string secret, const std::string& but) = 0;
    // The same password under another digest (a higher cost): nothing that anybody has to know.
    virtual Expected<void> refresh_secret(const std::string& name, std::string secret) = 0;
    virtual Expected<void> remove(const std::string& name) = 0;  // with its sessions

    virtual Expected<void> begin(const Session&) = 0;
    virtual Expected<std::optional<Session>> session(const std::string& digest) const = 0;      // that is not over
    virtual Expected<std::vector<Session>> sessions(const std::string& account) const = 0;      // newest first
    virtual Expected<void> keep_alive(const std::string& digest, const std::string& ends) = 0;  // seen now
    virtual Expected<void> end(const std::string& digest) = 0;               // one that is not there has ended
    virtual Expected<std::int64_t> end_all(const std::string& account) = 0;  // how many

    virtual Expected<void> note(Noted) = 0;  // `who` empty: the name of signed_by()
    virtual Expected<std::vector<Noted>> noted(const NotedQuery&) const = 0;  // newest first
};

// kBadInput when it is no name of an account.
Expected<void> check_account_name(std::string_view name);

}  // namespace footring::store
