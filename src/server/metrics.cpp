// SPDX-License-Identifier: Apache-2.0
#include "server/metrics.h"

#include <dirent.h>
#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <fstream>

#include "server/version.h"

namespace footring::server {

namespace {

class Page {
  public:
    void family(std::string_view name, std::string_view type, std::string_view help) {
        text += fmt::format("# HELP {0} {1}\n# TYPE {0} {2}\n", name, help, type);
    }
    void number(std::string_view name, std::string_view labels, double value) {
        text += labels.empty() ? fmt::format("{} {}\n", name, value)
                               : fmt::format("{}{{{}}} {}\n", name, labels, value);
    }
    void one(std::string_view name, std::string_view type, std::string_view help, double value) {
        family(name, type, help);
        number(name, "", value);
    }
    std::string text;
};

double resident_bytes() {
    std::ifstream file("/proc/self/statm");
    double all = 0, resident = 0;
    file >> all >> resident;
    return resident * static_cast<double>(::sysconf(_SC_PAGESIZE));
}
double open_files() {
    double count = 0;
    if (DIR* folder = ::opendir("/proc/self/fd")) {
        while (::readdir(folder) != nullptr) ++count;
        ::closedir(folder);
    }
    return count > 3 ? count - 3 : 0;  // ".", ".." and the folder itself
}
double cpu_seconds() {
    rusage used{};
    ::getrusage(RUSAGE_SELF, &used);
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
    };
    return seconds(used.ru_utime) + seconds(used.ru_stime);
}

}  // namespace

std::string label_value(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\' || c == '"') out += '\\';
        out += c == '\n' ? std::string("\\n") : std::string(1, c);
    }
    return out;
}

void Metrics::answered(const Seen& seen) {
    const double seconds = seen.milliseconds / 1000;
    const std::lock_guard lock(mutex_);
    ++requests_[{seen.method, seen.pattern, seen.status}];
    Spent& spent = spent_[{seen.method, seen.pattern}];
    ++spent.count;
    spent.seconds += seconds;
    seconds_ += seconds;
    std::size_t at = 0;
    while (at < kEnds.size() && seconds > kEnds[at]) ++at;
    ++within_[at];
}

void Metrics::backup(bool well, double now) {
    const std::lock_guard lock(mutex_);
    ++(well ? backups_ : failed_backups_);
    if (well) last_backup_ = now;
}

std::string Metrics::text() const {
    Page page;
    page.family("footring_build_info", "gauge", "Which program this is.");
    page.number("footring_build_info", fmt::format("version=\"{}\"", label_value(kVersion)), 1);
    page.one("process_resident_memory_bytes", "gauge", "Memory of the process.", resident_bytes());
    page.one("process_open_fds", "gauge", "Open files and connections.", open_files());
    page.one("process_cpu_seconds_total", "counter", "Time on processors.", cpu_seconds());
    const std::lock_guard lock(mutex_);
    page.family("footring_requests_total", "counter", "Answered requests, by the pattern of their route.");
    for (const auto& [key, count] : requests_)
        page.number("footring_requests_total",
                    fmt::format("method=\"{}\",route=\"{}\",status=\"{}\"", label_value(std::get<0>(key)),
                                label_value(std::get<1>(key)), std::get<2>(key)),
                    static_cast<double>(count));
    page.family("footring_route_seconds_total", "counter", "Time spent on answers, by the pattern of their route.");
    for (const auto& [key, spent] : spent_)
        page.number("footring_route_seconds_total",
                    fmt::format("method=\"{}\",route=\"{}\"", label_value(key.first), label_value(key.second)),
                    spent.seconds);
    page.family("footring_request_seconds", "histogram", "How long answers took.");
    std::uint64_t sum = 0;
    for (std::size_t at = 0; at < within_.size(); ++at) {
        sum += within_[at];
        page.number("footring_request_seconds_bucket",
                    at < kEnds.size() ? fmt::format("le=\"{}\"", kEnds[at]) : std::string("le=\"+Inf\""),
                    static_cast<double>(sum));
    }
    page.number("footring_request_seconds_sum", "", seconds_);
    page.number("footring_request_seconds_count", "", static_cast<double>(sum));
    page.one("footring_backups_total", "counter", "Copies of the database that were made.",
             static_cast<double>(backups_));
    page.one("footring_backups_failed_total", "counter", "Copies that could not be made.",
             static_cast<double>(failed_backups_));
    page.one("footring_backup_last_seconds", "gauge",
             "When the last copy was made, since 1970; 0: not since the start.", last_backup_);
    return page.text;
}

}  // namespace footring::server
