// SPDX-License-Identifier: Apache-2.0
#include "photo/image_header.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

namespace footring::photo {

namespace {

// Numbers at places that may lie outside of the file: then they are 0, and `torn` says so.
class Bytes {
  public:
    explicit Bytes(std::string_view bytes) : bytes_(bytes) {}
    std::uint32_t u8(std::size_t at) {
        if (at >= bytes_.size()) return torn_ = true, 0;
        return static_cast<unsigned char>(bytes_[at]);
    }
    std::uint32_t big16(std::size_t at) { return u8(at) << 8 | u8(at + 1); }
    std::uint32_t big32(std::size_t at) { return big16(at) << 16 | big16(at + 2); }
    std::uint32_t little16(std::size_t at) { return u8(at + 1) << 8 | u8(at); }
    std::uint32_t little24(std::size_t at) { return u8(at + 2) << 16 | little16(at); }
    std::uint64_t big64(std::size_t at) { return std::uint64_t{big32(at)} << 32 | big32(at + 4); }
    std::uint32_t little32(std::size_t at) { return little16(at + 2) << 16 | little16(at); }
    bool holds(std::size_t at, std::string_view text) const {
        return at <= bytes_.size() && bytes_.substr(at).starts_with(text);
    }
    std::size_t find(unsigned char byte, std::size_t at) const {
        return std::min(bytes_.find(static_cast<char>(byte), at), bytes_.size());
    }
    std::size_t size() const { return bytes_.size(); }
    std::string_view from(std::size_t at) const { return bytes_.substr(std::min(at, bytes_.size())); }
    bool torn() const { return torn_; }

