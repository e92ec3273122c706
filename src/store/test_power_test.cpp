// SPDX-License-Identifier: Apache-2.0
#include <fcntl.h>
#include <sqlite3.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <new>
#include <utility>

#include "store/test_power.h"

namespace footring::store {

namespace fs = std::filesystem;

namespace {

// --- below photographs

class PoweredDisk final : public DiskCalls {
  public:
    explicit PoweredDisk(Power& power) : power_(power) {}

    int open(const char* path, int flags, mode_t mode) override {
        if (power_.watches(path) && (flags & O_CREAT) != 0 && refuses()) return -1;
        const int file = DiskCalls::open(path, flags, mode);
        if (file < 0 || !power_.watches(path)) return file;
        files_[file] = {path, 0, (flags & O_DIRECTORY) != 0};
        if ((flags & O_CREAT) != 0) power_.opened(path);
        if ((flags & O_TRUNC) != 0) power_.cut(path, 0);
        return file;
    }
    ssize_t write(int file, const void* bytes, std::size_t size) override {
        const auto known = files_.find(file);
        if (known != files_.end() && refuses()) return -1;
        const ssize_t written = DiskCalls::write(file, bytes, size);
        if (written > 0 && known != files_.end()) {
            power_.wrote(known->second.path, known->second.at,
                         std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(written)));
            known->second.at += static_cast<std::size_t>(written);
        }
        return written;
    }
    int fsync(int file) override {
        const auto known = files_.find(file);
        if (known != files_.end() && refuses()) return -1;
        if (known != files_.end() && known->second.folder) power_.synced_folder(known->second.path);
        else if (known != files_.end()) power_.synced(known->second.path);
        return 0;  // the real disk need not be asked: what counts is what was told to it
    }
    int close(int file) override {
        files_.erase(file);
        return DiskCalls::close(file);
    }
    int rename(const char* from, const char* to) override {
        if (refuses()) return -1;
        const int done = DiskCalls::rename(from, to);
        if (done == 0) power_.renamed(from, to);
        return done;
    }
    int unlink(const char* path) override {
        const int done = DiskCalls::unlink(path);
        if (done == 0) power_.removed(path, false);
        return done;
    }
    int mkdir(const char* path, mode_t mode) override {
        if (refuses()) return -1;
        const int done = DiskCalls::mkdir(path, mode);
        if (done == 0) power_.made_folder(path);
        return done;
    }

