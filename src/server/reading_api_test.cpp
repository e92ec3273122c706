// Photographs read over HTTP, with a reader that the test makes: what is kept, mended, combined, queued and
// stopped. SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <zlib.h>

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <thread>

#include "server/test_server.h"

namespace footring::server {
namespace {

using namespace testing;
using ::testing::ElementsAre;

// A PNG of 3 x 2 pixels; what follows its end is another file with the same picture.
std::string png_with(const std::string& more = "") {
    static constexpr unsigned char kBytes[] = {
        0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48, 0x44,
        0x52, 0x00, 0x00, 0x00, 0x03, 0x00, 0x00, 0x00, 0x02, 0x08, 0x02, 0x00, 0x00, 0x00, 0x12,
        0x16, 0xf1, 0x4d, 0x00, 0x00, 0x00, 0x10, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c, 0x63, 0x38,
        0xb1, 0xa5, 0x02, 0x82, 0x18, 0xe0, 0x2c, 0x00, 0x77, 0x24, 0x0b, 0xb9, 0x23, 0xd0, 0x42,
        0xdf, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82};
    return std::string(reinterpret_cast<const char*>(kBytes), sizeof kBytes) + more;
}

// A picture of the size that readings keep of one repeat, 8 bit grey: bars whose edges run as `slant` says.
std::string tile_png(int slant) {
    constexpr int kColumns = 128, kRows = 40;
    const auto number = [](std::uint32_t n) {
        return std::string{static_cast<char>(n >> 24U), static_cast<char>(n >> 16U), static_cast<char>(n >> 8U),
                           static_cast<char>(n)};
    };
    const auto chunk = [&](const std::string& name, const std::string& data) {
        const std::string body = name + data;
        const auto sum = crc32(0, reinterpret_cast<const Bytef*>(body.data()), static_cast<uInt>(body.size()));
        return number(static_cast<std::uint32_t>(data.size())) + body + number(static_cast<std::uint32_t>(sum));
    };
    std::string rows;
    for (int y = 0; y < kRows; ++y) {
        rows += '\0';  // no filter
        for (int x = 0; x < kColumns; ++x)
            rows += static_cast<char>((x + slant * y + 4 * kColumns) % kColumns < kColumns / 3 ? 255 : 0);
    }
    uLongf size = compressBound(static_cast<uLong>(rows.size()));
    std::string packed(size, '\0');
    compress(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(rows.data()),
             static_cast<uLong>(rows.size()));
    packed.resize(size);
    return "\x89PNG\r\n\x1a\n" + chunk("IHDR", number(kColumns) + number(kRows) + std::string{8, 0, 0, 0, 0}) +
           chunk("IDAT", packed) + chunk("IEND", "");
}

photo::Suggestion suggestion(const std::string& place, const std::string& value, double chance) {
    return {"looks", place, value, looks::Sure::kLikely, chance, value + " at the " + place + "."};
}

// What the reader was asked, and a door at which it waits until the test opens it.
struct Reader {
    std::atomic<bool> held = false;
    std::atomic<int> reading = 0, most = 0, read = 0;
    std::mutex mutex;
    std::vector<photo::ReadOptions> asked;
    std::string fails_on;

    Expected<photo::Reading> operator()(std::string_view bytes, std::string_view where,
                                        const photo::ReadOptions& options) {
        struct Counted {
            std::atomic<int>& n;
            ~Counted() { --n; }
        } counted{reading};
        const int now = ++reading;
        for (int seen = most; seen < now && !most.compare_exchange_weak(seen, now);) {
        }
        {
            const std::lock_guard lock(mutex);
            asked.push_back(options);
        }
        while (held) {
            if (options.stop && options.stop())
                return fail(ProblemCode::kConflict, std::string(where), "stopped", "");
            std::this_thread::sleep_for(std::chrono::milliseconds(2));
        }
        if (!fails_on.empty() && bytes.ends_with(fails_on))
            return fail(ProblemCode::kBadInput, std::string(where), "the file is torn", "copy it again");
        ++read;
        photo::Reading out;
        out.file = where;
        out.width = 3;
        out.height = 2;
        out.outline.kind = photo::OutlineKind::kRound;
        out.outline.rim = options.rim.value_or(photo::Ellipse{{1.5, 1}, 1.4, 0.9, 0});
        out.strip_jpeg = "ribbon of " + std::string(bytes.substr(bytes.size() - 2));
        if (bytes.ends_with("-slope")) out.tile_png = tile_png(1);
        if (bytes.ends_with("-steep")) out.tile_png = tile_png(3);
        if (bytes.ends_with("-torn")) out.tile_png = "no picture";
        out.suggestions = {suggestion("rim", bytes.ends_with("B") ? "bell-row" : "fern-pair", 0.9),
                           suggestion("edge", "none", 0.9)};
        return out;
    }
};

struct Readings : ::testing::Test {
    Scratch scratch;
    std::shared_ptr<Reader> reader = std::make_shared<Reader>();
    std::unique_ptr<Running> running = start();
    Running& at = *running;

