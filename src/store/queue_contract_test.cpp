// What the queue of photographs must do, whatever database is below.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>
#include <thread>

#include "store/reading_queue.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

using namespace std::chrono_literals;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class QueueContract : public OnEveryStore {
  protected:
    void SetUp() override {
        OnEveryStore::SetUp();
        must(store().put(plate(), ""));
    }
    ReadingQueue& queue() { return store().reading_queue(); }
    std::vector<std::string> photographs(int many) {
        std::vector<std::string> out;
        for (int i = 0; i < many; ++i)
            out.push_back(photo("p-0041", fmt::format("{}.jpg", i), fmt::format("bytes {}", i)).sha256);
        return out;
    }
    static Reading reading(const std::string& by) {
        Reading r;
        r.found = {{"by", by}};
        r.packs = "demo@1 abc";
        return r;
    }
    Task one(std::chrono::seconds time = 60s) {
        const auto leased = must(queue().lease("reader-1", 1, time));
        EXPECT_EQ(leased.size(), 1u);
        return leased.at(0);
    }
};

TEST_P(QueueContract, HandsOutEachPhotographOnceInTheOrderOfTheQueue) {
    const auto all = photographs(3);
    EXPECT_EQ(must(queue().add(all)), 3);
    EXPECT_EQ(must(queue().add(all)), 0);  // they are in it
    EXPECT_EQ(must(queue().counts()), (QueueCounts{3, 0, 0}));
    const auto first = must(queue().lease("reader-1", 2, 60s)), rest = must(queue().lease("reader-2", 2, 60s));
    ASSERT_EQ(first.size(), 2u);
    ASSERT_EQ(rest.size(), 1u);
    EXPECT_EQ(first[0].sha256, all[0]);
    EXPECT_EQ(first[1].sha256, all[1]);
    EXPECT_EQ(rest[0].sha256, all[2]);
    EXPECT_EQ(rest[0].tries, 1);
    EXPECT_THAT(must(queue().lease("reader-3", 5, 60s)), IsEmpty());
    EXPECT_EQ(must(queue().counts()), (QueueCounts{0, 3, 0}));
}

TEST_P(QueueContract, KeepsAResultAndTakesThePhotographOut) {
    const auto all = photographs(1);
    must(queue().add(all));
    const Reading kept = must(queue().finish(one(), reading("reader-1"), {{"strip", "ribbon"}}));
    EXPECT_EQ(kept.sha256, all[0]);
    EXPECT_EQ(must(store().reading(all[0])), kept);
    EXPECT_EQ(must(store().reading_picture(all[0], "strip")), "ribbon");
    EXPECT_EQ(must(queue().counts()), QueueCounts{});
    EXPECT_EQ(must(queue().add(all)), 1);  // it may be read again
}

TEST_P(QueueContract, GivesALeaseThatRanOutToTheNextAndKeepsOneResultOnly) {
    const auto all = photographs(1);
    must(queue().add(all));
    const Task late = one(0s);  // over as it begins
    const Task next = one();
    EXPECT_EQ(next.tries, 2);
    EXPECT_NE(next.lease, late.lease);
    EXPECT_FALSE(must(queue().extend(late, 60s)));
    const auto refused = queue().finish(late, reading("late"), {{"strip", "late"}});
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::kConflict);
    EXPECT_FALSE(store().reading(all[0]));
    must(queue().fail(late, {ProblemCode::kUnreadable, "x", "late", "y"}));  // nobody asks any more
    must(queue().give_back(late));
    EXPECT_EQ(must(queue().counts()), (QueueCounts{0, 1, 0}));
    must(queue().finish(next, reading("next"), {{"strip", "next"}}));
    EXPECT_FALSE(queue().finish(late, reading("late"), {}));
    EXPECT_EQ(must(store().reading(all[0])).found["by"], "next");
    EXPECT_EQ(must(store().reading_picture(all[0], "strip")), "next");
}

// A reader that was slow, and whom nobody has taken it from, keeps it.
TEST_P(QueueContract, TakesAResultAfterItsTimeWhenNobodyElseHasIt) {
    must(queue().add(photographs(1)));
    const Task slow = one(0s);
    EXPECT_TRUE(must(queue().extend(slow, 60s)));
    EXPECT_THAT(must(queue().lease("reader-2", 1, 60s)), IsEmpty());
    must(queue().finish(slow, reading("slow"), {}));
}

