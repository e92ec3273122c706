// SPDX-License-Identifier: Apache-2.0
#include "exchange/cupboard.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "exchange/test_cupboard.h"
#include "store/memory_store.h"

namespace footring::exchange {
namespace {

using ::testing::ElementsAre;
using testing::full_record;
using testing::small_book;

store::Now clock_of_test() {
    return [second = 0]() mutable { return "2026-03-01T09:30:" + std::to_string(10 + ++second % 50) + "Z"; };
}

struct Cupboard : ::testing::Test {
    const book::Book book = small_book();
    std::unique_ptr<store::Store> store = store::open_in_memory(clock_of_test());

    std::expected<Imported, std::vector<Problem>> take(const std::string& text, ImportOptions options = {}) {
        return import_pieces(*store, &book, text, "import", options);
    }
    std::int64_t pieces() const { return store->find({})->total; }
};

store::Lot barn_sale() {
    store::Lot lot;
    lot.id = "barn";
    lot.name = "Barn sale";
    lot.date = "2019~";
    return lot;
}

TEST_F(Cupboard, StoresNothingWhenOneRowIsBad) {
    const auto imported = take("id,glaze\np-1,oat\np-2,oats\n");
    ASSERT_FALSE(imported.has_value());
    EXPECT_THAT(testing::lines_of(imported.error()),
                ElementsAre("import:3: glaze: there is no glaze 'oats': did you mean 'oat'?"));
    EXPECT_EQ(pieces(), 0);
    EXPECT_TRUE(store->recent(10)->empty());
}

TEST_F(Cupboard, KeepsTheGoodRowsWhenAsked) {
    const auto imported = take("id,glaze\np-1,oat\np-2,oats\n", {.keep_good = true});
    ASSERT_TRUE(imported.has_value());
    EXPECT_EQ(imported->added, 1);
    EXPECT_EQ(imported->skipped, 1);
    EXPECT_EQ(imported->problems.size(), 1u);
    EXPECT_TRUE(store->piece("p-1").has_value());
    EXPECT_EQ(pieces(), 1);
}

TEST_F(Cupboard, OnlyTellsWhatWouldHappenInADryRun) {
    ASSERT_TRUE(take("id,glaze\np-1,oat\n").has_value());
    const auto imported = take("id,glaze,lot\np-1,ivory,Barn sale\np-2,oat,\np-3,oats,\n", {.dry_run = true});
    ASSERT_TRUE(imported.has_value());
    EXPECT_EQ(imported->added, 1);
    EXPECT_EQ(imported->changed, 1);
    EXPECT_EQ(imported->skipped, 1);
    EXPECT_EQ(imported->preview.size(), 2u);
    EXPECT_EQ(pieces(), 1);
    EXPECT_EQ(store->piece("p-1")->piece.glaze->value, "oat");
    EXPECT_TRUE(store->lots()->empty());
}

TEST_F(Cupboard, ChangesOnlyWhatTheFileHas) {
    store::PieceRecord before = full_record("p-1");
    ASSERT_TRUE(store->put(before, "").has_value());
    ASSERT_TRUE(take("id,glaze,cost\np-1,ivory,\n").has_value());
    const auto after = store->piece("p-1");
    EXPECT_EQ(after->piece.glaze, (looks::Seen{"ivory", looks::Sure::kSure}));
    EXPECT_EQ(after->cost, std::nullopt);
    EXPECT_EQ(after->note, before.note);
    EXPECT_EQ(after->piece.looks, before.piece.looks);
    EXPECT_EQ(after->decision, before.decision);
}

TEST_F(Cupboard, LeavesTheSurenessWhereTheFileSaysNothingOfIt) {
    ASSERT_TRUE(store->put(full_record("p-1"), "").has_value());
    const auto same = take("id,shape,centre\np-1,harrow,something\n");
    EXPECT_EQ(same->unchanged, 1);
    ASSERT_TRUE(take("id,shape\np-1,plough\n").has_value());
    EXPECT_EQ(store->piece("p-1")->piece.shape, (looks::Seen{"plough", looks::Sure::kSure}));
}

TEST_F(Cupboard, TakesItsOwnTableBackWithoutAChange) {
    store::PieceRecord record = full_record("p-1");
    ASSERT_TRUE(store->put(barn_sale(), "").has_value());
    record.lot = "barn";
    record.attribution = store::Attribution{{{"piece", "p-1"}}, "demo@1", "2026-01-01T00:00:00Z"};
    ASSERT_TRUE(store->put(record, "").has_value());
    ASSERT_TRUE(store->put(full_record(""), "").has_value());
    for (const Format format : {Format::kCsv, Format::kJson}) {
        const auto imported = take(*export_pieces(*store, format, store::Sight::kAll), {.format = format});
        ASSERT_TRUE(imported.has_value()) << to_line(imported.error()[0]);
        EXPECT_EQ(imported->unchanged, 2);
        EXPECT_EQ(imported->changed + imported->added + imported->skipped, 0);
    }
}

TEST_F(Cupboard, CarriesEverythingIntoAnEmptyStoreAsJson) {
    store::PieceRecord record = full_record("p-1");
    store::Lot lot = barn_sale();
    lot.cost = 3.5;
    lot.currency = "GBP";
    ASSERT_TRUE(store->put(lot, "").has_value());
    record.lot = "barn";
    record.attribution = store::Attribution{{{"piece", "p-1"}}, "demo@1", "2026-01-01T00:00:00Z"};
    ASSERT_TRUE(store->put(record, "").has_value());
    const std::string text = *export_pieces(*store, Format::kJson, store::Sight::kAll);
    const auto other = store::open_in_memory(clock_of_test());
    const auto imported = import_pieces(*other, &book, text, "import", {.format = Format::kJson});
    ASSERT_TRUE(imported.has_value()) << to_line(imported.error()[0]);
    const store::PieceRecord there = *other->piece("p-1"), here = *store->piece("p-1");
    EXPECT_EQ(there.piece, here.piece);
    EXPECT_EQ(there.decision, here.decision);
    EXPECT_EQ(there.attribution, here.attribution);
    EXPECT_EQ(there.lot, "barn");
    EXPECT_EQ(other->lots()->at(0).name, "Barn sale");
    EXPECT_EQ(other->lots()->at(0).cost, 3.5);
}

TEST_F(Cupboard, AddsLotsThatOnlyPiecesSpeakOf) {
    ASSERT_TRUE(take("id,lot\np-1,\"Barn sale, March\"\np-2,barn sale, march\n", {.keep_good = true}).has_value());
    ASSERT_TRUE(take("id,lot\np-3,\"Barn Sale, March\"\np-4,auction-3\n").has_value());
    const auto lots = store->lots();
    ASSERT_EQ(lots->size(), 2u);
    EXPECT_EQ(store->piece("p-1")->lot, "barn-sale-march");
    EXPECT_EQ(store->piece("p-3")->lot, "barn-sale-march");
    EXPECT_EQ(store->piece("p-4")->lot, "auction-3");
}

TEST_F(Cupboard, RefusesTheSamePieceTwiceInOneFile) {
    const auto imported = take("id,note\np-1,a\np-1,b\n");
    ASSERT_FALSE(imported.has_value());
    EXPECT_THAT(testing::lines_of(imported.error()),
                ElementsAre("import:3: the piece 'p-1' is in the file twice: keep one of "
                            "the rows, or give them different ids"));
}

TEST_F(Cupboard, GivesEachDecisionItsFullIdAndItsWords) {
    ASSERT_TRUE(take("id,decision_treatment,decision_grade\np-1,t-117,First\np-2,elsewhere,\n").has_value());
    EXPECT_EQ(store->piece("p-1")->decision->treatment, "demo:t-117");
    EXPECT_EQ(store->piece("p-1")->decision->grade, "first");
    EXPECT_EQ(store->piece("p-2")->decision->treatment, "elsewhere");
    store::Query query;
    query.text = "harrow fern";
    EXPECT_EQ(store->find(query)->total, 1);
}

TEST_F(Cupboard, ReadsPieceFilesAndListsOfThem) {
    const std::string one = R"({"id": "p-1", "form": "plate"})";
    EXPECT_EQ(take(one, {.format = Format::kJson})->added, 1);
    EXPECT_EQ(take("[" + one + R"(, {"id": "p-2"}])", {.format = Format::kJson})->added, 1);
    const auto bad = take(R"([{"id": "p-3", "form": "plat"}, {"piece": {"wear": "old"}, "cost": "x"}])",
                          {.format = Format::kJson});
    ASSERT_FALSE(bad.has_value());
    std::vector<std::string> where;
    for (const Problem& problem : bad.error()) where.push_back(problem.where);
    EXPECT_THAT(where, ElementsAre("import: /1: /wear", "import: /1/cost", "import: /0: /form"));
}

TEST_F(Cupboard, RefusesAnExportOfAnotherKind) {
    const auto imported = take(R"({"format": "other-2", "records": []})", {.format = Format::kJson});
    ASSERT_FALSE(imported.has_value());
    EXPECT_EQ(to_line(imported.error()[0]),
              "import: /format: this is not an export that this version reads: the "
              "format has to be \"footring-cupboard-1\"");
}

TEST_F(Cupboard, TakesBackTheLotsWhenThePiecesCannotBeStored) {
    const std::string too_long(70'000, 'x');
    const auto imported = take("id,lot,note\np-1,Barn," + too_long + "\n");
    ASSERT_FALSE(imported.has_value());
    EXPECT_EQ(imported.error()[0].code, ProblemCode::kTooLarge);
    EXPECT_TRUE(store->lots()->empty());
}

TEST_F(Cupboard, ReadsAFolder) {
    namespace fs = std::filesystem;
    const fs::path folder = fs::path(::testing::TempDir()) / ("cupboard-" + std::to_string(::getpid()));
    fs::create_directories(folder / "pieces");
    const auto write = [](const fs::path& path, const std::string& text) { std::ofstream(path) << text; };
    write(folder / "pieces" / "a.json", R"({"id": "p-1", "form": "plate"})");
    write(folder / "pieces" / "b.json", R"({"id": "p-2", "form": "sugar"})");
    write(folder / "lots.json", R"([{"id": "barn", "name": "Barn sale", "currency": "USD"}])");
    write(folder / "records.json",
          R"([{"piece": "p-2", "lot": "barn", "place": "Shelf", "cost": 2.5,
               "decision": {"treatment": "t-162", "grade": "second"}}])");
    const auto imported = import_folder(*store, &book, folder);
    ASSERT_TRUE(imported.has_value()) << to_line(imported.error()[0]);
    EXPECT_EQ(imported->added, 2);
    EXPECT_EQ(store->piece("p-2")->decision->treatment, "demo:t-162");
    EXPECT_EQ(store->piece("p-2")->currency, "USD");
    EXPECT_EQ(store->piece("p-2")->place, "Shelf");
    EXPECT_EQ(import_folder(*store, &book, folder)->unchanged, 2);

