// SPDX-License-Identifier: Apache-2.0
#include "worth/mixed_model.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "worth/chance.h"

namespace footring::worth {
namespace {

struct Truth {
    std::vector<double> sd{0.6, 0.4};
    double noise = 0.3;
};
// Two crossed factors and a slope; `seed` chooses everything.
MixedData crossed(int n, std::vector<int> levels, const Truth& truth, std::uint64_t seed) {
    Chance chance(seed);
    MixedData data;
    data.x = {std::vector<double>(static_cast<std::size_t>(n), 1), {}};
    std::vector<std::vector<double>> effects;
    for (std::size_t k = 0; k < levels.size(); ++k) {
        data.factors.push_back({fmt::format("f{}", k), levels[k], {}});
        effects.emplace_back();
        for (int l = 0; l < levels[k]; ++l) effects.back().push_back(truth.sd[k] * chance.normal());
    }
    for (int i = 0; i < n; ++i) {
        const double slope = chance.uniform() * 4 - 2;
        data.x[1].push_back(slope);
        double y = 3 + 0.25 * slope + truth.noise * chance.normal();
        for (std::size_t k = 0; k < levels.size(); ++k) {
            const int level = static_cast<int>(chance.uniform() * chance.uniform() * levels[k]);
            data.factors[k].level_of.push_back(level);
            y += effects[k][static_cast<std::size_t>(level)];
        }
        data.y.push_back(y);
    }
    return data;
}

// The same by whole matrices: V = sum of sd^2 Z Z' + noise^2 I, and everything from its inverse.
struct Dense {
    double log_likelihood;
    Eigen::VectorXd beta;
    std::vector<Eigen::VectorXd> effects;
};
Dense dense(const MixedData& data, const std::vector<double>& sd, double noise) {
    const auto n = static_cast<Eigen::Index>(data.y.size());
    const Eigen::Map<const Eigen::VectorXd> y(data.y.data(), n);
    Eigen::MatrixXd x(n, static_cast<Eigen::Index>(data.x.size()));
    for (std::size_t c = 0; c < data.x.size(); ++c)
        x.col(static_cast<Eigen::Index>(c)) = Eigen::Map<const Eigen::VectorXd>(data.x[c].data(), n);
    Eigen::MatrixXd v = noise * noise * Eigen::MatrixXd::Identity(n, n);
    std::vector<Eigen::MatrixXd> z;
    for (std::size_t k = 0; k < sd.size(); ++k) {
        z.push_back(Eigen::MatrixXd::Zero(n, data.factors[k].levels));
        for (Eigen::Index i = 0; i < n; ++i) z[k](i, data.factors[k].level_of[static_cast<std::size_t>(i)]) = 1;
        v += sd[k] * sd[k] * z[k] * z[k].transpose();
    }
    const Eigen::LLT<Eigen::MatrixXd> llt(v);
    const Eigen::MatrixXd vx = llt.solve(x), xvx = x.transpose() * vx;
    Dense out;
    out.beta = xvx.ldlt().solve(vx.transpose() * y);
    const Eigen::VectorXd left = y - x * out.beta, vleft = llt.solve(left);
    const Eigen::MatrixXd lower = llt.matrixL();
    out.log_likelihood =
        -0.5 * (2 * lower.diagonal().array().log().sum() + std::log(xvx.determinant()) + left.dot(vleft));
    for (std::size_t k = 0; k < sd.size(); ++k) out.effects.push_back(sd[k] * sd[k] * z[k].transpose() * vleft);
    return out;
}

MixedOptions exact() {
    MixedOptions options;
    options.tolerance = 1e-10;
    options.most_rounds = 2000;
    return options;
}

TEST(MixedModel, ItsEffectsAreThoseOfDenseMatrices) {
    const MixedData data = crossed(120, {9, 14}, {}, 1);
    const auto fit = fit_mixed(data, exact());
    ASSERT_TRUE(fit.has_value());
    const Dense twin = dense(data, fit->sd, fit->noise_sd);
    for (std::size_t c = 0; c < 2; ++c)
        EXPECT_NEAR(fit->coefficient(c), twin.beta[static_cast<Eigen::Index>(c)], 1e-9);
    for (std::size_t k = 0; k < 2; ++k)
        for (int l = 0; l < data.factors[k].levels; ++l) EXPECT_NEAR(fit->effect(k, l), twin.effects[k][l], 1e-9);
}

TEST(MixedModel, NoNearbyVariancesAreLikelier) {
    for (const std::uint64_t seed : {1, 2, 3, 4}) {
        const MixedData data = crossed(150, {8, 20}, {}, seed);
        const auto fit = fit_mixed(data, exact());
        ASSERT_TRUE(fit.has_value());
        ASSERT_TRUE(fit->settled);
        const double here = dense(data, fit->sd, fit->noise_sd).log_likelihood;
        for (const double factor : {0.98, 0.999, 1.001, 1.02}) {
            EXPECT_LE(dense(data, {fit->sd[0] * factor, fit->sd[1]}, fit->noise_sd).log_likelihood, here);
            EXPECT_LE(dense(data, {fit->sd[0], fit->sd[1] * factor}, fit->noise_sd).log_likelihood, here);
            EXPECT_LE(dense(data, fit->sd, fit->noise_sd * factor).log_likelihood, here);
        }
    }
}

TEST(MixedModel, APriorOnAVarianceIsAddedToItsLikelihood) {
    const MixedData data = crossed(60, {4, 12}, {{0.05, 0.4}, 0.3}, 5);
    MixedOptions options = exact();
    options.prior_sd = 0.3;
    const auto fit = fit_mixed(data, options);
    ASSERT_TRUE(fit.has_value());
    const auto penalised = [&](double a, double b, double noise) {
        return dense(data, {a, b}, noise).log_likelihood + std::log(a) + std::log(b) - (a + b) / 0.3;
    };
    const double here = penalised(fit->sd[0], fit->sd[1], fit->noise_sd);
    for (const double factor : {0.97, 1.03}) {
        EXPECT_LE(penalised(fit->sd[0] * factor, fit->sd[1], fit->noise_sd), here);
        EXPECT_LE(penalised(fit->sd[0], fit->sd[1] * factor, fit->noise_sd), here);
        EXPECT_LE(penalised(fit->sd[0], fit->sd[1], fit->noise_sd * factor), here);
    }
}

TEST(MixedModel, AFactorWithOneLevelTakesItsPriorAndTakesNothingFromTheOthers) {
    MixedData data = crossed(80, {6, 9}, {}, 6);
    MixedOptions options = exact();
    options.prior_sd = 0.3;
    const auto before = fit_mixed(data, options);
    data.factors.push_back({"single", 1, std::vector<int>(80, 0)});
    const auto after = fit_mixed(data, options);
    ASSERT_TRUE(before.has_value() && after.has_value());
    EXPECT_NEAR(after->sd[2], 0.3, 1e-6);
    EXPECT_NEAR(after->effect(2, 0), 0, 1e-9);
    EXPECT_NEAR(after->sd[0], before->sd[0], 1e-6);
}

TEST(MixedModel, ALevelOfItsOwnIsALevelWithOneObservation) {
    for (const bool robust : {false, true}) {
        MixedData own = crossed(120, {9, 14}, {}, 12), named = own;
        for (std::size_t i = 0; i < 120; i += 7)
            for (std::size_t k = 0; k < (i % 2 == 0 ? 2u : 1u); ++k) {
                own.factors[k].level_of[i] = -1;
                named.factors[k].level_of[i] = named.factors[k].levels++;
            }
        MixedOptions options = exact();
        options.robust = robust;
        const auto a = fit_mixed(own, options), b = fit_mixed(named, options);
        ASSERT_TRUE(a.has_value() && b.has_value());
        ASSERT_TRUE(a->settled && b->settled);
        for (std::size_t k = 0; k < 2; ++k) EXPECT_NEAR(a->sd[k], b->sd[k], 1e-6);
        EXPECT_NEAR(a->noise_sd, b->noise_sd, 1e-6);
        EXPECT_NEAR(a->junk_share, b->junk_share, 1e-6);
        for (int l = 0; l < 9; ++l) EXPECT_NEAR(a->effect(0, l), b->effect(0, l), 1e-6);
    }
}

TEST(MixedModel, TheOrderOfObservationsDoesNotMatter) {
    const MixedData data = crossed(90, {7, 11}, {}, 7);
    MixedData turned = data;
    for (auto* list : {&turned.y, &turned.x[0], &turned.x[1]}) std::ranges::reverse(*list);
    for (Factor& factor : turned.factors) std::ranges::reverse(factor.level_of);
    const auto a = fit_mixed(data, {.prior_sd = 0.3, .robust = true}),
               b = fit_mixed(turned, {.prior_sd = 0.3, .robust = true});
    ASSERT_TRUE(a.has_value() && b.has_value());
    EXPECT_NEAR(a->noise_sd, b->noise_sd, 1e-9);
    for (int l = 0; l < 7; ++l) EXPECT_NEAR(a->effect(0, l), b->effect(0, l), 1e-9);
}

TEST(MixedModel, JunkMovesTheRobustFitLittleAndThePlainOneMuch) {
    const MixedData clean = crossed(600, {12, 25}, {}, 8);
    MixedData spoilt = clean;
    for (std::size_t i = 0; i < 600; i += 20) spoilt.y[i] += i % 40 == 0 ? 3 : -3;
    const auto truth = fit_mixed(clean, {.prior_sd = 0.3});
    const auto plain = fit_mixed(spoilt, {.prior_sd = 0.3});
    const auto robust = fit_mixed(spoilt, {.prior_sd = 0.3, .robust = true});
    ASSERT_TRUE(truth.has_value() && plain.has_value() && robust.has_value());
    EXPECT_GT(plain->noise_sd, 2 * truth->noise_sd);
    EXPECT_NEAR(robust->noise_sd, truth->noise_sd, 0.1 * truth->noise_sd);
    EXPECT_NEAR(robust->junk_share, 0.05, 0.02);
    double off_plain = 0, off_robust = 0;
    for (int l = 0; l < 12; ++l) {
        off_plain += std::abs(plain->effect(0, l) - truth->effect(0, l));
        off_robust += std::abs(robust->effect(0, l) - truth->effect(0, l));
    }
    EXPECT_LT(off_robust, 0.5 * off_plain);
    int found = 0;
    for (std::size_t i = 0; i < 600; i += 20) found += robust->counted[i] < 0.5 ? 1 : 0;
    EXPECT_GE(found, 28);  // of 30
}

TEST(MixedModel, WithoutJunkTheRobustFitIsThePlainOneNearly) {
    const MixedData data = crossed(800, {12, 25}, {}, 9);
    const auto plain = fit_mixed(data, {.prior_sd = 0.3});
    const auto robust = fit_mixed(data, {.prior_sd = 0.3, .robust = true});
    ASSERT_TRUE(plain.has_value() && robust.has_value());
    EXPECT_LT(robust->junk_share, 0.03);
    EXPECT_NEAR(robust->noise_sd, plain->noise_sd, 0.05 * plain->noise_sd);
    for (int l = 0; l < 12; ++l) EXPECT_NEAR(robust->effect(0, l), plain->effect(0, l), 0.03);
}

// Enough levels that some stand in the sparse head: the answer may not depend on where they stand.
TEST(MixedModel, LargeFactorsAreFoundAgain) {
    const MixedData data = crossed(12'000, {1500, 40}, {}, 10);
    const auto fit =
        fit_mixed(data, {.prior_sd = std::nullopt, .column_sd = {}, .robust = false, .tolerance = 1e-6});
    ASSERT_TRUE(fit.has_value());
    EXPECT_GT(fit->precision().head(), 0);
    EXPECT_NEAR(fit->sd[0], 0.6, 0.04);
    EXPECT_NEAR(fit->sd[1], 0.4, 0.15);
    EXPECT_NEAR(fit->noise_sd, 0.3, 0.01);
    EXPECT_NEAR(fit->coefficient(1), 0.25, 0.01);
}

TEST(MixedModel, RefusesColumnsThatDependOnEachOther) {
    MixedData data = crossed(20, {3, 4}, {}, 11);
    data.x.push_back(data.x[0]);
    const auto fit = fit_mixed(data, {});
    ASSERT_FALSE(fit.has_value());
    EXPECT_EQ(to_line(fit.error()),
              "mixed model: its columns depend on each other: leave out what the others already say");
}

}  // namespace
}  // namespace footring::worth
