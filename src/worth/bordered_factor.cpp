// SPDX-License-Identifier: Apache-2.0
#include "worth/bordered_factor.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <stdexcept>

namespace footring::worth {

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

BorderedFactor::BorderedFactor(int head, int tail, std::vector<std::pair<int, int>> pairs)
    : head_(head), tail_(tail) {
    std::ranges::sort(pairs);
    const auto repeats = std::ranges::unique(pairs);
    pairs.erase(repeats.begin(), repeats.end());
    std::vector<std::vector<int>> columns(at(head));
    for (const auto& [i, j] : pairs) columns[at(i)].push_back(j);
    // What column j touches, the first of those has to hold as well: it is eliminated next of them.
    std::vector<int> joined;
    for (int j = 0; j < head; ++j) {
        const std::vector<int>& own = columns[at(j)];
        if (own.empty() || own.front() >= head) continue;
        std::vector<int>& parent = columns[at(own.front())];
        joined.clear();
        std::set_union(parent.begin(), parent.end(), own.begin() + 1, own.end(), std::back_inserter(joined));
        parent = joined;
    }
    begin_.push_back(0);
    for (const auto& column : columns) {
        rows_.insert(rows_.end(), column.begin(), column.end());
        begin_.push_back(rows_.size());
    }
    tail_begin_ = at(head) + rows_.size();
    values_.assign(tail_begin_ + at(tail) * at(tail), 0);
}

std::size_t BorderedFactor::place(int i, int j) const {
    if (i >= head_) return tail_place(i, j);
    if (i == j) return at(i);
    const auto column = rows(i);
    const auto found = std::ranges::lower_bound(column, j);
    if (found == column.end() || *found != j) throw std::logic_error("an entry outside the pattern");
    return at(head_) + begin_[at(i)] + static_cast<std::size_t>(found - column.begin());
}

bool BorderedFactor::factor() {
    for (int j = 0; j < head_; ++j) {
        const double pivot = values_[at(j)];
        if (!(pivot > 0)) return false;
        const auto below = rows(j);
        double* const own = values_.data() + at(head_) + begin_[at(j)];
        for (std::size_t a = 0; a < below.size(); ++a) {
            if (own[a] == 0) continue;
            const double l = own[a] / pivot;
            const int row = below[a];
            if (row < head_) {
                // Column `row` holds every later row of this one; both ascend, so one walk finds them all.
                values_[at(row)] -= l * own[a];
                const auto other = rows(row);
                double* const theirs = values_.data() + at(head_) + begin_[at(row)];
                std::size_t k = 0;
                for (std::size_t b = a + 1; b < below.size(); ++b) {
                    while (other[k] != below[b]) ++k;
                    theirs[k] -= l * own[b];
                }
            } else {
                for (std::size_t b = a; b < below.size(); ++b) values_[tail_place(row, below[b])] -= l * own[b];
            }
        }
        for (std::size_t a = 0; a < below.size(); ++a) own[a] /= pivot;
    }
    if (tail_ == 0) return true;
    const Eigen::Map<const Eigen::MatrixXd> left(values_.data() + tail_begin_, tail_, tail_);
    const Eigen::LLT<Eigen::MatrixXd, Eigen::Upper> triangle(left);
    if (triangle.info() != Eigen::Success) return false;
    tail_lower_ = triangle.matrixL();
    return tail_lower_.diagonal().minCoeff() > 0;
}

double BorderedFactor::log_determinant() const {
    double sum = 0;
    for (int j = 0; j < head_; ++j) sum += std::log(values_[at(j)]);
    if (tail_ > 0) sum += 2 * tail_lower_.diagonal().array().log().sum();
    return sum;
}

void BorderedFactor::forward(std::vector<double>& x) const {
    for (int j = 0; j < head_; ++j) {
        const auto below = rows(j);
        const double* const l = values_.data() + at(head_) + begin_[at(j)];
        const double known = x[at(j)];
        if (known == 0) continue;
        for (std::size_t a = 0; a < below.size(); ++a) x[at(below[a])] -= l[a] * known;
    }
    if (tail_ == 0) return;
    Eigen::Map<Eigen::VectorXd> rest(x.data() + head_, tail_);
    tail_lower_.triangularView<Eigen::Lower>().solveInPlace(rest);
}

void BorderedFactor::backward(std::vector<double>& x) const {
    if (tail_ > 0) {
        Eigen::Map<Eigen::VectorXd> rest(x.data() + head_, tail_);
        tail_lower_.triangularView<Eigen::Lower>().transpose().solveInPlace(rest);
    }
    for (int j = head_ - 1; j >= 0; --j) {
        const auto below = rows(j);
        const double* const l = values_.data() + at(head_) + begin_[at(j)];
        double sum = 0;
        for (std::size_t a = 0; a < below.size(); ++a) sum += l[a] * x[at(below[a])];
        x[at(j)] -= sum;
    }
}

std::vector<double> BorderedFactor::solve(std::span<const double> right) const {
    std::vector<double> x(right.begin(), right.end());
    forward(x);
    for (int j = 0; j < head_; ++j) x[at(j)] /= values_[at(j)];
    backward(x);
    return x;
}

std::vector<double> BorderedFactor::correlate(std::span<const double> normal) const {
    std::vector<double> x(normal.begin(), normal.end());
    for (int j = 0; j < head_; ++j) x[at(j)] /= std::sqrt(values_[at(j)]);
    backward(x);
    return x;
}

void BorderedFactor::invert_on_pattern() {
    inverse_.assign(values_.size(), 0);
    if (tail_ > 0) {
        Eigen::Map<Eigen::MatrixXd> whole(inverse_.data() + tail_begin_, tail_, tail_);
        Eigen::MatrixXd lower = Eigen::MatrixXd::Identity(tail_, tail_);
        tail_lower_.triangularView<Eigen::Lower>().solveInPlace(lower);
        whole.setZero();
        whole.selfadjointView<Eigen::Upper>().rankUpdate(lower.transpose());
        whole.triangularView<Eigen::StrictlyLower>() = whole.transpose();
    }
    std::vector<double> sum;
    for (int j = head_ - 1; j >= 0; --j) {
        const auto below = rows(j);
        const std::size_t first = at(head_) + begin_[at(j)];
        const double* const l = values_.data() + first;
        // sum[a] = sum over b of inverse(a, b) l[b], for the rows a and b of this column
        sum.assign(below.size(), 0);
        for (std::size_t a = 0; a < below.size(); ++a) {
            const int row = below[a];
            if (row < head_) {
                sum[a] += inverse_[at(row)] * l[a];
                const auto other = rows(row);
                const double* const theirs = inverse_.data() + at(head_) + begin_[at(row)];
                std::size_t k = 0;
                for (std::size_t b = a + 1; b < below.size(); ++b) {
                    while (other[k] != below[b]) ++k;
                    sum[a] += theirs[k] * l[b];
                    sum[b] += theirs[k] * l[a];
                }
            } else {
                const double* const column = inverse_.data() + tail_place(head_, row);
                double own = 0;
                for (std::size_t b = 0; b < below.size(); ++b)
                    if (below[b] >= head_) own += column[below[b] - head_] * l[b];
                sum[a] += own;
            }
        }
        double corner = 1 / values_[at(j)];
        for (std::size_t a = 0; a < below.size(); ++a) {
            inverse_[first + a] = -sum[a];
            corner += sum[a] * l[a];
        }
        inverse_[at(j)] = corner;
    }
}

}  // namespace footring::worth
