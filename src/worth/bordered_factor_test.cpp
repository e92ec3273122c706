// SPDX-License-Identifier: Apache-2.0
#include "worth/bordered_factor.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace footring::worth {
namespace {

// A random sparse positive definite matrix with a dense tail, whole and in the factor.
struct Twin {
    Eigen::MatrixXd dense;
    BorderedFactor sparse;
};
Twin made(int head, int tail, unsigned seed) {
    std::mt19937 random(seed);
    const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    std::vector<std::pair<int, int>> pairs;
    const int n = head + tail;
    for (int i = 0; i < head; ++i)
        for (int k = 0; k < 3; ++k)
            if (i + 1 < n) pairs.emplace_back(i, i + 1 + below(n - i - 1));
    BorderedFactor sparse(head, tail, pairs);
    Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(n, n);
    const auto add = [&](int i, int j, double v) {
        dense(i, j) += v;
        if (i != j) dense(j, i) += v;
        sparse.matrix()[sparse.place(i, j)] += v;
    };
    for (const auto& [i, j] : pairs) add(i, j, below(100) / 100.0 - 0.5);
    for (int i = head; i < n; ++i)
        for (int j = i + 1; j < n; ++j) add(i, j, below(100) / 100.0 - 0.5);
    for (int i = 0; i < n; ++i) add(i, i, 1 + dense.row(i).cwiseAbs().sum());
    return {dense, sparse};
}

TEST(BorderedFactor, AgreesWithTheDenseInverse) {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        const int head = static_cast<int>(seed % 4) * 6, tail = seed % 5 == 0 ? 0 : static_cast<int>(seed % 7) + 1;
        if (head + tail == 0) continue;
        auto [dense, sparse] = made(head, tail, seed);
        ASSERT_TRUE(sparse.factor());
        const Eigen::MatrixXd inverse = dense.inverse();
        EXPECT_NEAR(sparse.log_determinant(), std::log(dense.determinant()), 1e-9);
        const Eigen::VectorXd right = Eigen::VectorXd::LinSpaced(dense.rows(), -1, 2);
        const auto found = sparse.solve({right.data(), static_cast<std::size_t>(right.size())});
        const Eigen::VectorXd wanted = inverse * right;
        for (int i = 0; i < wanted.size(); ++i) EXPECT_NEAR(found[static_cast<std::size_t>(i)], wanted[i], 1e-12);
        sparse.invert_on_pattern();
        int seen = 0;
        for (int i = 0; i < dense.rows(); ++i)
            for (int j = i; j < dense.rows(); ++j) {
                if (i != j && i < head && dense(i, j) == 0) continue;
                EXPECT_NEAR(sparse.inverse()[sparse.place(i, j)], inverse(i, j), 1e-12) << i << ' ' << j;
                ++seen;
            }
        EXPECT_GE(seen, dense.rows());
    }
}

TEST(BorderedFactor, CorrelatesNormalNumbersAsTheInverseSays) {
    auto [dense, sparse] = made(12, 4, 7);
    ASSERT_TRUE(sparse.factor());
    // The columns of correlate() applied to each unit vector are a square root of the inverse.
    const int n = sparse.size();
    Eigen::MatrixXd root(n, n);
    for (int i = 0; i < n; ++i) {
        std::vector<double> unit(static_cast<std::size_t>(n), 0);
        unit[static_cast<std::size_t>(i)] = 1;
        const auto column = sparse.correlate(unit);
        root.col(i) = Eigen::Map<const Eigen::VectorXd>(column.data(), n);
    }
    EXPECT_LT((root * root.transpose() - dense.inverse()).cwiseAbs().maxCoeff(), 1e-12);
}

TEST(BorderedFactor, SaysWhenTheMatrixIsNotPositiveDefinite) {
    BorderedFactor one(1, 1, {{0, 1}});
    one.matrix()[one.place(0, 0)] = 1;
    one.matrix()[one.place(0, 1)] = 2;
    one.matrix()[one.place(1, 1)] = 1;
    EXPECT_FALSE(one.factor());
    EXPECT_THROW(static_cast<void>(BorderedFactor(2, 0, {}).place(0, 1)), std::logic_error);
}

}  // namespace
}  // namespace footring::worth
