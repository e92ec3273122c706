// worth/least_squares.h - ordinary linear least squares by Householder QR with column pivoting.
//   in      x, one row an observation and one column a parameter; y; at least as many rows as columns
//   out     the parameters with their standard errors, the residual standard deviation, R squared, F
//   errors  kBadInput when there are too few rows, when a number is not finite, or when the columns depend on each
//           other (to the precision of the arithmetic)
//   How     in long double (64 bits of mantissa on x86-64), every column scaled to length 1 before: a polynomial of
//           degree 10 in the raw x, whose columns span ten powers of ten, keeps 6 digits and more.
//   source  Golub and Van Loan, Matrix Computations, section 5.3 (QR); Lawson and Hanson, Solving Least Squares
//           Problems, chapter 25 (column scaling). Checked against the certified values of the eleven linear sets
//           of the NIST Statistical Reference Datasets (tests/facts/nist_strd).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Dense>
#include <vector>

#include "base/problem.h"

namespace footring::worth {

using Real = long double;
using RealMatrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
using RealVector = Eigen::Matrix<Real, Eigen::Dynamic, 1>;

struct LeastSquares {
    std::vector<double> coefficients, standard_errors;
    double residual_sd = 0;  // 0 when there are as many parameters as observations
    double r_squared = 0;    // about the mean with `has_constant`, else about 0
    double f = 0;            // of the regression; infinite when nothing is left over
    int residual_freedom = 0;
};
// has_constant: one of the columns is constant, so that R squared and F are about the mean.
Expected<LeastSquares> least_squares(const RealMatrix& x, const RealVector& y, bool has_constant);

}  // namespace footring::worth
