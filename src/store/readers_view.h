// store/readers_view.h - a store as a reader sees it: the one place where private things are left out.
//   Whatever is answered to a reader, exported or published is asked of this view, so that no route and no format
//   has to think of it. What a view does not know it does not show.
//   left out  private pieces with their photographs and readings; what pieces and lots cost, and of a lot where and
//             when it was bought and the note on it; of a letter everything but which pieces are in it; kinds of
//             records that record_kinds.h does not show to readers; the history, but for its numbers; people
//   errors    kNotFound for what is private, as if it were not there; kNotAllowed for every change
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>

#include "store/store.h"

namespace footring::store {

// `store` must outlive it.
std::unique_ptr<Store> for_readers(Store& store);

}  // namespace footring::store
