// SPDX-License-Identifier: Apache-2.0
#include "looks/resolve.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace footring::looks {
namespace {

using ::testing::ElementsAre;

template <class T>
T row(std::string id) {
    T out{};
    out.id = std::move(id);
    return out;
}
book::Book small_book() {
    book::Book out;
    out.packs = {row<book::Pack>("reed")};
    out.forms = {row<book::Form>("plate"), row<book::Form>("sugar")};
    out.shapes = {row<book::Shape>("harrow")};
    out.glazes = {row<book::Glaze>("ivory"), row<book::Glaze>("oat")};
    out.ornaments = {row<book::Ornament>("fern-pair"), row<book::Ornament>("rosette")};
    out.marks = {row<book::Mark>("m-3")};
    out.index();
    return out;
}

TEST(Resolve, LooksEveryIdUp) {
    Piece piece;
    piece.form = "sugar";
    piece.shape = Seen{"harrow", Sure::kLikely};
    piece.glaze = Seen{"reed:oat", Sure::kGuess};
    piece.wear = Wear::kHeavy;
    piece.looks = {{book::Place::kRim, {"rosette", Sure::kSure}},
                   {book::Place::kEdge, {"none", Sure::kLikely}},
                   {book::Place::kCentre, {"something", Sure::kGuess}},
                   {book::Place::kFoot, {"worn", Sure::kSure}}};
    piece.mark = Seen{"m-3", Sure::kSure};
    piece.number = Seen{"1?7", Sure::kLikely};
    piece.date_code = "B4";
    piece.faults = Faults::kMany;
    const book::Book book = small_book();
    const auto found = resolve(piece, book, {}, "p.json");
    ASSERT_TRUE(found.has_value());
    EXPECT_EQ(found->form, book::Ref<book::Form>{1});
    EXPECT_EQ(std::get<book::Ref<book::Shape>>(found->shape->value).at, 0u);
    EXPECT_EQ(found->shape->sure, 0.85);
    EXPECT_EQ(std::get<book::Ref<book::Glaze>>(found->glaze->value).at, 1u);
    EXPECT_EQ(found->glaze->sure, 0.60);
    EXPECT_EQ(found->wear, Wear::kHeavy);
    ASSERT_EQ(found->ornaments.size(), 4u);
    EXPECT_EQ(std::get<book::Ref<book::Ornament>>(found->ornaments[0].value).at, 1u);
    EXPECT_EQ(found->ornaments[0].place, book::Place::kRim);
    EXPECT_EQ(found->ornaments[0].sure, 0.98);
    EXPECT_TRUE(std::holds_alternative<Absent>(found->ornaments[1].value));
    EXPECT_TRUE(std::holds_alternative<Present>(found->ornaments[2].value));
    EXPECT_TRUE(std::holds_alternative<Present>(found->ornaments[3].value));
    EXPECT_EQ(found->ornaments[3].look, 3u);
    EXPECT_EQ(std::get<book::Ref<book::Mark>>(found->mark->value).at, 0u);
    EXPECT_EQ(found->number->pattern, "1?7");
    EXPECT_EQ(found->number->sure, 0.85);
    EXPECT_EQ(found->date_code, "B4");
    EXPECT_EQ(found->faults, Faults::kMany);
}

TEST(Resolve, LeavesWhatWasNotLookedAtAbsent) {
    const auto found = resolve({}, small_book(), {}, "p.json");
    ASSERT_TRUE(found.has_value());
    EXPECT_FALSE(found->form || found->shape || found->glaze || found->wear || found->mark || found->number ||
                 found->faults);
    EXPECT_TRUE(found->ornaments.empty());
}

TEST(Resolve, TellsNoNumberFromSomeNumber) {
    const auto pattern = [](std::string value) {
        Piece piece;
        piece.number = Seen{std::move(value), Sure::kSure};
        return resolve(piece, small_book(), {}, "p.json")->number->pattern;
    };
    EXPECT_EQ(pattern("none"), std::nullopt);
    EXPECT_EQ(pattern("something"), "*");
    EXPECT_EQ(pattern("worn"), "*");
    EXPECT_EQ(pattern("117"), "117");
}

TEST(Resolve, TakesAMarkThatIsAbsentOrIllegible) {
    const auto mark = [](std::string value) {
        Piece piece;
        piece.mark = Seen{std::move(value), Sure::kSure};
        return resolve(piece, small_book(), {}, "p.json")->mark->value;
    };
    EXPECT_TRUE(std::holds_alternative<Absent>(mark("none")));
    EXPECT_TRUE(std::holds_alternative<Present>(mark("something")));
    EXPECT_TRUE(std::holds_alternative<Present>(mark("worn")));
}

TEST(Resolve, TellsEveryUnknownIdAtOnce) {
    Piece piece;
    piece.form = "suger";
    piece.shape = Seen{"none", Sure::kSure};
    piece.glaze = Seen{"oot", Sure::kSure};
    piece.looks = {{book::Place::kRim, {"fern-pair", Sure::kSure}}, {book::Place::kRim, {"fernpair", Sure::kSure}}};
    piece.mark = Seen{"m-4000", Sure::kSure};
    const auto found = resolve(piece, small_book(), {}, "p.json");
    ASSERT_FALSE(found.has_value());
    std::vector<std::string> lines;
    for (const Problem& p : found.error()) {
        lines.push_back(to_line(p));
        EXPECT_EQ(p.code, ProblemCode::kBadInput);
    }
    EXPECT_THAT(lines,
                ElementsAre("p.json: /form: there is no form 'suger': did you mean 'sugar'?",
                            "p.json: /shape/value: 'none' is not a shape, and every piece has one: "
                            "name the shape, or leave the field out when it is not known",
                            "p.json: /glaze/value: there is no glaze 'oot': did you mean 'oat'?",
                            "p.json: /looks/1/value: there is no ornament 'fernpair': did you mean 'fern-pair'?",
                            "p.json: /mark/value: there is no mark 'm-4000': use one of m-3"));
}

}  // namespace
}  // namespace footring::looks
