// SPDX-License-Identifier: Apache-2.0
#include "worth/prices.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "worth/chance.h"

namespace footring::worth {

namespace {

// Weak priors: a term with nothing to say about itself moves prices by about a third; the trend is within a
// doubling or halving in ten years, and the price grows about with the size, by chance 2 in 3.
constexpr double kTermSd = 0.3, kTrendSd = 0.7, kSizeSd = 1.5;
constexpr std::size_t kFewestAtVenue = 3, kMostVenues = 250;
constexpr std::size_t kManyDraws = 1000, kFewDraws = 400, kManyUnknowns = 20'000;
constexpr std::uint64_t kDrawSeed = 20;

enum Column : std::size_t { kConstant, kTrendColumn, kSizeColumn };

std::size_t at(Term term) { return static_cast<std::size_t>(term); }

// Terms that say what a thing is; the others say how and when it was sold.
constexpr Term kOfThing[] = {Term::kForm, Term::kShape, Term::kDecoration, Term::kTreatment, Term::kCell};
bool of_thing(Term term) { return std::ranges::find(kOfThing, term) != std::end(kOfThing); }

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::ranges::nth_element(values, middle);
    return *middle;
}

std::uint64_t hashed(std::string_view text) {  // FNV-1a, the same everywhere
    std::uint64_t h = 1469598103934665603u;
    for (const char c : text) h = (h ^ static_cast<unsigned char>(c)) * 1099511628211u;
    return h;
}

}  // namespace

std::string Prices::term_key(const Thing& thing, Term term, double year) const {
    switch (term) {
        case Term::kForm:
            return thing.form;
        case Term::kShape:
            return thing.shape;
        case Term::kDecoration:
            return thing.decoration;
        case Term::kTreatment:
            return thing.treatment;
        case Term::kCell:
            return thing.treatment.empty() || thing.form.empty() ? "" : thing.treatment + " " + thing.form;
        case Term::kCondition:
            return std::string(name_of(thing.condition));
        case Term::kGrade:
            return thing.grade;
        case Term::kMarket:
            return std::string(name_of(thing.market));
        case Term::kVenue:
            return thing.venue;
        case Term::kYear:
            return fmt::format("{}", static_cast<int>(std::floor(year)));
    }
    return {};
}

Expected<std::shared_ptr<const Prices>> Prices::fit(std::vector<Sale> sales, const Things& things,
                                                    std::string_view today) {
    if (sales.size() < kFewestSales)
        return fail(ProblemCode::kNotFound, "sales",
                    sales.empty()
                        ? fmt::format("there are no sales to estimate from")
                        : fmt::format("there {} only {} {} in {}", sales.size() == 1 ? "is" : "are", sales.size(),
                                      sales.size() == 1 ? "sale" : "sales", sales.front().currency),
                    fmt::format("record or import at least {} of one currency", kFewestSales));
    std::shared_ptr<Prices> out(new Prices);
    out->currency_ = sales.front().currency;
    out->sales_ = std::move(sales);
    for (const Sale& sale : out->sales_) {
        const auto year = year_of_sale(sale.date, today, "date");
        if (!year) return std::unexpected(year.error());
        out->years_.push_back(*year);
        out->things_.push_back(things.of(sale));
    }
    const auto [first, last] = std::ranges::minmax(out->years_);
    out->first_year_ = first, out->last_year_ = last;
    out->centre_ = median(out->years_);
    out->count_venues();

    std::map<std::string, std::vector<double>> sizes;
    std::array<std::size_t, kMarkets.size()> at_market{};
    for (const Thing& thing : out->things_) {
        if (thing.size_mm) sizes[thing.form].push_back(*thing.size_mm);
        if (thing.market != Market::kUnsaid) ++at_market[static_cast<std::size_t>(thing.market)];
    }
    for (auto& [form, values] : sizes) out->usual_size_[form] = median(std::move(values));
    if (const auto most = std::ranges::max_element(at_market); *most > 0)
        out->usual_market_ = static_cast<Market>(most - at_market.begin());

    MixedData data;
    data.x.resize(3);
    for (std::size_t k = 0; k < kTerms; ++k) data.factors.push_back({std::string(kTermNames[k]), 0, {}});
    for (std::size_t i = 0; i < out->sales_.size(); ++i) {
        const Thing& thing = out->things_[i];
        data.y.push_back(std::log(out->sales_[i].price));
        data.x[kConstant].push_back(1);
        data.x[kTrendColumn].push_back((out->years_[i] - out->centre_) / 10);
        data.x[kSizeColumn].push_back(out->size_of(thing));
        for (std::size_t k = 0; k < kTerms; ++k) {
            Factor& factor = data.factors[k];
            const Term term = static_cast<Term>(k);
            const std::string key = out->term_key(thing, term, out->years_[i]);
            // What was not identified could be anything: each such sale has a level of its own.
            const bool own = key.empty() && of_thing(term);
            if (own) {
                factor.level_of.push_back(-1);
                continue;
            }
            const auto [found, added] = out->keys_[k].try_emplace(key, factor.levels);
            if (added) {
                ++factor.levels;
                out->sales_at_[k].push_back(0);
            }
            factor.level_of.push_back(found->second);
            ++out->sales_at_[k][static_cast<std::size_t>(found->second)];
        }
    }
    MixedOptions options;
    options.prior_sd = kTermSd;
    options.column_sd = {std::nullopt, kTrendSd, kSizeSd};
    options.robust = true;
    options.tolerance = 1e-3;  // of a spread: a hundredth of what any interval is in doubt
    auto fitted = fit_mixed(data, options);
    if (!fitted) return std::unexpected(std::move(fitted.error()));
    out->fit_ = std::move(*fitted);
    out->factors_ = std::move(data.factors);
    return out;
}

