// SPDX-License-Identifier: Apache-2.0
#include "photo/wording.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <ctime>
#include <opencv2/imgcodecs.hpp>

#include "photo/test_scene.h"
#include "photo/test_underside.h"

namespace footring::photo {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using testing::PrintSpec;
using testing::Underside;

// Three potteries that never were.
book::Book marks_book() {
    book::Book book;
    book.packs.resize(1);
    book.packs[0].id = "reed";
    book::CodeScheme scheme;
    scheme.id = "code", scheme.pattern = "(?P<month>[A-M])(?P<year>\\d\\d)";
    book.code_schemes.push_back(scheme);
    const auto mark = [&](std::string id, std::string wording, bool coded) {
        book::Mark m;
        m.id = std::move(id), m.wording = std::move(wording);
        if (coded) m.code_scheme = book::Ref<book::CodeScheme>{0};
        book.marks.push_back(m);
    };
    mark("m-1", "SEDGEFORD / WARRANTED", true);
    mark("m-2", "SEDGEFORD / STONE CHINA", false);
    mark("m-3", "HOLM & TARN", false);
    mark("m-4", "22 CARAT GOLD / HOLM", false);
    mark("m-5", "QUAYSIDE POTTERY", false);
    book.index();
    return book;
}
std::vector<std::string> texts(const Wording& wording) {
    std::vector<std::string> out;
    for (const Words& words : wording.words) out.push_back(words.text);
    return out;
}
std::string first_mark(const Wording& wording) { return wording.marks.empty() ? "none" : wording.marks.front().id; }
Wording read(const Underside& underside) {
    return read_wording(underside.picture(), underside.plate(), marks_book(), {});
}
// Two lines at the middle, turned together.
void two_lines(Underside& on, const std::string& above, const std::string& below, double turned, double px = 20,
               const PrintSpec& how = {}) {
    const double a = turned * CV_PI / 180;
    const cv::Point2d down(-std::sin(a), std::cos(a));
    on.print(above, on.middle() - down * 0.85 * px, px, turned, how);
    on.print(below, on.middle() + down * 0.85 * px, px, turned, how);
}

TEST(Wording, IsReadAtEveryTurn) {
    for (const double turned : {0.0, 33.0, 180.0, -101.0}) {
        Underside on;
        two_lines(on, "SEDGEFORD", "WARRANTED", turned);
        const Wording wording = read(on);
        EXPECT_THAT(texts(wording), ElementsAre("SEDGEFORD", "WARRANTED")) << turned;
        EXPECT_EQ(first_mark(wording), "m-1") << turned;
        for (const Words& words : wording.words) {
            EXPECT_NEAR(std::remainder(words.turned_deg - turned, 360), 0, 2) << turned;
            EXPECT_GT(words.confidence, 0.8);
        }
    }
}

TEST(Wording, LiesWhereItsBoxSays) {
    Underside on;
    on.print("HOLM & TARN", {640, 400}, 20, 30);
    const Wording wording = read(on);
    ASSERT_THAT(texts(wording), ElementsAre("HOLM & TARN"));
    const auto& box = wording.words[0].box;
    EXPECT_NEAR((box[0].x + box[2].x) / 2, 640.5, 4);
    EXPECT_NEAR((box[0].y + box[2].y) / 2, 400.5, 4);
    EXPECT_NEAR(std::hypot(box[3].x - box[0].x, box[3].y - box[0].y), 20, 6);
    EXPECT_LT(box[0].x, box[1].x);
    EXPECT_NE(wording.area, (std::array<Point, 4>{}));
    const cv::Mat upright =
        cv::imdecode(std::vector<uchar>(wording.mark_png.begin(), wording.mark_png.end()), cv::IMREAD_COLOR);
    ASSERT_FALSE(upright.empty());
    EXPECT_GT(upright.cols, 3 * upright.rows);
}

TEST(Wording, IsReadRoundACircleFromOutsideAndFromInside) {
    for (const bool inwards : {false, true}) {
        Underside on;
        on.print_round("QUAYSIDE POTTERY", on.middle(), 110, 20, 25, inwards);
        const Wording wording = read(on);
        EXPECT_THAT(texts(wording), ElementsAre("QUAYSIDE POTTERY")) << inwards;
        EXPECT_EQ(first_mark(wording), "m-5");
    }
}

TEST(Wording, IsReadInAnyInkAndPressed) {
    struct Case {
        const char* what;
        cv::Scalar glaze;
        PrintSpec how;
    };
    const cv::Scalar white(225, 235, 240);
    const Case cases[] = {{"faint grey", white, {.ink = {120, 120, 120}, .strength = 0.22}},
                          {"green", white, {.ink = {80, 120, 60}, .strength = 0.6, .serif = true}},
                          {"gold", white, {.ink = {70, 150, 190}, .strength = 0.9}},
                          {"pale blue", white, {.ink = {220, 180, 150}, .strength = 0.8}},
                          {"white on cobalt", {110, 50, 30}, {.ink = {230, 235, 235}, .strength = 0.8}},
                          {"pressed", white, {.strength = 0.5, .pressed = true}}};
    for (const Case& one : cases) {
        Underside on(one.glaze);
        two_lines(on, "SEDGEFORD", "STONE CHINA", 12, 22, one.how);
        EXPECT_EQ(first_mark(read(on)), "m-2") << one.what;
    }
}

TEST(Wording, IsFoundWithoutAnOutlineToo) {
    Underside on;
    two_lines(on, "SEDGEFORD", "WARRANTED", -20, 24);
    const Wording wording = read_wording(on.picture(), {}, marks_book(), {});
    EXPECT_EQ(first_mark(wording), "m-1");
}

TEST(Wording, TellsNumbersFromTheWordsOfAMark) {
    Underside on;
    two_lines(on, "22 CARAT GOLD", "HOLM", 0);
    on.print("117", on.middle() + cv::Point2d(-20, 90), 22, 4);
    const Wording wording = read(on);
    EXPECT_EQ(first_mark(wording), "m-4");
    EXPECT_THAT(wording.numbers, ElementsAre("117"));
}

TEST(Wording, IsANumberAloneOnUnmarkedWare) {
    Underside on;
    on.print("4417", on.middle() + cv::Point2d(30, -40), 22, 100);
    const Wording wording = read(on);
    EXPECT_THAT(wording.numbers, ElementsAre("4417"));
    EXPECT_TRUE(wording.marks.empty()) << first_mark(wording);
}

TEST(Wording, ReadsADateCodeByTheSchemeOfTheMark) {
    Underside on;
    two_lines(on, "SEDGEFORD", "WARRANTED", 0);
    on.print("C34", on.middle() + cv::Point2d(0, 58), 20, 0);
    const Wording coded = read(on);
    EXPECT_EQ(first_mark(coded), "m-1");
    EXPECT_THAT(coded.date_codes, ElementsAre("C34"));
    EXPECT_THAT(coded.numbers, IsEmpty());
}

TEST(Wording, IsNothingOnABareUndersideWithFaults) {
    for (int seed = 1; seed <= 4; ++seed) {
        Underside on;
        cv::RNG random(static_cast<std::uint64_t>(seed));
        const auto anywhere = [&] {
            return on.middle() + on.radius() * cv::Point2d(random.uniform(-0.6, 0.6), random.uniform(-0.6, 0.6));
        };
        for (int i = 0; i < 12 * seed; ++i) on.speck(anywhere(), random.uniform(1.0, 4.0));
        for (int i = 0; i < 3; ++i) on.scratch(anywhere(), anywhere());
        const Wording wording = read(on);
        EXPECT_THAT(texts(wording), IsEmpty()) << seed;
        EXPECT_THAT(wording.marks, IsEmpty());
        EXPECT_FALSE(looks_like_back(on.picture(), on.plate())) << seed;
    }
}

TEST(Wording, NamesNoMarkForWordsThatNoPackHas) {
    Underside on;
    two_lines(on, "BRACKENHURST", "TABLEWARE", 0);
    const Wording wording = read(on);
    EXPECT_THAT(texts(wording), ElementsAre("BRACKENHURST", "TABLEWARE"));
    EXPECT_TRUE(wording.marks.empty() || wording.marks.front().score < 0.3) << first_mark(wording);
}

TEST(Wording, EndsEarlyWhenAsked) {
    Underside on;
    two_lines(on, "SEDGEFORD", "WARRANTED", 0);
    int asked = 0;
    const Wording wording = read_wording(on.picture(), on.plate(), marks_book(), [&] { return ++asked > 0; });
    EXPECT_THAT(wording.words, IsEmpty());
}

TEST(Wording, TakesAModestTime) {
    Underside on({205, 222, 230}, {2000, 1500});
    two_lines(on, "SEDGEFORD", "WARRANTED", 70, 34);
    const Picture picture = on.picture();
    const std::clock_t before = std::clock();
    EXPECT_EQ(first_mark(read_wording(picture, on.plate(), marks_book(), {})), "m-1");
    // 0.4 s measured without optimisation; ten times that is a fault and not a slow machine.
    EXPECT_LT(static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC, 4);
}

TEST(LooksLikeBack, TellsAnUndersideFromTheFrontOfADecoratedPlate) {
    Underside on;
    two_lines(on, "SEDGEFORD", "WARRANTED", 205);
    EXPECT_TRUE(looks_like_back(on.picture(), on.plate()));
    EXPECT_TRUE(looks_like_back(on.picture(), {}));

    Underside front;  // a wreath of leaves and dots where a mark would be
    for (int i = 0; i < 24; ++i) {
        const double a = i * CV_PI / 12;
        front.speck(front.middle() + 70 * cv::Point2d(std::cos(a), std::sin(a)), i % 2 == 0 ? 6 : 3);
    }
    EXPECT_FALSE(looks_like_back(front.picture(), front.plate()));
}

}  // namespace
}  // namespace footring::photo
