// worth/prices.h - what sales say of prices: a hedonic model of the logarithm of the price, fitted once and then
// asked.
//   log price = constant + trend * years + size + form + shape + decoration + treatment + treatment in this form
//               + condition + grade + market + venue + year + noise
//   All but the first three are random effects (mixed_model.h), so that a rare treatment borrows from its
//   decoration, its shape and its form as far as these are known to matter. Sales of unidentified pieces take part
//   with an effect of their own. Venues with fewer than 3 sales stand together. in      sales of one currency, each
//   sound (sale.h); at least kFewestSales of them errors  kNotFound when there are too few sales Deterministic: the
//   same sales in the same order give the same answers. Const: any thread may ask. source  docs/worth.md, with the
//   formulas; hedonic regression: Rosen, Journal of Political Economy 82 (1974)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "worth/mixed_model.h"
#include "worth/outlook.h"
#include "worth/thing.h"

namespace footring::worth {

inline constexpr std::size_t kFewestSales = 8;

// In this order the factors of the model. To add one: a line here and in kTermNames, and its key in term_key().
enum class Term : std::uint8_t {
    kForm,
    kShape,
    kDecoration,
    kTreatment,
    kCell,
    kCondition,
    kGrade,
    kMarket,
    kVenue,
    kYear
};
inline constexpr std::size_t kTerms = 10;
inline constexpr std::array<std::string_view, kTerms> kTermNames = {
    "form",      "shape", "decoration", "treatment", "treatment in this form",
    "condition", "grade", "market",     "venue",     "year"};

// The trend, and how the parts of a price differ among the things that were sold.
struct Trend {
    double a_decade = 0, sd = 0;  // of the logarithm
};

// Where a thing and a date stand in the model: unknowns that sales speak of, and levels that no sale has.
struct Bearing {
    std::vector<std::pair<std::size_t, double>> known;  // unknown, factor
    std::vector<std::pair<Term, std::string>> fresh;
};
// A part of a price: the logarithm of the factor that it is, with one standard deviation.
struct Part {
    std::string term;   // of kTermNames; "time" (trend and year); "size"
    std::string level;  // key; empty: not said
    double effect = 0, sd = 0;
    std::size_t sales = 0;  // at this level
};

class Prices {
  public:
    // Every sale has the same currency. `today` for the date of the newest possible sale.
    static Expected<std::shared_ptr<const Prices>> fit(std::vector<Sale> sales, const Things&,
                                                       std::string_view today);

    const std::string& currency() const { return currency_; }
    const std::vector<Sale>& sales() const { return sales_; }
    double year(std::size_t sale) const { return years_[sale]; }
    double counted(std::size_t sale) const { return fit_.counted[sale]; }  // chance that the record is sound
    double log_expected(std::size_t sale) const { return fit_.fitted[sale]; }
    double first_year() const { return first_year_; }
    double last_year() const { return last_year_; }
    Market usual_market() const { return usual_market_; }  // of most sales
    std::size_t sales_at(Market) const;

    Bearing bearing(const Thing&, double year) const;
    Outlook outlook(const Bearing&) const;
    Outlook outlook(const Thing& thing, double year) const { return outlook(bearing(thing, year)); }
    double base() const;                                       // exp(constant): the price before all parts
    std::vector<Part> parts(const Thing&, double year) const;  // base times exp of all effects is the middle price
    // How far a sale is of the same kind of thing: the share of the variance between things that the two have in
    // common, 0 to 1.
    double alike(const Thing&, std::size_t sale) const;
    std::vector<std::string> same_terms(const Thing&, std::size_t sale) const;  // "treatment", "form" ...

    const MixedFit& model() const { return fit_; }
    std::size_t levels(Term term) const { return keys_[static_cast<std::size_t>(term)].size(); }  // that have names
    Trend trend() const;

    // The middle of the logarithm of a price in draw `at` of the posterior: what all prices have in common is the
    // same in one draw. draws() of them.
    std::size_t draws() const;
    double draw(const Bearing&, std::size_t at) const;

  private:
    Prices() = default;
    std::string term_key(const Thing&, Term, double year) const;  // empty: not said
    const int* level_of(Term, const std::string& key) const;
    void count_venues();
    double size_of(const Thing&) const;
    void make_draws() const;

    std::string currency_;
    std::vector<Sale> sales_;
    std::vector<Thing> things_;  // by sale
    std::vector<double> years_;
    double first_year_ = 0, last_year_ = 0, centre_ = 0;
    Market usual_market_ = Market::kUnsaid;
    std::array<std::unordered_map<std::string, int>, kTerms> keys_;  // named levels
    std::array<std::vector<std::uint32_t>, kTerms> sales_at_;        // by level
    std::unordered_map<std::string, double> usual_size_;             // by form
    std::vector<Factor> factors_;
    MixedFit fit_;
    mutable std::once_flag drawn_;
    mutable std::vector<float> draws_;  // draw by draw
    mutable std::size_t many_draws_ = 0;
};

}  // namespace footring::worth
