// exchange/site_book.h - the pages of the Book: a list of each table and a page for each row.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "book/book.h"
#include "exchange/site_page.h"

namespace footring::exchange {

// A line of the search: what it is called, what it is, something to tell it by, where it is.
struct SiteFind {
    std::string name, kind, detail, path;
};
// Pieces by the full id of the treatment that was decided: links to them.
struct SitePieceLink {
    std::string id, title, path;
};
using PiecesByTreatment = std::map<std::string, std::vector<SitePieceLink>>;

// Gives every page of the Book, in the order of its tables, to `page`; adds a line for each row to `finds`.
Expected<void> book_pages(const book::Book&, const PiecesByTreatment&, std::vector<SiteFind>& finds,
                          const std::function<Expected<void>(const SitePage&)>& page);

// The name of a treatment as people say it: "117 Fern pair".
std::string spoken(const book::Treatment&);

}  // namespace footring::exchange
