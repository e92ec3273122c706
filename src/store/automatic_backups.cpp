// SPDX-License-Identifier: Apache-2.0
#include "store/automatic_backups.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <map>
#include <set>

#include "store/backup_turn.h"
#include "store/disk.h"
#include "store/sqlite_file.h"
#include "store/tar.h"

namespace footring::store {

namespace fs = std::filesystem;

namespace {

using std::chrono::sys_days;
using std::chrono::sys_seconds;

constexpr std::string_view kBegin = "footring-", kBefore = "before-", kEnd = ".tar";

// "2026-03-01T09-30-00Z" (or with colons) as a moment.
std::optional<sys_seconds> moment_of(std::string_view text) {
    constexpr std::string_view kShape = "0000-00-00T00:00:00Z";
    if (text.size() != kShape.size()) return std::nullopt;
    for (std::size_t i = 0; i < kShape.size(); ++i) {
        const bool digit = text[i] >= '0' && text[i] <= '9';
        if (kShape[i] == '0' ? !digit : text[i] != kShape[i] && !(kShape[i] == ':' && text[i] == '-'))
            return std::nullopt;
    }
    const auto number = [&](std::size_t at, std::size_t digits) {
        int value = 0;
        std::from_chars(text.data() + at, text.data() + at + digits, value);
        return value;
    };
    using namespace std::chrono;
    const year_month_day day{year{number(0, 4)}, month{static_cast<unsigned>(number(5, 2))},
                             std::chrono::day{static_cast<unsigned>(number(8, 2))}};
    if (!day.ok()) return std::nullopt;
    return sys_days{day} + hours{number(11, 2)} + minutes{number(14, 2)} + seconds{number(17, 2)};
}
// Of "footring-2026-03-01T09-30-00Z.tar".
std::optional<sys_seconds> moment_in(std::string_view name) {
    if (!name.starts_with(kBegin) || !name.ends_with(kEnd)) return std::nullopt;
    name.remove_prefix(kBegin.size());
    name.remove_suffix(kEnd.size());
    return moment_of(name);
}

int week_of(sys_days day) {
    constexpr int kThursday = 3;  // 1 January 1970, counted from Monday
    const auto days = day.time_since_epoch().count() + kThursday;
    return static_cast<int>(days >= 0 ? days / 7 : (days - 6) / 7);
}
int month_of(sys_days day) {
    const std::chrono::year_month_day date{day};
    return static_cast<int>(date.year()) * 12 + static_cast<int>(static_cast<unsigned>(date.month()));
}

std::vector<std::string> names_in(const fs::path& folder) {
    std::vector<std::string> out;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error))
        out.push_back(at->path().filename().string());
    return out;
}

}  // namespace

std::vector<std::string> no_longer_kept(std::vector<std::string> names, const KeepBackups& keep) {
    std::map<sys_seconds, std::string, std::greater<>> ours;  // newest first
    std::vector<std::string> before, out;
    for (std::string& name : names) {
        if (const auto moment = moment_in(name)) ours.emplace(*moment, name);
        else if (name.starts_with(kBefore) && name.ends_with(kEnd)) before.push_back(std::move(name));
    }
    std::set<sys_days> days;
    std::set<int> weeks, months;
    for (const auto& [moment, name] : ours) {
        const auto day = std::chrono::floor<std::chrono::days>(moment);
        const auto newest_of = [](auto& seen, auto which, int most) {
            return std::ssize(seen) < most && seen.insert(which).second;
        };
        const bool of_day = newest_of(days, day, keep.days), of_week = newest_of(weeks, week_of(day), keep.weeks),
                   of_month = newest_of(months, month_of(day), keep.months);
        if (!of_day && !of_week && !of_month && &name != &ours.begin()->second) out.push_back(name);
    }
    // By the moment at the end of their names: "before-footring-...", "before-2-footring-...".
    std::ranges::sort(before, std::greater<>(), [](const std::string& name) {
        const std::size_t at = name.find(kBegin);
        return at == std::string::npos ? name : name.substr(at);
    });
    for (std::size_t i = static_cast<std::size_t>(keep.before_restoring); i < before.size(); ++i)
        if (before[i].find(kBegin) != std::string::npos) out.push_back(before[i]);
    return out;
}

Expected<std::optional<Made>> backup_when_due(const fs::path& folder, const KeepBackups& keep, const Now& now) {
    const fs::path backups = folder / "backups";
    const std::string moment = now();
    const auto present = moment_of(moment);
    if (!present)
        return fail(ProblemCode::kOurFault, "clock", "the clock gave '" + moment + "'", "report this as a mistake");
    std::optional<std::pair<sys_seconds, std::string>> newest;  // that is not of a time to come
    if (const BackupTurn turn(backups, Waiting::kNotAtAll); turn.ours())
        for (const std::string& name : names_in(backups)) {
            std::error_code ignored;  // what a crash left of one; nobody works on it now
            if (name.ends_with(".tar.part") || name.find(".tar.database") != std::string::npos)
                fs::remove(backups / name, ignored);
        }
    for (const std::string& name : names_in(backups)) {
        if (const auto made = moment_in(name); made && *made <= *present && (!newest || *made > newest->first))
            newest = {*made, name};
    }
    const auto interval = std::chrono::duration<double, std::ratio<3600>>(keep.every_hours);
    if (newest && *present - newest->first < interval) return std::nullopt;
    auto there = SqliteFile::open(folder / kDatabase);
    if (!there) return std::unexpected(there.error());
    const auto changes = there->number("SELECT COALESCE(MAX(id), 0) FROM change");
    if (!changes) return std::unexpected(changes.error());
    if (*changes == 0) return std::nullopt;
    // What the newest one knows of the history stands at its beginning.
    if (newest)
        if (const auto info = look_at_backup(backups / newest->second); info && info->changes == *changes)
            return std::nullopt;

    if (auto ok = make_folder(backups); !ok) return std::unexpected(ok.error());
    auto made = make_backup(folder, backups / backup_name(moment), {.with_photographs = false}, now);
    if (!made) return std::unexpected(made.error());
    for (const std::string& name : no_longer_kept(names_in(backups), keep)) {
        std::error_code error;
        fs::remove(backups / name, error);
        if (error) return std::unexpected(disk_problem(backups / name, error.value()));
    }
    return std::move(*made);
}

}  // namespace footring::store
