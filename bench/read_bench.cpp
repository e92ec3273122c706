// How long a 12-megapixel photograph takes to read whole, beside decoding its JPEG with libjpeg-turbo in the same
// run. Imitates a phone's photograph: one of the demo's, enlarged to 4000 x 3000 and saved at quality 92.
// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>
#include <turbojpeg.h>

#include <cstdlib>
#include <filesystem>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vector>

#include "book/pack.h"
#include "photo/read.h"

namespace {

using namespace footring;

std::string enlarged() {
    // The first photograph of the demo, by name, that lies flat and has a card.
    const char* name = std::getenv("FOOTRING_BENCH_PHOTO");
    if (name == nullptr) std::abort();
    const cv::Mat small = cv::imread(name, cv::IMREAD_COLOR);
    if (small.empty()) std::abort();
    cv::Mat large;
    const bool upright = small.rows > small.cols;
    cv::resize(small, large, upright ? cv::Size(3000, 4000) : cv::Size(4000, 3000), 0, 0, cv::INTER_CUBIC);
    // Enlarging smooths the noise of the sensor away, without which a JPEG is small and quick to decode.
    cv::Mat noise(large.size(), CV_16SC3);
    cv::RNG(12).fill(noise, cv::RNG::NORMAL, 0, 4);
    cv::add(large, noise, large, cv::noArray(), CV_8U);
    std::vector<uchar> bytes;
    cv::imencode(".jpg", large, bytes, {cv::IMWRITE_JPEG_QUALITY, 92});
    return {bytes.begin(), bytes.end()};
}
const std::string& photograph() {
    static const std::string kBytes = enlarged();
    return kBytes;
}
const photo::Library& library() {
    static const book::Book kBook = *book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"});
    static const photo::Library kLibrary(kBook);
    return kLibrary;
}

void decode_jpeg(benchmark::State& state) {
    const std::string& bytes = photograph();
    const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());
    tjhandle handle = tjInitDecompress();
    for (auto _ : state) {
        int width = 0, height = 0, sampling = 0, space = 0;
        tjDecompressHeader3(handle, data, bytes.size(), &width, &height, &sampling, &space);
        std::vector<unsigned char> pixels(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
        tjDecompress2(handle, data, bytes.size(), pixels.data(), width, 0, height, TJPF_BGR, 0);
        benchmark::DoNotOptimize(pixels.data());
    }
    tjDestroy(handle);
}
void read_whole(benchmark::State& state) {
    const std::string& bytes = photograph();
    library();
    for (auto _ : state) {
        auto reading = photo::read(bytes, "photograph", library(), {});
        if (!reading || reading->outline.kind == photo::OutlineKind::kNone) std::abort();
        benchmark::DoNotOptimize(reading);
    }
}
void prepare_library(benchmark::State& state) {
    static const book::Book kBook = *book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"});
    for (auto _ : state) benchmark::DoNotOptimize(photo::Library(kBook).notes().size());
}

}  // namespace

BENCHMARK(decode_jpeg)->Unit(benchmark::kMillisecond)->MinTime(2);
BENCHMARK(read_whole)->Unit(benchmark::kMillisecond)->MinTime(5)->UseRealTime();
BENCHMARK(prepare_library)->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
