// SPDX-License-Identifier: Apache-2.0
#include "looks/piece.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <random>

namespace footring::looks {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<std::string> lines(const std::vector<Problem>& problems) {
    std::vector<std::string> out;
    for (const Problem& p : problems) out.push_back(to_line(p));
    return out;
}
std::vector<std::string> faults_of(std::string_view text) {
    std::vector<std::string> notes;
    const auto piece = piece_from_json(text, "p.json", notes);
    return piece ? std::vector<std::string>{} : lines(piece.error());
}
Piece read(std::string_view text) {
    std::vector<std::string> notes;
    const auto piece = piece_from_json(text, "p.json", notes);
    if (!piece) {
        ADD_FAILURE() << to_line(piece.error().front());
        return {};
    }
    EXPECT_THAT(notes, IsEmpty());
    return *piece;
}

constexpr std::string_view kSugar =
    R"({ "id": "p-0041", "form": "sugar", "shape": {"value": "harrow", "sure": "likely"},
  "glaze": {"value": "oat", "sure": "sure"}, "wear": "moderate",
  "looks": [ {"place": "rim", "value": "fern-pair", "sure": "sure"},
             {"place": "edge", "value": "none", "sure": "likely"},
             {"place": "centre", "value": "something", "sure": "guess"} ],
  "mark": {"value": "none"}, "number": "1?7", "date_code": "", "faults": "few",
  "length_mm": 121, "photos": [] })";

TEST(Piece, IsReadFieldByField) {
    const Piece p = read(kSugar);
    EXPECT_EQ(p.id, "p-0041");
    EXPECT_EQ(p.form, "sugar");
    EXPECT_EQ(p.shape, (Seen{"harrow", Sure::kLikely}));
    EXPECT_EQ(p.glaze, (Seen{"oat", Sure::kSure}));
    EXPECT_EQ(p.wear, Wear::kModerate);
    EXPECT_THAT(p.looks, ElementsAre(Look{book::Place::kRim, {"fern-pair", Sure::kSure}},
                                     Look{book::Place::kEdge, {"none", Sure::kLikely}},
                                     Look{book::Place::kCentre, {"something", Sure::kGuess}}));
    EXPECT_EQ(p.mark, (Seen{"none", Sure::kSure}));
    EXPECT_EQ(p.number, (Seen{"1?7", Sure::kSure}));
    EXPECT_EQ(p.date_code, "");
    EXPECT_EQ(p.faults, Faults::kFew);
    EXPECT_EQ(p.length_mm, 121);
    EXPECT_EQ(p.width_mm, std::nullopt);
    EXPECT_THAT(p.photos, IsEmpty());
}

TEST(Piece, KeepsWhatWasNotLookedAtAbsent) {
    for (const auto text :
         {"{}", R"({"form":null,"shape":null,"looks":null,"wear":"","number":"","mark":{"value":" "}})"}) {
        EXPECT_EQ(read(text), Piece{}) << text;
    }
}

TEST(Piece, TakesPlainTextsObjectsAndBareNumbersAlike) {
    const Piece p = read(R"({"shape":"harrow","glaze":{"value":"oat"},"number":117,"mark":"m-3",
        "looks":[{"place":"rim","value":"fern"},{"place":"rim","value":{"value":"fern","sure":"guess"}}]})");
    EXPECT_EQ(p.shape, (Seen{"harrow", Sure::kSure}));
    EXPECT_EQ(p.glaze, (Seen{"oat", Sure::kSure}));
    EXPECT_EQ(p.number, (Seen{"117", Sure::kSure}));
    EXPECT_EQ(p.mark, (Seen{"m-3", Sure::kSure}));
    EXPECT_EQ(p.looks[0].seen.sure, Sure::kSure);
    EXPECT_EQ(p.looks[1].seen, (Seen{"fern", Sure::kGuess}));
}

