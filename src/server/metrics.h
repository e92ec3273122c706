// server/metrics.h - what the program did, in numbers, for whoever watches over it.
//   out     Prometheus text format 0.0.4: counters of requests by the pattern of their route (never an address),
//   how long
//           they took, sign-ins, backups, and the process itself. Nothing of what is kept is in it.
//   source  Prometheus, "Exposition formats"; "Metric and label naming"; names of process metrics as client
//   libraries have
//           them
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <mutex>
#include <string>
#include <string_view>
#include <tuple>

namespace footring::server {

// One answered request: the pattern of its route, never the address, which may name a person's piece.
struct Seen {
    std::string method, pattern;
    int status;
    double milliseconds;
};

class Metrics {
  public:
    void answered(const Seen&);
    void backup(bool well, double now);  // seconds since 1970
    std::string text() const;

  private:
    // Upper ends in seconds; what takes longer counts in the last one, +Inf.
    static constexpr std::array<double, 9> kEnds = {0.001, 0.005, 0.025, 0.1, 0.25, 0.5, 1, 5, 30};
    struct Spent {
        std::uint64_t count = 0;
        double seconds = 0;
    };
    mutable std::mutex mutex_;
    std::map<std::tuple<std::string, std::string, int>, std::uint64_t> requests_;  // method, pattern, status
    std::map<std::pair<std::string, std::string>, Spent> spent_;                   // method, pattern
    std::array<std::uint64_t, kEnds.size() + 1> within_{};
    double seconds_ = 0;
    std::uint64_t backups_ = 0, failed_backups_ = 0;
    double last_backup_ = 0;
};

// "\\" and quotes and line breaks of a label's value, escaped.
std::string label_value(std::string_view);

}  // namespace footring::server