  private:
    std::string_view bytes_;
    bool torn_ = false;
};

// The first directory of a TIFF file or of an EXIF block. A tag that stands twice counts with its largest value,
// so that a decoder that believes the other one cannot be tricked into a larger picture.
struct Directory {
    std::int64_t width = 0, height = 0;
    int orientation = 1;
    bool torn = false;
};
Directory read_directory(std::string_view tiff) {
    Bytes b(tiff);
    Directory out;
    const bool big = b.holds(0, "MM");
    const auto u16 = [&](std::size_t at) { return big ? b.big16(at) : b.little16(at); };
    const auto u32 = [&](std::size_t at) { return big ? b.big32(at) : b.little32(at); };
    const std::size_t at = u32(4);
    const std::uint32_t entries = u16(at);
    constexpr std::uint32_t kByte = 1, kShort = 3, kLong = 4, kWidth = 0x100, kHeight = 0x101, kOrientation = 0x112;
    for (std::uint32_t i = 0; i < entries && !b.torn(); ++i) {
        const std::size_t entry = at + 2 + std::size_t{12} * i;
        const std::uint32_t tag = u16(entry), type = u16(entry + 2);
        if (tag != kWidth && tag != kHeight && tag != kOrientation) continue;
        const std::int64_t value = type == kByte    ? b.u8(entry + 8)
                                   : type == kShort ? u16(entry + 8)
                                   : type == kLong  ? u32(entry + 8)
                                                    : 0;
        if (tag == kWidth) out.width = std::max(out.width, value);
        else if (tag == kHeight) out.height = std::max(out.height, value);
        else if (value >= 1 && value <= 8) out.orientation = static_cast<int>(value);
    }
    out.torn = b.torn();
    return out;
}
bool is_tiff(std::string_view bytes) {
    return bytes.starts_with(std::string_view("II*\0", 4)) || bytes.starts_with(std::string_view("MM\0*", 4));
}
void take_exif(std::string_view exif, ImageHeader& h) {
    if (!is_tiff(exif)) return;
    h.exif = exif;
    h.orientation = read_directory(exif).orientation;
}

constexpr const char* kTorn = "the photograph is torn: it ends too early, or its data are damaged";

std::unexpected<Problem> torn(std::string_view where) {
    return fail(ProblemCode::kBadInput, std::string(where), kTorn, "copy it from the camera again");
}

std::unexpected<Problem> moving(std::string_view where) {
    return fail(ProblemCode::kBadInput, std::string(where), "this is a moving picture", "send a still photograph");
}

// Markers with nothing after them: TEM, the restarts and the two ends.
bool stands_alone(std::uint32_t marker) { return marker == 0x01 || (marker >= 0xD0 && marker <= 0xD9); }
bool is_frame(std::uint32_t marker) {
    return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

Expected<ImageHeader> read_jpeg(std::string_view bytes, std::string_view where) {
    Bytes b(bytes);
    ImageHeader h;
    h.format = Format::kJpeg;
    bool scanned = false;
    for (std::size_t at = 2; !b.torn();) {
        // Between two segments, and within the pixels (where FF 00 is a pixel's FF), look for the next marker.
        at = b.find(0xFF, at);
        while (at < b.size() && b.u8(at) == 0xFF) ++at;
        if (at >= b.size()) break;
        const std::uint32_t marker = b.u8(at++);
        if (marker == 0 || (stands_alone(marker) && marker != 0xD9)) continue;
        if (marker == 0xD9) {
            if (!scanned || h.width == 0 || h.height == 0) break;
            return h;
        }
        const std::uint32_t length = b.big16(at);
        if (length < 2) break;
        if (is_frame(marker)) {
            h.height = std::max<std::int64_t>(h.height, b.big16(at + 3));
            h.width = std::max<std::int64_t>(h.width, b.big16(at + 5));
        } else if (marker == 0xE1 && b.holds(at + 2, std::string_view("Exif\0\0", 6)) && !scanned) {
            take_exif(b.from(at + 8).substr(0, std::max(length, 8u) - 8), h);
        } else if (marker == 0xDA) {
            scanned = true;
        }
        at += length;
    }
    return torn(where);
}

Expected<ImageHeader> read_png(std::string_view bytes, std::string_view where) {
    Bytes b(bytes);
    ImageHeader h;
    h.format = Format::kPng;
    if (!b.holds(12, "IHDR")) return torn(where);
    h.width = b.big32(16);
    h.height = b.big32(20);
    constexpr std::uint32_t kGreyAlpha = 4, kColourAlpha = 6;
    h.transparent = b.u8(25) == kGreyAlpha || b.u8(25) == kColourAlpha;
    for (std::size_t at = 8; !b.torn() && at < b.size();) {
        const std::size_t length = b.big32(at);
        if (b.holds(at + 4, "tRNS")) h.transparent = true;
        if (b.holds(at + 4, "acTL")) return moving(where);
        if (b.holds(at + 4, "eXIf")) take_exif(b.from(at + 8).substr(0, length), h);
        if (b.holds(at + 4, "IEND") && at + 12 <= b.size()) return h;
        at += length + 12;
    }
    return torn(where);
}

Expected<ImageHeader> read_webp(std::string_view bytes, std::string_view where) {
    Bytes b(bytes);
    ImageHeader h;
    h.format = Format::kWebp;
    const std::size_t end = std::size_t{b.little32(4)} + 8;
    if (end > b.size()) return torn(where);
    const auto size = [&](std::uint32_t width, std::uint32_t height) {
        h.width = std::max<std::int64_t>(h.width, width);
        h.height = std::max<std::int64_t>(h.height, height);
    };
    bool pixels = false;
    for (std::size_t at = 12; at + 8 <= end;) {
        const std::size_t length = b.little32(at + 4), data = at + 8;
        if (b.holds(at, "VP8X")) {
            constexpr std::uint32_t kMoves = 0x02, kAlpha = 0x10;
            if ((b.u8(data) & kMoves) != 0) return moving(where);
            h.transparent = h.transparent || (b.u8(data) & kAlpha) != 0;
            size(b.little24(data + 4) + 1, b.little24(data + 7) + 1);
        } else if (b.holds(at, "VP8 ")) {
            pixels = true;
            size(b.little16(data + 6) & 0x3FFF, b.little16(data + 8) & 0x3FFF);
        } else if (b.holds(at, "VP8L")) {
            pixels = true;
            const std::uint32_t packed = b.little32(data + 1);
            h.transparent = h.transparent || (packed >> 28 & 1) != 0;
            size((packed & 0x3FFF) + 1, (packed >> 14 & 0x3FFF) + 1);
        } else if (b.holds(at, "EXIF")) {
            std::string_view exif = b.from(data).substr(0, length);
            if (exif.starts_with(std::string_view("Exif\0\0", 6)))
                exif.remove_prefix(6);  // not asked for, but usual
            take_exif(exif, h);
        } else if (b.holds(at, "ICCP")) {
            h.icc = b.from(data).substr(0, length);
        }
        if (data + length > end) return torn(where);
        at = data + length + length % 2;
    }
    if (b.torn() || !pixels) return torn(where);
    return h;
}

Expected<ImageHeader> read_tiff(std::string_view bytes, std::string_view where) {
    const Directory first = read_directory(bytes);
    if (first.torn) return torn(where);
    ImageHeader h;
    h.format = Format::kTiff;
    h.width = first.width;
    h.height = first.height;
    h.orientation = first.orientation;
    h.exif = bytes;
    return h;
}

// ISO base media files: the brand says which.
std::string_view heif_brand(std::string_view bytes) {
    if (bytes.size() < 12 || bytes.substr(4, 4) != "ftyp") return {};
    constexpr std::string_view kBrands[] = {"heic", "heix", "hevc", "hevx", "heim",
                                            "heis", "mif1", "msf1", "avif", "avis"};
    const std::string_view brand = bytes.substr(8, 4);
    return std::ranges::find(kBrands, brand) == std::end(kBrands) ? std::string_view() : brand;
}

// Boxes lie side by side and within each other: 32 bits of length, four letters, contents. Every `ispe` counts,
// wherever it lies among the properties of the items; pictures that are put together from others have one too.
struct Boxes {
    ImageHeader& h;
    std::string_view bytes;
    bool torn = false, sized = false;
    void walk(std::size_t at, std::size_t end, int depth) {
        while (at + 8 <= end && !torn) {
            Bytes b(bytes);
            std::uint64_t length = b.big32(at);
            std::size_t head = 8;
            if (length == 1) length = b.big64(at + 8), head = 16;
            if (length == 0) length = end - at;  // to the end
            if (length < head || length > end - at || b.torn()) {
                torn = true;
                return;
            }
            const std::size_t inside = at + head, after = at + static_cast<std::size_t>(length);
            constexpr int kDeepest = 4;
            if (b.holds(at + 4, "ispe") && inside + 12 <= after) {
                h.width = std::max<std::int64_t>(h.width, b.big32(inside + 4));
                h.height = std::max<std::int64_t>(h.height, b.big32(inside + 8));
                sized = true;
            } else if (depth < kDeepest && (b.holds(at + 4, "iprp") || b.holds(at + 4, "ipco"))) {
                walk(inside, after, depth + 1);
            } else if (depth < kDeepest && b.holds(at + 4, "meta")) {
                walk(inside + 4, after, depth + 1);  // a version and flags come first
            }
            at = after;
        }
        if (at != end) torn = true;
    }
};
Expected<ImageHeader> read_heif(std::string_view bytes, std::string_view where) {
    ImageHeader h;
    h.format = Format::kHeif;
    Boxes boxes{h, bytes};
    boxes.walk(0, bytes.size(), 0);
    if (boxes.torn || !boxes.sized) return torn(where);
    return h;
}

Expected<ImageHeader> read_any(std::string_view bytes, std::string_view where) {
    if (bytes.starts_with("\xFF\xD8\xFF")) return read_jpeg(bytes, where);
    if (bytes.starts_with("\x89PNG\r\n\x1A\n")) return read_png(bytes, where);
    if (bytes.starts_with("RIFF") && bytes.size() >= 12 && bytes.substr(8, 4) == "WEBP")
        return read_webp(bytes, where);
    if (is_tiff(bytes)) return read_tiff(bytes, where);
    const std::string_view brand = heif_brand(bytes);
    if (brand.starts_with("avi"))
        return fail(ProblemCode::kBadInput, std::string(where), "AVIF photographs are not read here",
                    "convert it to JPEG");
    if (!brand.empty()) return read_heif(bytes, where);
    return fail(ProblemCode::kBadInput, std::string(where),
                bytes.empty() ? "the file is empty" : "this is no JPEG, PNG, HEIC, WebP or TIFF file",
                "send the photograph as one of these");
}

}  // namespace

std::string_view mime_of(Format format) {
    switch (format) {
        case Format::kJpeg:
            return "image/jpeg";
        case Format::kPng:
            return "image/png";
        case Format::kWebp:
            return "image/webp";
        case Format::kTiff:
            return "image/tiff";
        case Format::kHeif:
            return "image/heic";
    }
    return "application/octet-stream";
}

Expected<ImageHeader> read_header(std::string_view bytes, std::string_view where) {
    auto header = read_any(bytes, where);
    if (header && (header->width < 1 || header->height < 1)) return torn(where);
    return header;
}

Expected<ImageHeader> admit(std::string_view bytes, std::string_view where) {
    if (bytes.size() > kMostBytes)
        return fail(
            ProblemCode::kTooLarge, std::string(where),
            fmt::format("the file has {} MB, the most is {} MB", bytes.size() / 1'000'000, kMostBytes / 1'000'000),
            "save it with stronger compression, as JPEG for example");
    auto header = read_header(bytes, where);
    if (header && header->width > kMostPixels / header->height)
        return fail(ProblemCode::kTooLarge, std::string(where),
                    fmt::format("the photograph has {} x {} pixels, the most is {} megapixels", header->width,
                                header->height, kMostPixels / 1'000'000),
                    "make a smaller copy and send that");
    return header;
}

}  // namespace footring::photo
