// SPDX-License-Identifier: Apache-2.0
#include "cli/parse.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>

#include "base/text.h"
#include "cli/commands.h"

namespace footring::cli {

namespace {

constexpr std::string_view kProgram = "footring";

std::string where(const Command& command) { return fmt::format("{} {}", kProgram, command.name); }
std::string see_help(const Command& command) { return fmt::format("see `{} {} --help`", kProgram, command.name); }

const Option* option_named(const Command& command, std::string_view name) {
    const auto found = std::ranges::find(command.options, name, &Option::name);
    return found == command.options.end() ? nullptr : &*found;
}

bool is_pack(const std::string& word) {
    std::error_code ignored;
    return std::filesystem::exists(std::filesystem::path(word) / "datapackage.json", ignored);
}

bool is_option(std::string_view word) { return word.size() > 1 && word.front() == '-'; }

// The words with one --pack before each pack, and the options that lack their value.
std::vector<std::string> tidy(const Command& command, const std::vector<std::string>& words,
                              std::vector<Problem>& problems) {
    std::vector<std::string> tidied;
    bool after_pack = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (word == "--") {
            tidied.insert(tidied.end(), words.begin() + static_cast<std::ptrdiff_t>(i), words.end());
            break;
        }
        const std::size_t equals = word.starts_with("--") ? word.find('=') : std::string::npos;
        const Option* option = option_named(command, std::string_view(word).substr(0, equals));
        if (option == nullptr) {
            if (after_pack && is_pack(word)) tidied.emplace_back("--pack");
            else after_pack = false;
            tidied.push_back(word);
            continue;
        }
        after_pack = option->name == "--pack";
        if (option->value.empty()) {
            if (equals == std::string::npos) tidied.push_back(word);
            else
                problems.push_back({ProblemCode::kBadInput, option->name, "this option takes no value",
                                    fmt::format("write {} alone", option->name)});
            continue;
        }
        std::string value;
        if (equals != std::string::npos) value = word.substr(equals + 1);
        else if (i + 1 < words.size() && !(is_option(words[i + 1]) && words[i + 1].starts_with("--")))
            value = words[++i];
        if (value.empty()) {
            problems.push_back({ProblemCode::kBadInput, option->name, "this option needs a value",
                                fmt::format("write {} {}", option->name, option->value)});
            continue;
        }
        tidied.push_back(option->name);
        tidied.push_back(value);
    }
    return tidied;
}

std::string choices_of(const std::vector<std::string>& choices) {
    return fmt::format("choose one of {}", fmt::join(choices, ", "));
}

void check_options(const Command& command, const Call& call, std::vector<Problem>& problems) {
    for (const Option& option : command.options) {
        const auto given = call.options.find(option.name);
        if (given == call.options.end()) {
            const bool already =
                std::ranges::any_of(problems, [&](const Problem& p) { return p.where == option.name; });
            const bool elsewhere = option.takes == Takes::kCupboard && call.has("--store");
            if (option.required && !already && !elsewhere)
                problems.push_back({ProblemCode::kBadInput, where(command),
                                    fmt::format("{} is missing", option.name),
                                    fmt::format("add {} {}", option.name, option.value)});
            continue;
        }
        if (!option.repeats && given->second.size() > 1)
            problems.push_back({ProblemCode::kBadInput, option.name,
                                fmt::format("is given {} times", given->second.size()), "give it once"});
        for (const std::string& value : given->second)
            if (!option.choices.empty() && std::ranges::find(option.choices, value) == option.choices.end())
                problems.push_back({ProblemCode::kBadInput, option.name,
                                    fmt::format("'{}' is not one of its values", value),
                                    did_you_mean(value, option.choices, choices_of(option.choices))});
    }
}

void check_arguments(const Command& command, const Call& call, std::vector<Problem>& problems) {
    std::size_t least = 0, most = 0;
    bool unlimited = false;
    for (const Argument& argument : command.arguments) {
        least += argument.least;
        most += std::max<std::size_t>(argument.least, 1);
        unlimited = unlimited || argument.repeats;
    }
    if (call.arguments.size() < least) {
        const Argument& missing = command.arguments[std::min(call.arguments.size(), command.arguments.size() - 1)];
        const std::string_view number = missing.least == 2 ? "two " : "";
        problems.push_back({ProblemCode::kBadInput, where(command),
                            number.empty() ? fmt::format("{} is missing", missing.name)
                                           : fmt::format("at least two {} are needed", missing.name),
                            see_help(command)});
    } else if (call.arguments.size() > most && !unlimited) {
        problems.push_back(
            {ProblemCode::kBadInput, where(command),
             most == 0 ? fmt::format("'{}' is one word too many: the command takes none", call.arguments[0])
                       : fmt::format("'{}' is one word too many", call.arguments[most]),
             see_help(command)});
    }
    for (std::size_t i = 0; i < command.arguments.size() && i < call.arguments.size(); ++i) {
        const Argument& argument = command.arguments[i];
        if (!argument.choices.empty() &&
            std::ranges::find(argument.choices, call.arguments[i]) == argument.choices.end())
            problems.push_back({ProblemCode::kBadInput, argument.name,
                                fmt::format("'{}' is not one of its values", call.arguments[i]),
                                did_you_mean(call.arguments[i], argument.choices, choices_of(argument.choices))});
    }
}

}  // namespace

