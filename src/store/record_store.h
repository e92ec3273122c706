// store/record_store.h - the rules of the store, the same for every database: ids, conflicts, history, undo.
//   Every change is one step `write(before, after)` on one record, so that putting, removing, undoing and doing
//   again are the same act, and none of them can forget its history.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>

#include "store/tables.h"

namespace footring::store {

std::unique_ptr<Store> make_store(std::unique_ptr<Tables>, std::unique_ptr<Blobs>, Now);

}  // namespace footring::store
