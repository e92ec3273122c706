// SPDX-License-Identifier: Apache-2.0
#include "photo/ornament_shelf.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <opencv2/imgproc.hpp>

#include "photo/drawing_pixels.h"
#include "photo/index_numbers.h"
#include "photo/ornaments.h"
#include "photo/seen_centre.h"

namespace footring::photo {

namespace {
const cv::Size kPixels{128, 96};
constexpr std::size_t kShortlist = 100;

cv::Mat ink_of(const Shelved& s) {
    cv::Mat out;
    s.pixels.convertTo(out, CV_32F, 1.0 / 255);
    return out;
}
cv::Mat border_tile(const Shelved& s) {
    const cv::Mat ink = ink_of(s);
    return with_margins(ink, inked_rows(ink), kFine.size());
}
cv::Mat centre_tile(const Shelved& s) {
    cv::Mat ink = ink_of(s);
    // To square pixels, so that a circle is one.
    const double wide = s.aspect >= 1 ? kPixels.width : kPixels.height * s.aspect;
    const double high = s.aspect >= 1 ? kPixels.width / s.aspect : kPixels.height;
    cv::resize(ink, ink,
               {std::max(4, static_cast<int>(std::lround(wide))), std::max(4, static_cast<int>(std::lround(high)))},
               0, 0, cv::INTER_AREA);
    return polar(ink, disc_of(ink));
}

int symmetry_of(const Waves& disc) {
    const auto same = patterns(disc, disc);
    const auto at = [&](double turn) {
        return same[static_cast<std::size_t>(std::lround(turn * static_cast<double>(same.size()))) % same.size()];
    };
    for (int n = 36; n >= 2; --n) {
        bool all = true;
        for (int k = 1; k < n && all; ++k) all = at(static_cast<double>(k) / n) > 0.8f;
        // Between two of its turns it must differ, or it is a ring that any turn leaves as it is.
        if (all) return n;
    }
    return 1;
}

std::shared_ptr<const Prepared> prepared_border(const Shelved& s) {
    const cv::Mat tile = border_tile(s);
    return std::make_shared<Prepared>(Prepared{waves_of(tile, kCoarse), waves_of(tile, kFine), 1});
}
std::shared_ptr<const Prepared> prepared_centre(const Shelved& s) {
    const cv::Mat tile = centre_tile(s);
    Prepared out{waves_of(tile, kCoarse, polar_weight(kCoarse)), waves_of(tile, kFine, polar_weight(kFine)), 1};
    out.symmetry = symmetry_of(out.fine);
    return std::make_shared<Prepared>(std::move(out));
}

bool stripes_only(const cv::Mat& ink) {
    cv::Mat first;
    cv::reduce(ink, first, 1, cv::REDUCE_AVG);
    return cv::norm(ink, cv::repeat(first, 1, ink.cols), cv::NORM_INF) < 0.1;
}
cv::Mat lightness(const cv::Mat& bgr) {
    cv::Mat grey;
    cv::cvtColor(bgr, grey, cv::COLOR_BGR2GRAY);
    grey.convertTo(grey, CV_32F, 1.0 / 255);
    return grey;
}
std::vector<std::optional<Lab>> stripes(const cv::Mat& ink, const cv::Mat& bgr) {
    const Extent rows = inked_rows(ink);
    const cv::Range inked(static_cast<int>(std::lround(rows.from * ink.rows)),
                          static_cast<int>(std::lround(rows.to * ink.rows)));
    return row_colours(ink.rowRange(inked), bgr.rowRange(inked), kStripeRows);
}

// Where treatments carry each ornament: how often along a rim, how often in a middle.
struct Uses {
    int along = 0, middle = 0;
};
std::vector<Uses> uses_of(const book::Book& book) {
    std::vector<Uses> out(book.ornaments.size());
    for (const auto& row : book.treatment_ornaments) {
        if (row.share == 0) continue;
        Uses& uses = out[row.ornament.at];
        const bool middle = row.place == book::Place::kCentre || row.place == book::Place::kUnderside ||
                            row.place == book::Place::kInside;
        ++(middle ? uses.middle : uses.along);
    }
    return out;
}

void set_chances(Shelved& s, const book::Ornament& o, const Uses& uses) {
    using enum book::OrnamentKind;
    const bool plain = o.kind == kLine || o.kind == kBand || o.kind == kSolid;
    if (uses.along + uses.middle > 0) {
        const double along = uses.along + 0.5, middle = uses.middle + 0.5;
        s.border_chance = std::max(-2.0, std::log(along / (along + middle)));
        s.centre_chance = std::max(-2.0, std::log(middle / (along + middle)));
    } else {  // recorded nowhere: its build says what it was drawn for
        const bool runs = o.repeats.has_value() || s.aspect > 1.8;
        s.border_chance = runs || plain ? 0 : -0.7;
        s.centre_chance = runs || plain ? -1 : 0;
    }
    if (o.kind == kLine) s.border_chance -= 1;  // a line is a line: its own search knows it
}
}  // namespace

OrnamentShelf::OrnamentShelf(const book::Book& book, std::size_t exact_up_to) {
    const auto uses = uses_of(book);
    for (std::uint32_t i = 0; i < book.ornaments.size(); ++i) {
        const book::Ornament& o = book.ornaments[i];
        if (o.kind == book::OrnamentKind::kRelief) continue;
        auto pixels = pixels_of(o, kPixels);
        if (!pixels) {
            Problem problem = pixels.error();
            problem.where = book::id_of(book, book::Ref<book::Ornament>{i});
            notes_.push_back(to_line(problem));
            continue;
        }
        Shelved s;
        s.ornament = {i};
        s.id = book::id_of(book, s.ornament);
        s.repeats = o.repeats;
        s.colours = colours_of(o.finish, pixels->ink, pixels->bgr);
        if (stripes_only(pixels->ink)) {
            s.rows = stripes(pixels->ink, pixels->bgr);
            s.etched = !stripes_only(lightness(pixels->bgr));
        }
        pixels->ink.convertTo(s.pixels, CV_8U, 255);
        s.aspect = pixels->aspect;
        set_chances(s, o, uses[i]);
        all_.push_back(std::move(s));
    }
    if (all_.size() <= exact_up_to) {
        for (Shelved& s : all_) s.border = prepared_border(s), s.centre = prepared_centre(s);
        return;
    }
    std::vector<float> borders, centres;
    for (const Shelved& s : all_) {
        const auto b = index_numbers(border_tile(s)), c = index_numbers(centre_tile(s));
        borders.insert(borders.end(), b.begin(), b.end());
        centres.insert(centres.end(), c.begin(), c.end());
    }
    borders_ = std::make_unique<OrnamentIndex>(std::move(borders), exact_up_to);
    centres_ = std::make_unique<OrnamentIndex>(std::move(centres), exact_up_to);
}

std::shared_ptr<const Prepared> OrnamentShelf::border(const Shelved& s) const {
    return s.border ? s.border : prepared_border(s);
}
std::shared_ptr<const Prepared> OrnamentShelf::centre(const Shelved& s) const {
    return s.centre ? s.centre : prepared_centre(s);
}

namespace {
std::vector<std::uint32_t> search(const OrnamentIndex* index, const cv::Mat& tile, std::size_t count) {
    if (index) return index->nearest(index_numbers(tile).data(), kShortlist);
    std::vector<std::uint32_t> all(count);
    std::iota(all.begin(), all.end(), 0u);
    return all;
}
}  // namespace
std::vector<std::uint32_t> OrnamentShelf::borders_like(const cv::Mat& tile) const {
    return search(borders_.get(), tile, all_.size());
}
std::vector<std::uint32_t> OrnamentShelf::centres_like(const cv::Mat& tile) const {
    return search(centres_.get(), tile, all_.size());
}

}  // namespace footring::photo