std::expected<std::variant<HelpWanted, Chosen>, std::vector<Problem>> parse(const std::vector<std::string>& words) {
    const auto refuse_word = [](std::string what, std::string remedy) {
        return std::unexpected(std::vector{
            Problem{ProblemCode::kBadInput, std::string(kProgram), std::move(what), std::move(remedy)}});
    };
    std::vector<std::string> names;
    for (const Command& command : all_commands()) names.push_back(command.name);
    const std::string list = "see `footring --help` for the list";

    if (words.empty()) return refuse_word("no command is given", list);
    if (words[0] == "--help" || words[0] == "-h" || words[0] == "help") {
        if (words.size() == 1) return HelpWanted{nullptr};
        if (const Command* about = command_named(words[1])) return HelpWanted{about};
        return refuse_word(fmt::format("there is no command '{}'", words[1]), did_you_mean(words[1], names, list));
    }
    const Command* command = command_named(words[0] == "--version" ? "version" : words[0]);
    if (command == nullptr) {
        if (is_option(words[0])) return refuse_word(fmt::format("'{}' stands before a command", words[0]), list);
        return refuse_word(fmt::format("there is no command '{}'", words[0]), did_you_mean(words[0], names, list));
    }
    const std::vector<std::string> rest(words.begin() + 1, words.end());
    for (const std::string& word : rest) {
        if (word == "--") break;
        if (word == "--help" || word == "-h") return HelpWanted{command};
    }

    std::vector<Problem> problems;
    Chosen chosen{command, {}};
    CLI::App app;
    app.set_help_flag();
    app.allow_extras();
    std::map<std::string, std::vector<std::string>> values;
    std::map<std::string, bool> switches;
    for (const Option& option : command->options) {
        if (option.value.empty()) app.add_flag(option.name, switches[option.name]);
        else app.add_option(option.name, values[option.name])->allow_extra_args(false)->expected(1);
        if (!option.value.empty())
            app.get_option(option.name)->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    }
    try {
        std::vector<std::string> tidied = tidy(*command, rest, problems);
        std::ranges::reverse(tidied);  // CLI11 takes the last word first
        app.parse(std::move(tidied));
    } catch (const CLI::Error& error) {
        problems.push_back({ProblemCode::kBadInput, where(*command), error.what(), see_help(*command)});
        return std::unexpected(problems);
    }
    for (const Option& option : command->options)
        if (app.count(option.name) > 0)
            chosen.call.options[option.name] =
                option.value.empty() ? std::vector<std::string>{} : values[option.name];
    bool only_words = false;
    for (const std::string& word : app.remaining()) {
        if (word == "--" && !only_words) only_words = true;
        else if (!only_words && is_option(word)) {
            std::vector<std::string> known;
            for (const Option& option : command->options) known.push_back(option.name);
            const std::string name = word.substr(0, word.find('='));
            problems.push_back({ProblemCode::kBadInput, where(*command),
                                fmt::format("there is no option '{}'", name),
                                did_you_mean(name, known, see_help(*command))});
        } else {
            chosen.call.arguments.push_back(word);
        }
    }
    check_options(*command, chosen.call, problems);
    check_arguments(*command, chosen.call, problems);
    if (!problems.empty()) return std::unexpected(problems);
    return chosen;
}

}  // namespace footring::cli
