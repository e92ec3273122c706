// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/help.h"
#include "cli/json_page.h"

namespace footring::cli {

namespace {

Outcome manual(const Call& call, World&) {
    if (call.json()) return page(json_line({{"page", manual_page()}}));
    return page(manual_page());
}

Outcome completions_for(const Call& call, World&) {
    const std::string script = completions(call.arguments[0]);
    if (call.json()) return page(json_line({{"shell", call.arguments[0]}, {"script", script}}));
    return page(script);
}

}  // namespace

Command manual_command() {
    return {.name = "manual",
            .sentence = "Prints the man page, footring.1.",
            .detail = {"`footring manual > footring.1` and `man ./footring.1` show it."},
            .arguments = {},
            .options = {},
            .run = manual};
}

Command completions_command() {
    return {.name = "completions",
            .sentence = "Prints a script with which a shell completes commands, options and settings.",
            .detail = {"bash: `footring completions bash > ~/.local/share/bash-completion/completions/footring`.",
                       "zsh: `footring completions zsh > DIR/_footring`, where DIR is a folder of $fpath.",
                       "fish: `footring completions fish > ~/.config/fish/completions/footring.fish`."},
            .arguments = {{.name = "SHELL",
                           .sentence = "bash, zsh or fish.",
                           .takes = Takes::kChoice,
                           .choices = {"bash", "zsh", "fish"}}},
            .options = {},
            .run = completions_for};
}

}  // namespace footring::cli
