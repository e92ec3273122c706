// SPDX-License-Identifier: Apache-2.0
#include "server/log.h"

#include <fmt/format.h>
#include <spdlog/logger.h>
#include <spdlog/sinks/null_sink.h>
#include <spdlog/sinks/stdout_sinks.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace footring::server {

namespace {

// Members of an object, without its braces: the pattern of the log puts time and level before them.
std::string members_of(const nlohmann::ordered_json& object) {
    const std::string text = object.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
    return text.substr(1, text.size() - 2);
}

}  // namespace

Log::Log(LogForm form) : form_(form) {
    if (form == LogForm::kNone) {
        out_ = std::make_shared<spdlog::logger>("footring", std::make_shared<spdlog::sinks::null_sink_mt>());
        return;
    }
    out_ = std::make_shared<spdlog::logger>("footring", std::make_shared<spdlog::sinks::stderr_sink_mt>());
    out_->set_pattern(form == LogForm::kJson ? R"({"time":"%Y-%m-%dT%H:%M:%S.%eZ","level":"%l",%v})"
                                             : "%Y-%m-%dT%H:%M:%S.%eZ %l %v",
                      spdlog::pattern_time_type::utc);
}

void Log::request(const Seen& seen) const {
    const auto level = seen.status >= 500 ? spdlog::level::err : spdlog::level::info;
    if (form_ == LogForm::kJson)
        out_->log(level, "{}",
                  members_of({{"event", "request"},
                              {"method", seen.method},
                              {"route", seen.pattern},
                              {"status", seen.status},
                              {"ms", std::round(seen.milliseconds * 10) / 10}}));
    else out_->log(level, "{} {} {} {:.1f} ms", seen.method, seen.pattern, seen.status, seen.milliseconds);
}

void Log::event(bool well, std::string_view event,
                const std::vector<std::pair<std::string, std::string>>& members) const {
    const auto level = well ? spdlog::level::info : spdlog::level::err;
    if (form_ == LogForm::kJson) {
        nlohmann::ordered_json object{{"event", event}};
        for (const auto& [name, value] : members) object[name] = value;
        out_->log(level, "{}", members_of(object));
        return;
    }
    std::string words(event);
    for (const auto& [name, value] : members) words += fmt::format(" {} {}", name, value);
    out_->log(level, "{}", words);
}

}  // namespace footring::server
