// SPDX-License-Identifier: Apache-2.0
#include "server/password.h"

#include <fmt/format.h>
#include <sodium.h>

#include <algorithm>
#include <semaphore>

#include "base/text.h"

namespace footring::server {

namespace {

class Argon final : public Passwords {
  public:
    explicit Argon(PasswordCost cost) : cost_(cost) {
        if (::sodium_init() < 0) throw std::runtime_error("libsodium cannot be used");
    }
    Expected<std::string> digest(std::string_view password) override {
        const Turn turn(turns_);
        char out[crypto_pwhash_STRBYTES];
        if (::crypto_pwhash_str_alg(out, password.data(), password.size(), cost_.passes, cost_.bytes,
                                    crypto_pwhash_ALG_ARGON2ID13) != 0)
            return fail(ProblemCode::kStore, "password", "there is not enough memory to keep it safely",
                        "close other programs and try again");
        return std::string(out);
    }
    bool matches(const std::string& digest, std::string_view password) override {
        const Turn turn(turns_);
        if (digest.size() >= crypto_pwhash_STRBYTES) return false;
        char known[crypto_pwhash_STRBYTES] = {};  // the library reads all of it
        std::ranges::copy(digest, known);
        return ::crypto_pwhash_str_verify(known, password.data(), password.size()) == 0;
    }
    bool is_outdated(const std::string& digest) override {
        return ::crypto_pwhash_str_needs_rehash(digest.c_str(), cost_.passes, cost_.bytes) != 0;
    }

  private:
    struct Turn {
        explicit Turn(std::counting_semaphore<2>& all) : turns(all) { turns.acquire(); }
        ~Turn() { turns.release(); }
        Turn(const Turn&) = delete;
        Turn& operator=(const Turn&) = delete;
        std::counting_semaphore<2>& turns;
    };
    PasswordCost cost_;
    std::counting_semaphore<2> turns_{2};
};

// What is tried first wherever one can try; compared without case, digits at the end and signs.
constexpr std::string_view kTriedFirst[] = {"password",      "passwort", "motdepasse", "qwertyuiop",
                                            "qwerty",        "letmein",  "welcome",    "iloveyou",
                                            "administrator", "footring", "changeme",   "secret"};

std::string core_of(std::string_view password) {
    std::string out;
    for (const char c : lower(password))
        if (c >= 'a' && c <= 'z') out += c;
    return out;
}

}  // namespace

std::unique_ptr<Passwords> argon2id(PasswordCost cost) { return std::make_unique<Argon>(cost); }

Expected<void> check_password(std::string_view account, std::string_view password) {
    const auto no = [](std::string what) {
        return fail(ProblemCode::kBadInput, "password", std::move(what),
                    fmt::format("take several words that nobody else would put together, at least {} characters",
                                kShortestPassword));
    };
    if (!is_utf8(password)) return no("it is not UTF-8 text");
    if (password.size() > kLongestPassword) return no(fmt::format("it is longer than {} bytes", kLongestPassword));
    const auto characters =
        std::ranges::count_if(password, [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; });
    if (characters < static_cast<std::ptrdiff_t>(kShortestPassword))
        return no(fmt::format("it is shorter than {} characters", kShortestPassword));
    if (std::ranges::count(password, password.front()) == static_cast<std::ptrdiff_t>(password.size()))
        return no("it is one character again and again");
    const std::string core = core_of(password);
    if (std::ranges::find(kTriedFirst, core) != std::end(kTriedFirst) || core == core_of(account))
        return no("it is among those that are tried first");
    if (std::ranges::all_of(password, [](char c) { return c >= '0' && c <= '9'; }) && password.size() < 16)
        return no("it is a short row of digits");
    return {};
}

}  // namespace footring::server
