// SPDX-License-Identifier: Apache-2.0
#include "naming/likelihood.h"

#include <algorithm>

#include "base/text.h"
#include "book/code_scheme.h"

namespace footring::naming {

namespace {

// Wildcards alone: any number at all.
bool fits_anything(std::string_view pattern) { return pattern.find_first_not_of("?*") == std::string_view::npos; }

}  // namespace

bool could_carry(const MarkContext& c, std::uint32_t mark, const FormView::Tables& t, std::size_t year,
                 std::size_t grade) {
    return std::ranges::find(c.marks, mark) != c.marks.end() && t.mark_years[mark][year] &&
           (grade == 1 || !t.book->marks[mark].second);
}

std::vector<double> seen_given_visible(const PlaceTable& place, const looks::OrnamentSighting& look) {
    const std::size_t none = place.values.size();
    std::vector<double> seen(none + 1);
    if (std::holds_alternative<looks::Present>(look.value)) {
        std::fill(seen.begin(), seen.end(), look.sure);
        seen[none] = 1 - look.sure;
        return seen;
    }
    std::fill(seen.begin(), seen.end(), miss(look.sure, place.size()));
    const auto* ornament = std::get_if<book::Ref<book::Ornament>>(&look.value);
    const std::uint32_t value =
        ornament == nullptr ? static_cast<std::uint32_t>(none) : place.index_of[ornament->at];
    if (value != kNone) seen[value] = hit(look.sure, place.size());
    return seen;
}

std::array<std::vector<double>, book::kPlaces> seen_by_place(const FormView::Tables& t, const looks::Findings& f) {
    std::array<std::vector<double>, book::kPlaces> seen;
    for (const looks::OrnamentSighting& look : f.ornaments) {
        const auto p = static_cast<std::size_t>(look.place);
        if (!t.place[p].recorded()) continue;
        const std::vector<double> one = seen_given_visible(t.place[p], look);
        if (seen[p].empty()) seen[p].assign(one.size(), 1.0);
        for (std::size_t v = 0; v < one.size(); ++v) seen[p][v] *= one[v];
    }
    return seen;
}

std::vector<double> given_motif(const PlaceTable& place, const std::vector<double>& seen, book::Place where,
                                looks::Wear wear, const Settings& s) {
    const double lost = loss(wear, where, s);
    const double seen_bare = seen.back();
    std::vector<double> seen_ornament(place.values.size());
    double unrecorded = 0;
    for (std::size_t v = 0; v < place.values.size(); ++v) {
        const double gone = place.wears_off[v] ? lost : 0;
        seen_ornament[v] = (1 - gone) * seen[v] + gone * seen_bare;
        unrecorded += seen_ornament[v];
    }
    const double bare =
        s.bare_share * seen_bare +
        (place.values.empty() ? 0 : (1 - s.bare_share) * unrecorded / static_cast<double>(place.values.size()));
    std::vector<double> given;
    given.reserve(place.motifs.size());
    for (const Motif& motif : place.motifs) {
        double p = motif.bare * bare;
        for (const auto& [value, share] : place.carried_by(motif)) p += share * seen_ornament[value];
        given.push_back(p);
    }
    return given;
}

double mean_over_treatments(const PlaceTable& place, const std::vector<double>& given) {
    double mean = 0;
    for (std::size_t m = 0; m < given.size(); ++m) mean += place.motifs[m].frequency * given[m];
    return mean;
}

std::vector<double> shape_factor(const FormView::Tables& t, const looks::Sighting<book::Shape>& look) {
    const auto values = static_cast<double>(t.book->shapes.size());
    std::vector<double> given(t.book->shapes.size(), miss(look.sure, values));
    given[std::get<book::Ref<book::Shape>>(look.value).at] = hit(look.sure, values);
    return given;
}

std::vector<double> glaze_factor(const FormView::Tables& t, const looks::Sighting<book::Glaze>& look) {
    const auto values = static_cast<double>(t.book->glazes.size());
    std::vector<double> given(t.book->glazes.size() + 1, miss(look.sure, values));
    given[std::get<book::Ref<book::Glaze>>(look.value).at] = hit(look.sure, values);
    given.back() = 1 / values;  // a treatment whose glaze nobody recorded could have any
    return given;
}

double NumberReading::given(std::uint32_t number, double numbered_share) const {
    if (absent) return 1 - numbered_share;
    const bool fits = number == kNone ? fits_unlisted : matched[number];
    return numbered_share * (fits ? sure : mismatch);
}

NumberReading read_number(const FormView::Tables& t, const looks::NumberSighting& look) {
    NumberReading reading;
    reading.sure = look.sure;
    reading.absent = !look.pattern.has_value();
    if (reading.absent) return reading;
    std::size_t fitting = 0;
    for (const std::string& number : t.numbers) {
        reading.matched.push_back(matches_pattern(*look.pattern, number));
        fitting += reading.matched.back() ? 1 : 0;
    }
    const auto others = static_cast<double>(t.numbers.size() - fitting);
    reading.mismatch = others > 0 ? (1 - look.sure) / others : 1 - look.sure;
    reading.fits_unlisted = fitting == 0 || fits_anything(*look.pattern);
    return reading;
}

double mark_given(const FormView::Tables& t, const MarkContext& c, std::uint32_t mark, double sure,
                  std::size_t year, std::size_t grade) {
    if (mark == kNone) return c.unmarked;
    const auto all = static_cast<double>(t.book->marks.size());
    const double valid = c.valid[grade][year];
    if (valid == 0) return (1 - c.unmarked) * (1 - sure) / all;  // it bears a mark that no pack lists
    const double wrong = miss(sure, all);
    if (!could_carry(c, mark, t, year, grade)) return (1 - c.unmarked) * wrong;
    return (1 - c.unmarked) * (hit(sure, all) + (valid - 1) * wrong) / valid;
}

std::array<std::array<double, 3>, 2> faults_given_grade(const Settings& s) {
    return {{{s.faults_first_none, s.faults_first_few, s.faults_first_many},
             {s.faults_second_none, s.faults_second_few, s.faults_second_many}}};
}

std::vector<bool> decoded_years(const FormView::Tables& t, const MarkContext& c, const looks::Findings& f,
                                std::vector<std::uint32_t>* followed) {
    const auto* mark = f.mark ? std::get_if<book::Ref<book::Mark>>(&f.mark->value) : nullptr;
    const auto seen = mark != nullptr ? (*t.book)[*mark].code_scheme : std::nullopt;
    const bool by_seen_mark = seen && std::ranges::find(c.schemes, seen->at) != c.schemes.end();
    std::vector<bool> decoded(t.years(), false);
    for (const std::uint32_t scheme : c.schemes) {
        if (by_seen_mark && scheme != seen->at) continue;
        const auto years = book::decode(t.book->code_schemes[scheme], f.date_code, c.first_year, c.last_year);
        if (!years) continue;
        if (followed != nullptr) followed->push_back(scheme);
        for (const int year : *years)
            if (year >= t.first_year && year <= t.last_year)
                decoded[static_cast<std::size_t>(year - t.first_year)] = true;
    }
    return decoded;
}

std::vector<double> code_by_year(const FormView::Tables& t, const MarkContext& c, const std::vector<bool>& decoded,
                                 double sure) {
    const auto hits = std::ranges::count(decoded, true);
    const auto others = std::max<std::ptrdiff_t>(1, c.last_year - c.first_year + 1 - hits);
    std::vector<double> given(t.years(), (1 - sure) / static_cast<double>(others));
    for (std::size_t y = 0; y < given.size(); ++y)
        if (decoded[y]) given[y] = sure;
    return given;
}

double seen_mark_given(const FormView::Tables& t, const MarkContext& c, const looks::Sighting<book::Mark>& look,
                       std::size_t year, std::size_t grade) {
    if (std::holds_alternative<looks::Absent>(look.value)) return mark_given(t, c, kNone, look.sure, year, grade);
    if (std::holds_alternative<looks::Present>(look.value))
        return look.sure * (1 - c.unmarked) + (1 - look.sure) * c.unmarked;
    return mark_given(t, c, std::get<book::Ref<book::Mark>>(look.value).at, look.sure, year, grade);
}

EraEvidence::EraEvidence(const FormView::Tables& t, const looks::Findings& f) : t_(t) {
    const Settings& s = t.settings;
    if (f.faults) {
        const auto given = faults_given_grade(s);
        for (std::size_t g = 0; g < 2; ++g) faults_[g] = given[g][static_cast<std::size_t>(*f.faults)];
    }
    if (!f.mark && f.date_code.empty()) return;
    for (const MarkContext& c : t.contexts) {
        std::array<std::vector<double>, 2> ones;
        for (std::size_t g = 0; g < 2; ++g) ones[g].assign(t.years(), 1.0);
        auto mark = ones, code = ones, all = ones;
        if (!f.date_code.empty()) code[0] = code[1] = code_by_year(t, c, decoded_years(t, c, f), s.sure_sure);
        for (std::size_t g = 0; g < 2; ++g)
            for (std::size_t y = 0; y < t.years(); ++y) {
                if (f.mark) mark[g][y] = seen_mark_given(t, c, *f.mark, y, g);
                all[g][y] = faults_[g] * mark[g][y] * code[g][y];
            }
        if (f.mark) mark_.push_back(std::move(mark));
        if (!f.date_code.empty()) code_.push_back(std::move(code));
        all_.push_back(std::move(all));
    }
}

const EraEvidence::ByContext& EraEvidence::table(Look look) const {
    return look == Look::kAll ? all_ : look == Look::kMark ? mark_ : look == Look::kCode ? code_ : none_;
}

std::array<double, 2> EraEvidence::faults_of(Look look) const {
    return look == Look::kAll || look == Look::kFaults ? faults_ : std::array<double, 2>{1, 1};
}

double EraEvidence::given(std::uint32_t era, Look look) const {
    const Era& e = t_.eras[era];
    const ByContext& by_context = table(look);
    if (by_context.empty()) {
        const auto [first, second] = faults_of(look);
        return (1 - e.second) * first + e.second * second;
    }
    const Period& period = t_.periods[e.period];
    const std::span<const double> shares = t_.shares(period);
    const double* first = by_context[e.context][0].data() + period.first;
    const double* second = by_context[e.context][1].data() + period.first;
    double sum_first = 0, sum_second = 0;
    for (std::size_t k = 0; k < shares.size(); ++k) {
        sum_first += shares[k] * first[k];
        sum_second += shares[k] * second[k];
    }
    return (1 - e.second) * sum_first + e.second * sum_second;
}

double EraEvidence::of_context(std::uint32_t context, const std::array<std::vector<double>, 2>& weight,
                               Look look) const {
    const ByContext& by_context = table(look);
    const auto faults = faults_of(look);
    double sum = 0;
    for (std::size_t g = 0; g < 2; ++g)
        for (std::size_t y = 0; y < weight[g].size(); ++y)
            sum += weight[g][y] * (by_context.empty() ? faults[g] : by_context[context][g][y]);
    return sum;
}

namespace {
// The inner loop of a large Book: both grades in one pass over the years.
std::pair<double, double> weigh_years(const double* __restrict shares, const double* __restrict first,
                                      const double* __restrict second, double* __restrict to_first,
                                      double* __restrict to_second, std::size_t n, double weight_first,
                                      double weight_second) {
    double sum_first = 0, sum_second = 0;
#pragma omp simd reduction(+ : sum_first, sum_second)
    for (std::size_t k = 0; k < n; ++k) {
        const double in_first = shares[k] * first[k], in_second = shares[k] * second[k];
        sum_first += in_first;
        sum_second += in_second;
        to_first[k] += weight_first * in_first;
        to_second[k] += weight_second * in_second;
    }
    return {sum_first, sum_second};
}
}  // namespace

std::pair<double, double> EraEvidence::weigh(const Period& period, double weight_first, double weight_second,
                                             std::array<std::vector<double>, 2>& by_year) const {
    const std::span<const double> shares = t_.shares(period);
    double* to_first = by_year[0].data() + period.first;
    double* to_second = by_year[1].data() + period.first;
    if (all_.empty()) {
        for (std::size_t k = 0; k < shares.size(); ++k) {
            to_first[k] += weight_first * faults_[0] * shares[k];
            to_second[k] += weight_second * faults_[1] * shares[k];
        }
        return {faults_[0], faults_[1]};
    }
    return weigh_years(shares.data(), all_[period.context][0].data() + period.first,
                       all_[period.context][1].data() + period.first, to_first, to_second, shares.size(),
                       weight_first, weight_second);
}

void EraEvidence::spread_context(std::uint32_t context, double weight,
                                 std::array<std::vector<double>, 2>& by_year) const {
    const auto& shares = t_.contexts[context].frequency;
    for (std::size_t g = 0; g < 2; ++g)
        for (std::size_t y = 0; y < shares[g].size(); ++y)
            by_year[g][y] += weight * shares[g][y] * (all_.empty() ? faults_[g] : all_[context][g][y]);
}

}  // namespace footring::naming
