// book/faults.h - the faults of packs while they are read: collected, then told in order of file, line and column.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::book {

struct Spot {
    std::uint32_t line = 0, column = 0;  // 1-based; line 0: the file as a whole
};

// A value as a fault quotes it: in quotation marks, on one line, cut after 60 characters.
std::string in_quotes(std::string_view);

class Faults {
  public:
    // `file` as the person would write it.
    void add(std::string file, Spot spot, std::string what, std::string remedy,
             ProblemCode code = ProblemCode::kBadInput);
    bool empty() const { return faults_.empty(); }
    // At most kMostTold; a last line tells how many more there are. Beyond that nobody reads on, and a spoilt file
    // of a million rows would fill the memory.
    std::vector<Problem> in_order() const;
    static constexpr std::size_t kMostTold = 10'000;

  private:
    struct Fault {
        std::string file;
        Spot spot;
        Problem problem;  // without its place
    };
    std::vector<Fault> faults_;
    std::size_t untold_ = 0;
};

}  // namespace footring::book
