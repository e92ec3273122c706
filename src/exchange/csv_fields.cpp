// SPDX-License-Identifier: Apache-2.0
#include "exchange/csv_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "base/text.h"

namespace footring::exchange {

const std::vector<std::string>& csv_fields() {
    static const std::vector<std::string> kFields = [] {
        std::vector<std::string> fields{"id", "form", "shape", "shape_sure", "glaze", "glaze_sure", "wear"};
        for (const std::string_view place : book::kPlaceNames) {
            fields.emplace_back(place);
            fields.push_back(std::string(place) + "_sure");
        }
        for (const char* field : {"mark", "mark_sure", "number", "number_sure", "date_code", "faults", "length_mm",
                                  "width_mm", "height_mm", "lot", "place_kept", "cost", "currency", "note",
                                  "decision_treatment", "decision_grade", "decision_date", "decision_note"})
            fields.emplace_back(field);
        return fields;
    }();
    return kFields;
}

namespace {

// "Decision date", "decision-date" and "DecisionDate" are one name.
std::string bare_name(std::string_view name) {
    std::string out = lower(name);
    std::erase_if(out, [](char c) { return std::string_view(" _-\t.()").find(c) != std::string_view::npos; });
    return out;
}

// Words that people write above a column and that can mean one field only.
struct OtherName {
    std::string_view name, field;
};
constexpr OtherName kOtherNames[] = {
    {"center", "centre"},        {"backstamp", "mark"},
    {"datecode", "date_code"},   {"length", "length_mm"},
    {"width", "width_mm"},       {"height", "height_mm"},
    {"kept", "place_kept"},      {"keptat", "place_kept"},
    {"notes", "note"},           {"treatment", "decision_treatment"},
    {"grade", "decision_grade"}, {"condition", "wear"},
};

std::string guess(const std::string& column) {
    const std::string name = bare_name(column);
    for (const std::string& field : csv_fields())
        if (bare_name(field) == name) return field;
    for (const OtherName& other : kOtherNames)
        if (other.name == name) return std::string(other.field);
    return {};
}

constexpr char kApostrophe = '\'';

// What a spreadsheet takes for the beginning of a formula, in its full-width forms too.
bool begins_formula(std::string_view text) {
    constexpr std::string_view kBeginnings[] = {
        "=", "+", "-", "@", "\t", "\r", "\n", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    return std::ranges::any_of(kBeginnings, [text](std::string_view begin) { return text.starts_with(begin); });
}

}  // namespace

std::vector<Column> match_columns(const std::vector<std::string>& names,
                                  const std::map<std::string, std::string>& mapping, std::string_view where,
                                  std::vector<Problem>& problems) {
    const auto add = [&](std::string what, std::string remedy) {
        problems.push_back({ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy)});
    };
    for (const auto& [column, field] : mapping) {
        if (std::ranges::find(names, column) == names.end())
            add(fmt::format("the mapping names a column '{}' that the file does not have", column),
                did_you_mean(column, names, fmt::format("its columns are {}", fmt::join(names, ", "))));
        if (!field.empty() && std::ranges::find(csv_fields(), field) == csv_fields().end())
            add(fmt::format("the mapping names a field '{}' that pieces do not have", field),
                did_you_mean(field, csv_fields(), fmt::format("the fields are {}", fmt::join(csv_fields(), ", "))));
    }
    std::vector<Column> out;
    std::set<std::string> taken;
    const auto take = [&](const std::string& field, bool asked) {
        if (field.empty() || taken.insert(field).second) return field;
        if (asked) add(fmt::format("two columns are mapped to '{}'", field), "map one of them to nothing");
        return std::string{};
    };
    // What the person said comes first, then equal names from left to right.
    for (const std::string& name : names) {
        const auto said = mapping.find(name);
        out.push_back({name, said == mapping.end() ? "" : take(said->second, true)});
    }
    for (Column& column : out)
        if (!mapping.contains(column.column)) column.field = take(guess(column.column), false);
    // How sure, or of which grade, says nothing without the column that it belongs to.
    for (Column& column : out) {
        const std::string& field = column.field;
        const bool of_decision = field.starts_with("decision_") && field != "decision_treatment";
        if (field.ends_with("_sure") && !taken.contains(field.substr(0, field.size() - 5))) column.field.clear();
        else if (of_decision && !taken.contains("decision_treatment")) column.field.clear();
    }
    return out;
}

std::string guarded(std::string_view text) {
    const bool apostrophe_first = text.size() > 1 && text.front() == kApostrophe &&
                                  (begins_formula(text.substr(1)) || text[1] == kApostrophe);
    if (!begins_formula(text) && !apostrophe_first) return std::string(text);
    return kApostrophe + std::string(text);
}

std::string unguarded(std::string_view text) {
    if (text.size() > 1 && text.front() == kApostrophe &&
        (begins_formula(text.substr(1)) || text[1] == kApostrophe))
        text.remove_prefix(1);
    return std::string(text);
}

}  // namespace footring::exchange