    write(folder / "others.json", R"([{"kind": "letter", "id": "letter-0001", "body": {"text": "What is it?"}}])");
    EXPECT_EQ(import_folder(*store, &book, folder)->others.added, 1);
    EXPECT_EQ(import_folder(*store, &book, folder)->others.unchanged, 1);
    EXPECT_EQ(store->record("letter", "letter-0001")->body.at("text"), "What is it?");
    write(folder / "others.json", R"([{"kind": "poem", "id": "x", "body": {}}])");
    EXPECT_FALSE(import_folder(*store, &book, folder).has_value());
    fs::remove(folder / "others.json");

    write(folder / "records.json", R"([{"piece": "p-9"}, {"piece": "p-1", "cost": "much"}])");
    const auto bad = import_folder(*store, &book, folder);
    ASSERT_FALSE(bad.has_value());
    const std::string file = (folder / "records.json").string();
    EXPECT_THAT(
        testing::lines_of(bad.error()),
        ElementsAre(file + ": /0/piece: no sound piece file has this id: add or mend the file in pieces/, or "
                           "take this record away",
                    file + ": /1/cost: this is no amount of money: give a number that is not negative, or "
                           "leave it out"));
    fs::remove_all(folder);
    EXPECT_EQ(import_folder(*store, &book, folder).error()[0].code, ProblemCode::kNotFound);
}

// The smallest PNG that there is: one grey pixel.
std::string one_pixel() {
    constexpr unsigned char kBytes[] = {
        0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0x00, 0x00, 0x00, 0x0D, 0x49, 0x48, 0x44, 0x52, 0x00,
        0x00, 0x00, 0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x00, 0x00, 0x00, 0x00, 0x3A, 0x7E, 0x9B, 0x55, 0x00,
        0x00, 0x00, 0x0A, 0x49, 0x44, 0x41, 0x54, 0x78, 0xDA, 0x63, 0x68, 0x00, 0x00, 0x00, 0x82, 0x00, 0x81,
        0xDA, 0x45, 0x08, 0x3B, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4E, 0x44, 0xAE, 0x42, 0x60, 0x82};
    return {reinterpret_cast<const char*>(kBytes), sizeof kBytes};
}

TEST_F(Cupboard, BringsThePhotographsThatPieceFilesName) {
    namespace fs = std::filesystem;
    const fs::path folder = fs::path(::testing::TempDir()) / ("photographed-" + std::to_string(::getpid()));
    fs::create_directories(folder / "pieces");
    const auto write = [](const fs::path& path, const std::string& text) {
        std::ofstream(path, std::ios::binary) << text;
    };
    write(folder / "pieces" / "a.json", R"({"id": "p-1", "form": "plate", "photos": ["front.png"]})");
    ASSERT_TRUE(import_folder(*store, &book, folder).has_value()) << "without photos/, names are only names";
    EXPECT_TRUE(store->photos("p-1")->empty());

    fs::create_directories(folder / "photos");
    write(folder / "photos" / "front.png", one_pixel());
    for (int again = 0; again < 2; ++again) {
        const auto imported = import_folder(*store, &book, folder);
        ASSERT_TRUE(imported.has_value()) << to_line(imported.error()[0]);
        const auto photos = store->photos("p-1");
        ASSERT_EQ(photos->size(), 1u);
        EXPECT_EQ(photos->front().name, "front.png");
        EXPECT_EQ(photos->front().type, "image/png");
        EXPECT_EQ(photos->front().width, 1);
        EXPECT_EQ(*store->photo_bytes(photos->front().sha256), one_pixel());
    }

    write(folder / "pieces" / "b.json", R"({"id": "p-2", "form": "plate",
        "photos": ["../front.png", "back.png", "torn.png"]})");
    write(folder / "photos" / "torn.png", one_pixel().substr(0, 20));
    const auto bad = import_folder(*store, &book, folder);
    ASSERT_FALSE(bad.has_value());
    ASSERT_EQ(bad.error().size(), 3u);
    EXPECT_EQ(to_line(bad.error()[0]), (folder / "pieces" / "b.json").string() +
                                           ": /photos/0: this is no plain file name: lay the photograph "
                                           "into photos/ and write its name alone");
    EXPECT_EQ(to_line(bad.error()[1]), (folder / "photos" / "back.png").string() +
                                           ": there is no such photograph: add it, or take its name out of the "
                                           "piece file");
    EXPECT_EQ(bad.error()[2].where, (folder / "photos" / "torn.png").string());
    EXPECT_EQ(store->piece("p-2").error().code, ProblemCode::kNotFound);
    fs::remove_all(folder);
}

}  // namespace
}  // namespace footring::exchange
