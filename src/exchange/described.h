// exchange/described.h - a piece as others want to read it: names in place of ids, dates as days, who says so.
//   The open formats (Linked Art, IIIF, Dublin Core) and the site are written from this one description, so that
//   they agree. What the person decided is what is said; where nothing was decided, only what was seen is. Costs,
//   lots and where a piece is kept are no part of it: they are nobody else's business.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "edtf/edtf.h"
#include "store/store.h"

namespace footring::exchange {

// An open format names things by addresses: those of the program's own server when nothing else is asked for.
inline constexpr std::string_view kOwnBase = "http://127.0.0.1:8377/";

struct Described {
    std::string id, title;     // "p-0041", "Sugar, Harrow, 117 Fern pair"
    std::string summary;       // one sentence or several: what it is, how it is decorated, who says so
    std::string form, aat;     // name; URI of the form in the Art & Architecture Thesaurus, or empty
    std::string ware;          // flat, hollow, or empty
    std::string shape, glaze;  // names, or empty
    std::string number;        // of the treatment that was decided, else as it was read
    std::string grade;         // first, second, or empty
    std::string date_words;    // "between 1931 and 1940", or empty
    std::optional<edtf::Edtf> date;
    std::optional<std::pair<std::string, std::string>> maker;      // full id, name
    std::optional<std::pair<std::string, std::string>> treatment;  // the same
    std::vector<std::pair<std::string, std::string>> ornaments;    // those decided or seen, each once
    std::vector<std::string> decoration;                           // "Rim: Fern pair (gold stamp)"
    std::string mark;                                              // its wording, or empty
    std::vector<std::string> condition;                            // "Wear: moderate."
    std::optional<double> length_mm, width_mm, height_mm;
    std::vector<std::string> sources;  // titles of what the treatment rests on
    bool decided = false;
    std::vector<store::PhotoMeta> photos;
};

// Ids that no open pack has are shown as they stand.
Described describe(const book::Book&, const store::PieceRecord&, std::vector<store::PhotoMeta> photos);

// The text as a base: kOwnBase when it is empty; kBadInput when it is no http address.
Expected<std::string> base_address(const std::string& text, std::string_view where);

// BASE and a path under it, its parts percent-encoded: address("http://a/", {"pieces", "p-1"}).
std::string address(std::string_view base, const std::vector<std::string>& parts);

}  // namespace footring::exchange
