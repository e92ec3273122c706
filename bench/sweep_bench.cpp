// usage: sweep_bench FOLDER [PIECES]
// Re-examines PIECES (1,000,000) generated pieces against 1,000 treatments on one core, in the reduced problem that
// naive Bayes solves too: eight places, sixteen values each (none included), no wear, no open hypotheses. Writes
// FOLDER/problem.bin (the truths and the looks, one byte each) and FOLDER/odds.txt (the odds of the first 2,000
// pieces), so that bench/sweep_peer.py solves the same problem and compares.
// SPDX-License-Identifier: Apache-2.0
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <random>
#include <string>

#include "book/book.h"
#include "naming/sweep.h"

using namespace footring;
using book::Place;
using book::Ref;

namespace {
constexpr std::size_t kTreatments = 1000, kPlaces = 8, kValues = 16, kCompared = 2000;
constexpr unsigned kNoneValue = kValues - 1;
}  // namespace

int main(int argc, char** argv) {
    if (argc < 2) return std::fputs("usage: sweep_bench FOLDER [PIECES]\n", stderr), 2;
    const std::string folder = argv[1];
    const std::size_t count = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1'000'000;
    std::mt19937 random(2);

    book::Book b;
    b.packs.push_back({"generated", "Generated", "1", "", "", "", {}});
    b.shapes.push_back({});
    b.shapes.back().id = "shape";
    book::Form plate;
    plate.id = "plate";
    b.forms.push_back(plate);
    for (unsigned v = 0; v < kNoneValue; ++v) {
        book::Ornament o;
        o.id = "ornament-" + std::to_string(v);
        o.finish = "cobalt";
        o.kind = book::OrnamentKind::kStamp;
        b.ornaments.push_back(std::move(o));
    }
    std::vector<unsigned char> truth(kTreatments * kPlaces);
    for (std::uint32_t t = 0; t < kTreatments; ++t) {
        b.treatments.push_back({"t-" + std::to_string(t),
                                Ref<book::Shape>{0},
                                {},
                                std::to_string(t),
                                "",
                                book::Grade::kAny,
                                {},
                                "",
                                "",
                                {},
                                {}});
        for (std::size_t p = 0; p < kPlaces; ++p) {
            // A third of the places bare; the first treatments carry each value somewhere, so that all are known.
            const unsigned v = t < kNoneValue ? t : random() % 3 == 0 ? kNoneValue : random() % kNoneValue;
            truth[t * kPlaces + p] = static_cast<unsigned char>(v);
            if (v != kNoneValue)
                b.treatment_ornaments.push_back(
                    {Ref<book::Treatment>{t}, static_cast<Place>(p), Ref<book::Ornament>{v}, {}, 1.0, {}, {}});
        }
    }
    b.index();

    std::vector<unsigned char> seen(count * kPlaces);
    std::vector<looks::Findings> pieces(count);
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t t = random() % kTreatments;
        looks::Findings& f = pieces[i];
        f.form = Ref<book::Form>{0};
        f.wear = looks::Wear::kNone;
        f.ornaments.resize(kPlaces);
        for (std::size_t p = 0; p < kPlaces; ++p) {
            unsigned v = truth[t * kPlaces + p];
            if (random() % 20 == 0) v = random() % kValues;  // one look in twenty is a slip
            seen[i * kPlaces + p] = static_cast<unsigned char>(v);
            auto& look = f.ornaments[p];
            look.place = static_cast<Place>(p);
            look.sure = .98;
            if (v == kNoneValue) look.value = looks::Absent{};
            else look.value = Ref<book::Ornament>{v};
        }
    }
    Settings s;
    s.open_prior = 0;
    s.bare_share = 1;
    const naming::FormView view(b, Ref<book::Form>{0}, s);

    std::vector<naming::Odds> first(std::min(count, kCompared));
    std::size_t shown = 0;
    const auto began = std::chrono::steady_clock::now();
    naming::sweep(view, pieces, [&](std::size_t i, const naming::Odds& odds) {
        shown += odds.treatments.size();
        if (i < first.size()) first[i] = odds;
    });
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();

    std::ofstream problem(folder + "/problem.bin", std::ios::binary);
    problem.write(reinterpret_cast<const char*>(truth.data()), static_cast<std::streamsize>(truth.size()));
    problem.write(reinterpret_cast<const char*>(seen.data()), static_cast<std::streamsize>(seen.size()));
    std::ofstream odds(folder + "/odds.txt");
    odds.precision(17);
    for (std::size_t i = 0; i < first.size(); ++i)
        for (const auto& [t, p] : first[i].treatments) odds << i << ' ' << t.at << ' ' << p << '\n';
    std::printf("{\"pieces\": %zu, \"seconds\": %.4f, \"pieces_per_second\": %.0f, \"candidates_a_piece\": %.2f}\n",
                count, seconds, static_cast<double>(count) / seconds,
                static_cast<double>(shown) / static_cast<double>(count));
}
