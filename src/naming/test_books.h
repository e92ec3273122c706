// naming/test_books.h - small Books for the tests of this room: by hand, and at random.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <random>
#include <string>
#include <vector>

#include "book/book.h"
#include "looks/resolve.h"
#include "naming/examine.h"

namespace footring::naming::testing {

// Fills tables by name; every add_ returns the row's Ref. finish() builds the look-ups.
class Draft {
  public:
    book::Book book;

    Draft();
    book::Ref<book::Maker> maker(std::string id, std::string years = "", double unmarked = -1,
                                 double numbered = -1);
    book::Ref<book::Shape> shape(std::string id, book::Ref<book::Maker> maker, std::string years = "");
    book::Ref<book::Form> form(std::string id, book::Ware ware);
    book::Ref<book::Glaze> glaze(std::string id, std::string years = "");
    book::Ref<book::Ornament> ornament(std::string id, std::string finish = "gold",
                                       book::OrnamentKind kind = book::OrnamentKind::kStamp);
    book::Ref<book::Treatment> treatment(std::string number, book::Ref<book::Shape> shape,
                                         book::Ref<book::Glaze> glaze, book::Grade grade = book::Grade::kAny,
                                         std::string years = "");
    void carries(book::Ref<book::Treatment> t, book::Place place, book::Ref<book::Ornament> o, std::string on = "*",
                 double share = 1);
    book::Ref<book::Mark> mark(std::string id, book::Ref<book::Maker> maker, std::string years = "",
                               bool second = false);
    const book::Book& finish();
};

edtf::Edtf date(const std::string& text);  // must be valid

// A random Book of a few makers, shapes, glazes, forms, ornaments, treatments and marks, with every feature of the
// model in it: shares, `on` rows, soft years, second_shares, marks of seconds, missing numbers and glazes.
book::Book random_book(std::mt19937& random);
looks::Findings random_findings(const book::Book&, std::mt19937& random);

// The answer with every candidate in it, however unlikely.
Answer examined(const book::Book&, const looks::Findings&, Settings = {});
double odds_of(const Answer&, book::Ref<book::Treatment>);

}  // namespace footring::naming::testing
