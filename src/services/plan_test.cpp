// SPDX-License-Identifier: Apache-2.0
#include "services/plan.h"

#include "services/test_services.h"

namespace footring::services {
namespace {

using namespace testing;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::vector<std::string> lines_of(const std::vector<Problem>& problems) {
    std::vector<std::string> out;
    for (const Problem& problem : problems) out.push_back(to_line(problem));
    return out;
}
std::vector<std::string> faults_of(const std::string& text) {
    const auto given = given_from_text(text, "tea.json");
    return given ? std::vector<std::string>{} : lines_of(given.error());
}

TEST(SuppliedCompositions, HoldWhatTheirNamesSay) {
    std::map<std::string, int> places;
    for (const Composition& c : supplied_compositions()) {
        places[c.id] = places_of(c, c.settings);
        EXPECT_TRUE(c.supplied);
        EXPECT_THAT(c.note, HasSubstr("Common practice of the trade; no published source."));
    }
    EXPECT_EQ(places["setting-of-five"], 5);
    EXPECT_EQ(places["service-for-4"], 24);
    EXPECT_EQ(places["service-for-6"], 34);
    EXPECT_EQ(places["service-for-8"], 44);
    EXPECT_EQ(places["service-for-12"], 64);
    EXPECT_EQ(places["set-of-52"], 52);
    EXPECT_EQ(places["set-of-95"] + 2, 95);  // the lids of the sugar and of the covered dish
}
TEST(SuppliedCompositions, ComeBackFromTheirOwnJson) {
    for (Composition c : supplied_compositions()) {
        const auto read = composition_from_json(nlohmann::json(to_json(c)), "x");
        ASSERT_TRUE(read) << to_line(read.error().front());
        c.supplied = false;
        EXPECT_EQ(*read, c);
    }
}

TEST(ServiceFile, ComesBackFromItsOwnJson) {
    Service s = service("fern-tea", {"t-11", "t-12"}, composition(6, {line({"cup"}), line({"saucer"}, 2)}));
    s.settings = 4;
    s.grades = Grades::kFirst;
    s.worst_wear = looks::Wear::kLight;
    s.worst_faults = looks::Faults::kFew;
    s.least_odds = 0.7;
    s.weight = 2.5;
    s.setting_value = 40;
    s.insist = {"p-1"};
    s.refuse = {"p-2"};
    s.note = "For the bay window.";
    const auto read = service_from_json(nlohmann::json(to_json(s)), "x");
    ASSERT_TRUE(read) << to_line(read.error().front());
    EXPECT_EQ(*read, s);
}
TEST(ServiceFile, MayBeOneAListOrCompositionsWithServices) {
    const std::string one = R"({"id": "a", "treatments": "t-11", "composition": "service-for-4"})";
    EXPECT_EQ(given_from_text(one, "x")->services.size(), 1u);
    EXPECT_EQ(given_from_text("[" + one + "," + one + "]", "x")->services.size(), 2u);
    const auto both = given_from_text(
        R"({"compositions": [{"id": "c", "serving": [{"forms": "cup"}]}], "services": [)" + one + "]}", "x");
    EXPECT_EQ(both->compositions.size(), 1u);
    EXPECT_EQ(both->compositions[0].settings, 0);
    EXPECT_EQ(both->services[0].treatments, std::vector<std::string>{"t-11"});
}
TEST(ServiceFile, TellsEachFaultAtItsPlaceAtOnce) {
    EXPECT_THAT(faults_of(R"({"id": "Fern Tea", "treatments": [], "composition": "x", "grades": "none",
                              "settings": -1, "colour": "red", "least_odds": 0, "insist": ["p-1", "p-1"]})"),
                ElementsAre("tea.json: /id: 'Fern Tea' is no id: use a-z, 0-9 and single hyphens",
                            "tea.json: /treatments: no treatment is named: name one or more, such as [\"t-117\"]",
                            "tea.json: /settings: -1 cannot be: write a whole number from 0 to 1000",
                            "tea.json: /grades: 'none' is not known here: use one of mixed, first, second",
                            "tea.json: /least_odds: 0 cannot be: write a number from 0.001 to 1",
                            "tea.json: /insist: 'p-1' is named twice: name it once",
                            "tea.json: /colour: there is no such member: use id, name, note, treatments, "
                            "composition, settings, grades, worst_wear, worst_faults, least_odds, weight, "
                            "setting_value, insist, refuse"));
    EXPECT_THAT(faults_of(R"([{"treatments": ["t-11"], "composition": {"settings": 2}}])"),
                ElementsAre("tea.json: /0/composition: the composition has no line: nothing could fill it: write "
                            "what is for each person under setting, and what is for all under serving"));
    EXPECT_THAT(
        faults_of(R"({"treatments": ["t-11"], "composition": {"setting": [{"forms": [], "count": 0}]},
                              "insist": ["p-1"], "refuse": ["p-1"]})"),
        ElementsAre("tea.json: /composition/setting/0/count: 0 cannot be: write a whole number from 1 to 1000",
                    "tea.json: /composition/setting/0/forms: no form is named: name the forms that will do, "
                    "such as [\"dinner-plate\"]",
                    "tea.json: /insist: 'p-1' is insisted on and refused: keep one of the two"));
}
TEST(ServiceFile, NeverFallsOverWhateverTypesItHas) {
    const nlohmann::json odd[] = {nullptr, 1, -1.5, "x", true, nlohmann::json::array({1}), {{"a", 1}}};
    const nlohmann::json sound =
        to_json(service("a", {"t-11"}, composition(2, {line({"cup"})}, {line({"nappy"})})));
    for (const auto& [name, value] : sound.items())
        for (const nlohmann::json& wrong : odd) {
            nlohmann::json copy = sound;
            copy[name] = wrong;
            (void)given_from_json(copy, "x");
            copy = sound;
            if (name != "composition") copy["composition"][name] = wrong;
            copy["composition"]["setting"][0]["forms"] = wrong;
            (void)given_from_json(copy, "x");
        }
    for (const nlohmann::json& wrong : odd) EXPECT_EQ(given_from_json(wrong, "x").has_value(), false) << wrong;
}

