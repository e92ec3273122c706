// papers/words.h - the reference in the words that papers use: names, years, decoration, sources, and the list of
// sources
//   that a paper leans on.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/words.h"
#include "book/book.h"
#include "book/decoration.h"
#include "papers/paper.h"

namespace footring::papers {

std::string called(const book::Book&, book::Ref<book::Treatment>);     // "117 Fern pair with rosette"
std::string number_of(const book::Book&, book::Ref<book::Treatment>);  // the number, else its name, else the id
std::string shape_of(const book::Book&, book::Ref<book::Shape>);
std::string form_of(const book::Book&, book::Ref<book::Form>);
std::string date_words(const std::string& edtf);            // "April 1932"; what is no EDTF as it is
std::string years_of(const std::optional<edtf::Edtf>&);     // in words; empty when nothing is recorded
std::string short_years(const std::optional<edtf::Edtf>&);  // "about 1909\u20131923", for tables and margins
std::string grade_words(book::Grade);  // "first run", "second-grade ware", "first run and seconds"
std::string percent(double share);     // "40 %", "under 1 %"
std::string count_of(std::size_t n, const std::string& one,
                     const std::string& several);  // "one plate", "12 plates"

// "Fern pair on the rim; gold line at the edge (2 in 5 without it)"; "no decoration recorded".
std::string decoration_words(const book::Book&, const book::Decoration&);
// What an id seen at a look is called: an ornament's name, "bare", a shape, a glaze.
std::string value_words(const book::Book&, const std::string& look, const std::string& value);

// Sources get numbers in the order in which they are first leaned on; the list comes at the end.
class Bibliography {
  public:
    explicit Bibliography(const book::Book& b) : book_(b) {}
    // " [1, 4]" with links; nothing when there are none.
    Text cite(const std::vector<book::Ref<book::Source>>&);
    std::vector<Block> list() const;
    bool empty() const { return order_.empty(); }

  private:
    const book::Book& book_;
    std::vector<book::Ref<book::Source>> order_;
    std::map<std::uint32_t, std::size_t> numbers_;
};
Text source_words(const book::Source&);          // creator, title, date, locator
std::string trust_words(std::optional<double>);  // "trust 0.85", undivided; "trust not stated"

// From which packs a paper was made: the last section of each. Packs that are invented say so in their titles.
std::vector<Block> colophon(const book::Book&, const std::string& date);
std::string pack_titles(const book::Book&);  // "Potteries of the Ambrel valley (invented)"

}  // namespace footring::papers
