// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "store/memory_store.h"
#include "store/test_stores.h"

namespace footring::store {

Now test_clock() {
    const auto seconds = std::make_shared<std::atomic<int>>(0);
    return [seconds] {
        const int s = ++*seconds;
        return fmt::format("2026-03-01T{:02}:{:02}:{:02}Z", 9 + (s + 1800) / 3600, (s + 1800) / 60 % 60, s % 60);
    };
}

std::unique_ptr<Scratch> sqlite_scratch() {
    auto scratch = std::make_unique<Scratch>();
    scratch->folder = std::make_unique<ScratchFolder>();
    int asked = 0;
    // The clock starts after the migrations, which ask it too, so that every store tells the same times.
    scratch->store = must(open_sqlite(scratch->folder->path(), [clock = test_clock(), asked]() mutable {
        return asked++ == 0 ? std::string("2026-03-01T09:00:00Z") : clock();
    }));
    return scratch;
}

std::unique_ptr<Scratch> memory_scratch() {
    auto scratch = std::make_unique<Scratch>();
    scratch->store = open_in_memory(test_clock());
    return scratch;
}

PieceRecord plate() {
    PieceRecord r;
    r.piece.id = "p-0041";
    r.piece.form = "plate";
    r.piece.shape = looks::Seen{"harrow", looks::Sure::kLikely};
    r.piece.glaze = looks::Seen{"oat", looks::Sure::kSure};
    r.piece.looks = {{book::Place::kRim, {"fern-pair", looks::Sure::kSure}},
                     {book::Place::kCentre, {"something", looks::Sure::kGuess}}};
    r.piece.number = looks::Seen{"1?7", looks::Sure::kSure};
    return r;
}

}  // namespace footring::store
