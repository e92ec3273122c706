// SPDX-License-Identifier: Apache-2.0
#include "cli/progress.h"

#include <fmt/format.h>

#include <ostream>

namespace footring::cli {

namespace {
constexpr const char* kCleared = "\r\x1b[K";  // ECMA-48: to the line's begin, and the line is erased
}

ProgressLine::~ProgressLine() {
    if (written_) *out_ << kCleared << std::flush;
}

exchange::Told ProgressLine::told() {
    if (out_ == nullptr) return {};
    return [this](std::string_view step, std::size_t done, std::size_t of) {
        written_ = true;
        if (step == exchange::kStoring) *out_ << kCleared << fmt::format("storing {} rows", of) << std::flush;
        else *out_ << kCleared << fmt::format("{}: {} of {} rows", step, done, of) << std::flush;
        return true;
    };
}

}  // namespace footring::cli
