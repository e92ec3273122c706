// worth/mixed_model.h - a linear model with crossed and nested random effects, and observations that may be
// mistaken.
//   y = x b + one effect of each factor's level + noise;   effects of factor k ~ N(0, sd_k^2), noise ~ N(0,
//   noise^2) A level with many observations keeps its own mean; one with few is drawn towards the others ("partial
//   pooling").
//
//   Variances  restricted maximum likelihood (REML). With `prior_sd` s, each standard deviation besides has the
//   prior
//              Gamma(shape 2, rate 1 / s), which keeps it from 0 where the data hardly speak and otherwise gives
//              way.
//   Robust     with `robust`, each observation is sound with chance 1 - junk_share, else its noise is junk_scale
//   times
//              as wide; both are estimated (junk_share with a Beta(2, 38) prior, junk_scale between 3 and 12), and
//              what an observation counts, `counted`, is the chance that it is sound. Without junk in the data this
//              comes to the plain model. A mixture of two normals is taken rather than Student's t because a sum of
//              prices then keeps a finite mean.
//   How        the equations of the mixed model, factored by bordered_factor.h; every variance is set to the value
//              at which its derivative would vanish, the other quantities held, until nothing moves. 100,000
//              observations with 5,000 treatments take some seconds.
//   errors     kBadInput when there are no more observations than columns of x, or those depend on each other
//   source     Henderson, Biometrics 31 (1975), equations and REML; MacKay, Neural Computation 4 (1992), the fixed
//              point; Chung, Rabe-Hesketh, Dorie, Gelman and Liu, Psychometrika 78 (2013), the prior; Aitkin and
//              Wilson, Technometrics 22 (1980), mixtures for outliers. Checked against statsmodels MixedLM
//              (tests/oracle) and against dense matrices (mixed_model_test.cpp).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "worth/bordered_factor.h"

namespace footring::worth {

struct Factor {
    std::string name;
    int levels = 0;
    std::vector<int> level_of;  // by observation, 0..levels-1; -1: a level of its own, of no other observation
};
struct MixedData {
    std::vector<double> y;
    std::vector<std::vector<double>> x;  // by column; the first is usually constant
    std::vector<Factor> factors;
};
struct MixedOptions {
    std::optional<double> prior_sd;                     // absent: plain REML
    std::vector<std::optional<double>> column_sd = {};  // by column: coefficient ~ N(0, sd^2); absent: flat
    bool robust = false;
    double tolerance = 1e-4;  // largest relative change of a standard deviation at which it is done
    int most_rounds = 200;
};
class MixedFit {
  public:
    std::vector<double> sd;  // by factor
    double noise_sd = 0;     // of sound observations
    double junk_share = 0, junk_scale = 1;
    std::vector<double> counted;  // by observation: chance that it is sound
    std::vector<double> fitted;   // by observation: x b + effects
    int rounds = 0;
    bool settled = false;  // false: most_rounds were not enough; the answer is the last one

    double effect(std::size_t factor, int level) const { return solution_[unknown(factor, level)]; }
    double coefficient(std::size_t column) const { return solution_[unknown_of_column(column)]; }
    std::size_t unknown(std::size_t factor, int level) const {
        return first_[factor] + static_cast<std::size_t>(level);
    }
    std::size_t unknown_of_column(std::size_t column) const { return first_.back() + column; }
    std::size_t unknowns() const { return solution_.size(); }
    // Posterior of all unknowns given the variances: mean, and the factor of the inverse of its covariance.
    const std::vector<double>& mean() const { return solution_; }
    const BorderedFactor& precision() const { return *precision_; }

  private:
    friend class MixedSolver;
    std::vector<std::size_t> first_;  // unknown of level 0, by factor; then that of column 0
    std::vector<double> solution_;
    std::shared_ptr<const BorderedFactor> precision_;
};

Expected<MixedFit> fit_mixed(const MixedData&, const MixedOptions&);

}  // namespace footring::worth
