// Everything at the same time: what many people do at once, on one server. Run with the thread sanitizer it finds
// what two of them touch together; without it, that nobody gets another's answer and nothing is lost.
//   FOOTRING_LOAD_ROUNDS: how long; 3 when absent.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>

#include <atomic>
#include <cstdlib>
#include <thread>

#include "server/test_shared.h"

namespace footring::server {
namespace {

using namespace testing;

int rounds() {
    const char* text = std::getenv("FOOTRING_LOAD_ROUNDS");
    const int given = text == nullptr ? 0 : std::atoi(text);
    return given > 0 ? given : 3;
}

// Runs `work(i)` for each of `n` at once, and holds that nobody saw a fault of ours.
template <class F>
void at_once(int n, F work) {
    std::vector<std::thread> threads;
    for (int i = 0; i < n; ++i) threads.emplace_back([&, i] { work(i); });
    for (std::thread& thread : threads) thread.join();
}

TEST(UnderLoad, NothingIsLostAndNobodyGetsAnothersAnswer) {
    Scratch scratch;
    fs::create_directories(scratch.path() / "packs");
    fs::copy(root() / "packs" / "ambrel-valley", scratch.path() / "packs" / "ambrel-valley",
             fs::copy_options::recursive);
    Options options = demo_options(scratch.path() / "data");
    options.packs = {scratch.path() / "packs" / "ambrel-valley"};
    options.demo = root() / "demo" / "cupboard";
    options.backups = store::KeepBackups{};
    options.watch_port = 0;
    const Running running(options);
    const std::int64_t before = running.get("/api/health").value()["pieces"];
    std::atomic<int> added = 0, wrong = 0;
    const auto good = [&](const Answer& answer, std::initializer_list<int> wanted) {
        if (std::ranges::find(wanted, answer.status) != wanted.end()) return true;
        ADD_FAILURE() << answer.status << " " << answer.body.substr(0, 400);
        ++wrong;
        return false;
    };
    at_once(8, [&](int who) {
        for (int round = 0; round < rounds() && wrong < 5; ++round) {
            const std::string id = "load-" + std::to_string(who) + "-" + std::to_string(round);
            if (who < 3) {  // writers
                good(running.post("/api/pieces", record(id, {{"form", "sugar"}})), {201});
                ++added;
                const json kept = running.get("/api/pieces/" + id).value();
                EXPECT_EQ(kept["piece"]["id"], id);
                good(running.send(
                         "PUT", "/api/pieces/" + id,
                         json{{"piece", {{"id", id}, {"form", "cup"}}}, {"revision", kept["revision"]}}.dump()),
                     {200});
                good(running.post("/api/pieces/bulk", {{"ids", {id}}, {"set", {{"private", round % 2 == 0}}}}),
                     {200});
            } else if (who == 3) {  // somebody edits the Book, and the pages follow
                good(running.get("/api/editing/ambrel-valley/treatments?limit=1"), {200});
                good(running.post("/api/editing/reload", json::object()), {200, 409});
                good(running.get("/api/book"), {200});
            } else if (who == 4) {  // the Bench
                for (const char* form : {"sugar", "dinner-plate", "cup"}) {
                    const Answer answer = running.post(
                        "/api/examine",
                        {{"piece",
                          {{"id", id}, {"form", form}, {"looks", {{{"place", "rim"}, {"value", "fern-pair"}}}}}}});
                    good(answer, {200});
                    EXPECT_EQ(answer.value()["piece"], id);
                }
            } else if (who == 5) {  // lists and what is worked out over all pieces
                for (const char* path :
                     {"/api/pieces?q=fern&limit=50", "/api/pieces/facets", "/api/changes?limit=20",
                      "/api/worth/model", "/api/search?q=oat", "/api/lots"})
                    good(running.get(path), {200});
            } else if (who == 6) {  // services, and exports
                good(running.post("/api/allotments", json::object()), {202, 400, 409});
                good(running.get("/api/allotments"), {200});
                good(running.get("/api/export?format=json"), {200});
                good(running.get("/api/years?of=ornament:fern-pair"), {200});
            } else {  // the house itself
                good(running.post("/api/backups", json::object()), {201, 400});
                good(running.get("/api/alive"), {200});
                httplib::Client client("127.0.0.1", running.server->watch_port().value());
                EXPECT_TRUE(client.Get("/metrics"));
            }
        }
    });
    EXPECT_EQ(running.get("/api/health").value()["pieces"], before + added);
}

TEST(UnderLoad, PeopleComeAndGoWhileOthersWrite) {
    const SharedHouse house;
    std::atomic<int> written = 0;
    at_once(5, [&](int who) {
        for (int round = 0; round < rounds(); ++round) {
            Visit visit = house.as(who < 2 ? Role::kContributor : who < 4 ? Role::kReader : Role::kKeeper);
            if (who < 2) {
                EXPECT_EQ(visit.post("/api/pieces", record("", {{"form", "cup"}})).status, 201);
                ++written;
            } else if (who < 4) {
                EXPECT_EQ(visit.get("/api/pieces").status, 200);
                EXPECT_EQ(visit.post("/api/pieces", record("", {{"form", "cup"}})).status, 403);
            } else {
                const std::string name = "guest-" + std::to_string(round);
                EXPECT_EQ(
                    visit.post("/api/people", {{"name", name}, {"role", "reader"}, {"password", kPassword}}).status,
                    201);
                EXPECT_EQ(visit.get("/api/audit").status, 200);
                EXPECT_EQ(visit.send("DELETE", "/api/people/" + name).status, 200);
            }
            EXPECT_EQ(visit.post("/api/door/sign-out", json::object()).status, 200);
            EXPECT_EQ(visit.get("/api/pieces").status, 401);
        }
    });
    EXPECT_EQ(house.as(Role::kReader).get("/api/pieces").value()["total"], written.load());
}

}  // namespace
}  // namespace footring::server
