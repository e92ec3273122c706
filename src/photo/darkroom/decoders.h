// photo/darkroom/decoders.h - what the decoders of the formats share. Internal to the darkroom.
//   Each decoder takes the Job, makes the canvas once it knows size and layout, puts every row, and throws Refused
//   (with nothing of a C library's frames in between) when the file is not one that it can read whole.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string_view>

#include "photo/darkroom/canvas.h"
#include "photo/darkroom/decode.h"

namespace footring::photo::darkroom {

struct Refused {
    Outcome outcome;
};

class Job {
  public:
    Job(const Request& request, std::string_view bytes, const Allocate& allocate)
        : request_(request), bytes_(bytes), allocate_(allocate) {}
    const Request& request() const { return request_; }
    std::string_view bytes() const { return bytes_; }
    std::string_view exif() const { return part(request_.exif_at, request_.exif_size); }
    std::string_view icc() const { return part(request_.icc_at, request_.icc_size); }
    Answer& answer() { return answer_; }
    void note(std::uint32_t bit) { answer_.notes |= bit; }

    // Stored size as decoded, which is the whole photograph divided by `reduced` (1, 2, 4 or 8), rounded up.
    Canvas& canvas(std::int64_t width, std::int64_t height, const Layout&, std::string_view icc, int reduced = 1);

  private:
    std::string_view part(std::uint64_t at, std::uint64_t size) const {
        return at <= bytes_.size() ? bytes_.substr(at, size) : std::string_view();
    }
    const Request& request_;
    std::string_view bytes_;
    const Allocate& allocate_;
    Answer answer_;
    std::optional<Canvas> canvas_;
};

void decode_jpeg(Job&);
void decode_png(Job&);
void decode_webp(Job&);
void decode_tiff(Job&);
void decode_heif(Job&);
bool prepare_heif();

// FocalLengthIn35mmFilm of an EXIF block, mm; 0: not said, or not to be understood.
double focal_35mm(std::string_view exif);

}  // namespace footring::photo::darkroom