TEST_P(QueueContract, TriesAgainLaterWhatFailedAndBuriesWhatFailsAlways) {
    const auto all = photographs(1);
    must(queue().add(all));
    must(queue().fail(one(), {ProblemCode::kUnreadable, "photo", "it is torn", "photograph it again"}));
    EXPECT_THAT(must(queue().lease("reader-1", 1, 60s)), IsEmpty());  // not at once
    EXPECT_EQ(must(queue().counts()), (QueueCounts{1, 0, 0}));
    must(queue().remove(all[0]));
    must(queue().add(all));
    for (int i = 0; i < ReadingQueue::kMostTries - 1; ++i) one(0s);
    const Task last = one();
    EXPECT_EQ(last.tries, ReadingQueue::kMostTries);
    must(queue().fail(last, {ProblemCode::kUnreadable, "photo", "it is torn", "photograph it again"}));
    const auto dead = must(queue().dead());
    ASSERT_EQ(dead.size(), 1u);
    EXPECT_EQ(dead[0].said, "photo: it is torn: photograph it again");
    EXPECT_EQ(must(queue().counts()), (QueueCounts{0, 0, 1}));
    EXPECT_EQ(must(queue().add(all)), 0);  // it stays dead until somebody says otherwise
    EXPECT_EQ(must(queue().revive()), 1);
    EXPECT_EQ(one().tries, 1);
}

TEST_P(QueueContract, BuriesWhatEndsItsReaders) {
    must(queue().add(photographs(2)));
    std::string first;
    for (int i = 0; i < ReadingQueue::kMostTries; ++i) first = one(0s).sha256;
    EXPECT_NE(one().sha256, first);  // the next one comes to its turn
    const auto dead = must(queue().dead());
    ASSERT_EQ(dead.size(), 1u);
    EXPECT_EQ(dead[0].sha256, first);
    EXPECT_THAT(dead[0].said, HasSubstr("5 readers ended while they had it"));
}

TEST_P(QueueContract, CountsNoTryWhenAReaderGivesBack) {
    must(queue().add(photographs(1)));
    for (int i = 0; i < 2 * ReadingQueue::kMostTries; ++i) must(queue().give_back(one()));
    EXPECT_EQ(one().tries, 1);
}

TEST_P(QueueContract, RefusesWhatIsNoPhotograph) {
    EXPECT_EQ(queue().add({"../etc"}).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(queue().remove(std::string(64, 'a')).error().code, ProblemCode::kNotFound);
}

TEST_P(QueueContract, IsWorkedByManyAndEachPhotographHasOneResult) {
    constexpr int kPhotographs = 24, kReaders = 4;
    const auto all = photographs(kPhotographs);
    must(queue().add(all));
    std::mutex mutex;
    std::multiset<std::string> finished;
    std::vector<std::thread> readers;
    for (int r = 0; r < kReaders; ++r)
        readers.emplace_back([&, r] {
            const std::string name = fmt::format("reader-{}", r);
            for (int turn = 0;; ++turn) {
                const auto leased = must(queue().lease(name, 1, turn % 3 == 2 ? 0s : 60s));  // some run out at once
                if (leased.empty()) return;
                if (!queue().finish(leased[0], reading(name), {{"strip", name}})) continue;
                const std::lock_guard lock(mutex);
                finished.insert(leased[0].sha256);
            }
        });
    for (std::thread& one : readers) one.join();
    // What ran out five times is dead; nothing else is left, and nothing was finished twice.
    const auto counts = must(queue().counts());
    EXPECT_EQ(counts.waiting + counts.leased, 0);
    EXPECT_EQ(static_cast<std::int64_t>(finished.size()) + counts.dead, kPhotographs);
    EXPECT_EQ(std::set<std::string>(finished.begin(), finished.end()).size(), finished.size());
}

INSTANTIATE_TEST_SUITE_P(EveryStore, QueueContract, testing::ValuesIn(every_store()), name_of_store);

}  // namespace
}  // namespace footring::store
