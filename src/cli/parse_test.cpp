// SPDX-License-Identifier: Apache-2.0
#include "cli/parse.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "cli/commands.h"

namespace footring::cli {
namespace {

using Words = std::vector<std::string>;

Chosen chosen(const Words& words) {
    const auto parsed = parse(words);
    EXPECT_TRUE(parsed.has_value()) << (parsed ? "" : to_line(parsed.error()[0]));
    return parsed ? std::get<Chosen>(*parsed) : Chosen{};
}

Words faults(const Words& words) {
    const auto parsed = parse(words);
    Words lines;
    if (parsed) return lines;
    for (const Problem& problem : parsed.error()) {
        EXPECT_EQ(problem.code, ProblemCode::kBadInput);
        lines.push_back(to_line(problem));
    }
    return lines;
}

TEST(Parse, TakesOptionsAndArgumentsInAnyOrder) {
    const Words expected{"a.json", "b.json"};
    for (const Words& words : {Words{"examine", "--pack", "p", "a.json", "b.json", "--json"},
                               Words{"examine", "a.json", "--json", "--pack=p", "b.json"},
                               Words{"examine", "--json", "a.json", "b.json", "--pack", "p"}}) {
        const Chosen c = chosen(words);
        EXPECT_EQ(c.command->name, "examine");
        EXPECT_EQ(c.call.arguments, expected);
        EXPECT_EQ(c.call.all("--pack"), (Words{"p"}));
        EXPECT_TRUE(c.call.json());
    }
}

TEST(Parse, AFolderOfAPackAfterAPackIsAPackAsWell) {
    const auto folder = std::filesystem::temp_directory_path() / "footring_parse_test_pack";
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "datapackage.json") << "{}";
    const Chosen c = chosen({"examine", "--pack", "p", folder.string(), "a.json"});
    EXPECT_EQ(c.call.all("--pack"), (Words{"p", folder.string()}));
    EXPECT_EQ(c.call.arguments, (Words{"a.json"}));
    const Chosen later = chosen({"examine", "--pack", "p", "a.json", folder.string()});
    EXPECT_EQ(later.call.arguments, (Words{"a.json", folder.string()}));
    std::filesystem::remove_all(folder);
}

TEST(Parse, AWordThatNamesACommandMayBeAnArgument) {
    const Chosen c = chosen({"check", "key", "serve"});
    EXPECT_EQ(c.command->name, "check");
    EXPECT_EQ(c.call.arguments, (Words{"key", "serve"}));
}

TEST(Parse, LeavesBracketsDashesAndWordsAfterTwoDashesAlone) {
    EXPECT_EQ(chosen({"check", "[a,b]"}).call.arguments, (Words{"[a,b]"}));
    EXPECT_EQ(chosen({"examine", "--pack", "[x]", "-"}).call.all("--pack"), (Words{"[x]"}));
    EXPECT_EQ(chosen({"examine", "--pack", "p", "-"}).call.arguments, (Words{"-"}));
    EXPECT_EQ(chosen({"check", "--json", "--", "--json", "-x", "++"}).call.arguments,
              (Words{"--json", "-x", "++"}));
}

TEST(Parse, HelpIsAskedForInEveryUsualWay) {
    for (const Words& words : {Words{"--help"}, Words{"-h"}, Words{"help"}}) {
        const auto parsed = parse(words);
        ASSERT_TRUE(parsed.has_value());
        EXPECT_EQ(std::get<HelpWanted>(*parsed).about, nullptr);
    }
    for (const Words& words : {Words{"help", "check"}, Words{"check", "--help"}, Words{"check", "--wrong", "-h"}}) {
        const auto parsed = parse(words);
        ASSERT_TRUE(parsed.has_value());
        EXPECT_EQ(std::get<HelpWanted>(*parsed).about, command_named("check"));
    }
}

TEST(Parse, RefusesWhatIsNoCommand) {
    EXPECT_EQ(faults({}), (Words{"footring: no command is given: see `footring --help` for the list"}));
    EXPECT_EQ(faults({"exmine"}), (Words{"footring: there is no command 'exmine': did you mean 'examine'?"}));
    EXPECT_EQ(faults({"frobnicate"}),
              (Words{"footring: there is no command 'frobnicate': see `footring --help` for the list"}));
    EXPECT_EQ(faults({"--json", "check"}),
              (Words{"footring: '--json' stands before a command: see `footring --help` for the list"}));
}

TEST(Parse, ReportsEveryFaultOfALineAtOnce) {
    EXPECT_EQ(faults({"apart", "--fom", "plate", "--json=yes", "--pack"}),
              (Words{"--json: this option takes no value: write --json alone",
                     "--pack: this option needs a value: write --pack DIR",
                     "footring apart: there is no option '--fom': did you mean '--form'?",
                     "footring apart: --form is missing: add --form FORM",
                     "footring apart: at least two TREATMENT are needed: see `footring apart --help`"}));
}

TEST(Parse, AnOptionDoesNotSwallowTheNextOption) {
    EXPECT_EQ(faults({"apart", "--pack", "p", "--form", "--json", "t-1", "t-2"}),
              (Words{"--form: this option needs a value: write --form FORM"}));
    EXPECT_EQ(faults({"apart", "--pack", "p", "--form=", "t-1", "t-2"}),
              (Words{"--form: this option needs a value: write --form FORM"}));
}

TEST(Parse, RefusesAnOptionGivenTwiceAndAWordTooMany) {
    EXPECT_EQ(faults({"key", "--pack", "p", "--form", "a", "--form", "b"}),
              (Words{"--form: is given 2 times: give it once"}));
    EXPECT_EQ(faults({"version", "now"}), (Words{"footring version: 'now' is one word too many: the command takes "
                                                 "none: see `footring version --help`"}));
    EXPECT_EQ(faults({"glyph", "--pack", "p", "t-1", "t-2"}),
              (Words{"footring glyph: 't-2' is one word too many: see `footring glyph --help`"}));
}

TEST(Parse, RefusesWhatIsNoChoice) {
    EXPECT_EQ(faults({"completions", "fissh"}),
              (Words{"SHELL: 'fissh' is not one of its values: did you mean 'fish'?"}));
    EXPECT_EQ(faults({"export", "--data", "d", "--format", "ods"}),
              (Words{"--format: 'ods' is not one of its values: choose one of csv, json, xlsx"}));
}

TEST(Commands, HaveWhatTheirHelpNeeds) {
    for (const Command& command : all_commands()) {
        EXPECT_NE(command.run, nullptr) << command.name;
        EXPECT_TRUE(command.sentence.ends_with('.')) << command.name;
        for (const Option& option : command.options) {
            EXPECT_TRUE(option.name.starts_with("--")) << command.name;
            EXPECT_TRUE(option.sentence.ends_with('.')) << command.name << " " << option.name;
            EXPECT_EQ(option.takes == Takes::kChoice, !option.choices.empty())
                << command.name << " " << option.name;
        }
        for (const Argument& argument : command.arguments)
            EXPECT_TRUE(argument.sentence.ends_with('.')) << command.name << " " << argument.name;
    }
}

TEST(ExitStatus, IsThatOfTheGravestProblem) {
    const auto status = [](std::vector<ProblemCode> codes) {
        std::vector<Problem> problems;
        for (const ProblemCode code : codes) problems.push_back({code, "a", "b", "c"});
        return exit_status(problems);
    };
    EXPECT_EQ(status({}), 0);
    EXPECT_EQ(status({ProblemCode::kNotFound}), 3);
    EXPECT_EQ(status({ProblemCode::kNotFound, ProblemCode::kBadInput}), 2);
    EXPECT_EQ(status({ProblemCode::kBadInput, ProblemCode::kStore, ProblemCode::kNotFound}), 1);
}

}  // namespace
}  // namespace footring::cli
