// services/prices.h - what a piece may cost, as estimates handed in.
//   Rows by treatment and form, either of which may be left open, and by grade; the most exact row counts
//   (treatment and form, then treatment, then form, then neither; of equals the one for the grade that the service
//   takes). Without a row every piece costs the same: 1. Currency is the caller's.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <expected>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "services/service.h"

namespace footring::services {

using Range = std::array<double, 2>;

struct Price {
    std::optional<book::Ref<book::Treatment>> treatment = std::nullopt;  // absent: any
    std::optional<book::Ref<book::Form>> form = std::nullopt;            // absent: any
    double amount = 0;
    Grades grade = Grades::kMixed;                // kMixed: any
    std::optional<Range> between = std::nullopt;  // nine in ten cost that much; absent: not known
};
struct Cost {
    double amount = 1;
    std::optional<Range> between = std::nullopt;
};

class Prices {
  public:
    Prices() = default;
    explicit Prices(const std::vector<Price>& rows);
    bool known() const { return !rows_.empty(); }
    Cost of(book::Ref<book::Treatment>, book::Ref<book::Form>, Grades = Grades::kMixed) const;

    std::string currency;  // empty: not said
    std::string basis;     // where they come from, as a sentence; empty: handed in by the person

  private:
    using Key = std::tuple<std::int64_t, std::int64_t, Grades>;  // treatment, form (-1: any), grade
    std::map<Key, Cost> rows_;
};

// CSV with the columns treatment, form, price (ids; blank: any). Every fault at once, as where:line:column.
std::expected<Prices, std::vector<Problem>> prices_from_csv(const book::Book&, std::string_view text,
                                                            const std::string& where);
// [{"treatment": "t-117", "form": "cup", "price": 12.5}, ...]
std::expected<Prices, std::vector<Problem>> prices_from_json(const book::Book&, const nlohmann::json&,
                                                             const std::string& where);

}  // namespace footring::services
