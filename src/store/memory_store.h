// store/memory_store.h - a store that forgets everything: for tests of what stands on a store, and as proof that
// the
//   contract asks nothing of a database but what tables.h says. Each write copies the data: keep it small.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>

#include "store/store.h"

namespace footring::store {

std::unique_ptr<Store> open_in_memory(Now now);

}  // namespace footring::store