TEST(Plan, FindsFormsByIdByNameAndByThesaurus) {
    const book::Book book = small_book();
    EXPECT_THAT(forms_called(book, "cup"), ElementsAre(Ref<Form>{1}));
    EXPECT_THAT(forms_called(book, "north:cup"), ElementsAre(Ref<Form>{1}));
    EXPECT_THAT(forms_called(book, "tea-cup"), ElementsAre(Ref<Form>{1}));
    EXPECT_THAT(forms_called(book, "DINNER PLATE"), ElementsAre(Ref<Form>{0}));
    EXPECT_THAT(forms_called(book, "aat:300195535"), ElementsAre(Ref<Form>{2}));
    EXPECT_THAT(forms_called(book, "aat:30019553"), IsEmpty());
    EXPECT_THAT(forms_called(book, "ice-bucket"), IsEmpty());
    EXPECT_THAT(forms_called(book, ""), IsEmpty());
}
TEST(Plan, AsksTheThesaurusOnlyWhereNoOtherWordIsMet) {
    book::Book book = small_book();
    book.forms[6].aat = "http://vocab.getty.edu/aat/300043202";  // the egg cup has the term of the cup
    book.index();
    const auto made =
        planned({service("a", {"t-11"},
                         composition(1, {line({"cup", "aat:300043202"}), line({"beaker", "aat:300043202"})}))},
                book);
    EXPECT_THAT(made.services[0].lines[0].forms, ElementsAre(Ref<Form>{1}));
    EXPECT_THAT(made.services[0].lines[1].forms, ElementsAre(Ref<Form>{1}, Ref<Form>{6}));
}
TEST(Plan, RefusesWhatNothingCanFillAndNamesIt) {
    const book::Book book = small_book();
    const auto refused = [&](Service s) {
        const auto made = plan(std::vector{std::move(s)}, {}, book, {}, "tea.json");
        return made ? std::vector<std::string>{} : lines_of(made.error());
    };
    EXPECT_THAT(
        refused(service("a", {"t-11"}, composition(1, {line({"cupp"}), line({"saucer"})}))),
        ElementsAre("tea.json: a/composition: no form of the open packs is called 'cupp': nothing could fill "
                    "the line 'cupp': did you mean 'cup'?"));
    EXPECT_THAT(refused(service("a", {"t-11"}, composition(1, {line({"egg-cup"})}))),
                ElementsAre("tea.json: a/composition: nothing can fill the composition 'own': Reed has none of its "
                            "forms on record: name forms that the shape was made in, or another treatment"));
    EXPECT_THAT(refused(service("a", {"t-19"}, composition(1, {line({"cup"})}))), ElementsAre(HasSubstr("t-19")));
    Service other = service("a", {"t-11"}, {});
    other.own.reset();
    other.composition = "service-for-9";
    EXPECT_THAT(refused(other),
                ElementsAre("tea.json: a/composition: there is no composition 'service-for-9': did you "
                            "mean 'service-for-4'?"));
    const auto twice = plan(std::vector{service("a", {"t-11"}, composition(1, {line({"cup"})})),
                                        service("a", {"t-12"}, composition(1, {line({"cup"})}))},
                            {}, book, {}, "tea.json");
    EXPECT_THAT(lines_of(twice.error()),
                ElementsAre("tea.json: a/id: two services are called 'a': give one of them another id"));
}
TEST(Plan, NotesALineThatTheShapeWasNeverMadeIn) {
    const book::Book book = small_book();
    const auto made =
        planned({service("Fern", {"t-11"},
                         composition(2, {line({"cup"}), line({"egg-cup"})}, {line({"egg-cup"}), line({"nappy"})}))},
                book);
    EXPECT_THAT(made.notes, ElementsAre("Fern: Reed has no egg cup on record, so no setting can be complete.",
                                        "Fern: Reed has no egg cup on record; its place stays empty."));
    EXPECT_FALSE(made.services[0].lines[1].made);
    EXPECT_TRUE(made.services[0].lines[3].made);
}
TEST(Plan, LetsASuppliedCompositionStandWhereSomeOfItsFormsAreUnknown) {
    const book::Book book = small_book();
    Service s = service("fern", {"t-11"}, {});
    s.own.reset();
    s.composition = "service-for-4";
    const auto made = planned({s}, book);
    EXPECT_EQ(made.services[0].settings, 4);
    EXPECT_EQ(made.services[0].lines.size(), 9u);
    EXPECT_THAT(made.notes, ::testing::Contains(HasSubstr("Reed has no bread and butter plate on record")));
}

