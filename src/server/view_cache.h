// server/view_cache.h - the Book as seen at each form, made once and kept: examine then answers in milliseconds.
//   Holds at most `most` views and forgets the one that was not asked for the longest; a view in use lives on with
//   whoever holds it. Two threads that ask for the same new view wait for one making.
//   Thread rule: any thread may call anything. The Book must outlive the cache.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <functional>
#include <future>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "naming/form_view.h"

namespace footring::server {

class ViewCache {
  public:
    using Form = std::optional<book::Ref<book::Form>>;
    using View = std::shared_ptr<const naming::FormView>;
    using Make = std::function<Expected<View>(Form)>;

    // `alike`: by form, the form whose view serves for it (book::shown_alike); empty: each has its own.
    explicit ViewCache(Make make, std::size_t most = 48, std::vector<book::Ref<book::Form>> alike = {})
        : make_(std::move(make)), most_(most), alike_(std::move(alike)) {}

    Expected<View> at(Form form);  // the problem of `make`, which is not kept; throws what `make` throws
    void forget();                 // the counts of the prior changed
    std::size_t size() const;

  private:
    Expected<View> kept_or_made(Form form);
    struct Kept {
        Form form;
        std::shared_future<Expected<View>> view;
        std::uint64_t number;  // tells this making from a later one of the same form
    };
    Make make_;
    std::size_t most_;
    std::vector<book::Ref<book::Form>> alike_;
    mutable std::mutex mutex_;
    std::uint64_t makings_ = 0;
    std::list<Kept> kept_;  // most recently asked for first
};

}  // namespace footring::server
