// SPDX-License-Identifier: Apache-2.0
#include "papers/drawings.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "book/glyph.h"
#include "book/glyph_test_book.h"

namespace footring::papers {
namespace {

using book::GlyphPlace;
using book::Place;

book::Glyph dressed_plate(const book::Book& b, const char* centre) {
    book::Glyph out;
    out.lab = {92, 1, 10};
    for (GlyphPlace& at : out.at) at.state = GlyphPlace::State::kBare;
    for (const auto& [place, ornament] : {std::pair{Place::kRim, "vine"}, {Place::kCentre, centre}}) {
        GlyphPlace& at = out.at[static_cast<std::size_t>(place)];
        at.state = GlyphPlace::State::kDecorated;
        at.ornaments.push_back(book::testing::ornament_named(b, ornament));
    }
    return out;
}

// The largest difference of one channel of one pixel, of 255; and how many pixels are not white.
std::pair<int, int> compared(cairo_surface_t* a, cairo_surface_t* b) {
    const int wide = cairo_image_surface_get_width(a), high = cairo_image_surface_get_height(a);
    EXPECT_EQ(wide, cairo_image_surface_get_width(b));
    EXPECT_EQ(high, cairo_image_surface_get_height(b));
    int most = 0, inked = 0;
    for (int y = 0; y < high; ++y)
        for (int x = 0; x < wide; ++x) {
            const auto at = [&](cairo_surface_t* s, int channel) {
                return int{
                    cairo_image_surface_get_data(s)[y * cairo_image_surface_get_stride(s) + 4 * x + channel]};
            };
            inked += at(a, 0) < 250 ? 1 : 0;
            for (int channel = 0; channel < 3; ++channel)
                most = std::max(most, std::abs(at(a, channel) - at(b, channel)));
        }
    return {most, inked};
}

TEST(Drawings, LayersGiveTheDrawing) {
    book::Book b = book::testing::one_of_each();
    b.index();
    Drawings drawings;
    for (const char* centre : {"rosette", "view", "hostile"}) {
        const book::Glyph glyph = dressed_plate(b, centre);
        const auto layers = book::draw_layers(b, glyph);
        EXPECT_GE(layers.size(), 3u);
        drawings.begin(layers, 60, 60);
        const Drawings::Drawn one = drawings.at({book::draw(b, glyph)}, 60, 60), many = drawings.at(layers, 60, 60);
        EXPECT_EQ(one.trouble + many.trouble, "");
        EXPECT_EQ(cairo_image_surface_get_width(many.pixels.get()), 200);  // 60 pt at 240 dots an inch
        const auto [most, inked] = compared(one.pixels.get(), many.pixels.get());
        EXPECT_LE(most, 6) << centre << ": what two layers half cover may round otherwise";
        EXPECT_GT(inked, 200 * 200 / 4) << centre;
    }
}

TEST(Drawings, SayWhatIsNoDrawing) {
    Drawings drawings;
    EXPECT_NE(drawings.at({"<svg"}, 10, 10).trouble, "");
    drawings.begin({"<svg xmlns='http://www.w3.org/2000/svg'/>"}, 900, 900);  // left undrawn, or drawn: both end
}

}  // namespace
}  // namespace footring::papers