  private:
    bool refuses() {
        if (!power_.fails()) return false;
        errno = power_.fault() == Power::Fault::kFull     ? ENOSPC
                : power_.fault() == Power::Fault::kBroken ? EIO
                                                          : EROFS;
        return true;
    }
    struct Open {
        std::string path;
        std::size_t at;
        bool folder;
    };
    Power& power_;
    std::map<int, Open> files_;
};

// --- below SQLite: every call goes on to the real VFS

Power* below_sqlite = nullptr;  // SQLite's own list of VFS is one for the program, too

struct ShimFile {
    sqlite3_file base;
    std::string* path;  // null: a file without name, which nobody misses
    bool new_log;       // a journal, not synced yet: its first sync syncs the folder too, as the real VFS has it
    sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
    bool watched() const { return path != nullptr && below_sqlite != nullptr && below_sqlite->watches(*path); }
};
ShimFile& shim(sqlite3_file* file) { return *reinterpret_cast<ShimFile*>(file); }
sqlite3_vfs* real_vfs(sqlite3_vfs* vfs) { return static_cast<sqlite3_vfs*>(vfs->pAppData); }
int refusal(int when_broken) {
    switch (below_sqlite->fault()) {
        case Power::Fault::kFull:
            return SQLITE_FULL;
        case Power::Fault::kReadOnly:
            return SQLITE_READONLY;
        case Power::Fault::kBroken:
            break;
    }
    return when_broken;
}

int shim_close(sqlite3_file* f) {
    ShimFile& file = shim(f);
    const int code = file.real()->pMethods->xClose(file.real());
    delete file.path;
    return code;
}
int shim_read(sqlite3_file* f, void* to, int size, sqlite3_int64 at) {
    return shim(f).real()->pMethods->xRead(shim(f).real(), to, size, at);
}
int shim_write(sqlite3_file* f, const void* from, int size, sqlite3_int64 at) {
    ShimFile& file = shim(f);
    if (file.watched() && below_sqlite->fails()) return refusal(SQLITE_IOERR_WRITE);
    const int code = file.real()->pMethods->xWrite(file.real(), from, size, at);
    if (code == SQLITE_OK && file.watched())
        below_sqlite->wrote(*file.path, static_cast<std::size_t>(at),
                            std::string(static_cast<const char*>(from), static_cast<std::size_t>(size)));
    return code;
}
int shim_truncate(sqlite3_file* f, sqlite3_int64 size) {
    ShimFile& file = shim(f);
    const int code = file.real()->pMethods->xTruncate(file.real(), size);
    if (code == SQLITE_OK && file.watched()) below_sqlite->cut(*file.path, static_cast<std::size_t>(size));
    return code;
}
int shim_sync(sqlite3_file* f, int flags) {
    ShimFile& file = shim(f);
    if (!file.watched()) return file.real()->pMethods->xSync(file.real(), flags);
    if (below_sqlite->fails()) return refusal(SQLITE_IOERR_FSYNC);
    below_sqlite->synced(*file.path);
    if (std::exchange(file.new_log, false)) below_sqlite->synced_folder(fs::path(*file.path).parent_path());
    return SQLITE_OK;
}
int shim_size(sqlite3_file* f, sqlite3_int64* size) {
    return shim(f).real()->pMethods->xFileSize(shim(f).real(), size);
}
int shim_lock(sqlite3_file* f, int level) { return shim(f).real()->pMethods->xLock(shim(f).real(), level); }
int shim_unlock(sqlite3_file* f, int level) { return shim(f).real()->pMethods->xUnlock(shim(f).real(), level); }
int shim_reserved(sqlite3_file* f, int* out) {
    return shim(f).real()->pMethods->xCheckReservedLock(shim(f).real(), out);
}
int shim_control(sqlite3_file* f, int what, void* arg) {
    return shim(f).real()->pMethods->xFileControl(shim(f).real(), what, arg);
}
int shim_sector(sqlite3_file* f) { return shim(f).real()->pMethods->xSectorSize(shim(f).real()); }
int shim_device(sqlite3_file* f) { return shim(f).real()->pMethods->xDeviceCharacteristics(shim(f).real()); }
int shim_map(sqlite3_file* f, int page, int size, int extend, void volatile** out) {
    return shim(f).real()->pMethods->xShmMap(shim(f).real(), page, size, extend, out);
}
int shim_shm_lock(sqlite3_file* f, int offset, int n, int flags) {
    return shim(f).real()->pMethods->xShmLock(shim(f).real(), offset, n, flags);
}
void shim_barrier(sqlite3_file* f) { shim(f).real()->pMethods->xShmBarrier(shim(f).real()); }
int shim_unmap(sqlite3_file* f, int remove) { return shim(f).real()->pMethods->xShmUnmap(shim(f).real(), remove); }

// Version 2: with shared memory, without memory-mapped files, whose writes could not be seen.
const sqlite3_io_methods kMethods = {
    2,           shim_close,    shim_read,    shim_write,  shim_truncate, shim_sync, shim_size,     shim_lock,
    shim_unlock, shim_reserved, shim_control, shim_sector, shim_device,   shim_map,  shim_shm_lock, shim_barrier,
    shim_unmap,  nullptr,       nullptr};

int shim_open(sqlite3_vfs* vfs, const char* name, sqlite3_file* f, int flags, int* out) {
    ShimFile& file = *new (f) ShimFile{};
    if (name != nullptr) file.path = new std::string(name);
    file.new_log = (flags & SQLITE_OPEN_CREATE) != 0 &&
                   (flags & (SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL)) != 0;
    const int code = real_vfs(vfs)->xOpen(real_vfs(vfs), name, file.real(), flags, out);
    if (code != SQLITE_OK) {
        delete file.path;
        file.base.pMethods = nullptr;
        return code;
    }
    file.base.pMethods = &kMethods;
    if (file.watched()) below_sqlite->opened(*file.path);
    return code;
}
int shim_delete(sqlite3_vfs* vfs, const char* name, int sync_folder) {
    const int code = real_vfs(vfs)->xDelete(real_vfs(vfs), name, sync_folder);
    if (code == SQLITE_OK && below_sqlite != nullptr && below_sqlite->watches(name))
        below_sqlite->removed(name, sync_folder != 0);
    return code;
}

sqlite3_vfs* shim_vfs() {
    static sqlite3_vfs vfs = [] {
        sqlite3_vfs* real = sqlite3_vfs_find(nullptr);
        sqlite3_vfs made = *real;  // all that is not about files stays with the real one
        made.szOsFile = static_cast<int>(sizeof(ShimFile)) + real->szOsFile;
        made.zName = "footring-power";
        made.pAppData = real;
        made.pNext = nullptr;
        made.xOpen = shim_open;
        made.xDelete = shim_delete;
        made.xAccess = [](sqlite3_vfs* v, const char* name, int flags, int* out) {
            return real_vfs(v)->xAccess(real_vfs(v), name, flags, out);
        };
        made.xFullPathname = [](sqlite3_vfs* v, const char* name, int size, char* out) {
            return real_vfs(v)->xFullPathname(real_vfs(v), name, size, out);
        };
        return made;
    }();
    return &vfs;
}

}  // namespace

