// SPDX-License-Identifier: Apache-2.0
#include "naming/prior_counts.h"

#include <gtest/gtest.h>

namespace footring::naming {
namespace {

book::Book three_treatments() {
    book::Book book;
    book::Pack pack;
    pack.id = "demo";
    book.packs.push_back(pack);
    book.shapes.emplace_back().id = "harrow";
    for (const char* id : {"t-1", "t-2", "t-3"}) {
        book::Treatment treatment{};
        treatment.id = id;
        book.treatments.push_back(treatment);
    }
    for (const char* subject : {"demo:t-2", "demo:t-2", "demo:harrow"}) {
        book::DatedUse use{};
        use.subject = subject;
        book.dated_uses.push_back(use);
    }
    book.index();
    return book;
}

TEST(PriorCounts, AreAbsentUnlessASettingAsksForThem) {
    const std::vector<std::pair<std::string, std::int64_t>> decided{{"demo:t-1", 4}};
    EXPECT_TRUE(prior_counts(three_treatments(), Settings{}, decided).empty());
}

TEST(PriorCounts, CountDatedUsesOfTreatmentsOnly) {
    Settings settings;
    settings.prior_pack_counts = 1;
    EXPECT_EQ(prior_counts(three_treatments(), settings), (std::vector<double>{0, 2, 0}));
}

TEST(PriorCounts, AddThePiecesOfTheCupboardAndPassOverWhatNoPackHas) {
    Settings settings;
    settings.prior_pack_counts = 1;
    settings.prior_cupboard_counts = 1;
    const std::vector<std::pair<std::string, std::int64_t>> decided{
        {"demo:t-1", 4}, {"elsewhere", 9}, {"closed:t-3", 5}, {"demo:t-2", 1}};
    EXPECT_EQ(prior_counts(three_treatments(), settings, decided), (std::vector<double>{4, 3, 0}));
}

}  // namespace
}  // namespace footring::naming
