// The Cupboard over HTTP: pieces, decisions, lots, photographs, import, and undoing all of it.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "server/test_server.h"

namespace footring::server {
namespace {

using namespace testing;

// Each test has a store of its own.
struct Kept : ::testing::Test {
    Scratch scratch;
    Running at{demo_options(scratch.path())};

    json added(const std::string& id, json piece = json::object()) {
        const Answer answer = at.post("/api/pieces", record(id, std::move(piece)));
        EXPECT_EQ(answer.status, 201) << answer.body;
        return answer.value();
    }
    std::int64_t pieces() const { return at.get("/api/pieces?limit=0").value()["total"]; }
};

// A PNG of 3 x 2 pixels.
std::string small_png() {
    static constexpr unsigned char kBytes[] = {
        0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48, 0x44,
        0x52, 0x00, 0x00, 0x00, 0x03, 0x00, 0x00, 0x00, 0x02, 0x08, 0x02, 0x00, 0x00, 0x00, 0x12,
        0x16, 0xf1, 0x4d, 0x00, 0x00, 0x00, 0x10, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c, 0x63, 0x38,
        0xb1, 0xa5, 0x02, 0x82, 0x18, 0xe0, 0x2c, 0x00, 0x77, 0x24, 0x0b, 0xb9, 0x23, 0xd0, 0x42,
        0xdf, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82};
    return {reinterpret_cast<const char*>(kBytes), sizeof kBytes};
}

TEST_F(Kept, GivesBackThePieceThatWasAdded) {
    const json stored = added("p-0041", {{"form", "sugar"}, {"wear", "light"}});
    EXPECT_EQ(stored["piece"]["form"], "sugar");
    EXPECT_EQ(stored["photos"], json::array());
    EXPECT_GT(stored["revision"].get<int>(), 0);
    EXPECT_EQ(at.get("/api/pieces/p-0041").value(), stored);
    EXPECT_EQ(at.post("/api/pieces", record("p-0041")).status, 409);
}

TEST_F(Kept, NumbersAPieceThatHasNoId) {
    EXPECT_EQ(added("")["piece"]["id"], "p-0001");
    EXPECT_EQ(added("")["piece"]["id"], "p-0002");
}

TEST_F(Kept, RefusesIdsThatNoPackHasAndStoresNothing) {
    const Answer answer = at.post("/api/pieces", record("p-1", {{"form", "plat"}, {"glaze", {{"value", "oats"}}}}));
    EXPECT_EQ(answer.status, 400);
    EXPECT_EQ(answer.value()["problems"].size(), 2u);
    EXPECT_EQ(pieces(), 0);
}

TEST_F(Kept, RefusesAChangeOfWhatSomebodyElseChanged) {
    json stored = added("p-1");
    stored["note"] = "first";
    const Answer first = at.put("/api/pieces/p-1", stored);
    EXPECT_EQ(first.status, 200);
    stored["note"] = "second";
    const Answer second = at.put("/api/pieces/p-1", stored);
    EXPECT_EQ(second.status, 409);
    EXPECT_EQ(second.value()["problems"][0]["code"], "conflict");
    EXPECT_EQ(at.get("/api/pieces/p-1").value()["note"], "first");
}

TEST_F(Kept, KeepsTheIdOfAPiece) {
    json stored = added("p-1");
    stored["piece"]["id"] = "p-2";
    EXPECT_EQ(
        at.put("/api/pieces/p-1", stored).problem(),
        "bad-input: body: /piece/id: 'p-2' is not the piece of this address, 'p-1': the id of a piece stays as it "
        "is; add a new piece instead");
}

TEST_F(Kept, ReachesPiecesWhateverTheirIdIs) {
    for (const std::string id : {"box 4/12", "caf\xC3\xA9?#%", "<b>", "a:b", ".."}) {
        added(id);
        const Answer answer = at.get("/api/pieces/" + httplib::detail::encode_query_param(id));
        EXPECT_EQ(answer.status, 200) << id;
        EXPECT_EQ(answer.value()["piece"]["id"], id);
    }
    EXPECT_EQ(pieces(), 5);
}

TEST_F(Kept, KeepsWhatTheEngineSaidBesideADecision) {
    const json stored = added("p-1", {{"form", "dinner-plate"},
                                      {"shape", {{"value", "harrow"}}},
                                      {"looks", {{{"place", "rim"}, {"value", "fern-pair"}}}}});
    const Answer answer = at.post("/api/pieces/p-1/decide", {{"treatment", "t-117"},
                                                             {"grade", "first"},
                                                             {"date", "1931/1939"},
                                                             {"note", "by the rim"},
                                                             {"revision", stored["revision"]}});
    ASSERT_EQ(answer.status, 200) << answer.body;
    const json decided = answer.value();
    EXPECT_EQ(decided["decision"]["treatment"], "ambrel-valley:t-117");
    EXPECT_EQ(decided["treatment_number"], "117");
    EXPECT_EQ(decided["attribution"]["answer"]["piece"], "p-1");
    EXPECT_TRUE(decided["attribution"]["packs"].get<std::string>().starts_with("ambrel-valley@"));
    EXPECT_EQ(at.get("/api/book/treatments/t-117").value()["pieces"], 1);
    EXPECT_EQ(at.get("/api/pieces?treatment=t-117&decided=true").value()["total"], 1);
    EXPECT_EQ(at.get("/api/search?q=117").value()["pieces"].size(), 1u);

    // A change of something else keeps it as it was; taking the decision back takes it away.
    json noted = decided;
    noted["note"] = "on the dresser";
    noted["attribution"]["packs"] = "forged";
    const json after = at.put("/api/pieces/p-1", noted).value();
    EXPECT_EQ(after["attribution"], decided["attribution"]);
    const json undecided =
        at.post("/api/pieces/p-1/decide", {{"treatment", ""}, {"revision", after["revision"]}}).value();
    EXPECT_FALSE(undecided.contains("decision"));
    EXPECT_FALSE(undecided.contains("attribution"));
}

TEST_F(Kept, RefusesDecisionsThatMeanNothing) {
    const json stored = added("p-1");
    const auto decide = [&](json decision) {
        decision["revision"] = stored["revision"];
        return at.post("/api/pieces/p-1/decide", decision);
    };
    EXPECT_EQ(decide({{"treatment", "t-none"}}).status, 400);
    EXPECT_EQ(decide({{"treatment", "t-117"}, {"grade", "third"}}).problem(),
              "bad-input: body: /grade: there is no grade 'third': give 'first', 'second' or nothing");
    EXPECT_EQ(decide({{"treatment", "t-117"}, {"date", "about 1930"}}).status, 400);
    EXPECT_EQ(at.post("/api/pieces/p-1/decide", {{"treatment", "elsewhere"}}).problem(),
              "bad-input: body: /revision: there is no revision: give the revision of the piece as it was read");
    EXPECT_EQ(at.post("/api/pieces/p-1/decide", {{"treatment", "elsewhere"}, {"revision", 99}}).status, 409);
    EXPECT_EQ(decide({{"treatment", "elsewhere"}}).status, 200);
}

TEST_F(Kept, ListsFiltersSortsAndPages) {
    added("p-1", {{"form", "dinner-plate"}, {"number", {{"value", "117"}}}});
    added("p-2", {{"form", "sugar"}, {"number", {{"value", "9"}}}});
    added("p-3", {{"form", "dinner-plate"}});
    const auto ids = [&](const std::string& query) {
        const json page = at.get("/api/pieces?" + query).value();
        json out = json::array();
        for (const json& row : page["rows"]) out.push_back(row["piece"]["id"]);
        return out;
    };
    EXPECT_EQ(ids(""), (json{"p-3", "p-2", "p-1"}));
    EXPECT_EQ(ids("sort=id"), (json{"p-1", "p-2", "p-3"}));
    EXPECT_EQ(ids("sort=id&order=desc&limit=1&offset=1"), (json{"p-2"}));
    EXPECT_EQ(ids("form=dinner-plate&sort=id"), (json{"p-1", "p-3"}));
    EXPECT_EQ(ids("q=117"), (json{"p-1"}));
    EXPECT_EQ(ids("decided=true"), json::array());
    EXPECT_EQ(at.get("/api/pieces?form=dinner-plate&limit=1").value()["total"], 2);
    const json facets = at.get("/api/pieces/facets").value();
    EXPECT_NE(
        std::ranges::find(
            facets, json{{"field", "form"}, {"value", "dinner-plate"}, {"label", "Dinner plate"}, {"count", 2}}),
        facets.end());
}

TEST_F(Kept, ChangesManyPiecesAsOneThatIsUndoneAsOne) {
    added("p-1");
    added("p-2");
    added("p-3");
    const Answer changed =
        at.post("/api/pieces/bulk", {{"ids", {"p-1", "p-2"}}, {"set", {{"place", "Shelf"}, {"cost", 3}}}});
    ASSERT_EQ(changed.status, 200) << changed.body;
    EXPECT_EQ(changed.value()["changed"], 2);
    EXPECT_EQ(at.get("/api/pieces?place=Shelf").value()["total"], 2);
    const json undone = at.send("POST", "/api/changes/undo").value();
    EXPECT_EQ(undone["undid"], changed.value()["batch"]);
    EXPECT_NE(undone["what"].get<std::string>().find("(and 1 more change)"), std::string::npos) << undone;
    EXPECT_EQ(at.get("/api/pieces?place=Shelf").value()["total"], 0);
    EXPECT_EQ(at.send("POST", "/api/changes/" + undone["batch"].dump() + "/undo").status, 200);  // again
    EXPECT_EQ(at.get("/api/pieces?place=Shelf").value()["total"], 2);

    const json removed = at.post("/api/pieces/bulk", {{"ids", {"p-1", "p-3"}}, {"remove", true}}).value();
    EXPECT_EQ(removed["changed"], 2);
    EXPECT_EQ(pieces(), 1);
    EXPECT_EQ(at.send("POST", "/api/changes/" + removed["batch"].dump() + "/undo").status, 200);
    EXPECT_EQ(pieces(), 3);
}

TEST_F(Kept, ChangesAllOfManyPiecesOrNone) {
    added("p-1");
    EXPECT_EQ(at.post("/api/pieces/bulk", {{"ids", {"p-1", "p-9"}}, {"set", {{"place", "Shelf"}}}}).status, 404);
    EXPECT_EQ(at.post("/api/pieces/bulk", {{"ids", {"p-1", "p-9"}}, {"remove", true}}).status, 404);
    EXPECT_EQ(at.get("/api/pieces/p-1").value()["place"], "");
    const auto refused = [&](json body) { return at.post("/api/pieces/bulk", body).problem(); };
    EXPECT_EQ(refused({{"ids", {"p-1"}}}),
              "bad-input: body: it has to say either what to set or that the pieces go: give "
              "one of the members 'set' and 'remove'");
    EXPECT_EQ(refused({{"ids", {"p-1", "p-1"}}, {"remove", true}}),
              "bad-input: body: ids: a piece is named twice: name each piece once");
    EXPECT_EQ(refused({{"ids", {"p-1"}}, {"set", {{"id", "p-2"}}}}),
              "bad-input: body: set/id: this cannot be set for many pieces at once: set lot, place, note, cost, "
              "currency or private");
}

TEST_F(Kept, TellsTheHistoryOfAPieceInWords) {
    json stored = added("p-1", {{"form", "dinner-plate"}});
    stored["piece"]["looks"] = {{{"place", "rim"}, {"value", "fern-pair"}, {"sure", "sure"}}};
    ASSERT_EQ(at.put("/api/pieces/p-1", stored).status, 200);
    const json history = at.get("/api/pieces/p-1/history").value();
    ASSERT_EQ(history.size(), 2u);
    EXPECT_EQ(history[0]["what"], "Rim: fern-pair (sure).");
    EXPECT_EQ(history[1]["before"], nullptr);
    EXPECT_EQ(at.get("/api/changes?limit=1").value()[0], history[0]);
    EXPECT_EQ(at.get("/api/changes?limit=0").status, 400);
}

TEST_F(Kept, HasNothingToUndoAtFirst) {
    EXPECT_EQ(at.send("POST", "/api/changes/undo").problem(),
              "not-found: changes: there is nothing to undo: change something first");
}

TEST_F(Kept, KeepsLotsAndTheirPiecesTogether) {
    const json lot{
        {"id", "lot-1"}, {"name", "Barn sale <b>"}, {"date", "2019~"}, {"cost", 12.5}, {"currency", "GBP"}};
    const Answer stored = at.post("/api/lots", lot);
    ASSERT_EQ(stored.status, 201) << stored.body;
    EXPECT_EQ(stored.value()["name"], "Barn sale <b>");
    json piece = record("p-1");
    piece["lot"] = "lot-1";
    ASSERT_EQ(at.post("/api/pieces", piece).status, 201);
    EXPECT_EQ(at.send("DELETE", "/api/lots/lot-1").status, 409);
    json changed = stored.value();
    changed["note"] = "Sold by weight.";
    EXPECT_EQ(at.put("/api/lots/lot-1", changed).value()["note"], "Sold by weight.");
    EXPECT_EQ(at.put("/api/lots/lot-1", changed).status, 409);
    EXPECT_EQ(at.post("/api/lots", {{"name", "x"}, {"date", "last year"}}).status, 400);
    EXPECT_EQ(at.post("/api/lots", {{"name", " "}}).status, 400);
    ASSERT_EQ(at.post("/api/pieces/bulk", {{"ids", {"p-1"}}, {"remove", true}}).status, 200);
    EXPECT_EQ(at.send("DELETE", "/api/lots/lot-1").status, 200);
    EXPECT_EQ(at.get("/api/lots").value(), json::array());
}

TEST_F(Kept, KeepsPhotographsAsTheyCame) {
    added("p-1");
    const Answer stored = at.send("POST", "/api/pieces/p-1/photos?name=..%2Frim%0A.png", small_png(), "image/png");
    ASSERT_EQ(stored.status, 201) << stored.body;
    const json photo = stored.value();
    EXPECT_EQ(photo["name"], "rim.png");
    EXPECT_EQ(photo["width"], 3);
    EXPECT_EQ(photo["height"], 2);
    EXPECT_EQ(photo["type"], "image/png");
    EXPECT_EQ(at.get("/api/pieces/p-1").value()["photos"][0], photo);
    const std::string address = "/api/photos/" + photo["sha256"].get<std::string>();
    const Answer original = at.get(address);
    EXPECT_EQ(original.body, small_png());
    EXPECT_EQ(original.type, "image/png");
    EXPECT_EQ(original.header("Content-Security-Policy"), "default-src 'none'; sandbox");
    EXPECT_EQ(original.header("X-Content-Type-Options"), "nosniff");
    EXPECT_EQ(original.header("Content-Disposition"),
              "inline; filename=\"photo-" + photo["sha256"].get<std::string>().substr(0, 12) + ".png\"");
    EXPECT_EQ(at.get(address + "/thumb").type, "image/jpeg");
    const std::string in_piece = "/api/pieces/p-1/photos/" + photo["sha256"].get<std::string>();
    EXPECT_EQ(at.send("DELETE", in_piece).status, 200);
    EXPECT_EQ(at.get("/api/pieces/p-1").value()["photos"], json::array());
    EXPECT_EQ(at.send("DELETE", in_piece).status, 404);
    EXPECT_EQ(at.send("POST", "/api/changes/undo").status, 200);
    EXPECT_EQ(at.get("/api/pieces/p-1").value()["photos"].size(), 1u);
}

TEST_F(Kept, RefusesWhatIsNoPhotograph) {
    added("p-1");
    const auto send = [&](const std::string& bytes, const char* type) {
        return at.send("POST", "/api/pieces/p-1/photos?name=a.png", bytes, type);
    };
    EXPECT_EQ(send("<svg onload='alert(1)'/>", "image/svg+xml").status, 400);
    EXPECT_EQ(send("{}", "application/json").status, 400);
    EXPECT_EQ(send(small_png().substr(0, 50), "image/png").status, 400);
    EXPECT_EQ(send("", "image/png").problem(),
              "bad-input: body: there is no photograph in it: send the bytes of the file");
    std::string vast = small_png();
    vast.replace(16, 8, std::string("\x00\x00\xFF\xFF\x00\x00\xFF\xFF", 8));  // it says 65535 x 65535
    EXPECT_THAT(send(vast, "image/png").status, ::testing::AnyOf(400, 413));
    EXPECT_EQ(at.get("/api/pieces/p-1").value()["photos"], json::array());
}

// Sends a text and brings it in; the job as it ended.
json brought(const Running& at, const std::string& text, json ask) {
    ask["table"] =
        at.send("POST", "/api/imports/tables?name=list.csv", text, "application/octet-stream").value()["id"];
    json job = at.post("/api/imports", ask).value();
    while (job.value("state", "") == "running") {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        job = at.get("/api/imports").value();
    }
    return job;
}

TEST_F(Kept, ImportsATableAfterSayingWhatItWouldDo) {
    const std::string text = "Id,Form,Rim,Colour\np-1,Dinner plate,fern-pair,red\np-2,dinner-plate,fernpair,\n";
    const json tried = brought(at, text, {{"into", "pieces"}, {"dry_run", true}});
    ASSERT_EQ(tried["state"], "done") << tried;
    const json would = tried["result"];
    EXPECT_EQ(would["added"], 1);
    EXPECT_EQ(would["skipped"], 1);
    EXPECT_EQ(would["problems"][0]["where"], "list.csv:3: Rim");
    EXPECT_EQ(would["preview"][0]["form"], "dinner-plate");
    EXPECT_EQ(would["columns"][3], (json{{"column", "Colour"}, {"field", nullptr}}));
    EXPECT_EQ(pieces(), 0);
    const json refused = brought(at, text, {{"into", "pieces"}, {"dry_run", false}});
    EXPECT_EQ(refused["state"], "failed");
    EXPECT_EQ(refused["problems"], would["problems"]);
    EXPECT_EQ(pieces(), 0);
    EXPECT_EQ(brought(at, text, {{"into", "pieces"}, {"dry_run", false}, {"keep_good", true}})["result"]["added"],
              1);
    EXPECT_EQ(pieces(), 1);
}

TEST_F(Kept, UnderstandsAListThatComesAgainAsTheLastTimeAndUndoesThePiecesFirst) {
    const json first = brought(at, "What,Form\nred,dinner-plate\n",
                               {{"into", "pieces"}, {"dry_run", false}, {"mapping", {{"What", "note"}}}});
    EXPECT_EQ(first["result"]["added"], 1) << first;
    EXPECT_EQ(first["result"]["remembered"], false);
    const json again = brought(at, "Form,What\ndinner-plate,blue\n", {{"into", "pieces"}, {"dry_run", false}});
    EXPECT_EQ(again["result"]["remembered"], true) << again;
    EXPECT_EQ(at.get("/api/pieces?q=blue").value()["total"], 1);
    EXPECT_EQ(at.send("POST", "/api/changes/undo").status, 200);
    EXPECT_EQ(at.get("/api/pieces?q=blue").value()["total"], 0);
    EXPECT_EQ(pieces(), 1);
}

TEST_F(Kept, TakesItsOwnExportsBack) {
    json piece = record("p-1", {{"form", "dinner-plate"}});
    piece["note"] = "=1+1";
    ASSERT_EQ(at.post("/api/pieces", piece).status, 201);
    const json letter{{"letter", {{"name", "Ms Carr"}, {"text", "What is it?\n"}, {"pieces", {"p-1"}}}},
                      {"revision", 0}};
    ASSERT_EQ(at.post("/api/letters", letter).status, 201);
    for (const std::string format : {"csv", "json"}) {
        const Answer file = at.get("/api/export?private=true&format=" + format);
        EXPECT_EQ(file.status, 200);
        EXPECT_EQ(file.header("Content-Disposition"), "attachment; filename=\"footring-cupboard." + format + "\"");
        const json back = brought(at, file.body, {{"into", "pieces"}, {"dry_run", false}});
        EXPECT_EQ(back["result"]["unchanged"], 1) << back;
        EXPECT_EQ(back["result"]["changed"], 0);
        EXPECT_EQ(back["result"]["others"], 0);
    }
    EXPECT_NE(at.get("/api/export?private=true&format=csv").body.find(",'=1+1,"), std::string::npos);
    EXPECT_NE(at.get("/api/export?private=true&format=json").body.find("Ms Carr"), std::string::npos);
    EXPECT_EQ(at.get("/api/export?format=json").body.find("Ms Carr"), std::string::npos);
    EXPECT_EQ(at.get("/api/export?format=json").body.find("p-1"), std::string::npos);  // it is hers
}

// With the setting on, a decision weighs for the next piece at once: no view of an older count may answer.
TEST(Prior, CountsThePiecesOfTheCupboardWhenTheSettingAsks) {
    Scratch scratch;
    Options options = demo_options(scratch.path());
    options.settings.prior_cupboard_counts = 1;
    const Running at(options);
    const json piece{{"piece", {{"id", "p"}, {"form", "dinner-plate"}, {"shape", {{"value", "harrow"}}}}}};
    const auto odds = [&] {
        const json answer = at.post("/api/examine", piece).value();
        for (const json& candidate : answer["candidates"])
            if (candidate["treatment"] == "t-117") return candidate["probability"].get<double>();
        return 0.0;
    };
    const double before = odds();
    ASSERT_GT(before, 0);
    json decided = record("p-1");
    decided["decision"] = {{"treatment", "t-117"}, {"grade", ""}, {"date", ""}, {"note", ""}};
    ASSERT_EQ(at.post("/api/pieces", decided).status, 201);
    const double after = odds();
    EXPECT_GT(after, before * 1.5);
    ASSERT_EQ(at.send("POST", "/api/changes/undo").status, 200);
    EXPECT_DOUBLE_EQ(odds(), before);
}

}  // namespace
}  // namespace footring::server
