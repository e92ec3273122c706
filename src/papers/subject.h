// papers/subject.h - what a paper is about, and which treatments and pieces belong to it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::papers {

using Subject = std::variant<book::Ref<book::Ornament>, book::Ref<book::Treatment>, book::Ref<book::Shape>>;

// "ornament:fern-pair", "treatment:t-117", "shape:harrow"; a bare id when only one of the three tables has it.
// kBadInput: no table of ours before the colon, or an id that several have; kNotFound: no open pack has it.
Expected<Subject> subject_named(const book::Book&, std::string_view text, std::string_view where);

std::string_view table_of(const Subject&);  // "ornament", "treatment", "shape"
std::string id_of(const book::Book&, const Subject&);
std::string full_id_of(const book::Book&, const Subject&);  // "pack:id", as dated uses and statements have it
std::string name_of(const book::Book&, const Subject&);

// In the order of their first year, those without years last; then in the order of the Book.
std::vector<book::Ref<book::Treatment>> treatments_of(const book::Book&, const Subject&);

// The Book with no treatments but these, so that whatever works on a whole Book can work on a part. Refs to all
// other tables stay good; those to treatments count anew, in the order given.
book::Book part_of(const book::Book&, const std::vector<book::Ref<book::Treatment>>&);

// The form on which most of them can be told apart; of several the first in the Book. Absent: the Book has no
// forms.
std::optional<book::Ref<book::Form>> telling_form(const book::Book&,
                                                  const std::vector<book::Ref<book::Treatment>>&);

// The first and last year that a date allows; absent when it is open there.
std::optional<int> first_year(const std::optional<edtf::Edtf>&);
std::optional<int> last_year(const std::optional<edtf::Edtf>&);

}  // namespace footring::papers
