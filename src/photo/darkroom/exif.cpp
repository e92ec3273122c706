// SPDX-License-Identifier: Apache-2.0
#include <exiv2/exiv2.hpp>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

double focal_35mm(std::string_view exif) {
    if (exif.empty()) return 0;
    try {
        Exiv2::LogMsg::setLevel(Exiv2::LogMsg::mute);
        Exiv2::ExifData data;
        Exiv2::ExifParser::decode(data, reinterpret_cast<const Exiv2::byte*>(exif.data()),
                                  static_cast<std::uint32_t>(exif.size()));
        const auto found = data.findKey(Exiv2::ExifKey("Exif.Photo.FocalLengthIn35mmFilm"));
        if (found == data.end() || found->count() == 0) return 0;
        const double focal = static_cast<double>(found->toLong());
        return focal >= 1 && focal <= 5000 ? focal : 0;  // mm; the longest lenses reach some 2000
    } catch (const std::exception&) {                    // Exiv2::Error among others: a camera's mistake, or a trap
        return 0;
    }
}

}  // namespace footring::photo::darkroom
