// naming/form_view.h - the Book as seen at one form, laid out for fast enumeration.
//   Made once per form and reused for every piece of that form; it refers to the Book, which must outlive it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <span>

#include "base/settings.h"
#include "book/book.h"

namespace footring::naming {

class FormView {
  public:
    // `form` absent: the form is not known, and the answer is the mean over the forms of the Book.
    // `counts`: pieces or sightings per treatment for the prior, in the order of Book::treatments; empty: equal.
    FormView(const book::Book&, std::optional<book::Ref<book::Form>> form, const Settings&,
             std::span<const double> counts = {});
    // The same at another form, at which every treatment is shown alike (book::shown_alike); made at no cost.
    FormView(const FormView&, book::Ref<book::Form>);
    ~FormView();
    FormView(FormView&&) noexcept;

    const book::Book& book() const;
    std::optional<book::Ref<book::Form>> form() const;
    const Settings& settings() const;

    struct Tables;
    const Tables& tables() const { return *tables_; }  // for the rest of this room only (naming/tables.h)

  private:
    std::shared_ptr<const Tables> tables_;
    std::optional<book::Ref<book::Form>> form_;
};

}  // namespace footring::naming
