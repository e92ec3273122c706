// SPDX-License-Identifier: Apache-2.0
#include "exchange/sales_csv.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "exchange/cupboard.h"
#include "exchange/sales.h"
#include "exchange/test_cupboard.h"
#include "store/memory_store.h"

namespace footring::exchange {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

struct Sales : ::testing::Test {
    const book::Book book = testing::small_book();
    std::unique_ptr<store::Store> store = store::open_in_memory([] { return std::string("2026-03-01T09:30:00Z"); });

    ReadSales read(const std::string& text, std::map<std::string, std::string> mapping = {},
                   std::string currency = "") {
        return read_sales_csv(text, {std::move(mapping), std::move(currency), "2026-03-01"}, &book, "s.csv");
    }
    std::expected<ImportedSales, std::vector<Problem>> take(const std::string& text, bool keep_good = false,
                                                            bool dry_run = false) {
        SalesImport options;
        options.reading.today = "2026-03-01";
        options.keep_good = keep_good;
        options.dry_run = dry_run;
        return import_sales(*store, &book, text, "s.csv", options);
    }
};

TEST_F(Sales, ColumnsAreMatchedByTheirCommonWordsAndCellsByNamesOfTheBook) {
    const auto found = read(
        "Sold;Paid;Currency;Item;Number;Size;State;Seller\n"
        "2019-05-12;24,50;usd;Dinner plate;117;9 1/2 in;chipped;\"Auction, Weir\"\n");
    EXPECT_THAT(testing::lines_of(found.problems), IsEmpty());
    ASSERT_EQ(found.rows.size(), 1u);
    EXPECT_EQ(
        worth::sale_json(found.rows[0].sale).dump(),
        R"({"id":"","date":"2019-05-12","price":24.5,"currency":"USD","form":"plate","treatment":"demo:t-117",)"
        R"("shape":"","size_mm":241.29999999999998,"condition":"damaged","grade":"","venue":"Auction, Weir",)"
        R"("market":"auction","source":"","note":""})");
}

TEST_F(Sales, AMappingComesBeforeTheNames) {
    const auto found = read("when,price,what\n2019,12,plate\n", {{"when", "date"}, {"what", "form"}}, "GBP");
    EXPECT_THAT(testing::lines_of(found.problems), IsEmpty());
    ASSERT_EQ(found.rows.size(), 1u);
    EXPECT_EQ(found.rows[0].sale.currency, "GBP");
    EXPECT_THAT(
        testing::lines_of(read("when,price\n", {{"whem", "date"}, {"when", "dat"}}).problems),
        ElementsAre("s.csv:1: the mapping names a column 'whem' that the file does not have: did you mean "
                    "'when'?",
                    "s.csv:1: the mapping names a field 'dat' that sales do not have: did you mean 'date'?"));
    EXPECT_THAT(
        testing::lines_of(read("date,what\n").problems),
        ElementsAre("s.csv:1: no column is taken for price, form, currency: name the columns as here, or map "
                    "them: id, date, price, currency, form, treatment, shape, size_mm, condition, grade, venue, "
                    "market, source, note"));
}

TEST_F(Sales, EveryFaultIsToldWithItsLineAndColumn) {
    const auto found = read(
        "date,price,currency,form,treatment,condition\n"
        "2031-01,20,USD,plate,117,good\n"
        "2019,-5,USD,plate,117,good\n"
        "2019,,USD,plate,117,good\n"
        "2019,$5,USB,plat,t-11,rough\n"
        "2019,123456789,USD,plate,,\n"
        "2019,20,USD,plate,,good\n");
    EXPECT_THAT(
        testing::lines_of(found.problems),
        ElementsAre(
            "s.csv:2: date: '2031-01' is in the future: give the day on which it was sold; today is 2026-03-01",
            "s.csv:3: price: -5 is a negative price: give what was paid",
            "s.csv:4: price: the price is missing: give what was paid, or leave the sale out",
            "s.csv:5: price: '$5' is not a price: give digits with a point, as in 1250.50, without the currency's "
            "sign "
            "and without separators",
            "s.csv:5: condition: there is no condition 'rough': use mint, good, fair, poor or damaged",
            "s.csv:5: currency: 'USB' is not a currency of ISO 4217: did you mean 'USD'?",
            "s.csv:5: form: there is no form 'plat': did you mean 'plate'?",
            "s.csv:5: treatment: there is no treatment 't-11': did you mean 't-117'?",
            "s.csv:6: price: 123456789 USD for one piece of tableware cannot be right: check the decimal point and "
            "the "
            "currency"));
    EXPECT_EQ(found.bad_rows, 5);
    EXPECT_EQ(found.rows.size(), 1u);
}

TEST_F(Sales, ATreatmentThatIsNotOnTheShapeIsRefused) {
    EXPECT_THAT(
        testing::lines_of(
            read("date,price,currency,form,treatment,shape\n2019,20,USD,plate,117,plough\n").problems),
        ElementsAre("s.csv:2: shape: treatment '117' is not on shape 'plough': its shape is harrow: leave the "
                    "shape out, or name another treatment"));
}

TEST_F(Sales, DuplicatesInTheFileAreFoundAndNearOnesTold) {
    const auto found = read(
        "date,price,currency,form,source\n2019,20,USD,plate,a\n2019,20,USD,plate,a\n"
        "2019,20,USD,plate,b\n");
    ASSERT_EQ(found.rows.size(), 2u);
    ASSERT_EQ(found.duplicates.size(), 1u);
    EXPECT_EQ(found.duplicates[0].where + ": " + found.duplicates[0].what, "s.csv:3: the same as line 2");
    EXPECT_THAT(found.notes, ElementsAre("Lines 2 and 4 may be of one sale: they agree in date, price, form and "
                                         "treatment. Both count."));
}

TEST_F(Sales, WhatIsWrittenIsReadBackTheSame) {
    worth::Sale sale = read("date,price,currency,form\n2019,20.5,USD,plate\n").rows[0].sale;
    sale.id = "sale-0007";
    sale.size_mm = 0.1 + 240;
    sale.condition = worth::Condition::kPoor;
    sale.grade = "second";
    sale.venue = "=HYPERLINK(1)";
    sale.market = worth::Market::kOnline;
    sale.source = "a \"list\", no. 4";
    sale.note = "two\nlines";
    const auto again = read(write_sales_csv({sale}));
    ASSERT_EQ(again.rows.size(), 1u);
    EXPECT_EQ(again.rows[0].sale, sale);
}

TEST_F(Sales, AreStoredOnceHoweverOftenTheyAreImported) {
    const std::string text = "date,price,currency,form\n2019,20,USD,plate\n2020,25,USD,sugar\n";
    EXPECT_EQ(take(text, false, true)->added, 2);
    EXPECT_EQ(kept_sales(*store)->sales.size(), 0u);
    EXPECT_EQ(take(text)->added, 2);
    const auto again = take(text);
    ASSERT_TRUE(again.has_value());
    EXPECT_EQ(again->added, 0);
    ASSERT_EQ(again->duplicates.size(), 2u);
    EXPECT_EQ(again->duplicates[1].what, "the same as sale-0002, which is kept already");
    const auto kept = kept_sales(*store);
    ASSERT_EQ(kept->sales.size(), 2u);
    EXPECT_EQ(kept->sales[0].sale.id, "sale-0001");
    EXPECT_EQ(store->recent(1)->front().what, "Sales: 2 added, 0 changed from s.csv.");
    const auto changed =
        take("id,date,price,currency,form\nsale-0001,2019,22,USD,plate\nsale-0002,2020,25,USD,sugar\n");
    EXPECT_EQ(changed->changed, 1);
    EXPECT_EQ(changed->unchanged, 1);
    EXPECT_EQ(kept_sales(*store)->sales[0].sale.price, 22);
}

TEST_F(Sales, NothingIsStoredWhenOneRowIsBadUnlessAsked) {
    const std::string text = "date,price,currency,form\n2019,20,USD,plate\n2020,0,USD,sugar\n";
    EXPECT_FALSE(take(text).has_value());
    EXPECT_TRUE(kept_sales(*store)->sales.empty());
    const auto kept = take(text, true);
    ASSERT_TRUE(kept.has_value());
    EXPECT_EQ(kept->added, 1);
    EXPECT_EQ(kept->skipped, 1);
    EXPECT_EQ(kept->problems.size(), 1u);
}

TEST_F(Sales, OfACupboardFolderComeWithItsPieces) {
    const auto folder = std::filesystem::temp_directory_path() / fmt::format("footring-sales-{}", ::getpid());
    std::filesystem::create_directories(folder / "pieces");
    std::ofstream(folder / "pieces" / "p-1.json") << R"({"id": "p-1", "form": "plate"})";
    std::ofstream(folder / "sales.csv") << "date,price,currency,form\n2019,20,USD,plate\n2031,20,USD,plate\n";
    ImportOptions options;
    options.today = "2026-03-01";
    const auto bad = import_folder(*store, &book, folder, options);
    ASSERT_FALSE(bad.has_value());
    EXPECT_EQ(to_line(bad.error().front()),
              (folder / "sales.csv").string() +
                  ":3: date: '2031' is in the future: give the day on which it was sold; "
                  "today is 2026-03-01");
    std::ofstream(folder / "sales.csv") << "date,price,currency,form\n2019,20,USD,plate\n";
    EXPECT_TRUE(import_folder(*store, &book, folder, options).has_value());
    EXPECT_EQ(kept_sales(*store)->sales.size(), 1u);
    std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace footring::exchange