TEST(Piece, PrintsBackToTheSamePiece) {
    Piece p = read(kSugar);
    p.width_mm = 80.5;
    p.height_mm = 90;
    p.photos = {"a.jpg"};
    p.date_code = "B 4";
    EXPECT_EQ(read(to_json(p).dump()), p);
    EXPECT_EQ(to_json(Piece{}).dump(), R"({"looks":[]})");
    EXPECT_EQ(to_json(read(kSugar)).dump(),
              R"({"id":"p-0041","form":"sugar","shape":{"value":"harrow","sure":"likely"},)"
              R"("glaze":{"value":"oat","sure":"sure"},"wear":"moderate",)"
              R"("looks":[{"place":"rim","value":"fern-pair","sure":"sure"},)"
              R"({"place":"edge","value":"none","sure":"likely"},)"
              R"({"place":"centre","value":"something","sure":"guess"}],)"
              R"("mark":{"value":"none","sure":"sure"},"number":{"value":"1?7","sure":"sure"},)"
              R"("faults":"few","length_mm":121.0})");
}

TEST(Piece, TellsEveryFaultAtOnceWithItsPlace) {
    EXPECT_THAT(
        faults_of(
            R"({"id":[1],"form":{"value":"plate"},"shape":{"sure":"sure"},"glaze":{"value":"oat","sure":"shure"},
            "wear":"modrate","looks":[7,{"value":"fern"},{"place":"rimm","value":"fern"},{"place":"rim"},
            {"place":"rim","value":""},{"place":"rim","value":true},{"place":"edge","value":"x","sure":0.9}],
            "mark":false,"number":1.5,"date_code":{},"faults":"lots","length_mm":"121","width_mm":-3,
            "height_mm":2001,"photos":["a.jpg",{}]})"),
        ElementsAre(
            "p.json: /id: a list stands here: write a text",
            "p.json: /form: an object stands here: write a form's id",
            "p.json: /shape: it has no value: give it one, or leave shape out if nobody looked",
            "p.json: /glaze/sure: 'shure' is not a sureness: did you mean 'sure'?",
            "p.json: /wear: 'modrate' is not a degree of wear: did you mean 'moderate'?",
            "p.json: /looks/0: a number stands here: write an object with place, value and sure",
            "p.json: /looks/1: the look has no place: use one of rim, verge, centre, edge, handle, lid, finial, "
            "body, inside, foot, underside",
            "p.json: /looks/2/place: 'rimm' is not a place: did you mean 'rim'?",
            "p.json: /looks/3: the look has no value: write an ornament's id, none, something or worn",
            "p.json: /looks/4/value: the value is empty: write an ornament's id, none, something or worn, or leave "
            "the look out",
            "p.json: /looks/5/value: true or false stands here: write an ornament's id, none, something or worn",
            "p.json: /looks/6/sure: a number stands here: write one of sure, likely, guess",
            "p.json: /mark: true or false stands here: write a text, or an object with value and sure",
            "p.json: /number: a number stands here: write a text, or an object with value and sure",
            "p.json: /date_code: an object stands here: write the code as a text",
            "p.json: /faults: 'lots' is not a degree of faults: use one of none, few, many",
            "p.json: /length_mm: the text '121' stands where a number belongs: write millimetres as a bare number, "
            "such as 121",
            "p.json: /width_mm: -3 is not a length of tableware: write millimetres, over 0 and at most 2000",
            "p.json: /height_mm: 2001 is not a length of tableware: write millimetres, over 0 and at most 2000",
            "p.json: /photos/1: an object stands here: write a file name"));
    EXPECT_THAT(faults_of(R"({"looks":{},"photos":"a.jpg"})"),
                ElementsAre("p.json: /looks: an object stands here: write a list of looks",
                            "p.json: /photos: a text stands here: write a list of file names"));
    EXPECT_THAT(faults_of("[]"), ElementsAre("p.json: a list stands where a piece belongs: write an object such as "
                                             "{\"id\": \"p-1\", \"looks\": []}"));
    EXPECT_THAT(
        faults_of(R"({"id":"a\u0000b"})"),
        ElementsAre("p.json: /id: the text has a control character in it: write it on one line, without tabs"));
    EXPECT_THAT(faults_of(fmt::format(R"({{"id":"{}"}})", std::string(501, 'a'))),
                ElementsAre("p.json: /id: the text has 501 bytes: shorten it to at most 500"));
}

