// naming/tables.h - the Book laid out in columns for one form. Private to this room.
//   A row is a treatment as this form shows it. When the form is not known a treatment has one row for each
//   different way in which the forms of the Book would show it, weighted by how many forms do.
//   What rows share is stored once and pointed to: motifs (what a place carries), eras (when, by whom, what grade).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "book/decoration.h"
#include "looks/piece.h"
#include "naming/form_view.h"

namespace footring::naming {

inline constexpr std::uint32_t kNone = 0xFFFFFFFF;  // a row without glaze, number or maker

// What a place carries, as a distribution: ornaments with shares; the rest of the share is bare.
struct Motif {
    std::uint32_t begin = 0, count = 0;  // what it carries, in PlaceTable::carried
    double bare = 1;                     // 1 - sum of shares
    double prior = 0;      // prior mass of the rows that have it (treatments only, without the open hypotheses)
    double frequency = 0;  // share of the treatments that have it
};

struct PlaceTable {
    std::vector<book::Ref<book::Ornament>> values;  // seen here in any open pack; "none" comes on top
    std::vector<bool> wears_off;                    // by value: over-glaze metal or an enamel line
    std::vector<std::uint32_t> index_of;            // by ornament of the Book; kNone: never recorded here
    std::vector<Motif> motifs;
    std::vector<std::pair<std::uint32_t, double>> carried;  // of all motifs, one after the other: value, share
    std::span<const std::pair<std::uint32_t, double>> carried_by(const Motif& m) const {
        return std::span(carried).subspan(m.begin, m.count);
    }
    bool recorded() const { return !values.empty(); }
    double size() const { return static_cast<double>(values.size() + 1); }  // V of the model, none included
};

// P(year) for ware of one context, from the first year that can be to the last. Eras that differ in grade alone
// share one. The numbers stand in Tables::year_shares in the order of the periods, and these in the order of their
// contexts, since all of them are walked through for every look.
struct Period {
    std::uint32_t context;    // index into Tables::contexts
    std::uint32_t first = 0;  // index of the first year among the years of Tables
    std::uint32_t begin = 0, count = 0;
};

// When and by whom: everything that year, grade, mark and date code depend on.
struct Era {
    std::uint32_t context;  // index into Tables::contexts
    std::uint32_t period;   // index into Tables::periods
    double second;          // P(second) before any look
    double prior = 0, frequency = 0;
};

// The marks that a maker could have put on a shape.
struct MarkContext {
    std::uint32_t maker;  // kNone: shape without a maker
    std::uint32_t shape;
    double unmarked, numbered;
    std::vector<std::uint32_t> marks;                 // of the Book
    std::array<std::vector<std::uint16_t>, 2> valid;  // by grade (first, second), by year: how many of them
    std::vector<std::uint32_t> schemes;               // code schemes of its marks, each once
    int first_year, last_year;                        // of the maker, ends included
    // Sums over its eras of prior (or frequency) times P(year, grade | era): by grade, by year.
    std::array<std::vector<double>, 2> prior, frequency;
};

// A shape and glaze that some treatment has: what an unlisted treatment could be made of.
struct Body {
    std::uint32_t shape, glaze, era;  // era without ornaments and with grade any
    double frequency;
};

// A number on ware of one maker and shape: what a read number is compared with.
struct NumberClass {
    std::uint32_t number;  // index into Tables::numbers, kNone: no number is recorded
    std::uint32_t context;
    double prior = 0, frequency = 0;
};

struct FormView::Tables {
    const book::Book* book = nullptr;
    std::optional<book::Ref<book::Form>> form;
    Settings settings;
    int first_year = 0, last_year = 0;
    std::size_t years() const { return static_cast<std::size_t>(last_year - first_year + 1); }

    // One entry a row.
    std::vector<std::uint32_t> treatment, shape, glaze, number, era;  // number: index into number_classes
    std::array<std::vector<std::uint32_t>, book::kPlaces> motif;
    std::vector<double> prior;  // sums to 1 - open_prior
    std::size_t rows() const { return treatment.size(); }

    std::array<PlaceTable, book::kPlaces> place;
    std::vector<double> year_shares;
    std::vector<Period> periods;
    std::span<const double> shares(const Period& p) const {
        return std::span(year_shares).subspan(p.begin, p.count);
    }
    std::vector<Era> eras;
    std::vector<MarkContext> contexts;
    std::vector<std::vector<bool>> mark_years;  // by mark of the Book, by year: was it in use
    std::vector<Body> bodies;
    std::vector<std::string> numbers;  // each once
    std::vector<NumberClass> number_classes;
    // Treatments that no look at this form can tell apart, twins or alone; group of each treatment.
    std::vector<std::vector<std::uint32_t>> twin_groups;
    std::vector<std::uint32_t> twin_group;
    std::vector<double> shape_prior, shape_frequency, glaze_prior, glaze_frequency;  // by shape; glaze (last: none)
    double unlisted_prior = 0, elsewhere_prior = 0;
};

// Loss of over-glaze finishes at a place (docs/model.md, "Wear").
double loss(looks::Wear, book::Place, const Settings&);
bool wears_off(const book::Ornament&);

// P(second) of a treatment's pieces before any look, from its grade and its ornaments' second_share.
double second_before_looks(const book::Book&, book::Grade, const book::Decoration&, const Settings&);

}  // namespace footring::naming
