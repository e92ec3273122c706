// photo/test_heic.h - HEIC files made in memory by libheif's encoder. For tests only.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <libheif/heif.h>

#include <opencv2/core.hpp>
#include <string>

namespace footring::photo::files {

struct HeicLook {
    std::string icc, exif_block;
    heif_orientation turned = heif_orientation_normal;
    int images = 1;
    int primaries = 0;  // of ITU-T H.273, with the curve of sRGB; 0: not said
};
inline std::string heic_of(const cv::Mat& bgr, const HeicLook& look = {}) {
    heif_context* context = heif_context_alloc();
    heif_encoder* encoder = nullptr;
    heif_context_get_encoder_for_format(context, heif_compression_HEVC, &encoder);
    heif_encoder_set_lossy_quality(encoder, 95);
    heif_encoder_set_parameter_string(encoder, "chroma", "444");
    for (int i = 0; i < look.images; ++i) {
        heif_image* image = nullptr;
        heif_image_create(bgr.cols, bgr.rows, heif_colorspace_RGB, heif_chroma_interleaved_RGB, &image);
        heif_image_add_plane(image, heif_channel_interleaved, bgr.cols, bgr.rows, 24);
        int stride = 0;
        std::uint8_t* const plane = heif_image_get_plane(image, heif_channel_interleaved, &stride);
        for (int y = 0; y < bgr.rows; ++y)
            for (int x = 0; x < bgr.cols; ++x)
                for (int c = 0; c < 3; ++c) plane[y * stride + 3 * x + c] = bgr.at<cv::Vec3b>(y, x)[2 - c];
        if (!look.icc.empty()) heif_image_set_raw_color_profile(image, "prof", look.icc.data(), look.icc.size());
        heif_encoding_options* options = heif_encoding_options_alloc();
        options->image_orientation = look.turned;
        heif_color_profile_nclx* nclx = look.primaries != 0 ? heif_nclx_color_profile_alloc() : nullptr;
        if (nclx != nullptr) {
            nclx->color_primaries = static_cast<heif_color_primaries>(look.primaries);
            nclx->transfer_characteristics = heif_transfer_characteristic_IEC_61966_2_1;
            heif_image_set_nclx_color_profile(image, nclx);
            options->output_nclx_profile = nclx;
            options->macOS_compatibility_workaround_no_nclx_profile = 0;
        }
        heif_image_handle* handle = nullptr;
        heif_context_encode_image(context, image, encoder, options, &handle);
        if (!look.exif_block.empty())
            heif_context_add_exif_metadata(context, handle, look.exif_block.data(),
                                           static_cast<int>(look.exif_block.size()));
        heif_image_handle_release(handle);
        heif_encoding_options_free(options);
        if (nclx != nullptr) heif_nclx_color_profile_free(nclx);
        heif_image_release(image);
    }
    heif_encoder_release(encoder);
    std::string out;
    heif_writer writer{1, [](heif_context*, const void* data, size_t size, void* to) {
                           static_cast<std::string*>(to)->assign(static_cast<const char*>(data), size);
                           return heif_error{heif_error_Ok, heif_suberror_Unspecified, ""};
                       }};
    heif_context_write(context, &writer, &out);
    heif_context_free(context);
    return out;
}

}  // namespace footring::photo::files
