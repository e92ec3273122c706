// SPDX-License-Identifier: Apache-2.0
#include "services/composition.h"

#include <fmt/format.h>

#include "base/json.h"
#include "base/text.h"
#include "services/json_reader.h"

namespace footring::services {

using nlohmann::json;
using nlohmann::ordered_json;

namespace {

constexpr std::size_t kMostLines = 100, kMostForms = 20;
constexpr std::string_view kCompositionFields[] = {"id", "name", "note", "settings", "setting", "serving"};
constexpr std::string_view kLineFields[] = {"name", "forms", "count", "trade_size"};

void read_lines(JsonReader& reader, const char* name, std::vector<Line>& into, std::vector<Problem>& problems) {
    const json* list = reader.member(name);
    if (list == nullptr) return;
    if (!list->is_array()) {
        reader.fault(name, "this is not a list", "put its lines in square brackets");
        return;
    }
    if (list->size() > kMostLines) {
        reader.fault(name, fmt::format("there are {} lines", list->size()),
                     fmt::format("write at most {}", kMostLines));
        return;
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
        JsonReader line((*list)[i], reader.at(fmt::format("{}/{}", name, i)), problems);
        Line out;
        line.text("name", out.name);
        line.texts("forms", out.forms, kMostForms);
        line.whole("count", out.count, 1, kMostOfLine);
        line.text("trade_size", out.trade_size);
        line.only(kLineFields);
        if ((*list)[i].is_object() && line.member("forms") == nullptr)
            line.fault("forms", "no form is named", "name the forms that will do, such as [\"dinner-plate\"]");
        else if (line.member("forms") != nullptr && line.member("forms")->is_array() &&
                 line.member("forms")->empty())
            line.fault("forms", "no form is named", "name the forms that will do, such as [\"dinner-plate\"]");
        into.push_back(std::move(out));
    }
}

ordered_json lines_json(const std::vector<Line>& lines) {
    return json_list(lines, [](const Line& line) {
        ordered_json out;
        if (!line.name.empty()) out["name"] = line.name;
        out["forms"] = line.forms;
        out["count"] = line.count;
        if (!line.trade_size.empty()) out["trade_size"] = line.trade_size;
        return out;
    });
}

}  // namespace

std::expected<Composition, std::vector<Problem>> composition_from_json(const json& value, std::string where,
                                                                       bool needs_id) {
    std::vector<Problem> problems;
    JsonReader reader(value, std::move(where), problems);
    Composition out;
    reader.text("id", out.id);
    if (!out.id.empty() && !is_kebab(out.id))
        reader.fault("id", fmt::format("'{}' is no id", out.id), "use a-z, 0-9 and single hyphens");
    else if (out.id.empty() && needs_id && value.is_object())
        reader.fault("id", "there is no id", "give the composition one, such as \"tea-for-six\"");
    reader.text("name", out.name);
    reader.text("note", out.note, 4000);
    reader.whole("settings", out.settings, 0, kMostSettings);
    read_lines(reader, "setting", out.setting, problems);
    read_lines(reader, "serving", out.serving, problems);
    reader.only(kCompositionFields);
    if (problems.empty()) {
        if (out.setting.empty() && out.serving.empty())
            reader.fault("", "the composition has no line: nothing could fill it",
                         "write what is for each person under setting, and what is for all under serving");
        else if (out.setting.empty() && out.settings > 1)
            reader.fault("settings", fmt::format("there are {} settings, but nothing in them", out.settings),
                         "write what is for each person under setting, or settings 0");
        else if (const int places = places_of(out, out.settings); places > kMostPlaces)
            reader.fault("", fmt::format("the composition has {} places", places),
                         fmt::format("make it at most {}", kMostPlaces));
    }
    if (!problems.empty()) return std::unexpected(std::move(problems));
    if (out.setting.empty()) out.settings = 0;
    if (out.name.empty()) out.name = out.id;
    return out;
}

ordered_json to_json(const Composition& c) {
    ordered_json out{{"id", c.id}, {"name", c.name}, {"settings", c.settings}};
    out["setting"] = lines_json(c.setting);
    out["serving"] = lines_json(c.serving);
    out["note"] = c.note;
    return out;
}

int places_of(const Composition& c, int settings) {
    int places = 0;
    for (const Line& line : c.setting) places += settings * line.count;
    for (const Line& line : c.serving) places += line.count;
    return places;
}

}  // namespace footring::services
