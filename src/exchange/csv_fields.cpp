// SPDX-License-Identifier: Apache-2.0
#include "exchange/csv_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/text.h"

namespace footring::exchange {

namespace {

// What no reader sees, and no table that is written for others.
constexpr std::string_view kOwnersFields[] = {"private", "cost", "currency"};

}  // namespace

std::vector<std::string> csv_fields(store::Sight sight) {
    std::vector<std::string> fields = csv_fields();
    if (sight == store::Sight::kReaders)
        std::erase_if(fields, [](const std::string& field) {
            return std::ranges::find(kOwnersFields, field) != std::end(kOwnersFields);
        });
    return fields;
}

const std::vector<std::string>& csv_fields() {
    static const std::vector<std::string> kFields = [] {
        std::vector<std::string> fields{"id", "form", "shape", "shape_sure", "glaze", "glaze_sure", "wear"};
        for (const std::string_view place : book::kPlaceNames) {
            fields.emplace_back(place);
            fields.push_back(std::string(place) + "_sure");
        }
        for (const char* field : {"mark", "mark_sure", "number", "number_sure", "date_code", "faults", "length_mm",
                                  "width_mm", "height_mm", "private", "lot", "place_kept", "cost", "currency",
                                  "note", "decision_treatment", "decision_grade", "decision_date", "decision_note"})
            fields.emplace_back(field);
        return fields;
    }();
    return kFields;
}

namespace {

// Words that people write above a column and that can mean one field only.
constexpr book::OtherName kOtherNames[] = {
    {"center", "centre"},        {"backstamp", "mark"},
    {"datecode", "date_code"},   {"length", "length_mm"},
    {"width", "width_mm"},       {"height", "height_mm"},
    {"kept", "place_kept"},      {"keptat", "place_kept"},
    {"notes", "note"},           {"treatment", "decision_treatment"},
    {"grade", "decision_grade"}, {"condition", "wear"},
};

constexpr char kApostrophe = '\'';

// What a spreadsheet takes for the beginning of a formula, in its full-width forms too.
bool begins_formula(std::string_view text) {
    constexpr std::string_view kBeginnings[] = {
        "=", "+", "-", "@", "\t", "\r", "\n", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    return std::ranges::any_of(kBeginnings, [text](std::string_view begin) { return text.starts_with(begin); });
}

}  // namespace

std::vector<Column> match_piece_columns(const std::vector<std::string>& names, const book::Mapping& mapping,
                                        std::string_view where, std::vector<Problem>& problems) {
    auto out = book::match_columns(names, mapping, {"pieces", csv_fields(), kOtherNames}, where, problems);
    const auto has = [&](std::string_view field) {
        return std::ranges::find(out, field, &Column::field) != out.end();
    };
    // How sure, or of which grade, says nothing without the column that it belongs to.
    for (Column& column : out) {
        const std::string& field = column.field;
        const bool of_decision = field.starts_with("decision_") && field != "decision_treatment";
        if (field.ends_with("_sure") && !has(field.substr(0, field.size() - 5))) column.field.clear();
        else if (of_decision && !has("decision_treatment")) column.field.clear();
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
