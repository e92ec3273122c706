// SPDX-License-Identifier: Apache-2.0
#include <tiffio.h>

#include <algorithm>
#include <cstring>
#include <memory>
#include <vector>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

namespace {

// TIFF is a family. Read here: grey, palette, RGB, CMYK and JPEG's YCbCr; 1, 2, 4 (grey and palette), 8 and 16
// bits, floats from 0 to 1; strips and tiles; channels together or apart. Raw files of cameras, which begin with a
// small preview, CIE Lab and the like are refused.
struct Kind {
    std::uint32_t width = 0, height = 0;
    std::uint16_t bits = 1, samples = 1, photometric = 0, planar = PLANARCONFIG_CONTIG, compression = 1;
    std::size_t colours = 1;
    bool floats = false, premultiplied = false, alpha = false, tiled = false;
    bool palette() const { return photometric == PHOTOMETRIC_PALETTE; }
    bool inverted() const { return photometric == PHOTOMETRIC_MINISWHITE; }
};

class Tiff {
  public:
    explicit Tiff(Job& job) : job_(job) {
        TIFFSetErrorHandler(nullptr);
        TIFFSetWarningHandler(nullptr);
        tiff_.reset(TIFFClientOpen(
            "photograph", "r", this, read, write, seek, [](thandle_t) { return 0; }, size, map,
            [](thandle_t, void*, toff_t) {}));
        if (!tiff_) throw Refused{Outcome::kTorn};
    }

    void run() {
        look();
        Layout layout;
        layout.colours = kind_.palette()      ? Layout::Colours::kRgb
                         : kind_.colours == 1 ? Layout::Colours::kGrey
                         : kind_.colours == 4 ? Layout::Colours::kCmyk
                                              : Layout::Colours::kRgb;
        layout.deep = kind_.bits >= 16 && !kind_.palette();
        layout.alpha = kind_.alpha;
        layout_ = layout;
        canvas_ = &job_.canvas(kind_.width, kind_.height, layout, profile());
        row_.resize(layout.bytes() * kind_.width);
        if (kind_.tiled) read_tiles();
        else if (kind_.planar == PLANARCONFIG_CONTIG) read_rows();
        else read_strips_apart();
        if (more_pages()) job_.note(kFirstOfSeveral);
    }

  private:
    static Tiff& self(thandle_t handle) { return *static_cast<Tiff*>(handle); }
    static tmsize_t read(thandle_t handle, void* to, tmsize_t size) {
        Tiff& t = self(handle);
        const std::string_view some = t.job_.bytes().substr(std::min(t.at_, t.job_.bytes().size()),
                                                            static_cast<std::size_t>(std::max<tmsize_t>(size, 0)));
        std::memcpy(to, some.data(), some.size());
        t.at_ += some.size();
        return static_cast<tmsize_t>(some.size());
    }
    static tmsize_t write(thandle_t, void*, tmsize_t) { return -1; }
    static toff_t seek(thandle_t handle, toff_t offset, int from) {
        Tiff& t = self(handle);
        const std::size_t base = from == SEEK_CUR ? t.at_ : from == SEEK_END ? t.job_.bytes().size() : 0;
        return t.at_ = base + static_cast<std::size_t>(offset);
    }
    static toff_t size(thandle_t handle) { return self(handle).job_.bytes().size(); }
    static int map(thandle_t handle, void** base, toff_t* bytes) {
        *base = const_cast<char*>(self(handle).job_.bytes().data());  // libtiff only reads what is open for reading
        *bytes = self(handle).job_.bytes().size();
        return 1;
    }

