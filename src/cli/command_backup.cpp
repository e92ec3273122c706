// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/json_page.h"
#include "store/restore.h"

namespace footring::cli {

namespace {

nlohmann::ordered_json info_json(const store::BackupInfo& info) {
    return {{"made", info.made}, {"tables", info.tables},           {"pieces", info.pieces},
            {"lots", info.lots}, {"photographs", info.photographs}, {"with_photographs", info.with_photographs}};
}
std::string counted(std::int64_t count, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}
std::string contents(const store::BackupInfo& info) {
    return fmt::format("{} in {}, {}{}", counted(info.pieces, "piece", "pieces"), counted(info.lots, "lot", "lots"),
                       counted(info.photographs, "photograph", "photographs"),
                       info.with_photographs ? "" : " (the photographs themselves are not in it)");
}
std::string lines_of(const std::vector<std::string>& notes) {
    std::string out;
    for (const std::string& note : notes) out += fmt::format("note: {}\n", note);
    return out;
}

Outcome backup(const Call& call, World&) {
    if (call.has("--check")) {
        const auto checked = store::check_backup(call.arguments[0]);
        if (!checked) return refuse(checked.error());
        if (!call.json())
            return page(fmt::format("{} is whole: {}, made {}\n", call.arguments[0], contents(checked->info),
                                    checked->info.made));
        auto told = info_json(checked->info);
        told["file"] = call.arguments[0];
        told["files"] = checked->sums.size();
        told["bytes"] = checked->bytes;
        return page(json_line(told));
    }
    if (!call.one("--data"))
        return refuse({ProblemCode::kBadInput, "--data", "no folder of pieces is named",
                       "add --data DIR, or --check to check a backup that is there"});
    const auto made = store::make_backup(*call.one("--data"), call.arguments[0],
                                         {.with_photographs = !call.has("--without-photographs")}, utc_now);
    if (!made) return refuse(made.error());
    const store::Backup& done = made->backup;
    if (!call.json())
        return page(fmt::format("{}, in {}\n{}", contents(done.info), made->file.string(), lines_of(done.notes)));
    auto told = info_json(done.info);
    told["file"] = made->file.string();
    told["files"] = done.sums.size();
    told["bytes"] = done.bytes;
    told["notes"] = done.notes;
    return page(json_line(told));
}

Outcome restore(const Call& call, World&) {
    const auto done = store::restore_backup(call.arguments[0], *call.one("--data"), utc_now);
    if (!done) return refuse(done.error());
    if (!call.json())
        return page(fmt::format(
            "{}, as they were {}\n{}{}", contents(done->info), done->info.made,
            done->kept.empty() ? "" : fmt::format("what was there before is in {}\n", done->kept.string()),
            lines_of(done->notes)));
    auto told = info_json(done->info);
    told["files"] = done->files;
    told["kept"] =
        done->kept.empty() ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(done->kept.string());
    told["notes"] = done->notes;
    return page(json_line(told));
}

}  // namespace

Command backup_command() {
    Option data = data_option();
    data.required = false;
    return {
        .name = "backup",
        .sentence = "Copies a folder of pieces into one file, also while the web app has it open.",
        .detail = {"The file is a tar file with the database of one moment, the photographs and a list of SHA-256 "
                   "checksums. It is read back and compared before it gets its name, and never replaces another."},
        .arguments = {{.name = "OUT",
                       .sentence = "The file to write; in a folder that is there it gets a name of its own.",
                       .takes = Takes::kFile}},
        .options = {std::move(data),
                    {.name = "--without-photographs",
                     .value = "",
                     .sentence = "Copies only the database; the photographs stay where they are."},
                    {.name = "--check",
                     .value = "",
                     .sentence = "Makes none, and checks every checksum of the backup OUT instead."}},
        .run = backup};
}

Command restore_command() {
    Option data = data_option();
    data.sentence = "The folder that gets the pieces of the backup; made when it is not there.";
    return {.name = "restore",
            .sentence = "Brings a folder of pieces back as a backup has it, also while the web app has it open.",
            .detail =
                {"The whole backup is checked first: one that is damaged or incomplete is refused with the reason, "
                 "and nothing is touched. What the folder held before is kept as a backup of its own."},
            .arguments = {{.name = "BACKUP", .sentence = "The file of the backup.", .takes = Takes::kFile}},
            .options = {std::move(data)},
            .run = restore};
}

}  // namespace footring::cli
