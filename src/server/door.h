// server/door.h - who comes in: accounts at a house that is shared, the person at the machine at one that is not.
//   A person who signs in gets a token in a cookie that no script can read and no other site can send; the store
//   keeps its digest. A wrong name and a wrong password are told alike, and take the same time.
//   errors  kNotKnown: wrong name or password; kTooMany: wait, the remedy says how long
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "server/limits.h"
#include "server/password.h"
#include "server/request.h"
#include "store/people.h"
#include "store/store.h"

namespace footring::server {

// The prefix makes browsers hold it to this host, to TLS and to all paths (RFC 6265bis, section 4.1.3.2).
inline constexpr std::string_view kSessionCookie = "__Host-footring";

struct SignedIn {
    Visitor visitor;
    std::string cookie;  // value of Set-Cookie
};

class Door {
  public:
    // `store` must outlive it. Not shared: everybody who can reach the server is the person whose house it is.
    Door(store::Store& store, const Settings&, store::Now, bool shared, std::shared_ptr<Passwords>,
         Seconds = steady_seconds());

    bool shared() const { return shared_; }
    Passwords& passwords() { return *passwords_; }

    // By the Cookie headers of a request. An unknown or ended session makes nobody of them.
    Expected<Visitor> visitor(const std::vector<std::string>& cookies, const std::string& origin);
    std::optional<double> too_many(const std::string& origin);  // seconds to wait; absent: go on

    Expected<SignedIn> sign_in(const std::string& name, const std::string& password, const std::string& origin);
    Expected<std::string> sign_out(const Visitor&);  // the cookie that takes the other away
    // The password of the visitor's own account; other sessions of it end.
    Expected<void> change_password(const Visitor&, const std::string& before, const std::string& after);

  private:
    Expected<store::Account> known(const std::string& name, const std::string& password, const std::string& origin);
    std::string later(double hours) const;

    store::Store& store_;
    const Settings& settings_;
    const store::Now now_;
    const bool shared_;
    const std::shared_ptr<Passwords> passwords_;
    const std::string nobodys_;  // a digest that no password has
    Tries by_account_, by_address_;
    Flow requests_;
};

}  // namespace footring::server
