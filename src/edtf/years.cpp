// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "edtf/shape.h"

namespace footring::edtf {

namespace {

// Years from the end to a year beyond it; in unsigned arithmetic, where no difference of two years overflows.
double distance(std::int64_t from, std::int64_t to) {
    return static_cast<double>(static_cast<std::uint64_t>(to) - static_cast<std::uint64_t>(from));
}

double beyond(End end, double distance, const Settings& settings) {
    if (end == End::kSharp) return 0;
    const double reach = end == End::kAbout ? settings.soft_about_years : settings.soft_uncertain_years;
    return distance < reach ? 1 - distance / reach : 0;  // a reach of 0 makes the end sharp
}

double weight(const Span& span, std::int64_t year, const Settings& settings) {
    if (span.first && year < *span.first) return beyond(span.first_end, distance(year, *span.first), settings);
    if (span.last && year > *span.last) return beyond(span.last_end, distance(*span.last, year), settings);
    return 1;
}

}  // namespace

double weight(const std::vector<Span>& spans, std::int64_t year, const Settings& settings) {
    double most = 0;
    for (const Span& span : spans) most = std::max(most, weight(span, year, settings));
    return most;
}

std::vector<double> year_weights(const Edtf& date, int first, int last, const Settings& settings) {
    std::vector<double> weights;
    if (last < first) return weights;
    weights.reserve(static_cast<std::size_t>(std::int64_t{last} - first + 1));
    for (std::int64_t year = first; year <= last; ++year) weights.push_back(weight(date.spans(), year, settings));
    return weights;
}

std::string from_years(int first, int last) {
    if (last < first) std::swap(first, last);
    return first == last ? print_year(first) : fmt::format("{}/{}", print_year(first), print_year(last));
}

}  // namespace footring::edtf
