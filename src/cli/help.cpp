// SPDX-License-Identifier: Apache-2.0
#include "cli/help.h"

#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/text_page.h"

namespace footring::cli {

namespace {
std::string shape_of(const Option& option) {
    return option.value.empty() ? option.name : option.name + " " + option.value;
}
std::string shape_of(const Argument& argument) {
    std::string shape = argument.name;
    if (argument.least == 2) shape += " " + argument.name;
    if (argument.repeats) shape += "...";
    return argument.least == 0 ? "[" + shape + "]" : shape;
}

// A name, and its sentence beside it.
std::string entry(const std::string& name, const std::string& sentence, std::size_t column, int width) {
    if (width_of(name) + 2 > column)
        return "  " + name + "\n" +
               wrapped(sentence, width, std::string(column + 2, ' '), std::string(column + 2, ' '));
    return wrapped(sentence, width, "  " + padded(name, column), std::string(column + 2, ' '));
}

std::string sentence_of(const Option& option) {
    return option.choices.empty() ? option.sentence
                                  : fmt::format("{} One of {}.", option.sentence, fmt::join(option.choices, ", "));
}

std::string help_of_program(int width) {
    std::string out = wrapped(
        "footring, the evidence bench for factory-decorated dinnerware: names, dates and grades "
        "a piece from what can be seen, with odds, reasons and the cheapest next look.",
        width, "", "");
    out += "\nUsage: footring COMMAND [ARGUMENT...] [OPTION...]\n\nCommands:\n";
    for (const Command& command : all_commands()) out += entry(command.name, command.sentence, 14, width);
    out += "\n" +
           wrapped(
               "`footring COMMAND --help` tells of one command. Exit status: 0 done, 1 our fault or the disk's, "
               "2 bad input, 3 not found. Each problem is one line on standard error, `where: what: remedy`.",
               width, "", "");
    return out;
}
}  // namespace

std::string usage_line(const Command& command) {
    std::string out = "footring " + command.name;
    for (const Option& option : command.options)
        if (option.required) out += fmt::format(" {}{}", shape_of(option), option.repeats ? "..." : "");
    for (const Argument& argument : command.arguments) out += " " + shape_of(argument);
    for (const Option& option : command.options)
        if (!option.required) out += fmt::format(" [{}]{}", shape_of(option), option.repeats ? "..." : "");
    return out;
}

std::string help(const Command* about, int width) {
    if (about == nullptr) return help_of_program(width);
    std::string out = wrapped(about->sentence, width, "", "");
    out += "\n" + wrapped(usage_line(*about), width, "Usage: ", std::string(11, ' '));
    for (const std::string& paragraph : about->detail) out += "\n" + wrapped(paragraph, width, "", "");
    if (!about->arguments.empty()) out += "\nArguments:\n";
    for (const Argument& argument : about->arguments) out += entry(argument.name, argument.sentence, 20, width);
    out += "\nOptions:\n";
    for (const Option& option : about->options) out += entry(shape_of(option), sentence_of(option), 20, width);
    return out;
}

}  // namespace footring::cli
