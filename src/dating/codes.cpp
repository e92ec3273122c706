// SPDX-License-Identifier: Apache-2.0
#include "dating/codes.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/json.h"
#include "base/text.h"

namespace footring::dating {

namespace {

using Schemes = std::vector<book::Ref<book::CodeScheme>>;

// How far the years of a reading lie within those of a mark: the best of them.
double within(const book::Mark& mark, const std::vector<int>& years, const Settings& settings) {
    if (!mark.years) return 1;
    double best = 0;
    for (const int year : years) best = std::max(best, edtf::weight(mark.years->spans(), year, settings));
    return best;
}

std::string years_of(const std::vector<CodeMeaning>& readings) {
    std::set<int> all;
    for (const CodeMeaning& one : readings)
        if (one.reading.weight > 0) all.insert(one.reading.years.begin(), one.reading.years.end());
    if (all.empty()) return "";
    const int first = *all.begin(), last = *all.rbegin();
    if (last - first + 1 == static_cast<int>(all.size())) return edtf::from_years(first, last);
    std::vector<std::string> each;
    for (const int year : all) each.push_back(edtf::from_years(year, year));
    return fmt::format("[{}]", fmt::join(each, ","));
}

Problem of_another_scheme(const book::Book& book, const Schemes& schemes, book::Ref<book::Mark> mark) {
    std::vector<std::string> bearing, names;
    for (const auto scheme : schemes) names.push_back(book::id_of(book, scheme));
    for (std::uint32_t at = 0; at < book.marks.size(); ++at)
        if (const auto scheme = book.marks[at].code_scheme;
            scheme && std::ranges::find(schemes, *scheme) != schemes.end())
            bearing.push_back(book::id_of(book, book::Ref<book::Mark>{at}));
    return {ProblemCode::kBadInput, "mark " + book::id_of(book, mark),
            fmt::format("does not bear the scheme {}", fmt::join(names, " or ")),
            bearing.empty() ? "leave the mark out: no mark of the open packs bears it"
                            : fmt::format("leave it out, or name one of {}", fmt::join(bearing, ", "))};
}

}  // namespace

Expected<Schemes> schemes_named(const book::Book& book, std::string_view name, std::string_view where) {
    const auto exact = book::find<book::CodeScheme>(book, name, where);
    if (exact) return Schemes{*exact};
    Schemes out;
    std::vector<std::string> ids;
    for (std::uint32_t at = 0; at < book.code_schemes.size(); ++at) {
        const std::string full = book::id_of(book, book::Ref<book::CodeScheme>{at});
        ids.push_back(full);
        for (const std::string& id : {full, book.code_schemes[at].id})
            if (id.starts_with(std::string(name) + "-") && (out.empty() || out.back().at != at))
                out.push_back({at});
    }
    if (!out.empty()) return out;
    std::set<std::string> families;
    for (const std::string& id : ids)
        if (const auto dash = id.rfind('-'); dash != id.npos) families.insert(id.substr(0, dash));
    std::vector<std::string> known = ids;
    for (const std::string& family : families)
        if (std::ranges::count_if(ids, [&](const std::string& id) { return id.starts_with(family + "-"); }) > 1)
            known.push_back(family);
    Problem problem = exact.error();
    if (problem.what.find("several") == std::string::npos) {
        problem.code = ProblemCode::kNotFound;
        problem.remedy = did_you_mean(name, known, fmt::format("use one of {}", fmt::join(known, ", ")));
    }
    return std::unexpected(problem);
}

Expected<CodeAnswer> read_code(const book::Book& book, const Schemes& schemes, std::string_view code,
                               std::optional<book::Ref<book::Mark>> mark, const Settings& settings) {
    CodeAnswer answer;
    answer.code = trim(code);
    if (mark && !(book[*mark].code_scheme && std::ranges::find(schemes, *book[*mark].code_scheme) != schemes.end()))
        return std::unexpected(of_another_scheme(book, schemes, *mark));
    std::vector<Problem> refusals;
    int fitting = 0;
    for (const auto scheme : schemes) {
        const auto read = book::readings(book[scheme], code, static_cast<int>(settings.first_year),
                                         static_cast<int>(settings.last_year));
        if (!read) {
            refusals.push_back(read.error());
            continue;
        }
        ++fitting;
        for (const book::CodeReading& reading : *read) answer.readings.push_back({scheme, reading, {}});
    }
    if (fitting == 0) {
        // A code of the right form with a wrong letter tells more than one that has another form.
        const auto form = [](const Problem& p) { return p.what.find("does not follow") != std::string::npos; };
        const auto better = std::ranges::find_if_not(refusals, form);
        Problem problem = better != refusals.end() ? *better : refusals.front();
        problem.where = "code " + answer.code;
        if (better == refusals.end() && refusals.size() > 1) {
            std::vector<std::string> remedies;
            for (const Problem& one : refusals) remedies.push_back(one.remedy);
            problem.remedy = fmt::format("{}", fmt::join(remedies, " Or: "));
        }
        return std::unexpected(problem);
    }

    bool any_mark = false, inside = false;
    std::vector<double> weights;
    for (CodeMeaning& one : answer.readings) {
        double best = 0;
        bool borne = false;
        for (std::uint32_t at = 0; at < book.marks.size(); ++at) {
            const book::Mark& row = book.marks[at];
            if (row.code_scheme != one.scheme || (mark && mark->at != at)) continue;
            borne = true;
            const double fit = one.reading.years.empty() ? 1 : within(row, one.reading.years, settings);
            if (fit > 0) one.marks.push_back({at});
            best = std::max(best, fit);
        }
        any_mark = any_mark || borne;
        inside = inside || (borne && best > 0);
        weights.push_back(borne ? best : 1);
    }
    answer.outside_marks = any_mark && !inside;
    double sum = 0;
    for (std::size_t i = 0; i < answer.readings.size(); ++i) {
        double& weight = answer.readings[i].reading.weight;
        weight /= fitting;
        if (!answer.outside_marks) weight *= weights[i];
        sum += weight;
    }
    if (sum > 0)
        for (CodeMeaning& one : answer.readings) one.reading.weight /= sum;
    std::ranges::stable_sort(answer.readings, [](const CodeMeaning& a, const CodeMeaning& b) {
        return a.reading.weight > b.reading.weight;
    });
    answer.years = years_of(answer.readings);
    return answer;
}

nlohmann::ordered_json code_json(const book::Book& book, const CodeAnswer& answer) {
    using Json = nlohmann::ordered_json;
    const auto text_or_null = [](const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); };
    return {{"code", answer.code},
            {"years", text_or_null(answer.years)},
            {"outside_marks", answer.outside_marks},
            {"readings", json_list(answer.readings, [&](const CodeMeaning& one) {
                 const book::CodeScheme& scheme = book[one.scheme];
                 return Json{
                     {"scheme", book::id_of(book, one.scheme)},
                     {"date", text_or_null(one.reading.date)},
                     {"years", one.reading.years},
                     {"weight", one.reading.weight},
                     {"parts", json_list(one.reading.parts,
                                         [&](const book::CodePart& part) {
                                             return Json{{"group", part.group},
                                                         {"token", part.token},
                                                         {"meaning", text_or_null(part.meaning)}};
                                         })},
                     {"marks", json_list(one.marks, [&](auto m) { return Json(book::id_of(book, m)); })},
                     {"note", one.reading.note},
                     {"sources", json_list(scheme.sources, [&](auto s) { return Json(book::id_of(book, s)); })},
                     {"row", fmt::format("code_schemes.csv:{}", scheme.origin.line)}};
             })}};
}

}  // namespace footring::dating
