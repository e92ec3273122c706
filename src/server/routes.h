// server/routes.h - every operation of the API, in the order of openapi.json.
//   To add one: 1. a handler in the api_*.cpp of its subject and a line there, with the role that it needs; 2. its
//   path, parameters, answers and schemas in openapi.json; 3. a call in tests/openapi/calls.mjs. server_test.cpp
//   and tests/openapi notice when one of the three is missing.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

#include "server/request.h"

namespace footring::server {

std::vector<Route> routes();          // all of the below, and GET /api/openapi.json
std::vector<Route> door_routes();     // signing in and out
std::vector<Route> backup_routes();   // copies of the database
std::vector<Route> people_routes();   // accounts, the audit trail
std::vector<Route> examine_routes();  // health, settings, examine, apart, key
std::vector<Route> glyph_routes();    // glyphs, rim strips, drawings
std::vector<Route> years_routes();    // chronologies
std::vector<Route> dating_routes();   // dates, clues, codes, sequences, what is unseen, assemblages
std::vector<Route> care_routes();     // cautions and limits
std::vector<Route> book_routes();     // the reference and search
std::vector<Route> piece_routes();    // pieces and decisions
std::vector<Route> change_routes();   // lots, bulk changes, history and undo
std::vector<Route> photo_routes();
std::vector<Route> reading_routes();    // photographs read, corrected, suggested from; the queue
std::vector<Route> letter_routes();     // letters, replies, sightings
std::vector<Route> service_routes();    // services, compositions, why a piece may serve
std::vector<Route> allotment_routes();  // jobs, tables, wants, parting, finds, comparison
std::vector<Route> sales_routes();      // recorded sales
std::vector<Route> worth_routes();      // estimates, history, portfolio, schedule, hauls
std::vector<Route> paper_routes();      // papers to print or to send

std::string_view openapi_document();  // src/server/openapi.json, built in

}  // namespace footring::server
