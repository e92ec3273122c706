// services/program.h - a mixed-integer linear program with goals in order, as plain data.
//   Each goal is made as great (or as small) as it can be while all earlier goals keep what they reached.
//   Units and meaning are the caller's; services/allot.h makes the one that this room is about.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"

namespace footring::services {

using Terms = std::vector<std::pair<int, double>>;  // column, coefficient; no column twice

struct Column {
    std::string name;
    double low = 0, high = 0;
    bool whole = false;  // takes whole numbers only
};
struct Row {  // low <= terms <= high
    std::string name;
    Terms terms;
    double low = 0, high = 0;
};
struct Goal {
    std::string name;
    bool most = true;  // else: least
    Terms terms;
    bool counts = false;  // whole coefficients on whole columns: any gain is at least 1
};
struct Program {
    std::vector<Column> columns;
    std::vector<Row> rows;
    std::vector<Goal> goals;
};
inline constexpr double kUnbounded = 1e30;

// One goal as text in the CPLEX LP format, which every solver reads; `reached`: what the goals before it must keep.
std::string lp_text(const Program&, std::size_t goal, const std::vector<double>& reached);

enum class Ending : std::uint8_t { kBest, kWithinGap, kLimit, kStopped };
std::string_view name_of(Ending);  // "best", "within the gap asked for", ...

struct Reached {
    std::string goal;
    double value = 0, bound = 0;  // no allotment has more (less) than the bound
    Ending ending = Ending::kBest;
    int nodes = 0;
    // How far the value may be from the best, as a share of the bound; 0: it is the best, proved.
    double gap() const;
};
struct Solution {
    std::vector<double> values;  // by column
    std::vector<Reached> goals;
};

struct Progress {
    std::string goal;
    std::size_t at = 0, of = 0;  // which of the goals
    int nodes = 0;
    double best = 0, bound = 0;  // of this goal so far
    double seconds = 0;          // since the beginning
};
struct Limits {
    double gap = 0;        // share of the bound at which a goal may end
    int nodes = 20000;     // for each goal
    double seconds = 120;  // for each goal
    // Called now and then; true: stop, and keep the best so far. May be empty.
    std::function<bool(const Progress&)> stop;
};
// The best that the limits allow. Deterministic unless the seconds run out or `stop` says so. `start`: values that
// satisfy all rows, or empty.
//   errors  kBadInput when nothing satisfies the rows; kOurFault when the solver fails
Expected<Solution> solve(const Program&, const Limits&, const std::vector<double>& start = {});

}  // namespace footring::services
