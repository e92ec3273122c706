// SPDX-License-Identifier: Apache-2.0
#include <webp/decode.h>

#include <vector>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

void decode_webp(Job& job) {
    const auto* const bytes = reinterpret_cast<const std::uint8_t*>(job.bytes().data());
    WebPDecoderConfig config;
    if (WebPInitDecoderConfig(&config) == 0) throw Refused{Outcome::kOurFault};
    const auto throw_if = [](VP8StatusCode status) {
        if (status == VP8_STATUS_OUT_OF_MEMORY) throw Refused{Outcome::kNoMemory};
        if (status != VP8_STATUS_OK) throw Refused{Outcome::kTorn};
    };
    throw_if(WebPGetFeatures(bytes, job.bytes().size(), &config.input));
    if (config.input.has_animation != 0) throw Refused{Outcome::kMoving};
    Layout layout;
    layout.alpha = config.input.has_alpha != 0;
    const int width = config.input.width, height = config.input.height;
    Canvas& canvas = job.canvas(width, height, layout, job.icc());
    const std::size_t stride = layout.bytes() * static_cast<std::size_t>(width);
    // The library decodes whole pictures only. When rows may be written where they belong, it does so.
    std::vector<std::uint8_t> apart;
    const bool in_place = height > 1 ? canvas.row(0) != canvas.row(1) : false;
    if (!in_place) apart.resize(stride * static_cast<std::size_t>(height));
    std::uint8_t* const first = in_place ? canvas.row(0) : apart.data();
    config.output.colorspace = layout.alpha ? MODE_BGRA : MODE_BGR;
    config.output.is_external_memory = 1;
    config.output.u.RGBA = {first, static_cast<int>(stride), stride * static_cast<std::size_t>(height)};
    throw_if(WebPDecode(bytes, job.bytes().size(), &config));
    for (int y = 0; y < height; ++y) canvas.put(y, first + stride * static_cast<std::size_t>(y));
}

}  // namespace footring::photo::darkroom
