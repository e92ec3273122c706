// SPDX-License-Identifier: Apache-2.0
#include "worth/mixed_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>

namespace footring::worth {

namespace {

// Dense unknowns besides the columns of x. With 1000 of them six hundred sales took seconds
// (bench/worth_bench.cpp).
constexpr int kMostTail = 300;
constexpr double kJunkPriorSound = 38, kJunkPriorJunk = 2;  // Beta: 5 % with a weight of 40 observations
constexpr double kLeastJunkScale = 3, kMostJunkScale = 12, kMostJunkShare = 0.3;
constexpr double kLeastSd = 1e-7;

}  // namespace

// One data set being fitted. An observation meets one unknown of each factor and every column of x.
class MixedSolver {
  public:
    MixedSolver(const MixedData& data, const MixedOptions& options) : data_(data), options_(options) {
        n_ = data.y.size();
        order_unknowns();
        find_places();
    }

    bool run(MixedFit& fit) {
        begin(fit);
        for (fit.rounds = 1; fit.rounds <= options_.most_rounds; ++fit.rounds) {
            if (!solve(fit)) return false;
            const double moved = improve(fit);
            if (moved < options_.tolerance) {
                fit.settled = true;
                break;
            }
        }
        if (!solve(fit)) return false;
        settle(fit);
        return true;
    }

  private:
    // Small factors and the columns of x make the dense tail; the others, largest first, the sparse head.
    void order_unknowns() {
        const std::size_t factors = data_.factors.size();
        std::vector<std::size_t> by_size(factors);
        std::iota(by_size.begin(), by_size.end(), std::size_t{0});
        std::ranges::stable_sort(by_size, [&](std::size_t a, std::size_t b) {
            return data_.factors[a].levels > data_.factors[b].levels;
        });
        int tail = 0;
        std::size_t heads = factors;
        while (heads > 0 && tail + data_.factors[by_size[heads - 1]].levels <= kMostTail)
            tail += data_.factors[by_size[--heads]].levels;
        first_.assign(factors + 1, 0);
        std::size_t next = 0;
        for (std::size_t k = 0; k < factors; ++k) {
            if (k == heads) head_ = static_cast<int>(next);
            first_[by_size[k]] = next;
            next += static_cast<std::size_t>(data_.factors[by_size[k]].levels);
        }
        if (heads == factors) head_ = static_cast<int>(next);
        first_[factors] = next;
        size_ = next + data_.x.size();
        // The factors of an observation in the order of their unknowns.
        order_ = by_size;
    }

    // Where the products of one observation stand in the matrix, worked out once.
    void find_places() {
        const std::size_t factors = order_.size();
        std::vector<std::pair<int, int>> pairs;
        for (std::size_t i = 0; i < n_; ++i) {
            for (std::size_t a = 0; a < factors; ++a) {
                const int u = unknown(i, a);
                if (u >= head_) break;
                for (std::size_t b = a + 1; b < factors; ++b) pairs.emplace_back(u, unknown(i, b));
            }
            // Thinned now and then: a hundred thousand observations have far fewer different pairs.
            if (pairs.size() > 4'000'000) {
                std::ranges::sort(pairs);
                const auto repeats = std::ranges::unique(pairs);
                pairs.erase(repeats.begin(), repeats.end());
            }
        }
        for (int u = 0; u < head_; ++u)
            for (std::size_t c = 0; c < data_.x.size(); ++c)
                pairs.emplace_back(u, static_cast<int>(first_.back() + c));
        factor_ = std::make_shared<BorderedFactor>(head_, static_cast<int>(size_) - head_, std::move(pairs));
        step_ = factors * (factors - 1) / 2 + factors * (1 + data_.x.size());
        places_.resize(n_ * step_);
        for (std::size_t i = 0; i < n_; ++i) {
            std::uint32_t* place = places_.data() + i * step_;
            for (std::size_t a = 0; a < factors; ++a) {
                const int u = unknown(i, a);
                *place++ = entry(u, u);
                for (std::size_t b = a + 1; b < factors; ++b) *place++ = entry(u, unknown(i, b));
                for (std::size_t c = 0; c < data_.x.size(); ++c)
                    *place++ = entry(u, static_cast<int>(first_.back() + c));
            }
        }
    }

    std::uint32_t entry(int u, int v) const { return static_cast<std::uint32_t>(factor_->place(u, v)); }

    int unknown(std::size_t i, std::size_t a) const {
        const std::size_t k = order_[a];
        return static_cast<int>(first_[k]) + data_.factors[k].level_of[i];
    }

