// exchange/names.h - what people write in a cell, turned into ids of the reference.
//   "oat", "demo:oat" and "Oat" are the same glaze. A name that several rows have is not taken: it has to be an id.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "store/store.h"

namespace footring::exchange {

class Names {
  public:
    explicit Names(const book::Book& book);

    // The id to be kept for the text; kBadInput with a suggestion when nothing is called so.
    Expected<std::string> form(const std::string& text, const std::string& where) const;
    Expected<std::string> shape(const std::string& text, const std::string& where) const;
    Expected<std::string> glaze(const std::string& text, const std::string& where) const;
    Expected<std::string> ornament(const std::string& text, const std::string& where) const;
    Expected<std::string> mark(const std::string& text, const std::string& where) const;       // id or wording
    Expected<std::string> treatment(const std::string& text, const std::string& where) const;  // id, number or name

    // The treatments of a shape that have this number, whatever the case of its letters.
    std::vector<book::Ref<book::Treatment>> numbered(book::Ref<book::Shape>, const std::string& number) const;

  private:
    using Ids = std::unordered_map<std::string, std::vector<std::string>>;  // lower-case name -> ids
    template <class T>
    Expected<std::string> id_of(const Ids&, const std::string& text, const std::string& where) const;
    const book::Book& book_;
    Ids forms_, shapes_, glazes_, ornaments_, marks_, treatments_;
    std::unordered_map<std::string, std::vector<book::Ref<book::Treatment>>> numbered_;  // by shape and number
};

// "pack:id" of a treatment, and the words by which a piece decided so is also found.
std::string full_id(const book::Book&, book::Ref<book::Treatment>);
std::string words_of(const book::Book&, book::Ref<book::Treatment>);

// Gives the decision's treatment its full id and the record its search words; "unlisted" and "elsewhere" stay.
// kBadInput when no open pack has the treatment.
Expected<void> settle_decision(store::PieceRecord&, const book::Book&, const std::string& where);

}  // namespace footring::exchange
