// SPDX-License-Identifier: Apache-2.0
#include "services/services_json.h"

#include <algorithm>
#include <cmath>

#include "base/json.h"

namespace footring::services {

using book::Book;
using book::Form;
using book::Ref;
using book::Treatment;
using Json = nlohmann::ordered_json;

namespace {

Json form_json(const Book& book, Ref<Form> form) {
    return {{"id", book::id_of(book, form)}, {"name", book[form].name.empty() ? book[form].id : book[form].name}};
}
Json service_named(const Plan& plan, std::uint32_t s) {
    return {{"id", plan.services[s].given.id}, {"name", service_name(plan, s)}};
}
// Money has two decimals; sums of them keep no dust.
double money(double amount) { return std::round(amount * 100) / 100; }

Json treatments_json(const Book& book, const std::vector<Ref<Treatment>>& treatments) {
    return json_list(treatments, [&](Ref<Treatment> t) { return treatment_json(book, t); });
}

// What a piece may cost, with the range of nine in ten where it is an estimate.
void add_cost(Json& out, const Cost& cost) {
    out["price"] = money(cost.amount);
    out["low"] = cost.between ? Json(money((*cost.between)[0])) : Json(nullptr);
    out["high"] = cost.between ? Json(money((*cost.between)[1])) : Json(nullptr);
}
Json prices_json(const Prices& prices) {
    return {{"known", prices.known()}, {"currency", prices.currency}, {"basis", prices.basis}};
}

Json place_json(const Fitting& fitting, const Allotment& allotment, std::uint32_t s, const PlaceTaken& place) {
    const Book& book = fitting.book();
    const PlannedService& service = fitting.plan().services[s];
    const PlannedLine& line = service.lines[place.line];
    Json out{{"line", place.line}, {"name", line.name}, {"form", nullptr}};
    const Owned* piece = place.piece ? &fitting.pieces()[*place.piece] : nullptr;
    if (piece != nullptr && piece->form) out["form"] = form_json(book, *piece->form);
    else if (!line.forms.empty()) out["form"] = form_json(book, line.forms.front());
    out["state"] = piece != nullptr ? name_of(place.state) : place.bought ? "bought" : "missing";
    out["piece"] = nullptr;
    out["odds"] = nullptr;
    out["insisted"] = place.insisted;
    out["why"] = place_sentence(fitting, allotment, s, place);
    out["treatment"] = nullptr;
    if (piece == nullptr) return out;
    out["piece"] = piece->id;
    out["odds"] = place.odds;
    const auto likeliest =
        std::ranges::max_element(piece->odds.treatments, {}, [](const auto& t) { return t.second; });
    if (likeliest != piece->odds.treatments.end()) out["treatment"] = treatment_json(book, likeliest->first);
    return out;
}

Json wanted_json(const Fitting& fitting, std::uint32_t s, std::uint32_t l, const Offer& offer, int count) {
    const LineSize& size = fitting.sizes_at(s, l)[offer.size];
    Json out{{"line", l},
             {"name", fitting.plan().services[s].lines[l].name},
             {"form", form_json(fitting.book(), offer.form)},
             {"treatment", treatment_json(fitting.book(), offer.treatment)},
             {"trade_size", size_words(size)},
             {"count", count}};
    add_cost(out, offer.cost);
    return out;
}

}  // namespace

Json treatment_json(const Book& book, Ref<Treatment> ref) {
    return {{"id", book::id_of(book, ref)}, {"number", book[ref].number}, {"name", book[ref].name}};
}

Json lines_json(const Book& book, const PlannedService& service) {
    return json_list(service.lines, [&](const PlannedLine& line) {
        return Json{{"name", line.name},
                    {"in_setting", line.in_setting},
                    {"count", line.count},
                    {"forms", json_list(line.forms, [&](Ref<Form> form) { return form_json(book, form); })},
                    {"trade_size", line.trade_size},
                    {"made", line.made}};
    });
}

Json table_json(const Fitting& fitting, const Allotment& allotment, std::uint32_t s) {
    const ServiceTable& table = allotment.services[s];
    const PlannedService& service = fitting.plan().services[s];
    Json settings = Json::array(), serving = Json::array();
    for (int n = 1; n <= table.settings; ++n)
        settings.push_back({{"setting", n}, {"complete", true}, {"places", Json::array()}});
    for (const PlaceTaken& place : table.taken) {
        Json one = place_json(fitting, allotment, s, place);
        if (place.setting == 0) {
            serving.push_back(std::move(one));
            continue;
        }
        Json& setting = settings[static_cast<std::size_t>(place.setting - 1)];
        if (!place.piece && !place.bought) setting["complete"] = false;
        setting["places"].push_back(std::move(one));
    }
    return {{"service", service_named(fitting.plan(), s)},
            {"treatments", treatments_json(fitting.book(), service.treatments)},
            {"complete", table.complete},
            {"settings", table.settings},
            {"filled", table.filled},
            {"places", table.places},
            {"whole", table.whole},
            {"lines", lines_json(fitting.book(), service)},
            {"table", std::move(settings)},
            {"serving", std::move(serving)}};
}

Json allotment_json(const Fitting& fitting, const Allotment& a, const Prices& prices) {
    int settings = 0;
    Json services = Json::array();
    for (std::uint32_t s = 0; s < a.services.size(); ++s) {
        settings += a.services[s].settings;
        services.push_back(table_json(fitting, a, s));
    }
    return {{"objective", kObjectiveNames[static_cast<std::size_t>(a.objective)]},
            {"complete", a.complete()},
            {"settings", settings},
            {"whole", a.whole()},
            {"proved", a.proved()},
            {"goals", json_list(a.goals,
                                [](const Reached& goal) {
                                    return Json{{"goal", goal.goal},
                                                {"value", goal.value},
                                                {"bound", goal.bound},
                                                {"gap", goal.gap()},
                                                {"ending", name_of(goal.ending)}};
                                })},
            {"services", std::move(services)},
            {"bought", json_list(a.bought,
                                 [&](const Bought& one) {
                                     Json row{{"service", service_named(fitting.plan(), one.service)}};
                                     row.update(wanted_json(fitting, one.service, one.line, one.offer, one.count));
                                     return row;
                                 })},
            {"spent", money(a.spent)},
            {"prices", prices_json(prices)},
            {"notes", a.notes},
            {"size",
             {{"pieces", a.pieces},
              {"candidates", a.candidates},
              {"classes", a.classes},
              {"columns", a.columns},
              {"rows", a.rows}}}};
}

Json wants_json(const Fitting& fitting, const Wants& wants, const Prices& prices) {
    const auto buy = [&](const WantedPieces& one) {
        return wanted_json(fitting, one.service, one.line, one.offer, one.count);
    };
    return {{"steps", json_list(wants.steps,
                                [&](const WantStep& step) {
                                    const auto& plan = fitting.plan();
                                    Json out{{"service", service_named(plan, step.service)},
                                             {"completes", step.setting > 0 ? "setting" : "serving"},
                                             {"setting", nullptr},
                                             {"of", nullptr},
                                             {"buy", json_list(step.buy, buy)},
                                             {"pieces", step.pieces},
                                             {"cost", money(step.cost)},
                                             {"so_far", money(step.so_far)},
                                             {"sentence", step.sentence}};
                                    if (step.setting > 0) {
                                        out["setting"] = step.setting;
                                        out["of"] = plan.services[step.service].settings;
                                    }
                                    return out;
                                })},
            {"list", json_list(wants.list,
                               [&](const WantedPieces& one) {
                                   Json row{{"service", service_named(fitting.plan(), one.service)}};
                                   row.update(buy(one));
                                   return row;
                               })},
            {"pieces", wants.pieces},
            {"cost", money(wants.cost)},
            {"prices", prices_json(prices)},
            {"never", wants.never},
            {"text", carried_text(fitting, wants, prices)}};
}

Json parting_json(const Fitting& fitting, const std::vector<Parted>& parted) {
    return json_list(parted, [&](const Parted& one) {
        const Owned& piece = fitting.pieces()[one.piece];
        Json out{{"piece", piece.id}, {"form", nullptr}};
        if (piece.form) out["form"] = form_json(fitting.book(), *piece.form);
        out["kind"] = one.stray ? "stray" : "duplicate";
        out["sentence"] = one.sentence;
        return out;
    });
}

Json found_json(const Fitting& with, const Found& found) {
    const Plan& plan = with.plan();
    const std::size_t piece = with.pieces().size() - 1;
    Json why = Json::array();
    for (std::uint32_t s = 0; s < plan.services.size(); ++s) {
        if (std::ranges::find(found.places, s, &FoundPlace::service) != found.places.end()) continue;
        why.push_back({{"service", service_named(plan, s)}, {"sentence", with.why(piece, s).front().sentence}});
    }
    return {{"fits", !found.places.empty()},
            {"sentence", found.sentence},
            {"gain", found.gain},
            {"services", json_list(found.places,
                                   [&](const FoundPlace& place) {
                                       Json out{{"service", service_named(plan, place.service)},
                                                {"line", place.line},
                                                {"name", plan.services[place.service].lines[place.line].name},
                                                {"state", name_of(place.state)},
                                                {"odds", place.odds},
                                                {"completes", place.completes},
                                                {"setting", nullptr},
                                                {"of", nullptr},
                                                {"still_missing", place.still_missing},
                                                {"sentence", place.sentence}};
                                       if (place.setting > 0) out["setting"] = place.setting, out["of"] = place.of;
                                       return out;
                                   })},
            {"why", std::move(why)}};
}

Json why_json(const Fitting& fitting, std::size_t piece, std::uint32_t s) {
    const PlannedService& service = fitting.plan().services[s];
    return {{"service", service_named(fitting.plan(), s)},
            {"piece", fitting.pieces()[piece].id},
            {"lines", json_list(fitting.why(piece, s), [&](const Why& why) {
                 return Json{{"line", why.line ? Json(*why.line) : Json(nullptr)},
                             {"name", why.line ? service.lines[*why.line].name : ""},
                             {"serves", why.serves},
                             {"state", name_of(why.state)},
                             {"odds", why.odds},
                             {"sentence", why.sentence}};
             })}};
}

Json moved_json(const std::vector<Moved>& moved) {
    const auto text = [](const std::string& words) { return words.empty() ? Json(nullptr) : Json(words); };
    return json_list(moved, [&](const Moved& one) {
        return Json{{"piece", one.piece}, {"from", text(one.from)}, {"to", text(one.to)}};
    });
}

}  // namespace footring::services
