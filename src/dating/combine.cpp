// SPDX-License-Identifier: Apache-2.0
#include "dating/combine.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <optional>

namespace footring::dating {

namespace {

constexpr double kLeastDivided = 1e-6;  // a share that a smaller weight made small has lost figures

// Products of many small numbers: sums of logarithms, with the factors of 0 counted apart so that one statement can
// be taken out again.
class Product {
  public:
    Product(std::span<const YearStatement> statements, std::size_t years)
        : years_(years), logs_(statements.size() * years), sum_(years, 0), zeros_(years, 0) {
        for (std::size_t i = 0; i < statements.size(); ++i) {
            weights_.push_back(weights_of(statements[i]));
            for (std::size_t y = 0; y < years; ++y) {
                if (weight(i, y) <= 0) ++zeros_[y];
                else sum_[y] += log_of(i, y) = std::log(weight(i, y));
            }
        }
    }
    double weight(std::size_t statement, std::size_t year) const { return weights_[statement][year]; }
    bool rules_out(std::size_t statement) const {
        return std::ranges::any_of(weights_[statement], [](double w) { return w < kLeastDivided; });
    }
    std::vector<double> without(std::size_t statement, std::vector<double> by_year) const {
        double sum = 0;
        for (std::size_t y = 0; y < years_; ++y) sum += by_year[y] /= weight(statement, y);
        if (sum > 0)
            for (double& share : by_year) share /= sum;
        return by_year;
    }
    // Over the years, sum 1; all zero when every year is ruled out. `without` one statement, or none.
    std::vector<double> shares(std::optional<std::size_t> without) const {
        std::vector<double> out(years_);
        const auto log_at = [&](std::size_t y) -> std::optional<double> {
            const bool own_zero = without && weight(*without, y) <= 0;
            if (zeros_[y] > (own_zero ? 1 : 0)) return std::nullopt;
            return sum_[y] - (without ? logs_[*without * years_ + y] : 0);
        };
        double most = -std::numeric_limits<double>::infinity(), sum = 0;
        for (std::size_t y = 0; y < years_; ++y) most = std::max(most, log_at(y).value_or(most));
        for (std::size_t y = 0; y < years_; ++y)
            if (const auto log = log_at(y)) sum += out[y] = std::exp(*log - most);
        if (sum > 0)
            for (double& share : out) share /= sum;
        return out;
    }

  private:
    double& log_of(std::size_t i, std::size_t y) { return logs_[i * years_ + y]; }

    std::size_t years_;
    std::vector<std::vector<double>> weights_;  // by statement, by year
    std::vector<double> logs_, sum_;            // 0 for a factor of 0
    std::vector<int> zeros_;
};

std::size_t median_of(const std::vector<double>& by_year) {
    double below = 0;
    std::size_t median = 0;
    while (median + 1 < by_year.size() && (below += by_year[median]) < 0.5 - 1e-12) ++median;
    return median;
}

}  // namespace

std::vector<double> weights_of(const YearStatement& s) {
    const double sum = std::accumulate(s.agrees.begin(), s.agrees.end(), 0.0);
    const double scale = sum > 0 ? s.trust * static_cast<double>(s.agrees.size()) / sum : 0;
    std::vector<double> out(s.agrees.size());
    for (std::size_t y = 0; y < out.size(); ++y) out[y] = scale * s.agrees[y] + (1 - s.trust);
    return out;
}

std::vector<double> years_of(std::span<const YearStatement> statements, std::size_t years) {
    // A double holds the product of hundreds of ordinary weights; where it does not, logarithms do.
    std::vector<double> out(years, 1);
    for (const YearStatement& s : statements) {
        const std::vector<double> weights = weights_of(s);
        for (std::size_t y = 0; y < years; ++y) out[y] *= weights[y];
    }
    double sum = 0;
    for (const double share : out) sum += share;
    if (!(sum > 1e-200 && sum < 1e200)) return Product(statements, years).shares(std::nullopt);
    for (double& share : out) share /= sum;
    return out;
}

YearsTogether combine(std::span<const YearStatement> statements, std::size_t years) {
    YearsTogether out;
    const Product product(statements, years);
    out.by_year = product.shares(std::nullopt);
    const std::size_t median = median_of(out.by_year);
    for (std::size_t i = 0; i < statements.size(); ++i) {
        const YearStatement& s = statements[i];
        Heard heard{.holds = 0, .cut_before = 0, .cut_after = 0};
        // What the others say is the answer with this one divided out, unless it ruled out a year by itself.
        const std::vector<double> others =
            product.rules_out(i) ? product.shares(i) : product.without(i, out.by_year);
        double most = 0;
        for (std::size_t y = 0; y < years; ++y) most = std::max(most, product.weight(i, y));
        for (std::size_t y = 0; y < years; ++y) {
            const double w = product.weight(i, y);
            if (w > 0) heard.holds += out.by_year[y] * (w - (1 - s.trust)) / w;
            if (most > 0) (y < median ? heard.cut_before : heard.cut_after) += others[y] * (1 - w / most);
        }
        out.heard.push_back(heard);
    }
    std::vector<std::vector<bool>> allowed;
    for (const YearStatement& one : statements) {
        std::vector<bool> row(years);
        for (std::size_t y = 0; y < years; ++y) row[y] = one.agrees[y] > 0;
        allowed.push_back(std::move(row));
    }
    out.contradictions = contradictions(allowed);
    return out;
}

std::vector<double> agrees_with(const edtf::Edtf& date, int first_year, int last_year, const Settings& settings) {
    return edtf::year_weights(date, first_year, last_year, settings);
}

std::vector<double> agrees_with_years(const std::vector<int>& years, int first_year, int last_year) {
    std::vector<double> out(static_cast<std::size_t>(last_year - first_year + 1), 0);
    for (const int year : years)
        if (year >= first_year && year <= last_year) out[static_cast<std::size_t>(year - first_year)] = 1;
    return out;
}

std::vector<double> agrees_with_uses(std::vector<int> uses, double reach, int first_year, int last_year) {
    std::vector<double> out(static_cast<std::size_t>(last_year - first_year + 1), 1);
    if (uses.empty()) return out;
    const auto [first, last] = std::ranges::minmax(uses);
    const double range = last - first + reach;
    const double power = std::max<double>(static_cast<double>(uses.size()) - 1, 1);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const int year = first_year + static_cast<int>(i);
        const int outside = std::max({first - year, year - last, 0});
        if (outside > 0) out[i] = std::pow(range / (range + outside), power);
    }
    return out;
}

std::vector<double> agrees_with_estimate(double mean, double sigma, int first_year, int last_year) {
    std::vector<double> out(static_cast<std::size_t>(last_year - first_year + 1));
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double z = (first_year + static_cast<double>(i) - mean) / sigma;
        out[i] = std::exp(-z * z / 2);
    }
    return out;
}

std::vector<double> agrees_after_estimate(double mean, double sigma, int first_year, int last_year) {
    std::vector<double> out;
    for (int year = first_year; year <= last_year; ++year)
        out.push_back(0.5 * std::erfc((mean - (year + 0.5)) / (std::max(sigma, 1e-9) * std::numbers::sqrt2)));
    return out;
}

double trust_of(const book::Book& book, const std::vector<book::Ref<book::Source>>& sources, double otherwise) {
    double doubt = sources.empty() ? 1 - otherwise : 1;
    for (const auto source : sources) doubt *= 1 - book[source].trust.value_or(otherwise);
    return 1 - doubt;
}

}  // namespace footring::dating
