// SPDX-License-Identifier: Apache-2.0
#include "services/program.h"

#include <fmt/format.h>

#include <cmath>

namespace footring::services {

namespace {

std::string terms_text(const Program& program, const Terms& terms) {
    std::string out;
    int on_line = 0;
    for (const auto& [column, value] : terms) {
        if (value == 0) continue;
        out += fmt::format(" {} {} {}", value < 0 ? "-" : "+", std::abs(value),
                           program.columns[static_cast<std::size_t>(column)].name);
        if (++on_line % 8 == 0) out += "\n ";  // readers of the format limit the length of lines
    }
    return out.empty() && !program.columns.empty() ? " 0 " + program.columns.front().name : out;
}

}  // namespace

std::string_view name_of(Ending ending) {
    constexpr std::string_view kNames[] = {"best", "within the gap asked for", "limit reached", "stopped"};
    return kNames[static_cast<std::size_t>(ending)];
}

double Reached::gap() const {
    const double off = std::abs(bound - value);
    return off < 1e-6 ? 0 : off / std::max(std::abs(bound), 1e-9);
}

std::string lp_text(const Program& program, std::size_t at, const std::vector<double>& reached) {
    const Goal& goal = program.goals[at];
    std::string out = goal.most ? "Maximize\n" : "Minimize\n";
    out += fmt::format(" {}:{}\nSubject To\n", "goal", terms_text(program, goal.terms));
    const auto add = [&](const std::string& name, const Terms& terms, double low, double high) {
        const std::string text = terms_text(program, terms);
        if (low == high) {
            out += fmt::format(" {}:{} = {}\n", name, text, low);
            return;
        }
        if (low > -kUnbounded) out += fmt::format(" {}_low:{} >= {}\n", name, text, low);
        if (high < kUnbounded) out += fmt::format(" {}_high:{} <= {}\n", name, text, high);
    };
    for (const Row& row : program.rows) add(row.name, row.terms, row.low, row.high);
    for (std::size_t i = 0; i < at && i < reached.size(); ++i)
        add(fmt::format("kept_{}", i), program.goals[i].terms, program.goals[i].most ? reached[i] : -kUnbounded,
            program.goals[i].most ? kUnbounded : reached[i]);
    out += "Bounds\n";
    for (const Column& column : program.columns)
        out += fmt::format(" {} <= {} <= {}\n", column.low, column.name, column.high);
    out += "General\n";
    for (const Column& column : program.columns)
        if (column.whole) out += fmt::format(" {}\n", column.name);
    return out + "End\n";
}

}  // namespace footring::services
