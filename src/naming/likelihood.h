// naming/likelihood.h - what each look makes of each hypothesis. Private to this room; the formulas are
// docs/model.md.
//   A look depends on a treatment through one of its columns (shape, glaze, number, the motif at a place) or
//   through its era (year and grade). So each look is a short table over the column's classes, never over all
//   treatments.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "looks/resolve.h"
#include "naming/posterior.h"
#include "naming/tables.h"

namespace footring::naming {

// A value out of V seen with sureness s: right with s, each other value with an equal part of 1 - s.
// With a single possible value there is nothing to confuse it with.
inline double hit(double sure, double values) { return values > 1 ? sure : 1; }
inline double miss(double sure, double values) { return values > 1 ? (1 - sure) / (values - 1) : 0; }

// P(seen | visible value): by value of the place, `none` last.
std::vector<double> seen_given_visible(const PlaceTable&, const looks::OrnamentSighting&);

// The same of all looks, by place: several at one place are explained by one visible value, so they are multiplied.
// Empty: not looked at, or no open pack records anything there, so that it tells nothing.
std::array<std::vector<double>, book::kPlaces> seen_by_place(const FormView::Tables&, const looks::Findings&);

// P(looks | motif) when all the looks at one place give `seen` by visible value, at this wear. By motif.
std::vector<double> given_motif(const PlaceTable&, const std::vector<double>& seen, book::Place, looks::Wear,
                                const Settings&);

// Its mean over the treatments: what "drawn from the frequencies" gives. `given` by motif.
double mean_over_treatments(const PlaceTable&, const std::vector<double>& given);

std::vector<double> shape_factor(const FormView::Tables&, const looks::Sighting<book::Shape>&);  // by shape
std::vector<double> glaze_factor(const FormView::Tables&,
                                 const looks::Sighting<book::Glaze>&);  // by glaze, none last

// Numbers as read. `matched` are the listed numbers that fit the pattern.
struct NumberReading {
    bool absent = false;  // looked at, no number
    double sure = 1;
    std::vector<char> matched;                                        // by number
    bool fits_unlisted = false;                                       // a number that no pack lists could read so
    double mismatch = 0;                                              // P(read | a number that does not fit)
    double given(std::uint32_t number, double numbered_share) const;  // kNone: a number that no pack lists
};
NumberReading read_number(const FormView::Tables&, const looks::NumberSighting&);

// P(faults | grade): by grade (first, second), by Faults.
std::array<std::array<double, 3>, 2> faults_given_grade(const Settings&);

// The years that a date code can mean on ware of a context, none of them outside its maker's or the Book's. The
// scheme is that of the mark that was seen where the context has it, else every scheme of its maker; a scheme that
// the code does not follow says nothing. By year. `followed`: takes the schemes that it follows.
std::vector<bool> decoded_years(const FormView::Tables&, const MarkContext&, const looks::Findings&,
                                std::vector<std::uint32_t>* followed = nullptr);
// P(code | year): the decoded years with `sure`, every other year of the maker an equal part of the rest.
std::vector<double> code_by_year(const FormView::Tables&, const MarkContext&, const std::vector<bool>& decoded,
                                 double sure);

// Everything that speaks of year and grade: faults, mark, date code.
class EraEvidence {
  public:
    EraEvidence(const FormView::Tables&, const looks::Findings&);

    // P(all of it | era), years and grades summed out.
    double given(std::uint32_t era) const { return given(era, Look::kAll); }
    // P(all of it | period, grade first), and grade second, years summed out. In the same pass adds the weights
    // times P(year, all of it | period, grade) to by_year[grade][year].
    std::pair<double, double> weigh(const Period&, double weight_first, double weight_second,
                                    std::array<std::vector<double>, 2>& by_year) const;
    // Adds weight times the same of all eras of a context at once, each with its frequency.
    void spread_context(std::uint32_t context, double weight, std::array<std::vector<double>, 2>& by_year) const;

    // P(all of it | year, grade) in a context.
    double likelihood(std::uint32_t context, std::size_t year, std::size_t grade) const {
        return all_.empty() ? faults_[grade] : all_[context][grade][year];
    }

    // One look alone, for the reasons: P(look | year, grade) by context; see of_context().
    enum class Look { kFaults, kMark, kCode, kAll };
    double given(std::uint32_t era, Look) const;
    // Sum over years and grades of weight[grade][year] * P(look | year, grade) in one context.
    double of_context(std::uint32_t context, const std::array<std::vector<double>, 2>& weight, Look) const;

  private:
    // By context, by grade, by year. No entry: the look was not made, or faults alone were.
    using ByContext = std::vector<std::array<std::vector<double>, 2>>;
    const ByContext& table(Look) const;
    std::array<double, 2> faults_of(Look) const;  // P(look | grade) where it has no table
    const FormView::Tables& t_;
    std::array<double, 2> faults_{1, 1};
    ByContext mark_, code_, all_, none_;
};

// The maker of the context could have put the mark on its shape in that year, on ware of that grade.
bool could_carry(const MarkContext&, std::uint32_t mark, const FormView::Tables&, std::size_t year,
                 std::size_t grade);
// P(mark seen as it was | year, grade): a mark of the packs, one that is not recognised, or none.
double seen_mark_given(const FormView::Tables&, const MarkContext&, const looks::Sighting<book::Mark>&,
                       std::size_t year, std::size_t grade);
// P(mark seen as `mark`), see docs/model.md. `mark` kNone: looked at, unmarked.
double mark_given(const FormView::Tables&, const MarkContext&, std::uint32_t mark, double sure, std::size_t year,
                  std::size_t grade);

}  // namespace footring::naming