// Venues that sold little have no effect of their own: it could not be told from the noise.
void Prices::count_venues() {
    std::unordered_map<std::string, std::size_t> sold;
    for (const Thing& thing : things_) ++sold[thing.venue];
    std::vector<std::pair<std::size_t, std::string>> most;
    for (const auto& [venue, many] : sold)
        if (many >= kFewestAtVenue && !venue.empty()) most.emplace_back(many, venue);
    std::ranges::sort(most, [](const auto& a, const auto& b) {
        return a.first != b.first ? a.first > b.first : a.second < b.second;
    });
    if (most.size() > kMostVenues) most.resize(kMostVenues);
    std::set<std::string_view> kept;
    for (const auto& [many, venue] : most) kept.insert(venue);
    for (Thing& thing : things_)
        if (!kept.contains(thing.venue)) thing.venue.clear();
}

double Prices::size_of(const Thing& thing) const {
    const auto usual = usual_size_.find(thing.form);
    if (!thing.size_mm || usual == usual_size_.end()) return 0;
    return std::log(*thing.size_mm / usual->second);
}

std::size_t Prices::sales_at(Market market) const {
    const int* level = level_of(Term::kMarket, std::string(name_of(market)));
    return level == nullptr ? 0 : sales_at_[at(Term::kMarket)][static_cast<std::size_t>(*level)];
}

const int* Prices::level_of(Term term, const std::string& key) const {
    if (key.empty() && of_thing(term)) return nullptr;
    auto found = keys_[at(term)].find(key);
    // Sales at venues that are seldom met stand together with those of which no venue is known.
    if (found == keys_[at(term)].end() && term == Term::kVenue) found = keys_[at(term)].find("");
    return found == keys_[at(term)].end() ? nullptr : &found->second;
}

Bearing Prices::bearing(const Thing& thing, double year) const {
    Bearing out;
    for (std::size_t k = 0; k < kTerms; ++k) {
        const Term term = static_cast<Term>(k);
        const std::string key = term_key(thing, term, year);
        if (const int* level = level_of(term, key)) out.known.emplace_back(fit_.unknown(k, *level), 1.0);
        else out.fresh.emplace_back(term, key);
    }
    out.known.emplace_back(fit_.unknown_of_column(kConstant), 1.0);
    out.known.emplace_back(fit_.unknown_of_column(kTrendColumn), (year - centre_) / 10);
    if (const double size = size_of(thing); size != 0)
        out.known.emplace_back(fit_.unknown_of_column(kSizeColumn), size);
    return out;
}

Outlook Prices::outlook(const Bearing& bearing) const {
    Outlook out;
    std::vector<double> row(fit_.unknowns(), 0);
    for (const auto& [unknown, factor] : bearing.known) {
        row[unknown] = factor;
        out.log_middle += factor * fit_.mean()[unknown];
    }
    const std::vector<double> spread = fit_.precision().solve(row);
    for (const auto& [unknown, factor] : bearing.known) out.middle_variance += factor * spread[unknown];
    for (const auto& [term, key] : bearing.fresh) out.middle_variance += fit_.sd[at(term)] * fit_.sd[at(term)];
    out.spread = fit_.noise_sd;
    out.junk_share = fit_.junk_share;
    out.junk_scale = fit_.junk_scale;
    return out;
}

