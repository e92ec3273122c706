// SPDX-License-Identifier: Apache-2.0
#include "base/settings.h"

#include <fmt/format.h>

#include "base/text.h"

namespace footring {

std::span<const Setting> all_settings() {
#define FOOTRING_ROW(name, fallback, lowest, highest, sentence) \
    {#name, fallback, lowest, highest, sentence, &Settings::name},
    static constexpr Setting kSettings[] = {FOOTRING_SETTINGS(FOOTRING_ROW)};
#undef FOOTRING_ROW
    return kSettings;
}

Expected<void> set(Settings& settings, std::string_view name, std::string_view value) {
    std::vector<std::string> names;
    for (const Setting& s : all_settings()) {
        names.emplace_back(s.name);
        if (s.name != name) continue;
        const auto number = to_number(value);
        if (!number || *number < s.lowest || *number > s.highest)
            return fail(ProblemCode::kBadInput, "setting " + std::string(name),
                        fmt::format("'{}' is not a number from {} to {}", value, s.lowest, s.highest),
                        fmt::format("give a number in that range (the default is {})", s.fallback));
        settings.*s.field = *number;
        return {};
    }
    return fail(ProblemCode::kNotFound, "setting " + std::string(name), "there is no setting of this name",
                did_you_mean(name, names, "run `footring settings` for the list"));
}

std::string settings_markdown() {
    std::string out =
        "# Settings\n\nMade by `footring settings --markdown`; a test compares this page with the program.\n"
        "Give one with `--set name=value` on the command line; those of sharing and backups count for `serve`.\n\n"
        "| setting | default | range | meaning |\n| --- | --- | --- | --- |\n";
    for (const Setting& s : all_settings())
        out += fmt::format("| `{}` | {} | {} to {} | {} |\n", s.name, s.fallback, s.lowest, s.highest, s.sentence);
    return out;
}

}  // namespace footring
