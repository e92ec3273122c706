// SPDX-License-Identifier: Apache-2.0
#include "book/json_reader.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "edtf/edtf.h"

namespace footring::book {

using nlohmann::json;

namespace {

std::string_view kind_of(const json& value) {
    if (value.is_string()) return "text";
    if (value.is_number()) return "a number";
    if (value.is_boolean()) return "true or false";
    if (value.is_array()) return "a list";
    return value.is_object() ? "an object" : "null";
}

}  // namespace

JsonReader::JsonReader(const json& object, std::string where, std::vector<Problem>& problems)
    : object_(object), where_(std::move(where)), problems_(problems) {
    if (!object.is_object())
        problems_.push_back({ProblemCode::kBadInput, where_,
                             fmt::format("this is {}, not an object", kind_of(object)), "put it in braces"});
}

std::string JsonReader::at(std::string_view name) const {
    if (name.empty()) return where_;
    return fmt::format("{}{}{}", where_, where_.find(": /") == std::string::npos ? ": /" : "/", name);
}

void JsonReader::fault(std::string_view name, std::string what, std::string remedy) {
    problems_.push_back({ProblemCode::kBadInput, at(name), std::move(what), std::move(remedy)});
}

const json* JsonReader::member(const char* name) const {
    if (!object_.is_object()) return nullptr;
    const auto found = object_.find(name);
    return found == object_.end() || found->is_null() ? nullptr : &*found;
}

void JsonReader::text(const char* name, std::string& into, std::size_t most_bytes) {
    const json* value = member(name);
    if (value == nullptr) return;
    if (!value->is_string()) {
        fault(name, fmt::format("this is {}, not text", kind_of(*value)), "put it in double quotes");
        return;
    }
    const std::string given(trim(value->get_ref<const std::string&>()));
    if (given.size() > most_bytes) {
        fault(name, fmt::format("the text has {} bytes", given.size()),
              fmt::format("shorten it to at most {}", most_bytes));
        return;
    }
    into = given;
}

void JsonReader::verbatim(const char* name, std::string& into) {
    const json* value = member(name);
    if (value == nullptr) return;
    if (value->is_string()) into = value->get<std::string>();
    else fault(name, fmt::format("this is {}, not text", kind_of(*value)), "put it in double quotes");
}

void JsonReader::date(const char* name, std::string& into) {
    const std::size_t before = problems_.size();
    verbatim(name, into);
    if (problems_.size() != before || into.empty()) return;
    if (const auto read = edtf::parse(into); !read) fault(name, read.error().what, read.error().remedy);
}

void JsonReader::flag(const char* name, bool& into) {
    const json* value = member(name);
    if (value == nullptr) return;
    if (value->is_boolean()) into = value->get<bool>();
    else fault(name, "this is neither true nor false", "write true or false");
}

void JsonReader::ids(const char* name, std::vector<std::string>& into) {
    const json* value = member(name);
    if (value == nullptr) return;
    const bool all = value->is_array() && std::ranges::all_of(*value, [](const json& id) {
                         return id.is_string() && !id.get_ref<const std::string&>().empty();
                     });
    if (!all) return fault(name, "this is no list of ids", R"(write ["p-0041", ...])");
    for (const json& id : *value)
        if (std::ranges::find(into, id.get<std::string>()) == into.end()) into.push_back(id.get<std::string>());
}

void JsonReader::money(const char* name, std::optional<double>& into) {
    const json* value = member(name);
    if (value == nullptr) return;
    if (value->is_number() && std::isfinite(value->get<double>()) && value->get<double>() >= 0)
        into = value->get<double>();
    else fault(name, "this is no amount of money", "give a number that is not negative, or leave it out");
}

void JsonReader::revision(const char* name, std::int64_t& into) {
    const json* value = member(name);
    if (value == nullptr) return;
    if (value->is_number_integer() && value->get<std::int64_t>() >= 0) into = value->get<std::int64_t>();
    else fault(name, "this is no revision", "give the number that came with the record");
}

void JsonReader::whole(const char* name, int& into, int lowest, int highest) {
    const json* value = member(name);
    if (value == nullptr) return;
    // 8.0 is 8; 1e300 is no int.
    const double number = value->is_number() ? value->get<double>() : std::nan("");
    if (!(number >= lowest && number <= highest) || number != std::floor(number)) {
        fault(name,
              value->is_number() ? fmt::format("{} cannot be", value->dump())
                                 : fmt::format("this is {}, not a number", kind_of(*value)),
              fmt::format("write a whole number from {} to {}", lowest, highest));
        return;
    }
    into = static_cast<int>(number);
}

void JsonReader::amount(const char* name, double& into, double lowest, double highest) {
    const json* value = member(name);
    if (value == nullptr) return;
    const double number = value->is_number() ? value->get<double>() : std::nan("");
    if (!(number >= lowest && number <= highest)) {
        fault(name,
              value->is_number() ? fmt::format("{} cannot be", value->dump())
                                 : fmt::format("this is {}, not a number", kind_of(*value)),
              fmt::format("write a number from {:g} to {:g}", lowest, highest));
        return;
    }
    into = number;
}

void JsonReader::texts(const char* name, std::vector<std::string>& into, std::size_t most) {
    const json* value = member(name);
    if (value == nullptr) return;
    const json list = value->is_string() ? json::array({*value}) : *value;
    if (!list.is_array()) {
        fault(name, fmt::format("this is {}, not a list of texts", kind_of(*value)), "put it in square brackets");
        return;
    }
    if (list.size() > most) {
        fault(name, fmt::format("the list has {} entries", list.size()), fmt::format("name at most {}", most));
        return;
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
        std::string one;
        if (list[i].is_string()) one = trim(list[i].get_ref<const std::string&>());
        if (one.empty() || one.size() > 500)
            fault(fmt::format("{}/{}", name, i), "this is no text of 1 to 500 bytes",
                  "write one, in double quotes");
        else into.push_back(std::move(one));
    }
}

std::optional<std::size_t> JsonReader::word(const char* name, std::span<const std::string_view> words) {
    std::string given;
    text(name, given);
    if (given.empty()) return std::nullopt;
    const auto found = std::ranges::find(words, given);
    if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    const std::vector<std::string> known(words.begin(), words.end());
    fault(name, fmt::format("'{}' is not known here", given),
          did_you_mean(given, known, fmt::format("use one of {}", fmt::join(words, ", "))));
    return std::nullopt;
}

void JsonReader::only(std::span<const std::string_view> known) {
    if (!object_.is_object()) return;
    const std::vector<std::string> names(known.begin(), known.end());
    for (const auto& [name, value] : object_.items())
        if (std::ranges::find(known, name) == known.end())
            fault(name, "there is no such member",
                  did_you_mean(name, names, fmt::format("use {}", fmt::join(known, ", "))));
}

}  // namespace footring::book
