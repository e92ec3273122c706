// How long dating takes: one piece from everything that is known of it (what a page asks for at each look), a
// chronology of 5,000 bars as JSON (what the page Years asks for), every smallest contradiction among 500
// statements, and reading dates, a million a run, from the file that FOOTRING_BENCH_DATES names (one a line;
// bench/edtf_peer.mjs reads the same). SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "book/pack.h"
#include "book/pack_text.h"
#include "dating/chronology.h"
#include "dating/clue_statements.h"
#include "dating/contradictions.h"
#include "dating/piece_years.h"
#include "edtf/edtf.h"
#include "looks/piece.h"
#include "naming/examine.h"

namespace {

using namespace footring;

const book::Book& demo() {
    static const book::Book book = [] {
        auto read = book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley", FOOTRING_ROOT "/packs/law-and-marks"});
        if (!read) std::abort();
        return std::move(*read);
    }();
    return book;
}

// Shape, glaze, rim, mark, number and wording: the odds are taken too, for a date leans on them.
void full_date(benchmark::State& state) {
    std::vector<std::string> notes;
    const auto piece = looks::piece_from_json(
        std::string_view(R"({"id":"p","form":"dinner-plate","shape":{"value":"harrow"},"glaze":{"value":"oat"},
            "looks":[{"place":"rim","value":"fern-pair"},{"place":"edge","value":"none"}],"wear":"light",
            "number":{"value":"143","sure":"likely"},"faults":"few"})"),
        "piece", notes);
    const Settings settings;
    const auto findings = looks::resolve(*piece, demo(), settings, "piece");
    if (!findings) std::abort();
    const naming::FormView view(demo(), findings->form, settings);
    const dating::ClueFinder finder(demo());
    for (auto _ : state) {
        const auto answer = naming::examine(view, *findings, {false, false, false});
        const auto further = dating::clue_statements(finder, {{"MADE IN ENGLAND", "the wording given", 1}},
                                                     dating::range_of(view), true, settings);
        auto dated = dating::date_piece(view, *findings, answer, *further);
        if (!dated) std::abort();
        benchmark::DoNotOptimize(dated);
    }
}

void years_of_5000_bars(benchmark::State& state) {
    std::string shapes = "id,maker,years\n", treatments = "id,shape,number,years\n",
                rows = "treatment,place,ornament,on\n";
    for (int s = 0; s < 20; ++s) shapes += fmt::format("s{},m,{}/{}\n", s, 1900 + s, 1940 + s);
    for (int t = 0; t < 5000; ++t) {
        const std::string years = t / 20 % 2 == 0 ? fmt::format("{}/1940", 1900 + t % 20 + t / 250) : "";
        treatments += fmt::format("t{},s{},{},{}\n", t, t % 20, t / 20, years);
        rows += fmt::format("t{},rim,fern,*\n", t);
    }
    const book::Book book = book::book_from_tables({{"makers", "id,years\nm,1890/1970\n"},
                                                    {"shapes", shapes},
                                                    {"ornaments", "id,kind,finish\nfern,stamp,gold\n"},
                                                    {"treatments", treatments},
                                                    {"treatment_ornaments", rows}});
    const auto of = *dating::chronology_of(book, "ornament:fern", "of");
    for (auto _ : state) {
        const auto made = dating::chronology(book, of, {}, Settings{});
        benchmark::DoNotOptimize(dating::chronology_json(book, made).dump());
    }
}

// 500 plain periods over 120 years, of which many exclude each other.
void contradictions_of_500(benchmark::State& state) {
    std::vector<std::vector<bool>> allowed;
    for (int i = 0; i < 500; ++i) {
        std::vector<bool> row(120, false);
        const int first = (i * 37) % 70, length = 40 + (i * 13) % 30;
        for (int y = first; y < std::min(120, first + length); ++y) row[static_cast<std::size_t>(y)] = true;
        allowed.push_back(std::move(row));
    }
    for (auto _ : state) {
        const auto found = dating::contradictions(allowed);
        state.counters["sets"] = static_cast<double>(found.smallest.size());
        benchmark::DoNotOptimize(found);
    }
}

void parse_dates(benchmark::State& state) {
    const char* path = std::getenv("FOOTRING_BENCH_DATES");
    std::vector<std::string> dates;
    std::ifstream in(path == nullptr ? "" : path);
    for (std::string line; std::getline(in, line);) dates.push_back(line);
    if (dates.empty()) {
        state.SkipWithError("FOOTRING_BENCH_DATES names no file of dates");
        return;
    }
    std::size_t read = 0;
    for (auto _ : state) {
        for (const std::string& date : dates) {
            auto parsed = edtf::parse(date);
            if (!parsed) std::abort();
            benchmark::DoNotOptimize(parsed);
        }
        read += dates.size();
    }
    state.counters["dates_per_second"] = benchmark::Counter(static_cast<double>(read), benchmark::Counter::kIsRate);
}

}  // namespace

BENCHMARK(full_date)->Unit(benchmark::kMillisecond);
BENCHMARK(years_of_5000_bars)->Unit(benchmark::kMillisecond);
BENCHMARK(contradictions_of_500)->Unit(benchmark::kMillisecond);
BENCHMARK(parse_dates)->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
