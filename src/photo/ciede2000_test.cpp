// SPDX-License-Identifier: Apache-2.0
#include "photo/ciede2000.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <vector>

namespace footring::photo {

TEST(Ciede2000, GivesThePublishedDifferenceOfAllThirtyFourPairsBothWays) {
    std::ifstream file(FOOTRING_ROOT "/tests/facts/ciede2000.csv");
    std::string line;
    std::getline(file, line);
    ASSERT_EQ(line, "pair,L1,a1,b1,L2,a2,b2,dE00");
    int pairs = 0;
    while (std::getline(file, line)) {
        std::vector<double> v;
        std::istringstream cells(line);
        for (std::string cell; std::getline(cells, cell, ',');) v.push_back(std::stod(cell));
        ASSERT_EQ(v.size(), 8u) << line;
        EXPECT_NEAR(ciede2000({v[1], v[2], v[3]}, {v[4], v[5], v[6]}), v[7], 0.00005001) << line;
        EXPECT_NEAR(ciede2000({v[4], v[5], v[6]}, {v[1], v[2], v[3]}), v[7], 0.00005001) << line;
        ++pairs;
    }
    EXPECT_EQ(pairs, 34);
}

TEST(Ciede2000, OfAColourWithItselfIsNothing) { EXPECT_EQ(ciede2000({50, 20, -30}, {50, 20, -30}), 0); }

}  // namespace footring::photo
