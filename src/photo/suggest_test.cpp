// SPDX-License-Identifier: Apache-2.0
#include "photo/suggest.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace footring::photo {
namespace {

using ::testing::AnyOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

// Two shapes with three round plates each, an oval dish and a lugged plate; one ornament, one glaze.
book::Book small_book() {
    book::Book book;
    book.packs.resize(1);
    book.packs[0].id = "reed";
    for (const char* id : {"marsh", "fen"}) {
        book::Shape shape;
        shape.id = id, shape.name = id == std::string_view("fen") ? "Fen" : "Marsh";
        book.shapes.push_back(shape);
    }
    const auto form = [&](std::string id, std::string name, book::Outline outline) {
        book::Form f;
        f.id = std::move(id), f.name = std::move(name), f.outline = outline;
        book.forms.push_back(f);
    };
    form("plate", "Plate", book::Outline::kRound);
    form("saucer", "Saucer", book::Outline::kRound);
    form("dish", "Dish", book::Outline::kOval);
    const auto size = [&](std::uint32_t of_shape, std::uint32_t of_form, double length,
                          std::optional<double> width) {
        book::ShapeForm row{.shape = {of_shape},
                            .form = {of_form},
                            .trade_size = fmt::format("{:.0f} in", length / 30),
                            .length_mm = length,
                            .width_mm = width,
                            .height_mm = {},
                            .capacity_ml = {},
                            .years = {},
                            .sources = {},
                            .origin = {}};
        book.shape_forms.push_back(row);
    };
    size(0, 0, 250, {}), size(0, 1, 150, {}), size(0, 2, 300, 220);
    size(1, 0, 230, {}), size(1, 1, 151, {}), size(1, 2, 300, 250);
    book::Ornament fern;
    fern.id = "fern-pair", fern.name = "Fern pair";
    book.ornaments.push_back(fern);
    book::Ornament line;
    line.id = "gold-line", line.name = "Gold line", line.kind = book::OrnamentKind::kLine, line.finish = "gold";
    book.ornaments.push_back(line);
    book::Glaze oat;
    oat.id = "oat", oat.name = "Oat";
    book.glazes.push_back(oat);
    book.index();
    return book;
}

Outline round_of(double mm, double sigma) {
    Outline out;
    out.kind = OutlineKind::kRound, out.seen = 0.98;
    out.long_mm = mm, out.short_mm = mm, out.sigma_mm = sigma;
    return out;
}
Reading plate() {
    Reading r;
    r.outline = round_of(250, 0.7);
    r.border = {.present = 0.99,
                .from = 0.05,
                .to = 0.2,
                .repeats = 8,
                .phase = 0,
                .finish = "gold",
                .wear = 0.01,
                .map = {},
                .ornaments = {{"fern-pair", 0.97}}};
    r.edge_line.present = 0.01;
    r.verge_line.present = 0.02;
    r.centre.present = 0.03;
    r.faults = {.specks_per_dm2 = 0, .unevenness = 0.01, .crazing = 0.02, .specks = {}};
    r.glaze.lab = {88, 1, 9};
    r.glaze.sigma = 1.5;
    r.glaze.nearest = {{"oat", 0.9, 0.97}};
    return r;
}
std::string line_of(const Suggestion& s) {
    return fmt::format("{}{} = {} ({})", s.field, s.place.empty() ? "" : " " + s.place, s.value,
                       s.sure ? looks::kSureNames[static_cast<std::size_t>(*s.sure)] : "-");
}
std::vector<std::string> lines(const std::vector<Suggestion>& all) {
    std::vector<std::string> out;
    for (const Suggestion& s : all) out.push_back(line_of(s));
    return out;
}
std::string why(const std::vector<Suggestion>& all, std::string_view field, std::string_view place = "") {
    for (const Suggestion& s : all)
        if (s.field == field && s.place == place) return s.why;
    return "not suggested";
}

TEST(Suggest, NamesWhatIsSeenOnAPlateAndSaysWhatIsNotThere) {
    const auto all = lines(suggest(plate(), small_book()));
    EXPECT_THAT(all, Contains(StartsWith("looks rim = fern-pair")));
    EXPECT_THAT(all, Contains(StartsWith("looks edge = none")));
    EXPECT_THAT(all, Contains(StartsWith("looks verge = none")));
    EXPECT_THAT(all, Contains(StartsWith("looks centre = none")));
    EXPECT_THAT(all, Contains(StartsWith("glaze = oat")));
    EXPECT_THAT(all, Contains(StartsWith("form = plate")));
    EXPECT_THAT(all, Contains(StartsWith("shape = marsh")));
    EXPECT_THAT(all, Contains(StartsWith("length_mm = 250")));
    EXPECT_THAT(all, Contains(StartsWith("faults = none")));
}

TEST(Suggest, SaysWhyInPlainSentences) {
    const auto all = suggest(plate(), small_book());
    EXPECT_EQ(why(all, "looks", "rim"), "8 repeats of Fern pair, score 0.97.");
    EXPECT_EQ(why(all, "looks", "edge"), "There is no edge line, score 0.99.");
    EXPECT_EQ(why(all, "glaze"), "The colour is 0.9 dE00 from Oat, give or take 1.5.");
    EXPECT_EQ(why(all, "length_mm"), "250 mm across, give or take 0.7; 98 % of the rim is seen.");
    EXPECT_EQ(why(all, "faults"), "0.0 specks to the square decimetre, unevenness 0.01, crazing 0.02.");
}

TEST(Suggest, CallsABorderSomethingWhenNoDrawingIsNear) {
    Reading r = plate();
    r.border.ornaments = {{"fern-pair", 0.2}};
    const auto all = suggest(r, small_book());
    EXPECT_THAT(lines(all), Contains(StartsWith("looks rim = something")));
    EXPECT_EQ(why(all, "looks", "rim"), "There is a border in gold; no drawing of the open packs is near enough.");
    r.border.wear = 0.8;
    const auto worn = suggest(r, small_book());
    EXPECT_THAT(lines(worn), Contains(StartsWith("looks rim = worn")));
    EXPECT_EQ(why(worn, "looks", "rim"),
              "Only traces of a border in gold; no drawing of the open packs is near enough.");
}

TEST(Suggest, TakesTheEdgeLineFromThePacksOrnamentsOfThatFinish) {
    Reading r = plate();
    r.edge_line = {.present = 0.99,
                   .colour = "gold",
                   .at = 0.01,
                   .width = 0.01,
                   .width_mm = 1,
                   .ornaments = {{"gold-line", 0.97}}};
    EXPECT_THAT(lines(suggest(r, small_book())), Contains(StartsWith("looks edge = gold-line")));
}

TEST(Suggest, ReadsWearFromTheShareLostAsTheModelOfNamingExpectsIt) {
    const auto wear_of = [](double lost) {
        Reading r = plate();
        r.border.wear = lost;
        for (const Suggestion& s : suggest(r, small_book()))
            if (s.field == "wear") return s.value;
        return std::string("not suggested");
    };
    // Between two of them the measured doubt may leave neither likely enough to be suggested.
    EXPECT_THAT(wear_of(0), AnyOf("none", "not suggested"));
    EXPECT_THAT(wear_of(0.10), AnyOf("moderate", "not suggested"));
    EXPECT_EQ(wear_of(0.30), "heavy");
    EXPECT_EQ(wear_of(0.90), "heavy");
}

TEST(Suggest, NeverSuggestsWhatIsMoreLikelyWrongThanRight) {
    Reading r = plate();
    for (double present = 0; present <= 1; present += 0.05)
        for (double score = 0; score <= 1; score += 0.05) {
            r.border.present = r.edge_line.present = r.centre.present = present;
            r.border.ornaments = r.centre.ornaments = r.edge_line.ornaments = {{"fern-pair", score}};
            r.glaze.nearest = {{"oat", 1, score}};
            for (const Suggestion& s : suggest(r, small_book())) {
                EXPECT_GE(s.chance, 0.5) << line_of(s);
                EXPECT_LE(s.chance, 1.0) << line_of(s);
                ASSERT_TRUE(s.sure.has_value());
                EXPECT_EQ(*s.sure, s.chance >= 0.98   ? looks::Sure::kSure
                                   : s.chance >= 0.85 ? looks::Sure::kLikely
                                                      : looks::Sure::kGuess);
            }
        }
}

TEST(Suggest, TellsNothingOfTheFrontFromABackNorOfAPieceThatIsNotSeen) {
    Reading r = plate();
    r.side = Side::kBack;
    EXPECT_THAT(lines(suggest(r, small_book())), Not(Contains(StartsWith("looks"))));
    Reading nothing;
    EXPECT_THAT(lines(suggest(nothing, small_book())), IsEmpty());
}

TEST(Suggest, TakesMarkNumberAndDateCodeFromTheUnderside) {
    Reading r;
    r.side = Side::kBack;
    r.wording.words = {{"KETTLEWHARF", 0.95, {}, 0}, {"117", 0.92, {}, 0}, {"D", 0.6, {}, 0}};
    r.wording.marks = {{"m-3", 0.97}};
    r.wording.numbers = {"117"};
    r.wording.date_codes = {"D"};
    const auto all = suggest(r, small_book());
    EXPECT_THAT(lines(all),
                ElementsAre("mark = m-3 (likely)", StartsWith("number = 117 ("), StartsWith("date_code = D (")));
    EXPECT_EQ(why(all, "mark"), "The mark reads KETTLEWHARF / 117 / D, score 0.97.");
    EXPECT_EQ(why(all, "number"), "The number reads 117, confidence 0.92.");
    r.wording.marks = {{"m-3", 0.1}};
    EXPECT_THAT(lines(suggest(r, small_book())), Contains("mark = something (likely)"));
    r.wording.numbers = {"117", "118"};  // which of them is not known
    EXPECT_THAT(lines(suggest(r, small_book())), Not(Contains(StartsWith("number"))));
}

// A mark that is not seen may yet be there, pale or impressed: as measured it is so about as often as not.
TEST(Suggest, CallsTheMarkNoneAsAGuessAtMost) {
    Reading r;
    r.side = Side::kBack;
    r.outline = round_of(250, 1);
    for (const char* sureness : {"likely", "sure"})
        EXPECT_THAT(lines(suggest(r, small_book())), Not(Contains(fmt::format("mark = none ({})", sureness))));
}

TEST(SizesThatAgree, PutTheRecordedSizeFirstAndLeaveSomeDoubt) {
    const auto sizes = sizes_that_agree(round_of(250, 0.6), small_book());
    ASSERT_FALSE(sizes.empty());
    EXPECT_EQ(sizes[0].shape, "marsh");
    EXPECT_EQ(sizes[0].form, "plate");
    EXPECT_EQ(sizes[0].trade_size, "8 in");
    EXPECT_GT(sizes[0].chance, 0.7);
    double sum = 0;
    for (const auto& size : sizes) sum += size.chance;
    EXPECT_LT(sum, 1);
}

TEST(SizesThatAgree, AreNoneForASizeThatNoPackRecordsAndWithoutAScale) {
    EXPECT_THAT(sizes_that_agree(round_of(190, 0.6), small_book()), IsEmpty());
    Outline no_scale = round_of(250, 0.6);
    no_scale.long_mm.reset();
    EXPECT_THAT(sizes_that_agree(no_scale, small_book()), IsEmpty());
    Outline square = round_of(250, 0.6);
    square.kind = OutlineKind::kSquare;
    EXPECT_THAT(sizes_that_agree(square, small_book()), IsEmpty());
}

TEST(SizesThatAgree, TellOvalsApartByTheirWidth) {
    Outline oval = round_of(300, 1);
    oval.kind = OutlineKind::kOval;
    oval.short_mm = 221;
    const auto sizes = sizes_that_agree(oval, small_book());
    ASSERT_FALSE(sizes.empty());
    EXPECT_EQ(sizes[0].shape, "marsh");
    EXPECT_GT(sizes[0].chance, 0.85);
}

TEST(SizesThatAgree, HaveLessChanceApartTheWorseTheMeasurement) {
    const auto first = [](double sigma) { return sizes_that_agree(round_of(250, sigma), small_book())[0].chance; };
    EXPECT_GT(first(0.5), first(5));
    EXPECT_GT(first(5), first(20));
}

}  // namespace
}  // namespace footring::photo
