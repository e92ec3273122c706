// server/book_json.h - rows of the reference as JSON: each row with its columns by name.
//   A column that refers to another row is {id, name} (null when empty); numbers that are not recorded are null;
//   dates come as EDTF (`years`) and in words (`years_words`); `sources` are {id, title, trust}; `pack` and `row`
//   ("treatments.csv:12") say where the row stands.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"

namespace footring::server {

struct Findable;

using nlohmann::ordered_json;

ordered_json row_json(const book::Book&, book::Ref<book::Maker>);
ordered_json row_json(const book::Book&, book::Ref<book::Shape>);
ordered_json row_json(const book::Book&, book::Ref<book::Form>);
ordered_json row_json(const book::Book&, book::Ref<book::Glaze>);
ordered_json row_json(const book::Book&, book::Ref<book::Ornament>);
ordered_json row_json(const book::Book&, book::Ref<book::Treatment>);
ordered_json row_json(const book::Book&, book::Ref<book::Mark>);
ordered_json row_json(const book::Book&, book::Ref<book::Source>);
ordered_json row_json(const book::Book&, book::Ref<book::Statement>);
ordered_json row_json(const book::Book&, book::Ref<book::DatedUse>);
ordered_json row_json(const book::Book&, book::Ref<book::CodeScheme>);
ordered_json row_json(const book::Book&, book::Ref<book::Clue>);
ordered_json row_json(const book::Book&, book::Ref<book::NumberSeries>);
ordered_json row_json(const book::Book&, book::Ref<book::SeriesNumber>);
ordered_json row_json(const book::Book&, book::Ref<book::TradeCount>);

template <class T>
ordered_json named(const book::Book& book, book::Ref<T> ref) {  // {id, name}
    return {{"id", book::id_of(book, ref)}, {"name", book[ref].name}};
}
ordered_json treatment_named(const book::Book&, book::Ref<book::Treatment>);  // {id, number, name}
ordered_json sources_json(const book::Book&, const std::vector<book::Ref<book::Source>>&);
ordered_json subject_json(const book::Book&, const std::string& full_id);  // {table, id, name}
ordered_json or_null(const std::optional<double>&);

// Everything that a form needs at once.
ordered_json vocabulary_json(const book::Book&, const Settings&);

// What search looks through: makers, shapes, forms, glazes, ornaments, treatments, marks, in this order.
std::vector<Findable> findables_of(const book::Book&);

}  // namespace footring::server
