// SPDX-License-Identifier: Apache-2.0
#include "services/service.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "book/json_text.h"
#include "services/json_reader.h"

namespace footring::services {

using nlohmann::json;
using nlohmann::ordered_json;

namespace {

constexpr std::size_t kMostTreatments = 50, kMostFixed = 2000, kMostServices = 1000;
constexpr std::string_view kServiceFields[] = {
    "id",         "name",         "note",       "treatments", "composition",   "settings", "grades",
    "worst_wear", "worst_faults", "least_odds", "weight",     "setting_value", "insist",   "refuse"};

void append(std::vector<Problem>& all, std::vector<Problem> more) {
    std::ranges::move(more, std::back_inserter(all));
}

void check_fixed(JsonReader& reader, const Service& out) {
    for (const std::string& piece : out.insist)
        if (std::ranges::find(out.refuse, piece) != out.refuse.end())
            reader.fault("insist", fmt::format("'{}' is insisted on and refused", piece), "keep one of the two");
    for (const auto* list : {&out.insist, &out.refuse}) {
        auto sorted = *list;
        std::ranges::sort(sorted);
        if (const auto twice = std::ranges::adjacent_find(sorted); twice != sorted.end())
            reader.fault(list == &out.insist ? "insist" : "refuse", fmt::format("'{}' is named twice", *twice),
                         "name it once");
    }
}

}  // namespace

std::expected<Service, std::vector<Problem>> service_from_json(const json& value, std::string where) {
    std::vector<Problem> problems;
    JsonReader reader(value, std::move(where), problems);
    Service out;
    reader.text("id", out.id);
    if (!out.id.empty() && !is_kebab(out.id))
        reader.fault("id", fmt::format("'{}' is no id", out.id), "use a-z, 0-9 and single hyphens");
    reader.text("name", out.name);
    reader.text("note", out.note, 4000);
    if (reader.member("treatments") != nullptr && *reader.member("treatments") != "")
        reader.texts("treatments", out.treatments, kMostTreatments);
    const json* treatments = reader.member("treatments");
    if (value.is_object() && (treatments == nullptr || *treatments == "" || *treatments == json::array()))
        reader.fault("treatments", "no treatment is named", "name one or more, such as [\"t-117\"]");
    if (const json* composition = reader.member("composition");
        composition != nullptr && composition->is_object()) {
        auto own = composition_from_json(*composition, reader.at("composition"), false);
        if (own) out.own = std::move(*own);
        else append(problems, std::move(own.error()));
    } else {
        reader.text("composition", out.composition);
        if (value.is_object() && composition == nullptr)
            reader.fault("composition", "there is no composition",
                         "name one, such as \"service-for-8\", or write it here in braces");
    }
    int settings = 0;
    reader.whole("settings", settings, 0, kMostSettings);
    if (reader.member("settings") != nullptr) out.settings = settings;
    if (const auto word = reader.word("grades", kGradesNames)) out.grades = static_cast<Grades>(*word);
    if (const auto word = reader.word("worst_wear", looks::kWearNames)) out.worst_wear = looks::Wear(*word);
    if (const auto word = reader.word("worst_faults", looks::kFaultsNames)) out.worst_faults = looks::Faults(*word);
    double number = 0.5;
    reader.amount("least_odds", number, 0.001, 1);
    if (reader.member("least_odds") != nullptr) out.least_odds = number;
    reader.amount("weight", out.weight, 0.001, 1000);
    number = 0;
    reader.amount("setting_value", number, 0, 1e9);
    if (reader.member("setting_value") != nullptr) out.setting_value = number;
    reader.texts("insist", out.insist, kMostFixed);
    reader.texts("refuse", out.refuse, kMostFixed);
    check_fixed(reader, out);
    reader.only(kServiceFields);
    if (problems.empty() && out.own && places_of(*out.own, out.settings.value_or(out.own->settings)) > kMostPlaces)
        reader.fault("settings", fmt::format("the service has more than {} places", kMostPlaces),
                     "make it smaller");
    if (!problems.empty()) return std::unexpected(std::move(problems));
    if (out.name.empty()) out.name = out.id;
    return out;
}

ordered_json to_json(const Service& s) {
    ordered_json out{{"id", s.id}, {"name", s.name}, {"treatments", s.treatments}};
    if (s.own) out["composition"] = to_json(*s.own);
    else out["composition"] = s.composition;
    if (s.settings) out["settings"] = *s.settings;
    out["grades"] = kGradesNames[static_cast<std::size_t>(s.grades)];
    if (s.worst_wear) out["worst_wear"] = looks::kWearNames[static_cast<std::size_t>(*s.worst_wear)];
    if (s.worst_faults) out["worst_faults"] = looks::kFaultsNames[static_cast<std::size_t>(*s.worst_faults)];
    if (s.least_odds) out["least_odds"] = *s.least_odds;
    out["weight"] = s.weight;
    if (s.setting_value) out["setting_value"] = *s.setting_value;
    out["insist"] = s.insist;
    out["refuse"] = s.refuse;
    out["note"] = s.note;
    return out;
}

std::expected<Given, std::vector<Problem>> given_from_json(const json& value, const std::string& where) {
    Given out;
    std::vector<Problem> problems;
    const auto add_services = [&](const json& list, const std::string& at) {
        if (list.size() > kMostServices) {
            problems.push_back({ProblemCode::kTooLarge, at, fmt::format("there are {} services", list.size()),
                                fmt::format("give at most {} at a time", kMostServices)});
            return;
        }
        for (std::size_t i = 0; i < list.size(); ++i) {
            auto one = service_from_json(list[i], fmt::format("{}/{}", at, i));
            if (one) out.services.push_back(std::move(*one));
            else append(problems, std::move(one.error()));
        }
    };
    if (value.is_array()) {
        add_services(value, where + ": ");
    } else if (value.is_object() && (value.contains("services") || value.contains("compositions"))) {
        JsonReader reader(value, where, problems);
        reader.only(std::array<std::string_view, 2>{"compositions", "services"});
        for (const char* name : {"compositions", "services"}) {
            const json* list = reader.member(name);
            if (list == nullptr) continue;
            if (!list->is_array()) {
                reader.fault(name, "this is not a list", "put them in square brackets");
            } else if (std::string_view(name) == "services") {
                add_services(*list, reader.at(name));
            } else {
                for (std::size_t i = 0; i < list->size(); ++i) {
                    auto one = composition_from_json((*list)[i], fmt::format("{}/{}", reader.at(name), i));
                    if (one) out.compositions.push_back(std::move(*one));
                    else append(problems, std::move(one.error()));
                }
            }
        }
    } else {
        auto one = service_from_json(value, where);
        if (one) out.services.push_back(std::move(*one));
        else append(problems, std::move(one.error()));
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    return out;
}

std::expected<Given, std::vector<Problem>> given_from_text(std::string_view text, const std::string& where) {
    const auto value = book::json_from_text(text, where);
    if (!value) return std::unexpected(std::vector{value.error()});
    return given_from_json(*value, where);
}

}  // namespace footring::services
