// The power goes at any moment, the disk refuses any call: what was returned is there, nothing is half there.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/disk.h"
#include "store/folder_blobs.h"
#include "store/memory_store.h"
#include "store/people.h"
#include "store/record_store.h"
#include "store/sha256.h"
#include "store/sqlite_dialect.h"
#include "store/sqlite_file.h"
#include "store/test_fixtures.h"
#include "store/test_power.h"

namespace footring::store {
namespace {

namespace fs = std::filesystem;

using Step = std::function<Expected<void>(Store&)>;

template <class T>
Expected<void> done(const Expected<T>& answer) {
    if (!answer) return std::unexpected(answer.error());
    return {};
}
PieceRecord piece(const std::string& id, const std::string& note) {
    PieceRecord r;
    r.piece.id = id;
    r.note = note;
    return r;
}
Step photograph(const std::string& to, const std::string& bytes) {
    return [=](Store& s) {
        PhotoMeta meta;
        meta.piece = to;
        meta.name = "a.jpg";
        return done(s.add_photo(meta, bytes, "small " + bytes));
    };
}
Step noted(const std::string& id, const std::string& note) {
    return [=](Store& s) -> Expected<void> {
        auto r = s.piece(id);
        if (!r) return std::unexpected(r.error());
        r->note = note;
        return done(s.put(*r, ""));
    };
}
// Every kind of write; each can be repeated after it failed.
std::vector<Step> steps() {
    return {[](Store& s) { return done(s.put(piece("p-1", "first"), "")); },
            [](Store& s) {
                return done(s.put_all(std::vector{piece("p-2", std::string(3000, 'a')), piece("p-3", "pair")}, ""));
            },
            photograph("p-1", std::string(70'000, 'p')), noted("p-2", "changed"),
            [](Store& s) {
                return done(s.put_all(std::vector<Record>{{"sale", "sale-1", {{"price", 3}}, "", "", 0},
                                                          {"letter", "letter-1", {{"asked", "?"}}, "", "", 0}},
                                      ""));
            },
            photograph("p-2", "other bytes"),
            [](Store& s) {
                return s.remove({"p-1", "p-3"}, "");
            },
            [](Store& s) -> Expected<void> {
                const auto last = s.last_undoable();
                return last ? done(s.undo(last->value())) : done(last);
            },
            [](Store& s) {
                Reading reading;
                reading.sha256 = sha256_of("other bytes");
                reading.found = {{"notes", {"read"}}};
                reading.packs = "demo@1";
                return done(s.put_reading(reading, {{"strip", "ribbon"}}));
            },
            noted("p-3", "last"),
            // Who may come in.
            [](Store& s) {
                return done(s.people().add({"ada", Role::kKeeper, "one digest", "", ""}));
            },
            [](Store& s) {
                return done(s.people().add({"cleo", Role::kReader, "another", "", ""}));
            },
            [](Store& s) {
                return s.people().begin({"token", "cleo", "2026-03-01T09:00:00Z", "2026-03-01T09:00:00Z",
                                         "2036-01-01T00:00:00Z", "10.0.0.9"});
            },
            [](Store& s) { return done(s.people().set_role("cleo", Role::kContributor)); },
            [](Store& s) { return done(s.people().set_secret("cleo", "a third", "")); },
            [](Store& s) { return s.people().remove("cleo"); },
            [](Store& s) {
                PieceRecord r = piece("p-4", "signed");
                return done(s.signed_by("ada")->put(r, ""));
            }};
}

// What is there, as one text, and whole: every photograph has its bytes, every reading its picture.
std::string state_of(const Store& store) {
    std::string out;
    Query all;
    all.sort = Query::Sort::kId;
    all.descending = false;
    for (const PieceRecord& r : must(store.find(all)).rows) {
        out += fmt::format("{} {}\n", r.piece.id, r.note.substr(0, 20));
        for (const std::string& photo : r.photos) {
            out += fmt::format("  {} {} {}\n", photo, must(store.photo_bytes(photo)).size(),
                               must(store.thumbnail(photo)).size());
            if (store.reading(photo)) out += "  " + must(store.reading_picture(photo, "strip")) + "\n";
        }
        out += fmt::format("  {}\n", must(store.history("piece", r.piece.id)).front().what.substr(0, 40));
    }
    for (const char* kind : {"sale", "letter"})
        for (const Record& r : must(store.records(kind))) out += fmt::format("{} {}\n", r.id, r.body.dump());
    People& people = const_cast<Store&>(store).people();  // nothing is changed
    for (const Account& a : must(people.accounts())) {
        out += fmt::format("{} {} {}\n", a.name, name_of(a.role), a.secret);
        for (const Session& each : must(people.sessions(a.name))) out += fmt::format("  {}\n", each.digest);
    }
    for (const Noted& row : must(people.noted({})))
        out += fmt::format("{} {} {}\n", row.who, row.what, row.subject);
    return out;
}
// After 0, 1, 2 ... steps, as a store without any disk has them.
std::vector<std::string> states() {
    const auto store = open_in_memory(test_clock());
    std::vector<std::string> out = {state_of(*store)};
    for (const Step& step : steps()) {
        must(step(*store));
        out.push_back(state_of(*store));
    }
    return out;
}

class OnAFailingDisk : public testing::Test {
  protected:
    fs::path dir() const { return scratch_.path() / "data"; }
    // As open_sqlite() does it, on the disk that fails.
    Expected<std::unique_ptr<Store>> open(Power& power) {
        if (auto ok = prepare_sqlite(dir() / "footring.db", now_); !ok) return std::unexpected(ok.error());
        auto blobs = open_folder_blobs(dir(), power.disk());
        if (!blobs) return std::unexpected(blobs.error());
        return make_store(make_sql_tables(make_sqlite_dialect(dir() / "footring.db"), 1), std::move(*blobs), now_);
    }
    // Opened without help after the power went now: what is there then.
    std::string after_a_power_cut(const Power& power) {
        const fs::path to = scratch_.path() / fmt::format("cut-{}", ++cuts_);
        power.pour(to, chance_);
        std::string told;
        try {  // nothing may be thrown through SQLite, which is under way below
            const auto store = open_sqlite(to, now_);
            told = store ? state_of(**store) : "it does not open: " + to_line(store.error());
        } catch (const std::exception& missing) {
            told = missing.what();
        }
        fs::remove_all(to);
        return told;
    }

    ScratchFolder scratch_;
    Now now_ = test_clock();
    std::mt19937 chance_{20261125};
    int cuts_ = 0;
};

constexpr int kEveryCall = 7;  // of some hundred calls; a prime, so that all kinds of them have their turn

TEST_F(OnAFailingDisk, APhotographIsNeverThereWithoutItsSmallPicture) {
    fs::create_directories(dir());
    Power power(dir());
    const auto blobs = must(open_folder_blobs(dir(), power.disk()));
    const std::string name = sha256_of("a photograph");
    int alone = 0, together = 0;
    power.after = [&] {
        if (blobs->has(name)) ++(blobs->thumbnail(name) ? together : alone);
    };
    must(blobs->keep(name, "a photograph", "small"));
    EXPECT_EQ(alone, 0);
    EXPECT_GT(together, 0);
}

TEST_F(OnAFailingDisk, APowerCutLosesNothingThatWasReturnedAndLeavesNothingHalf) {
    const std::vector<std::string> expected = states();
    const std::vector<Step> all = steps();
    fs::create_directories(dir());
    Power power(dir());
    const auto store = must(open(power));
    std::size_t returned = 0;
    power.after = [&] {
        if (power.calls() % kEveryCall != 0) return;
        const std::string found = after_a_power_cut(power);
        const std::size_t under_way = std::min(returned + 1, all.size());
        EXPECT_THAT(found, testing::AnyOf(expected[returned], expected[under_way])) << "in step " << under_way;
    };
    for (const Step& step : all) {
        must(step(*store));
        ++returned;
        for (int i = 0; i < 3; ++i)  // nothing is under way now, so that nothing may be missing
            EXPECT_EQ(after_a_power_cut(power), expected[returned]) << "after step " << returned;
    }
    EXPECT_GT(cuts_, 60);
}

TEST_F(OnAFailingDisk, APowerCutWhileTheTablesComeForwardLeavesThemBeforeOrAfter) {
    fs::create_directories(dir());
    {
        auto db = must(SqliteFile::make(dir() / "footring.db"));
        must(db.run("BEGIN;" + must(read_file(fs::path(FOOTRING_ROOT) / "src/store/test_data/schema_1.sql")) +
                    "COMMIT"));
    }
    {
        const auto blobs = must(open_folder_blobs(dir()));
        for (const std::string_view bytes : {kFixtureFront, kFixtureBack})
            must(blobs->keep(sha256_of(bytes), bytes, "small"));
    }
    Power power(dir());
    power.adopt();
    std::vector<std::string> found;
    power.after = [&] {
        if (power.calls() % kEveryCall == 0) found.push_back(after_a_power_cut(power));
    };
    const std::string expected = state_of(*must(open(power)));
    EXPECT_GT(found.size(), 5u);
    EXPECT_THAT(found, testing::Each(expected));
}

class AtEveryCall : public OnAFailingDisk, public testing::WithParamInterface<Power::Fault> {};

TEST_P(AtEveryCall, ARefusalStoresNothingOfThatWriteAndTheNextOneSucceeds) {
    const std::vector<std::string> expected = states();
    const std::vector<Step> all = steps();
    fs::create_directories(dir());
    Power power(dir());
    auto store = must(open(power));
    int refusals = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (int call = 1;; ++call) {
            power.fail_at(call, GetParam());
            const Expected<void> answer = all[i](*store);
            const bool failed = power.failed();
            power.fail_at(0, GetParam());
            if (answer) {  // there are no more calls, or one that was not needed was refused
                EXPECT_EQ(state_of(*store), expected[i + 1]) << "step " << i << ", call " << call;
                break;
            }
            ++refusals;
            EXPECT_TRUE(failed) << to_line(answer.error());
            EXPECT_EQ(answer.error().code, ProblemCode::kStore) << to_line(answer.error());
            if (GetParam() == Power::Fault::kFull) {
                EXPECT_THAT(answer.error().what, testing::StartsWith("the disk is full"));
            }
            if (GetParam() == Power::Fault::kReadOnly) {
                EXPECT_THAT(answer.error().what, testing::HasSubstr("may not be written"));
            }
            ASSERT_EQ(state_of(*store), expected[i]) << "step " << i << ", call " << call;
        }
    }
    EXPECT_GT(refusals, 40);
    store.reset();
    EXPECT_EQ(state_of(*must(open(power))), expected.back());
}

TEST_P(AtEveryCall, ARefusalWhileOpeningIsToldAndTheNextOpeningSucceeds) {
    int refusals = 0;
    for (int call = 1;; call += 3) {
        fs::remove_all(dir());
        fs::create_directories(dir());
        Power power(dir());
        power.fail_at(call, GetParam());
        {
            const auto store = open(power);
            if (!power.failed()) break;
            if (!store) {
                ++refusals;
                EXPECT_EQ(store.error().code, ProblemCode::kStore) << to_line(store.error());
            }
        }
        power.fail_at(0, GetParam());
        auto store = must(open(power));
        must(store->put(piece("p-1", "first"), ""));
    }
    EXPECT_GT(refusals, 5);
}

INSTANTIATE_TEST_SUITE_P(Disk, AtEveryCall,
                         testing::Values(Power::Fault::kFull, Power::Fault::kBroken, Power::Fault::kReadOnly),
                         [](const auto& each) {
                             return each.param == Power::Fault::kFull     ? "Full"
                                    : each.param == Power::Fault::kBroken ? "Broken"
                                                                          : "ReadOnly";
                         });

// --- the clock

TEST(AClockThatIsSetBack, ChangesNeitherTheOrderOfTheHistoryNorWhatCanBeUndone) {
    ScratchFolder scratch;
    std::string moment = "2026-03-01T09:30:00Z";
    const auto store = must(open_sqlite(scratch.path(), [&] { return moment; }));
    PieceRecord r = must(store->put(piece("p-1", "first"), ""));
    moment = "2019-01-01T00:00:00Z";
    r.note = "second";
    r = must(store->put(r, ""));
    moment = "2026-03-01T09:30:00Z";
    r.note = "third";
    r = must(store->put(r, ""));
    moment = "1999-12-31T23:59:59Z";
    must(store->put(piece("p-2", ""), ""));
    const auto history = must(store->history("piece", "p-1"));
    EXPECT_EQ(history[0].what, "Note: third.");
    EXPECT_EQ(history[1].what, "Note: second.");
    EXPECT_EQ(must(store->find({})).rows.front().piece.id, "p-2");  // changed last, whatever the clock said
    must(store->undo(must(store->last_undoable()).value()));
    must(store->undo(must(store->last_undoable()).value()));
    EXPECT_EQ(must(store->piece("p-1")).note, "second");
}

TEST(AClockThatIsSetBack, SweepsNoPhotographTooSoon) {
    ScratchFolder scratch;
    std::string moment = "2026-03-01T09:30:00Z";
    const auto store = must(open_sqlite(scratch.path(), [&] { return moment; }));
    must(store->put(piece("p-0041", ""), ""));
    const std::string photo = fixture_photo(*store, "front.jpg", kFixtureFront).sha256;
    must(store->remove_photo("p-0041", photo));
    moment = "2020-01-01T00:00:00Z";
    EXPECT_EQ(must(store->sweep(30)), 0);
    must(store->undo(must(store->last_undoable()).value()));
    EXPECT_EQ(must(store->photo_bytes(photo)), kFixtureFront);
}

}  // namespace
}  // namespace footring::store
