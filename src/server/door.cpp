// SPDX-License-Identifier: Apache-2.0
#include "server/door.h"

#include <fmt/format.h>
#include <sodium.h>

#include <algorithm>
#include <cmath>

#include "server/guard.h"
#include "store/sha256.h"
#include "store/time.h"

namespace footring::server {

namespace {

constexpr std::size_t kTokenBytes = 32;
constexpr int kSeenEveryMinutes = 5;  // how exactly it is kept when somebody was last here

std::string new_token() {
    unsigned char bytes[kTokenBytes];
    ::randombytes_buf(bytes, sizeof bytes);
    char text[sodium_base64_ENCODED_LEN(kTokenBytes, sodium_base64_VARIANT_URLSAFE_NO_PADDING)];
    ::sodium_bin2base64(text, sizeof text, bytes, sizeof bytes, sodium_base64_VARIANT_URLSAFE_NO_PADDING);
    return text;
}

std::string set_cookie(const std::string& value, double seconds) {
    return fmt::format("{}={}; Path=/; Max-Age={:.0f}; Secure; HttpOnly; SameSite=Strict", kSessionCookie, value,
                       seconds);
}

Problem waiting(std::string where, double seconds) {
    const double minutes = std::ceil(seconds / 60);
    return {
        ProblemCode::kTooMany, std::move(where), "there were too many tries that failed",
        fmt::format("wait {} and try again", minutes <= 1 ? "a minute" : fmt::format("{:.0f} minutes", minutes))};
}

}  // namespace

Door::Door(store::Store& store, const Settings& settings, store::Now now, bool shared,
           std::shared_ptr<Passwords> passwords, Seconds seconds)
    : store_(store),
      settings_(settings),
      now_(std::move(now)),
      shared_(shared),
      passwords_(std::move(passwords)),
      // Made once when the house is shared; a digest of what nobody knows.
      nobodys_(shared ? passwords_->digest(new_token()).value_or("") : ""),
      by_account_(static_cast<int>(settings.share_tries), settings.share_tries_minutes * 60, seconds),
      by_address_(static_cast<int>(settings.share_tries_from_one_place), settings.share_tries_minutes * 60,
                  seconds),
      requests_(settings.share_requests_per_second, settings.share_requests_at_once, seconds) {}

std::string Door::later(double hours) const {
    return store::seconds_after(now_(), static_cast<std::int64_t>(hours * 3600)).value_or("");
}

Expected<Visitor> Door::visitor(const std::vector<std::string>& cookies, const std::string& origin) {
    Visitor out;
    out.origin = origin;
    if (!shared_) {
        out.role = store::Role::kKeeper;
        return out;
    }
    const std::string token = cookie_value(cookies, kSessionCookie);
    if (token.empty()) return out;
    const std::string digest = store::sha256_of(token);
    const auto session = store_.people().session(digest);
    if (!session) return std::unexpected(session.error());
    if (!*session) return out;
    const auto account = store_.people().account((*session)->account);
    if (!account && account.error().code == ProblemCode::kNotFound) return out;
    if (!account) return std::unexpected(account.error());
    out.role = account->role;
    out.account = account->name;
    out.session = digest;
    // Not with every request: that would be a write each time.
    const std::string seen_until = store::seconds_after((*session)->seen, kSeenEveryMinutes * 60).value_or("");
    if (now_() > seen_until || now_() < (*session)->seen) {
        const std::string most =
            store::seconds_after((*session)->begun, static_cast<std::int64_t>(settings_.share_session_hours * 3600))
                .value_or("");
        const auto kept = store_.people().keep_alive(digest, std::min(most, later(settings_.share_idle_hours)));
        // A full disk must not keep people from looking at what there is.
        if (!kept && kept.error().code != ProblemCode::kStore) return std::unexpected(kept.error());
    }
    return out;
}

std::optional<double> Door::too_many(const std::string& origin) {
    return shared_ ? requests_.take(address_key(origin)) : std::nullopt;
}

Expected<store::Account> Door::known(const std::string& name, const std::string& password,
                                     const std::string& origin) {
    const std::string from = address_key(origin);
    if (const auto wait = by_address_.begin(from)) return std::unexpected(waiting("sign-in", *wait));
    if (const auto wait = by_account_.begin(name)) return std::unexpected(waiting("sign-in", *wait));
    const auto account = store_.people().account(name);
    if (!account && account.error().code != ProblemCode::kNotFound) return std::unexpected(account.error());
    // A name that nobody has takes as long as one that somebody has.
    const bool right = passwords_->matches(account ? account->secret : nobodys_, password) && account.has_value();
    if (!right) {
        // Only names that are accounts are written down: what else is typed here may be a password.
        store::Noted row;
        row.what = "A sign-in failed.";
        if (account) row.subject = fmt::format("account {}", name);
        row.origin = origin;
        if (auto noted = store_.people().note(std::move(row)); !noted) return std::unexpected(noted.error());
        return fail(ProblemCode::kNotKnown, "sign-in", "there is no account of this name with this password",
                    "check both; a keeper can give you a new password");
    }
    by_address_.succeeded(from);
    by_account_.forgive(name);
    return *account;
}

Expected<SignedIn> Door::sign_in(const std::string& name, const std::string& password, const std::string& origin) {
    // Such a name or password is nobody's: neither is worth the memory that counting tries takes.
    if (password.size() > kLongestPassword || !store::check_account_name(name))
        return fail(ProblemCode::kNotKnown, "sign-in", "there is no account of this name with this password",
                    "check both; a keeper can give you a new password");
    const auto account = known(name, password, origin);
    if (!account) return std::unexpected(account.error());
    if (passwords_->is_outdated(account->secret))
        if (auto better = passwords_->digest(password))
            if (auto kept = store_.people().refresh_secret(name, std::move(*better)); !kept)
                return std::unexpected(kept.error());
    const std::string token = new_token();
    store::Session session;
    session.digest = store::sha256_of(token);
    session.account = account->name;
    session.begun = session.seen = now_();
    session.ends = std::min(later(settings_.share_session_hours), later(settings_.share_idle_hours));
    session.origin = origin;
    if (auto begun = store_.people().begin(session); !begun) return std::unexpected(begun.error());
    return SignedIn{{account->role, account->name, session.digest, origin},
                    set_cookie(token, settings_.share_session_hours * 3600)};
}

Expected<std::string> Door::sign_out(const Visitor& visitor) {
    if (!visitor.session.empty())
        if (auto ended = store_.people().end(visitor.session); !ended) return std::unexpected(ended.error());
    return set_cookie("", 0);
}

Expected<void> Door::change_password(const Visitor& visitor, const std::string& before, const std::string& after) {
    if (auto ok = check_password(visitor.account, after); !ok) return ok;
    if (const auto account = known(visitor.account, before, visitor.origin); !account)
        return std::unexpected(account.error());
    auto digest = passwords_->digest(after);
    if (!digest) return std::unexpected(digest.error());
    if (auto kept = store_.signed_by(visitor.account)
                        ->people()
                        .set_secret(visitor.account, std::move(*digest), visitor.session);
        !kept)
        return std::unexpected(kept.error());
    return {};
}

}  // namespace footring::server
