// papers/row_papers.h - papers whose rows other rooms work out: the schedule for an insurer, and the list of what
// to
//   look for.
//   in      rows, as a JSON list (`--rows` of the command) or from the room that knows them:
//           schedule {"piece", "description", "low", "middle", "high", "currency", "basis", "note"}
//           wants    {"service", "form", "trade_size", "treatment", "shape", "have", "want", "low", "middle",
//           "high",
//                     "up_to", "currency", "note"}
//           numbers are JSON numbers; a member that is absent is not known. `low` and `high` bound the estimate.
//   errors  every fault of the rows at once is not needed here: the first, as `rows: /2/low`
//   Wording: an estimate is no appraisal. The schedule says so, and leaves the last word to a qualified appraiser.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "papers/paper.h"

namespace footring::papers {

struct ScheduleRow {
    std::string piece, description, basis, currency, note;
    std::optional<double> low, middle, high;  // of what it would cost to replace it
    std::optional<Picture> picture;
};
struct WantRow {
    std::string service, form, trade_size, treatment, shape, currency, note;
    int have = 0, want = 1;
    std::optional<double> low, middle, high;  // of what one may cost
    std::optional<double> up_to;              // the most that it is worth to the service
};

Expected<std::vector<ScheduleRow>> schedule_rows(std::string_view json);
Expected<std::vector<WantRow>> want_rows(std::string_view json);

Paper schedule(const std::vector<ScheduleRow>&, const book::Book&, const std::string& date);
Paper wants(const std::vector<WantRow>&, const book::Book&, const std::string& date);

}  // namespace footring::papers
