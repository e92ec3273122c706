// SPDX-License-Identifier: Apache-2.0
#include "dating/unseen.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace footring::dating {

namespace {

double square(double x) { return x * x; }

// P(maximum > n) = C(m-1, k-1) / C(n, k-1), as a product of k - 1 fractions.
double chance_above(double m, double k, double n) {
    double out = 1;
    for (double i = 0; i < k - 1; ++i) out *= (m - 1 - i) / (n - i);
    return out;
}

// The least n >= m with P(maximum <= n) >= share.
std::int64_t quantile(std::int64_t m, std::size_t k, double share) {
    const auto above = [&](std::int64_t n) {
        return chance_above(static_cast<double>(m), static_cast<double>(k), static_cast<double>(n));
    };
    const double wanted = 1 - share + 1e-12;
    std::int64_t low = m, high = m;
    while (above(high) > wanted) {
        low = high + 1;
        high *= 2;
    }
    while (low < high) {
        const std::int64_t middle = low + (high - low) / 2;
        if (above(middle) <= wanted) high = middle;
        else low = middle + 1;
    }
    return low;
}

// Chao's interval: the unseen are lognormal, so that it never falls below what was seen.
void give_interval(Richness& r, double seen, double variance, double interval) {
    r.standard_error = std::sqrt(std::max(0.0, variance));
    const double unseen = r.value - seen;
    if (unseen <= 1e-12) {
        r.interval = {seen, seen};
        return;
    }
    const double k = std::exp(normal_reach(interval) * std::sqrt(std::log1p(variance / square(unseen))));
    r.interval = {seen + unseen / k, seen + unseen * k};
}

void give_normal_interval(Richness& r, double seen, double variance, double interval) {
    r.standard_error = std::sqrt(std::max(0.0, variance));
    const double reach = normal_reach(interval) * *r.standard_error;
    r.interval = {std::max(seen, r.value - reach), std::max(seen, r.value + reach)};
}

constexpr std::string_view kSightings =
    "Every kind can be seen, sightings are independent of each other, and no kinds were added or lost meanwhile. ";

}  // namespace

double normal_reach(double interval) {
    double low = 0, high = 10;
    for (int i = 0; i < 100; ++i) {
        const double middle = (low + high) / 2;
        (std::erf(middle / std::sqrt(2.0)) < interval ? low : high) = middle;
    }
    return (low + high) / 2;
}

MaximumNumber maximum_number(std::span<const std::int64_t> numbers, std::int64_t before_first, double interval) {
    MaximumNumber out;
    out.count = numbers.size();
    out.highest = *std::ranges::max_element(numbers);
    const std::int64_t m = out.highest - before_first;
    const auto k = static_cast<double>(out.count), top = static_cast<double>(m),
               shift = static_cast<double>(before_first);
    out.unbiased = shift + top + top / k - 1;
    if (out.count >= 3) out.mean = shift + (top - 1) * (k - 1) / (k - 2);
    if (out.count >= 4) out.sd = std::sqrt((k - 1) * (top - 1) * (top - k + 1) / ((k - 3) * square(k - 2)));
    if (out.count >= 2) {
        out.median = before_first + quantile(m, out.count, 0.5);
        out.upper = before_first + quantile(m, out.count, interval);
    }
    return out;
}

std::vector<NumberRun> missing_numbers(std::vector<std::int64_t> numbers) {
    std::ranges::sort(numbers);
    std::vector<NumberRun> out;
    for (std::size_t i = 1; i < numbers.size(); ++i)
        if (numbers[i] - numbers[i - 1] > 1) out.push_back({numbers[i - 1] + 1, numbers[i] - 1});
    return out;
}

// k numbers have k - 2 between their ends and leave k - 1 gaps; each is x or more with the chance (1 - x)^(k - 2),
// and above 1/2 only one of them can be.
double chance_of_gap(std::size_t numbers, double share) {
    if (numbers < 3) return 1;
    const auto k = static_cast<double>(numbers);
    return std::min(1.0, (k - 1) * std::pow(std::max(0.0, 1 - share), k - 2));
}

std::vector<std::vector<std::int64_t>> without_wide_gaps(const std::vector<std::int64_t>& numbers) {
    std::size_t widest = 0;
    for (std::size_t i = 1; i < numbers.size(); ++i)
        if (widest == 0 || numbers[i] - numbers[i - 1] > numbers[widest] - numbers[widest - 1]) widest = i;
    const double share = widest == 0 ? 0
                                     : static_cast<double>(numbers[widest] - numbers[widest - 1]) /
                                           static_cast<double>(numbers.back() - numbers.front());
    if (widest == 0 || chance_of_gap(numbers.size(), share) >= kGapByChance) return {numbers};
    const auto at = numbers.begin() + static_cast<std::ptrdiff_t>(widest);
    auto out = without_wide_gaps({numbers.begin(), at});
    for (auto& run : without_wide_gaps({at, numbers.end()})) out.push_back(std::move(run));
    return out;
}

