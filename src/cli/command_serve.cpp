// SPDX-License-Identifier: Apache-2.0
#include <arpa/inet.h>
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "server/desk.h"

namespace footring::cli {

namespace {

constexpr int kHighestPort = 65535;

std::optional<server::Share> share_of(const Call& call, std::vector<Problem>& problems) {
    if (!call.has("--share")) {
        for (const char* option : {"--address", "--name", "--certificate", "--key"})
            if (call.has(option))
                problems.push_back({ProblemCode::kBadInput, option,
                                    "beyond this machine there are only people with accounts, over TLS",
                                    "add --share, or leave this option out"});
        return std::nullopt;
    }
    server::Share share;
    if (const auto address = call.one("--address")) {
        share.address = *address;
        unsigned char bytes[sizeof(in6_addr)];
        if (::inet_pton(AF_INET, address->c_str(), bytes) != 1 &&
            ::inet_pton(AF_INET6, address->c_str(), bytes) != 1)
            problems.push_back({ProblemCode::kBadInput, "--address",
                                fmt::format("'{}' is no address of a machine", *address),
                                "give one in digits, such as 192.168.0.7, or 0.0.0.0 for all of this machine"});
    }
    for (const std::string& name : call.all("--name")) {
        const bool plain = !name.empty() && std::ranges::all_of(name, [](char c) {
            return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
                   c == '-';
        });
        if (plain) share.names.push_back(lower(name));
        else
            problems.push_back({ProblemCode::kBadInput, "--name", fmt::format("'{}' is no name of a machine", name),
                                "give the part of the address between https:// and the next / or :"});
    }
    share.certificate = call.one("--certificate").value_or("");
    share.key = call.one("--key").value_or("");
    if (share.certificate.empty() != share.key.empty())
        problems.push_back({ProblemCode::kBadInput, share.certificate.empty() ? "--certificate" : "--key",
                            "a certificate and its key belong together", "give both, or none for one of its own"});
    return share;
}

Outcome serve(const Call& call, World& world) {
    std::vector<Problem> problems;
    server::Options options;
    const auto settings = read_settings(call);
    if (settings) options.settings = *settings;
    else problems = settings.error();

    const bool demo = call.has("--demo");
    for (const std::string& folder : call.all("--pack")) options.packs.emplace_back(folder);
    std::vector<server::PackHome> homes;
    const bool read_only = call.has("--read-only");
    for (const std::filesystem::path& folder : options.packs) homes.push_back({folder, std::nullopt, read_only});
    bool copied = false;  // the demo pack came with the program: it stays as it came
    if (demo || options.packs.empty()) {
        if (world.share.empty())
            problems.push_back(
                {ProblemCode::kNotFound, "serve", "the demo pack is not beside the program",
                 fmt::format("add --pack DIR, or set FOOTRING_SHARE to the folder that holds {}", kDemoPack)});
        options.packs.push_back(world.share / kDemoPack);
        homes.push_back({options.packs.back(), std::nullopt, read_only});
        copied = true;
    }
    if (demo) options.demo = world.share / kDemoCupboard;
    if (law_is_there(world)) options.law = world.share / kLawPack;
    if (!world.share.empty()) options.app = world.share / "ui" / "dist";

    if (const auto text = call.one("--port")) {
        const auto port = to_int(*text);
        if (!port || *port < 0 || *port > kHighestPort)
            problems.push_back({ProblemCode::kBadInput, "--port", fmt::format("'{}' is not a port", *text),
                                fmt::format("give a number from 1 to {}, or 0 for any free one", kHighestPort)});
        else options.port = *port;
    }
    if (auto share = share_of(call, problems)) options.share = std::move(*share);
    if (const auto place = place_of(call, world, demo ? "footring-demo" : "footring")) {
        options.data = place->folder;
        options.place = *place;
        if (options.data.empty())
            problems.push_back({ProblemCode::kBadInput, "--data", "there is no home folder for copies of packs",
                                "add --data DIR"});
    } else {
        problems.push_back(place.error());
    }
    // Of a database its own tools make backups.
    if (options.place && options.place->database.empty()) {
        store::KeepBackups backups;
        backups.every_hours = options.settings.backup_hours;
        backups.days = static_cast<int>(options.settings.backup_days);
        backups.weeks = static_cast<int>(options.settings.backup_weeks);
        backups.months = static_cast<int>(options.settings.backup_months);
        options.backups = backups;
    }
    if (copied) homes.back().copies_to = options.data / "packs" / homes.back().folder.filename();
    if (const auto text = call.one("--watch-port")) {
        const auto port = to_int(*text);
        if (!port || *port < 0 || *port > kHighestPort)
            problems.push_back({ProblemCode::kBadInput, "--watch-port", fmt::format("'{}' is not a port", *text),
                                fmt::format("give a number from 1 to {}, or 0 for any free one", kHighestPort)});
        else options.watch_port = *port;
    }
    if (call.one("--log") == "json") options.log = server::LogForm::kJson;
    options.quiet = call.has("--quiet");
    options.json = call.json();
    if (!problems.empty()) return refuse(std::move(problems));
    if (const auto served = server::serve(std::move(options), std::move(homes), world.out); !served)
        return refuse(served.error());
    return {};
}

}  // namespace

Command serve_command() {
    Option data = cupboard_option();
    data.required = false;
    data.sentence = "Where your pieces are kept; ~/.local/share/footring when absent (footring-demo with --demo).";
    Option packs = pack_option(false);
    packs.sentence =
        "A reference pack, edited in its folder; may be repeated. The invented demo pack is used when none is "
        "given, "
        "and edits go to a copy of it beside your pieces.";
    return {
        .name = "serve",
        .sentence = "Opens the web app on this machine, over a folder or a database of your pieces.",
        .detail = {"Only this machine can reach it. It says where it is and runs until Ctrl+C.",
                   "With --share others can, over TLS, when they have an account: `footring account`. What a "
                   "reader, a contributor and a keeper may do is in docs/sharing.md.",
                   "Once a day, when something changed, it copies its database into the folder backups of the "
                   "folder of your pieces; `footring restore` brings one back.",
                   "With --store any number of servers, on this and other machines, work on one database; "
                   "what one changes the others show at once. --photos is then a folder that all of them "
                   "reach. Backups are the database's own."},
        .arguments = {},
        .options = {std::move(data),
                    {.name = "--port", .value = "PORT", .sentence = "8377 when absent; 0 for any free one."},
                    std::move(packs),
                    {.name = "--share",
                     .value = "",
                     .sentence = "Lets people with accounts in from other machines, over TLS."},
                    {.name = "--address",
                     .value = "ADDRESS",
                     .sentence = "Shared: where to listen; 0.0.0.0, every address of this machine, when absent."},
                    {.name = "--name",
                     .value = "HOST",
                     .sentence = "Shared: a name by which others reach this machine, besides those it knows; may "
                                 "be repeated.",
                     .repeats = true},
                    {.name = "--certificate",
                     .value = "FILE",
                     .sentence = "Shared: a certificate with its chain, PEM; one of its own when absent, whose "
                                 "fingerprint is printed.",
                     .takes = Takes::kFile},
                    {.name = "--key",
                     .value = "FILE",
                     .sentence = "Shared: the key of that certificate, PEM.",
                     .takes = Takes::kFile},
                    {.name = "--demo",
                     .value = "",
                     .sentence = "Opens the demo pack, and fills an empty cupboard with the demo pieces."},
                    {.name = "--read-only", .value = "", .sentence = "Lets no pack be edited from the app."},
                    {.name = "--watch-port",
                     .value = "PORT",
                     .sentence = "On this machine, answers GET /metrics (Prometheus) and GET /health here."},
                    {.name = "--log",
                     .value = "FORM",
                     .sentence = "Of the log: words, or json, one object a line; words when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"words", "json"}},
                    {.name = "--quiet", .value = "", .sentence = "Writes no log on standard error."},
                    set_option()},
        .run = serve};
}

}  // namespace footring::cli
