// SPDX-License-Identifier: Apache-2.0
#include "store/backup.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <nlohmann/json.hpp>
#include <set>

#include "store/backup_turn.h"
#include "store/folder_lock.h"
#include "store/sha256.h"
#include "store/sqlite_dialect.h"
#include "store/sqlite_file.h"
#include "store/tar.h"

namespace footring::store {

namespace fs = std::filesystem;

namespace {

constexpr int kFormat = 1;
constexpr std::size_t kPart = 1 << 20;                // bytes copied at a time
constexpr std::size_t kMostInfo = 64 * 1024;          // of footring-backup.json
constexpr std::size_t kMostSums = 512 * 1024 * 1024;  // of SHA256SUMS: some five million files

// What is never copied: the database comes as a copy of one moment, and the rest would mean nothing elsewhere. The
// key of a certificate stays where it was made.
bool stays_behind(const std::string& first_part) {
    return first_part.starts_with(kDatabase) || first_part == "footring.lock" || first_part == "incoming" ||
           first_part == "backups" || first_part == "restoring" || first_part == "tls" ||
           first_part == kBackupInfo || first_part == kBackupSums;
}
bool is_of_photographs(const std::string& first_part) {
    return first_part == "photos" || first_part == "thumbs" || first_part == "readings";
}

struct Leaf {
    std::string name;  // relative, with '/'
    fs::path path;
    std::int64_t seconds = 0;
};
// The ordinary files of the folder, in order of their names; links are not followed.
Expected<std::vector<Leaf>> files_of(const fs::path& folder, bool with_photographs) {
    std::vector<Leaf> out;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        const std::string first = at->path().filename().string();
        if (stays_behind(first) || (is_of_photographs(first) && !with_photographs)) continue;
        const auto take = [&](const fs::path& path) {
            struct stat about {};
            if (::lstat(path.c_str(), &about) == 0 && S_ISREG(about.st_mode))
                out.push_back({path.lexically_relative(folder).generic_string(), path, about.st_mtime});
        };
        take(at->path());
        std::error_code gone;  // a folder that vanishes meanwhile is none
        if (!at->is_symlink(gone) && at->is_directory(gone))
            for (fs::recursive_directory_iterator in(at->path(), gone), none; !gone && in != none;
                 in.increment(gone))
                take(in->path());
    }
    if (error) return std::unexpected(disk_problem(folder, error.value()));
    std::ranges::sort(out, {}, &Leaf::name);
    return out;
}

nlohmann::ordered_json to_json(const BackupInfo& info) {
    return {{"footring_backup", kFormat}, {"made", info.made},
            {"tables", info.tables},      {"pieces", info.pieces},
            {"lots", info.lots},          {"photographs", info.photographs},
            {"changes", info.changes},    {"with_photographs", info.with_photographs}};
}
std::unexpected<Problem> unreadable(const fs::path& file, std::string what) {
    return fail(ProblemCode::kUnreadable, file.string(), std::move(what), "take another backup");
}
Expected<BackupInfo> info_from(const std::string& text, const fs::path& file) {
    const auto object = nlohmann::json::parse(text, nullptr, false);
    if (!object.is_object() || !object.value("footring_backup", nlohmann::json()).is_number_integer())
        return unreadable(file, fmt::format("{} in it says nothing that can be understood", kBackupInfo));
    if (object["footring_backup"].get<int>() > kFormat)
        return fail(ProblemCode::kUnreadable, file.string(), "a newer Footring made this backup",
                    "restore it with that program");
    BackupInfo info;
    try {
        info.made = object.at("made").get<std::string>();
        info.tables = object.at("tables").get<int>();
        info.pieces = object.at("pieces").get<std::int64_t>();
        info.lots = object.at("lots").get<std::int64_t>();
        info.photographs = object.at("photographs").get<std::int64_t>();
        info.changes = object.at("changes").get<std::int64_t>();
        info.with_photographs = object.at("with_photographs").get<bool>();
    } catch (const nlohmann::json::exception&) {
        return unreadable(file, fmt::format("{} in it says nothing that can be understood", kBackupInfo));
    }
    return info;
}

// SQLite reads its log only where it may write beside it. From a disk that may only be read, and that nobody writes
// to, the files themselves are copied.
Expected<void> copy_files(const fs::path& folder, const fs::path& copy) {
    for (const char* rest : {"", "-wal"}) {
        const auto bytes = read_file((folder / kDatabase).string() + rest);
        if (!bytes && bytes.error().code == ProblemCode::kNotFound) continue;
        if (!bytes) return std::unexpected(bytes.error());
        if (auto ok = write_file(copy.string() + rest, copy.string() + "-journal", *bytes); !ok) return ok;
    }
    return {};
}

// A copy of one moment of the database, checked, as one file without a log beside it.
Expected<BackupInfo> copy_database(const fs::path& folder, const fs::path& copy, const std::string& made,
                                   std::set<std::string>& photographs) {
    auto from = SqliteFile::open(folder / kDatabase);
    if (!from) return std::unexpected(from.error());
    auto to = SqliteFile::make(copy);
    if (!to) return std::unexpected(to.error());
    auto ok = from->copy_into(*to);
    if (!ok && ::faccessat(AT_FDCWD, folder.c_str(), W_OK, AT_EACCESS) != 0 && !FolderLock::is_held(folder)) {
        ok = copy_files(folder, copy);
        to = SqliteFile::open(copy);  // anew: those are other files
        if (!to) return std::unexpected(to.error());
    }
    if (ok) ok = to->run("PRAGMA journal_mode = DELETE");
    if (ok) ok = to->check();
    if (!ok) {
        Problem problem = ok.error();
        problem.where = (folder / kDatabase).string();
        return std::unexpected(std::move(problem));
    }
    BackupInfo info;
    info.made = made;
    std::int64_t tables = 0;
    const std::pair<std::int64_t*, const char*> numbers[] = {
        {&tables, "SELECT COALESCE(MAX(version), 0) FROM schema_version"},
        {&info.pieces, "SELECT COUNT(*) FROM piece"},
        {&info.lots, "SELECT COUNT(*) FROM lot"},
        {&info.photographs, "SELECT COUNT(DISTINCT sha256) FROM photo"},
        {&info.changes, "SELECT COALESCE(MAX(id), 0) FROM change"}};
    for (const auto& [number, question] : numbers) {
        const auto answer = to->number(question);
        if (!answer) return std::unexpected(answer.error());
        *number = *answer;
    }
    info.tables = static_cast<int>(tables);
    const auto names = to->rows("SELECT DISTINCT sha256 FROM photo");
    if (!names) return std::unexpected(names.error());
    for (const auto& row : *names) photographs.insert(row.front());
    return info;
}

class Writing {
  public:
    Writing(OutFile& out, std::int64_t seconds) : tar_(out), seconds_(seconds) {}

