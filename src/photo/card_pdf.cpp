// SPDX-License-Identifier: Apache-2.0
#include "photo/card_pdf.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <fmt/format.h>

#include <memory>

#include "photo/card_layout.h"

namespace footring::photo {

namespace {

constexpr double kPointsPerMm = 72 / 25.4;

cairo_status_t append(void* to, const unsigned char* data, unsigned int length) {
    try {
        static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    } catch (const std::bad_alloc&) {
        return CAIRO_STATUS_NO_MEMORY;
    }
}

class Page {
  public:
    explicit Page(cairo_t* on) : on_(on) {}

    void grey(int srgb) { cairo_set_source_rgb(on_, srgb / 255.0, srgb / 255.0, srgb / 255.0); }
    void filled(double x, double y, double width, double height) {
        cairo_rectangle(on_, x, y, width, height);
        cairo_fill(on_);
    }
    void line(double x0, double y0, double x1, double y1, double width) {
        cairo_set_line_width(on_, width);
        cairo_move_to(on_, x0, y0);
        cairo_line_to(on_, x1, y1);
        cairo_stroke(on_);
    }
    enum class Weight { kPlain, kBold };
    void text(double x, double y, double height_mm, const std::string& words, Weight weight = Weight::kPlain,
              bool centred = false) {
        cairo_select_font_face(on_, "sans", CAIRO_FONT_SLANT_NORMAL,
                               weight == Weight::kBold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
        cairo_set_font_size(on_, height_mm);
        double shift = 0;
        if (centred) {
            cairo_text_extents_t extents;
            cairo_text_extents(on_, words.c_str(), &extents);
            shift = extents.x_advance / 2;
        }
        cairo_move_to(on_, x - shift, y);
        cairo_show_text(on_, words.c_str());
    }

  private:
    cairo_t* on_;
};

void draw_marker(Page& page, int id, double x0, double y0) {
    const auto corners = marker_mm(id);
    const double left = x0 + corners[0].x, top = y0 + corners[0].y, cell = kMarkerMm / kMarkerCells;
    page.grey(0);
    page.filled(left, top, kMarkerMm, kMarkerMm);
    page.grey(255);
    const auto bits = marker_bits(id);
    for (std::size_t y = 0; y < 4; ++y)
        for (std::size_t x = 0; x < 4; ++x) {
            if (!bits[y][x]) continue;
            // Neighbours are drawn as one run, so that no hairline shows between two squares.
            std::size_t end = x;
            while (end + 1 < 4 && bits[y][end + 1]) ++end;
            page.filled(left + cell * (static_cast<double>(x) + 1), top + cell * (static_cast<double>(y) + 1),
                        cell * static_cast<double>(end - x + 1), cell);
            x = end;
        }
}

void draw_card(Page& page, double x0, double y0) {
    for (int id = 0; id < kMarkers; ++id) draw_marker(page, id, x0, y0);
    for (const auto& patch : kPatches) {
        page.grey(patch.srgb);
        page.filled(x0 + patch.left_mm, y0 + kPatchTopMm, kPatchWidthMm, kPatchHeightMm);
    }
    // Cutting marks stay 1 mm away from the card, so that a cut a little outside leaves no black on it.
    page.grey(90);
    constexpr double kGap = 1, kLength = 6, kWidth = 0.15;
    for (const double x : {x0, x0 + kCardWidthMm}) {
        page.line(x, y0 - kGap - kLength, x, y0 - kGap, kWidth);
        page.line(x, y0 + kCardHeightMm + kGap, x, y0 + kCardHeightMm + kGap + kLength, kWidth);
    }
    for (const double y : {y0, y0 + kCardHeightMm}) {
        page.line(x0 - kGap - kLength, y, x0 - kGap, y, kWidth);
        page.line(x0 + kCardWidthMm + kGap, y, x0 + kCardWidthMm + kGap + kLength, y, kWidth);
    }
}

void draw_ruler(Page& page, double x0, double y0) {
    page.grey(0);
    constexpr double kWidth = 0.15;
    page.line(x0 - kWidth / 2, y0, x0 + kRulerMm + kWidth / 2, y0, kWidth);
    for (int mm = 0; mm <= static_cast<int>(kRulerMm); ++mm) {
        const double length = mm % 10 == 0 ? 6 : mm % 5 == 0 ? 4.5 : 3;
        page.line(x0 + mm, y0, x0 + mm, y0 - length, kWidth);
        if (mm % 10 == 0) page.text(x0 + mm, y0 + 4.2, 3, fmt::format("{}", mm), Page::Weight::kPlain, true);
    }
    page.text(x0 + kRulerMm + 3, y0, 3, "mm");
}

}  // namespace

PaperSize size_of(Paper paper) {
    return paper == Paper::kA4 ? PaperSize{210, 297} : PaperSize{8.5 * 25.4, 11 * 25.4};
}

Expected<std::string> card_pdf(Paper paper) {
    const PaperSize size = size_of(paper);
    std::string bytes;
    using Surface = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;
    using Context = std::unique_ptr<cairo_t, decltype(&cairo_destroy)>;
    const Surface surface(cairo_pdf_surface_create_for_stream(append, &bytes, size.width_mm * kPointsPerMm,
                                                              size.height_mm * kPointsPerMm),
                          &cairo_surface_destroy);
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, "Footring scale card");
    // The time of printing would make each copy differ; this is the day on which the layout was fixed.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2026-11-25T00:00:00Z");
    const Context context(cairo_create(surface.get()), &cairo_destroy);
    cairo_scale(context.get(), kPointsPerMm, kPointsPerMm);

