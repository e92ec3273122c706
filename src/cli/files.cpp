// SPDX-License-Identifier: Apache-2.0
#include "cli/files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <istream>
#include <iterator>
#include <memory>

namespace footring::cli {

namespace fs = std::filesystem;

namespace {

std::string reason(int error) { return std::error_code(error, std::generic_category()).message(); }

Problem too_large(const std::string& where, std::size_t most_bytes) {
    return {ProblemCode::kTooLarge, where, fmt::format("is larger than {} MB", most_bytes / 1'000'000),
            "split it into smaller files"};
}

}  // namespace

Expected<std::string> read_file(const std::string& path, std::size_t most_bytes) {
    std::error_code error;
    const auto status = fs::status(path, error);
    if (status.type() == fs::file_type::not_found)
        return fail(ProblemCode::kNotFound, path, "there is no such file", "check the path");
    if (fs::is_directory(status))
        return fail(ProblemCode::kBadInput, path, "this is a folder, not a file", "name a file in it");
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"), &std::fclose);
    if (!file)
        return fail(ProblemCode::kUnreadable, path, fmt::format("cannot be opened ({})", reason(errno)),
                    "check that you may read it");
    std::string text;
    char part[1 << 16];
    while (const std::size_t got = std::fread(part, 1, sizeof part, file.get())) {
        text.append(part, got);
        if (text.size() > most_bytes) return std::unexpected(too_large(path, most_bytes));
    }
    if (std::ferror(file.get()) != 0)
        return fail(ProblemCode::kUnreadable, path, "cannot be read to its end", "check the disk that it lies on");
    return text;
}

Expected<std::string> read_file_or_stdin(const std::string& path, World& world, std::size_t most_bytes) {
    if (path != "-") return read_file(path, most_bytes);
    std::string text;
    char part[1 << 16];
    while (world.in.read(part, sizeof part), world.in.gcount() > 0) {
        text.append(part, static_cast<std::size_t>(world.in.gcount()));
        if (text.size() > most_bytes) return std::unexpected(too_large("standard input", most_bytes));
    }
    return text;
}

Expected<void> write_file(const std::string& path, std::string_view text) {
    const auto refused = [&](int error) {
        return fail(ProblemCode::kStore, path, fmt::format("cannot be written ({})", reason(error)),
                    "check the folder, its rights and the space on the disk");
    };
    std::error_code error;
    if (fs::is_directory(path, error))
        return fail(ProblemCode::kBadInput, path, "this is a folder, not a file", "name a file in it");
    const fs::path folder = fs::path(path).has_parent_path() ? fs::path(path).parent_path() : fs::path(".");
    if (!fs::is_directory(folder, error))
        return fail(ProblemCode::kNotFound, folder.string(), "there is no such folder", "make it first");
    std::string temporary = path + ".XXXXXX";
    const int file = ::mkstemp(temporary.data());
    if (file < 0) return refused(errno);
    int failure = 0;
    for (std::size_t done = 0; done < text.size() && failure == 0;) {
        const ssize_t wrote = ::write(file, text.data() + done, text.size() - done);
        if (wrote > 0) done += static_cast<std::size_t>(wrote);
        else if (errno != EINTR) failure = errno;
    }
    // mkstemp makes files that only their owner reads; an export is an ordinary file.
    const mode_t mask = ::umask(0);
    ::umask(mask);
    if (failure == 0 && ::fchmod(file, 0666 & ~mask) != 0) failure = errno;
    if (failure == 0 && ::fsync(file) != 0) failure = errno;
    if (::close(file) != 0 && failure == 0) failure = errno;
    if (failure == 0 && std::rename(temporary.c_str(), path.c_str()) != 0) failure = errno;
    if (failure == 0) return {};
    ::unlink(temporary.c_str());
    return refused(failure);
}

fs::path find_share(const fs::path& program, const std::string& from_environment) {
    if (!from_environment.empty()) return from_environment;
    std::error_code error;
    const auto holds = [&](const fs::path& folder) {
        return fs::exists(folder / kDemoPack / "datapackage.json", error);
    };
    fs::path folder = fs::weakly_canonical(program, error).parent_path();
    if (const fs::path installed = folder.parent_path() / "share" / "footring"; holds(installed)) return installed;
    for (int up = 0; up < 5 && !folder.empty(); ++up, folder = folder.parent_path())
        if (holds(folder)) return folder;
    return {};
}

}  // namespace footring::cli
