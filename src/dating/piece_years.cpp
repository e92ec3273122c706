// SPDX-License-Identifier: Apache-2.0
#include "dating/piece_years.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "naming/date_answer.h"

namespace footring::dating {

namespace {

using book::Ref;

struct Hypothesis {
    std::optional<Ref<book::Treatment>> treatment;
    double probability;
};
std::vector<Hypothesis> hypotheses_of(const naming::Answer& answer) {
    std::vector<Hypothesis> out;
    double listed = 0, kept = 0;
    for (const naming::Candidate& c : answer.candidates) {
        listed += c.probability;
        if (out.size() < kMostHypotheses) {
            out.push_back({c.treatment, c.probability});
            kept += c.probability;
        }
    }
    for (Hypothesis& h : out) h.probability *= listed / kept;
    const double open = answer.open.unlisted + answer.open.elsewhere;
    if (open > 0 || out.empty()) out.push_back({std::nullopt, out.empty() ? 1 : open});
    return out;
}

void normalise(std::vector<double>& shares) {
    const double sum = std::accumulate(shares.begin(), shares.end(), 0.0);
    if (sum > 0)
        for (double& share : shares) share /= sum;
}

std::string quarrel(const std::vector<YearStatement>& statements, const Contradictions& contradictions) {
    if (contradictions.smallest.empty()) return "the statements leave no year";
    std::string words;
    for (const std::size_t i : contradictions.smallest.front())
        words += fmt::format("{}{} {}", words.empty() ? "" : ", and ", statements[i].subject, statements[i].what);
    return words + " cannot all hold";
}

}  // namespace

Expected<PieceYears> date_piece(const naming::FormView& view, const looks::Findings& findings,
                                const naming::Answer& answer, const std::vector<YearStatement>& further) {
    const YearRange range = range_of(view);
    const std::size_t years = range.size();
    std::vector<double> extra(years, 1);
    for (const YearStatement& s : further) {
        const std::vector<double> weights = weights_of(s);
        for (std::size_t y = 0; y < years; ++y) extra[y] *= weights[y];
    }

    PieceYears out;
    std::vector<double> mixed(years, 0);
    double sum = 0;
    PieceGatherer gatherer(view, findings);
    double likeliest = -1;
    for (const Hypothesis& h : hypotheses_of(answer)) {
        PieceStatements own = gatherer.of(h.treatment);
        std::vector<double> by_year = years_of(std::span(own.statements).first(own.looks_from), years);
        double agree = 0;
        for (std::size_t y = 0; y < years; ++y) by_year[y] *= own.looks[y];
        if (!h.treatment) normalise(by_year);  // naming's odds have no share of these looks taken out
        for (std::size_t y = 0; y < years; ++y) agree += by_year[y] *= extra[y];
        if (agree <= 0) continue;
        double below = 0;
        std::size_t median = 0;
        for (std::size_t y = 0; y < years; ++y) {
            if (below < agree / 2) median = y;
            below += by_year[y];
            mixed[y] += h.probability * by_year[y];
        }
        sum += h.probability * agree;
        if (h.probability * agree > likeliest) {
            likeliest = h.probability * agree;
            out.statements = std::move(own.statements);
        }
        out.hypotheses.push_back({h.treatment, h.probability * agree, range.first + static_cast<int>(median)});
    }
    std::ranges::stable_sort(out.hypotheses, std::greater{}, &HypothesisYears::probability);
    if (out.hypotheses.empty()) out.statements = gatherer.of(std::nullopt).statements;
    out.statements.insert(out.statements.end(), further.begin(), further.end());
    out.together = combine(out.statements, years);
    if (sum <= 0)
        return fail(ProblemCode::kBadInput, "date", quarrel(out.statements, out.together.contradictions),
                    "trust one of them less, or mend the Book");
    for (double& share : mixed) share /= sum;
    for (HypothesisYears& h : out.hypotheses) h.probability /= sum;
    out.date = naming::date_answer(std::move(mixed), range.first);
    return out;
}

}  // namespace footring::dating