TEST(Piece, SaysWhichFieldsItDidNotUnderstand) {
    std::vector<std::string> notes;
    ASSERT_TRUE(piece_from_json(R"({"shap":"x","shape":{"value":"harrow","by":"me"},
        "looks":[{"place":"rim","value":"fern","when":1}]})",
                                "p.json", notes)
                    .has_value());
    EXPECT_THAT(notes,
                ElementsAre("p.json: /shap: a piece has no such field, so it was left out: did you mean 'shape'?",
                            "p.json: /shape/by: a shape has no such field, so it was left out",
                            "p.json: /looks/0/when: a look has no such field, so it was left out"));
}

TEST(Piece, PointsIntoAFileThatIsNoJson) {
    EXPECT_THAT(faults_of("{\n  \"form\": \"\xC3\xA9t\xC3\xA9\", plate\n}"),
                ElementsAre("p.json:2:18: this is not JSON (invalid literal, expected string literal): "
                            "correct the text at this place"));
    EXPECT_THAT(faults_of("{\"id\":"),
                ElementsAre("p.json:1:7: this is not JSON (unexpected end of input, expected "
                            "'[', '{', or a literal): correct the text at this place"));
    EXPECT_THAT(faults_of(""), ElementsAre("p.json:1:1: the file is empty: write a JSON object into it"));
    EXPECT_THAT(faults_of("{\"id\":\"\xE9\"}"),
                ElementsAre("p.json: the file is not UTF-8 text: save it as UTF-8"));
    EXPECT_THAT(faults_of(R"({"id":"a","id":"b"})"),
                ElementsAre("p.json: an object has the field 'id' twice: keep one of them"));
    EXPECT_THAT(
        faults_of(R"({"length_mm":1e999})"),
        ElementsAre("p.json: this is not usable JSON (number overflow parsing '1e999'): correct that value"));
    EXPECT_EQ(read("\xEF\xBB\xBF{\"id\":\"p\"}").id, "p");
}

TEST(Piece, SurvivesNestingWithoutEndAndFilesWithoutEnd) {
    EXPECT_THAT(faults_of(R"({"x":)" + std::string(1'000'000, '[')),
                ElementsAre("p.json:1:69: brackets are nested more than 64 deep: nest them less deeply"));
    std::vector<std::string> notes;
    const auto large = piece_from_json(std::string((16 << 20) + 1, ' '), "p.json", notes);
    ASSERT_FALSE(large.has_value());
    EXPECT_EQ(large.error().front().code, ProblemCode::kTooLarge);
    EXPECT_EQ(
        to_line(large.error().front()),
        "p.json: the file has 16777217 bytes, more than the 16777216 that are read: split it into smaller files");
}

TEST(Pieces, ComeAloneOrInAList) {
    std::vector<std::string> notes;
    const auto one = pieces_from_json(R"({"id":"a"})", "p.json", notes);
    ASSERT_TRUE(one.has_value());
    EXPECT_EQ(one->size(), 1u);
    const auto two = pieces_from_json(R"([{"id":"a"},{"id":"b","colour":1}])", "p.json", notes);
    ASSERT_TRUE(two.has_value());
    EXPECT_EQ((*two)[1].id, "b");
    EXPECT_THAT(notes, ElementsAre("p.json: /1/colour: a piece has no such field, so it was left out"));
    const auto bad = pieces_from_json(R"([{"looks":[{"place":"rim"}]},3])", "p.json", notes);
    ASSERT_FALSE(bad.has_value());
    EXPECT_THAT(
        lines(bad.error()),
        ElementsAre("p.json: /0/looks/0: the look has no value: write an ornament's id, none, something or worn",
                    "p.json: /1: a number stands where a piece belongs: write an object such as "
                    "{\"id\": \"p-1\", \"looks\": []}"));
}

