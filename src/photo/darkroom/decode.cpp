// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/decode.h"

#include <new>
#include <stdexcept>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

Canvas& Job::canvas(std::int64_t width, std::int64_t height, const Layout& layout, std::string_view icc,
                    int reduced) {
    const std::int64_t all_width = request_.width, all_height = request_.height;
    if (width < 1 || height < 1 || width > kMostPixels / height) throw Refused{Outcome::kTorn};
    if (request_.format == Format::kHeif) {  // turned, cut and put together from tiles, but no larger than it said
        if (width * height > all_width * all_height) throw Refused{Outcome::kTorn};
        answer_.full_width = static_cast<std::int32_t>(width);
        answer_.full_height = static_cast<std::int32_t>(height);
    } else if (width != (all_width + reduced - 1) / reduced || height != (all_height + reduced - 1) / reduced) {
        throw Refused{Outcome::kTorn};  // two headers tell two sizes
    } else {
        answer_.full_width = request_.width;
        answer_.full_height = request_.height;
    }
    std::uint8_t* const memory = allocate_(static_cast<std::size_t>(3 * width * height));
    if (memory == nullptr) throw Refused{Outcome::kNoMemory};
    answer_.width = static_cast<std::int32_t>(width);
    answer_.height = static_cast<std::int32_t>(height);
    canvas_.emplace(answer_.width, answer_.height, request_.orientation, layout, icc, memory);
    if (Canvas::on_its_side(request_.orientation)) {
        std::swap(answer_.width, answer_.height);
        std::swap(answer_.full_width, answer_.full_height);
    }
    if (!canvas_->profile_usable()) note(kProfileUnusable);
    if (layout.colours == Layout::Colours::kCmyk && (icc.empty() || !canvas_->profile_usable()))
        note(kInksWithoutProfile);
    return *canvas_;
}

bool prepare(Format format) { return format != Format::kHeif || prepare_heif(); }

Answer decode(const Request& request, std::string_view bytes, const Allocate& allocate) {
    Job job(request, bytes, allocate);
    const auto ended = [&](Outcome outcome) {
        Answer answer;
        answer.outcome = outcome;
        return answer;
    };
    try {
        switch (request.format) {
            case Format::kJpeg:
                decode_jpeg(job);
                break;
            case Format::kPng:
                decode_png(job);
                break;
            case Format::kWebp:
                decode_webp(job);
                break;
            case Format::kTiff:
                decode_tiff(job);
                break;
            case Format::kHeif:
                decode_heif(job);
                break;
        }
        if (job.answer().focal_35mm == 0) job.answer().focal_35mm = focal_35mm(job.exif());
        job.answer().outcome = Outcome::kDone;
        return job.answer();
    } catch (const Refused& refused) {
        return ended(refused.outcome);
    } catch (const std::bad_alloc&) {
        return ended(Outcome::kNoMemory);
    } catch (const std::length_error&) {
        return ended(Outcome::kNoMemory);
    } catch (const std::exception&) {
        return ended(Outcome::kTorn);
    }
}

}  // namespace footring::photo::darkroom
