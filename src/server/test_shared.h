// server/test_shared.h - a house that is shared, over TLS on a free port, with somebody of each role, and a browser
// of theirs. SPDX-License-Identifier: Apache-2.0
#pragma once

#include "server/door.h"
#include "server/test_server.h"
#include "store/store.h"

namespace footring::server::testing {

inline constexpr const char* kPassword = "correct horse battery";

// As cheap as the library lets it be: tests sign in often.
inline std::unique_ptr<Passwords> quick_passwords() { return argon2id({1, 8192}); }

// ada keeps, ben contributes, cleo reads.
inline void add_people(store::Store& store) {
    const auto passwords = quick_passwords();
    for (const auto& [name, role] :
         {std::pair<const char*, Role>{"ada", Role::kKeeper}, {"ben", Role::kContributor}, {"cleo", Role::kReader}})
        if (!store.people().add({name, role, passwords->digest(kPassword).value(), "", ""}))
            throw std::runtime_error("no account for the test");
}
inline std::string name_with(Role role) {
    return role == Role::kKeeper ? "ada" : role == Role::kContributor ? "ben" : "cleo";
}

inline Options shared_options(const fs::path& data) {
    Options options = demo_options(data);
    options.share = Share{};
    options.share->address = "127.0.0.1";
    options.passwords = quick_passwords();
    // The tests ask faster than people do.
    options.settings.share_requests_per_second = options.settings.share_requests_at_once = 1'000'000;
    return options;
}

// One browser: it keeps the cookie that it got.
class Visit {
  public:
    explicit Visit(const Server& server) : port_(server.port()) {}
    Answer send(const std::string& method, const std::string& path, const std::string& body = "",
                const std::string& type = "application/json", httplib::Headers headers = {}) {
        httplib::SSLClient client("127.0.0.1", port_);
        client.enable_server_certificate_verification(false);
        client.set_read_timeout(30);
        httplib::Request request;
        request.method = method;
        request.path = path;
        request.headers = std::move(headers);
        request.body = body;
        if (!body.empty()) request.set_header("Content-Type", type);
        if (!cookie.empty()) request.set_header("Cookie", cookie);
        const auto result = client.send(request);
        if (!result) return {.status = -1, .type = "", .body = httplib::to_string(result.error()), .headers = {}};
        return {result->status, result->get_header_value("Content-Type"), result->body, result->headers};
    }
    Answer get(const std::string& path) { return send("GET", path); }
    Answer post(const std::string& path, const json& body) { return send("POST", path, body.dump()); }
    Answer sign_in(const std::string& name, const std::string& password = kPassword) {
        const Answer answer = post("/api/door/sign-in", {{"name", name}, {"password", password}});
        if (answer.status == 200) {
            const std::string set = answer.header("Set-Cookie");
            cookie = set.substr(0, set.find(';'));
        }
        return answer;
    }
    std::string cookie;

  private:
    int port_;
};

// `fill` gets the store before the house opens.
class SharedHouse {
  public:
    explicit SharedHouse(const std::function<void(store::Store&)>& fill = {},
                         const std::function<void(Options&)>& with = {}) {
        {
            auto store = store::open_sqlite(scratch_.path() / "data", [] { return "2026-03-01T09:30:00Z"; });
            if (!store) throw std::runtime_error(to_line(store.error()));
            add_people(**store);
            if (fill) fill(**store);
        }
        Options options = shared_options(scratch_.path() / "data");
        if (with) with(options);
        auto started = Server::start(std::move(options));
        if (!started) throw std::runtime_error(to_line(started.error().front()));
        server = std::move(*started);
    }
    fs::path data() const { return scratch_.path() / "data"; }
    Visit visit() const { return Visit(*server); }
    Visit as(Role role) const {
        Visit made(*server);
        if (role != Role::kNobody && made.sign_in(name_with(role)).status != 200)
            throw std::runtime_error("nobody could sign in");
        return made;
    }

  private:
    Scratch scratch_;

  public:
    std::unique_ptr<Server> server;
};

}  // namespace footring::server::testing
