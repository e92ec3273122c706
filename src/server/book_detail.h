// server/book_detail.h - one row of the reference with everything that uses it or speaks of it.
//   errors  those of the store, which is asked how many pieces were given a treatment
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>

#include "server/app.h"
#include "server/book_json.h"

namespace footring::server {

using Detail = std::expected<ordered_json, Problems>;

Detail detail_json(App&, book::Ref<book::Maker>);
Detail detail_json(App&, book::Ref<book::Shape>);
Detail detail_json(App&, book::Ref<book::Form>);
Detail detail_json(App&, book::Ref<book::Glaze>);
Detail detail_json(App&, book::Ref<book::Ornament>);
Detail detail_json(App&, book::Ref<book::Treatment>);
Detail detail_json(App&, book::Ref<book::Mark>);
Detail detail_json(App&, book::Ref<book::Source>);
Detail detail_json(App&, book::Ref<book::Statement>);
Detail detail_json(App&, book::Ref<book::CodeScheme>);
Detail detail_json(App&, book::Ref<book::Clue>);
Detail detail_json(App&, book::Ref<book::NumberSeries>);
Detail detail_json(App&, book::Ref<book::TradeCount>);

}  // namespace footring::server
