// SPDX-License-Identifier: Apache-2.0
#include "papers/grids.h"

#include <fmt/format.h>

#include <array>
#include <vector>

#include "base/text.h"

namespace footring::papers {

namespace {

// The columns of a sheet stand in its middle, and so do the rows, unless said otherwise.
constexpr NamedGrid middle(std::string_view name, PageSize size, int columns, int rows, double width, double height,
                           double gap_x, double gap_y) {
    const double page_width = size == PageSize::kA4 ? 210 : 215.9,
                 page_height = size == PageSize::kA4 ? 297 : 279.4;
    Grid grid;
    grid.columns = columns;
    grid.rows = rows;
    grid.width_mm = width;
    grid.height_mm = height;
    grid.step_x_mm = width + gap_x;
    grid.step_y_mm = height + gap_y;
    grid.left_mm = (page_width - columns * width - (columns - 1) * gap_x) / 2;
    grid.top_mm = (page_height - rows * height - (rows - 1) * gap_y) / 2;
    return {name, size, grid};
}

constexpr std::array kGrids = {
    middle("a4-3x7-63.5x38.1", PageSize::kA4, 3, 7, 63.5, 38.1, 2.5, 0),
    middle("a4-2x7-99.1x38.1", PageSize::kA4, 2, 7, 99.1, 38.1, 2.5, 0),
    middle("a4-3x8-70x37", PageSize::kA4, 3, 8, 70, 37, 0, 0),
    middle("a4-2x4-99.1x67.7", PageSize::kA4, 2, 4, 99.1, 67.7, 2.5, 0),
    middle("a4-4x11-48.5x25.4", PageSize::kA4, 4, 11, 48.5, 25.4, 0, 0),
    middle("letter-3x10-66.7x25.4", PageSize::kLetter, 3, 10, 66.7, 25.4, 3.1, 0),
    middle("letter-2x7-101.6x33.9", PageSize::kLetter, 2, 7, 101.6, 33.9, 4.8, 0),
    middle("letter-2x5-101.6x50.8", PageSize::kLetter, 2, 5, 101.6, 50.8, 4.8, 0),
};

std::unexpected<Problem> refused(std::string_view text, std::string what) {
    return fail(ProblemCode::kBadInput, "sheet", fmt::format("'{}' {}", text, what),
                "name a sheet, as a4-3x7-63.5x38.1, or write columns x rows, label, first corner and step, as "
                "3x7,63.5x38.1,7.2x15.1,66x38.1 (mm)");
}

}  // namespace

std::span<const NamedGrid> all_grids() { return kGrids; }

Expected<Grid> grid_for(std::string_view text, PageSize size) {
    const Sheet sheet = size_of(size);
    if (text.empty()) {
        for (const NamedGrid& each : kGrids)
            if (each.size == size) return each.grid;
    }
    for (const NamedGrid& each : kGrids)
        if (each.name == text) {
            if (each.size != size)
                return refused(text, size == PageSize::kA4 ? "is a sheet of Letter, the paper is A4"
                                                           : "is a sheet of A4, the paper is Letter");
            return each.grid;
        }
    std::vector<double> numbers;
    for (const std::string& part : split(text, ',')) {
        const auto two = split(part, 'x');
        if (two.size() != 2) return refused(text, "is no sheet that is known");
        for (const std::string& one : two) {
            const auto number = to_number(one);
            if (!number || *number < 0 || *number > 400) return refused(text, "is no sheet that is known");
            numbers.push_back(*number);
        }
    }
    if (numbers.size() != 8) return refused(text, "is no sheet that is known");
    Grid grid;
    grid.columns = static_cast<int>(numbers[0]);
    grid.rows = static_cast<int>(numbers[1]);
    grid.width_mm = numbers[2];
    grid.height_mm = numbers[3];
    grid.left_mm = numbers[4];
    grid.top_mm = numbers[5];
    grid.step_x_mm = numbers[6];
    grid.step_y_mm = numbers[7];
    if (grid.columns != numbers[0] || grid.rows != numbers[1] || grid.columns < 1 || grid.rows < 1 ||
        grid.columns > 20 || grid.rows > 60)
        return refused(text, "has no whole number of columns and rows (1 to 20, 1 to 60)");
    if (grid.width_mm < 15 || grid.height_mm < 8)
        return refused(text, "has labels under 15 x 8 mm, too small to read");
    if ((grid.columns > 1 && grid.step_x_mm < grid.width_mm) || (grid.rows > 1 && grid.step_y_mm < grid.height_mm))
        return refused(text, "has labels that lie over each other");
    if (grid.left_mm + (grid.columns - 1) * grid.step_x_mm + grid.width_mm > sheet.width_mm + 0.01 ||
        grid.top_mm + (grid.rows - 1) * grid.step_y_mm + grid.height_mm > sheet.height_mm + 0.01)
        return refused(text, "does not fit the paper");
    return grid;
}

}  // namespace footring::papers
