// The open formats of one piece, compared in what a reader of them looks for. Other implementations judge them in
// tests/exchange. SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/described.h"
#include "exchange/dublin_core.h"
#include "exchange/iiif.h"
#include "exchange/linked_art.h"
#include "exchange/skos.h"
#include "exchange/spreadsheet.h"
#include "exchange/test_cupboard.h"
#include "exchange/workbook.h"

namespace footring::exchange {
namespace {

using testing::full_record;
using ::testing::HasSubstr;
using ::testing::Not;
using testing::small_book;

constexpr std::string_view kBase = "https://plates.example";

book::Book decorated_book() {
    book::Book book = small_book();
    book::Maker maker;
    maker.id = "mill";
    maker.name = "Mill & Sons";
    book.makers.push_back(maker);
    book.shapes[0].maker = book::Ref<book::Maker>{0};
    book.forms[1].aat = "http://vocab.getty.edu/aat/300043182";
    book.ornaments[0].finish = "gold";
    book::Source source;
    source.id = "s-1";
    source.creator = "Orla Tamsett";
    source.title = "Clay";
    source.date = "1988";
    book.sources.push_back(source);
    book.treatments[0].sources = {book::Ref<book::Source>{0}};
    book.treatment_ornaments.push_back(
        {.treatment = {0}, .place = book::Place::kRim, .ornament = {0}, .on = {}, .sources = {}, .origin = {}});
    book.index();
    return book;
}
store::PhotoMeta photo() {
    store::PhotoMeta out;
    out.sha256 = std::string(64, 'a');
    out.piece = "p-1";
    out.name = "front.jpg";
    out.type = "image/jpeg";
    out.width = 4000;
    out.height = 3000;
    return out;
}
Described sugar() { return describe(decorated_book(), full_record("p-1"), {photo()}); }

TEST(Described, SaysWhatWasDecidedWithItsMakerItsDateAndWhatItRestsOn) {
    const Described piece = sugar();
    EXPECT_EQ(piece.title, "Sugar bowl, Harrow, 117 Fern");
    EXPECT_EQ(piece.summary,
              "Sugar bowl, Harrow, 117 Fern, Mill & Sons, Oat glaze, between 1931 and 1940. Rim: Fern pair (gold "
              "stamp). Grade: first. Wear: moderate. Faults: few. Named by the keeper of the piece.");
    EXPECT_THAT(piece.sources, ::testing::ElementsAre("Orla Tamsett, Clay, 1988"));
}

TEST(Described, SaysOnlyWhatWasSeenWhereNothingWasDecided) {
    store::PieceRecord record = full_record("p-1");
    record.decision.reset();
    const Described piece = describe(decorated_book(), record, {});
    EXPECT_EQ(piece.title, "Sugar bowl, Harrow");
    EXPECT_EQ(piece.number, "1?7");
    EXPECT_FALSE(piece.treatment);
    EXPECT_FALSE(piece.date);
    EXPECT_THAT(piece.decoration,
                ::testing::ElementsAre("Rim: Fern pair (gold stamp)", "Centre: an ornament, not named"));
    EXPECT_THAT(piece.summary, HasSubstr("Not decided: only what was seen."));
}

TEST(Described, ShowsIdsThatNoOpenPackHasAsTheyStand) {
    const Described piece = describe(book::Book{}, full_record("p-1"), {});
    EXPECT_EQ(piece.title, "Sugar, harrow");
    EXPECT_THAT(piece.decoration, ::testing::Contains("Rim: fern-pair"));
}

TEST(OpenFormats, NeverTellCostOrWhereAPieceIsKept) {
    const Described piece = sugar();
    for (const std::string& text :
         {linked_art(piece, kBase).dump(), iiif_manifest(piece, kBase).dump(), dublin_core({piece}, kBase)}) {
        EXPECT_THAT(text, Not(HasSubstr("12.25")));
        EXPECT_THAT(text, Not(HasSubstr("HYPERLINK")));
        EXPECT_THAT(text, Not(HasSubstr("sure of it"))) << "the note of the decision is the keeper's own";
    }
}

TEST(LinkedArt, GivesTheFirstAndTheLastMomentOfTheDate) {
    const auto art = linked_art(sugar(), kBase);
    EXPECT_EQ(art["id"], "https://plates.example/pieces/p-1");
    EXPECT_EQ(art["produced_by"]["timespan"]["begin_of_the_begin"], "1931-01-01T00:00:00Z");
    EXPECT_EQ(art["produced_by"]["timespan"]["end_of_the_end"], "1940-12-31T23:59:59Z");
    ASSERT_TRUE(art["classified_as"].is_array());
    EXPECT_EQ(art["classified_as"][1]["id"], "http://vocab.getty.edu/aat/300043182");
    EXPECT_EQ(art["dimension"].size(), 3U);
    EXPECT_EQ(art["dimension"][0]["value"], 121);
    ASSERT_TRUE(art["shows"].is_array());
    EXPECT_EQ(art["shows"][0]["_label"], "Fern");
    EXPECT_EQ(art["attributed_by"][0]["assigned"][0]["_label"], "Fern");
    EXPECT_EQ(art["representation"][0]["digitally_shown_by"][0]["format"], "image/jpeg");
}

TEST(LinkedArt, LeavesTheOpenEndOfADateOpen) {
    store::PieceRecord record = full_record("p-1");
    record.decision->date = "1931/..";
    const auto art = linked_art(describe(decorated_book(), record, {}), kBase);
    EXPECT_TRUE(art["produced_by"]["timespan"].contains("begin_of_the_begin"));
    EXPECT_FALSE(art["produced_by"]["timespan"].contains("end_of_the_end"));
}

TEST(Iiif, HasACanvasOfItsOwnSizeForEachPhotograph) {
    const auto manifest = iiif_manifest(sugar(), kBase);
    ASSERT_EQ(manifest["items"].size(), 1U);
    const auto& canvas = manifest["items"][0];
    EXPECT_EQ(canvas["width"], 4000);
    EXPECT_EQ(canvas["items"][0]["items"][0]["target"], canvas["id"]);
    EXPECT_EQ(canvas["items"][0]["items"][0]["body"]["id"],
              "https://plates.example/api/photos/" + std::string(64, 'a'));
}

TEST(Iiif, CollectsOnlyPiecesThatHavePhotographs) {
    Described without = sugar();
    without.photos.clear();
    EXPECT_EQ(iiif_collection({sugar(), without}, kBase)["items"].size(), 1U);
}

TEST(DublinCore, EscapesWhatXmlTakesForItsOwn) {
    const std::string text = dublin_core({sugar()}, kBase);
    EXPECT_THAT(text, HasSubstr("<dcterms:creator>Mill &amp; Sons</dcterms:creator>"));
    EXPECT_THAT(text, HasSubstr("EDTF\">1931/1940</dcterms:created>"));
    EXPECT_THAT(text, HasSubstr("<dcterms:extent>length 121 mm, width 120.5 mm, height 0.3 mm</dcterms:extent>"));
}

TEST(Skos, TiesATreatmentToItsShapeItsGlazeAndItsOrnaments) {
    const std::string text = skos(decorated_book(), kBase);
    EXPECT_THAT(text, HasSubstr("<https://plates.example/treatments/demo%3At-117> a skos:Concept ;\n"
                                "    skos:inScheme <https://plates.example/vocabulary/demo/treatments> ;\n"
                                "    skos:prefLabel \"Fern\"@en ;\n"
                                "    skos:notation \"117\" ;\n"
                                "    skos:broadMatch <https://plates.example/shapes/demo%3Aharrow> ;\n"
                                "    skos:related <https://plates.example/glazes/demo%3Aoat> ;\n"
                                "    skos:related <https://plates.example/ornaments/demo%3Afern-pair> .\n"));
}

TEST(Skos, EscapesQuotesAndLineBreaks) {
    book::Book book = small_book();
    book.shapes[0].name = "Har\"row\\\nII";
    EXPECT_THAT(skos(book, kBase), HasSubstr("skos:prefLabel \"Har\\\"row\\\\\\nII\"@en"));
}

TEST(Workbook, IsAZipFileAndTheSameEachTime) {
    const auto once = workbook({full_record("p-1")}, {}, store::Sight::kAll),
               again = workbook({full_record("p-1")}, {}, store::Sight::kAll);
    ASSERT_TRUE(once && again);
    EXPECT_TRUE(once->starts_with("PK"));
    EXPECT_EQ(*once, *again);
}

TEST(Workbook, WritesEveryTextAsTextHoweverItBegins) {
    store::PieceRecord record = full_record("p-1");
    record.note = "=HYPERLINK(\"http://evil.example\")";
    record.place = "@SUM(1)";
    store::Lot lot;
    lot.id = "lot-1";
    lot.name = "+1+1";
    const auto made = workbook({record}, {lot}, store::Sight::kAll);
    ASSERT_TRUE(made.has_value());
    // The reader gives of a formula what it came to: a text that is none comes back as it was written.
    const auto sheets = read_workbook(*made, "made");
    ASSERT_TRUE(sheets.has_value());
    EXPECT_THAT(sheets->at(0).csv, HasSubstr("=HYPERLINK(\"\"http://evil.example\"\")"));
    EXPECT_THAT(sheets->at(0).csv, HasSubstr("@SUM(1)"));
    EXPECT_THAT(sheets->at(1).csv, HasSubstr("+1+1"));
}

TEST(Workbook, RefusesATextThatNoCellCanHold) {
    store::PieceRecord record = full_record("p-1");
    record.note = std::string(40'000, 'x');
    const auto made = workbook({record}, {}, store::Sight::kAll);
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().code, ProblemCode::kTooLarge);
    EXPECT_EQ(made.error().remedy, "write CSV or JSON instead");
}

}  // namespace
}  // namespace footring::exchange
