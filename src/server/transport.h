// server/transport.h - from HTTP to a Request and back: the only file that knows the HTTP library.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/problem.h"
#include "server/request.h"

namespace footring::server {

class House;

// One answered request, for the log: the pattern of its route, never the address, which may name a person's piece.
struct Seen {
    std::string method, pattern;
    int status;
    double milliseconds;
};

class Transport {
  public:
    // `house` must outlive it, and have a Book open. `pages` is the folder of the built web app.
    Transport(House& house, std::vector<Route> routes, std::filesystem::path pages,
              std::function<void(const Seen&)> log);
    ~Transport();  // stops

    // Binds 127.0.0.1:port (0: any free one) and answers until stop(). kStore when the port is taken.
    Expected<int> start(int port);
    void stop();
    bool running() const;

  private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

}  // namespace footring::server
