// SPDX-License-Identifier: Apache-2.0
#include "worth/mixed_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <span>

namespace footring::worth {

namespace {

// Dense unknowns besides the columns of x. With 1000 of them six hundred sales took seconds
// (bench/worth_bench.cpp).
constexpr int kMostTail = 300;
constexpr double kJunkPriorSound = 38, kJunkPriorJunk = 2;  // Beta: 5 % with a weight of 40 observations
constexpr double kLeastJunkScale = 3, kMostJunkScale = 12, kMostJunkShare = 0.3;
constexpr double kLeastSd = 1e-7;

// Makes few steps of many small ones that shrink evenly: the step is taken from where the last few ones together
// would have come to rest. Source: Anderson, Journal of the ACM 12 (1965); Walker and Ni, SIAM Journal on Numerical
// Analysis 49 (2011).
class Anderson {
  public:
    // x gave g: where to go on from.
    std::vector<double> next(const std::vector<double>& x, const std::vector<double>& g) {
        const auto n = static_cast<Eigen::Index>(x.size());
        const Eigen::Map<const Eigen::VectorXd> from(x.data(), n), to(g.data(), n);
        const Eigen::VectorXd step = to - from;
        // A step much longer than the last one: what was learnt holds no more.
        if (!steps_.empty() && step.norm() > 2 * steps_.back().norm()) steps_.clear(), ends_.clear();
        steps_.push_back(step), ends_.push_back(to);
        if (steps_.size() > kKept) steps_.erase(steps_.begin()), ends_.erase(ends_.begin());
        Eigen::VectorXd out = to;
        const auto kept = static_cast<Eigen::Index>(steps_.size()) - 1;
        if (kept > 0) {
            Eigen::MatrixXd changes(n, kept), moves(n, kept);
            for (Eigen::Index j = 0; j < kept; ++j) {
                const auto k = static_cast<std::size_t>(j);
                changes.col(j) = steps_[k + 1] - steps_[k];
                moves.col(j) = ends_[k + 1] - ends_[k];
            }
            const Eigen::VectorXd share = changes.colPivHouseholderQr().solve(step);
            const Eigen::VectorXd leap = -moves * share;
            // Never far beyond the plain step: the scales are logarithms.
            const double longest = leap.cwiseAbs().maxCoeff();
            if (std::isfinite(longest)) out += leap * std::min(1.0, kLongestLeap / std::max(longest, 1e-300));
        }
        return {out.data(), out.data() + n};
    }

  private:
    static constexpr std::size_t kKept = 6;
    static constexpr double kLongestLeap = 1;
    std::vector<Eigen::VectorXd> steps_, ends_;
};

}  // namespace

// One data set being fitted. An observation meets one unknown of each factor and every column of x; those in the
// sparse head come first. Levels of their own (-1) are no unknowns: what they add to the noise of their one
// observation is worked out in closed form.
class MixedSolver {
  public:
    MixedSolver(const MixedData& data, const MixedOptions& options) : data_(data), options_(options) {
        n_ = data.y.size();
        order_unknowns();
        find_entries();
        find_places();
    }

    bool run(MixedFit& fit) {
        begin(fit);
        Anderson ahead;
        for (fit.rounds = 1; fit.rounds <= options_.most_rounds; ++fit.rounds) {
            if (!solve(fit)) return false;
            const std::vector<double> before = state(fit);
            const double moved = improve(fit);
            if (moved < options_.tolerance) {
                fit.settled = true;
                break;
            }
            set_state(fit, ahead.next(before, state(fit)));
        }
        if (!solve(fit)) return false;
        settle(fit);
        return true;
    }

  private:
    // Small factors and the columns of x make the dense tail; the others, largest first, the sparse head.
    void order_unknowns() {
        const std::size_t factors = data_.factors.size();
        order_.resize(factors);
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        std::ranges::stable_sort(order_, [&](std::size_t a, std::size_t b) {
            return data_.factors[a].levels > data_.factors[b].levels;
        });
        int tail = 0;
        std::size_t heads = factors;
        while (heads > 0 && tail + data_.factors[order_[heads - 1]].levels <= kMostTail)
            tail += data_.factors[order_[--heads]].levels;
        first_.assign(factors + 1, 0);
        std::size_t next = 0;
        for (std::size_t k = 0; k < factors; ++k) {
            if (k == heads) head_ = static_cast<int>(next);
            first_[order_[k]] = next;
            next += static_cast<std::size_t>(data_.factors[order_[k]].levels);
        }
        if (heads == factors) head_ = static_cast<int>(next);
        first_[factors] = next;
        size_ = next + data_.x.size();
    }

