// SPDX-License-Identifier: Apache-2.0
#include "dating/unseen_book.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "book/pack_text.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;

const book::Book& two_mills() {
    static const book::Book book = book::book_from_tables(
        {{"makers", "id\nmill\nbank\n"},
         {"shapes", "id,maker\nharrow,mill\nosier,bank\n"},
         {"forms", "id,ware\nplate,flat\n"},
         {"ornaments", "id,kind,finish\nfern,stamp,gold\nline,line,gold\n"},
         {"sources", "id\ns-1\ns-2\n"},
         {"treatments",
          "id,shape,number,grade\nt-1,harrow,101,first\nt-2,harrow,104,any\nt-3,harrow,105,first\n"
          "t-4,harrow,601,second\nt-5,osier,w7,any\n"},
         {"treatment_ornaments",
          "treatment,place,ornament,on,share\nt-1,rim,fern,*,1\nt-2,rim,fern,*,0\n"
          "t-2,edge,line,*,1\nt-5,rim,fern,*,0.5\n"},
         {"dated_uses",
          "subject,date,kind,source\nt-1,1920,letter,s-1\nt-1,1921,letter,s-2\nt-2,1922,letter,s-1\n"}});
    return book;
}
Unseen of_two_mills(const UnseenOf& what, const std::vector<SeenTreatment>& seen = {}) {
    return unseen_of(two_mills(), what, seen, std::nullopt, Settings{});
}

TEST(UnseenOfABook, ListsWhatIsMissingAsASearchList) {
    const Unseen found = of_two_mills({.shape = book::Ref<book::Shape>{0}, .maker = {}, .ornament = {}});
    ASSERT_EQ(found.sequences.size(), 2u);
    EXPECT_THAT(found.sequences[0].missing, ElementsAre(NumberRun{102, 103}));
    EXPECT_EQ(found.sequences[0].missing_count, 2);
    EXPECT_TRUE(found.sequences[1].seconds) << "601 is no gap of 495 numbers behind 105";
    EXPECT_TRUE(found.sequences[1].missing.empty());
}

TEST(UnseenOfABook, KeepsANumberOfAnotherSystemOutOfTheEstimate) {
    std::string treatments = "id,shape,number\nt-x,harrow,4417\n";
    for (int n = 101; n <= 160; n += 3) treatments += fmt::format("t-{0},harrow,{0}\n", n);
    const book::Book book = book::book_from_tables({{"shapes", "id\nharrow\n"}, {"treatments", treatments}});
    const Unseen found = unseen_of(book, {}, {}, std::nullopt, Settings{});
    ASSERT_EQ(found.sequences.size(), 2u);
    EXPECT_FALSE(found.sequences[0].apart);
    EXPECT_LE(*found.sequences[0].estimate->upper, 180);
    EXPECT_TRUE(found.sequences[1].apart);
    EXPECT_THAT(found.sequences[1].numbers, ElementsAre(4417));
    const Unseen given = unseen_of(book, {}, {}, 110, Settings{});
    EXPECT_EQ(given.sequences[0].left_out, 3u) << "101, 104, 107 lie below the first";
}

TEST(UnseenOfABook, CountsDatedUsesAndWhatElseWasSeen) {
    EXPECT_EQ(of_two_mills({}).times.sightings(), 3);
    EXPECT_EQ(of_two_mills({}).finds.kinds.size(), 2u);
    const Unseen more = of_two_mills({}, {{"test:t-5", "lot lot-1"}, {"test:t-1", ""}, {"other:t-9", "lot lot-1"}});
    EXPECT_EQ(more.times.sightings(), 5);
    EXPECT_EQ(more.times.kinds(), 3);
    EXPECT_EQ(more.finds.kinds.size(), 3u);
}

TEST(UnseenOfABook, CanBeNarrowedToAMakerOrAnOrnament) {
    EXPECT_EQ(of_two_mills({.shape = {}, .maker = book::Ref<book::Maker>{1}, .ornament = {}}).listed, 1u);
    EXPECT_EQ(of_two_mills({.shape = {}, .maker = {}, .ornament = book::Ref<book::Ornament>{0}}).listed, 2u)
        << "share 0 states that it is not there";
}

TEST(UnseenOfABook, ShowsWhereTheCurveLeavesWhatWasSeen) {
    const auto json = unseen_json(two_mills(), of_two_mills({}));
    const auto& curve = json.at("kinds").at("curve");
    ASSERT_GT(curve.size(), 2u);
    for (const auto& point : curve) EXPECT_EQ(point.at("expected"), point.at("sightings") > 3) << point;
    EXPECT_EQ(curve.back().at("sightings"), 6);
}

}  // namespace
}  // namespace footring::dating
