// SPDX-License-Identifier: Apache-2.0
#include <dlfcn.h>
#include <libheif/heif.h>

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

namespace {

// libheif brings two video encoders and three decoders along: loading them takes as long as the rest of the
// darkroom together, so that only HEIC photographs pay for it.
struct Library {
#define FOOTRING_HEIF(name) decltype(&heif_##name) name = load<decltype(&heif_##name)>("heif_" #name)
    void* handle = dlopen("libheif.so.1", RTLD_NOW | RTLD_LOCAL);
    bool whole = handle != nullptr;
    FOOTRING_HEIF(context_alloc);
    FOOTRING_HEIF(context_free);
    FOOTRING_HEIF(context_read_from_memory_without_copy);
    FOOTRING_HEIF(context_set_max_decoding_threads);
    FOOTRING_HEIF(context_get_number_of_top_level_images);
    FOOTRING_HEIF(context_get_primary_image_handle);
    FOOTRING_HEIF(image_handle_release);
    FOOTRING_HEIF(image_handle_get_width);
    FOOTRING_HEIF(image_handle_get_height);
    FOOTRING_HEIF(image_handle_has_alpha_channel);
    FOOTRING_HEIF(image_handle_is_premultiplied_alpha);
    FOOTRING_HEIF(image_handle_get_raw_color_profile_size);
    FOOTRING_HEIF(image_handle_get_raw_color_profile);
    FOOTRING_HEIF(image_handle_get_nclx_color_profile);
    FOOTRING_HEIF(nclx_color_profile_free);
    FOOTRING_HEIF(image_handle_get_list_of_metadata_block_IDs);
    FOOTRING_HEIF(image_handle_get_metadata_size);
    FOOTRING_HEIF(image_handle_get_metadata);
    FOOTRING_HEIF(decoding_options_alloc);
    FOOTRING_HEIF(decoding_options_free);
    FOOTRING_HEIF(decode_image);
    FOOTRING_HEIF(image_get_width);
    FOOTRING_HEIF(image_get_height);
    FOOTRING_HEIF(image_get_plane_readonly);
    FOOTRING_HEIF(image_release);
#undef FOOTRING_HEIF

  private:
    template <class Function>
    Function load(const char* name) {
        void* const found = handle != nullptr ? dlsym(handle, name) : nullptr;
        whole = whole && found != nullptr;
        return reinterpret_cast<Function>(found);
    }
};
// Loaded once and kept, as the file may not be opened any more when the photograph is decoded.
const Library& library() {
    static const Library loaded;
    return loaded;
}

void check(const heif_error& error) {
    switch (error.code) {
        case heif_error_Ok:
            return;
        case heif_error_Memory_allocation_error:
            throw Refused{Outcome::kNoMemory};
        case heif_error_Unsupported_filetype:
        case heif_error_Unsupported_feature:
        case heif_error_Color_profile_does_not_exist:
            throw Refused{Outcome::kNotRead};
        default:
            throw Refused{error.subcode == heif_suberror_Security_limit_exceeded ? Outcome::kNoMemory
                                                                                 : Outcome::kTorn};
    }
}

// Primaries and curve as numbers of ITU-T H.273, for files without an ICC profile.
std::string profile_of(const Library& heif, const heif_image_handle* image, Job& job) {
    heif_color_profile_nclx* nclx = nullptr;
    if (heif.image_handle_get_nclx_color_profile(image, &nclx).code != heif_error_Ok || nclx == nullptr) return {};
    const std::unique_ptr<heif_color_profile_nclx, void (*)(heif_color_profile_nclx*)> owned(
        nclx, heif.nclx_color_profile_free);
    const int curve = nclx->transfer_characteristics;
    constexpr int kPerceptualQuantiser = 16, kHybridLogGamma = 18;  // brighter than white: no profile says how
    if (curve == kPerceptualQuantiser || curve == kHybridLogGamma) job.note(kProfileUnusable);
    return icc_of_primaries(nclx->color_primaries, curve);
}

double focal_of(const Library& heif, const heif_image_handle* image) {
    heif_item_id id = 0;
    if (heif.image_handle_get_list_of_metadata_block_IDs(image, "Exif", &id, 1) != 1) return 0;
    std::string block(heif.image_handle_get_metadata_size(image, id), '\0');
    if (block.size() < 4 || heif.image_handle_get_metadata(image, id, block.data()).code != heif_error_Ok) return 0;
    const auto byte = [&](std::size_t at) {
        return static_cast<std::size_t>(static_cast<unsigned char>(block[at]));
    };
    // Four bytes say how far on the TIFF header stands.
    const std::size_t at = 4 + (byte(0) << 24 | byte(1) << 16 | byte(2) << 8 | byte(3));
    return at < block.size() ? focal_35mm(std::string_view(block).substr(at)) : 0;
}

}  // namespace

