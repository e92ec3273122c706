// SPDX-License-Identifier: Apache-2.0
#include <csetjmp>
#include <cstdio>
#include <cstdlib>
#include <memory>
// libjpeg's header needs FILE and size_t before it.
#include <jerror.h>
#include <jpeglib.h>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

namespace {

// A baseline photograph has one scan for each colour, a progressive one about ten. Thousands of scans over a large
// picture are a way to burn time.
constexpr int kMostScans = 200;

// libjpeg leaves by longjmp: between setjmp and its return nothing may stand on the stack that wants destroying.
class Jpeg {
  public:
    explicit Jpeg(Job& job) : job_(job) {
        info_.err = jpeg_std_error(&errors_);
        info_.client_data = this;
        errors_.error_exit = [](j_common_ptr info) { self(info).leave(Outcome::kTorn); };
        errors_.emit_message = [](j_common_ptr info, int level) { self(info).warned(level); };
        errors_.output_message = [](j_common_ptr) {};
        progress_.progress_monitor = [](j_common_ptr info) {
            if (self(info).info_.input_scan_number > kMostScans) self(info).leave(Outcome::kTorn);
        };
    }
    ~Jpeg() {
        jpeg_destroy_decompress(&info_);
        std::free(icc_);
    }
    Jpeg(const Jpeg&) = delete;
    Jpeg& operator=(const Jpeg&) = delete;

    void run() {
        if (!read_header()) throw Refused{outcome_};
        Layout layout;
        layout.colours = info_.out_color_space == JCS_GRAYSCALE ? Layout::Colours::kGrey
                         : info_.out_color_space == JCS_CMYK    ? Layout::Colours::kCmyk
                                                                : Layout::Colours::kBgr;
        layout.less_ink = info_.saw_Adobe_marker != FALSE;
        canvas_ =
            &job_.canvas(info_.output_width, info_.output_height, layout,
                         {reinterpret_cast<const char*>(icc_), icc_size_}, static_cast<int>(info_.scale_denom));
        if (!read_pixels()) throw Refused{outcome_};
    }

  private:
    static Jpeg& self(j_common_ptr info) { return *static_cast<Jpeg*>(info->client_data); }

    [[noreturn]] void leave(Outcome outcome) {
        outcome_ = errors_.msg_code == JERR_OUT_OF_MEMORY ? Outcome::kNoMemory : outcome;
        std::longjmp(way_out_, 1);
    }
    // What is missing is filled up with grey by libjpeg. That may do to look at, but not to measure; only the very
    // last rows, which some cameras cut short, are let pass.
    void warned(int level) {
        const int code = errors_.msg_code;
        const bool damage = code == JWRN_HIT_MARKER || code == JWRN_JPEG_EOF || code == JWRN_HUFF_BAD_CODE ||
                            code == JWRN_MUST_RESYNC;
        constexpr JDIMENSION kLastRows = 16;
        if (level < 0 && damage && info_.output_scanline + kLastRows < info_.output_height) leave(Outcome::kTorn);
    }

    bool read_header() {
        if (setjmp(way_out_) != 0) return false;
        jpeg_create_decompress(&info_);
        info_.client_data = this;
        info_.progress = &progress_;
        const std::string_view bytes = job_.bytes();
        jpeg_mem_src(&info_, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
        constexpr int kIccMarker = JPEG_APP0 + 2;
        jpeg_save_markers(&info_, kIccMarker, 0xFFFF);
        jpeg_read_header(&info_, TRUE);
        unsigned size = 0;
        if (jpeg_read_icc_profile(&info_, &icc_, &size) != FALSE) icc_size_ = size;
        info_.out_color_space = info_.num_components == 1   ? JCS_GRAYSCALE
                                : info_.num_components == 4 ? JCS_CMYK
                                                            : JCS_EXT_BGR;
        info_.scale_num = 1;
        info_.scale_denom = reduction();
        jpeg_calc_output_dimensions(&info_);
        return true;
    }
    // The DCT gives a half, a quarter or an eighth several times faster; half as much again as is wanted is left
    // for a smooth resize.
    unsigned reduction() const {
        const auto wanted = static_cast<JDIMENSION>(job_.request().longest) * 3 / 2;
        const JDIMENSION side = std::max(info_.image_width, info_.image_height);
        if (wanted == 0) return 1;
        for (const unsigned by : {8u, 4u, 2u})
            if (side / by >= wanted) return by;
        return 1;
    }

    bool read_pixels() {
        if (setjmp(way_out_) != 0) return false;
        jpeg_start_decompress(&info_);
        while (info_.output_scanline < info_.output_height) {
            // Several rows in one call save libjpeg a copy where it makes two at a time.
            constexpr int kAtOnce = 4;
            const int first = static_cast<int>(info_.output_scanline);
            JSAMPROW rows[kAtOnce];
            int count = 0;
            for (; count < kAtOnce && first + count < static_cast<int>(info_.output_height); ++count) {
                rows[count] = canvas_->row(first + count);
                if (count > 0 && rows[count] == rows[0]) break;  // there is one row of memory only
            }
            const int got = static_cast<int>(jpeg_read_scanlines(&info_, rows, static_cast<JDIMENSION>(count)));
            for (int i = 0; i < got; ++i) canvas_->put(first + i, rows[i]);
        }
        jpeg_finish_decompress(&info_);
        return true;
    }

    Job& job_;
    Canvas* canvas_ = nullptr;
    jpeg_decompress_struct info_{};
    jpeg_error_mgr errors_{};
    jpeg_progress_mgr progress_{};
    std::jmp_buf way_out_{};
    Outcome outcome_ = Outcome::kTorn;
    JOCTET* icc_ = nullptr;
    std::size_t icc_size_ = 0;
};

}  // namespace

void decode_jpeg(Job& job) { Jpeg(job).run(); }

}  // namespace footring::photo::darkroom
