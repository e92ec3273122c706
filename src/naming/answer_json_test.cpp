// SPDX-License-Identifier: Apache-2.0
#include "naming/answer_json.h"

#include <gtest/gtest.h>

namespace footring::naming {
namespace {

book::Book small_book() {
    book::Book book;
    book.packs.push_back({.id = "demo",
                          .title = "Demo",
                          .version = "1",
                          .description = "",
                          .folder = "",
                          .digest = "",
                          .contributors = {}});
    book.sources.push_back({.id = "s-07",
                            .kind = "",
                            .creator = "",
                            .title = "",
                            .date = "",
                            .locator = "",
                            .trust = {},
                            .origin = {}});
    book.shapes.push_back(
        {.id = "harrow", .maker = {}, .name = "Harrow", .years = {}, .note = "", .sources = {}, .origin = {}});
    for (const char* number : {"117", "162"}) {
        book::Treatment treatment{.id = std::string("t-") + number,
                                  .shape = {0},
                                  .glaze = {},
                                  .number = number,
                                  .name = "",
                                  .grade = book::Grade::kAny,
                                  .years = {},
                                  .outlet = "",
                                  .note = "",
                                  .sources = {},
                                  .origin = {}};
        book.treatments.push_back(treatment);
    }
    book.index();
    return book;
}

TEST(AnswerJson, HasTheMembersOfTheContractInTheirOrder) {
    const book::Book book = small_book();
    Answer answer;
    answer.candidates.push_back({{0}, 0.75, {{1}}});
    answer.open = {0.125, 0.125};
    answer.grade = {0.75, 0.25};
    answer.date.by_year = {0.5, 0.5};
    answer.date.first_year = 1931;
    answer.date.median = 1931;
    answer.date.hpd68 = {1931, 1932};
    answer.date.hpd95 = {1931, 1932};
    answer.date.edtf = "1931/1932";
    answer.reasons.push_back({"rim",
                              "fern-pair",
                              Decibans{12.5},
                              {{"treatment_ornaments.csv:31", {{0}}}, {"treatment_ornaments.csv:31", {{0}}}}});
    answer.next.push_back({"underside", Bits{0.5}, Bits{0.25}, Bits{0.125}, Minutes{1}, 0.5});
    answer.conflicts.push_back({{"mark m-3 ends 1930", "glaze oat begins 1931"}});
    answer.verdict = "Number 117.";
    EXPECT_EQ(answer_json(book, "p-0041", answer, {"A note."}).dump(),
              R"({"piece":"p-0041",)"
              R"("candidates":[{"treatment":"t-117","number":"117","probability":0.75,"twins":["t-162"]}],)"
              R"("open":{"unlisted":0.125,"elsewhere":0.125},"grade":{"first":0.75,"second":0.25},)"
              R"("date":{"median":1931,"hpd68":[1931,1932],"hpd95":[1931,1932],"edtf":"1931/1932",)"
              R"("by_year":{"first_year":1931,"p":[0.5,0.5]}},)"
              R"("reasons":[{"look":"rim","value":"fern-pair","decibans":12.5,"sources":["s-07"],)"
              R"("rows":["treatment_ornaments.csv:31"]}],)"
              R"("next":[{"look":"underside","bits":0.5,"effort_min":1.0,)"
              R"("effect":{"grade_bits":0.25,"year_bits":0.125,"bits_per_min":0.5}}],)"
              R"("conflicts":[{"statements":["mark m-3 ends 1930","glaze oat begins 1931"]}],)"
              R"("verdict":"Number 117.","notes":["A note."]})");
}

TEST(AnswerJson, KeepsEmptyListsAsLists) {
    const auto json = answer_json(small_book(), "", Answer{});
    for (const char* member : {"candidates", "reasons", "next", "conflicts", "notes"})
        EXPECT_TRUE(json.at(member).is_array() && json.at(member).empty()) << member;
}

}  // namespace
}  // namespace footring::naming
