// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>

#include "store/memory_store.h"
#include "store/place.h"
#include "store/test_companion.h"
#include "store/test_stores.h"

namespace footring::store {

Now test_clock() {
    const auto seconds = std::make_shared<std::atomic<int>>(0);
    return [seconds] {
        const int s = ++*seconds;
        return fmt::format("2026-03-01T{:02}:{:02}:{:02}Z", 9 + (s + 1800) / 3600, (s + 1800) / 60 % 60, s % 60);
    };
}

namespace {

// The clock starts after the migrations, which ask it too, so that every store tells the same times.
Now clock_after_migrations() {
    return [clock = test_clock(), asked = 0]() mutable {
        return asked++ == 0 ? std::string("2026-03-01T09:00:00Z") : clock();
    };
}

}  // namespace

namespace {

const std::string& cluster() {
    static const Companion server("cluster.py");  // started by the first test that needs one
    return server.line();
}

// As empty as a database, and made in a moment.
std::string new_schema() {
    static std::atomic<int> made = 0;
    const std::string name = fmt::format("scratch_{}", ++made);
    soci::session sql(soci::postgresql, cluster());
    sql << "CREATE SCHEMA " + name;
    return cluster() + "&options=-csearch_path%3D" + name;
}

}  // namespace

std::string new_database() {
    static std::atomic<int> made = 0;
    const std::string name = fmt::format("scratch_{}", ++made);
    soci::session sql(soci::postgresql, cluster());
    sql << "CREATE DATABASE " + name;
    std::string address = cluster();
    return address.replace(address.find("/postgres?"), 9, "/" + name);
}

std::unique_ptr<Scratch> sqlite_scratch() {
    auto scratch = std::make_unique<Scratch>();
    scratch->folder = std::make_unique<ScratchFolder>();
    scratch->store = must(open_sqlite(scratch->folder->path(), clock_after_migrations()));
    return scratch;
}

std::unique_ptr<Scratch> postgres_scratch() {
    auto scratch = std::make_unique<Scratch>();
    scratch->folder = std::make_unique<ScratchFolder>();
    scratch->store =
        must(open_store({scratch->folder->path(), new_schema(), "", "", ""}, clock_after_migrations()));
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
