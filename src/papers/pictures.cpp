// SPDX-License-Identifier: Apache-2.0
#include "papers/pictures.h"

#include <fmt/format.h>
#include <qrencode.h>

#include <cstdlib>
#include <memory>

#include "base/text.h"
#include "photo/image_header.h"

namespace footring::papers {

namespace {

// The viewBox of a drawing of ours: every one has it in its first tag.
void take_size(Picture& picture) {
    const std::size_t at = picture.svg.find("viewBox=");
    if (at == std::string::npos || at + 9 >= picture.svg.size()) return;
    const char quote = picture.svg[at + 8];
    const std::size_t end = picture.svg.find(quote, at + 9);
    if (end == std::string::npos) return;
    const auto numbers = split(picture.svg.substr(at + 9, end - at - 9), ' ');
    if (numbers.size() != 4) return;
    const auto w = to_number(numbers[2]), h = to_number(numbers[3]);
    if (w && h && *w > 0 && *h > 0) picture.width = *w, picture.height = *h;
}

bool holds_images(const std::string& svg) { return svg.find("<image") != std::string::npos; }

}  // namespace

Picture glyph(const book::Book& b, const book::Glyph& glyph) {
    Picture out;
    out.svg = book::draw(b, glyph);
    if (holds_images(out.svg)) out.layers = book::draw_layers(b, glyph);
    out.alt = glyph.title;
    take_size(out);
    return out;
}

Picture glyph(const book::Book& b, book::Ref<book::Treatment> treatment, std::optional<book::Ref<book::Form>> form,
              const std::vector<book::Place>& picked_out) {
    book::Glyph drawn = book::glyph_of(b, treatment, form);
    for (const book::Place place : picked_out) drawn.at[static_cast<std::size_t>(place)].picked_out = true;
    return glyph(b, drawn);
}

Picture strip(const book::Book& b, book::Ref<book::Ornament> ornament) {
    Picture out;
    out.svg = book::rim_strip(b, ornament);
    if (holds_images(out.svg)) out.layers = {out.svg};
    out.alt = fmt::format("{}, unrolled", b[ornament].name);
    take_size(out);
    return out;
}

Picture swatch(const std::string& colour, const std::string& name) {
    Picture out;
    out.svg = fmt::format(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 30 10'><rect x='0.5' y='0.5' width='29' height='9' "
        "fill='{}' stroke='#8a8378' stroke-width='0.5'/></svg>",
        escape_markup(colour));
    out.alt = name;
    out.width = 30;
    out.height = 10;
    return out;
}

Expected<Picture> qr(const std::string& text) {
    struct Free {
        void operator()(QRcode* code) const { QRcode_free(code); }
    };
    const std::unique_ptr<QRcode, Free> code(
        text.find('\0') == std::string::npos ? QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M) : nullptr);
    if (!code)
        return fail(ProblemCode::kTooLarge, "QR code", fmt::format("{} bytes are no address for one", text.size()),
                    "use a shorter address");
    const int modules = code->width, quiet = 4;
    std::string path;
    for (int y = 0; y < modules; ++y)
        for (int x = 0; x < modules; ++x) {
            const auto dark = [&](int at) { return (code->data[y * modules + at] & 1) != 0; };
            if (!dark(x)) continue;
            int end = x;  // neighbours as one run: no hairline shows between two squares
            while (end < modules && dark(end)) ++end;
            path += fmt::format("M{} {}h{}v1h-{}z", x + quiet, y + quiet, end - x, end - x);
            x = end;
        }
    Picture out;
    out.width = out.height = modules + 2 * quiet;
    out.svg = fmt::format(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {0} {0}'><rect width='{0}' height='{0}' "
        "fill='#fff'/><path "
        "d='{1}' fill='#000'/></svg>",
        modules + 2 * quiet, path);
    out.alt = "QR code of " + text;
    return out;
}

Expected<Picture> photograph(std::string jpeg, std::string alt, const std::string& where) {
    const auto header = photo::read_header(jpeg, where);
    if (!header) return std::unexpected(header.error());
    if (header->format != photo::Format::kJpeg)
        return fail(ProblemCode::kUnreadable, where, "this is no JPEG", "please report this sentence");
    Picture out;
    out.width = static_cast<double>(header->width);
    out.height = static_cast<double>(header->height);
    out.alt = std::move(alt);
    out.jpeg = std::move(jpeg);
    return out;
}

}  // namespace footring::papers
