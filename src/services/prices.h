// services/prices.h - what a piece may cost, as estimates handed in.
//   Rows by treatment and form, either of which may be left open; the most exact row counts (treatment and form,
//   then treatment, then form, then neither). Without a row every piece costs the same: 1. Currency is the
//   caller's.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::services {

struct Price {
    std::optional<book::Ref<book::Treatment>> treatment;  // absent: any
    std::optional<book::Ref<book::Form>> form;            // absent: any
    double amount = 0;
};

class Prices {
  public:
    Prices() = default;
    explicit Prices(std::vector<Price> rows) : rows_(std::move(rows)) {}
    bool known() const { return !rows_.empty(); }
    double of(book::Ref<book::Treatment>, book::Ref<book::Form>) const;

  private:
    std::vector<Price> rows_;
};

// CSV with the columns treatment, form, price (ids; blank: any). Every fault at once, as where:line:column.
std::expected<Prices, std::vector<Problem>> prices_from_csv(const book::Book&, std::string_view text,
                                                            const std::string& where);
// [{"treatment": "t-117", "form": "cup", "price": 12.5}, ...]
std::expected<Prices, std::vector<Problem>> prices_from_json(const book::Book&, const nlohmann::json&,
                                                             const std::string& where);

}  // namespace footring::services
