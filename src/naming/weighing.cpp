// SPDX-License-Identifier: Apache-2.0
#include "naming/weighing.h"

#include <algorithm>
#include <numeric>

namespace footring::naming {

Weighing::Weighing(const FormView::Tables& tables, const looks::Findings& f)
    : t(tables), findings(f), era_evidence(tables, f) {
    if (f.shape) shape = shape_factor(t, *f.shape);
    if (f.glaze) glaze = glaze_factor(t, *f.glaze);
    if (f.number) number = read_number(t, *f.number);
    for (auto& grade : by_year) grade.assign(t.years(), 0.0);
    weigh_places();
    weigh_columns();
    weigh_eras();
    weigh_elsewhere();

    const double total = std::accumulate(rows.begin(), rows.end(), 0.0) + unlisted + elsewhere;
    if (total <= 0) {  // some share of 0 or 1 in the packs or settings forbids what was seen
        impossible = true;
        unlisted = 0;
        elsewhere = 1;
        return;
    }
    for (double& r : rows) r /= total;
    for (WearCase& w : wears)
        for (double& r : w.rows) r /= total;
    unlisted /= total;
    elsewhere /= total;
    for (auto& grade : by_year)
        for (double& p : grade) p /= total;
}

void Weighing::weigh_places() {
    seen = seen_by_place(t, findings);
    if (findings.wear) {
        wears.push_back(WearCase{*findings.wear, 1, {}, 1, {}});
    } else {
        for (const auto wear :
             {looks::Wear::kNone, looks::Wear::kLight, looks::Wear::kModerate, looks::Wear::kHeavy})
            wears.push_back(WearCase{wear, 0.25, {}, 1, {}});
    }
    for (WearCase& w : wears)
        for (std::size_t p = 0; p < book::kPlaces; ++p) {
            if (seen[p].empty()) continue;
            w.given_motif[p] = given_motif(t.place[p], seen[p], static_cast<book::Place>(p), w.wear, t.settings);
            w.open *= mean_over_treatments(t.place[p], w.given_motif[p]);
        }
}

void Weighing::weigh_columns() {
    std::vector<Factor> factors;
    if (!shape.empty()) factors.push_back({shape, t.shape});
    if (!glaze.empty()) factors.push_back({glaze, t.glaze});
    if (number) {
        number_given.reserve(t.number_classes.size());
        for (const NumberClass& c : t.number_classes)
            number_given.push_back(number->given(c.number, t.contexts[c.context].numbered));
        factors.push_back({number_given, t.number});
    }
    const std::vector<double> before_places = joint(t.prior, factors);
    by_era_.assign(t.eras.size(), 0.0);
    double places_of_open = 0;
    for (WearCase& w : wears) {
        std::vector<Factor> places;
        for (std::size_t p = 0; p < book::kPlaces; ++p)
            if (!w.given_motif[p].empty()) places.push_back({w.given_motif[p], t.motif[p]});
        w.rows = joint(before_places, places);
        for (std::size_t r = 0; r < t.rows(); ++r) by_era_[t.era[r]] += w.rows[r] *= w.prior;
        places_of_open += w.prior * w.open;
    }
    for (const Body& body : t.bodies) {
        double mass = t.unlisted_prior * body.frequency * places_of_open;
        if (!shape.empty()) mass *= shape[body.shape];
        if (!glaze.empty()) mass *= body.glaze == kNone ? glaze.back() : glaze[body.glaze];
        if (number) mass *= number->given(kNone, t.contexts[t.eras[body.era].context].numbered);
        bodies.push_back(mass);
    }
    elsewhere = t.elsewhere_prior * places_of_open * mean_shape() * mean_glaze() * mean_number();
}

void Weighing::weigh_eras() {
    // Eras of one period differ in grade alone: their masses are added up before the years are walked through.
    std::vector<std::pair<double, double>> weight(t.periods.size()), given(t.periods.size());
    const auto add = [&](const Era& e, double mass) {
        weight[e.period].first += mass * (1 - e.second);
        weight[e.period].second += mass * e.second;
    };
    for (std::size_t e = 0; e < t.eras.size(); ++e) add(t.eras[e], by_era_[e]);
    for (std::size_t b = 0; b < t.bodies.size(); ++b) add(t.eras[t.bodies[b].era], bodies[b]);
    for (std::size_t p = 0; p < t.periods.size(); ++p)
        given[p] = era_evidence.weigh(t.periods[p], weight[p].first, weight[p].second, by_year);
    era_given.reserve(t.eras.size());
    for (const Era& e : t.eras)
        era_given.push_back((1 - e.second) * given[e.period].first + e.second * given[e.period].second);

    for (WearCase& w : wears)
        for (std::size_t r = 0; r < t.rows(); ++r) w.rows[r] *= era_given[t.era[r]];
    rows = wears.front().rows;
    for (std::size_t w = 1; w < wears.size(); ++w)
        for (std::size_t r = 0; r < t.rows(); ++r) rows[r] += wears[w].rows[r];
    for (std::size_t b = 0; b < t.bodies.size(); ++b) unlisted += bodies[b] * era_given[t.bodies[b].era];
}

void Weighing::weigh_elsewhere() {
    const double features = elsewhere;
    elsewhere = 0;
    for (std::uint32_t c = 0; c < t.contexts.size(); ++c) {
        elsewhere += features * era_evidence.of_context(c, t.contexts[c].frequency, EraEvidence::Look::kAll);
        era_evidence.spread_context(c, features, by_year);
    }
}

double Weighing::mean_shape() const {
    return shape.empty() ? 1 : std::inner_product(shape.begin(), shape.end(), t.shape_frequency.begin(), 0.0);
}
double Weighing::mean_glaze() const {
    return glaze.empty() ? 1 : std::inner_product(glaze.begin(), glaze.end(), t.glaze_frequency.begin(), 0.0);
}
double Weighing::mean_number() const {
    if (!number) return 1;
    double mean = 0;
    for (std::size_t c = 0; c < number_given.size(); ++c) mean += t.number_classes[c].frequency * number_given[c];
    return mean;
}

std::vector<double> Weighing::by_treatment() const {
    std::vector<double> sums(t.book->treatments.size());
    for (std::size_t r = 0; r < t.rows(); ++r) sums[t.treatment[r]] += rows[r];
    return sums;
}

}  // namespace footring::naming
