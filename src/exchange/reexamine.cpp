// SPDX-License-Identifier: Apache-2.0
#include "exchange/reexamine.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/json.h"
#include "base/text.h"
#include "exchange/json_text.h"
#include "exchange/record_json.h"
#include "looks/piece.h"

namespace footring::exchange {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

// Members of an answer; another shape than ours (an answer of an old version) counts as nothing said.
const json& member(const json& object, const char* name) {
    static const json nothing;
    if (!object.is_object()) return nothing;
    const auto found = object.find(name);
    return found == object.end() ? nothing : *found;
}
double number(const json& object, const char* name) {
    const json& value = member(object, name);
    return value.is_number() ? value.get<double>() : 0;
}
std::string text(const json& object, const char* name) {
    const json& value = member(object, name);
    return value.is_string() ? value.get<std::string>() : "";
}
std::vector<std::string> texts(const json& object, const char* name) {
    std::vector<std::string> out;
    for (const json& value : member(object, name))
        if (value.is_string()) out.push_back(value.get<std::string>());
    return out;
}

std::string percent(double p) {
    if (p > 0 && p < 0.01) return "under 1 %";
    if (p < 1 && p > 0.99) return "over 99 %";
    return fmt::format("{:.0f} %", p * 100);
}
bool same_id(const std::string& a, const std::string& b) {
    return a == b || a.ends_with(":" + b) || b.ends_with(":" + a);
}

struct Named {
    std::string id;
    double p = 0;
    std::vector<std::string> twins;
};
std::vector<Named> candidates(const json& answer) {
    std::vector<Named> out;
    for (const json& one : member(answer, "candidates"))
        out.push_back({text(one, "treatment"), number(one, "probability"), texts(one, "twins")});
    const json& open = member(answer, "open");
    out.push_back({"unlisted", number(open, "unlisted"), {}});
    out.push_back({"elsewhere", number(open, "elsewhere"), {}});
    return out;
}
const Named* find(const std::vector<Named>& all, const std::string& id) {
    const auto found = std::ranges::find_if(all, [&](const Named& one) { return same_id(one.id, id); });
    return found == all.end() ? nullptr : &*found;
}
double probability(const std::vector<Named>& all, const std::string& id) {
    const Named* found = find(all, id);
    return found ? found->p : 0;
}

std::string called(const std::string& id, const book::Book& book) {
    if (id == "unlisted") return "an unlisted treatment";
    if (id == "elsewhere") return "another maker's piece";
    const auto ref = book::find<book::Treatment>(book, id, "");
    if (!ref || book[*ref].number.empty()) return id;
    return fmt::format("{} ({})", book[*ref].number, id);
}

struct Dated {
    std::optional<int> median;
    std::string hpd95;
};
Dated date_of(const json& answer) {
    Dated out;
    const json& date = member(answer, "date");
    const json &median = member(date, "median"), &range = member(date, "hpd95");
    if (median.is_number()) out.median = static_cast<int>(std::lround(median.get<double>()));
    if (range.is_array() && range.size() == 2 && range[0].is_number() && range[1].is_number())
        out.hpd95 = fmt::format("{} to {}", range[0].get<int>(), range[1].get<int>());
    return out;
}

std::vector<Shifted::Reason> reasons(const json& before, const json& after) {
    std::map<std::pair<std::string, std::string>, Shifted::Reason> all;
    const auto read = [&](const json& answer, bool newer) {
        for (const json& one : member(answer, "reasons")) {
            Shifted::Reason& reason = all[{text(one, "look"), text(one, "value")}];
            reason.look = text(one, "look");
            reason.value = text(one, "value");
            (newer ? reason.after : reason.before) = number(one, "decibans");
            if (auto rows = texts(one, "rows"); !rows.empty()) reason.rows = std::move(rows);
            if (auto sources = texts(one, "sources"); !sources.empty()) reason.sources = std::move(sources);
        }
    };
    read(before, false);
    read(after, true);
    std::vector<Shifted::Reason> out;
    for (auto& [key, reason] : all)
        if (std::abs(reason.after - reason.before) >= kWeight) out.push_back(std::move(reason));
    std::ranges::stable_sort(out, std::ranges::greater{},
                             [](const Shifted::Reason& r) { return std::abs(r.after - r.before); });
    constexpr std::size_t kMost = 6;
    if (out.size() > kMost) out.resize(kMost);
    return out;
}

}  // namespace

