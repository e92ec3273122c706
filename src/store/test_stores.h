// store/test_stores.h - stores for tests: empty, in a place of their own, with a clock that adds a second per
// question. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <gtest/gtest.h>

#include <atomic>
#include <filesystem>
#include <memory>
#include <string>

#include "store/store.h"

namespace footring::store {

// The value, or a failed test that says the Problem.
template <class T>
T must(Expected<T> answer) {
    if (!answer) throw std::runtime_error(to_line(answer.error()));
    return std::move(*answer);
}
inline void must(Expected<void> answer) {
    if (!answer) throw std::runtime_error(to_line(answer.error()));
}

class ScratchFolder {
  public:
    ScratchFolder() {
        std::string name = (std::filesystem::temp_directory_path() / "footring \"store\" = XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        path_ = name;
    }
    ~ScratchFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

// 2026-03-01T09:30:01Z, 09:30:02Z ...
Now test_clock();

struct Scratch {
    std::unique_ptr<ScratchFolder> folder;  // absent when nothing is on disk
    std::unique_ptr<Store> store;           // closed before its folder goes
};
struct TestStore {
    const char* name;
    std::unique_ptr<Scratch> (*open)();
};
inline void PrintTo(const TestStore& store, std::ostream* out) { *out << store.name; }

std::unique_ptr<Scratch> sqlite_scratch();
std::unique_ptr<Scratch> memory_scratch();
std::unique_ptr<Scratch> postgres_scratch();
// The address of a new, empty database on a server that the tests share and that ends with them (tests/cluster.py).
std::string new_database();

// To add a store: a line here, and the whole contract runs on it.
inline std::vector<TestStore> every_store() {
    return {{"Sqlite", &sqlite_scratch}, {"Memory", &memory_scratch}, {"Postgres", &postgres_scratch}};
}
inline std::string name_of_store(const testing::TestParamInfo<TestStore>& each) { return each.param.name; }

PieceRecord plate();  // p-0041: a plate of shape harrow, glaze oat, rim fern-pair, number 1?7

class OnEveryStore : public testing::TestWithParam<TestStore> {
  protected:
    void SetUp() override {
        scratch_ = GetParam().open();
        ASSERT_NE(scratch_, nullptr);
    }
    Store& store() { return *scratch_->store; }

    std::vector<std::string> found(const std::string& text) {
        Query q;
        q.text = text;
        return found(q);
    }
    std::vector<std::string> found(Query q) {
        if (q.sort == Query::Sort::kChanged) q.sort = Query::Sort::kId, q.descending = false;
        return ids(q);
    }
    std::vector<std::string> ids(const Query& q) {
        std::vector<std::string> out;
        const Page page = must(store().find(q));
        for (const PieceRecord& r : page.rows) out.push_back(r.piece.id);
        EXPECT_GE(page.total, static_cast<std::int64_t>(out.size()));
        return out;
    }
    std::vector<std::string> sentences(const std::string& entity, const std::string& key) {
        std::vector<std::string> out;
        for (const Change& c : must(store().history(entity, key))) out.push_back(c.what);
        return out;
    }
    Lot lot(const std::string& id, const std::string& name) {
        Lot l;
        l.id = id;
        l.name = name;
        return must(store().put(l, ""));
    }
    PhotoMeta photo(const std::string& piece, const std::string& name, const std::string& bytes) {
        PhotoMeta meta;
        meta.piece = piece;
        meta.name = name;
        meta.type = "image/jpeg";
        meta.width = 4;
        meta.height = 3;
        return must(store().add_photo(meta, bytes, "small " + bytes));
    }

  private:
    std::unique_ptr<Scratch> scratch_;
};

}  // namespace footring::store
