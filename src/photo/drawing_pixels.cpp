// SPDX-License-Identifier: Apache-2.0
#include "photo/drawing_pixels.h"

#include <librsvg/rsvg.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "base/text.h"
#include "book/colour.h"
#include "book/drawings.h"

namespace footring::photo {

namespace {
// How far a colour lies from the glaze before it counts as full ink, in CIE76. Gold on ivory is about 45 away, a
// painted highlight 5.
constexpr double kFullInk = 25;
const book::Lab kUsualGlaze{91, 1, 8};  // ivory: most ware of the period; white is 10 away

struct GObjectRelease {
    void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
    void operator()(GError* error) const { g_error_free(error); }
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
template <class T>
using Owned = std::unique_ptr<T, GObjectRelease>;

std::unexpected<Problem> unreadable(const book::Ornament& ornament, std::string what, std::string remedy) {
    return fail(ProblemCode::kUnreadable, ornament.id, std::move(what), std::move(remedy));
}

// Straight (not premultiplied) BGRA, CV_8UC4. Empty when librsvg refuses.
cv::Mat drawn_svg(const std::string& svg, const book::DrawingShape& shape, cv::Size size, std::string& why) {
    GError* raised = nullptr;
    const Owned<RsvgHandle> handle(
        rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &raised));
    const auto refused = [&] {
        const Owned<GError> error(raised);
        why = error ? error->message : "it is no SVG";
        return cv::Mat();
    };
    if (!handle) return refused();
    const Owned<cairo_surface_t> surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, size.width, size.height));
    const Owned<cairo_t> cairo(cairo_create(surface.get()));
    cairo_scale(cairo.get(), size.width / shape.width, size.height / shape.height);
    const RsvgRectangle whole{0, 0, shape.width, shape.height};
    if (!rsvg_handle_render_document(handle.get(), cairo.get(), &whole, &raised)) return refused();
    cairo_surface_flush(surface.get());
    const cv::Mat premultiplied(size, CV_8UC4, cairo_image_surface_get_data(surface.get()),
                                static_cast<std::size_t>(cairo_image_surface_get_stride(surface.get())));
    cv::Mat out(size, CV_8UC4);
    std::transform(premultiplied.begin<cv::Vec4b>(), premultiplied.end<cv::Vec4b>(), out.begin<cv::Vec4b>(),
                   [](cv::Vec4b p) {
                       if (p[3] == 0) return cv::Vec4b(255, 255, 255, 0);
                       for (int c = 0; c < 3; ++c) p[c] = cv::saturate_cast<uchar>(p[c] * 255.0 / p[3]);
                       return p;
                   });
    return out;
}

cv::Mat decoded_png(const std::string& png, cv::Size size) {
    cv::Mat image = cv::imdecode(cv::Mat(1, static_cast<int>(png.size()), CV_8U, const_cast<char*>(png.data())),
                                 cv::IMREAD_UNCHANGED);
    if (image.empty()) return {};
    if (image.depth() == CV_16U) image.convertTo(image, CV_8U, 1.0 / 257);
    if (image.channels() == 1) cv::cvtColor(image, image, cv::COLOR_GRAY2BGRA);
    else if (image.channels() == 3) cv::cvtColor(image, image, cv::COLOR_BGR2BGRA);
    if (image.type() != CV_8UC4) return {};
    // Averaged with colours weighted by how opaque they are, or see-through parts would tint the edges.
    cv::Mat weighted(image.size(), CV_32FC4), small;
    std::transform(image.begin<cv::Vec4b>(), image.end<cv::Vec4b>(), weighted.begin<cv::Vec4f>(), [](cv::Vec4b p) {
        const float a = static_cast<float>(p[3]);
        return cv::Vec4f(static_cast<float>(p[0]) * a, static_cast<float>(p[1]) * a, static_cast<float>(p[2]) * a,
                         a);
    });
    cv::resize(weighted, small, size, 0, 0, cv::INTER_AREA);
    cv::Mat out(size, CV_8UC4);
    std::transform(small.begin<cv::Vec4f>(), small.end<cv::Vec4f>(), out.begin<cv::Vec4b>(), [](cv::Vec4f p) {
        if (p[3] < 0.5f) return cv::Vec4b(255, 255, 255, 0);
        return cv::Vec4b(cv::saturate_cast<uchar>(p[0] / p[3]), cv::saturate_cast<uchar>(p[1] / p[3]),
                         cv::saturate_cast<uchar>(p[2] / p[3]), cv::saturate_cast<uchar>(p[3]));
    });
    return out;
}

