// naming/apart.h - what tells treatments apart on a form, and twins.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"

namespace footring::naming {

struct Difference {
    std::string look;                 // a place, or shape, glaze
    std::vector<std::string> values;  // what is seen there, one per treatment in the order asked; "none" for bare
};
struct Apart {
    std::vector<Difference> differences;               // at the form asked; empty: twins there
    std::vector<book::Ref<book::Form>> telling_forms;  // forms on which at least two of them differ
    // the treatments asked, grouped by what cannot be told apart at the form
    std::vector<std::vector<book::Ref<book::Treatment>>> twin_groups;
};
Apart apart(const book::Book&, std::optional<book::Ref<book::Form>>,
            const std::vector<book::Ref<book::Treatment>>&);

// Treatments with the same shape, glaze and distribution of ornaments at every place of this form.
// Groups of two or more, in the order of the Book.
std::vector<std::vector<book::Ref<book::Treatment>>> twins(const book::Book&, std::optional<book::Ref<book::Form>>);

}  // namespace footring::naming
