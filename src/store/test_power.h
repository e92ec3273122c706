// store/test_power.h - a disk that can fail at any moment, for tests.
//   It stands below SQLite (as its VFS) and below photographs (as DiskCalls), does what it is asked on the real
//   disk, and keeps beside it what would be there if the power went now: what was synced is there; of what was not,
//   any part may be: a write, half of one, a name, a removal. A new name is kept with the first sync of its file,
//   and the first sync of a journal is one of its folder too, as SQLite has it on Unix. fail_at()  the n-th call
//   from now answers with an error, and does nothing
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <mutex>
#include <random>
#include <string>
#include <vector>

#include "store/disk.h"

namespace footring::store {

class Power {
  public:
    explicit Power(std::filesystem::path folder);  // looks at nothing outside
    ~Power();
    Power(const Power&) = delete;
    Power& operator=(const Power&) = delete;

    void adopt();  // what is there now is on the disk
    DiskCalls& disk() { return *disk_; }
    // Called after every call that changes something.
    std::function<void()> after;
    // What the power going off now would leave, written to another folder.
    void pour(const std::filesystem::path& to, std::mt19937& chance) const;

    enum class Fault { kFull, kBroken, kReadOnly };
    void fail_at(int call, Fault fault) { left_ = call, fault_ = fault, failed_ = false; }
    bool failed() const { return failed_; }
    int calls() const { return calls_; }

    // For the two ways in.
    bool watches(const std::string& path) const { return path.starts_with(folder_); }
    bool fails();
    Fault fault() const { return fault_; }
    void opened(const std::string& path);
    void wrote(const std::string& path, std::size_t offset, std::string bytes);
    void cut(const std::string& path, std::size_t size);
    void synced(const std::string& path);
    void synced_folder(const std::string& path);
    void made_folder(const std::string& path);
    void removed(const std::string& path, bool for_good);
    void renamed(const std::string& from, const std::string& to);

  private:
    struct Step {
        std::size_t offset = 0;
        std::string bytes;
        bool cuts = false;  // to `offset` bytes
    };
    struct Node {
        bool folder = false;
        std::string kept;
        std::vector<Step> pending;
    };
    using Names = std::map<std::string, int>;  // path to node
    static void apply(std::string& content, const Step&);
    void told();

    std::string folder_;
    std::vector<Node> nodes_;
    Names now_, kept_;
    int left_ = 0, calls_ = 0;
    Fault fault_ = Fault::kBroken;
    bool failed_ = false, telling_ = false;
    std::unique_ptr<DiskCalls> disk_;
};

}  // namespace footring::store
