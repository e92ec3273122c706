// SPDX-License-Identifier: Apache-2.0
#include "exchange/reply.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/test_cupboard.h"

namespace footring::exchange {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

book::Book a_book() {
    book::Book book = testing::small_book();
    book::Maker maker;
    maker.id = maker.name = "Mill";
    book.makers.push_back(maker);
    book.shapes[0].maker = book::Ref<book::Maker>{0};
    book::Source source;
    source.id = "s-1";
    source.creator = "Orla Tamsett";
    source.title = "Clay";
    source.date = "1988";
    book.sources.push_back(source);
    book.treatments[1].name = "Fern with rosette";
    book.index();
    return book;
}
AskedPiece asked(std::vector<naming::Candidate> candidates, naming::OpenOdds open = {0.02, 0.01}) {
    AskedPiece out;
    out.answer.candidates = std::move(candidates);
    out.answer.open = open;
    out.answer.grade = {0.7, 0.3};
    out.answer.date = {.by_year = {0.5, 0.5},
                       .first_year = 1931,
                       .median = 1932,
                       .hpd68 = {1931, 1932},
                       .hpd95 = {1931, 1932},
                       .edtf = "1931/1932"};
    return out;
}
naming::Candidate candidate(std::uint32_t treatment, double probability,
                            std::vector<book::Ref<book::Treatment>> twins = {}) {
    return {{treatment}, probability, std::move(twins)};
}

care::Caution metal_trim() {
    care::Caution out;
    out.id = "metal-trim";
    out.text = "Keep it out of the microwave oven.";
    return out;
}

TEST(Reply, SaysNameDateGradeReasonsAndWhatToSendNextInPlainWords) {
    AskedPiece piece = asked({candidate(0, 0.82), candidate(1, 0.15)});
    piece.answer.reasons = {{"rim", "fern-pair", Decibans{12}, {{"treatment_ornaments.csv:2", {{0}}}}},
                            {"centre", "none", Decibans{6}, {}},
                            {"wear", "heavy", Decibans{-3}, {}}};
    const auto next = [](const char* look, double bits, double minutes) {
        return naming::NextLook{look, Bits{bits}, Bits{0}, Bits{0}, Minutes{minutes}, bits / minutes};
    };
    piece.answer.next = {next("mark", 0.4, 1), next("glaze", 0.01, 1), next("laboratory", 0.9, 600)};
    piece.cautions = {metal_trim()};
    EXPECT_EQ(reply(a_book(), {"Ms Carr", "a plate"}, {piece}, "Orla").text(),
              R"(Dear Ms Carr,

Thank you for your question about a plate.

It is number 117, "Fern", on the shape Harrow by Mill, in the Oat glaze (likely, 82 in 100). It could also be number 162, "Fern with rosette", on the shape Harrow by Mill, in the Oat glaze (15 in 100).

It was made between 1931 and 1932, in nineteen chances of twenty; the middle of the odds is 1932. It is first-run ware (likely, 70 in 100).

What speaks for it most: the rim, Fern pair (seen) and no ornament at the centre (not there). The references behind this: Orla Tamsett, Clay, 1988.

What would tell most: a photograph of (1) the mark on the underside, near enough that its words can be read.

Some care: Keep it out of the microwave oven.

This is an opinion on what you showed and told me. It is no appraisal; for that, ask a qualified appraiser who has the piece in hand.

With kind regards
Orla
)");
}

TEST(Reply, NamesTwinsTogetherAndTheFormsThatWouldTell) {
    book::Book book = a_book();
    book.treatment_ornaments.push_back({.treatment = {1},
                                        .place = book::Place::kCentre,
                                        .ornament = {1},
                                        .on = {.ware = book::Ware::kFlat, .form = {}},
                                        .sources = {},
                                        .origin = {}});
    book.index();
    AskedPiece piece = asked({candidate(0, 0.48, {{1}}), candidate(1, 0.48, {{0}})});
    piece.findings.form = book::Ref<book::Form>{1};
    const std::string text = reply(book, {}, {piece}, "").text();
    EXPECT_THAT(text,
                HasSubstr("(very likely, 96 in 100). On this form it looks exactly like number 162; these odds are "
                          "those of all together. Another form of the same service would tell: Dinner plate."));
    EXPECT_THAT(text, Not(HasSubstr("It could also be")));
}

TEST(Reply, DoesNotSayThatItIsWhatItMostlyIsNot) {
    const std::string text = reply(a_book(), {}, {asked({candidate(0, 0.39), candidate(1, 0.28)})}, "").text();
    EXPECT_THAT(text, HasSubstr("The likeliest is number 117"));
    EXPECT_THAT(text, Not(HasSubstr("It is number")));
}

TEST(Reply, SaysThatNothingFitsRatherThanNamingTheLeastBad) {
    const std::string text = reply(a_book(), {}, {asked({candidate(0, 0.2)}, {0.1, 0.7})}, "").text();
    EXPECT_THAT(
        text,
        HasSubstr(
            "Nothing in the references that I use fits it well. It is most likely another maker's "
            "piece, or one decorated elsewhere (likely, 70 in 100). The nearest that is listed is number 117"));
}

TEST(Reply, AsksForPhotographsWhenThereIsNoPieceYet) {
    const Reply out = reply(a_book(), {"", ""}, {}, "");
    EXPECT_THAT(out.paragraphs[0], "Good day,");
    EXPECT_THAT(out.text(), HasSubstr("Please send photographs of the whole piece from straight above"));
    EXPECT_THAT(out.text(), Not(HasSubstr("appraisal")));
}

TEST(Reply, NumbersSeveralPiecesAndGivesEachCautionOnce) {
    AskedPiece one = asked({candidate(0, 0.9)}), two = asked({candidate(1, 0.9)});
    one.cautions = two.cautions = {metal_trim()};
    two.findings.form = book::Ref<book::Form>{1};
    const std::string text = reply(a_book(), {}, {one, two}, "").text();
    EXPECT_THAT(text, HasSubstr("1. The piece. It is number 117"));
    EXPECT_THAT(text, HasSubstr("2. The Sugar bowl. It is number 162"));
    EXPECT_EQ(text.find("microwave"), text.rfind("microwave"));
}

}  // namespace
}  // namespace footring::exchange
