// server/limits.h - who asks too much: tries to sign in, and requests, counted by account or address.
//   Both forget what is past, and hold at most kMostKeys keys: when there are more, those that have been quiet the
//   longest go first. Kept in memory: a restart forgives. Seconds are those of a clock that never goes back.
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <deque>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>

namespace footring::server {

using Seconds = std::function<double()>;
Seconds steady_seconds();

inline constexpr std::size_t kMostKeys = 20'000;

// What an address counts as: itself, or of IPv6 its network (the first 64 bits), which one machine may roam in.
std::string address_key(std::string_view address);

// At most `most` failures within `window` seconds. A try counts from when it begins, so that many at once are no
// way around it; one that succeeded is taken back.
class Tries {
  public:
    Tries(int most, double window, Seconds now) : most_(most), window_(window), now_(std::move(now)) {}
    std::optional<double> begin(const std::string& key);  // seconds to wait; absent: go on
    void succeeded(const std::string& key);               // the newest try; earlier failures stay
    void forgive(const std::string& key);                 // all of them

  private:
    void make_room(double now);
    int most_;
    double window_;
    Seconds now_;
    std::mutex mutex_;
    std::unordered_map<std::string, std::deque<double>> tries_;
};

// At most `at_once` together, and `rate` a second in the long run.
class Flow {
  public:
    Flow(double rate, double at_once, Seconds now) : rate_(rate), at_once_(at_once), now_(std::move(now)) {}
    std::optional<double> take(const std::string& key);  // seconds to wait; absent: go on

  private:
    struct Bucket {
        double left, at;
    };
    double rate_, at_once_;
    Seconds now_;
    std::mutex mutex_;
    std::unordered_map<std::string, Bucket> buckets_;
};

}  // namespace footring::server
