// SPDX-License-Identifier: Apache-2.0
#include "server/market.h"

#include <fmt/format.h>

#include <algorithm>

namespace footring::server {

namespace {

constexpr int kLookedBack = 50;  // changes; when more happened since, the sales are read again without looking

}  // namespace

const worth::Things& Market::things() {
    const std::lock_guard lock(mutex_);
    if (things_ == nullptr) things_ = std::make_unique<const worth::Things>(book_);
    return *things_;
}

Expected<void> Market::refresh() {
    const auto newest = store_.recent(1);
    if (!newest) return std::unexpected(newest.error());
    const std::int64_t change = newest->empty() ? 0 : newest->front().id;
    if (sales_ != nullptr && change == seen_change_) return {};
    if (sales_ != nullptr && change > seen_change_ && change - seen_change_ <= kLookedBack) {
        const auto since = store_.recent(static_cast<int>(change - seen_change_));
        if (!since) return std::unexpected(since.error());
        const bool sold = std::ranges::any_of(
            *since, [&](const store::Change& c) { return c.id > seen_change_ && c.entity == "sale"; });
        seen_change_ = change;
        if (!sold) return {};
    }
    auto read = exchange::kept_sales(store_);
    if (!read) return std::unexpected(read.error());
    sales_ = std::make_shared<const exchange::KeptSales>(std::move(*read));
    priced_.clear();
    seen_change_ = change;
    return {};
}

Expected<std::shared_ptr<const exchange::KeptSales>> Market::sales() {
    const std::lock_guard lock(mutex_);
    if (auto fresh = refresh(); !fresh) return std::unexpected(fresh.error());
    return sales_;
}

Expected<Priced> Market::prices(const std::string& currency) {
    const std::lock_guard lock(mutex_);
    if (auto fresh = refresh(); !fresh) return std::unexpected(fresh.error());
    if (const auto known = priced_.find(currency); known != priced_.end()) return known->second;
    if (things_ == nullptr) things_ = std::make_unique<const worth::Things>(book_);
    auto priced = exchange::priced(*sales_, currency, *things_, now_());
    if (!priced) return priced;
    priced_[currency] = *priced;
    return priced;
}

}  // namespace footring::server
