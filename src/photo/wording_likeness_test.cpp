// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "photo/wording.h"

namespace footring::photo {
namespace {

const std::vector<std::string>& wordings() {
    static const std::vector<std::string> all = {"SEDGEFORD / WARRANTED",
                                                 "HOLM & TARN",
                                                 "22 CARAT GOLD",
                                                 "QUAYSIDE POTTERY",
                                                 "K W / SECOND",
                                                 "D P",
                                                 "DECORATED AT / BIRCH",
                                                 "STONE CHINA",
                                                 "OVENPROOF",
                                                 "TABLE WARE",
                                                 "A B X",
                                                 "ETCHED GOLD",
                                                 "MADE IN THE VALE",
                                                 "GUARANTEED 1904"};
    return all;
}

TEST(LikenessOfWording, IsOneForTheSameWording) {
    for (const std::string& wording : wordings()) EXPECT_EQ(likeness(wording, wording), 1) << wording;
}

TEST(LikenessOfWording, HardlyMindsCaseBreaksAndAccents) {
    EXPECT_EQ(likeness("Sedgeford / Warranted", "SEDGEFORD / WARRANTED"), 1);
    EXPECT_GT(likeness("SEDGEFORD WARRANTED", "SEDGEFORD / WARRANTED"), 0.98);
    EXPECT_GT(likeness("SEDGE FORD-WARRAN TED.", "SEDGEFORD / WARRANTED"), 0.95);
    EXPECT_EQ(likeness("DECORE", "D\u00C9COR\u00C9"), 1);
    EXPECT_EQ(likeness("DECOR",
                       "D\xC3\x89"
                       "COR"),
              1);
}

TEST(LikenessOfWording, MindsLettersThatLookAlikeLessThanOthers) {
    EXPECT_GT(likeness("5EDGEF0RD", "SEDGEFORD"), likeness("XEDGEFXRD", "SEDGEFORD"));
    EXPECT_GT(likeness("HOIM & TARN", "HOLM & TARN"), likeness("HOZM & TARN", "HOLM & TARN"));
    EXPECT_GT(likeness("HOLRN", "HOLM"), likeness("HOLXX", "HOLM"));
}

TEST(LikenessOfWording, FallsWithEachLetterThatIsWrong) {
    for (const std::string& wording : wordings()) {
        std::string wrong = wording;
        double before = 1;
        for (char& c : wrong) {
            if (c == ' ' || c == '/' || c == '&') continue;
            c = c == 'Z' ? 'A' : c == 'J' ? 'Z' : 'J';
            const double now = likeness(wrong, wording);
            EXPECT_LE(now, before) << wrong << " for " << wording;
            before = now;
        }
        EXPECT_LT(before, 0.5) << wrong;
    }
}

TEST(LikenessOfWording, FallsWithEachLetterThatIsLost) {
    double before = 1;
    for (std::size_t left = 18; left > 0; --left) {
        const double now = likeness(std::string("SEDGEFORD/WARRANTED").substr(0, left), "SEDGEFORD / WARRANTED");
        EXPECT_LE(now, before) << left;
        before = now;
    }
}

TEST(LikenessOfWording, IsSmallForUnrelatedWordings) {
    for (const std::string& a : wordings())
        for (const std::string& b : wordings())
            if (a != b) {
                EXPECT_LT(likeness(a, b), 0.4) << a << " and " << b;
            }
}

TEST(LikenessOfWording, ToleratesAnotherOrderOfLinesALittle) {
    const double swapped = likeness("WARRANTED / SEDGEFORD", "SEDGEFORD / WARRANTED");
    EXPECT_GT(swapped, 0.9);
    EXPECT_LT(swapped, 1);
}

TEST(LikenessOfWording, PutsTheMarkWithTheLineThatWasReadFirst) {
    EXPECT_GT(likeness("HOLM / SEDGEFORD", "HOLM / SEDGEFORD"),
              likeness("HOLM / SEDGEFORD", "HOLM / BY SEDGEFORD / WARRANTED"));
    EXPECT_GT(likeness("HOLM / BY SEDGEFORD", "HOLM / BY SEDGEFORD / WARRANTED"), 0.6);
}

TEST(LikenessOfWording, IsNothingForNothing) {
    EXPECT_EQ(likeness("", "SEDGEFORD"), 0);
    EXPECT_EQ(likeness("SEDGEFORD", ""), 0);
    EXPECT_EQ(likeness(" ./ ", "SEDGEFORD"), 0);
    EXPECT_EQ(likeness("\xFF\xFE\x00", "SEDGEFORD"), 0);
}

}  // namespace
}  // namespace footring::photo