double Prices::base() const { return std::exp(fit_.coefficient(kConstant)); }

Trend Prices::trend() const {
    const auto u = static_cast<int>(fit_.unknown_of_column(kTrendColumn));
    return {fit_.coefficient(kTrendColumn), std::sqrt(fit_.precision().inverse()[fit_.precision().place(u, u)])};
}

std::vector<Part> Prices::parts(const Thing& thing, double year) const {
    std::vector<Part> out;
    const auto variance = [&](std::size_t a, std::size_t b) {
        const auto [low, high] = std::minmax(a, b);
        return fit_.precision().inverse()[fit_.precision().place(static_cast<int>(low), static_cast<int>(high))];
    };
    for (std::size_t k = 0; k < kTerms; ++k) {
        const Term term = static_cast<Term>(k);
        Part part;
        part.term = kTermNames[k];
        part.level = term_key(thing, term, year);
        const int* level = level_of(term, part.level);
        double doubt = fit_.sd[k] * fit_.sd[k];
        const std::size_t unknown = level == nullptr ? 0 : fit_.unknown(k, *level);
        if (level != nullptr) {
            part.effect = fit_.mean()[unknown];
            part.sales = sales_at_[k][static_cast<std::size_t>(*level)];
            doubt = variance(unknown, unknown);
        }
        if (term == Term::kYear) {
            const std::size_t slope = fit_.unknown_of_column(kTrendColumn);
            const double decades = (year - centre_) / 10;
            part.term = "time";
            part.effect += decades * fit_.mean()[slope];
            doubt += decades * decades * variance(slope, slope);
            if (level != nullptr) doubt += 2 * decades * variance(unknown, slope);
        }
        part.sd = std::sqrt(std::max(doubt, 0.0));
        out.push_back(std::move(part));
    }
    if (const double size = size_of(thing); size != 0) {
        const std::size_t slope = fit_.unknown_of_column(kSizeColumn);
        out.push_back({"size", fmt::format("{:g}", *thing.size_mm), size * fit_.mean()[slope],
                       std::abs(size) * std::sqrt(variance(slope, slope)), sales_.size()});
    }
    return out;
}

double Prices::alike(const Thing& thing, std::size_t sale) const {
    double common = 0, all = 0;
    for (const Term term : kOfThing) {
        const double own = fit_.sd[at(term)] * fit_.sd[at(term)];
        all += own;
        const int* level = level_of(term, term_key(thing, term, 0));
        if (level != nullptr && factors_[at(term)].level_of[sale] == *level) common += own;
    }
    return all > 0 ? common / all : 0;
}

std::vector<std::string> Prices::same_terms(const Thing& thing, std::size_t sale) const {
    std::vector<std::string> out;
    for (const Term term : {Term::kTreatment, Term::kForm, Term::kDecoration, Term::kShape, Term::kCondition,
                            Term::kGrade, Term::kMarket}) {
        const std::string key = term_key(thing, term, 0);
        const int* level = level_of(term, key);
        if (level != nullptr && !key.empty() && factors_[at(term)].level_of[sale] == *level)
            out.emplace_back(kTermNames[at(term)]);
    }
    return out;
}

void Prices::make_draws() const {
    std::call_once(drawn_, [this] {
        const std::size_t n = fit_.unknowns();
        many_draws_ = n > kManyUnknowns ? kFewDraws : kManyDraws;
        draws_.resize(many_draws_ * n);
        Chance chance(kDrawSeed);
        std::vector<double> normal(n);
        for (std::size_t s = 0; s < many_draws_; ++s) {
            for (double& z : normal) z = chance.normal();
            const std::vector<double> x = fit_.precision().correlate(normal);
            for (std::size_t u = 0; u < n; ++u) draws_[s * n + u] = static_cast<float>(fit_.mean()[u] + x[u]);
        }
    });
}

std::size_t Prices::draws() const {
    make_draws();
    return many_draws_;
}

double Prices::draw(const Bearing& bearing, std::size_t s) const {
    make_draws();
    double sum = 0;
    const float* const row = draws_.data() + s * fit_.unknowns();
    for (const auto& [unknown, factor] : bearing.known) sum += factor * static_cast<double>(row[unknown]);
    for (const auto& [term, key] : bearing.fresh) {
        Chance chance(hashed(key) ^ ((s + 1) * 0x9E3779B97F4A7C15u) ^ (at(term) << 56));
        chance.bits();
        sum += fit_.sd[at(term)] * chance.normal();
    }
    return sum;
}

}  // namespace footring::worth
