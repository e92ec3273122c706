// exchange/site.h - the Book and chosen pieces as a folder of pages: a site that needs no server.
//   It opens from a disk and can be put on any web server as it is. Nothing in it is loaded from elsewhere and
//   nothing counts visitors. Every row of the Book has an address that stays: TABLE/PACK/ID.html; pieces/ID.html.
//   Search runs in the page, over search-index.js; without scripts the lists lead everywhere.
//   Photographs are made anew from their pixels, so that what a camera wrote into a file (where, when, whose) stays
//   home. Costs, lots, places and notes are no part of a Described piece and so no part of the site. errors  those
//   of `photo` and `write`, at once
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "exchange/described.h"

namespace footring::exchange {

struct SiteOptions {
    std::string title;  // empty: the titles of the packs
    std::string note;   // a sentence under the title: who made it, when, whom to write to
};
struct SiteCount {
    int pages = 0, pieces = 0, photographs = 0;
};
// A JPEG without anything but pixels, of the photograph of that SHA-256; empty: it cannot be shown.
using SitePhoto = std::function<Expected<std::string>(const std::string& sha256)>;
using SiteWrite = std::function<Expected<void>(const std::string& path, std::string_view bytes)>;

Expected<SiteCount> write_site(const book::Book&, const std::vector<Described>& pieces, const SiteOptions&,
                               const SitePhoto& photo, const SiteWrite& write);

}  // namespace footring::exchange
