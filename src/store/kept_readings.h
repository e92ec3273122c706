// store/kept_readings.h - how a reading comes into the store with its pictures, whoever made it.
//   errors  kNotFound: the bytes of the photograph are not here; kBadInput: a kind of picture that is none
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <map>
#include <string>

#include "store/tables.h"

namespace footring::store {

// Two readings of one photograph at once would each take the other's pictures away: so its pictures come with its
// row, and go when the row that holds then does not name them. `first` may refuse, within the same transaction.
Expected<Reading> keep_reading(Tables&, Blobs&, const Now&, Reading,
                               const std::map<std::string, std::string>& pictures,
                               const std::function<Expected<void>(Writer&)>& first);

}  // namespace footring::store