    struct Entry {
        int unknown;
        double factor;
    };
    std::span<const Entry> entries(std::size_t i) const {
        return {entries_.data() + begin_[i], entries_.data() + begin_[i + 1]};
    }

    void find_entries() {
        for (std::size_t i = 0; i < n_; ++i) {
            begin_.push_back(entries_.size());
            for (const std::size_t k : order_)
                if (const int level = data_.factors[k].level_of[i]; level >= 0)
                    entries_.push_back({static_cast<int>(first_[k]) + level, 1});
            for (std::size_t c = 0; c < data_.x.size(); ++c)
                entries_.push_back({static_cast<int>(first_.back() + c), data_.x[c][i]});
        }
        begin_.push_back(entries_.size());
    }

    // Where the products of one observation stand in the matrix, worked out once; those of the tail are quicker to
    // work out than to remember.
    void find_places() {
        std::vector<std::pair<int, int>> pairs;
        const auto thin = [&] {
            std::ranges::sort(pairs);
            const auto repeats = std::ranges::unique(pairs);
            pairs.erase(repeats.begin(), repeats.end());
        };
        std::size_t products = 0, thinned = 0;
        for (std::size_t i = 0; i < n_; ++i) {
            const auto all = entries(i);
            for (std::size_t a = 0; a < all.size() && all[a].unknown < head_; ++a) {
                for (std::size_t b = a + 1; b < all.size(); ++b) pairs.emplace_back(all[a].unknown, all[b].unknown);
                products += all.size() - a;
            }
            if (pairs.size() > 2 * thinned + 1'000'000) {
                thin();
                thinned = pairs.size();
            }
        }
        factor_ = std::make_shared<BorderedFactor>(head_, static_cast<int>(size_) - head_, std::move(pairs));
        places_.reserve(products);
        for (std::size_t i = 0; i < n_; ++i) {
            const auto all = entries(i);
            for (std::size_t a = 0; a < all.size() && all[a].unknown < head_; ++a)
                for (std::size_t b = a; b < all.size(); ++b)
                    places_.push_back(static_cast<std::uint32_t>(factor_->place(all[a].unknown, all[b].unknown)));
        }
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

    // What a round of improve() changes, on scales on which steps are alike.
    std::vector<double> state(const MixedFit& fit) const {
        std::vector<double> out;
        for (const double sd : fit.sd) out.push_back(std::log(sd));
        out.push_back(std::log(fit.noise_sd));
        if (options_.robust) {
            out.push_back(std::log(fit.junk_share));
            out.push_back(std::log(fit.junk_scale));
        }
        return out;
    }
    void set_state(MixedFit& fit, const std::vector<double>& state) const {
        const std::size_t factors = fit.sd.size();
        for (std::size_t k = 0; k < factors; ++k) fit.sd[k] = std::max(std::exp(state[k]), kLeastSd);
        fit.noise_sd = std::max(std::exp(state[factors]), kLeastSd);
        if (!options_.robust) return;
        fit.junk_share = std::min(std::exp(state[factors + 1]), kMostJunkShare);
        fit.junk_scale = std::clamp(std::exp(state[factors + 2]), kLeastJunkScale, kMostJunkScale);
    }

    // What an observation weighs: its chance of being sound, and the little that it tells when it is not.
    double weight(const MixedFit& fit, std::size_t i) const {
        return fit.counted[i] + (1 - fit.counted[i]) / (fit.junk_scale * fit.junk_scale);
    }
    // Variance of the levels that are this observation's own.
    double own_variance(const MixedFit& fit, std::size_t i) const {
        double sum = 0;
        for (std::size_t k = 0; k < data_.factors.size(); ++k)
            if (data_.factors[k].level_of[i] < 0) sum += fit.sd[k] * fit.sd[k];
        return sum;
    }
    double precision(const MixedFit& fit, std::size_t i) const {
        return 1 / (fit.noise_sd * fit.noise_sd / weight(fit, i) + own_variance(fit, i));
    }

    bool solve(MixedFit& fit) {
        std::vector<double>& m = factor_->matrix();
        std::ranges::fill(m, 0.0);
        std::vector<double> right(size_, 0);
        const std::uint32_t* place = places_.data();
        for (std::size_t i = 0; i < n_; ++i) {
            const auto all = entries(i);
            const double p = precision(fit, i);
            for (std::size_t a = 0; a < all.size(); ++a) {
                const double pa = p * all[a].factor;
                right[static_cast<std::size_t>(all[a].unknown)] += pa * data_.y[i];
                if (all[a].unknown < head_)
                    for (std::size_t b = a; b < all.size(); ++b) m[*place++] += pa * all[b].factor;
                else
                    for (std::size_t b = a; b < all.size(); ++b)
                        m[factor_->tail_place(all[a].unknown, all[b].unknown)] += pa * all[b].factor;
            }
        }
        for (std::size_t c = 0; c < options_.column_sd.size(); ++c) {
            const int u = static_cast<int>(first_.back() + c);
            if (const auto sd = options_.column_sd[c]) m[factor_->place(u, u)] += 1 / (*sd * *sd);
        }
        for (std::size_t k = 0; k < data_.factors.size(); ++k) {
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
        left.resize(n_);
        doubt.resize(n_);
        const std::uint32_t* place = places_.data();
        for (std::size_t i = 0; i < n_; ++i) {
            const auto all = entries(i);
            double fitted = 0, alone = 0, twice = 0;
            for (std::size_t a = 0; a < all.size(); ++a) {
                const bool in_head = all[a].unknown < head_;
                const double f = all[a].factor;
                fitted += f * solution_[static_cast<std::size_t>(all[a].unknown)];
                alone += f * f * z[in_head ? *place++ : factor_->tail_place(all[a].unknown, all[a].unknown)];
                double sum = 0;
                for (std::size_t b = a + 1; b < all.size(); ++b)
                    sum +=
                        all[b].factor * z[in_head ? *place++ : factor_->tail_place(all[a].unknown, all[b].unknown)];
                twice += f * sum;
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
        const std::vector<double> own_squares_and_settled = own_levels(fit, left, doubt);
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
            sum += own_squares_and_settled[2 * k];
            settled += own_squares_and_settled[2 * k + 1];
            if (options_.prior_sd) {
                // d/d(log sd) of log(sd) - sd / prior added to that of the likelihood, set to 0.
                sum += own;
                settled += fit.sd[k] / *options_.prior_sd;
            }
            moved = std::max(moved, set(fit.sd[k], std::sqrt(sum / std::max(settled, 1e-12))));
        }
        return moved;
    }

    // The part of what is left that is an own level's, by factor: the squares of these effects, and how many of
    // them are settled. `left` and `doubt` become those of the noise alone.
    std::vector<double> own_levels(const MixedFit& fit, std::vector<double>& left,
                                   std::vector<double>& doubt) const {
        std::vector<double> out(2 * data_.factors.size(), 0);
        for (std::size_t i = 0; i < n_; ++i) {
            const double own = own_variance(fit, i);
            if (own == 0) continue;
            const double p = precision(fit, i), known = p * (1 - p * doubt[i]);
            for (std::size_t k = 0; k < data_.factors.size(); ++k) {
                if (data_.factors[k].level_of[i] >= 0) continue;
                const double variance = fit.sd[k] * fit.sd[k], effect = variance * p * left[i];
                out[2 * k] += effect * effect;
                out[2 * k + 1] += variance * known;
            }
            const double noise_share = 1 - p * own;
            left[i] *= noise_share;
            doubt[i] = noise_share * noise_share * doubt[i] + noise_share * own;
        }
        return out;
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
            for (const auto& [unknown, factor] : entries(i))
                sum += factor * solution_[static_cast<std::size_t>(unknown)];
            fit.fitted[i] = sum;
        }
        factor_->invert_on_pattern();
        fit.precision_ = factor_;
    }

    const MixedData& data_;
    const MixedOptions& options_;
    std::size_t n_ = 0, size_ = 0;
    int head_ = 0;
    std::vector<std::size_t> first_, order_, begin_;
    std::vector<Entry> entries_;
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
