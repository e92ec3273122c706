// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <sstream>

#include "base/text.h"
#include "book/csv.h"
#include "book/pack_text.h"
#include "care/cautions.h"
#include "care/leaching.h"

namespace footring::care {
namespace {

using ::testing::ElementsAre;
using ::testing::EndsWith;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

// ---- limits, against the published table

TEST(Limits, AreThoseOfThePublishedTable) {
    std::ifstream in(std::string(FOOTRING_ROOT) + "/tests/facts/leach_limits.csv", std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    const std::string text = bytes.str();
    const book::Csv csv = book::read_csv(text);
    std::size_t at = 0;
    for (std::size_t row = 1; row < csv.rows.size(); ++row) {
        std::map<std::string, std::string> fact;
        for (std::size_t i = 0; i < csv.rows[row].cells.size(); ++i)
            fact[csv.rows[0].cells[i].text] = csv.rows[row].cells[i].text;
        if (fact["limit"].empty()) continue;  // a law that takes over the limits of another
        ASSERT_LT(at, all_limits().size());
        const Limit& ours = all_limits()[at++];
        EXPECT_EQ(ours.authority, fact["authority"]);
        EXPECT_EQ(ours.document, fact["document"]);
        EXPECT_EQ(name_of(ours.substance), fact["substance"]);
        EXPECT_EQ(ours.category_words, fact["category"]);
        EXPECT_EQ(ours.limit, *to_number(fact["limit"])) << fact["document"] << fact["category"];
        const std::string unit = fact["unit"].starts_with("ug/mL") ? "mg/L" : fact["unit"];
        EXPECT_EQ(unit_of(ours.measure), unit);
        EXPECT_EQ(ours.value_verified, fact["value_checked"] == "verified") << fact["document"];
        EXPECT_EQ(ours.sampling_verified, fact["sampling_checked"] == "verified") << fact["document"];
        EXPECT_EQ(ours.in_force, fact["document"].find("level, in force before") == std::string::npos &&
                                     fact["document"].find("level of 19") == std::string::npos);
        const std::string& sampling = fact["sampling_basis"];
        EXPECT_EQ(ours.sampling, sampling == "average of 6 units"   ? Sampling::kAverageOfSix
                                 : sampling == "any one of 6 units" ? Sampling::kAnyOfSix
                                 : sampling.starts_with("each")     ? Sampling::kEachWithThree
                                                                    : Sampling::kNotGiven)
            << sampling;
        EXPECT_EQ(ours.note, fact["note"]);
    }
    EXPECT_EQ(at, all_limits().size());
}

// ---- verdicts

std::vector<UnitResult> lead(std::vector<double> mg_per_l) {
    std::vector<UnitResult> out;
    for (std::size_t i = 0; i < mg_per_l.size(); ++i) {
        out.push_back({std::to_string(i + 1), {}});
        out.back().amount[0][0] = Amount{mg_per_l[i], mg_per_l[i]};
    }
    return out;
}
std::vector<UnitResult> lead_per_area(std::vector<double> mg_per_dm2) {
    auto out = lead(mg_per_dm2);
    for (UnitResult& unit : out) std::swap(unit.amount[0][0], unit.amount[0][1]);
    return out;
}
// "pass: because" of the one limit in force of that authority for lead.
std::string says(std::string_view authority, const Vessel& vessel, const std::vector<UnitResult>& results,
                 std::string_view document = "") {
    for (const LimitVerdict& v : compare(vessel, results).verdicts)
        if (v.limit->authority == authority && v.limit->substance == Substance::kLead && v.limit->in_force &&
            v.limit->measure != Measure::kPerDay && v.limit->document.find(document) != std::string_view::npos)
            return fmt::format("{}: {}", name_of(v.verdict), v.because);
    return "no limit";
}
const Vessel kPlate{22, {}, Use::kTable}, kBowl{60, 900, Use::kTable}, kCupOf240{70, 240, Use::kCup},
    kCrock{200, 4000, Use::kStorage}, kPan{80, 1500, Use::kCooking};

TEST(Leaching, ThePlatesOfTheGuideAreAveraged) {
    EXPECT_EQ(says("US FDA", kPlate, lead({1, 2, 3, 4, 5, 2.9})),
              "pass: the average of 6 units is 2.983 mg/L, not over the limit of 3 mg/L");
    EXPECT_EQ(says("US FDA", kPlate, lead({1, 2, 3, 4, 5, 3.1})),
              "fail: the average of 6 units is 3.017 mg/L, over the limit of 3 mg/L");
    EXPECT_EQ(says("US FDA", kPlate, lead({1, 1, 1, 1, 1})),
              "cannot tell: the average of 5 units is 1 mg/L, but the rule takes six units");
    EXPECT_EQ(says("US FDA", kPlate, lead({3, 3, 3, 3, 3, 3})),
              "pass: the average of 6 units is 3 mg/L, not over the limit of 3 mg/L")
        << "at the limit is not over it";
}

TEST(Leaching, AnyOneUnitOfHollowWareDecides) {
    EXPECT_EQ(says("US FDA", kBowl, lead({.1, .1, .1, .1, .1, 2.1})),
              "fail: unit 6 is 2.1 mg/L, over the limit of 2 mg/L");
    EXPECT_EQ(says("US FDA", kBowl, lead({2.1})), "fail: unit 1 is 2.1 mg/L, over the limit of 2 mg/L")
        << "one is enough to fail, and not enough to pass";
    EXPECT_EQ(says("US FDA", kBowl, lead({1.9})),
              "cannot tell: the only unit is 1.9 mg/L, not over the limit of 2 mg/L, but the rule takes "
              "six units");
    EXPECT_EQ(says("US FDA", kBowl, lead({.1, .1, .1, .1, .1, 2})),
              "pass: the highest of 6 units is 2 mg/L, not over the limit of 2 mg/L");
    EXPECT_EQ(says("US FDA", kCupOf240, lead({.1, .1, .1, .1, .1, .6})),
              "fail: unit 6 is 0.6 mg/L, over the limit of 0.5 mg/L");
    EXPECT_EQ(says("US FDA", {90, 1500, Use::kTable}, lead({1.1})),
              "fail: unit 1 is 1.1 mg/L, over the limit of 1 mg/L");
}

TEST(Leaching, TheDirectiveLetsThreeOthersSpeakForOneThatIsOver) {
    EXPECT_EQ(says("European Union", kBowl, lead({3.9})),
              "pass: the only unit is 3.9 mg/L, not over the limit of 4 mg/L");
    EXPECT_EQ(says("European Union", kBowl, lead({5, 1, 1})),
              "cannot tell: unit 1 is 5 mg/L, over the limit of 4 mg/L by up to half: at least three other like "
              "articles have "
              "to be tested");
    EXPECT_EQ(says("European Union", kBowl, lead({5, 3, 4, 4})),
              "pass: unit 1 is 5 mg/L, over the limit of 4 mg/L by up to half; the other 3 average 3.667 mg/L");
    EXPECT_EQ(says("European Union", kBowl, lead({5, 5, 5, 5})),
              "fail: unit 1 is 5 mg/L, over the limit of 4 mg/L by up to half; the other 3 average 5 mg/L");
    EXPECT_EQ(says("European Union", kBowl, lead({6.1, 0, 0, 0})),
              "fail: unit 1 is 6.1 mg/L, over the limit of 4 mg/L by more than half");
    EXPECT_EQ(says("European Union", kBowl, lead({6, 0, 0, 0})),
              "pass: unit 1 is 6 mg/L, over the limit of 4 mg/L by up to half; the other 3 average 0 mg/L");
    // Every way of two amounts over four units, against the article written out plainly.
    for (int code = 0; code < 81; ++code) {
        constexpr double kAmounts[] = {3, 5.5, 6.5};
        std::vector<double> units;
        for (int i = 0, rest = code; i < 4; ++i, rest /= 3) units.push_back(kAmounts[rest % 3]);
        bool passes = true;
        for (std::size_t i = 0; i < 4; ++i) {
            double others = 0;
            bool far = false;
            for (std::size_t j = 0; j < 4; ++j)
                if (j != i) others += units[j] / 3, far = far || units[j] > 6;
            passes = passes && (units[i] <= 4 || (units[i] <= 6 && others <= 4 && !far));
        }
        EXPECT_EQ(says("European Union", kBowl, lead(units)).starts_with("pass"), passes) << code;
    }
}

TEST(Leaching, PerAreaAndPerVolumeAreNeverTurnedIntoEachOther) {
    EXPECT_EQ(says("European Union", kPlate, lead({0.1})), "cannot tell: no unit has a result for lead per area");
    EXPECT_EQ(
        says("European Union", kPlate, lead_per_area({0.9})),
        "cannot tell: unit 1 is 0.9 mg/dm2, over the limit of 0.8 mg/dm2 by up to half: at least three other like "
        "articles have to be tested");
    EXPECT_EQ(says("European Union", kPlate, lead_per_area({0.7})),
              "pass: the only unit is 0.7 mg/dm2, not over the limit of 0.8 mg/dm2");
    EXPECT_EQ(says("US FDA", kPlate, lead_per_area({0.1})),
              "cannot tell: no unit has a result for lead per volume");
}

TEST(Leaching, CategoriesComeFromDepthVolumeAndUse) {
    const auto categories = [](const Vessel& v) { return compare(v, lead({1})).categories; };
    const std::string eu = "European Union: category ";
    EXPECT_THAT(categories(kPlate),
                ElementsAre("US FDA: flatware", eu + "1: cannot be filled, or internal depth not over 25 mm",
                            "ISO: flatware", "California: flatware"));
    EXPECT_THAT(categories({25, {}, Use::kTable}).front(), "US FDA: flatware") << "25 mm itself is flat";
    EXPECT_THAT(categories({25.1, 1099, Use::kTable}),
                ElementsAre("US FDA: small hollowware", "US FDA: small hollowware other than cups and mugs",
                            eu + "2: all other articles that can be filled", "ISO: small hollowware",
                            "California: all other tableware (hollowware)"));
    EXPECT_THAT(categories({90, 1100, Use::kTable}).front(), "US FDA: large hollowware");
    EXPECT_THAT(categories(kCupOf240),
                ElementsAre("US FDA: small hollowware", "US FDA: cups and mugs",
                            eu + "2: all other articles that can be filled", "ISO: cups and mugs",
                            "California: all other tableware (hollowware)"));
    EXPECT_THAT(
        categories({150, 1500, Use::kPitcher}),
        ElementsAre("US FDA: large hollowware", "US FDA: pitchers", eu + "2: all other articles that can be filled",
                    "ISO: large hollowware", "California: all other tableware (hollowware)"));
    EXPECT_THAT(categories(kCrock),
                ElementsAre("US FDA: large hollowware", "US FDA: large hollowware other than pitchers",
                            eu + "3: cooking ware; packaging and storage vessels over 3 L",
                            "ISO: storage hollowware", "California: all other tableware (hollowware)"));
    EXPECT_THAT(categories({200, 3000, Use::kStorage})[2], eu + "2: all other articles that can be filled")
        << "over 3 L, not 3 L";
    EXPECT_THAT(categories(kPan)[2], eu + "3: cooking ware; packaging and storage vessels over 3 L");
    EXPECT_EQ(says("US FDA", {}, lead({1})),
              "cannot tell: whether it is for this vessel depends on its depth inside");
    EXPECT_EQ(says("US FDA", {60, {}, Use::kTable}, lead({1})),
              "cannot tell: whether it is for this vessel depends on its volume");
}

TEST(Leaching, LessThanCanBeMeasuredIsNotZero) {
    auto units = lead({.01, .01, .01, .01, .01, .01});
    units[2].amount[0][0] = Amount{0, 0.05};
    EXPECT_EQ(says("US FDA", kBowl, units),
              "pass: the highest of 6 units is under 0.05 mg/L, not over the limit of 2 mg/L");
    units[2].amount[0][0] = Amount{0, 3};
    EXPECT_EQ(says("US FDA", kBowl, units),
              "cannot tell: unit 3 is under 3 mg/L, and the limit of 2 mg/L lies below what was measured");
}

TEST(Leaching, EarlierLevelsAndUnverifiedOnesSaySo) {
    const LeachReport report = compare(kPlate, lead({1, 1, 1, 1, 1, 1}));
    int earlier = 0, unverified = 0;
    for (const LimitVerdict& v : report.verdicts)
        earlier += !v.limit->in_force, unverified += !v.limit->value_verified;
    EXPECT_EQ(earlier, 2) << "7 for plates until 1991, and 7 for all from 1971";
    EXPECT_GT(unverified, 0);
    EXPECT_THAT(report.notes, ::testing::Contains(HasSubstr("unverified")));
    EXPECT_THAT(report.notes, ::testing::Contains(HasSubstr("accredited laboratory")));
}

TEST(Leaching, NeverCallsAnythingSafe) {
    for (const Vessel& v : {kPlate, kBowl, kCupOf240, kCrock, kPan, Vessel{}})
        EXPECT_THAT(lower(leach_json(compare(v, lead({0, 0, 0, 0, 0, 0}))).dump()), Not(HasSubstr("\"safe")))
            << "as a verdict";
    for (const Vessel& v : {kPlate, kBowl})
        for (const LimitVerdict& one : compare(v, lead({0})).verdicts)
            EXPECT_THAT(one.because, Not(HasSubstr("safe")));
}

// ---- the results file

std::vector<std::string> faults(std::string_view csv) {
    std::vector<std::string> out;
    const auto read = read_results(csv, "r.csv");
    if (!read)
        for (const Problem& p : read.error()) out.push_back(to_line(p));
    return out;
}

TEST(Results, AreReadWithTheirUnits) {
    const auto read =
        read_results("unit,lead_mg_per_l,cadmium_ug_per_ml,lead_mg_per_dm2\nA,0.5,<0.02,\n,1,,0.3\n", "r.csv");
    ASSERT_TRUE(read);
    ASSERT_EQ(read->size(), 2u);
    EXPECT_EQ((*read)[0].unit, "A");
    EXPECT_EQ((*read)[1].unit, "2") << "a unit without a name gets its number";
    EXPECT_EQ((*read)[0].amount[0][0], (Amount{0.5, 0.5}));
    EXPECT_EQ((*read)[0].amount[1][0], (Amount{0, 0.02}));
    EXPECT_FALSE((*read)[0].amount[0][1]);
    EXPECT_EQ((*read)[1].amount[0][1], (Amount{0.3, 0.3}));
}

TEST(Results, MayBeSeparatedAsSpreadsheetsDo) {
    for (const char* text : {"unit;lead_mg_per_l\nA;<0.02\n", "unit\tlead_mg_per_l\nA\t<0.02\n"}) {
        const auto read = read_results(text, "r.csv");
        ASSERT_TRUE(read) << text;
        EXPECT_EQ(read->front().amount[0][0], (Amount{0, 0.02}));
    }
    EXPECT_EQ(faults("unit;lead_mg_per_l\nA;1,2\n").size(), 1u) << "1.2 or 1200?";
}

TEST(Results, AColumnOfAnotherUnitIsNeverTakenForANearOne) {
    // Each is one letter from a column that would be wrong a thousandfold.
    for (const char* name : {"lead_ug_per_l", "cadmium_\u00b5g_per_l", "lead_ppb_per_l"}) {
        const auto told = faults(std::string("unit,") + name + "\nA,1200\n");
        ASSERT_EQ(told.size(), 1u) << name;
        EXPECT_THAT(told[0],
                    EndsWith("lead_ug_per_ml, cadmium_ug_per_ml; 1000 ug per l, or 1 ug per ml, are 1 mg per l"));
        EXPECT_THAT(told[0], Not(HasSubstr("did you mean")));
    }
}

TEST(Results, EveryFaultIsToldWithItsPlace) {
    EXPECT_THAT(faults("unit,lead_mg_perl\nA,1\n"),
                ElementsAre("r.csv:1:6: the column 'lead_mg_perl' is none of those of results: did you mean "
                            "'lead_mg_per_l'?"));
    EXPECT_THAT(
        faults("unit,lead_mg_per_l\nA,1 mg\nA,-1\n"),
        ElementsAre(
            "r.csv:2:3: lead_mg_per_l '1 mg' is not an amount: write a number such as 0.35, or <0.02 for less "
            "than can be measured, without its unit",
            "r.csv:3:1: the unit 'A' stands twice: give each unit one row and its own name",
            "r.csv:3:3: lead_mg_per_l '-1' is not an amount: write a number such as 0.35, or <0.02 for less "
            "than can be measured, without its unit"));
    EXPECT_THAT(
        faults("lead_mg_per_l,lead_ug_per_ml\n1,1\n"),
        ElementsAre("r.csv:1:15: the column 'lead_ug_per_ml' says what another column says: keep one of them"));
    EXPECT_THAT(faults("unit\nA\n").size(), 1u);
    EXPECT_THAT(faults("lead_mg_per_l\n"),
                ElementsAre("r.csv:1:1: has no unit: add a row for each unit that was tested"));
    EXPECT_THAT(faults(""), ElementsAre("r.csv:1:1: is empty: begin with a line that names the columns: "
                                        "unit,lead_mg_per_l,cadmium_mg_per_l"));
}

// ---- cautions

const book::Book& small_book() {
    static const book::Book book = book::book_from_tables(
        {{"shapes", "id\nharrow\n"},
         {"forms", "id,ware\nplate,flat\nsugar,hollow\n"},
         {"glazes", "id,name,uranium\nmango,Mango,yes\noat,Oat,no\n"},
         {"ornaments", "id,name,kind,finish\nfern,Fern,stamp,gold\nrose,Rose,print,red\n"},
         {"treatments", "id,shape,glaze\nt-1,harrow,mango\nt-2,harrow,oat\n"},
         {"treatment_ornaments", "treatment,place,ornament,on,share\nt-1,rim,fern,*,1\nt-2,rim,rose,*,1\n"}});
    return book;
}
std::vector<std::string> ids(const looks::Findings& findings, std::vector<naming::Candidate> candidates = {},
                             std::optional<int> year = {}) {
    std::vector<std::string> out;
    for (const Caution& c : cautions(small_book(), findings, candidates, year)) out.push_back(c.id);
    return out;
}
looks::Findings plate() {
    looks::Findings out;
    out.form = {0};
    return out;
}
looks::Findings with_rim(looks::Findings out, std::uint32_t ornament) {
    looks::OrnamentSighting sighting;
    sighting.value = book::Ref<book::Ornament>{ornament};
    sighting.sure = 0.98;
    sighting.place = book::Place::kRim;
    sighting.look = 0;
    out.ornaments.push_back(sighting);
    return out;
}

TEST(Cautions, ComeFromWhatWasSeen) {
    EXPECT_THAT(ids(plate()), ElementsAre("crazing"));
    EXPECT_THAT(ids(with_rim(plate(), 0)), ElementsAre("metal-trim", "crazing", "dishwasher", "stacking"));
    EXPECT_THAT(ids(with_rim(plate(), 1)), ElementsAre("crazing")) << "a print under the glaze";
    looks::Findings worn = with_rim(plate(), 0);
    worn.wear = looks::Wear::kHeavy;
    EXPECT_THAT(ids(worn), ElementsAre("metal-trim", "worn-decoration", "crazing", "dishwasher", "stacking"));
    looks::Findings bowl = with_rim(plate(), 0);
    bowl.form = {1};
    EXPECT_THAT(ids(bowl), ElementsAre("metal-trim", "crazing", "dishwasher"))
        << "hollow ware does not stack face to foot";
}

TEST(Cautions, ComeFromCandidatesWithTheirChance) {
    EXPECT_THAT(ids(plate(), {{{0}, 0.3, {}}, {{1}, 0.7, {}}}),
                ElementsAre("metal-trim", "uranium-glaze", "crazing", "dishwasher", "stacking"));
    EXPECT_THAT(ids(plate(), {{{0}, 0.04, {}}, {{1}, 0.96, {}}}), ElementsAre("crazing"))
        << "too unlikely to be heard";
    const auto list = cautions(small_book(), plate(), std::vector<naming::Candidate>{{{0}, 0.3, {}}}, {});
    EXPECT_NEAR(list[0].chance, 0.3, 1e-12);
    EXPECT_THAT(ids(with_rim(plate(), 1), {{{0}, 0.3, {}}}), ElementsAre("uranium-glaze", "crazing"))
        << "the rim was looked at: what a candidate would carry there does not count";
    EXPECT_THAT(ids(plate(), {}, 1934), ElementsAre("early-ware", "crazing"));
    EXPECT_THAT(ids(plate(), {}, 1971), ElementsAre("crazing"));
}

TEST(Cautions, PromiseNothing) {
    looks::Findings worn = with_rim(plate(), 0);
    worn.wear = looks::Wear::kHeavy;
    for (const Caution& c : cautions(small_book(), worn, std::vector<naming::Candidate>{{{0}, 1, {}}}, 1934)) {
        EXPECT_THAT(lower(c.text), Not(HasSubstr("safe"))) << c.id;
        EXPECT_THAT(c.because, Not(IsEmpty())) << c.id;
    }
}

}  // namespace
}  // namespace footring::care
