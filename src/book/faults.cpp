// SPDX-License-Identifier: Apache-2.0
#include "book/faults.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace footring::book {

std::string in_quotes(std::string_view text) {
    constexpr int kLongest = 60;
    std::string out = "'";
    int characters = 0;
    for (const char c : text) {
        if ((static_cast<unsigned char>(c) & 0xC0) != 0x80 && ++characters > kLongest) {
            out += "...";
            break;
        }
        out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
    return out + "'";
}

void Faults::add(std::string file, Spot spot, std::string what, std::string remedy, ProblemCode code) {
    if (faults_.size() >= kMostTold) ++untold_;
    else faults_.push_back({std::move(file), spot, {code, "", std::move(what), std::move(remedy)}});
}

std::vector<Problem> Faults::in_order() const {
    std::vector<const Fault*> order;
    for (const Fault& fault : faults_) order.push_back(&fault);
    std::ranges::stable_sort(order, [](const Fault* a, const Fault* b) {
        return std::tie(a->file, a->spot.line, a->spot.column) < std::tie(b->file, b->spot.line, b->spot.column);
    });
    std::vector<Problem> out;
    for (const Fault* fault : order) {
        out.push_back(fault->problem);
        out.back().where = fault->spot.line == 0
                               ? fault->file
                               : fmt::format("{}:{}:{}", fault->file, fault->spot.line, fault->spot.column);
    }
    if (untold_ > 0)
        out.push_back({ProblemCode::kBadInput, "packs", fmt::format("there are {} more faults", untold_),
                       "mend these first, then check again"});
    return out;
}

}  // namespace footring::book
