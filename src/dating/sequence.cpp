// SPDX-License-Identifier: Apache-2.0
#include "dating/sequence.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <random>

#include "base/text.h"

namespace footring::dating {

namespace {

// Half of the weight lies at or below it; between two values when exactly half does.
double weighted_median(std::vector<std::pair<double, double>> values) {
    std::ranges::sort(values);
    double total = 0, below = 0;
    for (const auto& [value, weight] : values) total += weight;
    for (std::size_t i = 0; i < values.size(); ++i) {
        below += values[i].second;
        if (std::abs(below - total / 2) < total * 1e-12 && i + 1 < values.size())
            return (values[i].first + values[i + 1].first) / 2;
        if (below > total / 2) return values[i].first;
    }
    return values.back().first;
}

// Dated numbers that stand at the same number are one, as scikit-learn has it too: their weighted mean.
struct Points {
    std::vector<double> x, y, weight;
};
Points merged(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& weight) {
    std::map<double, std::pair<double, double>> at;  // sum of weight * y, sum of weight
    for (std::size_t i = 0; i < x.size(); ++i) {
        at[x[i]].first += weight[i] * y[i];
        at[x[i]].second += weight[i];
    }
    Points out;
    for (const auto& [number, sums] : at) {
        out.x.push_back(number);
        out.y.push_back(sums.first / sums.second);
        out.weight.push_back(sums.second);
    }
    return out;
}

// The line at x: straight between the points, level beyond them.
double line_at(std::span<const double> xs, std::span<const double> ys, double x) {
    const auto above = static_cast<std::size_t>(std::ranges::lower_bound(xs, x) - xs.begin());
    if (above == 0) return ys.front();
    if (above == xs.size()) return ys.back();
    const double part = (x - xs[above - 1]) / (xs[above] - xs[above - 1]);
    return ys[above - 1] + part * (ys[above] - ys[above - 1]);
}

struct Line {
    std::vector<double> x, y;
    double at(double number) const { return line_at(x, y, number); }
};
Line least_squares(const std::vector<DatedNumber>& dated, const std::vector<bool>& left_out) {
    std::vector<double> x, y, w;
    for (std::size_t i = 0; i < dated.size(); ++i) {
        if (left_out[i]) continue;
        x.push_back(static_cast<double>(dated[i].number));
        y.push_back(dated[i].middle());
        w.push_back(dated[i].weight());
    }
    Points p = merged(x, y, w);
    return {p.x, isotonic(p.y, p.weight)};
}

std::vector<bool> flags(const Sequence& s) {
    std::vector<bool> out(s.dated.size(), false);
    for (const Outlier& o : s.outliers) out[o.at] = true;
    return out;
}

// An even draw from 0..n-1, and from [0, 1): the library's own distributions differ between compilers.
std::size_t draw(std::mt19937& random, std::size_t n) {
    return static_cast<std::size_t>((static_cast<std::uint64_t>(random()) * n) >> 32u);
}
double draw(std::mt19937& random) { return static_cast<double>(random()) / 4294967296.0; }

// Pools neighbours that are out of order, into `blocks`, which is used again and again.
struct Block {
    double sum, weight, mean;
    std::size_t count;
};
void pool(std::span<const double> y, std::span<const double> weights, std::vector<Block>& blocks) {
    blocks.clear();
    for (std::size_t i = 0; i < y.size(); ++i) {
        const double w = weights.empty() ? 1 : weights[i];
        Block next{w * y[i], w, (w * y[i]) / w, 1};
        while (!blocks.empty() && blocks.back().mean >= next.mean) {
            const Block& before = blocks.back();
            const double sum = before.sum + next.sum, weight = before.weight + next.weight;
            next = {sum, weight, sum / weight, before.count + next.count};
            blocks.pop_back();
        }
        blocks.push_back(next);
    }
}

}  // namespace

std::vector<double> isotonic(std::span<const double> y, std::span<const double> weights) {
    std::vector<Block> blocks;
    pool(y, weights, blocks);
    std::vector<double> out;
    for (const Block& block : blocks) out.insert(out.end(), block.count, block.mean);
    return out;
}

std::vector<double> isotonic_medians(std::span<const double> y, std::span<const double> weights) {
    struct Block {
        std::vector<std::pair<double, double>> values;
        double median;
    };
    std::vector<Block> blocks;
    for (std::size_t i = 0; i < y.size(); ++i) {
        blocks.push_back({{{y[i], weights.empty() ? 1 : weights[i]}}, y[i]});
        while (blocks.size() > 1 && blocks[blocks.size() - 2].median >= blocks.back().median) {
            Block& before = blocks[blocks.size() - 2];
            before.values.insert(before.values.end(), blocks.back().values.begin(), blocks.back().values.end());
            before.median = weighted_median(before.values);
            blocks.pop_back();
        }
    }
    std::vector<double> out;
    for (const Block& block : blocks) out.insert(out.end(), block.values.size(), block.median);
    return out;
}

Expected<Sequence> fit_sequence(std::vector<DatedNumber> dated, const Settings& settings) {
    if (dated.size() < 3)
        return fail(ProblemCode::kBadInput, "sequence",
                    dated.empty() ? "no number of it is dated" : "fewer than three numbers of it are dated",
                    "give the years of more treatments, or ask for a wider sequence");
    Sequence out;
    std::ranges::stable_sort(dated, [](const DatedNumber& a, const DatedNumber& b) { return a.number < b.number; });
    out.dated = std::move(dated);
    const std::size_t n = out.dated.size();

    std::vector<double> y, w, away;
    for (const DatedNumber& one : out.dated) y.push_back(one.middle()), w.push_back(one.weight());
    const std::vector<double> robust = isotonic_medians(y, w);
    for (std::size_t i = 0; i < n; ++i) away.push_back(std::abs(y[i] - robust[i]));
    std::vector<std::pair<double, double>> sizes;
    for (const double one : away) sizes.emplace_back(one, 1);
    // 1.4826 makes the median deviation that of a normal spread; nobody dates a treatment closer than a year.
    out.typical_years = std::max(1.0, 1.4826 * weighted_median(sizes));
    std::vector<bool> left_out(n, false);
    for (std::size_t i = 0; i < n; ++i) {
        const double reach = (out.dated[i].last - out.dated[i].first) / 2;  // its own period forgives as much
        left_out[i] = away[i] - reach > settings.sequence_outlier * out.typical_years;
    }
    if (std::ranges::count(left_out, false) < 3) left_out.assign(n, false);

    const Line line = least_squares(out.dated, left_out);
    for (std::size_t i = 0; i < n; ++i) {
        out.line.push_back(line.at(static_cast<double>(out.dated[i].number)));
        if (left_out[i]) out.outliers.push_back({i, out.line[i], (y[i] - out.line[i]) / out.typical_years});
    }
    return out;
}

NumberYear year_of_number(const Sequence& s, std::int64_t number, const Settings& settings, std::uint32_t seed) {
    return years_of_numbers(s, {&number, 1}, settings, seed).front();
}

std::vector<NumberYear> years_of_numbers(const Sequence& s, std::span<const std::int64_t> numbers,
                                         const Settings& settings, std::uint32_t seed) {
    const std::vector<bool> left_out = flags(s);
    struct Kept {
        std::size_t slot;  // which of the different numbers it bears
        double first, span, weight, deviation;
    };
    std::vector<Kept> kept;
    std::vector<double> different;  // ascending
    for (std::size_t i = 0; i < s.dated.size(); ++i) {
        if (left_out[i]) continue;
        const auto number = static_cast<double>(s.dated[i].number);
        if (different.empty() || different.back() != number) different.push_back(number);
        const DatedNumber& one = s.dated[i];
        kept.push_back(
            {different.size() - 1, one.first, one.last - one.first, one.weight(), one.middle() - s.line[i]});
    }
    const Line line = least_squares(s.dated, left_out);
    std::vector<NumberYear> out;
    for (const std::int64_t number : numbers) {
        NumberYear& one = out.emplace_back();
        one.number = number;
        one.year = line.at(static_cast<double>(number));
        if (static_cast<double>(number) < different.front()) one.where = NumberYear::Where::kBefore;
        if (static_cast<double>(number) > different.back()) one.where = NumberYear::Where::kAfter;
    }

    // Sums by number rather than sorted points: the numbers stand in order already.
    const auto resamples = static_cast<std::size_t>(settings.sequence_resamples);
    std::vector<std::vector<double>> drawn(numbers.size());
    for (auto& one : drawn) one.reserve(resamples);
    std::vector<double> sum(different.size()), weight(different.size());
    std::vector<double> xs(different.size()), ys(different.size()), ws(different.size()), fit(different.size());
    std::vector<Block> blocks;
    std::mt19937 random(seed);
    for (std::size_t i = 0; i < resamples; ++i) {
        std::ranges::fill(sum, 0);
        std::ranges::fill(weight, 0);
        for (std::size_t k = 0; k < kept.size(); ++k) {
            const Kept& one = kept[draw(random, kept.size())];
            const double year = one.first + draw(random) * one.span;
            sum[one.slot] += one.weight * year;
            weight[one.slot] += one.weight;
        }
        std::size_t points = 0, fitted = 0;
        for (std::size_t at = 0; at < different.size(); ++at) {
            xs[points] = different[at], ys[points] = sum[at] / weight[at], ws[points] = weight[at];
            points += weight[at] > 0 ? 1 : 0;
        }
        pool(std::span(ys).first(points), std::span(ws).first(points), blocks);
        for (const Block& block : blocks)
            for (const std::size_t end = fitted + block.count; fitted < end; ++fitted) fit[fitted] = block.mean;
        const double deviation = kept[draw(random, kept.size())].deviation;
        for (std::size_t n = 0; n < numbers.size(); ++n)
            drawn[n].push_back(line_at(std::span(xs).first(points), std::span(fit).first(points),
                                       static_cast<double>(numbers[n])) +
                               deviation);
    }
    const double tail = (1 - settings.sequence_interval) / 2;
    for (std::size_t n = 0; n < numbers.size(); ++n) {
        const auto at = [&](double share) {
            const double place = share * static_cast<double>(drawn[n].size() - 1);
            const auto below = static_cast<std::ptrdiff_t>(place);
            std::ranges::nth_element(drawn[n], drawn[n].begin() + below);
            const double lower = drawn[n][static_cast<std::size_t>(below)];
            const auto above = drawn[n].begin() + below + 1;
            const double upper = above == drawn[n].end() ? lower : *std::min_element(above, drawn[n].end());
            return lower + (place - static_cast<double>(below)) * (upper - lower);
        };
        out[n].low = std::min(at(tail), out[n].year);
        out[n].high = std::max(at(1 - tail), out[n].year);
    }
    return out;
}

std::optional<SequenceNumber> sequence_number(std::string_view text) {
    text = trim(text);
    std::size_t digits = text.size();
    while (digits > 0 && text[digits - 1] >= '0' && text[digits - 1] <= '9') --digits;
    if (digits == text.size() || text.size() - digits > 9) return std::nullopt;
    if (text.substr(0, digits).find_first_of("0123456789?*") != text.npos) return std::nullopt;
    std::int64_t number = 0;
    for (const char c : text.substr(digits)) number = number * 10 + (c - '0');
    return SequenceNumber{lower(text.substr(0, digits)), number};
}

bool SequenceOf::holds(const book::Book& book, const book::Treatment& t) const {
    return (!shape || t.shape == *shape) && (!maker || book[t.shape].maker == *maker) &&
           (t.grade == book::Grade::kSecond) == seconds;
}

bool is_number_of_seconds(const book::Book& book, const SequenceOf& of, std::int64_t number) {
    bool recorded[2] = {false, false}, within[2] = {false, false};
    for (const bool seconds : {false, true}) {
        SequenceOf one = of;
        one.seconds = seconds;
        std::optional<std::int64_t> lowest, highest;
        for (const book::Treatment& t : book.treatments) {
            const auto its = sequence_number(t.number);
            if (!its || its->sequence != of.sequence || !one.holds(book, t)) continue;
            recorded[seconds] = recorded[seconds] || its->number == number;
            lowest = std::min(lowest.value_or(its->number), its->number);
            highest = std::max(highest.value_or(its->number), its->number);
        }
        within[seconds] = lowest && *lowest <= number && number <= *highest;
    }
    if (recorded[0] || recorded[1]) return !recorded[0];
    return within[1] && !within[0];
}

std::vector<DatedNumber> dated_numbers(const book::Book& book, const SequenceOf& of, const Settings& settings) {
    struct Use {
        std::int64_t year;
        std::vector<book::Ref<book::Source>> sources;
    };
    std::map<std::string, Use> earliest;  // by full id of the subject
    for (const book::DatedUse& use : book.dated_uses) {
        const auto& span = use.date.spans().front();
        const auto year = span.last ? span.last : span.first;
        if (!year) continue;
        const auto [at, fresh] = earliest.try_emplace(use.subject, Use{*year, use.sources});
        if (!fresh && *year < at->second.year) at->second = {*year, use.sources};
    }
    std::vector<DatedNumber> out;
    for (std::uint32_t at = 0; at < book.treatments.size(); ++at) {
        const book::Treatment& t = book.treatments[at];
        const auto number = sequence_number(t.number);
        if (!number || number->sequence != of.sequence || !of.holds(book, t)) continue;
        DatedNumber one{.name = book::id_of(book, book::Ref<book::Treatment>{at}),
                        .number = number->number,
                        .sources = t.sources,
                        .treatment = book::Ref<book::Treatment>{at}};
        if (t.years && t.years->spans().front().first) {
            const edtf::Span& span = t.years->spans().front();
            const double soft = span.first_end == edtf::End::kSharp   ? 0
                                : span.first_end == edtf::End::kAbout ? settings.soft_about_years
                                                                      : settings.soft_uncertain_years;
            one.first = static_cast<double>(*span.first) - soft;
            one.last = static_cast<double>(*span.first) + soft;
        } else {
            const std::string full =
                t.origin.pack < book.packs.size() ? book.packs[t.origin.pack].id + ":" + t.id : t.id;
            const auto use = earliest.find(full);
            if (use == earliest.end()) continue;
            one.last = static_cast<double>(use->second.year);
            one.first = one.last - settings.soft_uncertain_years;
            one.sources = use->second.sources;
        }
        out.push_back(std::move(one));
    }
    return out;
}

}  // namespace footring::dating
