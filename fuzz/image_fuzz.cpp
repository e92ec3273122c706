// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as a photograph: the header that the server reads itself, then the decoders, the EXIF block and
// the colour profile that the darkroom reads. What is refused must be refused with a sentence; what is decoded must
// fill exactly the picture that it announced. Pictures are kept small, so that the fuzzer gets round.
#include <cstdint>
#include <vector>

#include "base/text.h"
#include "holds.h"
#include "photo/darkroom/decode.h"
#include "photo/image_header.h"

using namespace footring;
using namespace footring::photo;

namespace {

constexpr std::int64_t kMostHere = 1 << 16;  // px

void check_refusal(const Problem& p) {
    HOLDS(p.code == ProblemCode::kBadInput || p.code == ProblemCode::kTooLarge);
    HOLDS(p.where == "a" && !p.what.empty() && !p.remedy.empty());
    HOLDS(to_line(p).find('\n') == std::string::npos);
}
void check_within(std::string_view part, std::string_view bytes) {
    HOLDS(part.empty() ||
          (part.data() >= bytes.data() && part.data() + part.size() <= bytes.data() + bytes.size()));
}

}  // namespace

// libheif loses some bytes when it refuses a colour box. The darkroom ends after one photograph, and they with it.
extern "C" const char* __lsan_default_suppressions() { return "leak:libheif.so\n"; }

// Loading libheif takes a while, which no single input is to blame for.
extern "C" int LLVMFuzzerInitialize(int*, char***) {
    HOLDS(darkroom::prepare(Format::kHeif));
    return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const auto header = admit(bytes, "a");
    if (!header) {
        check_refusal(header.error());
        return 0;
    }
    HOLDS(header->width >= 1 && header->height >= 1 && header->orientation >= 1 && header->orientation <= 8);
    HOLDS(header->width * header->height <= kMostPixels);
    check_within(header->exif, bytes);
    check_within(header->icc, bytes);
    if (header->width * header->height > kMostHere) return 0;

    darkroom::Request request;
    request.format = header->format;
    request.width = static_cast<std::int32_t>(header->width);
    request.height = static_cast<std::int32_t>(header->height);
    request.orientation = header->orientation;
    request.longest = size % 3 == 0 ? 8 : 0;
    if (!header->exif.empty()) request.exif_at = static_cast<std::uint64_t>(header->exif.data() - bytes.data());
    if (!header->icc.empty()) request.icc_at = static_cast<std::uint64_t>(header->icc.data() - bytes.data());
    request.exif_size = header->exif.size();
    request.icc_size = header->icc.size();
    HOLDS(darkroom::prepare(header->format));
    std::vector<std::uint8_t> picture;
    int asked = 0;
    const darkroom::Answer answer = darkroom::decode(request, bytes, [&](std::size_t wanted) {
        ++asked;
        HOLDS(wanted <= std::size_t{3} * kMostHere);
        picture.resize(wanted);
        return picture.data();
    });
    HOLDS(asked <= 1 && answer.outcome != darkroom::Outcome::kUnfinished);
    if (answer.outcome != darkroom::Outcome::kDone) return 0;
    HOLDS(asked == 1 && answer.width >= 1 && answer.height >= 1);
    HOLDS(std::size_t{3} * static_cast<std::size_t>(answer.width) * static_cast<std::size_t>(answer.height) ==
          picture.size());
    HOLDS(answer.width <= answer.full_width && answer.height <= answer.full_height);
    HOLDS(answer.focal_35mm >= 0 && answer.focal_35mm <= 5000);
    return 0;
}
