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
double line_at(const std::vector<double>& xs, const std::vector<double>& ys, double x) {
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

}  // namespace

std::vector<double> isotonic(std::span<const double> y, std::span<const double> weights) {
    struct Block {
        double sum, weight;
        std::size_t count;
        double mean() const { return sum / weight; }
    };
    std::vector<Block> blocks;
    for (std::size_t i = 0; i < y.size(); ++i) {
        const double w = weights.empty() ? 1 : weights[i];
        blocks.push_back({w * y[i], w, 1});
        while (blocks.size() > 1 && blocks[blocks.size() - 2].mean() >= blocks.back().mean()) {
            const Block last = blocks.back();
            blocks.pop_back();
            Block& before = blocks.back();
            before = {before.sum + last.sum, before.weight + last.weight, before.count + last.count};
        }
    }
    std::vector<double> out;
    for (const Block& block : blocks) out.insert(out.end(), block.count, block.mean());
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
    std::vector<std::size_t> kept, slot;  // dated numbers, and which of the different numbers each bears
    std::vector<double> different;        // ascending
    for (std::size_t i = 0; i < s.dated.size(); ++i) {
        if (left_out[i]) continue;
        const auto number = static_cast<double>(s.dated[i].number);
        if (different.empty() || different.back() != number) different.push_back(number);
        kept.push_back(i);
        slot.push_back(different.size() - 1);
    }
    const Line line = least_squares(s.dated, left_out);
    std::vector<NumberYear> out;
    for (const std::int64_t number : numbers) {
        NumberYear& one = out.emplace_back();
        one.number = number;
        one.year = line.at(static_cast<double>(number));
        if (number < s.dated[kept.front()].number) one.where = NumberYear::Where::kBefore;
        if (number > s.dated[kept.back()].number) one.where = NumberYear::Where::kAfter;
    }

    // Sums by number rather than sorted points: the numbers stand in order already.
    const auto resamples = static_cast<std::size_t>(settings.sequence_resamples);
    std::vector<std::vector<double>> drawn(numbers.size());
    for (auto& one : drawn) one.reserve(resamples);
    std::vector<double> sum(different.size()), weight(different.size()), xs, ys, ws;
    std::mt19937 random(seed);
    for (std::size_t i = 0; i < resamples; ++i) {
        std::ranges::fill(sum, 0);
        std::ranges::fill(weight, 0);
        for (std::size_t k = 0; k < kept.size(); ++k) {
            const std::size_t which = draw(random, kept.size());
            const DatedNumber& one = s.dated[kept[which]];
            const double year = one.first + draw(random) * (one.last - one.first), w = one.weight();
            sum[slot[which]] += w * year;
            weight[slot[which]] += w;
        }
        xs.clear(), ys.clear(), ws.clear();
        for (std::size_t at = 0; at < different.size(); ++at)
            if (weight[at] > 0)
                xs.push_back(different[at]), ys.push_back(sum[at] / weight[at]), ws.push_back(weight[at]);
        const std::vector<double> fit = isotonic(ys, ws);
        const std::size_t other = kept[draw(random, kept.size())];
        const double deviation = s.dated[other].middle() - s.line[other];
        for (std::size_t n = 0; n < numbers.size(); ++n)
            drawn[n].push_back(line_at(xs, fit, static_cast<double>(numbers[n])) + deviation);
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