    Expected<void> text(std::string_view name, const std::string& content) {
        auto ok = tar_.begin(std::string(name), content.size(), seconds_);
        if (ok) ok = tar_.write(content);
        if (ok) ok = tar_.end();
        if (ok && name != kBackupSums) sums_[std::string(name)] = sha256_of(content);
        return ok;
    }
    Expected<void> file(const std::string& name, const fs::path& path, std::int64_t seconds) {
        auto in = InFile::open(path);
        if (!in && in.error().code == ProblemCode::kNotFound) return {};  // swept away meanwhile
        if (!in) return std::unexpected(in.error());
        std::error_code error;
        std::uint64_t left = fs::file_size(path, error);
        if (error) return std::unexpected(disk_problem(path, error.value()));
        if (auto ok = tar_.begin(name, left, seconds); !ok) return ok;
        Sha256 sum;
        while (left > 0) {
            const auto part = in->read(static_cast<std::size_t>(std::min<std::uint64_t>(kPart, left)));
            if (!part) return std::unexpected(part.error());
            if (part->empty()) break;
            sum.add(*part);
            left -= part->size();
            if (auto ok = tar_.write(*part); !ok) return ok;
        }
        sums_[name] = sum.name();
        return tar_.end();
    }
    Expected<void> finish() {
        std::string text_of_sums;
        for (const auto& [name, sum] : sums_) text_of_sums += fmt::format("{}  {}\n", sum, name);
        if (auto ok = text(kBackupSums, text_of_sums); !ok) return ok;
        return tar_.finish();
    }
    const std::map<std::string, std::string>& sums() const { return sums_; }

