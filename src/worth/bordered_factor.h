// worth/bordered_factor.h - a large sparse positive definite matrix, factored, with the entries of its inverse that
// matter.
//   The unknowns are in two parts: a sparse `head`, whose columns are eliminated one after the other, and a dense
//   `tail`. That is the shape of the equations of crossed and nested random effects: thousands of treatments in the
//   head, each touching few others; some hundred forms, shapes, years and fixed parameters in the tail, where
//   everything meets everything.
//   Cost     head: sum of the squared lengths of its columns; tail: m^3 / 3 for factoring and about as much again
//            for its inverse, in blocks. Memory m^2 for the tail.
//   source   George and Liu, Computer Solution of Large Sparse Positive Definite Systems (1981), for the
//            elimination; Takahashi, Fagan and Chen (1973), and Erisman and Tinney, Communications of the ACM 18
//            (1975), for the inverse on the pattern.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Dense>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace footring::worth {

class BorderedFactor {
  public:
    // Unknowns 0..head-1 are sparse, head..head+tail-1 dense. `pairs`: (i, j) that may be other than zero, i in the
    // head and j > i; any order, repeats allowed. Works out where fill will stand.
    BorderedFactor(int head, int tail, std::vector<std::pair<int, int>> pairs);

    int size() const { return head_ + tail_; }
    int head() const { return head_; }

    // Where the entry (i, j), i <= j, is kept; throws std::logic_error when i is in the head and the pair is
    // neither in the pattern nor fill.
    std::size_t place(int i, int j) const;
    std::size_t tail_place(int i, int j) const {  // of two unknowns of the tail, i <= j
        return tail_begin_ + static_cast<std::size_t>(j - head_) * static_cast<std::size_t>(tail_) +
               static_cast<std::size_t>(i - head_);
    }
    // The matrix, to be filled before factor(): by place(). Tail entries: only i <= j is looked at.
    std::vector<double>& matrix() { return values_; }

    // False when the matrix is not positive definite (to rounding). Afterwards matrix() holds the factor.
    bool factor();
    double log_determinant() const;
    std::vector<double> solve(std::span<const double> right) const;
    // x with covariance inverse(matrix) from independent standard normal numbers.
    std::vector<double> correlate(std::span<const double> normal) const;

    // The inverse on the pattern and on the whole tail: inverse()[place(i, j)].
    void invert_on_pattern();
    const std::vector<double>& inverse() const { return inverse_; }

  private:
    std::span<const int> rows(int column) const {
        return {rows_.data() + begin_[static_cast<std::size_t>(column)],
                rows_.data() + begin_[static_cast<std::size_t>(column) + 1]};
    }
    void forward(std::vector<double>&) const;   // L x = b, in place; then the tail's triangle
    void backward(std::vector<double>&) const;  // L' x = b

    int head_, tail_;
    // Column j of the head: diagonal at values_[j], the rows below at head_ + begin_[j] ...
    std::vector<std::size_t> begin_;
    std::vector<int> rows_;  // ascending in each column
    std::size_t tail_begin_;
    std::vector<double> values_, inverse_;
    Eigen::MatrixXd tail_lower_;  // Cholesky factor of what is left of the tail
};

}  // namespace footring::worth