int Abundance::kinds() const {
    int out = 0;
    for (const auto& [times, count] : kinds_seen) out += count;
    return out;
}
int Abundance::sightings() const {
    int out = 0;
    for (const auto& [times, count] : kinds_seen) out += times * count;
    return out;
}
int Abundance::seen(int times) const {
    const auto found = kinds_seen.find(times);
    return found == kinds_seen.end() ? 0 : found->second;
}
Abundance abundance(std::span<const int> times) {
    Abundance out;
    for (const int one : times)
        if (one > 0) ++out.kinds_seen[one];
    return out;
}
std::map<int, int> Finds::kinds_in() const {
    std::map<int, int> finds_of, out;
    for (const auto& find : kinds)
        for (const int kind : find) ++finds_of[kind];
    for (const auto& [kind, finds] : finds_of) ++out[finds];
    return out;
}

Richness chao1(const Abundance& a, double interval) {
    const double f1 = a.seen(1), f2 = a.seen(2), seen = a.kinds();
    Richness out{"chao1",
                 seen + f1 * (f1 - 1) / (2 * (f2 + 1)),
                 {},
                 {},
                 std::string(kSightings) + "A lower bound: kinds that are very rare may be more than it says."};
    // Delta method over the multinomial counts f1, f2, ...: sum g_i^2 f_i - (sum g_i f_i)^2 / estimate.
    const double g1 = 1 + (2 * f1 - 1) / (2 * (f2 + 1)), g2 = 1 - f1 * (f1 - 1) / (2 * square(f2 + 1));
    const double rest = seen - f1 - f2;
    const double squares = g1 * g1 * f1 + g2 * g2 * f2 + rest, sum = g1 * f1 + g2 * f2 + rest;
    give_interval(out, seen, out.value > 0 ? squares - square(sum) / out.value : 0, interval);
    return out;
}

std::optional<Richness> ace(const Abundance& a, int rare, double interval) {
    const double f1 = a.seen(1);
    double kinds = 0, n = 0, pairs = 0, abundant = 0;  // of the rare: kinds, sightings, sum i (i - 1) f_i
    for (const auto& [times, count] : a.kinds_seen) {
        const double i = times, f = count;
        if (times > rare) abundant += f;
        else kinds += f, n += i * f, pairs += i * (i - 1) * f;
    }
    const double coverage = n > 0 ? 1 - f1 / n : 1;
    if (coverage <= 0) return std::nullopt;
    const double spread = n > 1 ? kinds / coverage * pairs / (n * (n - 1)) - 1 : 0;  // squared variation of chances
    const double gamma = std::max(spread, 0.0);
    Richness out{"ace",
                 abundant + kinds / coverage + gamma * f1 / coverage,
                 {},
                 {},
                 std::string(kSightings) + "Kinds seen often tell nothing of the unseen; the rare ones do."};
    double squares = abundant, sum = abundant;
    for (const auto& [times, count] : a.kinds_seen) {
        if (times > rare) continue;
        const double i = times, f = count;
        const double coverage_by_f = (times == 1 ? -1 / n : 0) + f1 * i / square(n);
        double g = 1 / coverage - kinds * coverage_by_f / square(coverage);
        if (gamma > 0) {
            const double spread_by_f =
                (spread + 1) * (i * (i - 1) / pairs + 1 / kinds - coverage_by_f / coverage - i / n - i / (n - 1));
            g += spread_by_f * f1 / coverage + (times == 1 ? gamma / coverage : 0) -
                 gamma * f1 * coverage_by_f / square(coverage);
        }
        squares += g * g * f;
        sum += g * f;
    }
    give_interval(out, a.kinds(), out.value > 0 ? squares - square(sum) / out.value : 0, interval);
    return out;
}

namespace {

double in(const std::map<int, int>& kinds_in, int finds) {
    const auto found = kinds_in.find(finds);
    return found == kinds_in.end() ? 0 : found->second;
}
double kinds_of(const std::map<int, int>& kinds_in) {
    double out = 0;
    for (const auto& [finds, count] : kinds_in) out += count;
    return out;
}

constexpr std::string_view kFinds =
    "Finds are independent of each other and made alike, and every kind can turn up in any of them. ";

}  // namespace

Richness chao2(const std::map<int, int>& kinds_in, int finds, double interval) {
    const double q1 = in(kinds_in, 1), q2 = in(kinds_in, 2), seen = kinds_of(kinds_in), t = finds, a = (t - 1) / t;
    Richness out{"chao2", 0, {}, {}, std::string(kFinds) + "A lower bound, as Chao1."};
    double variance = 0;
    if (q2 > 0) {
        const double r = q1 / q2;
        out.value = seen + a * q1 * q1 / (2 * q2);
        variance = q2 * (a / 2 * r * r + a * a * r * r * r + a * a / 4 * square(r * r));
    } else {
        out.value = seen + a * q1 * (q1 - 1) / 2;
        if (out.value > 0)
            variance = a * q1 * (q1 - 1) / 2 + a * a * q1 * square(2 * q1 - 1) / 4 -
                       a * a * square(q1 * q1) / (4 * out.value);
    }
    give_interval(out, seen, variance, interval);
    return out;
}

