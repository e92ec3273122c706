// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "photo/reading_json.h"

namespace footring::photo {

namespace {

using Json = nlohmann::json;

struct Fault {  // thrown and caught in this file only: a fault deep inside ends the reading at once
    std::string at, wanted;
};

// One value of the JSON and where it stands. A member that is missing is a null.
class Value {
  public:
    Value(const Json& json, std::string at) : json_(&json), at_(std::move(at)) {}

    bool absent() const { return json_->is_null(); }
    Value operator[](std::string_view name) const {
        if (absent()) return *this;
        if (!json_->is_object()) wanted("an object");
        const auto member = json_->find(name);
        const std::string at = fmt::format("{}/{}", at_, name);
        return member == json_->end() ? Value(kAbsent(), at) : Value(*member, at);
    }
    std::vector<Value> list() const {
        std::vector<Value> out;
        if (absent()) return out;
        if (!json_->is_array()) wanted("a list");
        for (std::size_t i = 0; i < json_->size(); ++i) out.emplace_back((*json_)[i], fmt::format("{}/{}", at_, i));
        return out;
    }
    std::vector<Value> list_of(std::size_t count) const {
        auto out = list();
        if (out.size() != count) wanted(fmt::format("a list of {}", count));
        return out;
    }
    double number() const {
        if (!json_->is_number()) wanted("a number");
        return json_->get<double>();
    }
    std::optional<double> maybe_number() const { return absent() ? std::nullopt : std::optional(number()); }
    int whole() const {
        const double value = number();
        if (value != std::floor(value) || std::abs(value) > std::numeric_limits<int>::max())
            wanted("a whole number");
        return static_cast<int>(value);
    }
    std::string text() const {
        if (absent()) return {};
        if (!json_->is_string()) wanted("a text");
        return json_->get<std::string>();
    }
    std::vector<std::string> texts() const {
        std::vector<std::string> out;
        for (const Value& one : list()) out.push_back(one.text());
        return out;
    }
    bool yes() const {
        if (!json_->is_boolean()) wanted("true or false");
        return json_->get<bool>();
    }
    Point point() const {
        const auto xy = list_of(2);
        return {xy[0].number(), xy[1].number()};
    }
    std::vector<Point> points() const {
        std::vector<Point> out;
        for (const Value& one : list()) out.push_back(one.point());
        return out;
    }
    std::array<Point, 4> four_points() const {
        const auto four = list_of(4);
        return {four[0].point(), four[1].point(), four[2].point(), four[3].point()};
    }
    [[noreturn]] void wanted(std::string what) const { throw Fault{at_, std::move(what)}; }