  private:
    TarWriter tar_;
    std::int64_t seconds_;
    std::map<std::string, std::string> sums_;
};

std::vector<std::string> notes_on(const std::set<std::string>& photographs,
                                  const std::map<std::string, std::string>& sums) {
    std::vector<std::string> notes;
    for (const std::string& name : photographs) {
        const auto at = sums.find(fmt::format("photos/{}/{}", name.substr(0, 2), name));
        if (at == sums.end()) notes.push_back(fmt::format("photograph {} is not in the folder", name));
        else if (at->second != name)
            notes.push_back(fmt::format("photograph {} no longer holds what was stored", name));
    }
    return notes;
}

// A line of SHA256SUMS: "<64 digits>  NAME".
bool read_sums(const std::string& text, std::map<std::string, std::string>& into) {
    for (std::size_t begin = 0; begin < text.size();) {
        const std::size_t end = text.find('\n', begin);
        if (end == std::string::npos || end < begin + 67) return false;
        const std::string sum = text.substr(begin, 64);
        if (!is_sha256(sum) || text.compare(begin + 64, 2, "  ") != 0) return false;
        if (!into.emplace(text.substr(begin + 66, end - begin - 66), sum).second) return false;
        begin = end + 1;
    }
    return true;
}

// Deletes what was made on the way, however the way ends.
class Scratch {
  public:
    explicit Scratch(fs::path path) : path_(std::move(path)) { clear(); }
    ~Scratch() { clear(); }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    const fs::path& path() const { return path_; }

  private:
    void clear() {
        std::error_code ignored;
        for (const char* rest : {"", "-journal", "-wal", "-shm"}) fs::remove(path_.string() + rest, ignored);
    }
    fs::path path_;
};

}  // namespace

Expected<BackupInfo> look_at_backup(const fs::path& file) {
    auto tar = TarReader::open(file);
    if (!tar) return std::unexpected(tar.error());
    const auto first = tar->next();
    if (!first) return std::unexpected(first.error());
    if (!*first || (*first)->name != kBackupInfo) return unreadable(file, "it does not begin as a backup does");
    const auto text = tar->read_whole(kMostInfo);
    if (!text) return std::unexpected(text.error());
    return info_from(*text, file);
}

std::string backup_name(const std::string& moment) {
    std::string out = fmt::format("footring-{}.tar", moment);
    std::ranges::replace(out, ':', '-');  // not every disk takes a colon
    return out;
}

