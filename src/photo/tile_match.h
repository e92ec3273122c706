// photo/tile_match.h - how well one pattern fits another when nobody knows where it begins. Internal to photo/.
//   A Tile is ink on a grid whose columns close on themselves: one repeat of a border (rows across the rim, the
//   outer side first), or a centre in polar form (rows outwards from the middle, columns by angle). Likeness is by
//   correlation, free of contrast: a worn ornament is a paler one. Along the columns the shift is free; across them
//   the rows of the seen tile may be stretched and moved, as a border's sides are seldom found exactly. source
//   correlation by Fourier transforms: Bracewell, The Fourier Transform and Its Applications, chapter 6
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <complex>
#include <opencv2/core.hpp>
#include <vector>

namespace footring::photo {

// A grid's size and how many of its frequencies along the columns are compared.
struct Grid {
    int rows, columns, waves;
    cv::Size size() const { return {columns, rows}; }
};
inline constexpr Grid kCoarse{12, 32, 12}, kFine{40, 128, 44};

// Rows of a tile as Fourier series along the columns: value(x) = c0 + 2 Re sum of c(w) exp(2 pi i w x).
struct Waves {
    Grid grid{};
    std::vector<std::complex<float>> at;  // rows x (waves + 1)
    cv::Mat tile;                         // what they are of, when waves_of() made them
    std::vector<float> weight;            // of each row in comparisons; sums to 1
    float mean = 0;                       // all over
    float spread = 0, pattern = 0;        // standard deviation all over; of what changes along the columns
    float kept = 1;                       // share of the ink that a RowMap left in view
    const std::complex<float>* row(int r) const {
        return at.data() + static_cast<std::size_t>(r * (grid.waves + 1));
    }
};
// `tile` is CV_32FC1 of any size and is averaged down to the grid. Without weights all rows count alike.
Waves waves_of(const cv::Mat& tile, Grid, std::vector<float> weight = {});

// Row v of the drawing (0..1) lies at 0.5 + (v - 0.5) * scale + shift of the seen tile.
struct RowMap {
    float scale = 1, shift = 0;
};
Waves mapped(const Waves& seen, RowMap);

struct Fit {
    float all = 0;      // correlation of everything, -1..1
    float pattern = 0;  // of what changes along the columns
    float turn = 0;     // share of a whole turn by which the drawing must move towards larger columns
};
// One number for both: a drawing that hardly changes along the columns is judged by its rows.
float worth(const Waves& drawing, const Waves& seen, const Fit&);
// The best turn. Both on the same grid.
Fit fit(const Waves& drawing, const Waves& seen);
// Correlation of the pattern at each of the grid's columns, for those who ask how symmetric it is.
std::vector<float> patterns(const Waves& drawing, const Waves& seen);

}  // namespace footring::photo