bool prepare_heif() { return library().whole; }

void decode_heif(Job& job) {
    const Library& heif = library();
    const std::unique_ptr<heif_context, void (*)(heif_context*)> context(heif.context_alloc(), heif.context_free);
    if (!context) throw Refused{Outcome::kNoMemory};
    heif.context_set_max_decoding_threads(context.get(), 0);
    check(
        heif.context_read_from_memory_without_copy(context.get(), job.bytes().data(), job.bytes().size(), nullptr));
    heif_image_handle* raw_handle = nullptr;
    check(heif.context_get_primary_image_handle(context.get(), &raw_handle));
    const std::unique_ptr<heif_image_handle, void (*)(const heif_image_handle*)> handle(raw_handle,
                                                                                        heif.image_handle_release);
    const std::int64_t claimed_width = heif.image_handle_get_width(handle.get());
    const std::int64_t claimed_height = heif.image_handle_get_height(handle.get());
    if (claimed_width < 1 || claimed_height < 1 || claimed_width > kMostPixels / claimed_height)
        throw Refused{Outcome::kTorn};

    Layout layout;
    layout.colours = Layout::Colours::kRgb;
    layout.alpha = heif.image_handle_has_alpha_channel(handle.get()) != 0;
    const bool premultiplied = layout.alpha && heif.image_handle_is_premultiplied_alpha(handle.get()) != 0;
    std::string icc(heif.image_handle_get_raw_color_profile_size(handle.get()), '\0');
    if (icc.empty()) icc = profile_of(heif, handle.get(), job);
    else check(heif.image_handle_get_raw_color_profile(handle.get(), icc.data()));

    const std::unique_ptr<heif_decoding_options, void (*)(heif_decoding_options*)> options(
        heif.decoding_options_alloc(), heif.decoding_options_free);
    if (!options) throw Refused{Outcome::kNoMemory};
    options->convert_hdr_to_8bit = 1;  // 10 and 12 bits
    options->strict_decoding = 1;      // what is damaged is no photograph to measure in
    heif_image* raw_image = nullptr;
    check(heif.decode_image(handle.get(), &raw_image, heif_colorspace_RGB,
                            layout.alpha ? heif_chroma_interleaved_RGBA : heif_chroma_interleaved_RGB,
                            options.get()));
    const std::unique_ptr<heif_image, void (*)(const heif_image*)> image(raw_image, heif.image_release);
    int stride = 0;
    const std::uint8_t* const plane = heif.image_get_plane_readonly(image.get(), heif_channel_interleaved, &stride);
    const int width = heif.image_get_width(image.get(), heif_channel_interleaved);
    const int height = heif.image_get_height(image.get(), heif_channel_interleaved);
    if (plane == nullptr || width < 1 || height < 1) throw Refused{Outcome::kTorn};
    Canvas& canvas = job.canvas(width, height, layout, icc);
    std::vector<std::uint8_t> row(premultiplied ? layout.bytes() * static_cast<std::size_t>(width) : 0);
    for (int y = 0; y < height; ++y) {
        const std::uint8_t* from = plane + static_cast<std::ptrdiff_t>(stride) * y;
        if (premultiplied) {
            for (std::size_t i = 0; i < row.size(); ++i) {
                const unsigned alpha = from[i | 3];
                row[i] = static_cast<std::uint8_t>(
                    (i & 3) == 3 || alpha == 0 ? from[i] : std::min(255u, (from[i] * 255u + alpha / 2) / alpha));
            }
            from = row.data();
        }
        canvas.put(y, from);
    }
    if (heif.context_get_number_of_top_level_images(context.get()) > 1) job.note(kFirstOfSeveral);
    job.answer().focal_35mm = focal_of(heif, handle.get());
}

}  // namespace footring::photo::darkroom
