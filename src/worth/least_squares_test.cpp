// SPDX-License-Identifier: Apache-2.0
#include "worth/least_squares.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

namespace footring::worth {
namespace {

// Digits that agree: -log10 of the relative error, at most the 15 that the certified values are printed with.
double digits(double found, double certified) {
    if (found == certified) return 15;
    const double error = certified == 0 ? std::abs(found) : std::abs(found - certified) / std::abs(certified);
    return std::clamp(-std::log10(error), 0.0, 15.0);
}

nlohmann::json reference(const std::string& name) {
    std::ifstream file(std::string(FOOTRING_ROOT) + "/tests/facts/nist_strd/" + name + ".json");
    return nlohmann::json::parse(file);
}

// Certified values are decimal fractions: they are read as long double, so that powers of x are as good as the
// data.
LeastSquares fit(const nlohmann::json& set) {
    const auto n = static_cast<Eigen::Index>(set["n"].get<int>());
    const auto p = static_cast<Eigen::Index>(set["parameters"].size());
    const bool constant = set["intercept"].get<bool>();
    const std::string model = set["model"];
    RealMatrix x(n, p);
    RealVector y(n);
    const auto exact = [](const nlohmann::json& number) { return std::stold(number.dump()); };
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto at = static_cast<std::size_t>(i);
        y[i] = exact(set["y"][at]);
        Eigen::Index column = 0;
        if (constant) x(i, column++) = 1;
        const nlohmann::json& values = set["x"][at];
        Real power = 1;
        for (std::size_t k = 0; column < p; ++k, ++column) {
            // One x and several parameters: a polynomial in it.
            power = values.size() == 1 ? power * exact(values[0]) : exact(values[k]);
            x(i, column) = power;
        }
    }
    const auto found = least_squares(x, y, constant);
    if (!found) throw std::runtime_error(to_line(found.error()));
    return *found;
}

struct Case {
    const char* name;
    double least;  // digits
};
class Certified : public ::testing::TestWithParam<Case> {};

TEST_P(Certified, ValuesOfTheNistSetAreReproduced) {
    const auto set = reference(GetParam().name);
    const LeastSquares found = fit(set);
    const auto& certified = set["certified"];
    double worst = 15, worst_error = 15;
    for (std::size_t j = 0; j < found.coefficients.size(); ++j) {
        worst = std::min(worst, digits(found.coefficients[j], certified["coefficients"][j]));
        const double error = certified["standard_errors"][j];
        // An exact fit (Wampler1 and 2): what is left is rounding of data up to 1e6 and more.
        worst_error = std::min(worst_error, error == 0 ? (found.standard_errors[j] < 1e-9 ? 15 : 0)
                                                       : digits(found.standard_errors[j], error));
    }
    const double sd = certified["residual_sd"];
    const double spread = sd == 0 ? (found.residual_sd < 1e-9 ? 15 : 0) : digits(found.residual_sd, sd);
    const double share = digits(found.r_squared, certified["r_squared"]);
    fmt::print(
        "{}: coefficients {:.1f} digits, standard errors {:.1f}, residual deviation {:.1f}, R squared {:.1f}\n",
        GetParam().name, worst, worst_error, spread, share);
    EXPECT_GE(worst, GetParam().least);
    EXPECT_GE(worst_error, GetParam().least);
    EXPECT_GE(spread, GetParam().least);
    EXPECT_GE(share, GetParam().least);
    const std::string ratio = certified["anova"]["regression"].value("F", std::string("Infinity"));
    if (ratio != "Infinity") {
        EXPECT_GE(digits(found.f, std::stod(ratio)), GetParam().least);
    }
}
INSTANTIATE_TEST_SUITE_P(Linear, Certified,
                         ::testing::Values(Case{"Norris", 12}, Case{"Pontius", 12}, Case{"NoInt1", 12},
                                           Case{"NoInt2", 12}, Case{"Filip", 8}, Case{"Longley", 12},
                                           Case{"Wampler1", 9}, Case{"Wampler2", 9}, Case{"Wampler3", 9},
                                           Case{"Wampler4", 9}, Case{"Wampler5", 9}),
                         [](const auto& one) { return one.param.name; });

TEST(LeastSquares, RefusesColumnsThatDependOnEachOther) {
    RealMatrix x(4, 3);
    x << 1, 2, 3, 1, 3, 4, 1, 5, 6, 1, 7, 8;
    const auto found = least_squares(x, RealVector::Ones(4), true);
    ASSERT_FALSE(found.has_value());
    EXPECT_EQ(to_line(found.error()),
              "least squares: only 2 of 3 columns are independent: leave out what the others already say");
}
TEST(LeastSquares, RefusesFewerObservationsThanParameters) {
    const auto found = least_squares(RealMatrix::Ones(2, 3), RealVector::Ones(2), true);
    ASSERT_FALSE(found.has_value());
    EXPECT_EQ(to_line(found.error()),
              "least squares: 2 observations cannot settle 3 parameters: give at least as many observations as "
              "parameters");
}
TEST(LeastSquares, RefusesWhatIsNotANumber) {
    RealVector y = RealVector::Ones(3);
    y[1] = std::nanl("");
    EXPECT_FALSE(least_squares(RealMatrix::Ones(3, 1), y, true).has_value());
}

}  // namespace
}  // namespace footring::worth