Power::Power(fs::path folder) : folder_(folder.string() + "/"), disk_(std::make_unique<PoweredDisk>(*this)) {
    below_sqlite = this;
    sqlite3_vfs_register(shim_vfs(), 1);
}
Power::~Power() {
    sqlite3_vfs_unregister(shim_vfs());
    below_sqlite = nullptr;
}

void Power::adopt() {
    for (const auto& each : fs::recursive_directory_iterator(folder_)) {
        Node node;
        node.folder = each.is_directory();
        if (!node.folder) {
            std::ifstream in(each.path(), std::ios::binary);
            node.kept.assign(std::istreambuf_iterator<char>(in), {});
        }
        now_[each.path().string()] = static_cast<int>(nodes_.size());
        nodes_.push_back(std::move(node));
    }
    kept_ = now_;
}

bool Power::fails() {
    if (telling_ || left_ <= 0 || --left_ > 0) return false;
    return failed_ = true;
}
void Power::told() {
    ++calls_;
    if (!after || telling_) return;
    telling_ = true;
    after();
    telling_ = false;
}
void Power::apply(std::string& content, const Step& step) {
    if (step.cuts) return content.resize(step.offset);
    if (content.size() < step.offset + step.bytes.size()) content.resize(step.offset + step.bytes.size());
    content.replace(step.offset, step.bytes.size(), step.bytes);
}

void Power::opened(const std::string& path) {
    if (now_.contains(path)) return;
    now_[path] = static_cast<int>(nodes_.size());
    nodes_.emplace_back();
}
void Power::wrote(const std::string& path, std::size_t offset, std::string bytes) {
    nodes_[static_cast<std::size_t>(now_.at(path))].pending.push_back({offset, std::move(bytes), false});
    told();
}
void Power::cut(const std::string& path, std::size_t size) {
    nodes_[static_cast<std::size_t>(now_.at(path))].pending.push_back({size, {}, true});
    told();
}
void Power::synced(const std::string& path) {
    const int number = now_.at(path);
    Node& node = nodes_[static_cast<std::size_t>(number)];
    for (const Step& step : node.pending) apply(node.kept, step);
    node.pending.clear();
    kept_[path] = number;
    told();
}
void Power::synced_folder(const std::string& path) {
    const auto inside = [&](const std::string& name) { return fs::path(name).parent_path() == fs::path(path); };
    std::erase_if(kept_, [&](const auto& one) { return inside(one.first) && !now_.contains(one.first); });
    for (const auto& [name, node] : now_)
        if (inside(name)) kept_[name] = node;
    told();
}
void Power::made_folder(const std::string& path) {
    if (!watches(path)) return;
    now_[path] = static_cast<int>(nodes_.size());
    nodes_.push_back({true, {}, {}});
    told();
}
void Power::removed(const std::string& path, bool for_good) {
    now_.erase(path);
    if (for_good) kept_.erase(path);
    told();
}
void Power::renamed(const std::string& from, const std::string& to) {
    const auto node = now_.extract(from);
    if (!node.empty()) now_[to] = node.mapped();
    told();
}

void Power::pour(const fs::path& to, std::mt19937& chance) const {
    const auto coin = [&] { return chance() % 2 == 0; };
    Names names;
    for (const auto& [name, node] : kept_)
        if ((now_.contains(name) && now_.at(name) == node) || coin()) names[name] = node;
    for (const auto& [name, node] : now_)
        if (!(kept_.contains(name) && kept_.at(name) == node) && coin()) names[name] = node;
    fs::create_directories(to);
    for (const auto& [name, number] : names) {  // folders come before what is in them
        const Node& node = nodes_[static_cast<std::size_t>(number)];
        const fs::path at = to / fs::path(name).lexically_relative(folder_);
        std::error_code no_folder;
        if (!fs::is_directory(at.parent_path(), no_folder)) continue;
        if (node.folder) {
            fs::create_directory(at);
            continue;
        }
        std::string content = node.kept;
        for (const Step& step : node.pending) {
            if (!coin()) continue;
            Step part = step;
            if (coin() && !part.cuts) part.bytes.resize(chance() % (part.bytes.size() + 1));  // torn
            apply(content, part);
        }
        std::ofstream(at, std::ios::binary) << content;
    }
}

}  // namespace footring::store
