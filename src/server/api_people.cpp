// What a keeper sees and does: accounts, and who did what. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.h"
#include "server/app.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

// Where nobody signs in the person at the machine does it; no account can have this name.
std::unique_ptr<store::Store> signed_store(const App& app) {
    return app.store->signed_by(app.visitor.account.empty() ? "(this machine)" : app.visitor.account);
}

std::expected<ordered_json, Problems> person_row(const App& app, const store::Account& account) {
    const auto sessions = app.house.people().sessions(account.name);
    if (!sessions) return refuse(sessions.error());
    std::string seen;
    for (const store::Session& each : *sessions) seen = std::max(seen, each.seen);
    return ordered_json{{"name", account.name},
                        {"role", store::name_of(account.role)},
                        {"created", account.created},
                        {"changed", account.changed},
                        {"sessions", sessions->size()},
                        {"seen", seen.empty() ? ordered_json() : ordered_json(seen)},
                        {"is_you", account.name == app.visitor.account}};
}

Answered answer(const App& app, const Expected<store::Account>& account, int status) {
    if (!account) return refuse(account.error());
    auto out = person_row(app, *account);
    if (!out) return refuse(std::move(out.error()));
    return json_reply(*out, status);
}

std::expected<std::optional<Role>, Problems> role_member(const json& body) {
    const auto name = text_member(body, "role");
    if (!name) return refuse(name.error());
    if (name->empty()) return std::optional<Role>{};
    if (const auto role = store::role_named(*name)) return role;
    return refuse(ProblemCode::kBadInput, "body: role", fmt::format("there is no role '{}'", *name),
                  fmt::format("use {}", store::kRoleNames));
}

Answered people(App& app, const Request&) {
    const auto accounts = app.house.people().accounts();
    if (!accounts) return refuse(accounts.error());
    ordered_json out = ordered_json::array();
    for (const store::Account& account : *accounts) {
        auto one = person_row(app, account);
        if (!one) return refuse(std::move(one.error()));
        out.push_back(std::move(*one));
    }
    return json_reply(out);
}

Answered add_person(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto name = text_member(*body, "name"), password = text_member(*body, "password");
    if (!name) return refuse(name.error());
    if (!password) return refuse(password.error());
    const auto role = role_member(*body);
    if (!role) return refuse(role.error());
    Problems problems;
    if (auto ok = store::check_account_name(*name); !ok) problems.push_back(ok.error());
    if (!*role)
        problems.push_back(
            {ProblemCode::kBadInput, "body: role", "there is no role", fmt::format("give {}", store::kRoleNames)});
    if (auto ok = check_password(*name, *password); !ok) problems.push_back(ok.error());
    if (!problems.empty()) return refuse(std::move(problems));
    auto digest = app.house.door.passwords().digest(*password);
    if (!digest) return refuse(digest.error());
    return answer(app, signed_store(app)->people().add({*name, **role, std::move(*digest), "", ""}), 201);
}

Answered change_person(App& app, const Request& request) {
    const std::string& name = request.values[0];
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto role = role_member(*body);
    if (!role) return refuse(role.error());
    const auto password = text_member(*body, "password");
    if (!password) return refuse(password.error());
    if (!*role && password->empty())
        return refuse(ProblemCode::kBadInput, "body", "it says nothing to change", "give a role or a password");
    if (!password->empty())
        if (auto ok = check_password(name, *password); !ok) return refuse(ok.error());
    auto digest = password->empty() ? Expected<std::string>("") : app.house.door.passwords().digest(*password);
    if (!digest) return refuse(digest.error());
    const auto store = signed_store(app);
    if (*role)
        if (auto changed = store->people().set_role(name, **role); !changed) return refuse(changed.error());
    if (!password->empty()) {
        const std::string but = name == app.visitor.account ? app.visitor.session : "";
        if (auto changed = store->people().set_secret(name, std::move(*digest), but); !changed)
            return refuse(changed.error());
    }
    return answer(app, store->people().account(name), 200);
}

Answered remove_person(App& app, const Request& request) {
    if (auto gone = signed_store(app)->people().remove(request.values[0]); !gone) return refuse(gone.error());
    return json_reply({{"removed", request.values[0]}});
}

Answered sign_person_out(App& app, const Request& request) {
    if (const auto known = app.house.people().account(request.values[0]); !known) return refuse(known.error());
    const auto ended = signed_store(app)->people().end_all(request.values[0]);
    if (!ended) return refuse(ended.error());
    return json_reply({{"ended", *ended}});
}

Answered audit(App& app, const Request& request) {
    constexpr int kMostRows = 1000;
    store::NotedQuery query;
    query.who = query_text(request, "who");
    query.subject = query_text(request, "subject");
    const auto limit = query_int(request, "limit", 100, 1, kMostRows);
    if (!limit) return refuse(limit.error());
    query.limit = *limit;
    if (const std::string before = query_text(request, "before"); !before.empty()) {
        const auto number = to_number(before);
        if (!number || *number < 1 || *number > 9e15)
            return refuse(ProblemCode::kBadInput, "query: before", fmt::format("'{}' is no row", before),
                          "give the id of a row; rows before it are shown");
        query.before = static_cast<std::int64_t>(*number);
    }
    const auto rows = app.house.people().noted(query);
    if (!rows) return refuse(rows.error());
    ordered_json out = ordered_json::array();
    for (const store::Noted& each : *rows)
        out.push_back({{"id", each.id},
                       {"when", each.when},
                       {"who", each.who},
                       {"what", each.what},
                       {"subject", each.subject},
                       {"batch", each.batch == 0 ? ordered_json() : ordered_json(each.batch)},
                       {"origin", each.origin}});
    return json_reply(out);
}

}  // namespace

std::vector<Route> people_routes() {
    return {{"GET", "/api/people", Takes::kNone, Role::kKeeper, people},
            {"POST", "/api/people", Takes::kJson, Role::kKeeper, add_person},
            {"PUT", "/api/people/{name}", Takes::kJson, Role::kKeeper, change_person},
            {"DELETE", "/api/people/{name}", Takes::kNone, Role::kKeeper, remove_person},
            {"POST", "/api/people/{name}/sign-out", Takes::kJson, Role::kKeeper, sign_person_out},
            {"GET", "/api/audit", Takes::kNone, Role::kKeeper, audit}};
}

}  // namespace footring::server
