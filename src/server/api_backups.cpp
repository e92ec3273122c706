// Backups as a keeper sees them: those that are kept in DIR/backups, one made now, one brought back while the house
// is open. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "exchange/json_text.h"
#include "server/app.h"
#include "server/records.h"
#include "server/routes.h"
#include "store/automatic_backups.h"
#include "store/disk.h"
#include "store/restore.h"

namespace footring::server {

namespace {

namespace fs = std::filesystem;
using nlohmann::ordered_json;

fs::path folder_of(const App& app) { return app.data / "backups"; }

// A name of the list; nothing else of the folder can be asked for.
std::expected<fs::path, Problems> backup_named(const App& app, const std::string& name) {
    const bool plain = name.ends_with(".tar") && !name.starts_with('.') &&
                       name.find_first_of(std::string_view("/\\\0", 3)) == std::string::npos;
    std::error_code error;
    const fs::path file = folder_of(app) / name;
    if (plain && fs::is_regular_file(fs::symlink_status(file, error))) return file;
    return refuse(ProblemCode::kNotFound, "backup", fmt::format("there is no backup '{}'", name),
                  "see the list of backups");
}

ordered_json info_json(const store::BackupInfo& info) {
    return {{"made", info.made},
            {"pieces", info.pieces},
            {"lots", info.lots},
            {"photographs", info.photographs},
            {"with_photographs", info.with_photographs}};
}

ordered_json backup_row(const fs::path& file) {
    std::error_code error;
    const auto bytes = fs::file_size(file, error);
    const auto info = store::look_at_backup(file);
    const std::string name = file.filename().string();
    return {{"name", name},
            {"bytes", error ? 0 : bytes},
            {"before_restoring", name.starts_with("before-")},
            {"holds", info ? info_json(*info) : ordered_json()},
            {"problem", info ? ordered_json() : exchange::problem_json(info.error())}};
}

Answered list_backups(App& app, const Request&) {
    std::vector<fs::path> files;
    std::error_code error;
    for (fs::directory_iterator at(folder_of(app), error), end; !error && at != end; at.increment(error))
        if (at->path().extension() == ".tar" && at->is_regular_file(error)) files.push_back(at->path());
    ordered_json rows = ordered_json::array();
    for (const fs::path& file : files) rows.push_back(backup_row(file));
    // The newest first; what cannot be read, last. (The iterators of JSON are none of std::ranges.)
    std::stable_sort(rows.begin(), rows.end(), [](const ordered_json& a, const ordered_json& b) {
        const auto made = [](const ordered_json& one) {
            return one["holds"].is_object() ? one["holds"]["made"].get<std::string>() : std::string();
        };
        return made(a) != made(b) ? made(a) > made(b) : a["name"] > b["name"];
    });
    const Settings& s = app.settings;
    return json_reply({{"rows", std::move(rows)},
                       {"in_database", app.house.in_database},
                       {"folder", folder_of(app).string()},
                       {"keeps",
                        {{"hours", s.backup_hours},
                         {"days", s.backup_days},
                         {"weeks", s.backup_weeks},
                         {"months", s.backup_months}}}});
}

// A backup is one of a folder; of a database its own tools make them.
std::optional<Problem> not_of_a_folder(const App& app) {
    if (!app.house.in_database) return std::nullopt;
    return Problem{ProblemCode::kConflict, "backup", "these pieces are in a database, which has backups of its own",
                   "use pg_dump, or `footring move` a copy to a folder and back that up"};
}

// As those that are made by themselves: of the database; the photographs stay where they are.
Answered make_one(App& app, const Request&) {
    if (const auto other = not_of_a_folder(app)) return refuse(*other);
    if (auto ok = store::make_folder(folder_of(app)); !ok) return refuse(ok.error());
    const auto made = store::make_backup(app.data, folder_of(app) / store::backup_name(app.now()),
                                         {.with_photographs = false}, app.now);
    if (!made) return refuse(made.error());
    return json_reply(backup_row(made->file), 201);
}

Answered check_one(App& app, const Request& request) {
    const auto file = backup_named(app, request.values[0]);
    if (!file) return refuse(file.error());
    const auto checked = store::check_backup(*file);
    if (!checked) return refuse(checked.error());
    ordered_json out = info_json(checked->info);
    out["files"] = checked->sums.size();
    return json_reply(out);
}

Answered restore_one(App& app, const Request& request) {
    if (const auto other = not_of_a_folder(app)) return refuse(*other);
    const auto file = backup_named(app, request.values[0]);
    if (!file) return refuse(file.error());
    const std::lock_guard lock(app.changing);
    const auto done = store::restore_backup(*file, app.data, app.now);
    if (!done) return refuse(done.error());
    // In what is there now, where the trail goes on.
    store::Noted row;
    row.who = app.visitor.account;
    row.what = fmt::format("Restored the backup {} of {}.", request.values[0], done->info.made);
    row.subject = "backup";
    if (!row.who.empty())
        if (auto noted = app.house.people().note(std::move(row)); !noted) return refuse(noted.error());
    app.house.forget_counts();
    ordered_json out = info_json(done->info);
    out["files"] = done->files;
    out["kept"] = done->kept.empty() ? ordered_json() : ordered_json(done->kept.filename().string());
    out["notes"] = done->notes;
    return json_reply(out);
}

}  // namespace

std::vector<Route> backup_routes() {
    return {{"GET", "/api/backups", Takes::kNone, Role::kKeeper, list_backups},
            {"POST", "/api/backups", Takes::kJson, Role::kKeeper, make_one},
            {"POST", "/api/backups/{name}/check", Takes::kJson, Role::kKeeper, check_one},
            {"POST", "/api/backups/{name}/restore", Takes::kJson, Role::kKeeper, restore_one}};
}

}  // namespace footring::server
