// photo/read_mark.h - one mark read: its lines in order, from the right end, each by the picture of it that reads
// best. Internal to photo/. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <functional>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "photo/letters.h"
#include "photo/ocr.h"
#include "photo/reading.h"
#include "photo/text_ground.h"

namespace footring::photo {

struct MarkLine {
    ReadLine read;
    std::array<cv::Point2d, 4> box;  // mat pixels of the photograph
    double turned_deg = 0;
    bool curved = false;
    std::size_t letters_seen = 0;  // things of the build of letters that were found, whatever was read
    double letters_fit = 0;        // letters that there is room for
};
struct MarkText {
    std::vector<MarkLine> lines;  // in reading order; curved ones first
    double turned_deg = 0;        // of most of its letters
    double confidence = 0;        // that these are words: 0..1
};

// `known`: words of the open packs. They only decide between two readings of the same line; a word that was not
// read is never put there. `passes`: how often the engine may be asked at most.
MarkText read_mark(const Ground&, Halves&, const Mark&, Ocr&, const std::vector<std::string>& known, int passes,
                   std::optional<double> usual_turn_deg, const std::function<bool()>& stop);

}  // namespace footring::photo