    void begin(MixedFit& fit) const {
        const double mean = std::accumulate(data_.y.begin(), data_.y.end(), 0.0) / static_cast<double>(n_);
        double spread = 0;
        for (const double y : data_.y) spread += (y - mean) * (y - mean);
        spread = std::max(spread / static_cast<double>(n_), kLeastSd * kLeastSd);
        const double each = std::sqrt(spread / static_cast<double>(data_.factors.size() + 1));
        fit.sd.assign(data_.factors.size(), each);
        fit.noise_sd = each;
        fit.counted.assign(n_, 1);
        if (options_.robust) fit.junk_share = 0.05, fit.junk_scale = 5;
    }

    // What an observation weighs: its chance of being sound, and the little that it tells when it is not.
    double weight(const MixedFit& fit, std::size_t i) const {
        return fit.counted[i] + (1 - fit.counted[i]) / (fit.junk_scale * fit.junk_scale);
    }

    bool solve(MixedFit& fit) {
        std::vector<double>& m = factor_->matrix();
        std::ranges::fill(m, 0.0);
        std::vector<double> right(size_, 0);
        const double precision = 1 / (fit.noise_sd * fit.noise_sd);
        const std::size_t columns = data_.x.size(), factors = order_.size();
        for (std::size_t i = 0; i < n_; ++i) {
            const double w = weight(fit, i) * precision, wy = w * data_.y[i];
            const std::uint32_t* place = places_.data() + i * step_;
            for (std::size_t a = 0; a < factors; ++a) {
                for (std::size_t b = a; b < factors; ++b) m[*place++] += w;
                for (std::size_t c = 0; c < columns; ++c) m[*place++] += w * data_.x[c][i];
                right[static_cast<std::size_t>(unknown(i, a))] += wy;
            }
            for (std::size_t c = 0; c < columns; ++c) right[first_.back() + c] += wy * data_.x[c][i];
        }
        for (std::size_t c = 0; c < columns; ++c)
            for (std::size_t d = c; d < columns; ++d) {
                double sum = 0;
                for (std::size_t i = 0; i < n_; ++i) sum += weight(fit, i) * data_.x[c][i] * data_.x[d][i];
                m[factor_->place(static_cast<int>(first_.back() + c), static_cast<int>(first_.back() + d))] =
                    sum * precision;
            }
        for (std::size_t c = 0; c < options_.column_sd.size(); ++c) {
            const int u = static_cast<int>(first_.back() + c);
            if (const auto sd = options_.column_sd[c]) m[factor_->place(u, u)] += 1 / (*sd * *sd);
        }
        for (std::size_t k = 0; k < factors; ++k) {
            const double own = 1 / (fit.sd[k] * fit.sd[k]);
            for (int l = 0; l < data_.factors[k].levels; ++l) {
                const int u = static_cast<int>(first_[k]) + l;
                m[factor_->place(u, u)] += own;
            }
        }
        if (!factor_->factor()) return false;
        solution_ = factor_->solve(right);
        return true;
    }

    // What is left of each observation, and the variance of what was fitted to it.
    void look_back(std::vector<double>& left, std::vector<double>& doubt) const {
        const std::vector<double>& z = factor_->inverse();
        const std::size_t columns = data_.x.size(), factors = order_.size();
        left.resize(n_);
        doubt.resize(n_);
        for (std::size_t i = 0; i < n_; ++i) {
            const std::uint32_t* place = places_.data() + i * step_;
            double fitted = 0, alone = 0, twice = 0;
            for (std::size_t a = 0; a < factors; ++a) {
                fitted += solution_[static_cast<std::size_t>(unknown(i, a))];
                alone += z[*place++];
                for (std::size_t b = a + 1; b < factors; ++b) twice += z[*place++];
                for (std::size_t c = 0; c < columns; ++c) twice += z[*place++] * data_.x[c][i];
            }
            for (std::size_t c = 0; c < columns; ++c) {
                const double x = data_.x[c][i];
                fitted += x * solution_[first_.back() + c];
                for (std::size_t d = c; d < columns; ++d) {
                    const double term =
                        x * data_.x[d][i] *
                        z[factor_->place(static_cast<int>(first_.back() + c), static_cast<int>(first_.back() + d))];
                    (d == c ? alone : twice) += term;
                }
            }
            left[i] = data_.y[i] - fitted;
            doubt[i] = std::max(alone + 2 * twice, 0.0);
        }
    }