    ~Readings() override { reader->held = false; }
    Options options() const {
        Options out = demo_options(scratch.path());
        out.read_photo = [r = reader](auto bytes, auto where, const auto& asked) {
            return (*r)(bytes, where, asked);
        };
        return out;
    }
    std::unique_ptr<Running> start() const { return std::make_unique<Running>(options()); }
    std::string photo(const std::string& piece, const std::string& more) const {
        at.post("/api/pieces", record(piece));
        const Answer answer = at.send("POST", "/api/pieces/" + piece + "/photos?name=photo-" + more + ".png",
                                      png_with(more), "image/png");
        EXPECT_EQ(answer.status, 201) << answer.body;
        return answer.value()["sha256"];
    }
    json job_when(const std::string& id, const std::function<bool(const json&)>& right) const {
        json job;
        for (int i = 0; i < 2000; ++i) {
            job = at.get("/api/readings/" + id).value();
            if (right(job)) return job;
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        }
        ADD_FAILURE() << "it never came: " << job.dump();
        return job;
    }
    json finished(const std::string& id) const {
        return job_when(id, [](const json& job) { return job["state"] == "done" || job["state"] == "stopped"; });
    }
    static bool is_reading(const json& job) {
        return std::ranges::any_of(job["photos"], [](const json& one) { return one["state"] == "reading"; });
    }
};

TEST_F(Readings, NameOtherPiecesWithABorderLikeIt) {
    const std::string one = photo("p-1", "one-slope"), same = photo("p-2", "two-slope"),
                      other = photo("p-3", "three-steep"), torn = photo("p-4", "four-torn"),
                      bare = photo("p-5", "five");
    EXPECT_EQ(at.get("/api/photos/" + one + "/alike").status, 404) << "not read yet";
    for (const std::string& sha256 : {one, same, other, torn, bare})
        ASSERT_EQ(at.post("/api/photos/" + sha256 + "/read", json::object()).status, 200);
    const json found = at.get("/api/photos/" + one + "/alike").value()["pieces"];
    ASSERT_EQ(found.size(), 1u) << found;
    EXPECT_EQ(found[0]["piece"], "p-2");
    EXPECT_EQ(found[0]["sha256"], same);
    EXPECT_GT(found[0]["likeness"], 0.9);
    EXPECT_TRUE(found[0]["treatment"].is_null());
    for (const std::string& sha256 : {other, torn, bare})
        EXPECT_EQ(at.get("/api/photos/" + sha256 + "/alike").value()["pieces"], json::array());
    EXPECT_EQ(at.get("/api/photos/x/alike").status, 404);
}

TEST_F(Readings, KeepsWhatWasReadAndItsPictures) {
    const std::string front = photo("p-1", "A");
    const std::string base = "/api/photos/" + front;
    EXPECT_EQ(at.get(base + "/reading").problem(),
              "not-found: photograph " + front + ": it has not been read yet: read it first");
    const Answer read = at.post(base + "/read", json::object());
    ASSERT_EQ(read.status, 200) << read.body;
    EXPECT_EQ(read.value()["reading"]["outline"]["kind"], "round");
    EXPECT_EQ(read.value()["reading"]["photo"]["file"], "photo-" + front.substr(0, 12));
    EXPECT_EQ(read.value()["stale"], false);
    EXPECT_EQ(read.value()["asked"], json::object());
    EXPECT_EQ(at.get(base + "/reading").value(), read.value());
    const Answer strip = at.get(base + "/strip");
    EXPECT_EQ(strip.status, 200);
    EXPECT_EQ(strip.type, "image/jpeg");
    EXPECT_EQ(strip.body,
              "ribbon of \x82"
              "A");
    EXPECT_EQ(at.get(base + "/strip", {{"If-None-Match", strip.header("ETag")}}).status, 304);
    EXPECT_EQ(at.get(base + "/mark").status, 404);
    EXPECT_EQ(at.get(base + "/view").type, "image/jpeg");
}

TEST_F(Readings, KeepsWhatAPersonGaveUntilItIsForgotten) {
    const std::string front = photo("p-1", "A");
    const std::string read = "/api/photos/" + front + "/read";
    const json rim = {{"centre_px", {1.25, 1.0}}, {"axes_px", {0.5, 1.0}}, {"angle_deg", 30}};
    const Answer first = at.post(read, {{"rim", rim}, {"rim_height_mm", 18}, {"side", "front"}});
    ASSERT_EQ(first.status, 200) << first.body;
    // the longer axis comes first, and the angle is its own
    EXPECT_EQ(first.value()["reading"]["outline"]["axes_px"], json::array({1.0, 0.5}));
    EXPECT_EQ(first.value()["reading"]["outline"]["angle_deg"], -60);
    at.post(read, {{"side", nullptr}});
    ASSERT_EQ(reader->asked.size(), 2u);
    EXPECT_EQ(reader->asked[1].rim_height_mm, 18);
    ASSERT_TRUE(reader->asked[1].rim);
    EXPECT_EQ(reader->asked[1].rim->a, 1.0);
    EXPECT_FALSE(reader->asked[1].side);
    EXPECT_TRUE(reader->asked[1].pictures);
    const json job = at.post("/api/readings", {{"photos", {front}}}).value();
    finished(job["id"]);
    EXPECT_TRUE(reader->asked[2].rim);
    at.post(read, {{"rim", nullptr}, {"rim_height_mm", nullptr}});
    EXPECT_FALSE(reader->asked[3].rim);
    EXPECT_FALSE(reader->asked[3].rim_height_mm);
}

TEST_F(Readings, TakesTheRecordedHeightOfAFormForTheRim) {
    const std::string front = photo("p-1", "A");
    const std::string read = "/api/photos/" + front + "/read";
    ASSERT_EQ(at.post(read, {{"form", "dinner-plate"}}).status, 200);
    ASSERT_TRUE(reader->asked[0].rim_height_mm);
    EXPECT_GT(*reader->asked[0].rim_height_mm, 5);
    EXPECT_LT(*reader->asked[0].rim_height_mm, 60);
    ASSERT_EQ(at.post(read, {{"rim_height_mm", 31}}).status, 200);
    EXPECT_EQ(reader->asked[1].rim_height_mm, 31);
}

TEST_F(Readings, RefusesEveryWrongThingAtOnceAndKeepsTheOldReading) {
    const std::string front = photo("p-1", "A");
    const std::string read = "/api/photos/" + front + "/read";
    ASSERT_EQ(at.post(read, json::object()).status, 200);
    const Answer wrong =
        at.post(read, {{"side", "top"}, {"rim_height_mm", 900}, {"rim", {{"axes_px", {0, 1}}}}, {"form", "plat"}});
    EXPECT_EQ(wrong.status, 400);
    EXPECT_EQ(wrong.value()["problems"].size(), 4u) << wrong.body;
    EXPECT_EQ(
        wrong.problem(),
        "bad-input: body: /side: this is no side of a piece: give 'front' or 'back', or null to let it be seen");
    reader->fails_on = "A";
    EXPECT_EQ(at.post(read, json::object()).problem(),
              "bad-input: photo-" + front.substr(0, 12) + ": the file is torn: copy it again");
    EXPECT_EQ(at.get("/api/photos/" + front + "/reading").status, 200);
    EXPECT_EQ(at.post("/api/photos/" + std::string(64, '0') + "/read", json::object()).status, 404);
    EXPECT_EQ(at.post("/api/photos/x/read", json::object()).status, 404);
}

TEST_F(Readings, ReadsAllThatNobodyReadAndTellsWhichFailed) {
    const std::string a = photo("p-1", "A"), b = photo("p-2", "B"), c = photo("p-3", "C");
    reader->fails_on = "B";
    EXPECT_EQ(at.get("/api/readings").value()["unread"], 3);
    const Answer answer = at.post("/api/readings", json::object());
    EXPECT_EQ(answer.status, 201);
    const json done = finished(answer.value()["id"]);
    EXPECT_EQ(done["state"], "done");
    EXPECT_EQ(done["total"], 3);
    EXPECT_EQ(done["done"], 3);
    ASSERT_EQ(done["failed"].size(), 1u);
    EXPECT_EQ(done["failed"][0]["sha256"], b);
    EXPECT_EQ(done["failed"][0]["problem"]["remedy"], "copy it again");
    EXPECT_EQ(at.get("/api/readings").value()["unread"], 1);
    EXPECT_EQ(at.get("/api/readings").value()["jobs"].size(), 1u);
    EXPECT_EQ(at.get("/api/readings/r-99").status, 404);
    EXPECT_EQ(at.post("/api/readings", {{"photos", {"x"}}}).status, 404);
}

TEST_F(Readings, StopsAJobAndKeepsWhatWasRead) {
    std::vector<std::string> all;
    for (const char* name : {"A", "B", "C", "D"}) all.push_back(photo("p-1", name));
    at.post("/api/photos/" + all[0] + "/read", json::object());
    reader->held = true;
    const std::string id = at.post("/api/readings", {{"photos", all}}).value()["id"];
    job_when(id, is_reading);
    const Answer stopped = at.send("DELETE", "/api/readings/" + id);
    EXPECT_EQ(stopped.status, 200);
    const json job = finished(id);
    EXPECT_EQ(job["state"], "stopped");
    EXPECT_EQ(job["done"], 0);
    for (const json& one : job["photos"]) EXPECT_EQ(one["state"], "stopped");
    EXPECT_EQ(reader->read, 1);
    reader->held = false;
    EXPECT_EQ(at.get("/api/photos/" + all[0] + "/reading").status, 200);
    EXPECT_EQ(at.get("/api/photos/" + all[1] + "/reading").status, 404);
    EXPECT_EQ(at.send("DELETE", "/api/readings/" + id).value()["state"], "stopped");
}

TEST_F(Readings, LetsASinglePhotographOvertakeABatch) {
    std::vector<std::string> all;
    for (const char* name : {"A", "B", "C", "D", "E"}) all.push_back(photo("p-1", name));
    const std::string one = photo("p-2", "F");
    reader->held = true;
    const std::string batch = at.post("/api/readings", {{"photos", all}}).value()["id"];
    job_when(batch, is_reading);
    const std::string single = at.post("/api/readings", {{"photos", {one}}}).value()["id"];
    reader->held = false;
    finished(batch);
    EXPECT_EQ(finished(single)["state"], "done");
    std::vector<std::string> order;
    for (const std::string& name : {one, all[1]})
        order.push_back(at.get("/api/photos/" + name + "/reading").value()["when"]);
    EXPECT_LE(order[0], order[1]);
    EXPECT_EQ(reader->most, 1);
}

TEST_F(Readings, EndsQuicklyInTheMiddleOfABatch) {
    for (const char* name : {"A", "B", "C"}) photo("p-1", name);
    reader->held = true;
    const std::string id = at.post("/api/readings", json::object()).value()["id"];
    job_when(id, is_reading);
    const auto began = std::chrono::steady_clock::now();
    running->server->stop();
    EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::seconds(5));
    EXPECT_EQ(reader->read, 0);
    EXPECT_EQ(reader->reading, 0);
}

TEST_F(Readings, KnowsAStaleReadingAfterThePacksChanged) {
    const std::string front = photo("p-1", "A");
    at.post("/api/photos/" + front + "/read", json::object());
    running->server->stop();
    running.reset();
    Options other = options();
    fs::copy(other.packs[0], scratch.path() / "pack", fs::copy_options::recursive);
    std::ofstream(scratch.path() / "pack" / "sources.csv", std::ios::app)
        << "s-late,book,Anon,A later note,2001,p. 1,0.5\n";
    other.packs = {scratch.path() / "pack"};
    const Running later(std::move(other));
    EXPECT_EQ(later.get("/api/photos/" + front + "/reading").value()["stale"], true);
    EXPECT_EQ(later.get("/api/readings").value()["unread"], 1);
    EXPECT_EQ(later.get("/api/pieces/p-1/suggestions").value()["photos"][0]["stale"], true);
}

// --- suggestions

TEST_F(Readings, CombinesWhatThePhotographsOfAPieceSay) {
    const std::string a = photo("p-1", "A"), b = photo("p-1", "B");
    EXPECT_EQ(at.get("/api/pieces/p-1/suggestions").value()["rows"], json::array());
    at.post("/api/photos/" + a + "/read", json::object());
    const json one = at.get("/api/pieces/p-1/suggestions").value();
    ASSERT_EQ(one["rows"].size(), 2u);
    EXPECT_EQ(one["photos"][0]["read"], true);
    EXPECT_EQ(one["photos"][1]["read"], false);
    EXPECT_EQ(one["rows"][0]["value"], "fern-pair");
    EXPECT_EQ(one["rows"][0]["chance"], 0.9);
    at.post("/api/photos/" + b + "/read", json::object());
    const json both = at.get("/api/pieces/p-1/suggestions").value();
    const json &rim = both["rows"][0], &edge = both["rows"][1];
    EXPECT_EQ(rim["against"].size(), 1u);  // bell-row
    EXPECT_LT(rim["chance"], 0.9);
    EXPECT_EQ(edge["for"].size(), 2u);
    EXPECT_GT(edge["chance"], 0.9);
    EXPECT_EQ(edge["for"][0]["name"], "photo-A.png");
    EXPECT_EQ(edge["why"], "2 photographs agree. none at the edge.");
    EXPECT_EQ(edge["state"], "open");
    EXPECT_EQ(at.get("/api/pieces/p-9/suggestions").status, 404);
}

TEST_F(Readings, RemembersWhatWasAcceptedAndRefused) {
    const std::string a = photo("p-1", "A"), b = photo("p-1", "B");
    for (const std::string& one : {a, b}) at.post("/api/photos/" + one + "/read", json::object());
    json stored = at.get("/api/pieces/p-1").value();
    stored["piece"]["looks"] = {{{"place", "edge"}, {"value", "none"}, {"sure", "likely"}}};
    ASSERT_EQ(at.put("/api/pieces/p-1", stored).status, 200);
    const std::string corrections = "/api/pieces/p-1/photos/" + a + "/corrections";
    const json refused = {{"refused", {{{"field", "looks"}, {"place", "rim"}, {"value", "fern-pair"}}}},
                          {"accepted", {{{"field", "looks"}, {"place", "edge"}, {"value", "none"}}}},
                          {"repeats", 9}};
    const Answer answer = at.put(corrections, refused);
    ASSERT_EQ(answer.status, 200) << answer.body;
    EXPECT_EQ(answer.value()["corrections"], refused);
    const json rows = at.get("/api/pieces/p-1/suggestions").value()["rows"];
    ASSERT_EQ(rows.size(), 3u);
    EXPECT_EQ(rows[0]["value"], "none");
    EXPECT_EQ(rows[0]["state"], "taken");
    EXPECT_EQ(rows[0]["now"], "none");
    EXPECT_EQ(rows[1]["value"], "bell-row");  // the other photograph's word counts now
    EXPECT_EQ(rows[2]["value"], "fern-pair");
    EXPECT_EQ(rows[2]["state"], "refused");
    EXPECT_EQ(at.get("/api/pieces/p-1/history").value()[0]["what"],
              "photo-A.png: accepted edge none, refused rim fern-pair, 9 repeats counted by hand.");
    // reading it again brings nothing back
    at.post("/api/photos/" + a + "/read", json::object());
    EXPECT_EQ(at.get("/api/pieces/p-1/suggestions").value()["rows"], rows);
    at.post("/api/changes/undo", json::object());
    EXPECT_FALSE(at.get("/api/pieces/p-1").value()["photos"][0].contains("corrections"));
}

TEST_F(Readings, RefusesCorrectionsThatMeanNothing) {
    const std::string a = photo("p-1", "A");
    const std::string corrections = "/api/pieces/p-1/photos/" + a + "/corrections";
    const Answer wrong = at.put(
        corrections,
        {{"repeats", 0}, {"words", 3}, {"refused", {{{"field", "price"}, {"value", "3"}}}}, {"accepted", "all"}});
    EXPECT_EQ(wrong.status, 400);
    EXPECT_EQ(wrong.value()["problems"].size(), 4u) << wrong.body;
    EXPECT_EQ(at.put("/api/pieces/p-2/photos/" + a + "/corrections", json::object()).status, 404);
    EXPECT_EQ(at.put("/api/pieces/p-1/photos/" + std::string(64, 'a') + "/corrections", json::object()).status,
              404);
    EXPECT_EQ(at.get("/api/pieces/p-1/history").value().size(), 2u);
}

}  // namespace
}  // namespace footring::server
