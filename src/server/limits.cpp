// SPDX-License-Identifier: Apache-2.0
#include "server/limits.h"

#include <arpa/inet.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>

namespace footring::server {

Seconds steady_seconds() {
    return
        [] { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); };
}

std::string address_key(std::string_view address) {
    in6_addr six{};
    const std::string text(address);
    if (::inet_pton(AF_INET6, text.c_str(), &six) != 1) return text;
    // An IPv4 address that came through an IPv6 socket is itself again.
    if (IN6_IS_ADDR_V4MAPPED(&six))
        return fmt::format("{}.{}.{}.{}", six.s6_addr[12], six.s6_addr[13], six.s6_addr[14], six.s6_addr[15]);
    std::string out;
    for (int i = 0; i < 8; ++i) out += fmt::format("{:02x}", six.s6_addr[i]);
    return out + "/64";
}

void Tries::make_room(double now) {
    if (tries_.size() < kMostKeys) return;
    std::erase_if(tries_,
                  [&](const auto& each) { return each.second.empty() || each.second.back() <= now - window_; });
    while (tries_.size() >= kMostKeys) {
        const auto quietest = std::ranges::min_element(
            tries_, {}, [](const auto& each) { return each.second.empty() ? 0.0 : each.second.back(); });
        tries_.erase(quietest);
    }
}

std::optional<double> Tries::begin(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const double now = now_();
    make_room(now);
    std::deque<double>& tries = tries_[key];
    while (!tries.empty() && tries.front() <= now - window_) tries.pop_front();
    if (tries.size() >= static_cast<std::size_t>(most_)) return tries.front() + window_ - now;
    tries.push_back(now);
    return std::nullopt;
}
void Tries::succeeded(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const auto at = tries_.find(key);
    if (at != tries_.end() && !at->second.empty()) at->second.pop_back();
}
void Tries::forgive(const std::string& key) {
    const std::lock_guard lock(mutex_);
    tries_.erase(key);
}

std::optional<double> Flow::take(const std::string& key) {
    const std::lock_guard lock(mutex_);
    const double now = now_();
    if (buckets_.size() >= kMostKeys && !buckets_.contains(key)) {
        // A bucket that is full again says nothing.
        std::erase_if(buckets_, [&](const auto& each) {
            return each.second.left + (now - each.second.at) * rate_ >= at_once_;
        });
        while (buckets_.size() >= kMostKeys)
            buckets_.erase(std::ranges::min_element(buckets_, {}, [](const auto& each) { return each.second.at; }));
    }
    Bucket& bucket = buckets_.try_emplace(key, at_once_, now).first->second;
    bucket.left = std::min(at_once_, bucket.left + (now - bucket.at) * rate_);
    bucket.at = now;
    if (bucket.left < 1) return (1 - bucket.left) / rate_;
    bucket.left -= 1;
    return std::nullopt;
}

}  // namespace footring::server
