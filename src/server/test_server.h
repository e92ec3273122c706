// server/test_server.h - a real server on a free port over the demo pack, and a client for it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <gtest/gtest.h>
#include <httplib.h>

#include <filesystem>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "base/problem.h"
#include "server/serve.h"

namespace footring::server::testing {

namespace fs = std::filesystem;
using nlohmann::json;

inline fs::path root() { return FOOTRING_ROOT; }

// A folder that goes when the test ends.
class Scratch {
  public:
    Scratch() {
        std::string name = (fs::temp_directory_path() / "footring-server-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        path_ = name;
    }
    ~Scratch() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    const fs::path& path() const { return path_; }

  private:
    fs::path path_;
};

inline void write(const fs::path& path, const std::string& text) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
}

inline Options demo_options(const fs::path& data) {
    Options options;
    options.data = data;
    options.port = 0;
    options.packs = {root() / "packs" / "ambrel-valley"};
    options.quiet = true;
    return options;
}

struct Answer {
    int status = 0;
    std::string type, body;
    httplib::Headers headers;

    json value() const { return json::parse(body, nullptr, false); }
    std::string header(const std::string& name) const {
        const auto found = headers.find(name);
        return found == headers.end() ? "" : found->second;
    }
    // "code: where: what: remedy" of the first problem.
    std::string problem() const {
        const json all = value();
        if (!all.is_object() || !all.contains("problems") || all["problems"].empty()) return "no problem: " + body;
        const json& first = all["problems"][0];
        return first.value("code", "?") + ": " + first.value("where", "?") + ": " + first.value("what", "?") +
               ": " + first.value("remedy", "?");
    }
};

// Starts in the constructor; a test that needs other options starts its own.
class Running {
  public:
    explicit Running(Options options) {
        auto started = Server::start(std::move(options));
        if (!started) throw std::runtime_error(to_line(started.error().front()));
        server = std::move(*started);
    }
    Answer send(const std::string& method, const std::string& path, const std::string& body = "",
                const std::string& type = "application/json", httplib::Headers headers = {}) const {
        httplib::Client client("127.0.0.1", server->port());
        client.set_read_timeout(30);
        client.set_write_timeout(30);
        httplib::Request request;
        request.method = method;
        request.path = path;
        request.headers = std::move(headers);
        request.body = body;
        if (!body.empty()) request.set_header("Content-Type", type);
        const auto result = client.send(request);
        if (!result) return {.status = -1, .type = "", .body = httplib::to_string(result.error()), .headers = {}};
        return {result->status, result->get_header_value("Content-Type"), result->body, result->headers};
    }
    Answer get(const std::string& path, httplib::Headers headers = {}) const {
        return send("GET", path, "", "", std::move(headers));
    }
    Answer post(const std::string& path, const json& body) const { return send("POST", path, body.dump()); }
    Answer put(const std::string& path, const json& body) const { return send("PUT", path, body.dump()); }

    std::unique_ptr<Server> server;
};

// One server for all tests of a suite that do not care what the others stored.
struct Served : ::testing::Test {
    static void SetUpTestSuite() {
        scratch = std::make_unique<Scratch>();
        running = std::make_unique<Running>(demo_options(scratch->path()));
    }
    static void TearDownTestSuite() {
        running.reset();
        scratch.reset();
    }
    static inline std::unique_ptr<Scratch> scratch;
    static inline std::unique_ptr<Running> running;
    const Running& at = *running;
};

inline json record(const std::string& id, json piece = json::object()) {
    piece["id"] = id;
    return {{"piece", piece}, {"lot", ""}, {"place", ""}, {"currency", ""}, {"note", ""}, {"revision", 0}};
}

}  // namespace footring::server::testing