TEST(Pieces, TheExampleOfThePageIsOne) {
    std::ifstream in(std::string(FOOTRING_ROOT) + "/docs/pieces.md");
    const std::string page{std::istreambuf_iterator<char>(in), {}};
    const std::size_t begin = page.find("```json\n"), end = page.find("```\n", begin + 8);
    ASSERT_NE(end, page.npos);
    const Piece example = read(page.substr(begin + 8, end - begin - 8));
    Piece wanted = read(kSugar);
    wanted.photos = {"p-0041-a.jpg"};
    EXPECT_EQ(example, wanted);
}

TEST(Pieces, ThePageNamesEveryFieldAndWord) {
    std::ifstream in(std::string(FOOTRING_ROOT) + "/docs/pieces.md");
    const std::string page{std::istreambuf_iterator<char>(in), {}};
    Piece full = read(kSugar);
    full.width_mm = full.height_mm = 1;
    full.date_code = "x";
    full.photos = {"x"};
    const auto printed = to_json(full);
    for (const auto& [name, value] : printed.items()) EXPECT_NE(page.find("`" + name + "`"), page.npos) << name;
    const auto has_all = [&](const auto& names) {
        for (const std::string_view name : names)
            EXPECT_NE(page.find(fmt::format("`{}`", name)), page.npos) << name;
    };
    has_all(book::kPlaceNames), has_all(kSureNames), has_all(kWearNames), has_all(kFaultsNames);
}

TEST(Piece, IsSoundOnlyWhenItCanBeReadBack) {
    const std::string texts[] = {"p-1",
                                 "",
                                 " ",
                                 "fern-pair",
                                 std::string(500, 'x'),
                                 std::string(501, 'x'),
                                 "a\tb",
                                 "\xC3\xA9tag\xC3\xA8re",
                                 "\xC3",
                                 std::string(1, '\0')};
    const double lengths[] = {-1, 0, 0.5, 2000, 2001};
    int sound = 0, unsound = 0;
    std::mt19937 random(11);
    for (int i = 0; i < 4000; ++i) {
        const auto text = [&] { return texts[random() % (random() % 4 == 0 ? std::size(texts) : 1)]; };
        Piece piece;
        piece.id = text();
        piece.form = text();
        piece.shape = Seen{text(), Sure::kLikely};
        piece.number = Seen{text()};
        piece.looks.push_back({book::Place::kRim, {text()}});
        piece.photos.push_back(text());
        if (random() % 2 == 0) piece.length_mm = lengths[random() % std::size(lengths)];
        bool read = false;
        std::vector<std::string> notes;
        try {
            const auto file = nlohmann::json::parse(to_json(piece).dump());
            read = piece_from_json(file, "f", notes).has_value();
        } catch (const nlohmann::json::exception&) {  // text that is no UTF-8
        }
        EXPECT_TRUE(read || !is_sound(piece)) << i;
        ++(is_sound(piece) ? sound : unsound);
    }
    EXPECT_GT(sound, 200);
    EXPECT_GT(unsound, 200);
}

TEST(Sureness, ComesFromTheSettings) {
    Settings settings;
    settings.sure_likely = 0.9;
    EXPECT_EQ(sureness(Sure::kSure, settings), 0.98);
    EXPECT_EQ(sureness(Sure::kLikely, settings), 0.9);
    EXPECT_EQ(sureness(Sure::kGuess, settings), 0.6);
}

}  // namespace
}  // namespace footring::looks
