// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/settings.h"
#include "cli/commands.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"

namespace footring::cli {

namespace {

Outcome settings(const Call& call, World& world) {
    if (call.has("--markdown")) return page(settings_markdown());
    const auto values = read_settings(call);
    if (!values) return refuse(values.error());
    if (call.json()) {
        auto list = nlohmann::ordered_json::array();
        for (const Setting& s : all_settings())
            list.push_back({{"name", s.name},
                            {"value", (*values).*s.field},
                            {"default", s.fallback},
                            {"lowest", s.lowest},
                            {"highest", s.highest},
                            {"sentence", s.sentence}});
        return page(json_line(list));
    }
    const Ink ink{world.colour};
    std::string text;
    for (const Setting& s : all_settings()) {
        text += ink.strong(s.name) + fmt::format(" = {}", (*values).*s.field) +
                ink.faint(fmt::format("  ({} to {})", s.lowest, s.highest)) + "\n";
        text += wrapped(s.sentence, world.width, "    ", "    ");
    }
    return page(std::move(text));
}

}  // namespace

Command settings_command() {
    return {.name = "settings",
            .sentence = "Lists every number that the reasoning assumes, with its range and what it does.",
            .detail =
                {"Change one with --set NAME=VALUE on the commands that reason, or here to see the list changed."},
            .arguments = {},
            .options = {{.name = "--markdown", .value = "", .sentence = "Prints the page docs/settings.md."},
                        set_option()},
            .run = settings};
}

}  // namespace footring::cli
