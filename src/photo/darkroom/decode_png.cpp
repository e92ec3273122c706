// SPDX-License-Identifier: Apache-2.0
#include <png.h>

#include <algorithm>
#include <bit>
#include <csetjmp>
#include <cstring>
#include <vector>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

namespace {

constexpr png_alloc_size_t kMostChunk = 8'000'000;  // bytes of a text or profile, unpacked

// libpng leaves by longjmp: between setjmp and its return nothing may stand on the stack that wants destroying.
class Png {
  public:
    explicit Png(Job& job) : job_(job), left_(job.bytes()) {
        png_ = png_create_read_struct(
            PNG_LIBPNG_VER_STRING, nullptr, [](png_structp png, png_const_charp) { png_longjmp(png, 1); },
            [](png_structp, png_const_charp) {});
        if (png_ != nullptr) info_ = png_create_info_struct(png_);
        if (info_ == nullptr) {
            png_destroy_read_struct(&png_, &info_, nullptr);
            throw Refused{Outcome::kNoMemory};
        }
    }
    ~Png() { png_destroy_read_struct(&png_, &info_, nullptr); }
    Png(const Png&) = delete;
    Png& operator=(const Png&) = delete;

    void run() {
        if (!read_header()) throw Refused{Outcome::kTorn};
        Layout layout;
        const auto type = png_get_color_type(png_, info_);
        layout.colours = (type & PNG_COLOR_MASK_COLOR) != 0 ? Layout::Colours::kBgr : Layout::Colours::kGrey;
        layout.alpha = (type & PNG_COLOR_MASK_ALPHA) != 0;
        layout.deep = png_get_bit_depth(png_, info_) == 16;
        const std::size_t width = png_get_image_width(png_, info_), height = png_get_image_height(png_, info_);
        if (png_get_rowbytes(png_, info_) != width * layout.bytes()) throw Refused{Outcome::kTorn};
        canvas_ = &job_.canvas(static_cast<std::int64_t>(width), static_cast<std::int64_t>(height), layout, icc_);
        if (passes_ > 1) {  // an interlaced picture is only whole at its end
            whole_.resize(width * layout.bytes() * height);
            rows_.resize(height);
            for (std::size_t y = 0; y < height; ++y) rows_[y] = whole_.data() + y * width * layout.bytes();
        }
        if (!read_pixels()) throw Refused{Outcome::kTorn};
    }

  private:
    bool read_header() {
        if (setjmp(png_jmpbuf(png_)) != 0) return false;
        png_set_read_fn(png_, this, [](png_structp png, png_bytep to, std::size_t size) {
            std::string_view& left = static_cast<Png*>(png_get_io_ptr(png))->left_;
            if (left.size() < size) png_error(png, "torn");
            std::memcpy(to, left.data(), size);
            left.remove_prefix(size);
        });
        png_set_user_limits(png_, PNG_UINT_31_MAX, PNG_UINT_31_MAX);  // what is too large was refused by the header
        png_set_chunk_malloc_max(png_, kMostChunk);
        png_set_chunk_cache_max(png_, 100);
        png_read_info(png_, info_);
        png_charp name = nullptr;
        int method = 0;
        png_bytep profile = nullptr;
        png_uint_32 size = 0;
        if (png_get_iCCP(png_, info_, &name, &method, &profile, &size) != 0)
            icc_ = {reinterpret_cast<const char*>(profile), size};
        png_set_expand(png_);  // palettes, 1, 2 and 4 bits, transparent colours
        png_set_bgr(png_);
        if constexpr (std::endian::native == std::endian::little) png_set_swap(png_);
        passes_ = png_set_interlace_handling(png_);
        png_read_update_info(png_, info_);
        return true;
    }
    bool read_pixels() {
        if (setjmp(png_jmpbuf(png_)) != 0) return false;
        const int height = static_cast<int>(png_get_image_height(png_, info_));
        if (passes_ > 1) {
            png_read_image(png_, rows_.data());
            for (int y = 0; y < height; ++y) canvas_->put(y, rows_[static_cast<std::size_t>(y)]);
        } else {
            for (int y = 0; y < height; ++y) {
                std::uint8_t* const row = canvas_->row(y);
                png_read_row(png_, row, nullptr);
                canvas_->put(y, row);
            }
        }
        png_read_end(png_, nullptr);
        return true;
    }

    Job& job_;
    std::string_view left_, icc_;
    Canvas* canvas_ = nullptr;
    png_structp png_ = nullptr;
    png_infop info_ = nullptr;
    int passes_ = 1;
    std::vector<std::uint8_t> whole_;
    std::vector<png_bytep> rows_;
};

}  // namespace

void decode_png(Job& job) { Png(job).run(); }

}  // namespace footring::photo::darkroom
