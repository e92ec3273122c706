// photo/ocr.h - one line of print, upright and alone on its ground, read by Tesseract. Internal to photo/.
//   in      CV_8UC1, dark letters on a light ground, some 36 px high, a margin of half a letter all round
//   out     the text with a confidence for each character; empty when nothing was read
//   errors  none: without its data (package tesseract-ocr-eng) ready() is false
//   An engine belongs to one thread at a time. Making one costs about 100 ms, so it is made when first needed.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace footring::photo {

struct ReadChar {
    char letter = '?';        // ASCII; ' ' between words
    double confidence = 0;    // 0..1
    double word = 0;          // of the word it stands in, 0..1
    double from = 0, to = 0;  // x of its box, px of the line's picture
};
// The confidence of a character alone is high on scratches too; that of a word is low for one smudged letter.
inline double trust(const ReadChar& c) { return (c.confidence + c.word) / 2; }
struct ReadLine {
    std::vector<ReadChar> chars;
    std::string text() const;
    double confidence() const;  // of characters and of their words by halves, mean over letters and digits
    int letters() const;        // letters and digits
};

class Ocr {
  public:
    Ocr();
    ~Ocr();
    bool ready();  // starts the engine on first use
    ReadLine line(const cv::Mat& gray);
    int passes() const { return passes_; }

  private:
    struct Engine;
    std::unique_ptr<Engine> engine_;
    bool tried_ = false;
    int passes_ = 0;
};

}  // namespace footring::photo
