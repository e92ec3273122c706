// SPDX-License-Identifier: Apache-2.0
#include "papers/grids.h"

#include <gtest/gtest.h>

namespace footring::papers {
namespace {

TEST(Grids, OfEveryNameFitTheirPaperAndSayWhatTheyAre) {
    for (const NamedGrid& each : all_grids()) {
        const Sheet sheet = size_of(each.size);
        const Grid& g = each.grid;
        EXPECT_GE(g.left_mm, -0.01) << each.name;
        EXPECT_GE(g.top_mm, -0.01) << each.name;
        EXPECT_NEAR(2 * g.left_mm + (g.columns - 1) * g.step_x_mm + g.width_mm, sheet.width_mm, 0.01) << each.name;
        EXPECT_NEAR(2 * g.top_mm + (g.rows - 1) * g.step_y_mm + g.height_mm, sheet.height_mm, 0.01) << each.name;
        EXPECT_NE(each.name.find(std::to_string(g.columns) + "x" + std::to_string(g.rows)), std::string_view::npos);
    }
}

TEST(Grids, WrittenOutAreTakenAsTheyStand) {
    const auto grid = grid_for("3x7,63.5x38.1,7.2x15.1,66x38.1", PageSize::kA4);
    ASSERT_TRUE(grid.has_value()) << to_line(grid.error());
    EXPECT_EQ(grid->columns, 3);
    EXPECT_EQ(grid->rows, 7);
    EXPECT_DOUBLE_EQ(grid->left_mm, 7.2);
    EXPECT_DOUBLE_EQ(grid->step_x_mm, 66);
}

TEST(Grids, ThatDoNotFitAreRefusedWithTheReason) {
    const auto said = [](const char* text, PageSize size = PageSize::kA4) {
        const auto grid = grid_for(text, size);
        return grid ? "taken" : grid.error().what;
    };
    EXPECT_EQ(said("4x7,63.5x38.1,7.2x15.1,66x38.1"), "'4x7,63.5x38.1,7.2x15.1,66x38.1' does not fit the paper");
    EXPECT_EQ(said("3x7,63.5x38.1,7.2x15.1,60x38.1"),
              "'3x7,63.5x38.1,7.2x15.1,60x38.1' has labels that lie over each other");
    EXPECT_EQ(said("2.5x7,63.5x38.1,7.2x15.1,66x38.1"),
              "'2.5x7,63.5x38.1,7.2x15.1,66x38.1' has no whole number of columns and rows (1 to 20, 1 to 60)");
    EXPECT_EQ(said("3x7"), "'3x7' is no sheet that is known");
    EXPECT_EQ(said("a4-3x7-63.5x38.1", PageSize::kLetter),
              "'a4-3x7-63.5x38.1' is a sheet of A4, the paper is Letter");
}

}  // namespace
}  // namespace footring::papers