double jackknife1(const std::map<int, int>& kinds_in, int finds) {
    const double t = finds;
    return kinds_of(kinds_in) + in(kinds_in, 1) * (t - 1) / t;
}

double jackknife2(const std::map<int, int>& kinds_in, int finds) {
    const double t = finds;
    if (finds < 2) return kinds_of(kinds_in);
    return kinds_of(kinds_in) + in(kinds_in, 1) * (2 * t - 3) / t - in(kinds_in, 2) * square(t - 2) / (t * (t - 1));
}

double bootstrap(const std::map<int, int>& kinds_in, int finds) {
    double out = kinds_of(kinds_in);
    for (const auto& [k, count] : kinds_in) out += count * std::pow(1 - static_cast<double>(k) / finds, finds);
    return out;
}

std::vector<Richness> resampled(const Finds& finds, double interval) {
    const auto kinds_in = finds.kinds_in();
    const int t = static_cast<int>(finds.kinds.size());
    const double seen = kinds_of(kinds_in);
    std::map<int, std::vector<bool>> present;  // kind -> by find
    for (std::size_t f = 0; f < finds.kinds.size(); ++f)
        for (const int kind : finds.kinds[f]) {
            auto& where = present[kind];
            where.resize(finds.kinds.size(), false);
            where[f] = true;
        }

    Richness first{"jackknife1",
                   jackknife1(kinds_in, t),
                   {},
                   {},
                   std::string(kFinds) + "Takes one find away at a time; too low when most kinds are rare."};
    std::vector<double> own(finds.kinds.size(), 0.0);  // kinds that a find alone has
    for (const auto& [kind, where] : present)
        if (std::ranges::count(where, true) == 1)
            own[static_cast<std::size_t>(std::ranges::find(where, true) - where.begin())] += 1;
    double squares = 0, sum = 0;
    for (const double one : own) squares += one * one, sum += one;
    give_normal_interval(first, seen, (t - 1.0) / t * (squares - sum * sum / t), interval);

    Richness second{
        "jackknife2",
        std::max(seen, jackknife2(kinds_in, t)),
        {},
        {},
        std::string(kFinds) + "Takes two finds away at a time; less biased than the first, and less steady."};

    Richness boot{"bootstrap",
                  bootstrap(kinds_in, t),
                  {},
                  {},
                  std::string(kFinds) + "Draws finds anew from the finds; cautious, often too low."};
    // Variance of the kinds that a sample of t finds drawn with replacement misses.
    double variance = 0;
    for (auto i = present.begin(); i != present.end(); ++i) {
        const double absent_i = 1 - static_cast<double>(std::ranges::count(i->second, true)) / t;
        const double miss_i = std::pow(absent_i, t);
        variance += miss_i * (1 - miss_i);
        for (auto j = std::next(i); j != present.end(); ++j) {
            int neither = 0;
            for (std::size_t f = 0; f < finds.kinds.size(); ++f) neither += !i->second[f] && !j->second[f];
            const double absent_j = 1 - static_cast<double>(std::ranges::count(j->second, true)) / t;
            variance += 2 * (std::pow(static_cast<double>(neither) / t, t) - miss_i * std::pow(absent_j, t));
        }
    }
    give_normal_interval(boot, seen, variance, interval);
    return {first, second, boot};
}

double rarefied(const Abundance& a, int sightings) {
    const double n = a.sightings(), m = std::min<double>(sightings, n);
    double out = 0;
    for (const auto& [times, count] : a.kinds_seen) {
        // C(n - x, m) / C(n, m): that none of the m is of this kind
        double missed = n - times < m ? 0 : 1;
        for (double i = 0; missed > 0 && i < times; ++i) missed *= (n - m - i) / (n - i);
        out += count * (1 - missed);
    }
    return out;
}

double extrapolated(const Abundance& a, int additional) {
    const double n = a.sightings(), seen = a.kinds(), f1 = a.seen(1);
    const double unseen = f1 * (f1 - 1) / (2.0 * (a.seen(2) + 1));
    if (unseen <= 0 || f1 <= 0) return seen;
    return seen + unseen * (1 - std::pow(1 - f1 / (n * unseen + f1), additional));
}

std::vector<Discovered> discovery(const Abundance& a, int steps) {
    std::vector<Discovered> out;
    const int n = a.sightings();
    for (int i = 0; i <= steps; ++i) {
        const int m = static_cast<int>(std::lround(2.0 * n * i / steps));
        if (!out.empty() && out.back().sightings == m) continue;
        out.push_back({m, m <= n ? rarefied(a, m) : extrapolated(a, m - n)});
    }
    return out;
}

}  // namespace footring::dating
