// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/suggest.h"

namespace footring::photo {

namespace {

// Fired clay shrinks unevenly and jiggers wear: plates of one size differ by about this share of their length, one
// standard deviation. Common practice, no published source.
constexpr double kPottersVariation = 0.015;
constexpr double kRatioVariation = 0.02;  // of short / long, which shrinks and grows with less than either
// A piece whose size no open pack records: its chance beforehand, and the span of sizes (mm) it may have.
constexpr double kUnlistedShare = 0.10, kUnlistedSpanMm = 400;
// Where neither the person nor the pack says how high the rim stands, one standard deviation of a guess.
constexpr double kHeightGuessMm = 10;
constexpr double kLeastSizeChance = 0.01;  // less likely ones are left out
constexpr std::size_t kMostSizes = 20;

bool same_kind(OutlineKind seen, book::Outline recorded) {
    switch (seen) {
        case OutlineKind::kRound:
            return recorded == book::Outline::kRound;
        case OutlineKind::kOval:
            return recorded == book::Outline::kOval;
        case OutlineKind::kSquare:
            return recorded == book::Outline::kSquare;
        case OutlineKind::kOctagonal:
            return recorded == book::Outline::kOctagonal;
        case OutlineKind::kOther:
            return recorded == book::Outline::kOther;
        case OutlineKind::kNone:
            return false;
    }
    return false;
}

double gauss(double value, double mean, double sigma) {
    const double z = (value - mean) / sigma;
    return std::exp(-0.5 * z * z) / (sigma * std::sqrt(2 * std::numbers::pi));
}

}  // namespace

std::vector<SizeCandidate> sizes_that_agree(const Outline& outline, const book::Book& book) {
    if (!outline.long_mm) return {};
    const double measured = outline.sigma_mm.value_or(0);
    // The height of a flat form's rim is that of the form; that of a hollow one may include its lid.
    const auto density = [&](const book::ShapeForm& row) {
        double seen = *outline.long_mm, doubt = measured;
        if (outline.long_per_height && row.height_mm && book[row.form].ware == book::Ware::kFlat)
            seen += *outline.long_per_height * (*row.height_mm - outline.rim_height_mm);
        else if (outline.long_per_height) doubt = std::hypot(doubt, *outline.long_per_height * kHeightGuessMm);
        return gauss(seen, *row.length_mm, std::hypot(doubt, kPottersVariation * *row.length_mm));
    };
    struct SizeFit {
        SizeCandidate size;
        double weight;
    };
    std::vector<SizeFit> fits;
    std::size_t comparable = 0;
    double listed = 0;
    for (const book::ShapeForm& row : book.shape_forms) {
        if (!row.length_mm || !same_kind(outline.kind, book[row.form].outline)) continue;
        ++comparable;
        double weight = density(row);
        // Both lengths err together (scale, shrinkage), so the second one counts by its ratio to the first. A width
        // is recorded of what has handles, lugs or an oval rim; what has none is as wide as it is long.
        const bool oblong = outline.kind == OutlineKind::kOval || outline.kind == OutlineKind::kOther;
        const std::optional<double> width = row.width_mm || oblong ? row.width_mm : row.length_mm;
        if (width && outline.short_mm) {
            const double z = (*outline.short_mm / *outline.long_mm - *width / *row.length_mm) /
                             std::hypot(measured / *outline.long_mm, kRatioVariation);
            weight *= std::exp(-0.5 * z * z);
        }
        listed += weight;
        fits.push_back({{book::id_of(book, row.shape), book::id_of(book, row.form), row.trade_size, 0}, weight});
    }
    if (comparable == 0) return {};
    const double each = (1 - kUnlistedShare) / static_cast<double>(comparable);
    const double total = each * listed + kUnlistedShare / kUnlistedSpanMm;
    std::vector<SizeCandidate> out;
    for (SizeFit& fit : fits) {
        fit.size.chance = each * fit.weight / total;
        if (fit.size.chance >= kLeastSizeChance) out.push_back(std::move(fit.size));
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &SizeCandidate::chance);
    if (out.size() > kMostSizes) out.resize(kMostSizes);
    return out;
}

}  // namespace footring::photo
