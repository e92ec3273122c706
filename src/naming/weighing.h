// naming/weighing.h - one piece weighed against every hypothesis: the joint masses that all answers are read from.
//   Private to this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "naming/likelihood.h"

namespace footring::naming {

// One wear that the piece may have: the stated one, or all four equally when none is stated.
struct WearCase {
    looks::Wear wear;
    double prior;
    std::array<std::vector<double>, book::kPlaces> given_motif;  // by motif; empty: place not looked at
    double open = 1;                                             // product over places of the mean over treatments
    std::vector<double> rows;                                    // joint mass of each row with this wear
};

struct Weighing {
    const FormView::Tables& t;
    const looks::Findings& findings;
    EraEvidence era_evidence;
    std::vector<double> shape, glaze;  // factors; empty: not looked at
    std::optional<NumberReading> number;
    std::array<std::vector<double>, book::kPlaces> seen;  // P(looks | visible value) by place; empty: not looked at
    std::vector<WearCase> wears;
    std::vector<double> number_given;  // by number class; empty: not looked at
    std::vector<double> era_given;     // by era
    std::vector<double> bodies;        // mass of each body of the unlisted hypothesis, without its era's evidence

    // Posterior. Rows, unlisted and elsewhere sum to 1, unless nothing is possible (then impossible is true).
    std::vector<double> rows;
    double unlisted = 0, elsewhere = 0;
    bool impossible = false;
    std::array<std::vector<double>, 2> by_year;  // by grade, by year; sums to 1

    Weighing(const FormView::Tables&, const looks::Findings&);
    std::vector<double> by_treatment() const;  // rows summed up by treatment
    // Mean over the treatments of what a look makes of them: what "drawn from the frequencies" gives.
    double mean_shape() const, mean_glaze() const, mean_number() const;

  private:
    void weigh_places();
    void weigh_columns();  // rows and bodies, before what speaks of year and grade
    void weigh_eras();
    void weigh_elsewhere();
    std::vector<double> by_era_;  // mass before the era's own evidence
};

}  // namespace footring::naming
