// SPDX-License-Identifier: Apache-2.0
#include "book/drawings.h"

#include <array>
#include <cctype>
#include <cstdint>

#include "base/text.h"
#include "book/stripes.h"

namespace footring::book {

namespace {
constexpr std::string_view kSvgHead = "data:image/svg+xml;base64,", kPngHead = "data:image/png;base64,";
constexpr std::string_view kPngMagic = "\x89PNG\r\n\x1a\n";
constexpr std::string_view kAlphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

std::string base64(std::string_view bytes) {
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        std::uint32_t three = 0;
        for (std::size_t k = 0; k < 3; ++k)
            three = (three << 8) | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
        for (std::size_t k = 0; k < 4; ++k)
            out += k <= bytes.size() - i ? kAlphabet[(three >> (18 - 6 * k)) & 63u] : '=';
    }
    return out;
}

std::optional<std::string> from_base64(std::string_view text) {
    while (!text.empty() && text.back() == '=') text.remove_suffix(1);
    std::string out;
    out.reserve(text.size() * 3 / 4);
    std::uint32_t bits = 0;
    int held = 0;
    for (const char c : text) {
        const auto digit = kAlphabet.find(c);
        if (digit == std::string_view::npos) return std::nullopt;
        bits = (bits << 6) | static_cast<std::uint32_t>(digit);
        held += 6;
        if (held >= 8) out += static_cast<char>((bits >> (held -= 8)) & 0xFFu);
    }
    return out;
}

// The start tag of the root element, or nothing. Comments, the XML declaration and a DOCTYPE may stand before it.
std::optional<std::string_view> svg_root(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    while (true) {
        text = trim(text);
        std::string_view end;
        if (text.starts_with("<?")) end = "?>";
        else if (text.starts_with("<!--")) end = "-->";
        else if (text.starts_with("<!")) end = ">";
        else break;
        const auto at = text.find(end);
        if (at == std::string_view::npos) return std::nullopt;
        text.remove_prefix(at + end.size());
    }
    if (!text.starts_with("<svg") || text.size() < 5) return std::nullopt;
    if (text[4] != '>' && text[4] != '/' && !std::isspace(static_cast<unsigned char>(text[4]))) return std::nullopt;
    const auto close = text.find('>');
    return close == std::string_view::npos ? std::nullopt : std::optional(text.substr(4, close - 4));
}

std::optional<double> length(std::optional<std::string_view> text) {
    if (!text || text->ends_with('%')) return std::nullopt;
    std::string_view digits = trim(*text);
    while (!digits.empty() && std::isalpha(static_cast<unsigned char>(digits.back()))) digits.remove_suffix(1);
    const auto value = to_number(digits);
    return value && *value > 0 ? value : std::nullopt;
}

bool is_black(std::string_view value) {
    const std::string v = lower(trim(value));
    return v.empty() || v == "none" || v == "transparent" || v == "black" || v == "currentcolor" || v == "#000" ||
           v == "#000000" || v == "inherit" || v == "rgb(0,0,0)";
}

// Whether every colour that is named is black. Gradients, images and style sheets count as colours of their own.
bool all_black(std::string_view svg) {
    for (const std::string_view word : {"<image", "<style", "Gradient", "<pattern", "<foreignObject"})
        if (svg.find(word) != std::string_view::npos) return false;
    for (const std::string_view word : {"fill", "stroke", "stop-color", "color"})
        for (std::size_t at = svg.find(word); at != std::string_view::npos; at = svg.find(word, at + 1)) {
            std::string_view rest = svg.substr(at + word.size());
            while (!rest.empty() && std::isspace(static_cast<unsigned char>(rest[0]))) rest.remove_prefix(1);
            if (rest.empty() || (rest[0] != '=' && rest[0] != ':')) continue;  // fill-rule, stroke-width, text
            const bool styled = rest[0] == ':';
            rest = trim(rest.substr(1));
            if (!styled && !rest.empty()) rest.remove_prefix(1);  // the quote
            if (!is_black(rest.substr(0, rest.find_first_of(styled ? ";\"'}" : "\"'")))) return false;
        }
    return true;
}

std::optional<DrawingShape> shape_of_svg(std::string_view svg) {
    const auto root = svg_root(svg);
    if (!root) return std::nullopt;
    DrawingShape shape;
    const auto width = length(svg_attribute(*root, "width")), height = length(svg_attribute(*root, "height"));
    std::vector<double> box;
    if (const auto text = svg_attribute(*root, "viewBox")) {
        std::string spaced(*text);
        for (char& c : spaced)
            if (c == ',' || c == '\n' || c == '\t' || c == '\r') c = ' ';
        for (const auto& part : split(spaced, ' '))
            if (const auto value = to_number(part)) box.push_back(*value);
    }
    if (box.size() != 4 || box[2] <= 0 || box[3] <= 0)
        box = width && height ? std::vector<double>{0, 0, *width, *height} : std::vector<double>{0, 0, 1, 1};
    shape.width = box[2], shape.height = box[3];
    shape.one_ink = all_black(svg);
    shape.sheer = svg.find("opacity") != std::string_view::npos || svg.find("rgba") != std::string_view::npos;
    shape.stripes = stripes_of_svg(svg, {box[0], box[1], box[2], box[3]});
    return shape;
}

std::optional<DrawingShape> shape_of_png(std::string_view png) {
    if (!png.starts_with(kPngMagic) || png.size() < 24 || png.substr(12, 4) != "IHDR") return std::nullopt;
    const auto number = [&](std::size_t at) {
        double value = 0;
        for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(png[at + i]);
        return value;
    };
    DrawingShape shape;
    shape.width = number(16), shape.height = number(20);
    // 4096 a side: a small file may unfold into gigabytes of pixels
    if (shape.width < 1 || shape.height < 1 || shape.width > 4096 || shape.height > 4096) return std::nullopt;
    shape.sheer = true;  // its edges are soft and may be meant so
    return shape;
}
}  // namespace

std::string data_uri(std::string_view bytes) {
    if (bytes.size() > kMostDrawingBytes) return {};
    if (shape_of_png(bytes)) return std::string(kPngHead) + base64(bytes);
    const bool svg = is_utf8(bytes) && bytes.find("<!ENTITY") == std::string_view::npos && shape_of_svg(bytes) &&
                     trim(bytes).ends_with('>');
    return svg ? std::string(kSvgHead) + base64(bytes) : std::string();
}

std::optional<DrawingBytes> bytes_of(std::string_view data) {
    const bool svg = data.starts_with(kSvgHead);
    if (!svg && !data.starts_with(kPngHead)) return std::nullopt;
    auto bytes = from_base64(data.substr(svg ? kSvgHead.size() : kPngHead.size()));
    if (!bytes) return std::nullopt;
    return DrawingBytes{std::move(*bytes), svg};
}

std::optional<DrawingShape> shape_of(std::string_view data) {
    const auto file = bytes_of(data);
    if (!file) return std::nullopt;
    return file->svg ? shape_of_svg(file->bytes) : shape_of_png(file->bytes);
}

}  // namespace footring::book
