// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"

#include <algorithm>

namespace footring::cli {

Option pack_option(bool required) {
    return {.name = "--pack",
            .value = "DIR",
            .sentence =
                "A reference pack. Several may be open at once: repeat the option, or name more folders after it.",
            .takes = Takes::kFolder,
            .required = required,
            .repeats = true};
}

Option data_option() {
    return {.name = "--data",
            .value = "DIR",
            .sentence = "The folder that holds your pieces, lots and photographs.",
            .takes = Takes::kFolder,
            .required = true};
}

Option cupboard_option() {
    Option data = data_option();
    data.takes = Takes::kCupboard;
    return data;
}

Option set_option() {
    return {.name = "--set",
            .value = "NAME=VALUE",
            .sentence = "Changes one setting of the reasoning; may be repeated. `footring settings` lists them.",
            .takes = Takes::kSetting,
            .repeats = true};
}

const std::vector<Command>& all_commands() {
    static const std::vector<Command> kCommands = [] {
        std::vector<Command> list{
            examine_command(), date_command(),       years_command(),     apart_command(),
            key_command(),     clue_command(),       code_command(),      sequence_command(),
            unseen_command(),  assemblage_command(), leach_command(),     services_command(),
            worth_command(),   reply_command(),      paper_command(),     check_command(),
            merge_command(),   catalogue_command(),  reexamine_command(), glyph_command(),
            read_command(),    reader_command(),     card_command(),      serve_command(),
            import_command(),  export_command(),     account_command(),   backup_command(),
            restore_command(), move_command(),       settings_command(),  completions_command(),
            manual_command(),  version_command(),
        };
        for (Command& command : list) {
            const auto data = std::ranges::find(command.options, Takes::kCupboard, &Option::takes);
            if (data != command.options.end())
                command.options.insert(
                    data + 1,
                    {{.name = "--store",
                      .value = "ADDRESS",
                      .sentence =
                          "A PostgreSQL database that holds them instead: postgresql://USER@HOST/DATABASE."},
                     {.name = "--photos",
                      .value = "PLACE",
                      .sentence =
                          "With --store: the folder of the photographs, or s3://BUCKET/PREFIX?endpoint=URL; "
                          "the folder of --data when absent.",
                      .takes = Takes::kFolder}});
            command.options.push_back(
                {.name = "--json", .value = "", .sentence = "Prints JSON instead of a page."});
        }
        return list;
    }();
    return kCommands;
}

const Command* command_named(std::string_view name) {
    const auto found = std::ranges::find(all_commands(), name, &Command::name);
    return found == all_commands().end() ? nullptr : &*found;
}

int exit_status(const std::vector<Problem>& problems) {
    int worst = 0;
    // 1 is graver than 2, and 2 than 3: somebody who mends the input may still not find the thing.
    for (const Problem& problem : problems) {
        const int status = footring::exit_status(problem.code);
        if (worst == 0 || status < worst) worst = status;
    }
    return worst;
}

}  // namespace footring::cli
