// server/log.h - the server's log: one line an event, as words or as JSON, and never anything of what is kept.
//   A request is told by the pattern of its route; a problem by its sentence, which names files and no pieces.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "server/metrics.h"

namespace spdlog {
class logger;
}

namespace footring::server {

enum class LogForm { kNone, kWords, kJson };

class Log {
  public:
    explicit Log(LogForm);  // on standard error
    void request(const Seen&) const;
    // `event`: "listening", "backup"; `members`: what belongs to it, as text.
    void event(bool well, std::string_view event,
               const std::vector<std::pair<std::string, std::string>>& members) const;

  private:
    LogForm form_;
    std::shared_ptr<spdlog::logger> out_;
};

}  // namespace footring::server