    // One round: which observations are sound, then every variance. The largest relative change is returned.
    double improve(MixedFit& fit) {
        factor_->invert_on_pattern();
        std::vector<double> left, doubt;
        look_back(left, doubt);
        double moved = options_.robust ? sort_out(fit, left, doubt) : 0;
        const double variance = fit.noise_sd * fit.noise_sd;
        double squares = 0, spent = 0;
        for (std::size_t i = 0; i < n_; ++i) {
            const double w = weight(fit, i);
            squares += w * left[i] * left[i];
            spent += w * doubt[i] / variance;
        }
        const double freedom = std::max(static_cast<double>(n_) - spent, 0.5);
        moved = std::max(moved, set(fit.noise_sd, std::sqrt(squares / freedom)));
        const std::vector<double>& z = factor_->inverse();
        for (std::size_t k = 0; k < data_.factors.size(); ++k) {
            double sum = 0, trace = 0;
            for (int l = 0; l < data_.factors[k].levels; ++l) {
                const std::size_t u = first_[k] + static_cast<std::size_t>(l);
                sum += solution_[u] * solution_[u];
                trace += z[factor_->place(static_cast<int>(u), static_cast<int>(u))];
            }
            const double own = fit.sd[k] * fit.sd[k];
            double settled = std::max(data_.factors[k].levels - trace / own, 0.0);  // levels that the data settle
            if (options_.prior_sd) {
                // d/d(log sd) of log(sd) - sd / prior added to that of the likelihood, set to 0.
                sum += own;
                settled += fit.sd[k] / *options_.prior_sd;
            }
            moved = std::max(moved, set(fit.sd[k], std::sqrt(sum / std::max(settled, 1e-12))));
        }
        return moved;
    }

    double sort_out(MixedFit& fit, const std::vector<double>& left, const std::vector<double>& doubt) const {
        const double variance = fit.noise_sd * fit.noise_sd, scale2 = fit.junk_scale * fit.junk_scale;
        const double odds = fit.junk_share / (1 - fit.junk_share) / fit.junk_scale;
        double junk = 0, squares = 0;
        for (std::size_t i = 0; i < n_; ++i) {
            const double unlike = (left[i] * left[i] + doubt[i]) / variance;
            const double ratio = odds * std::exp(std::min(unlike / 2 * (1 - 1 / scale2), 700.0));
            const double chance = ratio / (1 + ratio);
            fit.counted[i] = 1 - chance;
            junk += chance;
            squares += chance * unlike;
        }
        const double share =
            (junk + kJunkPriorJunk - 1) / (static_cast<double>(n_) + kJunkPriorJunk + kJunkPriorSound - 2);
        const double before = fit.junk_share;
        fit.junk_share = std::min(share, kMostJunkShare);
        // As if a few observations at the middle of the range had been seen: without junk nothing else tells.
        constexpr double kSeen = 2, kMiddle = 5;
        const double scale = std::sqrt((squares + kSeen * kMiddle * kMiddle) / (junk + kSeen));
        const double moved = set(fit.junk_scale, std::clamp(scale, kLeastJunkScale, kMostJunkScale));
        return std::max(moved, std::abs(fit.junk_share - before) / std::max(before, 0.01));
    }

    static double set(double& value, double to) {
        to = std::max(to, kLeastSd);
        const double change = std::abs(std::log(to / value));
        // A variance that goes to 0 would go on for ever: below a ten-thousandth its changes say nothing.
        const double moved = to < 1e-4 && value < 1e-4 ? 0 : change;
        value = to;
        return moved;
    }

    void settle(MixedFit& fit) {
        fit.first_ = first_;
        fit.solution_ = solution_;
        fit.fitted.resize(n_);
        for (std::size_t i = 0; i < n_; ++i) {
            double sum = 0;
            for (std::size_t a = 0; a < order_.size(); ++a)
                sum += solution_[static_cast<std::size_t>(unknown(i, a))];
            for (std::size_t c = 0; c < data_.x.size(); ++c) sum += data_.x[c][i] * solution_[first_.back() + c];
            fit.fitted[i] = sum;
        }
        factor_->invert_on_pattern();
        fit.precision_ = factor_;
    }

    const MixedData& data_;
    const MixedOptions& options_;
    std::size_t n_ = 0, size_ = 0, step_ = 0;
    int head_ = 0;
    std::vector<std::size_t> first_, order_;
    std::vector<std::uint32_t> places_;
    std::shared_ptr<BorderedFactor> factor_;
    std::vector<double> solution_;
};

Expected<MixedFit> fit_mixed(const MixedData& data, const MixedOptions& options) {
    if (data.y.size() <= data.x.size())
        return fail(ProblemCode::kBadInput, "mixed model",
                    fmt::format("{} observations are too few for {} columns", data.y.size(), data.x.size()),
                    "give more observations than columns");
    MixedFit fit;
    if (!MixedSolver(data, options).run(fit))
        return fail(ProblemCode::kBadInput, "mixed model", "its columns depend on each other",
                    "leave out what the others already say");
    return fit;
}

}  // namespace footring::worth
