// Reasons: what each look weighs for the best candidate against all the rest, and what it leaned on.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "naming/parts.h"

namespace footring::naming {

namespace {

constexpr double kMostDecibans = 400;  // shown for a look that the rest, or the best, cannot explain at all

// P(look | hypothesis) averaged over prior mass: of the best treatment, and of everything.
struct Masses {
    double best = 0, all = 0;  // sums of prior * likelihood
};

class Reasoner {
  public:
    Reasoner(const Weighing& w, std::uint32_t best) : w_(w), t_(w.t), best_(best) {
        for (std::size_t r = 0; r < t_.rows(); ++r)
            if (t_.treatment[r] == best_) best_rows_.push_back(r), best_prior_ += t_.prior[r];
        for (const double p : t_.prior) all_prior_ += p;
        all_prior_ += t_.unlisted_prior + t_.elsewhere_prior;
    }

    Decibans weight(const Masses& m) const {
        const double rest_prior = all_prior_ - best_prior_;
        const double for_best = best_prior_ > 0 ? m.best / best_prior_ : 0;
        const double for_rest = rest_prior > 1e-15 ? std::max(0.0, m.all - m.best) / rest_prior : 0;
        if (rest_prior <= 1e-15 || (for_best <= 0 && for_rest <= 0)) return Decibans{0};
        if (for_rest <= 0) return Decibans{kMostDecibans};
        if (for_best <= 0) return Decibans{-kMostDecibans};
        return Decibans{std::clamp(10 * std::log10(for_best / for_rest), -kMostDecibans, kMostDecibans)};
    }

    // A look whose likelihood depends on one column: `given` by class, prior and frequency by class.
    template <class Prior, class Frequency>
    Masses of_column(const std::vector<double>& given, std::span<const std::uint32_t> column, Prior&& prior,
                     Frequency&& frequency, double unlisted) const {
        Masses m;
        double mean = 0;
        for (std::size_t c = 0; c < given.size(); ++c) {
            m.all += prior(c) * given[c];
            mean += frequency(c) * given[c];
        }
        for (const std::size_t r : best_rows_) m.best += t_.prior[r] * given[column[r]];
        m.all += t_.unlisted_prior * (unlisted < 0 ? mean : unlisted) + t_.elsewhere_prior * mean;
        return m;
    }

    Masses of_era(EraEvidence::Look look) const {
        Masses m;
        double mean = 0, unlisted = 0;
        for (std::uint32_t c = 0; c < t_.contexts.size(); ++c) {
            m.all += w_.era_evidence.of_context(c, t_.contexts[c].prior, look);
            mean += w_.era_evidence.of_context(c, t_.contexts[c].frequency, look);
        }
        for (const Body& body : t_.bodies) unlisted += body.frequency * w_.era_evidence.given(body.era, look);
        for (const std::size_t r : best_rows_) m.best += t_.prior[r] * w_.era_evidence.given(t_.era[r], look);
        m.all += t_.unlisted_prior * unlisted + t_.elsewhere_prior * mean;
        return m;
    }

    Masses of_place(std::size_t p, const std::vector<double>& seen) const {
        const PlaceTable& place = t_.place[p];
        Masses sum;
        for (const WearCase& wear : w_.wears) {
            const auto given = given_motif(place, seen, static_cast<book::Place>(p), wear.wear, t_.settings);
            const Masses m = of_column(
                given, t_.motif[p], [&](std::size_t c) { return place.motifs[c].prior; },
                [&](std::size_t c) { return place.motifs[c].frequency; }, -1);
            sum.best += wear.prior * m.best;
            sum.all += wear.prior * m.all;
        }
        return sum;
    }

    const book::Treatment& best() const { return t_.book->treatments[best_]; }

