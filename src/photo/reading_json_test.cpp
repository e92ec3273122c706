// SPDX-License-Identifier: Apache-2.0
#include "photo/reading_json.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

namespace footring::photo {
namespace {

using ::testing::ElementsAre;

std::array<Point, 4> square(double x, double y, double side) {
    return {{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}};
}

// A plate with one of each, numbers with more figures than are kept.
Reading one_of_each() {
    Reading r;
    r.file = "a.jpg", r.width = 4000, r.height = 3000;
    r.scale = Scale{0.0810123456789, 0.00030000049, "card"};
    Card card;
    card.seen = {true, false, true, true};
    for (std::size_t id = 0; id < 4; ++id)
        if (card.seen[id]) card.markers[id] = square(100.0 * static_cast<double>(id), 10.126, 12);
    card.corners = square(90, 0, 400);
    r.card = card;
    r.outline.kind = OutlineKind::kRound;
    r.outline.rim = {{1996.2, 1510.8}, 1402.1, 1287.704, 3.1};
    r.outline.seen = 0.97, r.outline.tilt_deg = 23.3;
    r.outline.long_mm = 227.4, r.outline.short_mm = 227.0, r.outline.sigma_mm = 0.6;
    r.outline.sizes = {{"harrow", "rim-soup", "7 in rim", 0.41}};
    r.border = {.present = 0.99,
                .from = 0.05,
                .to = 0.21,
                .repeats = 8,
                .phase = 0.0312,
                .finish = "gold",
                .wear = 0.12,
                .map = {1, 0.88F, 0},
                .ornaments = {{"fern-pair", 0.93}, {"fern-ladder", 0.02}}};
    r.edge_line = {.present = 0.98,
                   .colour = "gold",
                   .at = 0.01,
                   .width = 0.008,
                   .width_mm = 0.91,
                   .ornaments = {{"gold-line", 0.9}}};
    r.verge_line.present = 0.01;
    r.centre = {.present = 0.98,
                .radius = 0.22,
                .middle = {0.01, -0.02},
                .angle_deg = 12.5,
                .finish = "gold",
                .ornaments = {{"rosette", 0.88}}};
    r.glaze.lab = {88.1, 1.2, 9.4};
    r.glaze.sigma = 1.5;
    r.glaze.nearest = {{"oat", 1.8, 0.8}};
    r.faults = {.specks_per_dm2 = 3.1, .unevenness = 0.08, .crazing = 0.04, .specks = {{1200.5, 900.25}}};
    r.wording.words = {{"WARRANTED", 0.91, square(1, 2, 3), 90}};
    r.wording.area = square(0, 0, 10);
    r.wording.marks = {{"m-3", 0.9}};
    r.wording.numbers = {"1?7"};
    r.wording.date_codes = {"D"};
    r.suggestions = {
        {"looks", "rim", "fern-pair", looks::Sure::kLikely, 0.92, "8 repeats of Fern pair, score 0.93."},
        {"looks", "verge", "none", looks::Sure::kSure, 0.985, "There is no verge line, score 0.99."},
        {"glaze", "", "oat", looks::Sure::kGuess, 0.7, "The colour is 1.8 dE00 from Oat, give or take 1.5."},
        {"length_mm", "", "227", looks::Sure::kLikely, 0.95, "227 mm across."},
        {"form", "", "rim-soup", looks::Sure::kGuess, 0.55, "By size."},
        {"wear", "", "moderate", looks::Sure::kLikely, 0.86, "12 % of the border is lost."}};
    r.notes = {"One marker of the card is hidden."};
    r.photo_from_plate = {1402.1234567891, -3, 0.5, 1996.2, 4, 1287.5, -1, 1510.8, 1e-7, 0, -0.0, 1};
    r.strip_from = -0.02, r.strip_to = 0.35;
    return r;
}

// One member a line.
std::string text_of(const Reading& reading) {
    const auto json = reading_json(reading);
    std::string out;
    for (const auto& [name, value] : json.items()) out += name + " " + value.dump() + "\n";
    return out;
}

TEST(ReadingJson, IsThisTextForAPlateWithOneOfEach) {
    EXPECT_EQ(text_of(one_of_each()), R"json(photo {"file":"a.jpg","width":4000,"height":3000}
scale {"mm_per_px":0.0810123457,"sigma":0.00030000049,"source":"card"}
outline {"kind":"round","centre_px":[1996.2,1510.8],"axes_px":[1402.1,1287.7],"angle_deg":3.1,"long_mm":227.4,"short_mm":227.0,"sigma_mm":0.6,"seen":0.97,"tilt_deg":23.3,"corners_px":[],"sizes":[{"shape":"harrow","form":"rim-soup","trade_size":"7 in rim","chance":0.41}]}
border {"present":0.99,"repeats":8,"finish":"gold","wear":0.12,"ornaments":[{"id":"fern-pair","score":0.93},{"id":"fern-ladder","score":0.02}],"band":[0.05,0.21],"phase":0.0312,"map":[1.0,0.88,0.0]}
edge_line {"present":0.98,"colour":"gold","at":0.01,"width":0.008,"width_mm":0.91,"ornaments":[{"id":"gold-line","score":0.9}]}
verge_line {"present":0.01,"colour":null,"at":null,"width":null,"width_mm":null,"ornaments":[]}
centre {"present":0.98,"ornaments":[{"id":"rosette","score":0.88}],"finish":"gold","radius":0.22,"middle":[0.01,-0.02],"angle_deg":12.5}
glaze {"lab":[88.1,1.2,9.4],"nearest":[{"id":"oat","delta_e00":1.8,"chance":0.8}],"sigma":1.5}
faults {"specks_per_dm2":3.1,"unevenness":0.08,"crazing":0.04,"specks_px":[[1200.5,900.25]]}
wording [{"text":"WARRANTED","confidence":0.91,"box_px":[[1.0,2.0],[4.0,2.0],[4.0,5.0],[1.0,5.0]],"turned_deg":90.0}]
marks [{"id":"m-3","score":0.9}]
looks [{"place":"rim","value":"fern-pair","sure":"likely"},{"place":"verge","value":"none","sure":"sure"}]
notes ["One marker of the card is hidden."]
side "front"
card {"corners_px":[[90.0,0.0],[490.0,0.0],[490.0,400.0],[90.0,400.0]],"markers":[{"id":0,"seen":true,"corners_px":[[0.0,10.13],[12.0,10.13],[12.0,22.13],[0.0,22.13]]},{"id":1,"seen":false,"corners_px":null},{"id":2,"seen":true,"corners_px":[[200.0,10.13],[212.0,10.13],[212.0,22.13],[200.0,22.13]]},{"id":3,"seen":true,"corners_px":[[300.0,10.13],[312.0,10.13],[312.0,22.13],[300.0,22.13]]}]}
mark_area_px [[0.0,0.0],[10.0,0.0],[10.0,10.0],[0.0,10.0]]
numbers ["1?7"]
date_codes ["D"]
strip {"from":-0.02,"to":0.35}
photo_from_plate [1402.12346,-3.0,0.5,1996.2,4.0,1287.5,-1.0,1510.8,1e-07,0.0,0.0,1.0]
piece {"glaze":{"value":"oat","sure":"guess"},"length_mm":227.0,"wear":"moderate"}
suggestions [{"field":"looks","place":"rim","value":"fern-pair","sure":"likely","chance":0.92,"why":"8 repeats of Fern pair, score 0.93."},{"field":"looks","place":"verge","value":"none","sure":"sure","chance":0.985,"why":"There is no verge line, score 0.99."},{"field":"glaze","place":null,"value":"oat","sure":"guess","chance":0.7,"why":"The colour is 1.8 dE00 from Oat, give or take 1.5."},{"field":"length_mm","place":null,"value":"227","sure":"likely","chance":0.95,"why":"227 mm across."},{"field":"form","place":null,"value":"rim-soup","sure":"guess","chance":0.55,"why":"By size."},{"field":"wear","place":null,"value":"moderate","sure":"likely","chance":0.86,"why":"12 % of the border is lost."}]
)json");
}

TEST(ReadingJson, IsThisTextWhenNothingWasFound) {
    Reading nothing;
    nothing.file = "b.jpg", nothing.width = 640, nothing.height = 480;
    nothing.notes = {"No piece is seen."};
    EXPECT_EQ(text_of(nothing), R"json(photo {"file":"b.jpg","width":640,"height":480}
scale null
outline {"kind":"none","centre_px":null,"axes_px":null,"angle_deg":null,"long_mm":null,"short_mm":null,"sigma_mm":null,"seen":0.0,"tilt_deg":null,"corners_px":[],"sizes":[]}
border {"present":0.0,"repeats":null,"finish":null,"wear":null,"ornaments":[],"band":null,"phase":null,"map":[]}
edge_line {"present":0.0,"colour":null,"at":null,"width":null,"width_mm":null,"ornaments":[]}
verge_line {"present":0.0,"colour":null,"at":null,"width":null,"width_mm":null,"ornaments":[]}
centre {"present":0.0,"ornaments":[],"finish":null,"radius":null,"middle":null,"angle_deg":null}
glaze {"lab":null,"nearest":[],"sigma":null}
faults {"specks_per_dm2":null,"unevenness":null,"crazing":null,"specks_px":[]}
wording []
marks []
looks []
notes ["No piece is seen."]
side "front"
card null
mark_area_px null
numbers []
date_codes []
strip null
photo_from_plate null
piece {}
suggestions []
)json");
}

TEST(ReadingJson, BeginsWithTheMembersOfTheContractInTheirOrder) {
    std::vector<std::string> names;
    const auto json = reading_json(one_of_each());
    for (const auto& [name, value] : json.items()) names.push_back(name);
    names.resize(13);
    EXPECT_THAT(names, ElementsAre("photo", "scale", "outline", "border", "edge_line", "verge_line", "centre",
                                   "glaze", "faults", "wording", "marks", "looks", "notes"));
}

TEST(ReadingJson, ReadBackIsTheSameJson) {
    for (const Reading& reading : {Reading{}, one_of_each()}) {
        const std::string once = reading_json(reading).dump();
        const auto back = reading_from_json(nlohmann::json::parse(once), "r.json");
        ASSERT_TRUE(back.has_value()) << to_line(back.error());
        EXPECT_EQ(reading_json(*back).dump(), once);
    }
}

TEST(ReadingJson, ReadBackKeepsWhatThePagesDraw) {
    const Reading before = one_of_each();
    const auto after = reading_from_json(nlohmann::json(reading_json(before)), "r.json");
    ASSERT_TRUE(after.has_value()) << to_line(after.error());
    EXPECT_EQ(after->outline.kind, OutlineKind::kRound);
    EXPECT_EQ(after->outline.rim.centre, before.outline.rim.centre);
    EXPECT_EQ(after->border.repeats, 8);
    EXPECT_EQ(after->border.map, before.border.map);
    EXPECT_EQ(after->wording.area, before.wording.area);
    EXPECT_EQ(after->card->seen, before.card->seen);
    ASSERT_EQ(after->suggestions.size(), before.suggestions.size());
    EXPECT_EQ(after->suggestions[0].why, before.suggestions[0].why);
    EXPECT_EQ(after->suggestions[0].sure, looks::Sure::kLikely);
    EXPECT_DOUBLE_EQ(after->photo_from_plate->at(0), 1402.12346);
}

TEST(ReadingJson, WritesNullForWhatIsNoNumber) {
    Reading r = one_of_each();
    r.outline.sigma_mm = std::numeric_limits<double>::quiet_NaN();
    r.border.wear = std::numeric_limits<double>::infinity();
    const auto json = reading_json(r);
    EXPECT_TRUE(json["outline"]["sigma_mm"].is_null());
    EXPECT_TRUE(json["border"]["wear"].is_null());
}

TEST(ReadingJson, SaysWhereAMemberIsNotWhatItShouldBe) {
    const auto fault = [](std::string_view pointer, nlohmann::json value) {
        nlohmann::json json = reading_json(one_of_each());
        json[nlohmann::json::json_pointer(std::string(pointer))] = std::move(value);
        const auto back = reading_from_json(json, "r.json");
        return back ? std::string("read") : to_line(back.error());
    };
    EXPECT_EQ(
        fault("/border/repeats", "eight"),
        "r.json: /border/repeats: this is not a number, as a reading has it there: read the photograph again");
    EXPECT_EQ(fault("/border/repeats", 8.5),
              "r.json: /border/repeats: this is not a whole number, as a reading has it there: read the photograph "
              "again");
    EXPECT_EQ(fault("/outline/kind", "oblong"),
              "r.json: /outline/kind: this is not one of none, round, oval, square, octagonal, other, as a reading "
              "has it "
              "there: read the photograph again");
    EXPECT_EQ(
        fault("/wording/0/box_px", nlohmann::json::array()),
        "r.json: /wording/0/box_px: this is not a list of 4, as a reading has it there: read the photograph again");
    EXPECT_EQ(
        fault("/card/markers/0/id", 9),
        "r.json: /card/markers/0/id: this is not 0 to 3, as a reading has it there: read the photograph again");
    const auto list = reading_from_json(nlohmann::json::array(), "r.json");
    ASSERT_FALSE(list.has_value());
    EXPECT_EQ(to_line(list.error()),
              "r.json: /: this is not an object, as a reading has it there: read the photograph again");
}

}  // namespace
}  // namespace footring::photo
