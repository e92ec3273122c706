// SPDX-License-Identifier: Apache-2.0
#include "exchange/mappings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/memory_store.h"

namespace footring::exchange {
namespace {

using ::testing::Pair;
using ::testing::UnorderedElementsAre;

struct Mappings : ::testing::Test {
    std::unique_ptr<store::Store> store = store::open_in_memory([] { return std::string("2026-03-01T09:30:00Z"); });
};

TEST_F(Mappings, AreFoundAgainByTheHeadingsInWhateverOrder) {
    ASSERT_TRUE(remember(*store, "pieces", {{"No.", "number"}, {"Line", "shape"}, {"Colour", ""}}));
    const auto found = remembered(*store, "pieces", {"Colour", "Line", "No."});
    ASSERT_TRUE(found && *found);
    EXPECT_THAT(**found, UnorderedElementsAre(Pair("No.", "number"), Pair("Line", "shape"), Pair("Colour", "")));
    EXPECT_FALSE(*remembered(*store, "sales", {"Colour", "Line", "No."})) << "they are of another kind of list";
    EXPECT_FALSE(*remembered(*store, "pieces", {"Line", "No."})) << "another list";
}

TEST_F(Mappings, AreReplacedAndNotAddedWhenTheSameListComesAgain) {
    ASSERT_TRUE(remember(*store, "pieces", {{"No.", "number"}}));
    ASSERT_TRUE(remember(*store, "pieces", {{"No.", "id"}}));
    ASSERT_TRUE(remember(*store, "pieces", {{"No.", "id"}}));
    const auto kept = store->records("mapping");
    ASSERT_EQ(kept->size(), 1u);
    EXPECT_EQ(kept->front().body["mapping"]["No."], "id");
    EXPECT_EQ(store->history("mapping", kept->front().id)->size(), 2u) << "the third time nothing changed";
}

TEST_F(Mappings, OfAnotherShapeArePassedOver) {
    store::Record odd;
    odd.kind = "mapping";
    odd.body = {{"of", "pieces"}, {"headings", 7}};
    ASSERT_TRUE(store->put(odd, ""));
    const auto found = remembered(*store, "pieces", {"No."});
    ASSERT_TRUE(found);
    EXPECT_FALSE(*found);
}

}  // namespace
}  // namespace footring::exchange
