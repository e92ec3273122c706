// SPDX-License-Identifier: Apache-2.0
#include "cli/files.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

namespace footring::cli {
namespace {

namespace fs = std::filesystem;

struct Files : testing::Test {
    fs::path folder = fs::temp_directory_path() / ("footring_files_test_" + std::to_string(getpid()));
    Files() { fs::create_directories(folder); }
    ~Files() override { fs::remove_all(folder); }
    std::string at(const char* name) const { return (folder / name).string(); }
};

TEST_F(Files, AreReadWhole) {
    std::ofstream(at("a"), std::ios::binary) << std::string("a\0b\r\n", 5);
    EXPECT_EQ(read_file(at("a")), std::string("a\0b\r\n", 5));
}

TEST_F(Files, ThatAreMissingOrFoldersAreRefusedByName) {
    EXPECT_EQ(to_line(read_file(at("none")).error()), at("none") + ": there is no such file: check the path");
    EXPECT_EQ(read_file(at("none")).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(to_line(read_file(folder.string()).error()),
              folder.string() + ": this is a folder, not a file: name a file in it");
    EXPECT_EQ(read_file(folder.string()).error().code, ProblemCode::kBadInput);
}

TEST_F(Files, OverTheLimitAreRefused) {
    std::ofstream(at("large")) << "x";
    fs::resize_file(at("large"), kMostInputBytes + 1);  // sparse: costs no disk
    EXPECT_EQ(to_line(read_file(at("large")).error()),
              at("large") + ": is larger than 64 MB: split it into smaller files");
    EXPECT_EQ(read_file(at("large")).error().code, ProblemCode::kTooLarge);
}

TEST_F(Files, ADashIsStandardInput) {
    std::istringstream in("{}");
    std::ostringstream out;
    World world{.in = in, .out = out, .share = {}, .variable = {}};
    EXPECT_EQ(read_file_or_stdin("-", world), "{}");
}

TEST_F(Files, AreReplacedWholeAndLeaveNothingBesideThem) {
    ASSERT_TRUE(write_file(at("out.csv"), "first\n").has_value());
    ASSERT_TRUE(write_file(at("out.csv"), "second\n").has_value());
    EXPECT_EQ(read_file(at("out.csv")), "second\n");
    EXPECT_EQ(std::distance(fs::directory_iterator(folder), fs::directory_iterator()), 1);
    EXPECT_NE(fs::status(at("out.csv")).permissions() & fs::perms::owner_write, fs::perms::none);
}

TEST_F(Files, ThatCannotBeWrittenSayWhy) {
    EXPECT_EQ(to_line(write_file(at("no/out.csv"), "x").error()),
              at("no") + ": there is no such folder: make it first");
    EXPECT_EQ(to_line(write_file(folder.string(), "x").error()),
              folder.string() + ": this is a folder, not a file: name a file in it");
    const std::string full = "/dev/full/out.csv";  // a file where a folder should be
    EXPECT_EQ(write_file(full, "x").error().code, ProblemCode::kNotFound);
}

TEST_F(Files, TheShareIsFoundAboveTheProgramOrBesideItsPrefix) {
    fs::create_directories(folder / "build/test/bin");
    fs::create_directories(folder / "packs/ambrel-valley");
    std::ofstream(folder / "packs/ambrel-valley/datapackage.json") << "{}";
    EXPECT_EQ(find_share(folder / "build/test/bin/footring", ""), fs::canonical(folder));
    fs::create_directories(folder / "usr/bin");
    fs::create_directories(folder / "usr/share/footring/packs/ambrel-valley");
    std::ofstream(folder / "usr/share/footring/packs/ambrel-valley/datapackage.json") << "{}";
    EXPECT_EQ(find_share(folder / "usr/bin/footring", ""), fs::canonical(folder) / "usr/share/footring");
    EXPECT_EQ(find_share(folder / "usr/bin/footring", "/elsewhere"), "/elsewhere");
    EXPECT_EQ(find_share("/nowhere/bin/footring", ""), "");
}

}  // namespace
}  // namespace footring::cli