  private:
    static const Json& kAbsent() {
        static const Json absent;
        return absent;
    }
    const Json* json_;
    std::string at_;
};

// A number that may be missing leaves `out` as it is.
void take(const Value& value, double& out) { out = value.maybe_number().value_or(out); }

template <class Enum, std::size_t N>
Enum one_of(const Value& value, const std::array<std::string_view, N>& names) {
    const auto found = std::ranges::find(names, value.text());
    if (found == names.end()) value.wanted(fmt::format("one of {}", fmt::join(names, ", ")));
    return static_cast<Enum>(found - names.begin());
}

std::vector<Scored> scored(const Value& value) {
    std::vector<Scored> out;
    for (const Value& one : value.list()) out.push_back({one["id"].text(), one["score"].number()});
    return out;
}

Outline outline(const Value& value) {
    Outline out;
    if (value.absent()) return out;
    constexpr std::array<std::string_view, 6> kKinds = {"none", "round", "oval", "square", "octagonal", "other"};
    out.kind = one_of<OutlineKind>(value["kind"], kKinds);
    if (!value["centre_px"].absent()) out.rim.centre = value["centre_px"].point();
    if (!value["axes_px"].absent()) {
        const Point axes = value["axes_px"].point();
        out.rim.a = axes.x, out.rim.b = axes.y;
    }
    take(value["angle_deg"], out.rim.angle_deg);
    out.long_mm = value["long_mm"].maybe_number();
    out.short_mm = value["short_mm"].maybe_number();
    out.sigma_mm = value["sigma_mm"].maybe_number();
    take(value["seen"], out.seen);
    take(value["tilt_deg"], out.tilt_deg);
    out.corners = value["corners_px"].points();
    for (const Value& size : value["sizes"].list())
        out.sizes.push_back(
            {size["shape"].text(), size["form"].text(), size["trade_size"].text(), size["chance"].number()});
    return out;
}

Border border(const Value& value) {
    Border out;
    take(value["present"], out.present);
    if (!value["repeats"].absent()) out.repeats = value["repeats"].whole();
    out.finish = value["finish"].text();
    take(value["wear"], out.wear);
    out.ornaments = scored(value["ornaments"]);
    if (!value["band"].absent()) {
        const Point band = value["band"].point();
        out.from = band.x, out.to = band.y;
    }
    take(value["phase"], out.phase);
    for (const Value& share : value["map"].list()) out.map.push_back(static_cast<float>(share.number()));
    return out;
}

Line line(const Value& value) {
    Line out;
    take(value["present"], out.present);
    out.colour = value["colour"].text();
    take(value["at"], out.at);
    take(value["width"], out.width);
    out.width_mm = value["width_mm"].maybe_number();
    out.ornaments = scored(value["ornaments"]);
    return out;
}

Centre centre(const Value& value) {
    Centre out;
    take(value["present"], out.present);
    out.ornaments = scored(value["ornaments"]);
    out.finish = value["finish"].text();
    take(value["radius"], out.radius);
    if (!value["middle"].absent()) out.middle = value["middle"].point();
    take(value["angle_deg"], out.angle_deg);
    return out;
}

Glaze glaze(const Value& value) {
    Glaze out;
    if (!value["lab"].absent()) {
        const auto lab = value["lab"].list_of(3);
        out.lab = {lab[0].number(), lab[1].number(), lab[2].number()};
    }
    for (const Value& near : value["nearest"].list())
        out.nearest.push_back({near["id"].text(), near["delta_e00"].number(), near["chance"].number()});
    take(value["sigma"], out.sigma);
    return out;
}

Faults faults(const Value& value) {
    Faults out;
    take(value["specks_per_dm2"], out.specks_per_dm2);
    take(value["unevenness"], out.unevenness);
    if (!value["crazing"].absent()) out.crazing = value["crazing"].number();
    out.specks = value["specks_px"].points();
    return out;
}

Wording wording(const Value& reading) {
    Wording out;
    for (const Value& words : reading["wording"].list())
        out.words.push_back({words["text"].text(), words["confidence"].number(), words["box_px"].four_points(),
                             words["turned_deg"].number()});
    out.marks = scored(reading["marks"]);
    if (!reading["mark_area_px"].absent()) out.area = reading["mark_area_px"].four_points();
    out.numbers = reading["numbers"].texts();
    out.date_codes = reading["date_codes"].texts();
    return out;
}

std::optional<Card> card(const Value& value) {
    if (value.absent()) return std::nullopt;
    Card out;
    out.corners = value["corners_px"].four_points();
    for (const Value& marker : value["markers"].list()) {
        const int id = marker["id"].whole();
        if (id < 0 || id > 3) marker["id"].wanted("0 to 3");
        const auto at = static_cast<std::size_t>(id);
        out.seen[at] = marker["seen"].yes();
        if (out.seen[at]) out.markers[at] = marker["corners_px"].four_points();
    }
    return out;
}

std::vector<Suggestion> suggestions(const Value& value) {
    std::vector<Suggestion> out;
    for (const Value& one : value.list()) {
        Suggestion s{.field = one["field"].text(),
                     .place = one["place"].text(),
                     .value = one["value"].text(),
                     .sure = std::nullopt,
                     .chance = one["chance"].number(),
                     .why = one["why"].text()};
        if (!one["sure"].absent()) s.sure = one_of<looks::Sure>(one["sure"], looks::kSureNames);
        out.push_back(std::move(s));
    }
    return out;
}

Reading whole_reading(const Value& value) {
    Reading out;
    out.file = value["photo"]["file"].text();
    if (!value["photo"].absent()) {
        out.width = value["photo"]["width"].whole();
        out.height = value["photo"]["height"].whole();
    }
    if (const Value scale = value["scale"]; !scale.absent())
        out.scale = Scale{scale["mm_per_px"].number(), scale["sigma"].number(), scale["source"].text()};
    out.outline = outline(value["outline"]);
    out.border = border(value["border"]);
    out.edge_line = line(value["edge_line"]);
    out.verge_line = line(value["verge_line"]);
    out.centre = centre(value["centre"]);
    out.glaze = glaze(value["glaze"]);
    out.faults = faults(value["faults"]);
    out.wording = wording(value);
    out.notes = value["notes"].texts();
    if (!value["side"].absent())
        out.side = one_of<Side>(value["side"], std::array<std::string_view, 2>{"front", "back"});
    out.card = card(value["card"]);
    take(value["strip"]["from"], out.strip_from);
    take(value["strip"]["to"], out.strip_to);
    if (const Value pose = value["photo_from_plate"]; !pose.absent()) {
        std::array<double, 12> numbers{};
        std::ranges::transform(pose.list_of(12), numbers.begin(), &Value::number);
        out.photo_from_plate = numbers;
    }
    out.suggestions = suggestions(value["suggestions"]);
    return out;
}

}  // namespace

Expected<Reading> reading_from_json(const Json& json, std::string_view where) {
    try {
        if (!json.is_object()) throw Fault{"", "an object"};
        return whole_reading(Value(json, ""));
    } catch (const Fault& fault) {
        return fail(ProblemCode::kBadInput, fmt::format("{}: {}", where, fault.at.empty() ? "/" : fault.at),
                    fmt::format("this is not {}, as a reading has it there", fault.wanted),
                    "read the photograph again");
    }
}

}  // namespace footring::photo
