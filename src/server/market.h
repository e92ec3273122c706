// server/market.h - the sales that are kept, and the model fitted to them, ready for the next question.
//   Sales are read again when one changed, and a model is fitted when it is first asked for; both are then shared.
//   Thread rule: any thread may call anything. Book and store must outlive it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "book/book.h"
#include "exchange/reckoned.h"
#include "store/store.h"

namespace footring::server {

using exchange::Priced;

class Market {
  public:
    Market(const book::Book& book, const store::Store& store, store::Now now)
        : book_(book), store_(store), now_(std::move(now)) {}

    const worth::Things& things();  // made when it is first asked for
    Expected<std::shared_ptr<const exchange::KeptSales>> sales();
    // The model of one currency; empty: that of most sales. kNotFound when there are too few sales of it.
    Expected<Priced> prices(const std::string& currency);

  private:
    Expected<void> refresh();  // under the lock

    const book::Book& book_;
    const store::Store& store_;
    const store::Now now_;
    std::mutex mutex_;
    std::unique_ptr<const worth::Things> things_;
    std::int64_t seen_change_ = -1;
    std::shared_ptr<const exchange::KeptSales> sales_;
    std::map<std::string, Priced> priced_;
};

}  // namespace footring::server
