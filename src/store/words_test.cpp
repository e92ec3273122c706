// SPDX-License-Identifier: Apache-2.0
#include "store/words.h"

#include <gtest/gtest.h>

namespace footring::store {
namespace {

using Words = std::vector<std::string>;

TEST(Words, FindARecordByTheBeginningOfAnyOfThem) {
    const std::string indexed = index_words({"demo:t-117", "Chêne d'or"});
    for (const char* typed : {"demo", "t-117", "117", "t1", "chene", "OR", "d'or 117"})
        EXPECT_TRUE(has_words(indexed, query_words(typed))) << typed;
    for (const char* typed : {"17", "hene", "demo 118"})
        EXPECT_FALSE(has_words(indexed, query_words(typed))) << typed;
}

TEST(Words, AreCutToCharactersAndKeptWithTheirDigits) {
    EXPECT_EQ(beginnings({"platter", "pl", "t117", "чашка", "釉薬大皿"}, 3),
              (Words{"pla", "pl", "t117", "чаш", "釉薬大"}));
}

}  // namespace
}  // namespace footring::store
