// SPDX-License-Identifier: Apache-2.0
#include "store/folder_blobs.h"

#include <fmt/format.h>
#include <sys/stat.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <chrono>
#include <random>

#include "store/disk.h"
#include "store/sha256.h"
#include "store/time.h"

namespace footring::store {

namespace {

namespace fs = std::filesystem;

std::uint64_t random_number() {
    std::random_device device;
    return (static_cast<std::uint64_t>(device()) << 32) | device();
}

class FolderBlobs final : public Blobs {
  public:
    FolderBlobs(fs::path folder, DiskCalls& disk, Sharing sharing)
        : folder_(std::move(folder)), disk_(disk), sharing_(sharing) {}

    Expected<void> prepare() {
        for (const char* part : {"photos", "thumbs", "readings", "incoming"})
            if (auto ok = make_folder(folder_ / part, disk_); !ok) return ok;
        std::error_code error;
        const auto old = fs::file_time_type::clock::now() - std::chrono::days(1);
        for (const auto& left : fs::directory_iterator(folder_ / "incoming", error))
            if (left.is_regular_file(error) && (sharing_ == Sharing::kAlone || left.last_write_time(error) < old))
                fs::remove(left.path(), error);
        return {};
    }

    Expected<void> keep(const std::string& sha256, std::string_view bytes, std::string_view thumbnail) override {
        // The photograph last, and in forget() first: where it is, its small picture is too, whenever we are
        // killed.
        if (auto ok = place("thumbs", sha256, thumbnail); !ok) return ok;
        return place("photos", sha256, bytes);
    }
    Expected<std::string> bytes(const std::string& sha256) const override { return fetch("photos", sha256); }
    Expected<std::string> thumbnail(const std::string& sha256) const override { return fetch("thumbs", sha256); }
    bool has(const std::string& sha256) const override {
        std::error_code error;
        return fs::is_regular_file(path("photos", sha256), error);
    }
    Expected<std::vector<File>> all() const override {
        std::vector<File> out;
        std::error_code error;
        for (fs::recursive_directory_iterator at(folder_ / "photos", error), end; !error && at != end;
             at.increment(error)) {
            const std::string name = at->path().filename().string();
            struct stat about {};
            if (is_sha256(name) && ::stat(at->path().c_str(), &about) == 0 && S_ISREG(about.st_mode))
                out.push_back({name, utc(std::chrono::system_clock::from_time_t(about.st_mtime))});
        }
        if (error) return std::unexpected(disk_problem(folder_ / "photos", error.value()));
        return out;
    }
    Expected<void> forget(const std::string& sha256) override {
        for (const char* part : {"photos", "thumbs"}) {
            std::error_code error;
            fs::remove(path(part, sha256), error);
            if (error) return std::unexpected(disk_problem(path(part, sha256), error.value()));
        }
        return forget_pictures(sha256, {});
    }

    Expected<void> keep_picture(const std::string& sha256, const std::string& name,
                                std::string_view bytes) override {
        const fs::path at = picture_path(sha256, name);
        std::error_code error;
        if (fs::file_size(at, error) == bytes.size() && !error) return {};  // its name says what is in it
        if (auto ok = make_folder(at.parent_path(), disk_); !ok) return ok;
        return write_file(at, incoming("readings"), bytes, disk_);
    }
    Expected<std::string> picture(const std::string& sha256, const std::string& name) const override {
        auto content = read_file(picture_path(sha256, name));
        if (!content && content.error().code == ProblemCode::kNotFound)
            return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256),
                        "there is no such picture of it", "read the photograph again");
        return content;
    }
    Expected<void> forget_pictures(const std::string& sha256, const std::vector<std::string>& but) override {
        const fs::path at = folder_ / "readings" / sha256.substr(0, 2) / sha256;
        std::error_code error;
        if (!fs::is_directory(at, error)) return {};
        std::vector<fs::path> gone;
        for (const auto& file : fs::directory_iterator(at, error))
            if (std::ranges::find(but, file.path().filename().string()) == but.end()) gone.push_back(file.path());
        for (const fs::path& file : gone) {
            fs::remove(file, error);
            if (error) return std::unexpected(disk_problem(file, error.value()));
        }
        if (but.empty()) fs::remove(at, error);
        return {};
    }

  private:
    fs::path picture_path(const std::string& sha256, const std::string& name) const {
        return folder_ / "readings" / sha256.substr(0, 2) / sha256 / name;
    }
    fs::path path(const char* part, const std::string& sha256) const {
        return folder_ / part / sha256.substr(0, 2) / sha256;
    }
    Expected<void> place(const char* part, const std::string& sha256, std::string_view content) {
        const fs::path at = path(part, sha256);
        std::error_code error;
        // A file of the right length is the file: its name is its content. Anything else is written anew.
        if (fs::file_size(at, error) == content.size() && !error) {
            // From now on it is wanted again: a sweep of another program takes what has been here for long.
            if (sharing_ == Sharing::kShared) fs::last_write_time(at, fs::file_time_type::clock::now(), error);
            return {};
        }
        if (auto ok = make_folder(at.parent_path(), disk_); !ok) return ok;
        return write_file(at, incoming(part), content, disk_);
    }
    // A name that no other program on this folder gives.
    fs::path incoming(const char* part) {
        return folder_ / "incoming" / fmt::format("{}-{:016x}-{}", part, mine_, ++arrivals_);
    }
    Expected<std::string> fetch(const char* part, const std::string& sha256) const {
        auto content = read_file(path(part, sha256));
        if (!content && content.error().code == ProblemCode::kNotFound)
            return fail(ProblemCode::kNotFound, fmt::format("photograph {}", sha256), "there is no such photograph",
                        "add it again, or bring it back from a backup");
        return content;
    }

    fs::path folder_;
    DiskCalls& disk_;
    Sharing sharing_;
    std::uint64_t mine_ = random_number();
    std::atomic<std::int64_t> arrivals_{0};
};

}  // namespace

Expected<std::unique_ptr<Blobs>> open_folder_blobs(const fs::path& folder, DiskCalls& disk, Sharing sharing) {
    auto blobs = std::make_unique<FolderBlobs>(folder, disk, sharing);
    if (auto ok = blobs->prepare(); !ok) return std::unexpected(ok.error());
    return blobs;
}

}  // namespace footring::store