Shifted compare_answers(const json& before, const json& after, const std::string& decided, const book::Book& book) {
    Shifted out;
    const std::vector<Named> old = candidates(before), now = candidates(after);
    const auto likeliest = [](const std::vector<Named>& all) {
        return *std::ranges::max_element(all, {}, &Named::p);
    };
    const Named first = likeliest(old), second = likeliest(now);
    // Twins have the same odds; which of them stands first says nothing.
    const bool twin =
        std::ranges::any_of(second.twins, [&](const std::string& id) { return same_id(id, first.id); });
    const auto moved = [&](const std::string& id) {
        return std::abs(probability(now, id) - probability(old, id)) >= kShift;
    };
    if (!same_id(first.id, second.id) && !twin && (moved(first.id) || moved(second.id)))
        out.what.push_back(fmt::format("The likeliest was {} ({}) and is {} ({}).", called(first.id, book),
                                       percent(first.p), called(second.id, book), percent(second.p)));
    if (!decided.empty()) {
        const double was = probability(old, decided), is = probability(now, decided);
        if (std::abs(is - was) >= kShift)
            out.what.push_back(fmt::format("What was decided, {}, had {} and has {}.", called(decided, book),
                                           percent(was), percent(is)));
    }
    if (decided.empty() && out.what.empty() && moved(second.id))
        out.what.push_back(fmt::format("The likeliest, {}, had {} and has {}.", called(second.id, book),
                                       percent(probability(old, second.id)), percent(second.p)));
    const double second_was = number(member(before, "grade"), "second"),
                 second_is = number(member(after, "grade"), "second");
    if (std::abs(second_is - second_was) >= kShift)
        out.what.push_back(
            fmt::format("The chance of a second was {} and is {}.", percent(second_was), percent(second_is)));
    const Dated old_date = date_of(before), new_date = date_of(after);
    if (old_date.median && new_date.median && std::abs(*old_date.median - *new_date.median) >= kYears)
        out.what.push_back(fmt::format("It was dated about {} ({}) and is about {} ({}).", *old_date.median,
                                       old_date.hpd95, *new_date.median, new_date.hpd95));
    const auto conflicts_were = member(before, "conflicts").size(),
               conflicts_are = member(after, "conflicts").size();
    if (conflicts_were == 0 && conflicts_are > 0) out.what.emplace_back("Its evidence contradicts itself now.");
    if (conflicts_were > 0 && conflicts_are == 0)
        out.what.emplace_back("Its evidence does not contradict itself any more.");
    if (out.same()) return out;
    out.why = reasons(before, after);
    constexpr double kNoticed = 0.02;
    for (const Named& one : now)
        if (one.p >= kNoticed && find(old, one.id) == nullptr)
            out.notes.push_back(fmt::format("{} was not among the candidates.", called(one.id, book)));
    for (const Named& one : old)
        if (one.p >= kNoticed && find(now, one.id) == nullptr)
            out.notes.push_back(fmt::format("{} is not among the candidates any more.", called(one.id, book)));
    return out;
}

namespace {

// What was said of the piece before; absent: nobody knows.
std::optional<json> said_before(const store::PieceRecord& record, const Examine& before) {
    if (record.decision && record.attribution) return record.attribution->answer;
    // A piece that cannot be answered with the packs as they were has nothing to be compared with.
    if (!before) return std::nullopt;
    auto answer = before(record.piece);
    return answer ? std::optional(std::move(*answer)) : std::nullopt;
}

Reexamined examined_again(const store::PieceRecord& record, const book::Book& book, const Examine& now,
                          std::optional<json> before) {
    Reexamined one{record, std::move(before), std::nullopt, {}, {}};
    auto answer = now(record.piece);
    if (!answer) {
        one.problems = std::move(answer.error());
        one.shifted.what.emplace_back("It cannot be examined with the packs that are open.");
        return one;
    }
    one.after = std::move(*answer);
    one.shifted = compare_answers(*one.before, *one.after, record.decision ? record.decision->treatment : "", book);
    return one;
}

}  // namespace

Expected<Reexamination> reexamine(const store::Store& store, const book::Book& book, const std::string& packs,
                                  const Examine& now, const Examine& before,
                                  const std::function<bool(int, int, const Reexamined*)>& told) {
    Reexamination out;
    store::Query query;
    query.sort = store::Query::Sort::kId;
    query.descending = false;
    query.limit = 500;
    while (true) {
        const auto page = store.find(query);
        if (!page) return std::unexpected(page.error());
        for (const store::PieceRecord& record : page->rows) {
            ++out.seen;
            const std::size_t changed = out.changed.size();
            if (record.decision && record.attribution && record.attribution->packs == packs) {
                ++out.up_to_date;
            } else if (auto said = said_before(record, before); !said) {
                ++out.unknown;
            } else {
                Reexamined one = examined_again(record, book, now, std::move(said));
                if (one.shifted.same()) ++out.same;
                else out.changed.push_back(std::move(one));
            }
            if (!told(out.seen, static_cast<int>(page->total),
                      out.changed.size() > changed ? &out.changed.back() : nullptr)) {
                out.stopped = true;
                return out;
            }
        }
        query.offset += query.limit;
        if (query.offset >= page->total) return out;
    }
}

ordered_json reexamined_json(const Reexamined& one) {
    const store::PieceRecord& record = one.record;
    ordered_json problems = ordered_json::array();
    for (const Problem& problem : one.problems) problems.push_back(problem_json(problem));
    return {
        {"piece", record.piece.id},
        {"revision", record.revision},
        {"form", record.piece.form},
        {"decision", record.decision ? ordered_json{{"treatment", record.decision->treatment},
                                                    {"grade", record.decision->grade},
                                                    {"date", record.decision->date},
                                                    {"note", record.decision->note}}
                                     : ordered_json()},
        {"before", one.before ? ordered_json(*one.before) : ordered_json()},
        {"when", record.decision && record.attribution ? ordered_json(record.attribution->when) : ordered_json()},
        {"after", one.after ? ordered_json(*one.after) : ordered_json()},
        {"what", one.shifted.what},
        {"why", json_list(one.shifted.why,
                          [](const Shifted::Reason& reason) {
                              return ordered_json{{"look", reason.look},     {"value", reason.value},
                                                  {"before", reason.before}, {"after", reason.after},
                                                  {"rows", reason.rows},     {"sources", reason.sources}};
                          })},
        {"notes", one.shifted.notes},
        {"problems", problems}};
}

}  // namespace footring::exchange
