// store/undo.h - takes a batch back, whole, or says why not.
//   A change can be undone while its record is as the change left it, or is so again: what happened since would
//   be lost otherwise. So one walks back change by change, and forth again by undoing the undoings.
//   errors  kNotFound: no such batch; kConflict: undone already, or changed since; nothing is done then
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/tables.h"

namespace footring::store {

// Returns the new batch. `blobs` is asked whether the bytes of a photograph that comes back are still there.
Expected<std::int64_t> undo_batch(Writer&, const Blobs& blobs, const std::string& when, const std::string& who,
                                  std::int64_t batch);

}  // namespace footring::store
