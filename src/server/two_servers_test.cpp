// Two servers on one database: what one changes the other shows, and nothing of either is lost.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>

#include <chrono>
#include <fstream>
#include <iterator>
#include <memory>
#include <thread>

#include "server/test_server.h"
#include "store/test_companion.h"

namespace footring::server::testing {
namespace {

using ::testing::HasSubstr;

class TwoServers : public ::testing::Test {
  protected:
    static constexpr int kMostTests = 8;  // each has a database of its own
    static void SetUpTestSuite() {
        cluster_ = std::make_unique<store::Companion>(
            "cluster.py", std::vector<std::string>{"--databases", std::to_string(kMostTests)});
    }
    static void TearDownTestSuite() { cluster_.reset(); }
    static std::string next_database() {
        static int used = 0;
        std::string address = cluster_->line();
        return address.replace(address.find("/postgres?"), 9, fmt::format("/scratch_{}", ++used));
    }
    // The servers have a folder each, as on two machines, and share the database and the photographs.
    Options options(const std::string& name) const {
        Options out = demo_options(scratch_.path() / name);
        out.place = store::Place{scratch_.path() / name, database_, (scratch_.path() / "photos").string(), "", ""};
        return out;
    }
    static json stored(const Answer& answer, int status) {
        EXPECT_EQ(answer.status, status) << answer.body;
        return answer.value();
    }
    static std::int64_t newest(const Running& at) { return at.get("/api/changes/news").value()["newest"]; }

    Scratch scratch_;
    static inline std::unique_ptr<store::Companion> cluster_;
    const std::string database_ = next_database();
    Running one_{options("one")}, two_{options("two")};
};

TEST_F(TwoServers, ShowWhatTheOtherStored) {
    const json piece = stored(one_.post("/api/pieces", record("p-0001", {{"form", "dinner-plate"}})), 201);
    EXPECT_EQ(stored(two_.get("/api/pieces/p-0001"), 200), piece);
    std::ifstream file(root() / "demo/cupboard/photos/p-0017-back.jpg", std::ios::binary);
    const std::string jpeg{std::istreambuf_iterator<char>(file), {}};
    const auto photo = one_.send("POST", "/api/pieces/p-0001/photos", jpeg, "image/jpeg");
    ASSERT_EQ(photo.status, 201) << photo.body;
    const std::string name = photo.value()["sha256"];
    EXPECT_EQ(two_.get("/api/photos/" + name).body, jpeg);
}

TEST_F(TwoServers, TellEachOtherAtOnce) {
    const std::int64_t before = newest(two_);
    std::thread waits([&] {
        const auto began = std::chrono::steady_clock::now();
        const json news = stored(two_.get(fmt::format("/api/changes/news?after={}&wait=25", before)), 200);
        EXPECT_LT(std::chrono::steady_clock::now() - began,
                  std::chrono::seconds(20));  // it did not wait to the end
        ASSERT_EQ(news["changes"].size(), 1u) << news;
        EXPECT_EQ(news["changes"][0]["piece"], "p-0001");
        EXPECT_EQ(news["newest"], before + 1);
        EXPECT_EQ(news["all"], true);
    });
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    stored(one_.post("/api/pieces", record("p-0001")), 201);
    waits.join();
    const json nothing = stored(two_.get(fmt::format("/api/changes/news?after={}&wait=1", before + 1)), 200);
    EXPECT_TRUE(nothing["changes"].empty());
}

TEST_F(TwoServers, LetOneOfTwoChangesOfOnePieceThroughAndTellTheOther) {
    const json piece = stored(one_.post("/api/pieces", record("p-0001")), 201);
    json mine = piece, yours = piece;
    mine["note"] = "mine";
    yours["place"] = "yours";
    stored(one_.put("/api/pieces/p-0001", mine), 200);
    const Answer refused = two_.put("/api/pieces/p-0001", yours);
    EXPECT_EQ(refused.status, 409);
    EXPECT_THAT(refused.problem(), HasSubstr("it was changed since you opened it"));
    yours = stored(two_.get("/api/pieces/p-0001"), 200);
    yours["place"] = "yours";
    stored(two_.put("/api/pieces/p-0001", yours), 200);
    const json both = stored(one_.get("/api/pieces/p-0001"), 200);
    EXPECT_EQ(both["note"], "mine");
    EXPECT_EQ(both["place"], "yours");
}

// "Undo" beside a sentence undoes what that sentence says, whatever others did in between.
TEST_F(TwoServers, NameTheirOwnChangeForUndo) {
    stored(one_.post("/api/pieces", record("p-0001")), 201);
    const Answer mine = one_.post("/api/pieces/bulk", {{"ids", {"p-0001"}}, {"set", {{"note", "mine"}}}});
    stored(two_.post("/api/pieces", record("p-0002")), 201);
    const std::string batch = mine.header("Footring-Batches");
    EXPECT_EQ(batch, std::to_string(mine.value()["batch"].get<std::int64_t>()));
    stored(one_.post("/api/changes/" + batch + "/undo", json::object()), 200);
    EXPECT_EQ(stored(two_.get("/api/pieces/p-0001"), 200)["note"], "");
    EXPECT_EQ(two_.get("/api/pieces/p-0002").status, 200);
    EXPECT_EQ(one_.get("/api/pieces/p-0001").header("Footring-Batches"), "");  // looking changes nothing
}

TEST_F(TwoServers, SayThatBackupsAreTheDatabasesOwn) {
    EXPECT_EQ(stored(one_.get("/api/backups"), 200)["in_database"], true);
    const Answer refused = one_.post("/api/backups", json::object());
    EXPECT_EQ(refused.status, 409);
    EXPECT_THAT(refused.problem(), HasSubstr("these pieces are in a database, which has backups of its own"));
}

TEST_F(TwoServers, GoOnWhenTheOtherStops) {
    stored(two_.post("/api/pieces", record("p-0001")), 201);
    two_.server->stop();
    stored(one_.post("/api/pieces", record("p-0002")), 201);
    EXPECT_EQ(one_.get("/api/pieces?limit=0").value()["total"], 2);
}

}  // namespace
}  // namespace footring::server::testing
