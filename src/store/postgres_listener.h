// store/postgres_listener.h - rings a Bell whenever a program that changed the store says so (LISTEN and NOTIFY).
//   A thread with a connection of its own; it connects again when that was lost, and rings then too, because it may
//   have missed something.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <thread>

#include "store/bell.h"

namespace footring::store {

inline constexpr const char* kChannel = "footring";

class PostgresListener {
  public:
    PostgresListener(std::string address, Bell& bell);  // `bell` must outlive it
    ~PostgresListener();
    PostgresListener(const PostgresListener&) = delete;
    PostgresListener& operator=(const PostgresListener&) = delete;

  private:
    void run();

    std::string address_;
    Bell& bell_;
    int stop_;  // an event that can be waited for together with the connection
    std::thread thread_;
};

}  // namespace footring::store
