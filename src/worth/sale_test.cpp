// SPDX-License-Identifier: Apache-2.0
#include "worth/sale.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "worth/currencies.h"
#include "worth/test_sales.h"

namespace footring::worth {
namespace {

using testing::kToday;

std::vector<std::string> lines(const std::vector<Problem>& problems) {
    std::vector<std::string> out;
    for (const Problem& problem : problems) out.push_back(to_line(problem));
    return out;
}
nlohmann::json good() {
    return {{"date", "2019-05-12"}, {"price", 24.5}, {"currency", "usd"}, {"form", "dinner-plate"}};
}
std::vector<std::string> faults(const nlohmann::json& changes) {
    nlohmann::json value = good();
    value.update(changes);
    const auto sale = sale_from_json(value, kToday, "sale");
    return sale ? std::vector<std::string>{} : lines(sale.error());
}

TEST(Sale, IsReadFromJsonAndWrittenBack) {
    nlohmann::json value = good();
    value.update({{"treatment", "demo:t-117"},
                  {"size_mm", 241},
                  {"condition", "Chipped"},
                  {"grade", "2nd"},
                  {"venue", "Tollgate Rooms"},
                  {"market", "shop"},
                  {"source", "list 4"},
                  {"note", "n"}});
    const auto sale = sale_from_json(value, kToday, "sale");
    ASSERT_TRUE(sale.has_value()) << lines(sale.error()).front();
    EXPECT_EQ(sale_json(*sale).dump(),
              R"({"id":"","date":"2019-05-12","price":24.5,"currency":"USD","form":"dinner-plate",)"
              R"("treatment":"demo:t-117","shape":"","size_mm":241.0,"condition":"damaged","grade":"second",)"
              R"("venue":"Tollgate Rooms","market":"dealer","source":"list 4","note":"n"})");
    EXPECT_EQ(sale_from_json(nlohmann::json::parse(sale_json(*sale).dump()), kToday, "again"), *sale);
}

TEST(Sale, EveryFaultIsToldAtOnce) {
    const nlohmann::json bad{{"date", "2031"},       {"price", -3},      {"currency", "USB"}, {"form", ""},
                             {"condition", "rough"}, {"grade", "third"}, {"market", "moon"},  {"size_mm", 90000}};
    EXPECT_THAT(
        faults(bad),
        ::testing::ElementsAre(
            "sale: /condition: there is no condition 'rough': use mint, good, fair, poor or damaged",
            "sale: /market: there is no market 'moon': use auction, dealer, fair, online or private",
            "sale: /date: '2031' is in the future: give the day on which it was sold; today is 2026-03-01",
            "sale: /currency: 'USB' is not a currency of ISO 4217: did you mean 'USD'?",
            "sale: /price: -3 is a negative price: give what was paid",
            "sale: /form: the form is missing: say what was sold, as in dinner-plate",
            "sale: /size_mm: 90000 is not a length from 5 to 2000 mm: give the longest measure in millimetres",
            "sale: /grade: there is no grade 'third': use first, second or nothing"));
}

TEST(Sale, PricesThatCannotBeAreRefused) {
    EXPECT_THAT(
        faults({{"price", 0}}),
        ::testing::ElementsAre("sale: /price: the price is 0: give what was paid; leave out what was given away "
                               "or not sold"));
    EXPECT_THAT(
        faults({{"price", 24500000}}),
        ::testing::ElementsAre("sale: /price: 24500000 USD for one piece of tableware cannot be right: check "
                               "the decimal point and the currency"));
    EXPECT_THAT(faults({{"price", 24500000}, {"currency", "IDR"}}), ::testing::IsEmpty());
    EXPECT_THAT(
        faults({{"price", nullptr}}),
        ::testing::ElementsAre("sale: /price: the price is missing: give what was paid, or leave the sale out"));
    EXPECT_THAT(faults({{"price", "12"}}),
                ::testing::ElementsAre("sale: /price: this is not a number: give a number without quotes"));
    EXPECT_EQ(
        to_line(read_price("$1,250", "s.csv:2: price").error()),
        "s.csv:2: price: '$1,250' is not a price: give digits with a point, as in 1250.50, without the currency's "
        "sign and without separators");
}

TEST(Sale, ADateIsADayAMonthAYearOrAShortPeriod) {
    EXPECT_NEAR(*year_of_sale("2019-01-01", kToday, ""), 2019.0014, 1e-3);
    EXPECT_NEAR(*year_of_sale("2019-07-02", kToday, ""), 2019.5, 1e-2);
    EXPECT_NEAR(*year_of_sale("2019", kToday, ""), 2019.5, 1e-2);
    EXPECT_NEAR(*year_of_sale("2018~/2019", kToday, ""), 2019.0, 1e-2);
    EXPECT_TRUE(year_of_sale("2026-03-01", kToday, "").has_value());
    EXPECT_EQ(to_line(year_of_sale("2026-03-02", kToday, "date").error()),
              "date: '2026-03-02' is in the future: give the day on which it was sold; today is 2026-03-01");
    EXPECT_EQ(to_line(year_of_sale("1990/..", kToday, "date").error()),
              "date: '1990/..' is not the day, month or year of a sale: write it as 2019-05-12, 2019-05 or 2019");
    EXPECT_EQ(to_line(year_of_sale("199X", kToday, "date").error()),
              "date: '199X' runs over 9 years: give a period of at most 5 years, or leave the sale out");
    EXPECT_EQ(to_line(year_of_sale("0219-05", kToday, "date").error()),
              "date: '0219-05' is before 1850: check the year of the sale");
}

TEST(Sale, SizesAreReadInMillimetresCentimetresAndInches) {
    EXPECT_DOUBLE_EQ(*read_size_mm("241", ""), 241);
    EXPECT_DOUBLE_EQ(*read_size_mm("24.1 cm", ""), 241);
    EXPECT_DOUBLE_EQ(*read_size_mm("9 1/2 in", ""), 241.3);
    EXPECT_DOUBLE_EQ(*read_size_mm("9.5\"", ""), 241.3);
    for (const char* bad : {"", "big", "9 2 in", "1/0 in", "-3", "0.2", "90000"})
        EXPECT_FALSE(read_size_mm(bad, "").has_value()) << bad;
}

TEST(Sale, TwoRecordsOfOneSaleAreFound) {
    const Sale a = *sale_from_json(good(), kToday, "");
    Sale b = a;
    b.id = "sale-0009";
    EXPECT_EQ(likeness(a, b), Likeness::kSame);
    b.source = "another list";
    EXPECT_EQ(likeness(a, b), Likeness::kMaybe);
    b.price = 25;
    EXPECT_EQ(likeness(a, b), Likeness::kDifferent);
}

TEST(Sale, TheVenueMayTellTheMarket) {
    EXPECT_EQ(market_of_venue("Auction, Ambrel Bridge"), Market::kAuction);
    EXPECT_EQ(market_of_venue("Online auction"), Market::kOnline);
    EXPECT_EQ(market_of_venue("Flea market, Pinmarsh"), Market::kFair);
    EXPECT_EQ(market_of_venue("Tollgate Rooms"), Market::kUnsaid);
}

TEST(Currencies, AreInOrderAndHaveNoSecondOfACode) {
    const auto all = all_currencies();
    EXPECT_GT(all.size(), 150u);
    for (std::size_t i = 1; i < all.size(); ++i) EXPECT_LT(all[i - 1].code, all[i].code);
    EXPECT_NE(currency_of("DEM"), nullptr);
    EXPECT_EQ(currency_of("XXX"), nullptr);
}

}  // namespace
}  // namespace footring::worth
