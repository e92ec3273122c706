// worth/thing.h - what prices depend on: one thing that was sold, or that is to be priced, tied to the Book.
//   Forms, shapes and treatments are full ids ("pack:id"), so that a sale and a piece that name the same row
//   differently meet. An id that no open pack has stands for itself: its sales still tell of one another.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "book/book.h"
#include "worth/sale.h"

namespace footring::worth {

struct Thing {
    std::string form, treatment, shape;  // empty: not known
    std::string decoration;              // all ornaments of the treatment with their places; empty: not known
    std::optional<double> size_mm;
    Condition condition = Condition::kUnsaid;
    std::string grade;
    Market market = Market::kUnsaid;
    std::string venue;
    friend bool operator==(const Thing&, const Thing&) = default;
};

// Makes things of one Book, which must outlive it. Any thread may ask.
class Things {
  public:
    explicit Things(const book::Book&);
    Thing of(const Sale&) const;
    Thing of(std::optional<book::Ref<book::Treatment>>, std::optional<book::Ref<book::Form>>) const;

    std::string form_key(std::string_view id) const;
    std::string shape_key(std::string_view id) const;
    std::string treatment_key(std::string_view id) const;
    std::optional<book::Ref<book::Treatment>> treatment(std::string_view id) const;

    // As people call them; the key itself when no open pack has it.
    std::string form_name(const std::string& key) const;
    std::string shape_name(const std::string& key) const;
    std::string treatment_name(const std::string& key) const;   // "117 Fern"
    std::string decoration_name(const std::string& key) const;  // "Fern pair, Gold line"
    const book::Book& book() const { return book_; }

  private:
    void add_treatment(Thing&, book::Ref<book::Treatment>) const;
    const book::Book& book_;
    std::vector<std::string> decorations_;  // by treatment
    std::unordered_map<std::string, std::string> decoration_names_;
    // Bare and full ids, for the hundred thousand sales that ask; an id that several packs have is left out.
    std::unordered_map<std::string, std::uint32_t> forms_, shapes_, treatments_;
};

}  // namespace footring::worth
