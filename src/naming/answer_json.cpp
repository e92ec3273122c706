// SPDX-License-Identifier: Apache-2.0
#include "naming/answer_json.h"

#include <algorithm>
#include <utility>

#include "base/json.h"

namespace footring::naming {

namespace {

using nlohmann::ordered_json;

ordered_json ids_of(const book::Book& book, const std::vector<book::Ref<book::Treatment>>& treatments) {
    ordered_json ids = ordered_json::array();
    for (const auto treatment : treatments) ids.push_back(book::id_of(book, treatment));
    return ids;
}

ordered_json candidate_json(const book::Book& book, const Candidate& candidate) {
    return {{"treatment", book::id_of(book, candidate.treatment)},
            {"number", book[candidate.treatment].number},
            {"probability", candidate.probability},
            {"twins", ids_of(book, candidate.twins)}};
}

// Each source and row once, in the order in which the reason leans on them.
ordered_json reason_json(const book::Book& book, const Reason& reason) {
    std::vector<std::string> sources, rows;
    const auto add = [](std::vector<std::string>& to, std::string text) {
        if (!text.empty() && std::ranges::find(to, text) == to.end()) to.push_back(std::move(text));
    };
    for (const Support& support : reason.supports) {
        add(rows, support.row);
        for (const auto source : support.sources) add(sources, book::id_of(book, source));
    }
    return {{"look", reason.look},
            {"value", reason.value},
            {"decibans", reason.weight.value},
            {"sources", sources},
            {"rows", rows}};
}

ordered_json next_json(const NextLook& next) {
    return {{"look", next.look},
            {"bits", next.treatment.value},
            {"effort_min", next.effort.value},
            {"effect",
             {{"grade_bits", next.grade.value},
              {"year_bits", next.year.value},
              {"bits_per_min", next.bits_per_minute}}}};
}

ordered_json date_json(const DateAnswer& date) {
    return {{"median", date.median},
            {"hpd68", ordered_json::array({date.hpd68.first, date.hpd68.second})},
            {"hpd95", ordered_json::array({date.hpd95.first, date.hpd95.second})},
            {"edtf", date.edtf},
            {"by_year", {{"first_year", date.first_year}, {"p", date.by_year}}}};
}

}  // namespace

ordered_json answer_json(const book::Book& book, const std::string& piece_id, const Answer& answer,
                         const std::vector<std::string>& notes) {
    ordered_json out;
    out["piece"] = piece_id;
    out["candidates"] = json_list(answer.candidates, [&](const Candidate& c) { return candidate_json(book, c); });
    out["open"] = {{"unlisted", answer.open.unlisted}, {"elsewhere", answer.open.elsewhere}};
    out["grade"] = {{"first", answer.grade.first}, {"second", answer.grade.second}};
    out["date"] = date_json(answer.date);
    out["reasons"] = json_list(answer.reasons, [&](const Reason& r) { return reason_json(book, r); });
    out["next"] = json_list(answer.next, next_json);
    out["conflicts"] = json_list(answer.conflicts, [](const Conflict& c) {
        return ordered_json{{"statements", c.statements}};
    });
    out["verdict"] = answer.verdict;
    out["notes"] = notes;
    for (const std::string& note : answer.notes) out["notes"].push_back(note);
    return out;
}

}  // namespace footring::naming
