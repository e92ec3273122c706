// server/password.h - digests of passwords, slow to make on purpose.
//   Argon2id through libsodium; a digest says by itself with which salt and at which cost it was made.
//   source  RFC 9106 (Argon2); what a password must be: NIST SP 800-63B, section 5.1.1.2 (length, and no known one)
//   Thread rule: any thread may call anything; at most two digests are made at the same time (64 MB each).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring::server {

inline constexpr std::size_t kShortestPassword = 10, kLongestPassword = 1000;  // characters, bytes

class Passwords {
  public:
    virtual ~Passwords() = default;
    virtual Expected<std::string> digest(std::string_view password) = 0;  // kStore: no memory for it
    virtual bool matches(const std::string& digest, std::string_view password) = 0;
    virtual bool is_outdated(const std::string& digest) = 0;  // made at a lower cost than digest() now does
};

// What one digest costs: passes over so many bytes. The defaults are libsodium's for signing in.
struct PasswordCost {
    unsigned long long passes = 2;
    std::size_t bytes = 64u << 20;
};
std::unique_ptr<Passwords> argon2id(PasswordCost = {});

// kBadInput, with what to do, when it is too short, too long, no text, or one that everybody tries first.
Expected<void> check_password(std::string_view account, std::string_view password);

}  // namespace footring::server
