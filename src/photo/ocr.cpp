// SPDX-License-Identifier: Apache-2.0
#include "photo/ocr.h"

#include <dlfcn.h>
#include <leptonica/allheaders.h>
#include <tesseract/baseapi.h>
#include <tesseract/resultiterator.h>

#include <algorithm>
#include <cctype>

namespace footring::photo {

namespace {

bool counts(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; }

// Tesseract asks OpenMP for four threads for each layer of its net: on lines as short as ours they wait for each
// other more than they work. While one of these lives this thread's parallel regions run on it alone. The functions
// are looked up in what Tesseract brought along, so that a build of it without OpenMP does as well.
class OneThread {
  public:
    OneThread() {
        const auto get = reinterpret_cast<int (*)()>(dlsym(RTLD_DEFAULT, "omp_get_max_active_levels"));
        set_ = reinterpret_cast<void (*)(int)>(dlsym(RTLD_DEFAULT, "omp_set_max_active_levels"));
        if (get == nullptr || set_ == nullptr) set_ = nullptr;
        else before_ = get(), set_(0);
    }
    ~OneThread() {
        if (set_ != nullptr) set_(before_);
    }
    OneThread(const OneThread&) = delete;
    OneThread& operator=(const OneThread&) = delete;

  private:
    void (*set_)(int) = nullptr;
    int before_ = 0;
};

}  // namespace

std::string ReadLine::text() const {
    std::string out;
    for (const ReadChar& c : chars) out += c.letter;
    return out;
}
double ReadLine::confidence() const {
    double sum = 0;
    for (const ReadChar& c : chars)
        if (counts(c.letter)) sum += trust(c);
    return letters() > 0 ? sum / letters() : 0;
}
int ReadLine::letters() const {
    return static_cast<int>(std::ranges::count_if(chars, [](const ReadChar& c) { return counts(c.letter); }));
}

struct Ocr::Engine {
    tesseract::TessBaseAPI api;
};

Ocr::Ocr() = default;
Ocr::~Ocr() = default;

bool Ocr::ready() {
    if (tried_) return engine_ != nullptr;
    tried_ = true;
    auto engine = std::make_unique<Engine>();
    setMsgSeverity(L_SEVERITY_NONE);  // Leptonica and Tesseract write to standard error, which is not theirs
    engine->api.SetVariable("debug_file", "/dev/null");
    // Without its dictionaries: names of potteries are in none, and a word that was not read must not be put there.
    const std::vector<std::string> names = {"load_system_dawg", "load_freq_dawg", "load_punc_dawg",
                                            "load_number_dawg"};
    const std::vector<std::string> off(names.size(), "0");
    if (engine->api.Init(nullptr, "eng", tesseract::OEM_LSTM_ONLY, nullptr, 0, &names, &off, false) != 0)
        return false;
    engine->api.SetPageSegMode(tesseract::PSM_SINGLE_LINE);
    engine->api.SetVariable("tessedit_char_whitelist",
                            "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 &.,-'/()");
    engine_ = std::move(engine);
    return true;
}

ReadLine Ocr::line(const cv::Mat& gray) {
    ReadLine out;
    if (gray.empty() || !ready()) return out;
    ++passes_;
    const OneThread one_thread;
    tesseract::TessBaseAPI& api = engine_->api;
    api.SetImage(gray.data, gray.cols, gray.rows, 1, static_cast<int>(gray.step));
    api.SetSourceResolution(300);
    if (api.Recognize(nullptr) != 0) return out;
    const std::unique_ptr<tesseract::ResultIterator> at(api.GetIterator());
    if (!at) return out;
    do {
        const std::unique_ptr<const char[]> symbol(at->GetUTF8Text(tesseract::RIL_SYMBOL));
        if (!symbol || symbol[0] == '\0' || static_cast<unsigned char>(symbol[0]) >= 0x80) continue;
        int left = 0, top = 0, right = 0, bottom = 0;
        at->BoundingBox(tesseract::RIL_SYMBOL, &left, &top, &right, &bottom);
        if (!out.chars.empty() && at->IsAtBeginningOf(tesseract::RIL_WORD))
            out.chars.push_back({' ', 0, 0, out.chars.back().to, static_cast<double>(left)});
        out.chars.push_back({symbol[0], std::clamp(at->Confidence(tesseract::RIL_SYMBOL) / 100.0, 0.0, 1.0),
                             std::clamp(at->Confidence(tesseract::RIL_WORD) / 100.0, 0.0, 1.0),
                             static_cast<double>(left), static_cast<double>(right)});
    } while (at->Next(tesseract::RIL_SYMBOL));
    return out;
}

}  // namespace footring::photo
