// SPDX-License-Identifier: Apache-2.0
#include "store/time.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "base/text.h"

namespace footring::store {

std::string utc(std::chrono::system_clock::time_point moment) {
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::chrono::system_clock::to_time_t(moment)));
}

Expected<std::string> seconds_after(const std::string& moment, std::int64_t seconds) {
    using namespace std::chrono;
    const auto part = [&](std::size_t at, std::size_t size) {
        return moment.size() == 20 ? to_int(moment.substr(at, size)) : std::nullopt;
    };
    const auto y = part(0, 4), m = part(5, 2), d = part(8, 2), hour = part(11, 2), minute = part(14, 2),
               second = part(17, 2);
    if (!y || !m || !d || !hour || !minute || !second)
        return fail(ProblemCode::kOurFault, "clock", "the clock gave '" + moment + "'", "report this as a mistake");
    const year_month_day day{year{*y}, month{static_cast<unsigned>(*m)},
                             std::chrono::day{static_cast<unsigned>(*d)}};
    return utc(system_clock::time_point(sys_days{day} + hours{*hour} + minutes{*minute} +
                                        std::chrono::seconds{*second + seconds}));
}

Expected<std::string> days_before(const std::string& moment, int days) {
    using namespace std::chrono;
    if (days < 0 || days > 36500)
        return fail(ProblemCode::kBadInput, "days", "the number of days is not between 0 and 36500",
                    "give the days that a removed photograph shall still be kept");
    const auto y = moment.size() == 20 ? to_int(moment.substr(0, 4)) : std::nullopt;
    const auto m = moment.size() == 20 ? to_int(moment.substr(5, 2)) : std::nullopt;
    const auto d = moment.size() == 20 ? to_int(moment.substr(8, 2)) : std::nullopt;
    if (!y || !m || !d)
        return fail(ProblemCode::kOurFault, "clock", "the clock gave '" + moment + "'", "report this as a mistake");
    const year_month_day now{year{*y}, month{static_cast<unsigned>(*m)}, day{static_cast<unsigned>(*d)}};
    const year_month_day then{sys_days{now} - std::chrono::days{days}};
    return fmt::format("{:04}-{:02}-{:02}{}", static_cast<int>(then.year()), static_cast<unsigned>(then.month()),
                       static_cast<unsigned>(then.day()), moment.substr(10));
}

}  // namespace footring::store
