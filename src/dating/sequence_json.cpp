// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "base/json.h"
#include "dating/sequence.h"
#include "edtf/edtf.h"

namespace footring::dating {

using Where = NumberYear::Where;

std::string_view name_of(Where where) {
    return where == Where::kBetween ? "between" : where == Where::kBefore ? "before" : "after";
}

std::string edtf_of(const NumberYear& one) {
    const std::string low = edtf::from_years(static_cast<int>(std::floor(one.low)),
                                             static_cast<int>(std::floor(one.low))),
                      high = edtf::from_years(static_cast<int>(std::ceil(one.high)),
                                              static_cast<int>(std::ceil(one.high)));
    if (one.where == Where::kBefore) return "../" + high;
    if (one.where == Where::kAfter) return low + "/..";
    return low == high ? low : low + "/" + high;
}

nlohmann::ordered_json sequence_json(const book::Book& book, const Sequence& s,
                                     const std::vector<NumberYear>& asked) {
    using Json = nlohmann::ordered_json;
    std::vector<std::size_t> at(s.dated.size());
    for (std::size_t i = 0; i < at.size(); ++i) at[i] = i;
    return {{"numbers", json_list(asked,
                                  [](const NumberYear& n) {
                                      return Json{{"number", n.number}, {"year", n.year},
                                                  {"low", n.low},       {"high", n.high},
                                                  {"edtf", edtf_of(n)}, {"where", name_of(n.where)}};
                                  })},
            {"dated", json_list(at,
                                [&](std::size_t i) {
                                    const DatedNumber& d = s.dated[i];
                                    return Json{{"treatment", d.name},
                                                {"number", d.number},
                                                {"first", d.first},
                                                {"last", d.last},
                                                {"line", s.line[i]},
                                                {"sources", json_list(d.sources, [&](auto r) { return Json(book::id_of(book, r)); })}};
                                })},
            {"outliers",
             json_list(
                 s.outliers,
                 [&](const Outlier& o) {
                     return Json{{"treatment", s.dated[o.at].name}, {"line", o.line}, {"deviations", o.deviations}};
                 })},
            {"typical_years", s.typical_years}};
}

}  // namespace footring::dating
