// SPDX-License-Identifier: Apache-2.0
#include "dating/assemblage.h"

#include <algorithm>
#include <cmath>

namespace footring::dating {

namespace {

constexpr double kTail = 0.025;  // chances that "not before" leaves on its early side

// The first year by which at least `share` of the chances have passed.
std::size_t year_by(const std::vector<double>& by_year, double share) {
    double below = 0;
    for (std::size_t i = 0; i < by_year.size(); ++i)
        if ((below += by_year[i]) >= share - 1e-12) return i;
    return by_year.size() - 1;
}

}  // namespace

MeanDate mean_ceramic_date(std::span<const CountedDate> dates) {
    MeanDate out;
    double count = 0, sum = 0, squares = 0;
    for (const CountedDate& one : dates) count += one.count, sum += one.count * one.median;
    if (count <= 0) return out;
    out.mean = sum / count;
    for (const CountedDate& one : dates) squares += one.count * (one.median - out.mean) * (one.median - out.mean);
    if (count > 1) {
        out.spread = std::sqrt(squares / (count - 1));
        out.standard_error = out.spread / std::sqrt(count);
    }
    return out;
}

Expected<Assemblage> assemble(std::span<const DatedPiece> pieces, int first_year, const Settings& settings) {
    if (pieces.empty())
        return fail(ProblemCode::kBadInput, "assemblage", "there is no piece in it", "give at least one piece");
    const std::size_t years = pieces.front().by_year.size();
    Assemblage out;
    out.first_year = first_year;
    out.pieces_by_year.assign(years, 0);
    std::vector<CountedDate> dates;
    double all = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const DatedPiece& piece = pieces[i];
        const int median = first_year + static_cast<int>(year_by(piece.by_year, 0.5));
        const int not_before = first_year + static_cast<int>(year_by(piece.by_year, kTail));
        out.medians.push_back(median);
        out.not_before.push_back(not_before);
        dates.push_back({static_cast<double>(median), static_cast<double>(piece.count)});
        if (i == 0 || not_before > out.terminus_post_quem)
            out.terminus_post_quem = not_before, out.terminus_piece = i;
        for (std::size_t y = 0; y < years; ++y) out.pieces_by_year[y] += piece.count * piece.by_year[y];
        all += piece.count;
    }
    out.mean_date = mean_ceramic_date(dates);

    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const DatedPiece& piece = pieces[i];
        const double others = all - piece.count;
        if (others <= 0) continue;  // one kind alone is never out of step
        double within = 0;
        std::vector<double> rest(years);
        for (std::size_t y = 0; y < years; ++y) {
            rest[y] = std::max(0.0, out.pieces_by_year[y] - piece.count * piece.by_year[y]) / others;
            within += std::min(piece.by_year[y], rest[y]);
        }
        if (within > settings.step_share) continue;
        const int rest_median = first_year + static_cast<int>(year_by(rest, 0.5));
        out.out_of_step.push_back({i, within, out.medians[i] < rest_median});
    }
    std::ranges::stable_sort(out.out_of_step, {}, &PieceStep::within);
    return out;
}

}  // namespace footring::dating
