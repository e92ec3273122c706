// How long it takes to find an ornament: among 100,000 drawings by the graph, beside FAISS comparing all of them
// (IndexFlatL2) with the same numbers in the same run; and among the demo pack's drawings, whole.
//   Imitates a reference of many suppliers' pattern books: some thousand drawings made at random, each in many
//   variants (stretched, mirrored, its upper half joined to another's lower half), as patterns of one taste
//   resemble each other. A query is one of them as a photograph shows it: worn, softened, stretched.
// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>
#include <faiss/IndexFlat.h>
#include <omp.h>

#include <algorithm>
#include <memory>

#include "book/pack.h"
#include "photo/index_numbers.h"
#include "photo/ornaments.h"
#include "photo/test_strips.h"

namespace {
using namespace footring;
using namespace footring::photo;
constexpr std::size_t kDrawings = 100000, kDrawn = 1500, kQueries = 200, kAsked = 100;

cv::Mat stretched(const cv::Mat& tile, double by, double move) {
    cv::Mat out;
    const cv::Mat map = (cv::Mat_<double>(2, 3) << 1, 0, 0, 0, by, (1 - by) * tile.rows / 2 + move * tile.rows);
    cv::warpAffine(tile, out, map, tile.size());
    return out;
}
cv::Mat variant(const std::vector<cv::Mat>& drawn, testing::Random& random) {
    cv::Mat out = drawn[random() % drawn.size()].clone();
    const cv::Mat& other = drawn[random() % drawn.size()];
    if (random() % 2) other.rowRange(out.rows / 2, out.rows).copyTo(out.rowRange(out.rows / 2, out.rows));
    else out = cv::max(out, stretched(other, 0.5, testing::between(random, -0.2, 0.2)));
    if (random() % 2) cv::flip(out, out, 1);
    return stretched(out, testing::between(random, 0.85, 1.15), 0);
}

struct Many {
    std::vector<float> stored, queries;
    std::unique_ptr<OrnamentIndex> graph;
    std::unique_ptr<faiss::IndexFlatL2> flat;
    double recall = 0;
};
const Many& many() {
    static const Many made = [] {
        Many out;
        testing::Random random(1);
        std::vector<cv::Mat> drawn;
        for (const auto& o : testing::random_book(kDrawn, 0, 3).ornaments)
            if (auto pixels = pixels_of(o, {128, 40})) drawn.push_back(pixels->ink);
        const auto add = [](std::vector<float>& to, const cv::Mat& tile) {
            const auto numbers = index_numbers(tile);
            to.insert(to.end(), numbers.begin(), numbers.end());
        };
        for (std::size_t i = 0; i < kDrawings; ++i) {
            const cv::Mat tile = variant(drawn, random);
            add(out.stored, tile);
            if (i % (kDrawings / kQueries)) continue;
            cv::Mat seen =
                stretched(tile, testing::between(random, 0.93, 1.07), testing::between(random, -0.03, 0.03));
            seen = seen.mul(testing::worn_mask(seen, 0.3, 4, random));
            cv::GaussianBlur(seen, seen, {}, 1);
            add(out.queries, seen);
        }
        omp_set_num_threads(1);
        out.flat = std::make_unique<faiss::IndexFlatL2>(static_cast<int>(kDescriptorSize));
        out.flat->add(static_cast<faiss::Index::idx_t>(kDrawings), out.stored.data());
        out.graph = std::make_unique<OrnamentIndex>(out.stored, kExactUpTo);
        std::vector<float> distance(kAsked);
        std::vector<faiss::Index::idx_t> truth(kAsked);
        std::size_t hit = 0;
        for (std::size_t q = 0; q < kQueries; ++q) {
            const float* query = out.queries.data() + q * kDescriptorSize;
            out.flat->search(1, query, kAsked, distance.data(), truth.data());
            for (const auto at : out.graph->nearest(query, kAsked))
                hit += std::ranges::count(truth, at) > 0 ? 1u : 0u;
        }
        out.recall = static_cast<double>(hit) / (kQueries * kAsked);
        return out;
    }();
    return made;
}

void search_graph(benchmark::State& state) {
    const Many& m = many();
    std::size_t q = 0;
    for (auto _ : state)
        benchmark::DoNotOptimize(m.graph->nearest(m.queries.data() + (q++ % kQueries) * kDescriptorSize, kAsked));
    state.counters["recall"] = m.recall;
}
void search_flat_faiss(benchmark::State& state) {
    const Many& m = many();
    std::vector<float> distance(kAsked);
    std::vector<faiss::Index::idx_t> found(kAsked);
    std::size_t q = 0;
    for (auto _ : state) {
        m.flat->search(1, m.queries.data() + (q++ % kQueries) * kDescriptorSize, kAsked, distance.data(),
                       found.data());
        benchmark::DoNotOptimize(found.data());
    }
}

struct Demo {
    book::Book book = book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"}).value();
    Ornaments ornaments{book};
    Repeat border;
    Ink centre;
    Demo() {
        testing::Random random(5);
        for (const auto& o : book.ornaments) {
            if (o.id == "fern-pair") border = testing::laid_border(o, random, {0.3}).seen;
            if (o.id == "urn-medallion") centre = testing::laid_centre(o, random, {0.3}).seen;
        }
    }
};
const Demo& demo() {
    static const Demo made;
    return made;
}
void match_border(benchmark::State& state) {
    const Demo& d = demo();
    for (auto _ : state) benchmark::DoNotOptimize(d.ornaments.border(d.border));
}
void match_centre(benchmark::State& state) {
    const Demo& d = demo();
    for (auto _ : state) benchmark::DoNotOptimize(d.ornaments.centre(d.centre));
}
void prepare_drawings(benchmark::State& state) {
    const Demo& d = demo();
    for (auto _ : state) benchmark::DoNotOptimize(Ornaments(d.book).notes().size());
}

BENCHMARK(search_graph)->Unit(benchmark::kMillisecond);
BENCHMARK(search_flat_faiss)->Unit(benchmark::kMillisecond);
BENCHMARK(match_border)->Unit(benchmark::kMillisecond);
BENCHMARK(match_centre)->Unit(benchmark::kMillisecond);
BENCHMARK(prepare_drawings)->Unit(benchmark::kMillisecond);
}  // namespace

BENCHMARK_MAIN();
