// SPDX-License-Identifier: Apache-2.0
#include "dating/contradictions.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <numeric>

namespace footring::dating {

namespace {

// For each year the statements that forbid it. A set of statements leaves no year exactly when it meets every one
// of these; years whose forbidders include those of another year are met of themselves and are left out.
using Forbidders = std::vector<std::size_t>;

std::vector<Forbidders> least_forbidders(const std::vector<std::vector<bool>>& allowed) {
    std::vector<Forbidders> by_year(allowed.empty() ? 0 : allowed.front().size());
    for (std::size_t y = 0; y < by_year.size(); ++y)
        for (std::size_t i = 0; i < allowed.size(); ++i)
            if (!allowed[i][y]) by_year[y].push_back(i);
    std::ranges::sort(by_year, [](const Forbidders& a, const Forbidders& b) {
        return a.size() != b.size() ? a.size() < b.size() : a < b;
    });
    std::vector<Forbidders> least;
    for (const Forbidders& year : by_year)
        if (std::ranges::none_of(least, [&](const Forbidders& l) { return std::ranges::includes(year, l); }))
            least.push_back(year);
    return least;
}

class Search {
  public:
    Search(const std::vector<Forbidders>& years, std::size_t statements, std::size_t most)
        : years_(years), of_statement_(statements), candidate_(statements, true), most_(most) {
        for (std::size_t y = 0; y < years.size(); ++y)
            for (const std::size_t i : years[y]) of_statement_[i].push_back(y);
        met_.assign(years.size(), 0);
        sole_.assign(years.size(), 0);
        only_for_.assign(statements, 0);
    }

    Contradictions all() {
        extend();
        std::ranges::sort(out_.smallest, [](const auto& a, const auto& b) {
            return a.size() != b.size() ? a.size() < b.size() : a < b;
        });
        return std::move(out_);
    }

  private:
    // A year met by one chosen statement alone is what keeps that statement in a smallest set. `sole_` is the sum
    // of the chosen statements that meet the year, and so names the one when `met_` is 1.
    void choose(std::size_t i) {
        chosen_.push_back(i);
        for (const std::size_t y : of_statement_[i]) {
            if (met_[y] == 0) ++only_for_[i];
            else if (met_[y] == 1) --only_for_[sole_[y]];
            ++met_[y];
            sole_[y] += i;
        }
    }
    void unchoose(std::size_t i) {
        chosen_.pop_back();
        for (const std::size_t y : of_statement_[i]) {
            --met_[y];
            sole_[y] -= i;
            if (met_[y] == 0) --only_for_[i];
            else if (met_[y] == 1) ++only_for_[sole_[y]];
        }
    }
    bool each_is_needed() const {
        return std::ranges::all_of(chosen_, [&](std::size_t i) { return only_for_[i] > 0; });
    }

    void extend() {
        if (out_.smallest.size() >= most_) {
            out_.complete = false;
            return;
        }
        // The unmet year with the fewest statements left to meet it: the search branches least there.
        std::size_t year = years_.size(), fewest = SIZE_MAX;
        for (std::size_t y = 0; y < years_.size() && fewest > 0; ++y) {
            if (met_[y] != 0) continue;
            const auto left = static_cast<std::size_t>(
                std::ranges::count_if(years_[y], [&](std::size_t i) { return candidate_[i]; }));
            if (left < fewest) fewest = left, year = y;
        }
        if (year == years_.size()) {
            std::vector<std::size_t> found = chosen_;
            std::ranges::sort(found);
            out_.smallest.push_back(std::move(found));
            return;
        }
        std::vector<std::size_t> here;
        for (const std::size_t i : years_[year])
            if (candidate_[i]) here.push_back(i);
        for (const std::size_t i : here) candidate_[i] = false;
        for (const std::size_t i : here) {
            choose(i);
            if (each_is_needed()) extend();
            unchoose(i);
            candidate_[i] =
                true;  // later branches may use it: sets with it and without a later one were not seen yet
        }
    }

    const std::vector<Forbidders>& years_;
    std::vector<std::vector<std::size_t>> of_statement_;
    std::vector<bool> candidate_;
    std::vector<std::size_t> chosen_, met_, sole_, only_for_;
    std::size_t most_;
    Contradictions out_;
};

}  // namespace

Contradictions contradictions(const std::vector<std::vector<bool>>& allowed, std::size_t most) {
    if (allowed.empty() || allowed.front().empty()) return {};
    const std::vector<Forbidders> years = least_forbidders(allowed);
    if (years.front().empty()) return {};  // some year is allowed by all

    Contradictions out = Search(years, allowed.size(), most).all();
    for (std::size_t i = 0; i < allowed.size(); ++i)
        if (std::ranges::any_of(years, [&](const Forbidders& f) { return f == Forbidders{i}; }))
            out.frees.push_back(i);
    return out;
}

}  // namespace footring::dating
