// How long one piece takes: on the demo pack, and on 100,000 treatments. Imitates the Bench, where a FormView is
// made once for a form and every look entered asks again. SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>

#include <memory>

#include "book/pack.h"
#include "generated_book.h"
#include "naming/examine.h"

namespace {

using namespace footring;

struct Case {
    std::unique_ptr<book::Book> book;
    std::unique_ptr<naming::FormView> view;
    looks::Findings findings;
};

Case demo_case() {
    auto read = book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"});
    if (!read) std::abort();
    Case c;
    c.book = std::make_unique<book::Book>(std::move(*read));
    c.findings = bench::described_plate(*c.book, 40);
    c.view = std::make_unique<naming::FormView>(*c.book, c.findings.form, Settings{});
    return c;
}
Case generated_case(std::size_t treatments) {
    Case c;
    c.book = std::make_unique<book::Book>(bench::generated_book(treatments));
    c.findings = bench::described_plate(*c.book, static_cast<std::uint32_t>(treatments / 3));
    c.view = std::make_unique<naming::FormView>(*c.book, c.findings.form, Settings{});
    return c;
}
const Case& the_case(long treatments) {
    static const Case demo = demo_case(), large = generated_case(100'000);
    return treatments == 0 ? demo : large;
}

void odds(benchmark::State& state) {
    const Case& c = the_case(state.range(0));
    for (auto _ : state) benchmark::DoNotOptimize(naming::examine(*c.view, c.findings, {false, false, false}));
}
void whole_answer(benchmark::State& state) {
    const Case& c = the_case(state.range(0));
    for (auto _ : state) benchmark::DoNotOptimize(naming::examine(*c.view, c.findings));
}
void nothing_seen_yet(benchmark::State& state) {
    const Case& c = the_case(state.range(0));
    looks::Findings none;
    none.form = c.findings.form;
    for (auto _ : state) benchmark::DoNotOptimize(naming::examine(*c.view, none));
}
void lay_out_the_book(benchmark::State& state) {
    const Case& c = the_case(state.range(0));
    for (auto _ : state) benchmark::DoNotOptimize(naming::FormView(*c.book, c.findings.form, Settings{}));
}

}  // namespace

// The argument is the number of treatments; 0 is the demo pack.
BENCHMARK(odds)->Arg(0)->Arg(100'000)->Unit(benchmark::kMillisecond);
BENCHMARK(whole_answer)->Arg(0)->Arg(100'000)->Unit(benchmark::kMillisecond);
BENCHMARK(nothing_seen_yet)->Arg(0)->Arg(100'000)->Unit(benchmark::kMillisecond);
BENCHMARK(lay_out_the_book)->Arg(0)->Arg(100'000)->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
