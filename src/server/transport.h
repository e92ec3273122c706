// server/transport.h - from HTTP to a Request and back: the only file that knows the HTTP library.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "server/guard.h"
#include "server/metrics.h"
#include "server/request.h"
#include "server/tls.h"

namespace footring::server {

class House;

// Where it listens, under which names, and whether over TLS.
struct Listening {
    std::string address = "127.0.0.1";
    std::string shown = "127.0.0.1";  // the name under which people are told to open it
    Ours ours;                        // its port is the one that was bound
    std::optional<Certificate> certificate;
};

class Transport {
  public:
    // `house` must outlive it, and have a Book open. `pages` is the folder of the built web app.
    Transport(House& house, std::vector<Route> routes, std::filesystem::path pages, Listening,
              std::function<void(const Seen&)> log);
    ~Transport();  // stops

    // Binds the port (0: any free one) and answers until stop(). kStore when the port is taken.
    Expected<int> start(int port);
    void stop();
    bool running() const;

  private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

}  // namespace footring::server
