// Services, compositions and allotments over HTTP, on a real server over the demo pack.
// SPDX-License-Identifier: Apache-2.0
#include <chrono>
#include <thread>

#include "server/allots.h"
#include "server/test_server.h"

namespace footring::server {
namespace {

using namespace testing;

json cup_piece(const std::string& id, const std::string& form) {
    json out = record(id, {{"form", form}, {"shape", {{"value", "harrow"}}}});
    out["decision"] = {{"treatment", "t-117"}, {"grade", "first"}, {"date", ""}, {"note", ""}};
    return out;
}
json tea(const std::string& id, int settings) {
    return {
        {"id", id},
        {"name", "Fern tea"},
        {"treatments", {"t-117"}},
        {"composition", {{"settings", settings}, {"setting", {{{"forms", {"cup"}}}, {{"forms", {"saucer"}}}}}}}};
}

struct ServicesApi : Served {
    json ended(const json& body) const {
        const Answer asked = at.post("/api/allotments", body);
        EXPECT_EQ(asked.status, 202) << asked.body;
        const std::string id = asked.value()["id"];
        for (;;) {
            const json job = at.get("/api/allotments/" + id).value();
            if (job["state"] != "waiting" && job["state"] != "working") return job;
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
    }
};

TEST_F(ServicesApi, LaysOutWhatIsKeptAndSaysWhatIsMissing) {
    EXPECT_EQ(at.post("/api/pieces", cup_piece("sv-1", "cup")).status, 201);
    EXPECT_EQ(at.post("/api/pieces", cup_piece("sv-2", "saucer")).status, 201);
    EXPECT_EQ(at.post("/api/pieces", cup_piece("sv-3", "cup")).status, 201);
    const Answer added = at.post("/api/services", {{"service", tea("laid", 3)}, {"revision", 0}});
    ASSERT_EQ(added.status, 201) << added.body;
    EXPECT_EQ(added.value()["places"], 6);
    EXPECT_EQ(added.value()["treatments"][0]["number"], "117");
    const json job = ended({{"services", {"laid"}}});
    ASSERT_EQ(job["state"], "done") << job;
    EXPECT_EQ(job["allotment"]["complete"], 1);
    EXPECT_EQ(job["allotment"]["proved"], true);
    EXPECT_EQ(job["stale"], false);
    const std::string id = job["id"];
    EXPECT_EQ(at.get("/api/allotments/" + id + "/wants").value()["steps"][0]["sentence"],
              "Completes setting 2 of 3 in Fern tea: 1 saucer.");
    const Answer find = at.post(
        "/api/allotments/found",
        {{"piece",
          {{"form", "saucer"},
           {"shape", {{"value", "harrow"}}},
           {"glaze", {{"value", "oat"}}},
           {"looks", {{{"place", "rim"}, {"value", "fern-pair"}}, {{"place", "edge"}, {"value", "none"}}}}}},
         {"allotment", id}});
    ASSERT_EQ(find.status, 200) << find.body;
    EXPECT_EQ(find.value()["sentence"], "Completes setting 2 of 3 in Fern tea.") << find.body;
    EXPECT_EQ(at.get("/api/services/laid/why/sv-1").value()["lines"][0]["serves"], true);
    // Whoever knows what it is need not look.
    const json known = at.post("/api/allotments/found",
                               {{"piece", {{"form", "saucer"}}}, {"treatment", "t-117"}, {"allotment", id}})
                           .value();
    EXPECT_EQ(known["services"][0]["odds"], 1);
    // No sale is kept: nothing is estimated, and the answer says so.
    EXPECT_EQ(job["allotment"]["prices"], json({{"known", false}, {"currency", ""}, {"basis", ""}}));
    EXPECT_EQ(at.get("/api/papers/wants?format=html&allotment=" + id).status, 200);
    // A piece more, and what was allotted is no longer what would be.
    EXPECT_EQ(at.post("/api/pieces", cup_piece("sv-4", "saucer")).status, 201);
    EXPECT_EQ(at.get("/api/allotments/" + id).value()["stale"], true);
    const json later = ended({{"services", {"laid"}}});
    EXPECT_EQ(later["allotment"]["complete"], 2);
    const json both = at.get("/api/allotments/compare?a=" + id + "&b=" + later["id"].get<std::string>()).value();
    EXPECT_EQ(both["sentences"], json({"Fern tea: 1 settings in the first, 2 in the second.",
                                       "1 piece stands otherwise in the second."}));
    EXPECT_EQ(both["moved"], json::array({{{"piece", "sv-4"}, {"from", nullptr}, {"to", "Fern tea, saucer"}}}));
}
TEST_F(ServicesApi, UndoesAServiceLikeAnyChange) {
    ASSERT_EQ(at.post("/api/services", {{"service", tea("undone", 1)}}).status, 201);
    ASSERT_EQ(at.send("DELETE", "/api/services/undone").status, 200);
    EXPECT_EQ(at.get("/api/services/undone").status, 404);
    ASSERT_EQ(at.post("/api/changes/undo", json::object()).status, 200);
    EXPECT_EQ(at.get("/api/services/undone").status, 200);
}
TEST_F(ServicesApi, RefusesWhatCannotBeAndNamesIt) {
    json wrong = tea("wrong", 1);
    wrong["composition"]["setting"][0]["forms"] = {"ice-bucket"};
    EXPECT_EQ(
        at.post("/api/services", {{"service", wrong}}).problem(),
        "bad-input: service: wrong/composition: no form of the open packs is called 'ice-bucket': nothing could "
        "fill the line 'ice-bucket': name a form of the packs by its id, or take the line out");
    EXPECT_EQ(at.get("/api/services/wrong").status, 404);
    EXPECT_EQ(at.post("/api/allotments", {{"objective", "purchase"}, {"budget", -1}}).problem(),
              "bad-input: body: /budget: -1 cannot be: give a number from 0 to 1e+12");
    EXPECT_EQ(at.send("DELETE", "/api/compositions/set-of-95").status, 404);
    json insists = tea("insists", 1);
    insists["insist"] = {"no-such-piece"};
    ASSERT_EQ(at.post("/api/services", {{"service", insists}}).status, 201);
    const json job = ended({{"services", {"insists"}}});
    EXPECT_EQ(job["state"], "failed");
    EXPECT_EQ(job["problems"][0]["what"], "there is no piece 'no-such-piece'");
    EXPECT_EQ(at.get("/api/allotments/" + job["id"].get<std::string>() + "/wants").problem(),
              "not-found: allotment: the allotment '" + job["id"].get<std::string>() +
                  "' has no result: it is failed: ask for a new one");
}

TEST(AllotDesk, StopsWhatWaitsAtOnceAndKeepsTheBestOfWhatRuns) {
    AllotDesk desk([] { return std::string("2026-01-01T00:00:00Z"); });
    std::mutex mutex;
    std::condition_variable changed;
    bool began = false;
    const auto first =
        desk.add({}, [&](const AllotDesk::Tell& tell) -> std::expected<std::shared_ptr<const LaidOut>, Problems> {
            {
                const std::lock_guard lock(mutex);
                began = true;
            }
            changed.notify_all();
            while (!tell({"complete settings", 0, 1, 5, 3, 7, 0.1})) std::this_thread::yield();
            return std::make_shared<const LaidOut>();
        });
    const auto second =
        desk.add({}, [](const AllotDesk::Tell&) -> std::expected<std::shared_ptr<const LaidOut>, Problems> {
            return refuse(ProblemCode::kOurFault, "never", "never", "never");
        });
    ASSERT_TRUE(first && second);
    EXPECT_EQ(desk.stop(second->id)->state, AllotDesk::State::kStopped);
    {
        std::unique_lock lock(mutex);
        changed.wait(lock, [&] { return began; });
    }
    EXPECT_FALSE(desk.job(first->id)->finished());
    desk.stop(first->id);
    while (!desk.job(first->id)->finished()) std::this_thread::yield();
    EXPECT_EQ(desk.job(first->id)->state, AllotDesk::State::kStopped);
    EXPECT_NE(desk.job(first->id)->laid, nullptr);
    EXPECT_NE(desk.newest(), nullptr);
    EXPECT_FALSE(desk.job("a-9").has_value());
    desk.close();
    EXPECT_FALSE(desk.add({}, {}).has_value());
}

}  // namespace
}  // namespace footring::server