Expected<Made> make_backup(const fs::path& folder, const fs::path& wanted, const BackupOptions& options,
                           const Now& now) {
    const std::string made = now();
    std::error_code error;
    const fs::path out = fs::is_directory(wanted, error) ? wanted / backup_name(made) : wanted;
    const BackupTurn turn(out.has_parent_path() ? out.parent_path() : fs::path("."), Waiting::kUntilFree);
    if (fs::exists(fs::symlink_status(out, error)))
        return fail(ProblemCode::kBadInput, out.string(), "there is a file of this name already",
                    "choose another name; a backup never replaces another");
    const fs::path inside = fs::weakly_canonical(fs::absolute(out), error)
                                .lexically_relative(fs::weakly_canonical(fs::absolute(folder), error));
    if (!inside.empty() && *inside.begin() != ".." && *inside.begin() != "backups")
        return fail(ProblemCode::kBadInput, out.string(), "this lies in the folder that it would be a backup of",
                    "choose another folder, best on another disk");
    const Scratch database(out.string() + ".database"), unfinished(out.string() + ".part");
    std::set<std::string> photographs;
    auto info = copy_database(folder, database.path(), made, photographs);
    if (!info) return std::unexpected(info.error());
    info->with_photographs = options.with_photographs;
    const auto files = files_of(folder, options.with_photographs);
    if (!files) return std::unexpected(files.error());

    const std::int64_t seconds =
        std::chrono::duration_cast<std::chrono::seconds>(std::chrono::system_clock::now().time_since_epoch())
            .count();
    auto file = OutFile::make(unfinished.path());
    if (!file) return std::unexpected(file.error());
    Writing writing(*file, seconds);
    auto ok = writing.text(kBackupInfo, to_json(*info).dump(2) + "\n");
    if (ok) ok = writing.file(std::string(kDatabase), database.path(), seconds);
    for (const Leaf& leaf : *files)
        if (ok) ok = writing.file(leaf.name, leaf.path, leaf.seconds);
    if (ok) ok = writing.finish();
    if (ok) ok = file->sync();
    if (!ok) return std::unexpected(ok.error());

    auto backup = check_backup(unfinished.path());
    if (!backup || backup->sums != writing.sums())
        return fail(ProblemCode::kStore, out.string(), "what was written reads differently",
                    "check this disk, and make the backup on another");
    if (options.with_photographs) backup->notes = notes_on(photographs, writing.sums());
    if (ok = move_file(unfinished.path(), out); !ok) return std::unexpected(ok.error());
    file->keep();
    return Made{out, std::move(*backup)};
}

Expected<Backup> check_backup(const fs::path& file) {
    std::error_code error;
    if (fs::is_directory(file, error))
        return fail(ProblemCode::kBadInput, file.string(), "this is a folder", "name the file of the backup");
    auto tar = TarReader::open(file);
    if (!tar) return std::unexpected(tar.error());
    Backup backup;
    std::map<std::string, std::string> listed;
    bool has_sums = false, has_info = false;
    for (;;) {
        const auto member = tar->next();
        if (!member) return std::unexpected(member.error());
        if (!*member) break;
        const std::string& name = (*member)->name;
        if (name == kBackupSums) {
            const auto text = tar->read_whole(kMostSums);
            if (!text) return std::unexpected(text.error());
            if (has_sums || !read_sums(*text, listed))
                return unreadable(file, "the backup is damaged: its list of checksums cannot be read");
            has_sums = true;
            continue;
        }
        Sha256 sum;
        std::string text;
        for (;;) {
            const auto part = tar->read(kPart);
            if (!part) return std::unexpected(part.error());
            if (part->empty()) break;
            sum.add(*part);
            if (name == kBackupInfo && text.size() <= kMostInfo) text += *part;
        }
        if (!backup.sums.emplace(name, sum.name()).second)
            return unreadable(file, fmt::format("the backup is damaged: {} is in it twice", name));
        if (name != kBackupInfo) continue;
        auto info = info_from(text, file);
        if (!info) return std::unexpected(info.error());
        backup.info = std::move(*info);
        has_info = true;
    }
    if (!has_info && !has_sums) return unreadable(file, "this is no backup of Footring");
    if (!has_sums) return unreadable(file, "the backup is incomplete: its list of checksums is missing");
    for (const auto& [name, sum] : listed) {
        const auto found = backup.sums.find(name);
        if (found == backup.sums.end())
            return unreadable(file, fmt::format("the backup is incomplete: {} is missing", name));
        if (found->second != sum)
            return unreadable(
                file, fmt::format("the backup is damaged: {} is not as it was (its checksum differs)", name));
    }
    for (const auto& [name, sum] : backup.sums)
        if (!listed.contains(name))
            return unreadable(file, fmt::format("the backup is damaged: {} is not in its list of checksums", name));
    if (!has_info || !backup.sums.contains(std::string(kDatabase)))
        return unreadable(file, "this is no backup of Footring");
    backup.bytes = fs::file_size(file, error);
    return backup;
}

}  // namespace footring::store
