// SPDX-License-Identifier: Apache-2.0
#include "worth/least_squares.h"

#include <fmt/format.h>

#include <cmath>
#include <limits>

namespace footring::worth {

namespace {

// Below this, relative to the largest, what is left of a column is rounding. A polynomial of degree 10 over a range
// of 6 away from zero (the NIST set Filip) comes down to about 1e-10.
constexpr Real kDependent = 64 * std::numeric_limits<Real>::epsilon();

}  // namespace

Expected<LeastSquares> least_squares(const RealMatrix& x, const RealVector& y, bool has_constant) {
    const Eigen::Index n = x.rows(), p = x.cols();
    if (n != y.size() || p == 0 || n < p)
        return fail(ProblemCode::kBadInput, "least squares",
                    fmt::format("{} observations cannot settle {} parameters", n, p),
                    "give at least as many observations as parameters");
    if (!x.allFinite() || !y.allFinite())
        return fail(ProblemCode::kBadInput, "least squares", "a number is not finite",
                    "leave out observations that are not known");
    RealVector scale = x.colwise().norm().transpose();
    for (Eigen::Index j = 0; j < p; ++j)
        if (scale[j] == 0) scale[j] = 1;
    const RealMatrix scaled = x * scale.cwiseInverse().asDiagonal();
    Eigen::ColPivHouseholderQR<RealMatrix> qr(scaled);
    qr.setThreshold(kDependent);
    if (qr.rank() < p)
        return fail(ProblemCode::kBadInput, "least squares",
                    fmt::format("only {} of {} columns are independent", static_cast<int>(qr.rank()), p),
                    "leave out what the others already say");
    RealVector beta = qr.solve(y);
    // One step of refinement takes away most of the rounding of the first solution.
    beta += qr.solve(y - scaled * beta);
    const RealVector residual = y - scaled * beta;

    LeastSquares out;
    out.residual_freedom = static_cast<int>(n - p);
    const Real left = residual.squaredNorm();
    const Real variance = n > p ? left / static_cast<Real>(n - p) : 0;
    out.residual_sd = static_cast<double>(std::sqrt(variance));
    // (R'R)^-1 = R^-1 R^-T: the variance of a parameter is the squared length of a row of R^-1.
    const RealMatrix r = qr.matrixR().topLeftCorner(p, p);
    const RealMatrix inverse = r.triangularView<Eigen::Upper>().solve(RealMatrix::Identity(p, p));
    const RealMatrix unpivoted = qr.colsPermutation() * inverse;
    for (Eigen::Index j = 0; j < p; ++j) {
        out.coefficients.push_back(static_cast<double>(beta[j] / scale[j]));
        out.standard_errors.push_back(
            static_cast<double>(std::sqrt(variance) * unpivoted.row(j).norm() / scale[j]));
    }
    const Real about = has_constant ? y.mean() : Real{0};
    const Real total = (y.array() - about).matrix().squaredNorm();
    out.r_squared = total > 0 ? static_cast<double>(1 - left / total) : 0;
    const Eigen::Index explained = p - (has_constant ? 1 : 0);
    const Real fitted = (scaled * beta).array().operator-(about).matrix().squaredNorm();
    if (explained > 0)
        out.f = variance > 0 ? static_cast<double>(fitted / static_cast<Real>(explained) / variance)
                             : std::numeric_limits<double>::infinity();
    return out;
}

}  // namespace footring::worth
