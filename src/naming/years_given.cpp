// SPDX-License-Identifier: Apache-2.0
#include "naming/years_given.h"

#include <algorithm>

#include "naming/likelihood.h"

namespace footring::naming {

namespace {

using Tables = FormView::Tables;

// P(grade) in a context, the faults heard; sums to 1.
struct ContextWeight {
    const MarkContext* context;
    double weight;                 // of the contexts, sums to 1
    std::array<double, 2> grades;  // first, second
};

std::array<double, 2> grades_after_faults(double second, const looks::Findings& f, const Settings& s) {
    std::array<double, 2> grades{1 - second, second};
    if (f.faults)
        for (std::size_t g = 0; g < 2; ++g)
            grades[g] *= faults_given_grade(s)[g][static_cast<std::size_t>(*f.faults)];
    const double sum = grades[0] + grades[1];
    return sum > 0 ? std::array<double, 2>{grades[0] / sum, grades[1] / sum} : std::array<double, 2>{0.5, 0.5};
}

// Adds weight times what one context makes of the looks.
void add(TreatmentYears& out, const Tables& t, const looks::Findings& f, const ContextWeight& one) {
    const MarkContext& c = *one.context;
    if (f.mark) {
        const auto* mark = std::get_if<book::Ref<book::Mark>>(&f.mark->value);
        for (std::size_t y = 0; y < t.years(); ++y)
            for (std::size_t g = 0; g < 2; ++g) {
                out.mark.given[y] += one.weight * one.grades[g] * seen_mark_given(t, c, *f.mark, y, g);
                if (mark != nullptr && one.grades[g] > 0 && could_carry(c, mark->at, t, y, g))
                    out.mark.right[y] = true;
            }
    }
    if (f.date_code.empty()) return;
    std::vector<std::uint32_t> followed;
    const std::vector<bool> decoded = decoded_years(t, c, f, &followed);
    const std::vector<double> given = code_by_year(t, c, decoded, t.settings.sure_sure);
    for (std::size_t y = 0; y < t.years(); ++y) {
        out.code.given[y] += one.weight * given[y];
        if (decoded[y]) out.code.right[y] = true;
    }
    for (const std::uint32_t scheme : followed)
        if (const book::Ref<book::CodeScheme> ref{scheme};
            std::ranges::find(out.code.schemes, ref) == out.code.schemes.end())
            out.code.schemes.push_back(ref);
}

std::vector<ContextWeight> any_context(const Tables& t, const looks::Findings& f) {
    std::vector<ContextWeight> out;
    const auto* shape = f.shape ? std::get_if<book::Ref<book::Shape>>(&f.shape->value) : nullptr;
    const auto grades = grades_after_faults(t.settings.second_of_any, f, t.settings);
    for (const MarkContext& c : t.contexts)
        if (shape != nullptr && c.shape == shape->at) return {{&c, 1, grades}};
    for (const MarkContext& c : t.contexts) out.push_back({&c, t.shape_frequency[c.shape], grades});
    double sum = 0;
    for (const ContextWeight& one : out) sum += one.weight;
    for (ContextWeight& one : out) one.weight /= sum;
    return out;
}

// Where no pack lists a treatment, nobody's marks are known: the mark by its own years, the code by its scheme,
// else by any.
void without_contexts(TreatmentYears& out, const Tables& t, const looks::Findings& f) {
    const book::Book& b = *t.book;
    const auto* mark = f.mark ? std::get_if<book::Ref<book::Mark>>(&f.mark->value) : nullptr;
    if (mark != nullptr) {
        const auto marks = static_cast<double>(b.marks.size());
        out.mark.right = t.mark_years[mark->at];
        for (std::size_t y = 0; y < t.years(); ++y)
            out.mark.given[y] = out.mark.right[y] ? hit(f.mark->sure, marks) : miss(f.mark->sure, marks);
    }
    if (f.date_code.empty()) return;
    MarkContext any{};
    any.first_year = t.first_year, any.last_year = t.last_year;
    for (std::uint32_t i = 0; i < b.code_schemes.size(); ++i)
        if (mark == nullptr || !b[*mark].code_scheme || b[*mark].code_scheme->at == i) any.schemes.push_back(i);
    looks::Findings code;
    code.date_code = f.date_code;
    add(out, t, code, {&any, 1, {1, 0}});
}

}  // namespace

TreatmentYears years_given(const FormView& view, const looks::Findings& f,
                           std::optional<book::Ref<book::Treatment>> treatment) {
    const Tables& t = view.tables();
    TreatmentYears out;
    const auto start = [&](LookYears& look, bool made) {
        if (!made) return;
        look.given.assign(t.years(), 0.0);
        look.right.assign(t.years(), false);
    };
    start(out.mark, f.mark.has_value());
    start(out.code, !f.date_code.empty());
    if (!treatment) {
        for (const ContextWeight& one : any_context(t, f)) add(out, t, f, one);
        if (t.contexts.empty()) without_contexts(out, t, f);
        return out;
    }
    // The rows of a treatment stand together, in the order of the Book; their eras differ in period and grade only.
    const auto rows = std::ranges::equal_range(t.treatment, treatment->at);
    out.in_use.assign(t.years(), 0.0);
    double sum = 0, second = 0;
    for (auto row = rows.begin(); row != rows.end(); ++row) {
        const auto r = static_cast<std::size_t>(row - t.treatment.begin());
        const Era& era = t.eras[t.era[r]];
        const Period& period = t.periods[era.period];
        const std::span<const double> shares = t.shares(period);
        for (std::size_t k = 0; k < shares.size(); ++k) out.in_use[period.first + k] += t.prior[r] * shares[k];
        sum += t.prior[r];
        second += t.prior[r] * era.second;
    }
    if (rows.empty() || sum <= 0) return out;
    for (double& share : out.in_use) share /= sum;
    const std::uint32_t context =
        t.eras[t.era[static_cast<std::size_t>(rows.begin() - t.treatment.begin())]].context;
    add(out, t, f, {&t.contexts[context], 1, grades_after_faults(second / sum, f, t.settings)});
    return out;
}

std::vector<book::Ref<book::Ornament>> ornaments_of(const book::Decoration& decoration) {
    std::vector<book::Ref<book::Ornament>> out;
    for (const auto& carried : decoration.at)
        for (const book::Carried& c : carried)
            if (std::ranges::find(out, c.ornament) == out.end()) out.push_back(c.ornament);
    return out;
}

std::pair<int, int> years_of(const FormView& view) { return {view.tables().first_year, view.tables().last_year}; }

}  // namespace footring::naming