    void look() {
        TIFF* const t = tiff_.get();
        Kind& k = kind_;
        std::uint16_t format = SAMPLEFORMAT_UINT, extras = 0, *extra = nullptr;
        std::uint32_t subfile = 0;
        TIFFGetField(t, TIFFTAG_IMAGEWIDTH, &k.width);
        TIFFGetField(t, TIFFTAG_IMAGELENGTH, &k.height);
        TIFFGetFieldDefaulted(t, TIFFTAG_BITSPERSAMPLE, &k.bits);
        TIFFGetFieldDefaulted(t, TIFFTAG_SAMPLESPERPIXEL, &k.samples);
        TIFFGetFieldDefaulted(t, TIFFTAG_PLANARCONFIG, &k.planar);
        TIFFGetFieldDefaulted(t, TIFFTAG_COMPRESSION, &k.compression);
        TIFFGetFieldDefaulted(t, TIFFTAG_SAMPLEFORMAT, &format);
        TIFFGetFieldDefaulted(t, TIFFTAG_EXTRASAMPLES, &extras, &extra);
        TIFFGetFieldDefaulted(t, TIFFTAG_SUBFILETYPE, &subfile);
        if (TIFFGetField(t, TIFFTAG_PHOTOMETRIC, &k.photometric) == 0 || k.width == 0 || k.height == 0)
            throw Refused{Outcome::kTorn};
        const auto need = [](bool holds) {
            if (!holds) throw Refused{Outcome::kNotRead};
        };
        need((subfile & FILETYPE_REDUCEDIMAGE) == 0 && k.compression != COMPRESSION_OJPEG);
        if (k.photometric == PHOTOMETRIC_YCBCR && k.compression == COMPRESSION_JPEG) {
            TIFFSetField(t, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
            k.photometric = PHOTOMETRIC_RGB;
        }
        switch (k.photometric) {
            case PHOTOMETRIC_MINISWHITE:
            case PHOTOMETRIC_MINISBLACK:
            case PHOTOMETRIC_PALETTE:
                k.colours = 1;
                break;
            case PHOTOMETRIC_RGB:
                k.colours = 3;
                break;
            case PHOTOMETRIC_SEPARATED: {
                std::uint16_t inks = INKSET_CMYK;
                TIFFGetFieldDefaulted(t, TIFFTAG_INKSET, &inks);
                need(inks == INKSET_CMYK);
                k.colours = 4;
                break;
            }
            default:
                need(false);
        }
        need(k.samples >= k.colours && k.samples <= 8);
        k.floats = format == SAMPLEFORMAT_IEEEFP;
        const bool few_bits = (k.bits == 1 || k.bits == 2 || k.bits == 4) && k.samples == 1;
        need(k.floats ? k.bits == 32 : format == SAMPLEFORMAT_UINT || format == SAMPLEFORMAT_VOID);
        need(k.floats || k.bits == 8 || k.bits == 16 || few_bits);
        need(!k.palette() || (k.bits <= 8 && k.samples == 1));
        if (extras > 0 && k.samples > k.colours) {
            k.premultiplied = extra[0] == EXTRASAMPLE_ASSOCALPHA;
            k.alpha = k.premultiplied || extra[0] == EXTRASAMPLE_UNASSALPHA;
        }
        if (k.palette()) {
            if (TIFFGetField(t, TIFFTAG_COLORMAP, &map_[0], &map_[1], &map_[2]) == 0) throw Refused{Outcome::kTorn};
            // 16 bits by the standard; some programs write 8.
            for (const std::uint16_t* channel : map_)
                for (std::size_t i = 0; i < std::size_t{1} << k.bits; ++i)
                    deep_map_ = deep_map_ || channel[i] > 255;
        }
        k.tiled = TIFFIsTiled(t) != 0;
    }
    std::string_view profile() const {
        std::uint32_t size = 0;
        const void* icc = nullptr;
        if (TIFFGetField(tiff_.get(), TIFFTAG_ICCPROFILE, &size, &icc) == 0) return {};
        return {static_cast<const char*>(icc), size};
    }
    bool more_pages() {
        constexpr int kFarEnough = 16;
        for (int i = 0; i < kFarEnough && TIFFReadDirectory(tiff_.get()) != 0; ++i) {
            std::uint32_t subfile = 0;
            TIFFGetFieldDefaulted(tiff_.get(), TIFFTAG_SUBFILETYPE, &subfile);
            if ((subfile & (FILETYPE_REDUCEDIMAGE | FILETYPE_MASK)) == 0) return true;
        }
        return false;
    }

    // Strips and tiles may be larger than the picture, as tiles have sizes of their own; but not beyond reason.
    std::size_t sane(std::uint64_t bytes) const {
        constexpr std::uint64_t kAnyTile = 4'000'000;  // 512 x 512 in four deep channels, and more
        const std::uint64_t picture = std::uint64_t{kind_.width} * kind_.height * kind_.samples * kind_.bits / 8;
        if (bytes == 0) throw Refused{Outcome::kTorn};
        if (bytes > kAnyTile + 2 * picture) throw Refused{Outcome::kNoMemory};
        return static_cast<std::size_t>(bytes);
    }
    static void need_whole(bool read) {
        if (!read) throw Refused{Outcome::kTorn};
    }
    std::size_t samples_together() const { return kind_.planar == PLANARCONFIG_CONTIG ? kind_.samples : 1; }
    std::size_t planes() const {
        return kind_.planar == PLANARCONFIG_CONTIG ? 1 : kind_.colours + (kind_.alpha ? 1 : 0);
    }
    std::size_t packed_row(std::size_t pixels) const { return (pixels * samples_together() * kind_.bits + 7) / 8; }

    void read_rows() {
        const std::size_t bytes = sane(TIFFScanlineSize64(tiff_.get()));
        need_whole(bytes >= packed_row(kind_.width));
        std::vector<std::uint8_t> line(bytes);
        for (std::uint32_t y = 0; y < kind_.height; ++y) {
            need_whole(TIFFReadScanline(tiff_.get(), line.data(), y, 0) == 1);
            put(y, {line.data()});
        }
    }
    void read_strips_apart() {
        std::uint32_t rows = 0;
        TIFFGetFieldDefaulted(tiff_.get(), TIFFTAG_ROWSPERSTRIP, &rows);
        rows = std::min(std::max(rows, 1u), kind_.height);
        const std::size_t bytes = sane(TIFFStripSize64(tiff_.get())), line = packed_row(kind_.width);
        std::vector<std::vector<std::uint8_t>> strips(planes(), std::vector<std::uint8_t>(bytes));
        for (std::uint32_t first = 0; first < kind_.height; first += rows) {
            const std::uint32_t count = std::min(rows, kind_.height - first);
            for (std::size_t p = 0; p < strips.size(); ++p) {
                const auto strip = TIFFComputeStrip(tiff_.get(), first, static_cast<std::uint16_t>(p));
                const auto got =
                    TIFFReadEncodedStrip(tiff_.get(), strip, strips[p].data(), static_cast<tmsize_t>(bytes));
                need_whole(got >= 0 && static_cast<std::size_t>(got) >= line * count);
            }
            for (std::uint32_t i = 0; i < count; ++i) {
                std::vector<const std::uint8_t*> rows_of_planes;
                for (const auto& strip : strips) rows_of_planes.push_back(strip.data() + line * i);
                put(first + i, rows_of_planes);
            }
        }
    }
    void read_tiles() {
        std::uint32_t width = 0, height = 0;
        TIFFGetField(tiff_.get(), TIFFTAG_TILEWIDTH, &width);
        TIFFGetField(tiff_.get(), TIFFTAG_TILELENGTH, &height);
        need_whole(width > 0 && height > 0 && width % 8 == 0);
        const std::size_t bytes = sane(TIFFTileSize64(tiff_.get())), tile_line = packed_row(width);
        const std::uint64_t across = (std::uint64_t{kind_.width} + width - 1) / width;
        const std::uint32_t used = std::min(height, kind_.height);
        const std::size_t line = sane(across * tile_line), band = sane(std::uint64_t{line} * used);
        need_whole(bytes >= tile_line * used);
        std::vector<std::uint8_t> tile(bytes);
        std::vector<std::vector<std::uint8_t>> bands(planes(), std::vector<std::uint8_t>(band));
        for (std::uint32_t first = 0; first < kind_.height; first += used) {
            const std::uint32_t count = std::min(used, kind_.height - first);
            for (std::size_t p = 0; p < bands.size(); ++p)
                for (std::uint64_t x = 0; x < across; ++x) {
                    need_whole(TIFFReadTile(tiff_.get(), tile.data(), static_cast<std::uint32_t>(x) * width, first,
                                            0, static_cast<std::uint16_t>(p)) >= 0);
                    for (std::size_t i = 0; i < count; ++i)
                        std::memcpy(bands[p].data() + line * i + tile_line * x, tile.data() + tile_line * i,
                                    tile_line);
                }
            for (std::uint32_t i = 0; i < count; ++i) {
                std::vector<const std::uint8_t*> rows_of_planes;
                for (const auto& one : bands) rows_of_planes.push_back(one.data() + line * i);
                put(first + i, rows_of_planes);
            }
        }
    }

    // One row of the picture; of each plane, its samples of that row.
    void put(std::uint32_t y, const std::vector<const std::uint8_t*>& rows_of_planes) {
        const Kind& k = kind_;
        const bool as_it_is = rows_of_planes.size() == 1 && samples_together() == layout_.channels() &&
                              !k.palette() && !k.inverted() && !k.floats && !k.premultiplied && k.bits >= 8;
        if (as_it_is) {
            canvas_->put(static_cast<int>(y), rows_of_planes[0]);
            return;
        }
        const std::size_t channels = layout_.channels();
        for (std::size_t x = 0; x < k.width; ++x) {
            std::uint32_t level[5] = {};
            const std::size_t wanted = k.palette() ? 1 : channels;
            for (std::size_t c = 0; c < wanted; ++c) {
                const bool apart = rows_of_planes.size() > 1;
                level[c] = sample(rows_of_planes[apart ? c : 0], apart ? x : x * samples_together() + c);
            }
            const std::uint32_t most = layout_.deep ? 65535 : 255;
            if (k.palette())
                for (std::size_t c = 3; c-- > 0;)
                    level[c] = deep_map_ ? (map_[c][level[0]] + 128u) / 257u : map_[c][level[0]];
            if (k.inverted()) level[0] = most - level[0];
            if (k.premultiplied)
                for (std::size_t c = 0; c + 1 < channels; ++c)
                    level[c] =
                        level[channels - 1] == 0
                            ? 0
                            : std::min(most, (level[c] * most + level[channels - 1] / 2) / level[channels - 1]);
            for (std::size_t c = 0; c < channels; ++c) {
                if (layout_.deep) {
                    const auto deep = static_cast<std::uint16_t>(level[c]);
                    std::memcpy(row_.data() + 2 * (x * channels + c), &deep, 2);
                } else {
                    row_[x * channels + c] = static_cast<std::uint8_t>(level[c]);
                }
            }
        }
        canvas_->put(static_cast<int>(y), row_.data());
    }
    // Grey of few bits is spread over 0 .. 255; an index into a palette stays what it is.
    std::uint32_t sample(const std::uint8_t* row, std::size_t index) const {
        if (kind_.floats) {
            float value;
            std::memcpy(&value, row + 4 * index, 4);
            return value >= 1 ? 65535 : value > 0 ? static_cast<std::uint32_t>(value * 65535 + 0.5F) : 0;
        }
        if (kind_.bits == 16) {
            std::uint16_t value;
            std::memcpy(&value, row + 2 * index, 2);
            return value;
        }
        if (kind_.bits == 8) return row[index];
        const std::size_t in_a_byte = 8u / kind_.bits;
        const std::uint32_t most = (1u << kind_.bits) - 1;
        const std::uint32_t value = row[index / in_a_byte] >> (8 - kind_.bits * (1 + index % in_a_byte)) & most;
        return kind_.palette() ? value : value * 255 / most;
    }

    Job& job_;
    std::size_t at_ = 0;
    std::unique_ptr<TIFF, void (*)(TIFF*)> tiff_{nullptr, &TIFFClose};
    Kind kind_;
    Layout layout_;
    Canvas* canvas_ = nullptr;
    std::uint16_t* map_[3] = {};
    bool deep_map_ = false;
    std::vector<std::uint8_t> row_;
};

}  // namespace

void decode_tiff(Job& job) { Tiff(job).run(); }

}  // namespace footring::photo::darkroom
