// How long a long dossier takes from the Book and the store to the bytes of its PDF. Imitates the longest that the
// demo pack has, that of the gold line (126 treatments on eleven shapes, over 40 pages), with 60 photographs of 480
// px, as the store keeps them. SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "book/pack.h"
#include "papers/kinds.h"
#include "photo/thumbnail.h"
#include "store/memory_store.h"

namespace {

using namespace footring;
namespace fs = std::filesystem;

constexpr int kPhotographs = 60;

const book::Book& demo() {
    static const book::Book kBook = *book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"});
    return kBook;
}

std::unique_ptr<store::Store> cupboard() {
    std::set<fs::path> files;
    for (const auto& file : fs::directory_iterator(FOOTRING_ROOT "/demo/cupboard/photos"))
        if (file.path().extension() == ".jpg") files.insert(file.path());
    if (files.empty()) std::abort();
    std::vector<std::string> small;
    for (const fs::path& path : files) {
        std::ifstream file(path, std::ios::binary);
        const std::string bytes(std::istreambuf_iterator<char>(file), {});
        small.push_back(photo::thumbnail(bytes, 480, path.string()).value().jpeg);
    }
    auto store = store::open_in_memory([] { return std::string("2026-03-01T00:00:00Z"); });
    std::vector<std::string> decided;
    for (const book::Treatment& treatment : demo().treatments)
        if (demo()[treatment.shape].id == "harrow") decided.push_back("ambrel-valley:" + treatment.id);
    for (int i = 0; i < kPhotographs; ++i) {
        store::PieceRecord record;
        record.piece.id = fmt::format("p-{:04}", i + 1);
        record.piece.form = "dinner-plate";
        record.piece.looks.push_back({book::Place::kEdge, {"gold-line", looks::Sure::kSure}});
        record.decision =
            store::Decision{decided[static_cast<std::size_t>(i) % decided.size()], "first", "1931/1936", ""};
        if (!store->put(record, "")) std::abort();
        store::PhotoMeta meta;
        meta.piece = record.piece.id;
        meta.name = "front.jpg";
        meta.type = "image/jpeg";
        // Other bytes each time: the store keeps the same ones once.
        if (!store->add_photo(meta, fmt::format("photograph {}", i),
                              small[static_cast<std::size_t>(i) % small.size()]))
            std::abort();
    }
    return store;
}

void long_dossier(benchmark::State& state) {
    const auto store = cupboard();
    papers::Order order;
    order.kind = "dossier";
    order.of = "ornament:gold-line";
    order.date = "2026-03-01";
    const Settings settings;
    std::size_t bytes = 0, pages = 0;
    for (auto _ : state) {
        const auto made = papers::made(order, {demo(), settings, store.get()});
        if (!made) std::abort();
        bytes = made->bytes.size();
        pages = 0;
        constexpr std::string_view kPage = "/Type /Page";  // not /Pages, which is the list of them
        for (std::size_t at = 0; (at = made->bytes.find(kPage, at)) != std::string::npos; ++at)
            pages += made->bytes[at + kPage.size()] == 's' ? 0 : 1;
    }
    state.counters["bytes"] = static_cast<double>(bytes);
    state.counters["pages"] = static_cast<double>(pages);
}
BENCHMARK(long_dossier)->Unit(benchmark::kMillisecond)->Iterations(3);

}  // namespace

BENCHMARK_MAIN();
