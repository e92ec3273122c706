// cli/progress.h - one line on the terminal that says how far a long command is; gone when the command is done.
//   Nothing is written when standard error is no terminal.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "cli/command.h"
#include "exchange/told.h"

namespace footring::cli {

class ProgressLine {
  public:
    explicit ProgressLine(const World& world) : out_(world.progress) {}
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    exchange::Told told();  // of an import; good as long as this lives

  private:
    std::ostream* out_;
    bool written_ = false;
};

}  // namespace footring::cli
