// SPDX-License-Identifier: Apache-2.0
#include "server/view_cache.h"

#include <algorithm>
#include <utility>

namespace footring::server {

Expected<ViewCache::View> ViewCache::at(Form form) {
    const Form first = form && form->at < alike_.size() ? Form(alike_[form->at]) : form;
    auto view = kept_or_made(first);
    if (!view || first == form) return view;
    return std::make_shared<const naming::FormView>(**view, *form);
}

Expected<ViewCache::View> ViewCache::kept_or_made(Form form) {
    std::promise<Expected<View>> promise;
    std::shared_future<Expected<View>> known;
    std::uint64_t number = 0;
    {
        const std::lock_guard lock(mutex_);
        const auto found = std::ranges::find(kept_, form, &Kept::form);
        if (found != kept_.end()) {
            kept_.splice(kept_.begin(), kept_, found);
            known = kept_.front().view;
        } else {
            number = ++makings_;
            kept_.push_front({form, promise.get_future().share(), number});
            if (kept_.size() > most_) kept_.pop_back();
        }
    }
    if (known.valid()) return known.get();
    const auto drop = [&] {
        const std::lock_guard lock(mutex_);
        std::erase_if(kept_, [number](const Kept& kept) { return kept.number == number; });
    };
    try {
        Expected<View> made = make_(form);
        promise.set_value(made);
        if (!made) drop();
        return made;
    } catch (...) {
        promise.set_exception(std::current_exception());
        drop();
        throw;
    }
}

void ViewCache::forget() {
    const std::lock_guard lock(mutex_);
    kept_.clear();
}

std::size_t ViewCache::size() const {
    const std::lock_guard lock(mutex_);
    return kept_.size();
}

}  // namespace footring::server
