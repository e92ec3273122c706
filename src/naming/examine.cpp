// SPDX-License-Identifier: Apache-2.0
#include "naming/examine.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "naming/parts.h"

namespace footring::naming {

namespace {

std::vector<Candidate> candidates(const Weighing& w) {
    const FormView::Tables& t = w.t;
    const std::vector<double> odds = w.by_treatment();
    std::vector<Candidate> out;
    for (std::uint32_t i = 0; i < odds.size(); ++i) {
        if (odds[i] < t.settings.least_shown || odds[i] <= 0) continue;
        Candidate c{book::Ref<book::Treatment>{i}, odds[i], {}};
        for (const std::uint32_t twin : t.twin_groups[t.twin_group[i]])
            if (twin != i) c.twins.push_back(book::Ref<book::Treatment>{twin});
        out.push_back(std::move(c));
    }
    std::ranges::stable_sort(out,
                             [](const Candidate& a, const Candidate& b) { return a.probability > b.probability; });
    return out;
}

// A date code that nothing can read must not pass for one that was weighed.
std::vector<std::string> notes(const FormView::Tables& t, const looks::Findings& f) {
    if (f.date_code.empty()) return {};
    std::vector<std::uint32_t> followed;
    for (const MarkContext& c : t.contexts) decoded_years(t, c, f, &followed);
    if (!followed.empty()) return {};
    const auto* mark = f.mark ? std::get_if<book::Ref<book::Mark>>(&f.mark->value) : nullptr;
    const bool has_scheme = mark != nullptr && (*t.book)[*mark].code_scheme;
    return {fmt::format("The date code '{}' follows {}, so it weighs nothing.", f.date_code,
                        has_scheme ? "no reading of this mark's scheme" : "no scheme of the open packs")};
}

}  // namespace

Answer examine(const FormView& view, const looks::Findings& findings, const Wanted& wanted) {
    const Weighing w(view.tables(), findings);
    Answer answer;
    answer.candidates = candidates(w);
    answer.open = {w.unlisted, w.elsewhere};
    std::vector<double> by_year(w.t.years());
    for (std::size_t y = 0; y < by_year.size(); ++y) by_year[y] = w.by_year[0][y] + w.by_year[1][y];
    if (normalise(by_year) <= 0) std::ranges::fill(by_year, 1.0 / static_cast<double>(by_year.size()));
    const double first = std::accumulate(w.by_year[0].begin(), w.by_year[0].end(), 0.0);
    const double second = std::accumulate(w.by_year[1].begin(), w.by_year[1].end(), 0.0);
    answer.grade = first + second > 0 ? GradeOdds{first / (first + second), second / (first + second)}
                                      : GradeOdds{1 - w.t.settings.second_of_any, w.t.settings.second_of_any};
    answer.date = date_answer(std::move(by_year), w.t.first_year);
    if (wanted.reasons) answer.reasons = reasons(w, answer);
    if (wanted.next && !w.impossible) answer.next = next_looks(w);
    if (wanted.conflicts) answer.conflicts = conflicts(w.t, findings);
    answer.notes = notes(w.t, findings);
    answer.verdict = verdict(w, answer);
    return answer;
}

}  // namespace footring::naming
