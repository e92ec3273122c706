// The server as a stranger meets it: addresses, headers, bodies and errors, over a real connection.
// SPDX-License-Identifier: Apache-2.0
#include "server/serve.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <random>
#include <set>
#include <sstream>
#include <thread>

#include "server/routes.h"
#include "server/test_server.h"

namespace footring::server {
namespace {

using namespace testing;

TEST_F(Served, SaysWhatItIs) {
    const Answer answer = at.get("/api/health");
    EXPECT_EQ(answer.status, 200);
    EXPECT_EQ(answer.type, "application/json");
    const json health = answer.value();
    EXPECT_EQ(health["status"], "ok");
    EXPECT_EQ(health["packs"][0]["id"], "ambrel-valley");
    EXPECT_EQ(health["data"], scratch->path().string());
    EXPECT_EQ(at.server->address(), "http://127.0.0.1:" + std::to_string(at.server->port()) + "/");
}

// One shape for every refusal, whoever makes it: a route, the door, the router or the HTTP library.
TEST_F(Served, EveryErrorIsAListOfProblems) {
    struct Call {
        const char *method, *path, *body, *type;
        int status;
    };
    const Call calls[] = {
        {"POST", "/api/examine", "{", "application/json", 400},
        {"POST", "/api/examine", "[]", "application/json", 400},
        {"POST", "/api/examine", "{}", "application/json", 400},
        {"POST", "/api/examine", R"({"piece": {"id": "p", "glaze": {"value": "oats"}}})", "application/json", 400},
        {"POST", "/api/examine", "\"\xFF\"", "application/json", 400},
        {"POST", "/api/examine", "{}", "text/plain", 400},
        {"POST", "/api/apart", R"({"treatments": ["t-1"]})", "application/json", 404},
        {"POST", "/api/glyph", R"({"piece": {"id": "p"}, "picked_out": ["nose"]})", "application/json", 400},
        {"GET", "/api/key?shape=nowhere", "", "", 404},
        {"GET", "/api/glyph/treatment/t-0", "", "", 404},
        {"GET", "/api/glyph/strip/nothing", "", "", 404},
        {"GET", "/api/drawing/nothing", "", "", 404},
        {"GET", "/api/book/plates", "", "", 404},
        {"GET", "/api/book/glazes/oats", "", "", 404},
        {"GET", "/api/book/glazes?limit=many", "", "", 400},
        {"GET", "/api/pieces/p-none", "", "", 404},
        {"GET", "/api/pieces?sort=price", "", "", 400},
        {"GET", "/api/pieces?decided=perhaps", "", "", 400},
        {"GET", "/api/pieces/p-none/history", "", "", 404},
        {"PUT", "/api/pieces/p-none", R"({"piece": {"id": "p-none"}, "revision": 0})", "application/json", 404},
        {"POST", "/api/pieces", R"({"piece": {"id": 1.5}})", "application/json", 400},
        {"POST", "/api/pieces/p-none/decide", R"({"treatment": "elsewhere", "revision": 1})", "application/json",
         404},
        {"POST", "/api/pieces/p-none/photos", "x", "image/jpeg", 404},
        {"POST", "/api/pieces/bulk", R"({"ids": []})", "application/json", 400},
        {"DELETE", "/api/lots/none", "", "", 404},
        {"PUT", "/api/lots/none", R"({"name": "x"})", "application/json", 404},
        {"POST", "/api/changes/99999/undo", "", "", 404},
        {"POST", "/api/changes/many/undo", "", "", 404},
        {"GET", "/api/photos/abc", "", "", 404},
        {"GET", "/api/photos/0000000000000000000000000000000000000000000000000000000000000000", "", "", 404},
        {"POST", "/api/imports", R"({"table": "none", "into": "pieces"})", "application/json", 404},
        {"POST", "/api/imports", R"({"table": "none", "into": "soup"})", "application/json", 400},
        {"POST", "/api/imports/tables", "\xff\xfe", "application/octet-stream", 400},
        {"GET", "/api/export?format=xls", "", "", 400},
        {"GET", "/api/nothing", "", "", 404},
        {"GET", "/api/%zz", "", "", 400},
        {"GET", "/api/search?q=%ff", "", "", 400},
        {"DELETE", "/api/health", "", "", 405},
        {"PATCH", "/api/health", "", "", 405},
        {"POST", "/", "x", "text/plain", 405},
        {"OPTIONS", "/api/health", "", "", 405},
    };
    const std::set<std::string> codes{"bad-input", "not-found", "too-large", "conflict", "unreadable", "store"};
    for (const Call& call : calls) {
        const Answer answer = at.send(call.method, call.path, call.body, call.type);
        SCOPED_TRACE(std::string(call.method) + " " + call.path + " " + call.body + " -> " + answer.body);
        EXPECT_EQ(answer.status, call.status);
        EXPECT_EQ(answer.type, "application/json");
        const json value = answer.value();
        ASSERT_TRUE(value.is_object() && value.size() == 1 && value.contains("problems"));
        ASSERT_FALSE(value["problems"].empty());
        for (const json& problem : value["problems"]) {
            EXPECT_EQ(problem.size(), 4u);
            for (const char* member : {"where", "what", "remedy"})
                EXPECT_TRUE(problem.contains(member) && problem[member].is_string() &&
                            !problem[member].get<std::string>().empty())
                    << member;
            EXPECT_TRUE(codes.contains(problem.value("code", "")));
        }
    }
}

TEST_F(Served, TellsEveryFaultOfAPieceAtOnce) {
    const Answer answer = at.post("/api/examine", {{"piece",
                                                    {{"id", "p"},
                                                     {"form", "plat"},
                                                     {"glaze", {{"value", "oats"}}},
                                                     {"looks", {{{"place", "rim"}, {"value", "fernpair"}}}}}}});
    EXPECT_EQ(answer.status, 400);
    EXPECT_EQ(answer.value()["problems"].size(), 3u);
    EXPECT_EQ(answer.value()["problems"][1], (json{{"code", "bad-input"},
                                                   {"where", "piece: /glaze/value"},
                                                   {"what", "there is no glaze 'oats'"},
                                                   {"remedy", "did you mean 'oat'?"}}));
}

TEST_F(Served, RefusesOtherHostsAndOrigins) {
    const std::string own = "127.0.0.1:" + std::to_string(at.server->port());
    EXPECT_EQ(at.get("/api/health", {{"Host", "evil.example"}}).status, 403);
    EXPECT_EQ(at.get("/", {{"Host", "evil.example"}}).status, 403);
    EXPECT_EQ(at.get("/api/health", {{"Host", own}, {"Host", "evil.example"}}).status, 403);
    EXPECT_EQ(at.get("/api/health", {{"Sec-Fetch-Site", "cross-site"}}).status, 403);
    const json piece = {{"piece", {{"id", "p"}}}};
    const auto from = [&](const std::string& origin) {
        return at.send("POST", "/api/examine", piece.dump(), "application/json", {{"Origin", origin}});
    };
    EXPECT_EQ(
        from("http://evil.example").problem(),
        "bad-input: Origin header: pages of other sites may not use this server: open the address that footring "
        "printed when it started");
    EXPECT_EQ(from("http://evil.example").status, 403);
    EXPECT_EQ(from("null").status, 403);
    EXPECT_EQ(from("http://" + own).status, 200);
    EXPECT_EQ(from("http://localhost:" + std::to_string(at.server->port())).status, 200);
}

TEST_F(Served, GivesNoOtherSiteLeaveToRead) {
    const Answer answer =
        at.get("/api/health", {{"Origin", "http://127.0.0.1:" + std::to_string(at.server->port())}});
    EXPECT_EQ(answer.status, 200);
    for (const auto& [name, value] : answer.headers) EXPECT_FALSE(name.starts_with("Access-Control-")) << name;
}

TEST_F(Served, SendsTheSafeHeadersWithEveryAnswer) {
    for (const char* path : {"/", "/api/health", "/api/nothing", "/book/treatments"}) {
        const Answer answer = at.get(path);
        SCOPED_TRACE(path);
        EXPECT_EQ(answer.header("Content-Security-Policy"),
                  "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; form-action "
                  "'self'; "
                  "frame-ancestors 'none'");
        EXPECT_EQ(answer.header("X-Content-Type-Options"), "nosniff");
        EXPECT_EQ(answer.header("Referrer-Policy"), "no-referrer");
        EXPECT_EQ(answer.header("Cross-Origin-Resource-Policy"), "same-origin");
        EXPECT_EQ(answer.headers.count("Content-Security-Policy"), 1u);
        EXPECT_EQ(answer.headers.count("Content-Type"), 1u);
    }
    EXPECT_EQ(at.get("/api/health").header("Cache-Control"), "no-store");
}

TEST_F(Served, ServesDrawingsInert) {
    for (const char* path :
         {"/api/drawing/fern-pair", "/api/glyph/strip/fern-pair", "/api/glyph/treatment/t-117"}) {
        const Answer answer = at.get(path);
        SCOPED_TRACE(path);
        EXPECT_EQ(answer.status, 200);
        EXPECT_EQ(answer.type, "image/svg+xml");
        const std::string policy = answer.header("Content-Security-Policy");
        EXPECT_NE(policy.find("default-src 'none'"), std::string::npos) << policy;
        EXPECT_NE(policy.find("sandbox"), std::string::npos) << policy;
    }
}

// Standard error is what goes to the log.
TEST(Server, LogsWhichRouteWasAskedForAndNeverWhichPiece) {
    for (const LogForm form : {LogForm::kWords, LogForm::kJson}) {
        Scratch scratch;
        Options options = demo_options(scratch.path());
        options.quiet = false;
        options.log = form;
        ::testing::internal::CaptureStderr();
        {
            const Running running(options);
            EXPECT_EQ(running.post("/api/pieces", record("p-telling", {{"form", "sugar"}})).status, 201);
            EXPECT_EQ(running.get("/api/pieces/p-telling?q=telling").status, 200);
            EXPECT_EQ(running.get("/api/no-such-telling").status, 404);
            EXPECT_EQ(running.get("/cupboard/p-telling").status, 404);  // no app is built here
        }
        const std::string log = ::testing::internal::GetCapturedStderr();
        EXPECT_EQ(log.find("telling"), std::string::npos) << log;
        EXPECT_NE(log.find("/api/pieces/{id}"), std::string::npos) << log;
        int lines = 0;
        std::istringstream all(log);
        for (std::string line; std::getline(all, line);) {
            ++lines;
            if (form == LogForm::kWords) continue;
            const json event = json::parse(line, nullptr, false);
            ASSERT_TRUE(event.is_object()) << line;
            EXPECT_TRUE(event.contains("time") && event.contains("level") && event.contains("event")) << line;
        }
        EXPECT_EQ(lines, 5) << log;
    }
}

TEST(Server, LetsWatchersReadNumbersAndNothingOfWhatIsKept) {
    Scratch scratch;
    Options options = demo_options(scratch.path());
    options.watch_port = 0;
    const Running running(options);
    EXPECT_EQ(running.post("/api/pieces", record("p-telling", {{"form", "sugar"}})).status, 201);
    EXPECT_EQ(running.get("/api/pieces/p-telling").status, 200);
    EXPECT_EQ(running.get("/api/pieces/p-none").status, 404);
    httplib::Client client("127.0.0.1", running.server->watch_port().value());
    const auto health = client.Get("/health");
    ASSERT_TRUE(health);
    EXPECT_EQ(health->body, "ok\n");
    const auto metrics = client.Get("/metrics");
    ASSERT_TRUE(metrics);
    EXPECT_EQ(metrics->get_header_value("Content-Type"), "text/plain; version=0.0.4; charset=utf-8");
    for (const char* line :
         {"footring_requests_total{method=\"GET\",route=\"/api/pieces/{id}\",status=\"200\"} 1\n",
          "footring_requests_total{method=\"GET\",route=\"/api/pieces/{id}\",status=\"404\"} 1\n",
          "footring_request_seconds_count 3\n", "footring_request_seconds_bucket{le=\"+Inf\"} 3\n",
          "# TYPE footring_requests_total counter\n"})
        EXPECT_NE(metrics->body.find(line), std::string::npos) << line << metrics->body;
    EXPECT_EQ(metrics->body.find("telling"), std::string::npos);
    EXPECT_EQ(client.Get("/api/pieces")->status, 404);
    EXPECT_EQ(client.Get("/metrics", {{"Host", "evil.example"}})->status, 403);
}

TEST_F(Served, NeitherCompressesNorCutsItsAnswers) {
    const Answer whole = at.get("/api/openapi.json");
    const Answer asked =
        at.get("/api/openapi.json", {{"Accept-Encoding", "gzip, br"}, {"Range", "bytes=0-9,90000000-"}});
    EXPECT_EQ(asked.status, 200);
    EXPECT_EQ(asked.header("Content-Encoding"), "");
    EXPECT_EQ(asked.body, whole.body);
}

TEST_F(Served, AnswersHeadWithoutABody) {
    const Answer answer = at.send("HEAD", "/api/health");
    EXPECT_EQ(answer.status, 200);
    EXPECT_EQ(answer.body, "");
    EXPECT_NE(answer.header("Content-Length"), "0");
}

TEST_F(Served, RefusesBodiesThatAreTooLarge) {
    const std::string large(kMostJson + 1, ' ');
    const Answer answer = at.send("POST", "/api/examine", large);
    EXPECT_EQ(answer.status, 413);
    EXPECT_EQ(answer.problem(), "too-large: body: it is larger than 16 MB: send it in several parts");
    EXPECT_EQ(at.post("/api/pieces", record("p-large")).status, 201);
    const std::string photo(80'000'001, 'x');
    const Answer refused = at.send("POST", "/api/pieces/p-large/photos?name=a.jpg", photo, "image/jpeg");
    EXPECT_EQ(refused.status, 413);
    EXPECT_EQ(refused.problem(), "too-large: body: it is larger than 80 MB: send a smaller photograph");
}

// A chunked body does not say how long it is.
TEST_F(Served, CountsChunkedBodiesToo) {
    httplib::Client client("127.0.0.1", at.server->port());
    client.set_write_timeout(30);
    const std::string block(1 << 20, ' ');
    std::size_t sent = 0;
    const auto result = client.Post(
        "/api/examine",
        [&](std::size_t, httplib::DataSink& sink) {
            if (sent >= 18) sink.done();
            else sink.write(block.data(), block.size());
            ++sent;
            return true;
        },
        "application/json");
    ASSERT_TRUE(result);
    EXPECT_EQ(result->status, 413);
}

// What a route does not read must never be read as a request of its own: a foreign page could smuggle one in.
TEST_F(Served, NeverTakesABodyForAnotherRequest) {
    const std::string own = "127.0.0.1:" + std::to_string(at.server->port());
    const std::string smuggled = "POST /api/pieces HTTP/1.1\r\nHost: " + own +
                                 "\r\nContent-Type: application/json\r\nContent-Length: 27\r\n\r\n"
                                 "{\"piece\":{\"id\":\"smuggled\"}}";
    for (const char* method : {"GET", "POST", "DELETE", "OPTIONS"}) {
        httplib::Client client("127.0.0.1", at.server->port());
        client.set_keep_alive(true);
        httplib::Request request;
        request.method = method;
        request.path = "/api/health";
        request.headers = {{"Origin", "http://evil.example"}};
        request.body = smuggled;
        request.set_header("Content-Type", "text/plain");
        std::ignore = client.send(request);
    }
    EXPECT_EQ(at.get("/api/pieces/smuggled").status, 404);
}

// Bytes as they come over the wire, spoilt in every way: the program answers or hangs up, and goes on.
TEST_F(Served, SurvivesSpoiltRequests) {
    const int port = at.server->port();
    const std::string own = "127.0.0.1:" + std::to_string(port);
    const std::vector<std::string> whole = {
        "GET /api/pieces?q=fern HTTP/1.1\r\nHost: " + own + "\r\n\r\n",
        "POST /api/examine HTTP/1.1\r\nHost: " + own +
            "\r\nContent-Type: application/json\r\nContent-Length: 23\r\n\r\n{\"piece\": {\"id\": \"p\"}}\n",
        "PUT /api/pieces/p HTTP/1.1\r\nHost: " + own +
            "\r\nTransfer-Encoding: chunked\r\nContent-Type: application/json\r\n\r\n2\r\n{}\r\n0\r\n\r\n",
        "GET /api/photos/" + std::string(64, 'a') + " HTTP/1.1\r\nHost: " + own +
            "\r\nRange: bytes=0-1,5-\r\n\r\n"};
    std::mt19937 random(1);
    const auto below = [&](std::size_t most) { return static_cast<std::size_t>(random()) % most; };
    const std::vector<std::string> bits = {"\r\n",
                                           "\n",
                                           "%00",
                                           "%",
                                           "\xff",
                                           ":",
                                           " ",
                                           "Content-Length: -1\r\n",
                                           "Content-Length: 99999999999999999999\r\n",
                                           "Transfer-Encoding: chunked\r\n",
                                           "Expect: 100-continue\r\n",
                                           std::string(9000, 'a'),
                                           std::string(1, '\0')};
    for (int i = 0; i < 400; ++i) {
        std::string bytes = whole[below(whole.size())];
        for (std::size_t changes = 1 + below(4); changes > 0; --changes) {
            const std::size_t where = below(bytes.size());
            if (below(3) == 0) bytes.insert(where, bits[below(bits.size())]);
            else if (below(2) == 0) bytes[where] = static_cast<char>(random());
            else bytes.erase(where, 1 + below(20));
            if (bytes.empty()) bytes = " ";
        }
        const int wire = ::socket(AF_INET, SOCK_STREAM, 0);
        sockaddr_in to{};
        to.sin_family = AF_INET;
        to.sin_port = htons(static_cast<std::uint16_t>(port));
        to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        ASSERT_EQ(::connect(wire, reinterpret_cast<sockaddr*>(&to), sizeof to), 0);
        std::ignore = ::send(wire, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        ::shutdown(wire, SHUT_WR);
        char answer[4096];
        const ssize_t got = ::recv(wire, answer, sizeof answer, 0);
        if (got > 0) {
            const std::string head(answer, static_cast<std::size_t>(got));
            EXPECT_TRUE(head.starts_with("HTTP/1.1 ")) << bytes << head;
            EXPECT_FALSE(head.starts_with("HTTP/1.1 5")) << bytes << head;
        }
        ::close(wire);
    }
    EXPECT_EQ(at.get("/api/health").status, 200);
}

TEST_F(Served, ServesNothingOutsideOfTheApp) {
    for (const char* path : {"/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/..%2f..%2fetc%2fpasswd",
                             "/assets/../../footring.db", "/%5c..%5cfootring.db", "/footring.db", "/.git/config"}) {
        const Answer answer = at.get(path);
        EXPECT_EQ(answer.status, 404) << path;
        EXPECT_EQ(answer.body.find("root:"), std::string::npos);
    }
}

TEST_F(Served, KeepsItsDocumentAndItsRoutesInStep) {
    const Answer answer = at.get("/api/openapi.json");
    std::ifstream file(root() / "src" / "server" / "openapi.json");
    EXPECT_EQ(answer.body, std::string(std::istreambuf_iterator<char>(file), {}));
    const json document = answer.value();
    EXPECT_EQ(document["info"]["version"], at.get("/api/health").value()["version"]);
    std::set<std::string> documented, served;
    for (const auto& [path, operations] : document["paths"].items())
        for (const auto& [method, operation] : operations.items())
            if (method != "parameters") documented.insert(method + " " + path);
    for (const Route& route : routes()) {
        std::string method(route.method);
        std::ranges::transform(method, method.begin(), [](char c) { return static_cast<char>(std::tolower(c)); });
        served.insert(method + " " + std::string(route.pattern));
    }
    EXPECT_EQ(documented, served);
}

TEST_F(Served, AnswersManyAtOnceAndAlwaysTheSame) {
    const std::vector<std::string> forms{"dinner-plate", "sugar", "", "pie-plate"};
    const auto ask = [&](const std::string& form) {
        json piece{{"id", "p"}, {"looks", {{{"place", "rim"}, {"value", "fern-pair"}}}}};
        if (!form.empty()) piece["form"] = form;
        return at.post("/api/examine", {{"piece", piece}});
    };
    std::vector<std::string> expected;
    for (const std::string& form : forms) {
        const Answer answer = ask(form);
        ASSERT_EQ(answer.status, 200) << answer.body;
        expected.push_back(answer.body);
    }
    std::vector<std::thread> threads;
    std::atomic<int> same = 0;
    for (int thread = 0; thread < 8; ++thread)
        threads.emplace_back([&, thread] {
            for (int round = 0; round < 4; ++round) {
                const auto i = static_cast<std::size_t>(thread + round) % forms.size();
                same += ask(forms[i]).body == expected[i] ? 1 : 0;
            }
        });
    for (std::thread& thread : threads) thread.join();
    EXPECT_EQ(same, 8 * 4);
}

TEST(Server, SaysWhyItDoesNotStart) {
    Scratch scratch;
    Options options = demo_options(scratch.path() / "data");
    options.packs.clear();
    EXPECT_EQ(to_line(Server::start(options).error()[0]),
              "--pack: no reference pack is given: name at least one pack folder");
    options.packs = {scratch.path() / "no-pack"};
    EXPECT_EQ(Server::start(options).error()[0].code, ProblemCode::kNotFound);
}

TEST(Server, LeavesAPortAndADataFolderToWhoeverHasThem) {
    Scratch scratch;
    const Running first(demo_options(scratch.path() / "one"));
    Options options = demo_options(scratch.path() / "two");
    options.port = first.server->port();
    const auto second = Server::start(options);
    ASSERT_FALSE(second.has_value());
    EXPECT_EQ(to_line(second.error()[0]),
              "port " + std::to_string(options.port) +
                  ": another program uses it, or it is not allowed: stop that program, or choose another port with "
                  "--port, such as --port 0 for any free one");
    const auto third = Server::start(demo_options(scratch.path() / "one"));
    ASSERT_FALSE(third.has_value());
    EXPECT_EQ(third.error()[0].code, ProblemCode::kStore);
}

TEST(Server, StopsTwiceWithoutHarmAndLetsItsPortGo) {
    Scratch scratch;
    Options options = demo_options(scratch.path());
    {
        const Running running(options);
        options.port = running.server->port();
        EXPECT_TRUE(running.server->running());
        running.server->stop();
        running.server->stop();
        EXPECT_FALSE(running.server->running());
        EXPECT_EQ(running.get("/api/health").status, -1);
    }
    EXPECT_EQ(Running(options).get("/api/health").status, 200);
}

TEST(Server, FillsAnEmptyCupboardWithTheDemoAndNeverAgain) {
    Scratch scratch;
    Options options = demo_options(scratch.path());
    options.demo = root() / "demo" / "cupboard";
    std::int64_t pieces = 0;
    {
        const Running running(options);
        pieces = running.get("/api/health").value()["pieces"].get<std::int64_t>();
        EXPECT_EQ(pieces, 120);
        const json all = running.get("/api/pieces?limit=1000").value()["rows"];
        json ids = json::array();
        for (const json& row : all) ids.push_back(row["piece"]["id"]);
        EXPECT_EQ(running.post("/api/pieces/bulk", {{"ids", ids}, {"remove", true}}).status, 200);
    }
    EXPECT_EQ(Running(options).get("/api/health").value()["pieces"], 0);
}

}  // namespace
}  // namespace footring::server
