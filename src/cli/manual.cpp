// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/settings.h"
#include "cli/commands.h"
#include "cli/help.h"

namespace footring::cli {

namespace {

// troff: a backslash and a hyphen are written as escapes, a full stop or quote that begins a line is guarded.
std::string troff(std::string_view text) {
    std::string out;
    bool line_begins = true;
    for (const char c : text) {
        if (line_begins && (c == '.' || c == '\'')) out += "\\&";
        if (c == '\\') out += "\\e";
        else if (c == '-') out += "\\-";
        else out += c;
        line_begins = c == '\n';
    }
    return out;
}

// `words` between backticks in bold.
std::string marked(std::string_view text) {
    std::string out;
    bool bold = false;
    while (!text.empty()) {
        const std::size_t tick = std::min(text.find('`'), text.size());
        out += troff(text.substr(0, tick));
        if (tick == text.size()) break;
        bold = !bold;
        out += bold ? "\\fB" : "\\fR";
        text.remove_prefix(tick + 1);
    }
    return out;
}

std::string named(const std::string& name, const std::string& value, std::string_view sentence) {
    std::string out = ".TP\n\\fB" + troff(name) + "\\fR";
    if (!value.empty()) out += " \\fI" + troff(value) + "\\fR";
    return out + "\n" + marked(sentence) + "\n";
}

}  // namespace

std::string manual_page() {
    std::string out =
        ".\\\" Made by `footring manual`; a test compares this page with the program.\n"
        ".\\\" SPDX-License-Identifier: Apache-2.0\n"
        ".TH FOOTRING 1 \"\" \"Footring\" \"User commands\"\n"
        ".SH NAME\nfootring \\- the evidence bench for factory\\-decorated dinnerware\n"
        ".SH SYNOPSIS\n.B footring\n.I COMMAND\n[\\fIARGUMENT\\fR...] [\\fIOPTION\\fR...]\n"
        ".SH DESCRIPTION\nNames, dates and grades a piece from what can be seen of it, with odds, the reasons and "
        "their "
        "sources,\nand the cheapest next look that would tell more. Everything runs on this machine.\n"
        ".PP\nAn option may be written \\fB\\-\\-name value\\fR or \\fB\\-\\-name=value\\fR; after \\fB\\-\\-\\fR "
        "every word is an argument.\n"
        ".SH COMMANDS\n";
    for (const Command& command : all_commands()) {
        out += ".SS \"" + troff(usage_line(command)) + "\"\n" + marked(command.sentence) + "\n";
        for (const std::string& paragraph : command.detail) out += ".PP\n" + marked(paragraph) + "\n";
        for (const Argument& argument : command.arguments) out += named(argument.name, "", argument.sentence);
        for (const Option& option : command.options) {
            const std::string choices =
                option.choices.empty() ? "" : fmt::format(" One of {}.", fmt::join(option.choices, ", "));
            out += named(option.name, option.value, option.sentence + choices);
        }
    }
    out +=
        ".SH SETTINGS\nThe numbers that the reasoning assumes, each changed by \\fB\\-\\-set\\fR "
        "\\fINAME=VALUE\\fR.\n";
    for (const Setting& s : all_settings())
        out += named(std::string(s.name), "",
                     fmt::format("{} Default {}, range {} to {}.", s.sentence, s.fallback, s.lowest, s.highest));
    out += ".SH EXIT STATUS\n";
    out += named("0", "", "Done.");
    out += named("1", "", "Our own fault, or the disk refused.");
    out += named("2", "", "Bad input.");
    out += named("3", "", "Something that was named is not there.");
    out += ".SH DIAGNOSTICS\nEach problem is one line on standard error, \\fBwhere: what: remedy\\fR.\n";
    out += ".SH ENVIRONMENT\n";
    out += named("COLUMNS", "", "How wide pages are; 80 when nothing tells, at least 40 and at most 120.");
    out += named("NO_COLOR", "",
                 "When set, pages have no colours. They have none either when they do not go to a terminal.");
    out += named("XDG_DATA_HOME", "", "Where `serve` keeps its folder when --data is absent.");
    out +=
        named("FOOTRING_SHARE", "",
              "The folder that holds packs/ambrel-valley, demo and ui/dist, when they are not beside the program.");
    return out;
}

}  // namespace footring::cli
