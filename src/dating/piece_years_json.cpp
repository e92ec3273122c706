// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <set>
#include <tuple>

#include "base/json.h"
#include "dating/piece_years.h"

namespace footring::dating {

namespace {

using Json = nlohmann::ordered_json;

// Between which years a statement allows anything at all, and between which it allows most: as in a chronology.
Json span_json(const YearStatement& s, int first_year) {
    std::optional<int> soft_first, first, last, soft_last;
    const double most = s.agrees.empty() ? 0 : std::ranges::max(s.agrees);
    for (std::size_t i = 0; i < s.agrees.size(); ++i) {
        const int year = first_year + static_cast<int>(i);
        if (s.agrees[i] > 0) soft_first = soft_first.value_or(year), soft_last = year;
        if (most > 0 && s.agrees[i] >= most) first = first.value_or(year), last = year;
    }
    if (!first) return nullptr;
    return {{"soft_first", *soft_first}, {"first", *first}, {"last", *last}, {"soft_last", *soft_last}};
}

// The statements of a set in sentences, where they stand in the list, and what they lean on.
Json quarrel_json(const book::Book& book, const std::vector<YearStatement>& statements,
                  const std::vector<std::size_t>& set) {
    std::set<std::string> sources;
    for (const std::size_t i : set)
        for (const auto source : statements[i].sources) sources.insert(book::id_of(book, source));
    return {{"statements", json_list(set, [&](std::size_t i) { return Json(sentence(statements[i])); })},
            {"at", set},
            {"sources", sources}};
}

}  // namespace

std::string sentence(const YearStatement& s) { return s.subject + " " + s.what; }

nlohmann::ordered_json date_json(const book::Book& book, const std::string& piece, const PieceYears& dated,
                                 const std::vector<std::string>& notes) {
    const naming::DateAnswer& d = dated.date;
    const auto& [statements, together] = std::tie(dated.statements, dated.together);
    Json list = Json::array();
    for (std::size_t i = 0; i < statements.size(); ++i) {
        const YearStatement& s = statements[i];
        const Heard& heard = together.heard[i];
        list.push_back({{"subject", s.subject},
                        {"what", s.what},
                        {"span", span_json(s, d.first_year)},
                        {"trust", s.trust},
                        {"holds", heard.holds},
                        {"cut_before", heard.cut_before},
                        {"cut_after", heard.cut_after},
                        {"sources", json_list(s.sources, [&](auto ref) { return Json(book::id_of(book, ref)); })},
                        {"row", s.row.empty() ? Json() : Json(s.row)},
                        {"agrees", s.agrees}});
    }
    return {{"piece", piece},
            {"date",
             {{"median", d.median},
              {"hpd68", {d.hpd68.first, d.hpd68.second}},
              {"hpd95", {d.hpd95.first, d.hpd95.second}},
              {"edtf", d.edtf},
              {"by_year", {{"first_year", d.first_year}, {"p", d.by_year}}}}},
            {"statements", std::move(list)},
            {"contradictions",
             json_list(together.contradictions.smallest,
                       [&](const std::vector<std::size_t>& set) { return quarrel_json(book, statements, set); })},
            {"complete", together.contradictions.complete},
            {"frees", json_list(together.contradictions.frees,
                                [&](std::size_t i) { return Json(sentence(statements[i])); })},
            {"hypotheses", json_list(dated.hypotheses,
                                     [&](const HypothesisYears& h) {
                                         return Json{{"treatment",
                                                      h.treatment ? Json(book::id_of(book, *h.treatment)) : Json()},
                                                     {"probability", h.probability},
                                                     {"median", h.median}};
                                     })},
            {"notes", notes}};
}

}  // namespace footring::dating
