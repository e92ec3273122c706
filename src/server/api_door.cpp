// The door of a shared house: who one is, signing in and out, one's own password.
// SPDX-License-Identifier: Apache-2.0
#include "server/app.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::ordered_json;

ordered_json who(const Door& door, const Visitor& visitor) {
    const bool known = visitor.role != Role::kNobody;
    return {{"shared", door.shared()},
            {"account", visitor.account.empty() ? ordered_json() : ordered_json(visitor.account)},
            {"role", known ? ordered_json(store::name_of(visitor.role)) : ordered_json()}};
}

std::expected<void, Problems> shared_only(const App& app) {
    if (app.house.door.shared()) return {};
    return refuse(ProblemCode::kBadInput, "sign-in", "nobody signs in here: this house is not shared",
                  "start footring with --share to let others in");
}

Answered door(App& app, const Request& request) { return json_reply(who(app.house.door, request.visitor)); }

Answered sign_in(App& app, const Request& request) {
    if (auto shared = shared_only(app); !shared) return refuse(std::move(shared.error()));
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto name = text_member(*body, "name"), password = text_member(*body, "password");
    if (!name) return refuse(name.error());
    if (!password) return refuse(password.error());
    auto done = app.house.door.sign_in(*name, *password, request.visitor.origin);
    if (!done) return refuse(done.error());
    Reply reply = json_reply(who(app.house.door, done->visitor));
    reply.headers.emplace_back("Set-Cookie", std::move(done->cookie));
    return reply;
}

// The browser forgets the pictures that it kept, too: the next person at it may be a reader.
void sign_off(Reply& reply, std::string cookie) {
    reply.headers.emplace_back("Set-Cookie", std::move(cookie));
    reply.headers.emplace_back("Clear-Site-Data", "\"cache\"");
}

Answered sign_out(App& app, const Request& request) {
    if (auto shared = shared_only(app); !shared) return refuse(std::move(shared.error()));
    auto cookie = app.house.door.sign_out(request.visitor);
    if (!cookie) return refuse(cookie.error());
    Reply reply = json_reply(who(app.house.door, {}));
    sign_off(reply, std::move(*cookie));
    return reply;
}

Answered sign_out_everywhere(App& app, const Request& request) {
    if (auto shared = shared_only(app); !shared) return refuse(std::move(shared.error()));
    const auto ended = app.house.people().end_all(request.visitor.account);
    if (!ended) return refuse(ended.error());
    Reply reply = json_reply({{"ended", *ended}});
    auto cookie = app.house.door.sign_out({});
    if (!cookie) return refuse(cookie.error());
    sign_off(reply, std::move(*cookie));
    return reply;
}

Answered sessions(App& app, const Request& request) {
    const auto all = app.house.people().sessions(request.visitor.account);
    if (!all) return refuse(all.error());
    ordered_json out = ordered_json::array();
    for (const store::Session& each : *all)
        out.push_back({{"begun", each.begun},
                       {"seen", each.seen},
                       {"origin", each.origin},
                       {"this_one", each.digest == request.visitor.session}});
    return json_reply(out);
}

Answered password(App& app, const Request& request) {
    if (auto shared = shared_only(app); !shared) return refuse(std::move(shared.error()));
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto before = text_member(*body, "before"), after = text_member(*body, "after");
    if (!before) return refuse(before.error());
    if (!after) return refuse(after.error());
    if (auto done = app.house.door.change_password(request.visitor, *before, *after); !done)
        return refuse(done.error());
    return json_reply(who(app.house.door, request.visitor));
}

}  // namespace

std::vector<Route> door_routes() {
    return {{"GET", "/api/door", Takes::kNone, Role::kNobody, door},
            {"POST", "/api/door/sign-in", Takes::kJson, Role::kNobody, sign_in},
            {"POST", "/api/door/sign-out", Takes::kJson, Role::kNobody, sign_out},
            {"POST", "/api/door/sign-out-everywhere", Takes::kJson, Role::kReader, sign_out_everywhere},
            {"GET", "/api/door/sessions", Takes::kNone, Role::kReader, sessions},
            {"PUT", "/api/door/password", Takes::kJson, Role::kReader, password}};
}

}  // namespace footring::server
