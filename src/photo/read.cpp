// The order of a reading: light and scale first, then where the piece is, then what is on it, then what that may
// be. SPDX-License-Identifier: Apache-2.0
#include "photo/read.h"

#include <fmt/format.h>

#include <algorithm>
#include <opencv2/imgcodecs.hpp>

#include "photo/border_tile.h"
#include "photo/card.h"
#include "photo/decoration.h"
#include "photo/glaze.h"
#include "photo/open.h"
#include "photo/ornaments.h"
#include "photo/outline.h"
#include "photo/reduced.h"
#include "photo/strip.h"
#include "photo/suggest.h"
#include "photo/wording.h"

namespace footring::photo {

namespace {

constexpr double kWellWithout = 0.6;  // plate units: how far a centre may reach where no border or verge is seen
constexpr double kStripFrom = -0.04, kStripTo = 0.45;  // plate units: beyond the edge, and well past the verge
const cv::Size kStripSize{2400, 240};
constexpr int kUprightSize = 1024;
// px of the longer side that are enough for all but writing: a plate is then a thousand across, and its rim known
// to a five-thousandth.
constexpr int kEnough = 2600;
constexpr int kAsked = kEnough / 3;  // of the decoder, which leaves half as much again, and more, below kEnough

Expected<void> check(const ReadOptions& options) {
    if (options.rim_height_mm && !(*options.rim_height_mm >= 0 && *options.rim_height_mm <= 300))
        return fail(ProblemCode::kBadInput, "rim height", "is not between 0 and 300 mm",
                    "give the height of the rim above the table, in mm");
    if (options.rim && !(options.rim->b > 1 && options.rim->a >= options.rim->b))
        return fail(ProblemCode::kBadInput, "rim", "its axes are too short or in the wrong order",
                    "give the longer semi-axis first, both over 1 px");
    return {};
}

std::string encoded(const char* ending, const cv::Mat& picture, std::vector<int> how = {}) {
    if (picture.empty()) return {};
    std::vector<uchar> bytes;
    cv::imencode(ending, picture, bytes, how);
    return {bytes.begin(), bytes.end()};
}
std::string jpeg(const cv::Mat& picture) { return encoded(".jpg", picture, {cv::IMWRITE_JPEG_QUALITY, 88}); }

// Halved until it is no larger than is of use.
void halve(Reduced& photo) {
    Picture& picture = photo.picture;
    while (std::max(picture.bgr.cols, picture.bgr.rows) > kEnough) {
        picture.bgr = reduced(picture.bgr, 0.5);
        if (picture.focal_px) *picture.focal_px /= 2;
        photo.by *= 2;
    }
}
// Places in the halved photograph as places in the whole one.
Point enlarged(Point p, int by) { return {p.x * by, p.y * by}; }
Ellipse enlarged(const Ellipse& e, double by) {
    return {{e.centre.x * by, e.centre.y * by}, e.a * by, e.b * by, e.angle_deg};
}
Plate enlarged(Plate plate, int by) {
    plate.outline.rim = enlarged(plate.outline.rim, by);
    for (Point& corner : plate.outline.corners) corner = enlarged(corner, by);
    for (int row = 0; row < 2; ++row)
        for (int c = 0; c < 4; ++c)  // mat pixels have their centres at whole numbers
            plate.photo_from_plate(row, c) =
                by * plate.photo_from_plate(row, c) + (by - 1) / 2.0 * plate.photo_from_plate(2, c);
    return plate;
}
Card enlarged(Card card, int by) {
    for (auto& marker : card.markers)
        for (Point& corner : marker) corner = enlarged(corner, by);
    for (Point& corner : card.corners) corner = enlarged(corner, by);
    return card;
}

struct Height {
    double mm, sigma;
};
// Of the rims of the forms that fit, weighted by how well they do; a usual one where no pack records any.
Height likely_height(const std::vector<SizeCandidate>& sizes, const book::Book& book) {
    constexpr double kUsualSigma = 10;
    // A form that no pack records stays possible, and may be of any height.
    double weight = 0.1, sum = weight * kUsualRimHeightMm,
           squares = weight * (kUsualSigma * kUsualSigma + kUsualRimHeightMm * kUsualRimHeightMm);
    for (const SizeCandidate& size : sizes)
        for (const book::ShapeForm& row : book.shape_forms)
            if (row.height_mm && book[row.form].ware == book::Ware::kFlat && row.trade_size == size.trade_size &&
                book::id_of(book, row.form) == size.form && book::id_of(book, row.shape) == size.shape) {
                weight += size.chance;
                sum += size.chance * *row.height_mm;
                squares += size.chance * *row.height_mm * *row.height_mm;
            }
    const double mean = sum / weight;
    return {mean, std::sqrt(std::max(0.0, squares / weight - mean * mean))};
}

// The size depends on how high the rim stands, and that on which form it is: each form is compared at its own
// height, and then the piece is measured at that of the forms that fit.
std::optional<Plate> find_plate_at_its_height(const Picture& picture, int by, const std::optional<CardFound>& card,
                                              const book::Book& book, const ReadOptions& options, Reading& out) {
    OutlineOptions how{.rim_height_mm = options.rim_height_mm.value_or(kUsualRimHeightMm), .rim = options.rim};
    if (how.rim) how.rim = enlarged(*how.rim, 1.0 / by);
    std::optional<Plate> plate = find_plate(picture, card, how, out.notes);
    if (!plate || !plate->outline.long_mm) return plate;
    if (options.rim_height_mm) plate->outline.long_per_height.reset();
    std::vector<SizeCandidate> sizes = sizes_that_agree(plate->outline, book);
    if (!options.rim_height_mm && plate->outline.long_per_height) {
        const double slope = *plate->outline.long_per_height;
        const Height height = likely_height(sizes, book);
        how.rim_height_mm = height.mm;
        if (plate->outline.corners.empty()) {  // straight sides are found anew
            how.rim = plate->outline.rim;
            how.rim_stands = true;
        }
        std::vector<std::string> again;  // the same sentences a second time
        const double seen = plate->outline.seen;
        if (auto better = find_plate(picture, card, how, again); better && better->outline.long_mm) {
            plate = std::move(better);
            plate->outline.seen = seen;
        }
        plate->outline.sigma_mm = std::hypot(plate->outline.sigma_mm.value_or(0), slope * height.sigma);
        if (plate->mm_per_unit_sigma)
            plate->mm_per_unit_sigma = std::hypot(*plate->mm_per_unit_sigma, slope * height.sigma / 2);
    }
    plate->outline.sizes = std::move(sizes);
    return plate;
}

// Light and wear change the colour that is seen, and a drawing in many colours is recorded under one: a drawing
// that is known says which.
void name_as_recorded(std::string& seen, const Ornaments& ornaments, const std::vector<Scored>& found) {
    if (seen.empty()) return;
    if (std::string recorded = ornaments.recorded_finish(found); !recorded.empty()) seen = std::move(recorded);
}

double score_of_best(const std::vector<Scored>& found) { return found.empty() ? 0 : found.front().score; }

void read_front(const Picture& picture, const Plate& plate, const Light& light, const RimReading& rim,
                const Library& library, const ReadOptions& options, Reading& out) {
    out.border = rim.border;
    out.edge_line = rim.edge_line;
    out.verge_line = rim.verge_line;
    const Ornaments& ornaments = library.ornaments();
    if (rim.repeat) {
        BorderMatch border = ornaments.border(*rim.repeat);
        out.border.ornaments = std::move(border.ornaments);
        if (border.repeats) out.border.repeats = border.repeats;
    }
    out.edge_line.ornaments = ornaments.line(out.edge_line);
    out.verge_line.ornaments = ornaments.line(out.verge_line);
    name_as_recorded(out.border.finish, ornaments, out.border.ornaments);
    name_as_recorded(out.edge_line.colour, ornaments, out.edge_line.ornaments);
    name_as_recorded(out.verge_line.colour, ornaments, out.verge_line.ornaments);

    const double well = out.border.present > 0.5 ? 1 - out.border.to : kWellWithout;
    CentreReading centre = read_centre(picture, plate, light, well, rim.slope);
    CentreMatch match;
    if (centre.seen) match = ornaments.centre(*centre.seen);
    // A ring round it belongs to it where a drawing has one.
    if (const auto& framed = centre.framed) {
        CentreMatch with_frame = ornaments.centre(framed->seen);
        if (score_of_best(with_frame.ornaments) > score_of_best(match.ornaments)) {
            match = std::move(with_frame);
            centre.centre.radius = framed->radius;
            centre.centre.middle = framed->middle;
        }
    }
    out.centre = centre.centre;
    out.centre.ornaments = std::move(match.ornaments);
    out.centre.angle_deg = match.angle_deg;
    name_as_recorded(out.centre.finish, ornaments, out.centre.ornaments);
    out.glaze = read_glaze(picture, plate, light, rim, centre);
    find_nearest(out.glaze, library.book());
    out.faults = read_faults(picture, plate, light, rim, centre);
    if (options.pictures && rim.repeat) {
        cv::Mat seen;
        rim.repeat->mean.ink.convertTo(seen, CV_8U, -255, 255);
        out.tile_png = border_tile_png(*rim.repeat);
        out.repeat_png = encoded(".png", rim.repeat->mean.bgr.empty() ? seen : rim.repeat->mean.bgr);
    }
}

// No underside has an ornament that repeats round its rim. (What does so once or twice a side may be the outline.)
bool surely_front(const std::optional<RimReading>& rim, const Plate& plate) {
    constexpr double kSurely = 0.9;
    return rim && rim->border.repeats && rim->border.present > kSurely &&
           *rim->border.repeats > 2 * static_cast<int>(plate.outline.corners.size());
}

// At the middle of the rim, in its plane; without a rim, at the middle of the card.
std::optional<Scale> scale_of(const std::optional<CardFound>& card, const std::optional<Plate>& plate) {
    if (!card) return std::nullopt;
    if (plate && plate->mm_per_unit && plate->outline.rim.a > 0) {
        const double mm_per_px = *plate->mm_per_unit / plate->outline.rim.a;
        return Scale{mm_per_px, mm_per_px * plate->mm_per_unit_sigma.value_or(0) / *plate->mm_per_unit, "card"};
    }
    const auto at = [&](double x, double y) {
        const cv::Vec3d p = card->photo_from_card * cv::Vec3d(x, y, 1);
        return cv::Point2d(p[0] / p[2], p[1] / p[2]);
    };
    constexpr double kLength = 85.60, kHeight = 53.98;  // mm, ISO/IEC 7810 ID-1
    const double across = std::max(cv::norm(at(0, kHeight / 2) - at(kLength, kHeight / 2)) / kLength,
                                   cv::norm(at(kLength / 2, 0) - at(kLength / 2, kHeight)) / kHeight);
    const double mm_per_px = 1 / across;
    return Scale{mm_per_px, mm_per_px * card->sigma_px / (across * kLength), "card"};
}

constexpr double kCentreThere = 0.5;   // `present` from which a thing counts as there
constexpr double kLikeADrawing = 0.5;  // the score from which it counts as that drawing or mark

bool stopped(const ReadOptions& options) { return options.stop && options.stop(); }

}  // namespace

Expected<Reading> read(std::string_view bytes, std::string_view where, const Library& library,
                       const ReadOptions& options) {
    if (auto wrong = check(options); !wrong) return std::unexpected(wrong.error());
    const auto stop = fail(ProblemCode::kConflict, std::string(where), "the reading was stopped", "start it again");
    auto opened = open_reduced(bytes, where, kAsked);
    if (!opened) return std::unexpected(opened.error());

    Reading out;
    out.file = where;
    out.width = opened->full_width;
    out.height = opened->full_height;
    out.notes = opened->picture.notes;
    if (stopped(options)) return stop;
    halve(*opened);
    const Picture& picture = opened->picture;
    const int by = opened->by;

    const std::optional<CardFound> card = find_card(picture);
    const Light light = card ? light_of(picture, *card) : light_without_card(picture);
    if (card) out.card = enlarged(card->seen, by);
    std::optional<Plate> plate = find_plate_at_its_height(picture, by, card, library.book(), options, out);
    std::optional<Plate> whole_plate;
    if (plate) plate->corner = find_corner(picture, *plate);
    if (stopped(options)) return stop;
    if (plate) {
        whole_plate = enlarged(*plate, by);
        out.outline = whole_plate->outline;
        out.notes.insert(out.notes.end(), plate->notes.begin(), plate->notes.end());
        std::array<double, 12> matrix{};
        std::copy_n(whole_plate->photo_from_plate.val, 12, matrix.begin());
        out.photo_from_plate = matrix;
    }
    out.scale = scale_of(card, plate);
    if (out.scale) out.scale->mm_per_px /= by, out.scale->sigma /= by;
    else out.notes.emplace_back("There is no scale card in the photograph, so nothing is in mm.");

    std::optional<RimReading> rim;
    if (plate && options.side != Side::kBack) rim = read_rim(picture, *plate, light);
    out.side = options.side.value_or(Side::kFront);
    Picture whole;  // writing is read from every pixel
    if (options.side ? out.side == Side::kBack : !(plate && surely_front(rim, *plate))) {
        if (by == 1) whole = picture;
        else if (auto all = open(bytes, where)) whole = std::move(*all);
        else return std::unexpected(all.error());
        if (!options.side && ((plate && rises_inwards(picture, *plate)) || looks_like_back(whole, whole_plate)))
            out.side = Side::kBack;
    }
    if (out.side == Side::kFront && plate) {
        const Reading before = out;
        read_front(picture, *plate, light, *rim, library, options, out);
        for (Point& speck : out.faults.specks) speck = enlarged(speck, by);
        // A mark may pass for an ornament of the centre, but for one that no drawing is like.
        if (!options.side && !whole.bgr.empty() && out.centre.present > kCentreThere &&
            score_of_best(out.centre.ornaments) < kLikeADrawing) {
            Wording wording = read_wording(whole, whole_plate, library.book(), options.stop);
            if (score_of_best(wording.marks) > kLikeADrawing) {
                out = before;
                out.side = Side::kBack;
                out.wording = std::move(wording);
            }
        }
    } else if (out.side == Side::kBack) {
        out.wording = read_wording(whole, whole_plate, library.book(), options.stop);
        if (!out.wording.note.empty()) out.notes.push_back(out.wording.note);
    }
    if (stopped(options)) return stop;
    if (options.pictures && plate) {
        out.strip_from = kStripFrom;
        out.strip_to = kStripTo;
        out.strip_jpeg = jpeg(unroll(picture, *plate, kStripFrom, kStripTo, kStripSize,
                                     rim && out.side == Side::kFront ? rim->slope : Slope{})
                                  .bgr);
        out.upright_jpeg = jpeg(upright(picture, *plate, kUprightSize, 0));
    }
    out.suggestions = suggest(out, library.book());
    return out;
}

}  // namespace footring::photo