  private:
    const Weighing& w_;
    const FormView::Tables& t_;
    std::uint32_t best_;
    std::vector<std::size_t> best_rows_;
    double best_prior_ = 0, all_prior_ = 0;
};

template <class T>
Support support(const book::Book& b, const T& row) {
    return Support{fmt::format("{}{}.csv:{}", b.packs.size() > 1 ? b.packs[row.origin.pack].id + "/" : "",
                               book::Book::table_name<T>(), row.origin.line),
                   row.sources};
}

template <class T>
std::string value_of(const book::Book& b, const std::variant<looks::Absent, looks::Present, book::Ref<T>>& value) {
    if (std::holds_alternative<looks::Absent>(value)) return std::string(looks::kNone);
    if (std::holds_alternative<looks::Present>(value)) return std::string(looks::kSomething);
    return book::id_of(b, std::get<book::Ref<T>>(value));
}

}  // namespace

std::vector<Reason> reasons(const Weighing& w, const Answer& answer) {
    if (answer.candidates.empty()) return {};
    const FormView::Tables& t = w.t;
    const book::Book& b = *t.book;
    const looks::Findings& f = w.findings;
    const book::Ref<book::Treatment> best = answer.candidates.front().treatment;
    const Reasoner reasoner(w, best.at);
    const book::Decoration shown = book::decoration(b, best, t.form);
    std::vector<Reason> out;

    if (f.shape) {
        const Masses m = reasoner.of_column(
            w.shape, t.shape, [&](std::size_t c) { return t.shape_prior[c]; },
            [&](std::size_t c) { return t.shape_frequency[c]; }, -1);
        out.push_back({"shape",
                       value_of(b, f.shape->value),
                       reasoner.weight(m),
                       {support(b, reasoner.best()), support(b, b[reasoner.best().shape])}});
    }
    if (f.glaze) {
        const Masses m = reasoner.of_column(
            w.glaze, t.glaze, [&](std::size_t c) { return t.glaze_prior[c]; },
            [&](std::size_t c) { return t.glaze_frequency[c]; }, -1);
        std::vector<Support> supports{support(b, reasoner.best())};
        if (reasoner.best().glaze) supports.push_back(support(b, b[*reasoner.best().glaze]));
        out.push_back({"glaze", value_of(b, f.glaze->value), reasoner.weight(m), std::move(supports)});
    }
    for (const looks::OrnamentSighting& look : f.ornaments) {
        const auto p = static_cast<std::size_t>(look.place);
        const PlaceTable& place = t.place[p];
        Reason reason{std::string(book::name_of(look.place)), value_of(b, look.value), Decibans{0}, {}};
        if (place.recorded())
            reason.weight = reasoner.weight(reasoner.of_place(p, seen_given_visible(place, look)));
        for (const book::Carried& c : shown[look.place]) {
            reason.supports.push_back(support(b, b.treatment_ornaments[c.row]));
            reason.supports.push_back(support(b, b[c.ornament]));
        }
        out.push_back(std::move(reason));
    }
    if (f.number) {
        double unlisted = 0;
        for (const Body& body : t.bodies)
            unlisted += body.frequency * w.number->given(kNone, t.contexts[t.eras[body.era].context].numbered);
        const Masses m = reasoner.of_column(
            w.number_given, t.number, [&](std::size_t c) { return t.number_classes[c].prior; },
            [&](std::size_t c) { return t.number_classes[c].frequency; }, unlisted);
        out.push_back({"number",
                       f.number->pattern.value_or(std::string(looks::kNone)),
                       reasoner.weight(m),
                       {support(b, reasoner.best())}});
    }
    if (f.mark) {
        Reason reason{"mark", value_of(b, f.mark->value), Decibans{0}, {}};
        reason.weight = reasoner.weight(reasoner.of_era(EraEvidence::Look::kMark));
        if (const auto* mark = std::get_if<book::Ref<book::Mark>>(&f.mark->value))
            reason.supports.push_back(support(b, b[*mark]));
        out.push_back(std::move(reason));
    }
    if (!f.date_code.empty()) {
        Reason reason{"date_code", f.date_code, Decibans{0}, {}};
        reason.weight = reasoner.weight(reasoner.of_era(EraEvidence::Look::kCode));
        std::vector<std::uint32_t> followed;
        for (const MarkContext& c : t.contexts)
            if (c.shape == reasoner.best().shape.at) decoded_years(t, c, f, &followed);
        for (const std::uint32_t scheme : followed) reason.supports.push_back(support(b, b.code_schemes[scheme]));
        out.push_back(std::move(reason));
    }
    if (f.faults) {
        const Masses m = reasoner.of_era(EraEvidence::Look::kFaults);
        out.push_back({"faults",
                       std::string(looks::kFaultsNames[static_cast<std::size_t>(*f.faults)]),
                       reasoner.weight(m),
                       {support(b, reasoner.best())}});
    }
    std::ranges::stable_sort(
        out, [](const Reason& x, const Reason& y) { return std::abs(x.weight.value) > std::abs(y.weight.value); });
    return out;
}

}  // namespace footring::naming
