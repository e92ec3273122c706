// server/watch_port.h - the port for whoever watches over the program: GET /metrics and GET /health, on 127.0.0.1.
//   Plain HTTP, without accounts, on this machine only, also where the house is shared: a collector on the machine
//   can read it, and nothing of what is kept is in it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "base/problem.h"
#include "server/metrics.h"

namespace footring::server {

class WatchPort {
  public:
    // kStore when the port is taken. `healthy`: whether the store answers.
    static Expected<std::unique_ptr<WatchPort>> open(int port, const Metrics&, std::function<bool()> healthy);
    ~WatchPort();
    int port() const;

  private:
    struct Inner;
    explicit WatchPort(std::unique_ptr<Inner>);
    std::unique_ptr<Inner> inner_;
};

}  // namespace footring::server