book::Lab lab_of(cv::Vec4b p) { return book::lab_of_rgb({p[2] / 255.0, p[1] / 255.0, p[0] / 255.0}); }
double apart(const book::Lab& a, const book::Lab& b) { return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]); }
book::Lab finish_lab(const book::Ornament& ornament) {
    return book::lab_of_rgb(book::rgb_of_hex(book::ink_of(ornament.finish).base));
}

bool is_plain(book::OrnamentKind kind) {
    return kind == book::OrnamentKind::kLine || kind == book::OrnamentKind::kBand ||
           kind == book::OrnamentKind::kSolid;
}

// A drawing that is opaque from edge to edge brings its own ground: the commonest colour, when that is not the
// colour of the ornament itself. A band or a solid is all ink.
std::optional<book::Lab> own_ground(const book::Ornament& ornament, const cv::Mat& bgra) {
    if (is_plain(ornament.kind)) return std::nullopt;
    std::vector<int> bins(4096);
    int most = 0;
    for (auto p = bgra.begin<cv::Vec4b>(); p != bgra.end<cv::Vec4b>(); ++p) {
        if ((*p)[3] < 250) return std::nullopt;
        most = std::max(most,
                        ++bins[static_cast<std::size_t>(((*p)[0] >> 4) << 8 | ((*p)[1] >> 4) << 4 | (*p)[2] >> 4)]);
    }
    const int at = static_cast<int>(std::ranges::find(bins, most) - bins.begin());
    cv::Vec4d sum;
    for (auto p = bgra.begin<cv::Vec4b>(); p != bgra.end<cv::Vec4b>(); ++p)
        if ((((*p)[0] >> 4) << 8 | ((*p)[1] >> 4) << 4 | (*p)[2] >> 4) == at) sum += cv::Vec4d(*p);
    const book::Lab ground = book::lab_of_rgb({sum[2] / most / 255, sum[1] / most / 255, sum[0] / most / 255});
    const bool pale = ground[0] > 80 && std::hypot(ground[1], ground[2]) < 25;
    const bool mostly = most > 0.3 * static_cast<double>(bgra.total());
    return pale || (mostly && apart(ground, finish_lab(ornament)) > 40) ? std::optional(ground) : std::nullopt;
}

cv::Mat ink_of_bgra(const book::Ornament& ornament, const cv::Mat& bgra, bool one_ink) {
    const auto own = own_ground(ornament, bgra);
    const book::Lab ground = own.value_or(kUsualGlaze);
    cv::Mat ink(bgra.size(), CV_32FC1), opaque(bgra.size(), CV_32FC1);
    for (int y = 0; y < bgra.rows; ++y)
        for (int x = 0; x < bgra.cols; ++x) {
            const cv::Vec4b p = bgra.at<cv::Vec4b>(y, x);
            const double alpha = p[3] / 255.0;
            const double full = own ? 30 : kFullInk;
            const double strength = one_ink && !own ? 1
                                    : alpha == 0    ? 0
                                                    : std::min(1.0, apart(lab_of(p), ground) / full);
            opaque.at<float>(y, x) = static_cast<float>(alpha);
            ink.at<float>(y, x) = static_cast<float>(alpha * strength);
        }
    // White enamel was drawn for a coloured glaze: what is there is the ornament.
    if (!own && cv::sum(ink)[0] < 0.45 * cv::sum(opaque)[0]) return opaque;
    return ink;
}

