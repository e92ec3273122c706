// SPDX-License-Identifier: Apache-2.0
#include "dating/assemblage.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/json.h"
#include "edtf/edtf.h"

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

std::optional<YearShares> shares_of_date(std::string_view date, const Settings& settings) {
    const auto parsed = edtf::parse(date);
    if (!parsed) return std::nullopt;
    constexpr std::int64_t kEarliest = 0, kLatest = 2100;
    auto first = static_cast<std::int64_t>(settings.first_year),
         last = static_cast<std::int64_t>(settings.last_year);
    for (const edtf::Span& span : parsed->spans()) {
        if (span.first) first = std::min(first, std::max(*span.first, kEarliest));
        if (span.last) last = std::max(last, std::min(*span.last, kLatest));
    }
    YearShares out{static_cast<int>(first),
                   edtf::year_weights(*parsed, static_cast<int>(first), static_cast<int>(last), settings)};
    const double sum = std::accumulate(out.share.begin(), out.share.end(), 0.0);
    if (sum <= 0) return std::nullopt;
    for (double& one : out.share) one /= sum;
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

Expected<Assemblage> assemble(const std::vector<Member>& members, const Settings& settings) {
    int first = std::numeric_limits<int>::max(), last = std::numeric_limits<int>::min();
    for (const Member& one : members) {
        first = std::min(first, one.years.first);
        last = std::max(last, one.years.first + static_cast<int>(one.years.share.size()) - 1);
    }
    std::vector<DatedPiece> pieces;
    for (const Member& one : members) {
        DatedPiece piece{one.id, 1, std::vector<double>(static_cast<std::size_t>(last - first + 1), 0.0)};
        std::ranges::copy(one.years.share, piece.by_year.begin() + (one.years.first - first));
        pieces.push_back(std::move(piece));
    }
    return assemble(pieces, first, settings);
}

nlohmann::ordered_json assemblage_json(const std::vector<Member>& members, const Assemblage& a) {
    using Json = nlohmann::ordered_json;
    std::vector<std::size_t> at(members.size());
    std::iota(at.begin(), at.end(), 0);
    const auto id = [&](std::size_t i) { return members[i].id; };
    Json mean = {{"mean", a.mean_date.mean}, {"spread", a.mean_date.spread}, {"standard_error", nullptr}};
    if (a.mean_date.standard_error) mean["standard_error"] = *a.mean_date.standard_error;
    return {{"pieces", members.size()},
            {"mean_date", std::move(mean)},
            {"terminus_post_quem", {{"year", a.terminus_post_quem}, {"piece", id(a.terminus_piece)}}},
            {"by_year", {{"first_year", a.first_year}, {"pieces", a.pieces_by_year}}},
            {"out_of_step", json_list(a.out_of_step,
                                      [&](const PieceStep& s) {
                                          return Json{{"piece", id(s.piece)},
                                                      {"median", a.medians[s.piece]},
                                                      {"within", s.within},
                                                      {"side", s.earlier ? "earlier" : "later"}};
                                      })},
            {"dates", json_list(at, [&](std::size_t i) {
                 return Json{{"piece", id(i)},
                             {"median", a.medians[i]},
                             {"not_before", a.not_before[i]},
                             {"decided", members[i].decided}};
             })}};
}

}  // namespace footring::dating
