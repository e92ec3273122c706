// Years, dates and care over HTTP; what each answer means is tested in src/dating and src/care.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "server/test_server.h"

namespace footring::server {
namespace {

using namespace testing;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsSupersetOf;

struct ServedWithLaw : ::testing::Test {
    static void SetUpTestSuite() {
        scratch = std::make_unique<Scratch>();
        Options options = demo_options(scratch->path());
        options.law = root() / "packs" / "law-and-marks";
        options.demo = root() / "demo" / "cupboard";
        running = std::make_unique<Running>(std::move(options));
    }
    static void TearDownTestSuite() {
        running.reset();
        scratch.reset();
    }
    static inline std::unique_ptr<Scratch> scratch;
    static inline std::unique_ptr<Running> running;
    const Running& at = *running;
};

const json kPlate = {{"id", "p-new"},
                     {"form", "dinner-plate"},
                     {"shape", {{"value", "harrow"}}},
                     {"glaze", {{"value", "oat"}}},
                     {"looks", {{{"place", "rim"}, {"value", "fern-pair"}}}}};

std::set<std::string> members(const json& list, const char* name) {
    std::set<std::string> out;
    for (const json& one : list) out.insert(one.at(name).get<std::string>());
    return out;
}

TEST_F(ServedWithLaw, OpensTheLawBesideThePacks) {
    EXPECT_THAT(members(at.get("/api/health").value()["packs"], "id"),
                IsSupersetOf({"ambrel-valley", "law-and-marks"}));
    const json counts = at.get("/api/book").value()["counts"];
    for (const char* table : {"clues", "number-series", "series-numbers", "trade-counts"}) {
        const json rows = at.get(std::string("/api/book/") + table).value();
        EXPECT_GT(rows["total"], 0) << table;
        EXPECT_EQ(rows["total"], counts[table]) << table;
    }
    const json series = at.get("/api/book/number-series/uk-registered-designs").value();
    EXPECT_GT(series["numbers"].size(), 50u);
    EXPECT_EQ(series["numbers"][0]["year"], 1884);
    EXPECT_EQ(at.get("/api/book/series-numbers/0").value()["series"]["id"], "uk-registered-designs");
    EXPECT_EQ(at.get("/api/book/series-numbers/99999").problem(),
              "not-found: series-numbers: there is no number of a series 99999: see the list of series-numbers");
}

TEST_F(ServedWithLaw, TheYearsOfAnOrnamentHaveOnesPieces) {
    const json years = at.get("/api/years?of=ornament:fern-pair").value();
    EXPECT_EQ(years["title"], "Fern pair across shapes");
    EXPECT_GT(years["lanes"].size(), 3u);
    EXPECT_GT(years["ticks"].size(), 0u);
    EXPECT_GT(years["pieces"].size(), 0u);
    EXPECT_EQ(at.get("/api/years?of=ornament:fern-pair").value(), years) << "kept, and the same";
    std::set<std::string> shapes;
    for (const json& lane : years["lanes"]) shapes.insert(lane["shape"]["id"].get<std::string>());
    for (const json& piece : years["pieces"])
        if (piece["lane"].is_string()) {
            EXPECT_THAT(shapes, Contains(piece["lane"].get<std::string>()));
        }
}

TEST_F(ServedWithLaw, TheYearsOfOnesPiecesFollowAChange) {
    json piece = kPlate;
    EXPECT_EQ(at.post("/api/pieces", {{"piece", piece}}).status, 201);
    const auto median = [&] {
        const json years = at.get("/api/years?of=cupboard").value();
        for (const json& one : years["pieces"])
            if (one["id"] == "p-new") return one["median"].get<int>();
        return 0;
    };
    const int before = median();
    EXPECT_GT(before, 1900);
    const json kept = at.get("/api/pieces/p-new").value();
    ASSERT_EQ(at.post("/api/pieces/p-new/decide",
                      {{"treatment", "t-212"}, {"date", "1913"}, {"revision", kept["revision"]}})
                  .status,
              200);
    EXPECT_EQ(median(), 1913);
}

TEST_F(ServedWithLaw, RefusesAChronologyOfNothing) {
    EXPECT_EQ(
        at.get("/api/years").problem(),
        "bad-input: query: of: '' names nothing that has years: write ornament:ID, shape:ID, maker:ID, glaze:ID, "
        "treatment:ID, lot:ID or cupboard");
    EXPECT_EQ(at.get("/api/years?of=lot:none").problem(),
              "not-found: query: of: there is no lot 'none': check its id on the Cupboard page");
}

TEST_F(ServedWithLaw, ADateHearsTheWordingOnThePiece) {
    const json before = at.post("/api/date", {{"piece", kPlate}}).value();
    const json after = at.post("/api/date", {{"piece", kPlate}, {"clues", {"Made in Occupied Japan"}}}).value();
    EXPECT_EQ(after["statements"].size(), before["statements"].size() + 1);
    EXPECT_EQ(after["statements"].back()["subject"], "wording occupied-japan");
    EXPECT_GT(after["date"]["median"], before["date"]["median"]);
}

TEST_F(ServedWithLaw, AnExaminationTellsWhatToBeCarefulWith) {
    const json answer = at.post("/api/examine", {{"piece", kPlate}}).value();
    const json care = at.post("/api/care/cautions", {{"piece", kPlate}}).value();
    EXPECT_EQ(answer["cautions"], care["cautions"]);
    EXPECT_THAT(members(care["cautions"], "id"), IsSupersetOf({"metal-trim", "crazing", "dishwasher"}));
    EXPECT_THAT(care["defers"].get<std::string>(), HasSubstr("accredited laboratory"));
    EXPECT_THAT(care.dump(), ::testing::Not(HasSubstr("safe")));
    EXPECT_GT(at.get("/api/care/cautions/p-0041").value()["cautions"].size(), 0u);
}

TEST_F(ServedWithLaw, ResultsAreHeldToEachLimitAsTheCommandDoes) {
    const json units = {{{"unit", "A"}, {"lead_mg_per_l", 1.2}}, {{"unit", "B"}, {"lead_mg_per_l", "<0.02"}}};
    const json listed =
        at.post("/api/care/leach", {{"depth_mm", 60}, {"volume_ml", 900}, {"units", units}}).value();
    const json as_file =
        at.post("/api/care/leach",
                {{"depth_mm", 60}, {"volume_ml", 900}, {"csv", "unit,lead_mg_per_l\nA,1.2\nB,<0.02\n"}})
            .value();
    EXPECT_EQ(listed, as_file);
    EXPECT_EQ(listed["units"], 2);
    EXPECT_EQ(at.post("/api/care/leach", {{"units", {{{"lead", 1}}}}}).problem(),
              "bad-input: units/0/lead: is no member of a result: use unit, lead_mg_per_l, cadmium_mg_per_l, "
              "lead_mg_per_dm2, cadmium_mg_per_dm2, lead_ug_per_ml, cadmium_ug_per_ml");
}

}  // namespace
}  // namespace footring::server