    Page page(context.get());
    page.grey(0);
    page.text(kCardOnPageXMm, 30, 7, "Scale card", Page::Weight::kBold);
    page.text(kCardOnPageXMm, 38, 3.6,
              "It lies beside the piece in a photograph and tells how large the piece is,");
    page.text(kCardOnPageXMm, 43, 3.6, "from which side it was taken, and what colour the light had.");
    draw_card(page, kCardOnPageXMm, kCardOnPageYMm);
    page.grey(0);
    page.text(kRulerOnPageXMm, kRulerOnPageYMm - 11, 3.6,
              "Check with a ruler of your own: from 0 to 150 must be 150 mm, within half a millimetre.");
    draw_ruler(page, kRulerOnPageXMm, kRulerOnPageYMm);

    double y = kRulerOnPageYMm + 18;
    const auto say = [&](const char* words, Page::Weight weight = Page::Weight::kPlain) {
        page.grey(0);
        page.text(kRulerOnPageXMm, y, weight == Page::Weight::kBold ? 4.2 : 3.6, words, weight);
        y += weight == Page::Weight::kBold ? 7 : 5.4;
    };
    say("Printing", Page::Weight::kBold);
    say("1. Print this page at 100 %, that is without \"fit to page\", on matt white paper.");
    say("2. Check the ruler above. If it is too long or too short, the card measures wrongly: print again.");
    say("3. Cut along the marks and glue the card to stiff board. It must stay flat.");
    y += 3;
    say("Taking the photograph", Page::Weight::kBold);
    say("1. Lay the card flat on the table beside the piece: not on it, not under its rim.");
    say("2. Let the whole piece and the whole card be in the picture, out of hard shadow.");
    say("3. Hold the camera above the piece. Up to 35 degrees aslant is allowed for; straight down is best.");
    say("4. Keep away from the ends of the zoom and from very near: half a metre is good.");
    y += 3;
    say("The grey patches fade and yellow in the sun: print a new card each year.");

    cairo_show_page(context.get());
    cairo_surface_finish(surface.get());
    for (const auto status : {cairo_status(context.get()), cairo_surface_status(surface.get())})
        if (status != CAIRO_STATUS_SUCCESS)
            return fail(ProblemCode::kOurFault, "scale card",
                        fmt::format("the page could not be drawn ({})", cairo_status_to_string(status)),
                        "please report this sentence");
    return bytes;
}

}  // namespace footring::photo
