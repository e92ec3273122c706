// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/json.h"
#include "cli/ask_secret.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/json_page.h"
#include "server/password.h"
#include "store/people.h"

namespace footring::cli {

namespace {

nlohmann::ordered_json account_json(const store::Account& account) {
    return {{"name", account.name},
            {"role", store::name_of(account.role)},
            {"created", account.created},
            {"changed", account.changed}};
}

Outcome told(const Call& call, const Expected<store::Account>& account, std::string_view what) {
    if (!account) return refuse(account.error());
    if (call.json()) return page(json_line(account_json(*account)));
    return page(fmt::format("{} is {} {}\n", account->name, what, store::name_of(account->role)));
}

Outcome list(const Call& call, store::People& people) {
    const auto accounts = people.accounts();
    if (!accounts) return refuse(accounts.error());
    if (call.json()) return page(json_line(json_list(*accounts, account_json)));
    if (accounts->empty())
        return page("there are no accounts; `footring account add NAME --role keeper` makes one\n");
    std::string out;
    for (const store::Account& account : *accounts)
        out += fmt::format("{:<20} {:<12} since {}\n", account.name, store::name_of(account.role),
                           account.created.substr(0, 10));
    return page(std::move(out));
}

std::expected<std::string, Problem> new_secret(World& world, const std::string& name) {
    const auto password = ask_secret(world, fmt::format("Password of {}", name));
    if (!password) return std::unexpected(password.error());
    if (auto sound = server::check_password(name, *password); !sound) return std::unexpected(sound.error());
    return server::argon2id()->digest(*password);
}

Outcome account(const Call& call, World& world) {
    const std::string& what = call.arguments[0];
    const std::string name = call.arguments.size() > 1 ? call.arguments[1] : "";
    std::vector<Problem> problems;
    if (name.empty() != (what == "list"))
        problems.push_back(what == "list" ? Problem{ProblemCode::kBadInput, "NAME", "a list is of all accounts",
                                                    "leave the name out"}
                                          : Problem{ProblemCode::kBadInput, "NAME", "no account is named",
                                                    fmt::format("write footring account {} NAME", what)});
    const bool takes_role = what == "add" || what == "role";
    const auto given = call.one("--role");
    if (takes_role != given.has_value())
        problems.push_back({ProblemCode::kBadInput, "--role",
                            takes_role ? "the role is missing" : "no role is changed by this",
                            takes_role ? fmt::format("give {}", store::kRoleNames) : "leave it out"});
    if (!problems.empty()) return refuse(std::move(problems));
    if (!name.empty())
        if (auto sound = store::check_account_name(name); !sound) return refuse(sound.error());
    const store::Role role = given ? store::role_named(*given).value() : store::Role::kNobody;

    auto opened = open_cupboard(call, world, what == "add" ? WhenMissing::kMake : WhenMissing::kRefuse);
    if (!opened) return refuse(opened.error());
    // No account can have this name.
    const auto store = (*opened)->signed_by("(command line)");
    store::People& people = store->people();
    if (what == "list") return list(call, people);
    if (what == "add") {
        if (const auto known = people.account(name); known)
            return refuse({ProblemCode::kConflict, fmt::format("account {}", name), "this account is there already",
                           "choose another name, or change the one that is there"});
        auto secret = new_secret(world, name);
        if (!secret) return refuse(secret.error());
        return told(call, people.add({name, role, std::move(*secret), "", ""}), "now a");
    }
    if (const auto known = people.account(name); !known) return refuse(known.error());
    if (what == "role") return told(call, people.set_role(name, role), "now a");
    if (what == "password") {
        auto secret = new_secret(world, name);
        if (!secret) return refuse(secret.error());
        return told(call, people.set_secret(name, std::move(*secret), ""), "signed out everywhere, and still a");
    }
    if (what == "sign-out") {
        if (auto ended = people.end_all(name); !ended) return refuse(ended.error());
        return told(call, people.account(name), "signed out everywhere, and still a");
    }
    if (auto gone = people.remove(name); !gone) return refuse(gone.error());
    if (call.json()) return page(json_line({{"removed", name}}));
    return page(fmt::format("{} has no account any more\n", name));
}

}  // namespace

Command account_command() {
    return {
        .name = "account",
        .sentence = "Accounts of people who may come in when the web app is shared.",
        .detail = {"add, role, password, sign-out, remove: the account NAME. list: all of them. A password is "
                   "asked for on the terminal, or read as one line from standard input; it is never an option.",
                   "A reader sees what is not private, without what things cost; a contributor sees and changes "
                   "everything; a keeper also looks after accounts and backups. While the web app has the folder "
                   "open, use its page People instead."},
        .arguments = {{.name = "WHAT",
                       .sentence = "What to do.",
                       .takes = Takes::kChoice,
                       .choices = {"add", "role", "password", "sign-out", "remove", "list"}},
                      {.name = "NAME", .sentence = "Of the account: small letters and digits.", .least = 0}},
        .options = {cupboard_option(),
                    {.name = "--role",
                     .value = "ROLE",
                     .sentence = "With add and role: reader, contributor or keeper.",
                     .takes = Takes::kChoice,
                     .choices = {"reader", "contributor", "keeper"}}},
        .run = account};
}

}  // namespace footring::cli