TEST(Prices, TakeTheMostExactRow) {
    const book::Book book = small_book();
    const auto prices =
        prices_from_csv(book, "treatment,form,price\n,,3\n,cup,8\nt-12,,5\nt-12,cup,12.5\n", "p.csv");
    ASSERT_TRUE(prices);
    EXPECT_EQ(prices->of({0}, {2}).amount, 3);
    EXPECT_EQ(prices->of({0}, {1}).amount, 8);
    EXPECT_EQ(prices->of({1}, {2}).amount, 5);
    EXPECT_EQ(prices->of({1}, {1}).amount, 12.5);
    EXPECT_EQ(Prices().of({1}, {1}).amount, 1);
}
TEST(Prices, TakeTheRowOfTheGradeBeforeThatOfAny) {
    const Prices prices({{Ref<Treatment>{0}, Ref<Form>{1}, 8},
                         {Ref<Treatment>{0}, Ref<Form>{1}, 5, Grades::kSecond},
                         {{}, {}, 2, Grades::kFirst}});
    EXPECT_EQ(prices.of({0}, {1}, Grades::kSecond).amount, 5);
    EXPECT_EQ(prices.of({0}, {1}, Grades::kFirst).amount, 8);
    EXPECT_EQ(prices.of({0}, {1}).amount, 8);
    EXPECT_EQ(prices.of({1}, {1}, Grades::kFirst).amount, 2);
    EXPECT_EQ(prices.of({1}, {1}).amount, 1);
}
TEST(Prices, TellEachFaultWithLineAndColumn) {
    const book::Book book = small_book();
    const auto prices = prices_from_csv(book, "treatment,form,price\nt-11,cupp,2\nt-11,cup,-1\n", "p.csv");
    ASSERT_FALSE(prices);
    EXPECT_THAT(lines_of(prices.error()),
                ElementsAre(HasSubstr("p.csv:2:6"),
                            "p.csv:3:10: this is no price: write a number that is not negative, such as 12.50"));
    EXPECT_THAT(
        lines_of(prices_from_csv(book, "a,b\n", "p.csv").error()),
        ElementsAre("p.csv:1:1: this is no table of prices: give it a first line with treatment,form,price"));
}

}  // namespace
}  // namespace footring::services
