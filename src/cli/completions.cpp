// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/settings.h"
#include "cli/commands.h"
#include "cli/help.h"

namespace footring::cli {

namespace {

std::string settings_list(std::string_view separator) {
    std::vector<std::string> names;
    for (const Setting& s : all_settings()) names.push_back(std::string(s.name) + "=");
    return fmt::format("{}", fmt::join(names, separator));
}

std::string command_list(std::string_view separator) {
    std::vector<std::string> names;
    for (const Command& command : all_commands()) names.push_back(command.name);
    return fmt::format("{}", fmt::join(names, separator));
}

// What follows an argument or an option, for bash: a compgen call.
std::string bash_words(Takes takes, const std::vector<std::string>& choices) {
    switch (takes) {
        case Takes::kFolder:
        case Takes::kCupboard:
            return "compgen -d -- \"$word\"";
        case Takes::kFile:
            return "compgen -f -- \"$word\"";
        case Takes::kChoice:
            return fmt::format("compgen -W '{}' -- \"$word\"", fmt::join(choices, " "));
        case Takes::kSetting:
            return fmt::format("compgen -W '{}' -- \"$word\"", settings_list(" "));
        case Takes::kText:
            break;
    }
    return ":";
}

std::string bash() {
    std::string out =
        "# bash completion for footring, made by `footring completions bash`\n"
        "_footring() {\n"
        "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}\n"
        "    COMPREPLY=()\n"
        "    # readline splits at '=': '--set name=' arrives as three words\n"
        "    [ \"$before\" = = ] && before=${COMP_WORDS[COMP_CWORD-2]}\n"
        "    [ \"$word\" = = ] && word=\n"
        "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n";
    out += fmt::format("        mapfile -t COMPREPLY < <(compgen -W '{}' -- \"$word\")\n", command_list(" "));
    out += "        return\n    fi\n    case $command:$before in\n";
    for (const Command& command : all_commands())
        for (const Option& option : command.options)
            if (!option.value.empty())
                out += fmt::format("        {}:{}) mapfile -t COMPREPLY < <({}){}; return ;;\n", command.name,
                                   option.name, bash_words(option.takes, option.choices),
                                   option.takes == Takes::kSetting ? "; compopt -o nospace 2>/dev/null" : "");
    out += "    esac\n    case $command:$word in\n";
    for (const Command& command : all_commands()) {
        std::vector<std::string> options{"--help"};
        for (const Option& option : command.options) options.push_back(option.name);
        out += fmt::format("        {}:-*) mapfile -t COMPREPLY < <(compgen -W '{}' -- \"$word\"); return ;;\n",
                           command.name, fmt::join(options, " "));
    }
    out += "    esac\n    case $command in\n";
    for (const Command& command : all_commands())
        if (!command.arguments.empty() && command.arguments[0].takes != Takes::kText)
            out += fmt::format("        {}) mapfile -t COMPREPLY < <({}) ;;\n", command.name,
                               bash_words(command.arguments[0].takes, command.arguments[0].choices));
    return out + "    esac\n}\ncomplete -o filenames -F _footring footring\n";
}

// Inside the single-quoted, colon-separated specifications of zsh.
std::string zsh_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\'') out += "'\\'";
        if (c == ':' || c == '[' || c == ']' || c == '\\') out += '\\';
        out += c;
    }
    return out;
}

std::string zsh_action(Takes takes, const std::vector<std::string>& choices) {
    switch (takes) {
        case Takes::kFolder:
        case Takes::kCupboard:
            return "_files -/";
        case Takes::kFile:
            return "_files";
        case Takes::kChoice:
            return fmt::format("({})", fmt::join(choices, " "));
        case Takes::kSetting:
            return fmt::format("{{compadd -S \"\" -- {}}}", settings_list(" "));  // no space after the =
        case Takes::kText:
            break;
    }
    return " ";
}

std::string zsh() {
    std::string out =
        "#compdef footring\n# zsh completion for footring, made by `footring completions zsh`\n"
        "_footring() {\n    local -a commands\n    commands=(\n";
    for (const Command& command : all_commands())
        out += fmt::format("        '{}:{}'\n", command.name, zsh_text(command.sentence));
    out +=
        "    )\n    if (( CURRENT == 2 )); then\n        _describe command commands\n        return\n    fi\n"
        "    local command=$words[2]\n    shift words\n    (( CURRENT-- ))\n    case $command in\n";
    for (const Command& command : all_commands()) {
        out += fmt::format(
            "        {})\n            _arguments -S \\\n                '--help[Tells of this command.]'",
            command.name);
        for (const Option& option : command.options) {
            out += fmt::format(" \\\n                '{}{}[{}]", option.repeats ? "*" : "", option.name,
                               zsh_text(option.sentence));
            if (!option.value.empty())
                out += fmt::format(":{}:{}", zsh_text(option.value), zsh_action(option.takes, option.choices));
            out += "'";
        }
        for (const Argument& argument : command.arguments)
            out += fmt::format(" \\\n                '{}:{}:{}'", argument.repeats ? "*" : "1",
                               zsh_text(argument.name), zsh_action(argument.takes, argument.choices));
        out += " ;;\n";
    }
    return out + "    esac\n}\n_footring \"$@\"\n";
}

std::string fish_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\'' || c == '\\') out += '\\';
        out += c;
    }
    return out;
}

std::string fish_action(Takes takes, const std::vector<std::string>& choices) {
    switch (takes) {
        case Takes::kFolder:
        case Takes::kCupboard:
            return " -x -a '(__fish_complete_directories)'";
        case Takes::kFile:
            return " -r -F";
        case Takes::kChoice:
            return fmt::format(" -x -a '{}'", fmt::join(choices, " "));
        case Takes::kSetting:
            return fmt::format(" -x -a '{}'", settings_list(" "));
        case Takes::kText:
            break;
    }
    return " -x";
}

std::string fish() {
    std::string out =
        "# fish completion for footring, made by `footring completions fish`\ncomplete -c footring -f\n";
    for (const Command& command : all_commands())
        out += fmt::format("complete -c footring -n __fish_use_subcommand -a {} -d '{}'\n", command.name,
                           fish_text(command.sentence));
    for (const Command& command : all_commands()) {
        const std::string after =
            fmt::format("complete -c footring -n '__fish_seen_subcommand_from {}'", command.name);
        out += after + " -l help -d 'Tells of this command.'\n";
        for (const Option& option : command.options)
            out += fmt::format("{} -l {} -d '{}'{}\n", after, option.name.substr(2), fish_text(option.sentence),
                               option.value.empty() ? "" : fish_action(option.takes, option.choices));
        if (!command.arguments.empty() && command.arguments[0].takes != Takes::kText) {
            const Argument& argument = command.arguments[0];
            out += argument.takes == Takes::kFile ? after + " -F\n"
                                                  : after + fish_action(argument.takes, argument.choices) + "\n";
        }
    }
    return out;
}

}  // namespace

std::string completions(const std::string& shell) {
    return shell == "bash" ? bash() : shell == "zsh" ? zsh() : fish();
}

}  // namespace footring::cli