cv::Mat on_white(const cv::Mat& bgra, const cv::Mat& ink, const book::Ornament& ornament, bool one_ink) {
    cv::Mat bgr(bgra.size(), CV_8UC3);
    const book::Rgb finish = book::rgb_of_hex(book::ink_of(ornament.finish).base);
    for (int y = 0; y < bgra.rows; ++y)
        for (int x = 0; x < bgra.cols; ++x) {
            const cv::Vec4b p = bgra.at<cv::Vec4b>(y, x);
            const double a = one_ink ? ink.at<float>(y, x) : p[3] / 255.0;
            const cv::Vec3d colour =
                one_ink ? cv::Vec3d(finish.b, finish.g, finish.r) * 255.0 : cv::Vec3d(p[0], p[1], p[2]);
            const cv::Vec3d mixed = colour * a + cv::Vec3d(255, 255, 255) * (1 - a);
            bgr.at<cv::Vec3b>(y, x) =
                cv::Vec3b(cv::saturate_cast<uchar>(mixed[0]), cv::saturate_cast<uchar>(mixed[1]),
                          cv::saturate_cast<uchar>(mixed[2]));
        }
    return bgr;
}

// What a line, band or solid looks like that nobody drew: as book/glyph.h draws it.
DrawingPixels undrawn(const book::Ornament& ornament, cv::Size size) {
    const auto says = [&](std::string_view word) {
        return lower(ornament.name).find(word) != std::string::npos || ornament.id.find(word) != std::string::npos;
    };
    std::vector<std::pair<double, double>> stripes{{0, 1}};
    if (ornament.kind == book::OrnamentKind::kLine && says("triple"))
        stripes = {{0, 0.22}, {0.39, 0.61}, {0.78, 1}};
    else if (ornament.kind == book::OrnamentKind::kLine && (says("double") || says("two lines")))
        stripes = {{0, 0.4}, {0.68, 1}};
    DrawingPixels out{cv::Mat::zeros(size, CV_32FC1), cv::Mat(size, CV_8UC3, cv::Scalar::all(255)), 1};
    const book::Rgb rgb = book::rgb_of_hex(book::ink_of(ornament.finish).base);
    for (const auto& [from, to] : stripes) {
        const cv::Range rows(static_cast<int>(std::lround(from * size.height)),
                             static_cast<int>(std::lround(to * size.height)));
        out.ink.rowRange(rows) = 1;
        out.bgr.rowRange(rows) = cv::Scalar(rgb.b, rgb.g, rgb.r) * 255;
    }
    return out;
}
}  // namespace

Expected<DrawingPixels> pixels_of(const book::Ornament& ornament, cv::Size size) {
    if (ornament.drawing_data.empty()) {
        if (is_plain(ornament.kind)) return undrawn(ornament, size);
        return unreadable(ornament, "has no drawing, so photographs cannot be compared with it",
                          "name an SVG or PNG tile in ornaments.csv");
    }
    const auto file = book::bytes_of(ornament.drawing_data);
    const auto shape = book::shape_of(ornament.drawing_data);
    if (!file || !shape)
        return unreadable(ornament, "its drawing is neither SVG nor PNG", "draw it as an SVG or PNG tile");
    std::string why = "it is torn";
    cv::Mat bgra;
    try {
        bgra = file->svg ? drawn_svg(file->bytes, *shape, size, why) : decoded_png(file->bytes, size);
    } catch (const cv::Exception&) {  // of imdecode, for what it will not open
    }
    if (bgra.empty()) return unreadable(ornament, "its drawing cannot be drawn (" + why + ")", "mend the drawing");
    DrawingPixels out;
    const bool one_ink = file->svg && shape->one_ink;
    out.ink = ink_of_bgra(ornament, bgra, one_ink);
    out.bgr = on_white(bgra, out.ink, ornament, one_ink);
    out.aspect = shape->width / shape->height;
    if (cv::mean(out.ink)[0] < 1e-3)
        return unreadable(ornament, "its drawing is empty", "draw it in black, in currentColor or in its colours");
    return out;
}

}  // namespace footring::photo
