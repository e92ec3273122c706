// SPDX-License-Identifier: Apache-2.0
#include "server/corrections.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <vector>

namespace footring::server {

using nlohmann::json;

namespace {

constexpr int kMostRepeats = 1000;
constexpr std::array<std::string_view, 10> kFields = {"looks", "shape",  "form",      "glaze",  "wear",
                                                      "mark",  "number", "date_code", "faults", "length_mm"};

std::optional<Named> named_from(const json& value) {
    if (!value.is_object()) return std::nullopt;
    Named out;
    for (const auto& [name, into] :
         {std::pair{"field", &out.field}, {"place", &out.place}, {"value", &out.value}}) {
        const auto at = value.find(name);
        if (at == value.end() || at->is_null()) continue;
        if (!at->is_string()) return std::nullopt;
        *into = at->get<std::string>();
    }
    if (std::ranges::find(kFields, out.field) == kFields.end() || out.value.empty()) return std::nullopt;
    if ((out.field == "looks") == out.place.empty()) return std::nullopt;
    return out;
}

std::string words_of(const Named& one) {
    std::string name = one.field == "looks" ? one.place : one.field;
    if (name == "length_mm") name = "length";
    std::ranges::replace(name, '_', ' ');
    return fmt::format("{} {}", name, one.value);
}

void add_difference(std::vector<std::string>& out, const std::set<Named>& from, const std::set<Named>& to,
                    std::string_view verb) {
    std::vector<Named> more;
    std::ranges::set_difference(to, from, std::back_inserter(more));
    for (const Named& one : more) out.push_back(fmt::format("{} {}", verb, words_of(one)));
}

}  // namespace

std::expected<Corrections, Problems> corrections_from_json(const json& value, std::string_view where) {
    Corrections out;
    Problems problems;
    const auto wrong = [&](const std::string& at, std::string what, std::string remedy) {
        problems.push_back(
            {ProblemCode::kBadInput, fmt::format("{}: /{}", where, at), std::move(what), std::move(remedy)});
    };
    if (const auto at = value.find("repeats"); at != value.end() && !at->is_null()) {
        if (at->is_number_integer() && *at >= 1 && *at <= kMostRepeats) out.repeats = at->get<int>();
        else wrong("repeats", "this is no number of repeats", "give a whole number from 1 to 1000, or null");
    }
    if (const auto at = value.find("words"); at != value.end() && !at->is_null()) {
        if (at->is_string()) out.words = at->get<std::string>();
        else wrong("words", "this is not text", "give the wording, or null");
    }
    for (const auto& [name, into] : {std::pair{"accepted", &out.accepted}, {"refused", &out.refused}}) {
        const auto at = value.find(name);
        if (at == value.end() || at->is_null()) continue;
        if (!at->is_array()) {
            wrong(name, "this is no list", "give a list of {field, place, value}");
            continue;
        }
        for (std::size_t i = 0; i < at->size(); ++i)
            if (const auto one = named_from((*at)[i])) into->insert(*one);
            else
                wrong(fmt::format("{}/{}", name, i), "this names no suggestion",
                      "give {field, place, value} as the suggestion has them");
    }
    if (!problems.empty()) return refuse(std::move(problems));
    return out;
}

Corrections corrections_of(const json& stored) {
    if (!stored.is_object()) return {};
    return corrections_from_json(stored, "").value_or(Corrections{});
}

json to_json(const Corrections& c) {
    json out = json::object();
    if (c.repeats) out["repeats"] = *c.repeats;
    if (c.words) out["words"] = *c.words;
    for (const auto& [name, all] : {std::pair{"accepted", &c.accepted}, {"refused", &c.refused}})
        for (const Named& one : *all)
            out[name].push_back({{"field", one.field}, {"place", one.place}, {"value", one.value}});
    return out.empty() ? json() : out;
}

std::string in_words(const Corrections& before, const Corrections& after, std::string_view photo) {
    std::vector<std::string> parts;
    add_difference(parts, before.accepted, after.accepted, "accepted");
    add_difference(parts, after.accepted, before.accepted, "no longer accepted");
    add_difference(parts, before.refused, after.refused, "refused");
    add_difference(parts, after.refused, before.refused, "no longer refused");
    if (before.repeats != after.repeats)
        parts.push_back(after.repeats ? fmt::format("{} repeats counted by hand", *after.repeats)
                                      : std::string("repeats as read"));
    if (before.words != after.words) parts.push_back(after.words ? "wording corrected" : "wording as read");
    if (parts.empty()) return {};
    return fmt::format("{}: {}.", photo.empty() ? "Photograph" : photo, fmt::join(parts, ", "));
}

}  // namespace footring::server
