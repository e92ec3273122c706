// What a reader may not see, planted everywhere it could lie, and looked for in every answer that a reader can get.
//   Each walk is made as a contributor and a keeper too: there every mark has to show, or the walk is asleep.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>

#include <map>
#include <set>

#include "base/text.h"
#include "photo/thumbnail.h"
#include "server/routes.h"
#include "server/test_shared.h"
#include "store/sha256.h"

namespace footring::server {
namespace {

using namespace testing;

// 3 x 2 pixels, PNG; the last bytes make another photograph of it.
std::string picture(const std::string& tail) {
    const unsigned char bytes[] = {0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49,
                                   0x48, 0x44, 0x52, 0x00, 0x00, 0x00, 0x03, 0x00, 0x00, 0x00, 0x02, 0x08, 0x02,
                                   0x00, 0x00, 0x00, 0x12, 0x16, 0xf1, 0x4d, 0x00, 0x00, 0x00, 0x10, 0x49, 0x44,
                                   0x41, 0x54, 0x78, 0x9c, 0x63, 0x38, 0xb1, 0xa5, 0x02, 0x82, 0x18, 0xe0, 0x2c,
                                   0x00, 0x77, 0x24, 0x0b, 0xb9, 0x23, 0xd0, 0x42, 0xdf, 0x00, 0x00, 0x00, 0x00,
                                   0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82};
    return std::string(reinterpret_cast<const char*>(bytes), sizeof bytes) + tail;
}

// The words and numbers that nobody may find. Ids are marks too, but in a refusal that names what was asked for.
const std::vector<std::string> kMarks = {"SECRETPIECE",   "SECRETSENDER", "SECRETLETTER", "SECRETREPLY",
                                         "SECRETTHEIRS",  "SECRETLOT",    "SECRETHAUL",   "SECRETPHOTO",
                                         "SECRETREADING", "918273",       "ZZQ"};
const std::vector<std::string> kHiddenIds = {"p-hidden", "p-theirs"};

void plant(store::Store& store) {
    const auto must = [](const auto& answer) {
        if (!answer) throw std::runtime_error(to_line(answer.error()));
    };
    store::Lot lot;
    lot.id = "lot-attic";
    lot.name = "Attic";
    lot.place = "SECRETLOT yard";
    lot.note = "SECRETLOT note";
    lot.cost = 918273;
    lot.currency = "ZZQ";
    must(store.put(lot, "Bought for 918273 ZZQ."));
    const auto piece = [&](const std::string& id, const std::string& form) {
        store::PieceRecord record;
        record.piece.id = id;
        record.piece.form = form;
        record.piece.shape = looks::Seen{"harrow", looks::Sure::kSure};
        record.piece.looks = {{book::Place::kRim, {"fern-pair", looks::Sure::kSure}}};
        record.lot = "lot-attic";
        record.cost = 918273.5;
        record.currency = "ZZQ";
        record.decision = store::Decision{"ambrel-valley:t-117", "first", "1934", ""};
        record.search_words = "117";
        return record;
    };
    must(store.put(piece("p-open", "sugar"), "Paid 918273.5 ZZQ."));
    store::PieceRecord hidden = piece("p-hidden", "cup");
    hidden.is_private = true;
    hidden.note = "SECRETPIECE note";
    hidden.place = "SECRETPIECE shelf";
    hidden.decision->note = "SECRETPIECE decision";
    must(store.put(hidden, ""));
    store::PieceRecord theirs = piece("p-theirs", "saucer");
    theirs.note = "SECRETTHEIRS";
    theirs.lot.clear();
    must(store.put(theirs, ""));
    for (const auto& [id, name] :
         {std::pair<const char*, const char*>{"p-open", "front.png"}, {"p-hidden", "SECRETPHOTO.png"}}) {
        const std::string bytes = picture(id);
        const auto small = photo::thumbnail(bytes, 16, "p");
        must(small);
        store::PhotoMeta meta;
        meta.piece = id;
        meta.name = name;
        meta.type = "image/png";
        meta.width = 3;
        meta.height = 2;
        must(store.add_photo(meta, bytes, small->jpeg));
    }
    store::Reading reading;
    reading.sha256 = store::sha256_of(picture("p-hidden"));
    reading.found = {{"wording", {{{"text", "SECRETREADING"}, {"confidence", 0.9}}}}, {"notes", {"SECRETREADING"}}};
    must(store.put_reading(reading, {{"mark", picture("SECRETREADING")}, {"strip", "SECRETREADING"}}));
    store::Record letter{"letter",
                         "letter-a",
                         {{"name", "SECRETSENDER"},
                          {"address", "SECRETSENDER road"},
                          {"received", "2026-02-01"},
                          {"subject", "SECRETLETTER"},
                          {"text", "SECRETLETTER"},
                          {"state", "answered"},
                          {"pieces", {"p-theirs"}},
                          {"reply", "SECRETREPLY"},
                          {"answered", "2026-02-02"},
                          {"sighting", true},
                          {"note", "SECRETLETTER"}},
                         "",
                         "",
                         0};
    must(store.put(letter, "Letter: SECRETSENDER: SECRETLETTER."));
    must(store.put(store::Record{"haul", "haul-a", {{"name", "SECRETHAUL"}}, "", "", 0}, "SECRETHAUL"));
    must(store.put(store::Record{"sale",
                                 "sale-a",
                                 {{"date", "2024-05-01"},
                                  {"price", 24.5},
                                  {"currency", "GBP"},
                                  {"form", "sugar"},
                                  {"treatment", "ambrel-valley:t-117"}},
                                 "",
                                 "",
                                 0},
                   ""));
    must(store.put(store::Record{"service",
                                 "service-a",
                                 {{"name", "Tea"},
                                  {"treatments", {"ambrel-valley:t-117"}},
                                  {"composition", {{"settings", 2}, {"setting", {{{"forms", {"cup"}}}}}}}},
                                 "",
                                 "",
                                 0},
                   ""));
}

// Values for the {parts} of addresses: what is open, what is hidden, and what never was.
std::vector<std::string> values_for(const std::string& part) {
    if (part == "sha256") return {store::sha256_of(picture("p-open")), store::sha256_of(picture("p-hidden"))};
    if (part == "id" || part == "piece")
        return {"p-open", "p-hidden",  "p-theirs", "lot-attic",           "letter-a", "haul-a",
                "sale-a", "service-a", "a-1",      "ambrel-valley:t-117", "t-117"};
    if (part == "table") return {"treatments", "ornaments", "shapes", "forms", "glazes", "marks"};
    if (part == "kind") return {"dossier", "talk", "key", "labels", "inventory", "condition", "schedule", "wants"};
    if (part == "service") return {"service-a"};
    if (part == "ornament") return {"fern-pair"};
    if (part == "job" || part == "batch" || part == "change") return {"1", "r-1", "a-1"};
    if (part == "name") return {"ada", "cleo"};
    if (part == "pack") return {"ambrel-valley"};
    return {"none"};
}
std::vector<std::string> addresses_of(const std::string& pattern) {
    const std::size_t open = pattern.find('{');
    if (open == std::string::npos) return {pattern};
    const std::size_t close = pattern.find('}', open);
    std::vector<std::string> out;
    for (const std::string& value : values_for(pattern.substr(open + 1, close - open - 1)))
        for (const std::string& rest : addresses_of(pattern.substr(0, open) + value + pattern.substr(close + 1)))
            out.push_back(rest);
    return out;
}

// What may stand behind an address: searches for what is hidden, and orders that name it.
const std::vector<std::string> kQueries = {
    "",
    "?q=SECRETPIECE",
    "?q=secrettheirs",
    "?lot=lot-attic",
    "?limit=1000&sort=id&order=asc",
    "?of=treatment:t-117&format=html",
    "?of=ornament:fern-pair&format=html",
    "?of=lot:lot-attic",
    "?of=cupboard",
    "?of=lot:lot-attic&pieces=true",
    "?piece=p-hidden&format=html",
    "?piece=p-open&format=html",
    "?lot=lot-attic&format=html",
    "?format=html",
    "?format=html&private=true",
    "?format=csv",
    "?format=json",
    "?format=csv&private=true",
    "?format=json&private=true",
    "?treatment=t-117",
    "?shape=harrow",
    "?a=a-1&b=a-2",
};
std::vector<json> bodies() {
    const json piece = {
        {"id", "p-hidden"}, {"form", "sugar"}, {"looks", {{{"place", "rim"}, {"value", "fern-pair"}}}}};
    return {{{"piece", piece}},
            {{"piece", "p-hidden"}},
            {{"piece", {{"id", "p-theirs"}, {"form", "saucer"}, {"shape", {{"value", "harrow"}}}}}},
            {{"form", "sugar"}, {"treatments", {"t-117", "t-162"}}},
            {{"lot", "lot-attic"}},
            {{"pieces", {"p-hidden", "p-open", "p-theirs"}}},
            {{"services", {"service-a"}}},
            {{"text", "SECRET"}},
            {{"form", "sugar"}, {"treatment", "t-117"}},
            json::object()};
}

// The names of what may stand behind an address of this pattern, by the document of the API.
std::set<std::string> parameters_of(std::string_view pattern) {
    static const json document = json::parse(openapi_document());
    std::set<std::string> out;
    const json& get = document["paths"][std::string(pattern)]["get"];
    for (const json& each : get.value("parameters", json::array())) {
        const std::string shared = each.value("$ref", "");
        out.insert(shared.empty() ? each["name"].get<std::string>() : shared.substr(shared.rfind('/') + 1));
    }
    return out;
}
// Those that mean something there.
std::vector<std::string> queries_of(std::string_view pattern) {
    const std::set<std::string> known = parameters_of(pattern);
    std::vector<std::string> out;
    for (const std::string& query : kQueries) {
        bool all = true;
        for (const std::string& pair : split(query.empty() ? query : query.substr(1), '&'))
            all = all && (pair.empty() || known.contains(pair.substr(0, pair.find('='))));
        if (all) out.push_back(query);
    }
    return out;
}

struct Found {
    int answers = 0, good = 0;
    std::map<std::string, std::string> marks;  // mark -> where it stood
};

// Every route that `role` may call, but for those that change something.
Found walk(const SharedHouse& house, Role role) {
    Found out;
    Visit visit = house.as(role);
    const auto look = [&](const std::string& method, const std::string& address, const std::string& body) {
        const Answer answer = visit.send(method, address, body);
        ++out.answers;
        out.good += answer.status == 200 ? 1 : 0;
        EXPECT_LT(answer.status, 500) << method << " " << address << " " << body << " " << answer.body;
        std::vector<std::string> marks = kMarks;
        if (answer.status < 300) {
            for (const std::string& id : kHiddenIds)
                if (body.find(id) == std::string::npos) marks.push_back(id);
            marks.push_back(store::sha256_of(picture("p-hidden")));
            marks.push_back(picture("p-hidden"));
        }
        // What was asked for may be said again in the refusal.
        for (const std::string& mark : marks)
            if (answer.body.find(mark) != std::string::npos && address.find(mark) == std::string::npos)
                out.marks.emplace(mark, method + " " + address + " " + body);
    };
    for (const Route& route : routes()) {
        if (route.needs > role || route.pattern.starts_with("/api/door") ||
            route.pattern.starts_with("/api/people"))
            continue;
        if (route.method == "GET")
            for (const std::string& address : addresses_of(std::string(route.pattern)))
                for (const std::string& query : queries_of(route.pattern)) look("GET", address + query, "");
    }
    // Posts that only compute.
    for (const Route& route : routes())
        if (route.method == "POST" && route.takes == Takes::kJson && route.needs == Role::kReader &&
            !route.pattern.starts_with("/api/door"))
            for (const std::string& address : addresses_of(std::string(route.pattern)))
                for (const json& body : bodies()) look("POST", address, body.dump());
    // What they set going is shown, too.
    for (int i = 0; i < 50 && visit.get("/api/allotments").body.find("\"working\"") != std::string::npos; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    for (const char* job : {"a-1", "a-2", "a-3"})
        for (const char* view : {"", "/tables/service-a", "/wants", "/parting"})
            look("GET", std::string("/api/allotments/") + job + view, "");
    return out;
}

TEST(Privacy, NoAnswerToAReaderHoldsAnythingPrivate) {
    const SharedHouse house(plant);
    const Found found = walk(house, Role::kReader);
    EXPECT_GT(found.answers, 600);
    EXPECT_GT(found.good, 100);
    for (const auto& [mark, where] : found.marks) ADD_FAILURE() << mark << " in the answer to " << where;
}

TEST(Privacy, TheSameWalkFindsEveryMarkForThoseWhoMay) {
    const SharedHouse house(plant);
    Found found = walk(house, Role::kContributor);
    for (const std::string& mark : kMarks) {
        if (mark == "SECRETHAUL") continue;  // no route shows hauls as such
        EXPECT_TRUE(found.marks.contains(mark)) << mark;
    }
    EXPECT_TRUE(found.marks.contains("p-hidden"));
    EXPECT_TRUE(found.marks.contains(picture("p-hidden")));
}

TEST(Privacy, ExportsAndPapersHoldNothingPrivateUnlessAKeeperAsks) {
    const SharedHouse house(plant);
    Visit keeper = house.as(Role::kKeeper), contributor = house.as(Role::kContributor);
    const std::vector<std::string> ways = {"/api/export?format=csv", "/api/export?format=json",
                                           "/api/papers/inventory?format=html",
                                           "/api/papers/dossier?of=treatment:t-117&format=html"};
    for (const std::string& way : ways) {
        const Answer plain = keeper.get(way), all = keeper.get(way + "&private=true");
        EXPECT_EQ(plain.status, 200) << way;
        EXPECT_EQ(all.status, 200) << way;
        for (const std::string& mark : kMarks) EXPECT_EQ(plain.body.find(mark), std::string::npos) << mark << way;
        for (const std::string& id : kHiddenIds) EXPECT_EQ(plain.body.find(id), std::string::npos) << id << way;
        EXPECT_NE(plain.body.find("p-open"), std::string::npos) << way;
        EXPECT_EQ(
            contributor.get(way + "&private=true").problem(),
            "not-allowed: query: private: only a keeper may take private things out of the house: leave it out, "
            "or ask a keeper");
    }
    EXPECT_NE(keeper.get(ways[1] + "&private=true").body.find("918273.5"), std::string::npos);
    EXPECT_NE(keeper.get(ways[0] + "&private=true").body.find("SECRETPIECE note"), std::string::npos);
}

TEST(Privacy, ALetterMakesItsPiecesPrivate) {
    const SharedHouse house;
    Visit ben = house.as(Role::kContributor), cleo = house.as(Role::kReader);
    EXPECT_EQ(ben.post("/api/pieces", record("p-1", {{"form", "sugar"}})).status, 201);
    EXPECT_EQ(cleo.get("/api/pieces/p-1").status, 200);
    EXPECT_EQ(ben.post("/api/letters", {{"letter", {{"text", "What is it?"}, {"pieces", {"p-1"}}}}}).status, 201);
    EXPECT_EQ(cleo.get("/api/pieces/p-1").status, 404);
    EXPECT_EQ(ben.get("/api/pieces/p-1").value()["private"], true);
}

TEST(Privacy, WhatIsMadePrivateIsGoneForReadersAtOnceAndComesBack) {
    const SharedHouse house;
    Visit ben = house.as(Role::kContributor), cleo = house.as(Role::kReader);
    EXPECT_EQ(ben.post("/api/pieces", record("p-1", {{"form", "sugar"}})).status, 201);
    EXPECT_EQ(cleo.get("/api/pieces").value()["total"], 1);
    const Answer hidden = ben.post("/api/pieces/bulk", {{"ids", {"p-1"}}, {"set", {{"private", true}}}});
    EXPECT_EQ(hidden.status, 200) << hidden.body;
    EXPECT_EQ(cleo.get("/api/pieces").value()["total"], 0);
    EXPECT_EQ(cleo.get("/api/health").value()["pieces"], 0);
    EXPECT_EQ(cleo.get("/api/health").value()["data"], "");
    EXPECT_EQ(ben.get("/api/pieces/p-1/history").value()[0]["what"], "Private from now on.");
    EXPECT_EQ(ben.post("/api/changes/undo", json::object()).status, 200);
    EXPECT_EQ(cleo.get("/api/pieces").value()["total"], 1);
}

}  // namespace
}  // namespace footring::server
