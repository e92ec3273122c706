// photo/test_files.h - photographs of every format, whole and broken, made in memory. For tests only.
//   Plain pictures come from OpenCV's encoders. What these cannot write (EXIF, profiles, unusual layouts) is put
//   together here byte by byte, or with the format's own library.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <tiffio.h>

#include <algorithm>
#include <cstring>
#include <functional>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vector>

namespace footring::photo::files {

inline std::string encoded(const char* ending, const cv::Mat& pixels, const std::vector<int>& how = {}) {
    std::vector<uchar> bytes;
    cv::imencode(ending, pixels, bytes, how);
    return {bytes.begin(), bytes.end()};
}
inline cv::Mat decoded(const std::string& bytes, int flags = cv::IMREAD_COLOR | cv::IMREAD_IGNORE_ORIENTATION) {
    return cv::imdecode(std::vector<uchar>(bytes.begin(), bytes.end()), flags);
}
// Red at the top left, green at the top right, blue at the bottom left, white at the bottom right.
inline cv::Mat corners(int width, int height) {
    cv::Mat out(height, width, CV_8UC3);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            out.at<cv::Vec3b>(y, x) = 2 * y < height
                                          ? (2 * x < width ? cv::Vec3b(0, 0, 255) : cv::Vec3b(0, 255, 0))
                                          : (2 * x < width ? cv::Vec3b(255, 0, 0) : cv::Vec3b(255, 255, 255));
    return out;
}
inline cv::Mat noise(int width, int height, int type = CV_8UC3) {
    cv::Mat out(height, width, type);
    cv::RNG random(7);
    random.fill(out, cv::RNG::UNIFORM, 0, CV_MAT_DEPTH(type) == CV_16U ? 65536 : 256);
    return out;
}

inline std::string big(std::uint32_t value, int bytes) {
    std::string out;
    for (int i = bytes - 1; i >= 0; --i) out += static_cast<char>(value >> (8 * i) & 0xFF);
    return out;
}
inline std::string little(std::uint32_t value, int bytes) {
    const std::string out = big(value, bytes);
    return {out.rbegin(), out.rend()};
}

// An EXIF block in either order of bytes: the orientation, and the focal length when it is not 0.
inline std::string exif(int orientation, bool motorola, int focal_35mm = 0) {
    const auto n = [&](std::uint32_t value, int bytes) {
        return motorola ? big(value, bytes) : little(value, bytes);
    };
    const auto entry = [&](std::uint32_t tag, std::uint32_t type, std::uint32_t value) {
        return n(tag, 2) + n(type, 2) + n(1, 4) + (type == 3 ? n(value, 2) + n(0, 2) : n(value, 4));
    };
    constexpr std::uint32_t kShort = 3, kLong = 4;
    std::string out = (motorola ? std::string("MM") : std::string("II")) + n(42, 2) + n(8, 4);
    const std::string turned = entry(0x112, kShort, static_cast<std::uint32_t>(orientation));
    if (focal_35mm == 0) return out + n(1, 2) + turned + n(0, 4);
    constexpr std::uint32_t kPhotoAt = 8 + 2 + 2 * 12 + 4;
    return out + n(2, 2) + turned + entry(0x8769, kLong, kPhotoAt) + n(0, 4) +  //
           n(1, 2) + entry(0xA405, kShort, static_cast<std::uint32_t>(focal_35mm)) + n(0, 4);
}
inline std::string jpeg_segment(char marker, const std::string& data) {
    return std::string("\xFF") + marker + big(static_cast<std::uint32_t>(data.size()) + 2, 2) + data;
}
inline std::string jpeg_with(std::string jpeg, const std::string& segment) { return jpeg.insert(2, segment); }
inline std::string jpeg_exif(const std::string& block) {
    return jpeg_segment('\xE1', std::string("Exif\0\0", 6) + block);
}
inline std::string jpeg_icc(const std::string& profile) {
    return jpeg_segment('\xE2', std::string("ICC_PROFILE\0\1\1", 14) + profile);
}

// The check value of a chunk is computed as ISO/IEC 15948 annex D says.
inline std::string png_chunk(const std::string& name, const std::string& data) {
    std::uint32_t crc = 0xFFFFFFFF;
    for (const char c : name + data) {
        crc ^= static_cast<unsigned char>(c);
        for (int k = 0; k < 8; ++k) crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
    }
    return big(static_cast<std::uint32_t>(data.size()), 4) + name + data + big(~crc, 4);
}
inline std::string png_with(std::string png, const std::string& chunk) {
    constexpr std::size_t kAfterHeader = 33;
    return png.insert(kAfterHeader, chunk);
}
// zlib's container with blocks that are stored as they are: RFC 1950 and 1951.
inline std::string zlib_stored(const std::string& data) {
    std::string out = "\x78\x01";
    std::uint32_t a = 1, b = 0;
    for (std::size_t at = 0; at < data.size(); at += 65535) {
        const std::string part = data.substr(at, 65535);
        out += at + part.size() == data.size() ? '\1' : '\0';
        out += little(static_cast<std::uint32_t>(part.size()), 2) +
               little(~static_cast<std::uint32_t>(part.size()), 2);
        out += part;
    }
    for (const char c : data) {
        a = (a + static_cast<unsigned char>(c)) % 65521;
        b = (b + a) % 65521;
    }
    return out + big(b << 16 | a, 4);
}
inline std::string png_icc(const std::string& profile) {
    return png_chunk("iCCP", std::string("profile\0\0", 9) + zlib_stored(profile));
}

inline std::string webp_chunk(const std::string& name, std::string data) {
    const auto length = static_cast<std::uint32_t>(data.size());
    if (length % 2 == 1) data += '\0';
    return name + little(length, 4) + data;
}
inline std::string webp_file(const std::string& chunks) {
    return "RIFF" + little(static_cast<std::uint32_t>(chunks.size()) + 4, 4) + "WEBP" + chunks;
}
// `flags` of the extended header: 0x20 profile, 0x10 alpha, 0x08 EXIF, 0x02 animation (RFC 9649).
inline std::string webp_extended(char flags, int width, int height) {
    return webp_chunk("VP8X", std::string(1, flags) + std::string(3, '\0') +
                                  little(static_cast<std::uint32_t>(width - 1), 3) +
                                  little(static_cast<std::uint32_t>(height - 1), 3));
}

// TIFF through libtiff: `fill` sets the tags and writes one page or several.
inline std::string tiff_file(const std::function<void(TIFF*)>& fill) {
    struct File {
        std::string bytes;
        std::size_t at = 0;
    } file;
    TIFF* const t = TIFFClientOpen(
        "test", "wm", &file,
        [](thandle_t h, void* to, tmsize_t size) -> tmsize_t {
            File& f = *static_cast<File*>(h);
            const std::string part =
                f.at < f.bytes.size() ? f.bytes.substr(f.at, static_cast<std::size_t>(size)) : "";
            std::memcpy(to, part.data(), part.size());
            f.at += part.size();
            return static_cast<tmsize_t>(part.size());
        },
        [](thandle_t h, void* from, tmsize_t size) -> tmsize_t {
            File& f = *static_cast<File*>(h);
            f.bytes.resize(std::max(f.bytes.size(), f.at + static_cast<std::size_t>(size)));
            std::memcpy(f.bytes.data() + f.at, from, static_cast<std::size_t>(size));
            f.at += static_cast<std::size_t>(size);
            return size;
        },
        [](thandle_t h, toff_t offset, int from) -> toff_t {
            File& f = *static_cast<File*>(h);
            f.at = (from == SEEK_CUR ? f.at : from == SEEK_END ? f.bytes.size() : 0) + offset;
            return f.at;
        },
        [](thandle_t) { return 0; }, [](thandle_t h) -> toff_t { return static_cast<File*>(h)->bytes.size(); },
        [](thandle_t, void**, toff_t*) { return 0; }, [](thandle_t, void*, toff_t) {});
    fill(t);
    TIFFClose(t);
    return file.bytes;
}
struct TiffLook {
    int photometric = PHOTOMETRIC_RGB, bits = 8, samples = 3, planar = PLANARCONFIG_CONTIG;
    int compression = COMPRESSION_NONE, format = SAMPLEFORMAT_UINT, rows_a_strip = 5, tile = 0, orientation = 1;
    std::vector<std::uint16_t> extra;
    std::string icc;
    std::uint32_t subfile = 0;
};
inline void set_tags(TIFF* t, int width, int height, const TiffLook& look) {
    TIFFSetField(t, TIFFTAG_SUBFILETYPE, look.subfile);
    TIFFSetField(t, TIFFTAG_IMAGEWIDTH, width);
    TIFFSetField(t, TIFFTAG_IMAGELENGTH, height);
    TIFFSetField(t, TIFFTAG_BITSPERSAMPLE, look.bits);
    TIFFSetField(t, TIFFTAG_SAMPLESPERPIXEL, look.samples);
    TIFFSetField(t, TIFFTAG_SAMPLEFORMAT, look.format);
    TIFFSetField(t, TIFFTAG_PHOTOMETRIC, look.photometric);
    TIFFSetField(t, TIFFTAG_PLANARCONFIG, look.planar);
    TIFFSetField(t, TIFFTAG_COMPRESSION, look.compression);
    TIFFSetField(t, TIFFTAG_ORIENTATION, look.orientation);
    if (look.compression == COMPRESSION_JPEG) TIFFSetField(t, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
    if (!look.extra.empty()) TIFFSetField(t, TIFFTAG_EXTRASAMPLES, look.extra.size(), look.extra.data());
    if (!look.icc.empty())
        TIFFSetField(t, TIFFTAG_ICCPROFILE, static_cast<std::uint32_t>(look.icc.size()), look.icc.data());
    if (look.tile > 0) {
        TIFFSetField(t, TIFFTAG_TILEWIDTH, look.tile);
        TIFFSetField(t, TIFFTAG_TILELENGTH, look.tile);
    } else {
        TIFFSetField(t, TIFFTAG_ROWSPERSTRIP, look.rows_a_strip);
    }
}
// Samples of `pixels` as they are, in the order in which they lie there.
inline void write_page(TIFF* t, const cv::Mat& pixels, const TiffLook& look) {
    const std::size_t size = pixels.elemSize1(), samples = static_cast<std::size_t>(pixels.channels());
    const bool apart = look.planar == PLANARCONFIG_SEPARATE;
    for (std::size_t s = 0; s < (apart ? samples : 1); ++s) {
        cv::Mat plane = pixels;
        if (apart) cv::extractChannel(pixels, plane, static_cast<int>(s));
        if (look.tile > 0) {
            for (int y = 0; y < plane.rows; y += look.tile)
                for (int x = 0; x < plane.cols; x += look.tile) {
                    cv::Mat tile = cv::Mat::zeros(look.tile, look.tile, plane.type());
                    const cv::Rect seen(x, y, std::min(look.tile, plane.cols - x),
                                        std::min(look.tile, plane.rows - y));
                    plane(seen).copyTo(tile(cv::Rect(0, 0, seen.width, seen.height)));
                    TIFFWriteTile(t, tile.data, static_cast<std::uint32_t>(x), static_cast<std::uint32_t>(y), 0,
                                  static_cast<std::uint16_t>(s));
                }
        } else {
            for (int y = 0; y < plane.rows; ++y) {
                std::vector<uchar> row(plane.ptr(y), plane.ptr(y) + size * (apart ? 1 : samples) *
                                                                        static_cast<std::size_t>(plane.cols));
                TIFFWriteScanline(t, row.data(), static_cast<std::uint32_t>(y), static_cast<std::uint16_t>(s));
            }
        }
    }
    TIFFWriteDirectory(t);
}
inline std::string tiff_of(const cv::Mat& pixels, const TiffLook& look) {
    return tiff_file([&](TIFF* t) {
        set_tags(t, pixels.cols, pixels.rows, look);
        write_page(t, pixels, look);
    });
}
// A header that claims a size, with nothing behind it.
inline std::string tiff_header(std::uint32_t width, std::uint32_t height) {
    return "II" + little(42, 2) + little(8, 4) + little(2, 2) + little(0x100, 2) + little(4, 2) + little(1, 4) +
           little(width, 4) + little(0x101, 2) + little(4, 2) + little(1, 4) + little(height, 4) + little(0, 4);
}

}  // namespace footring::photo::files
