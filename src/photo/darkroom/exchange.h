// photo/darkroom/exchange.h - what a program and the darkroom it started say to each other.
//   Two descriptors: kInput is the photograph's bytes (a memory file, only read), kOutput another memory file. It
//   begins with a Request when the darkroom starts; the darkroom writes an Answer behind it, and the pixels from
//   kPixelsAt on: B, G, R, rows without gaps, upright. Both programs come from one build, so that plain structs do.
//   The darkroom is not believed: whoever started it checks every number of an Answer.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>

#include "photo/image_header.h"

namespace footring::photo::darkroom {

inline constexpr int kInput = 0, kOutput = 1;
inline constexpr std::size_t kPixelsAt = 65536;  // a whole page wherever Linux runs

struct Request {
    Format format = Format::kJpeg;
    std::int32_t width = 0, height = 0;        // as stored; HEIF: the largest that any part of the file claims
    std::int32_t orientation = 1;              // EXIF; HEIF: always 1, as its own turns are part of decoding
    std::int32_t longest = 0;                  // px, of the longer side: enough to work with; 0: all that there are
    std::uint64_t exif_at = 0, exif_size = 0;  // within the input
    std::uint64_t icc_at = 0, icc_size = 0;  // WebP; the other formats keep their profile where their library looks
};

enum class Outcome : std::uint32_t {
    kUnfinished = 0,  // the darkroom died
    kDone = 1,
    kTorn = 2,
    kNoMemory = 3,
    kMoving = 4,
    kNotRead = 5,  // sound, but of a kind that is not read here (colours, depth, packing)
    kOurFault = 6
};
// Bits of Answer::notes.
inline constexpr std::uint32_t kFirstOfSeveral = 1, kProfileUnusable = 2, kInksWithoutProfile = 4;

struct Answer {
    Outcome outcome = Outcome::kUnfinished;
    std::int32_t width = 0, height = 0;            // px, upright, of the pixels that follow
    std::int32_t full_width = 0, full_height = 0;  // px, upright, of the photograph
    std::uint32_t notes = 0;
    double focal_35mm = 0;  // EXIF FocalLengthIn35mmFilm; 0: not said
};
inline constexpr std::size_t kAnswerAt = 4096;
static_assert(sizeof(Request) <= kAnswerAt && kAnswerAt + sizeof(Answer) <= kPixelsAt);

}  // namespace footring::photo::darkroom
