// SPDX-License-Identifier: Apache-2.0
// The darkroom's walls: what it may not do, how it is watched, and what happens when a photograph does harm.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <thread>

#include "photo/darkroom/exchange.h"
#include "photo/develop.h"
#include "photo/open.h"
#include "photo/test_files.h"
#include "photo/test_heic.h"

namespace footring::photo {
namespace {

using namespace files;
using std::chrono::milliseconds;

std::string darkroom() {
    return (std::filesystem::read_symlink("/proc/self/exe").parent_path() / "footring-darkroom").string();
}
// Exit status, or minus the signal.
int run(const std::string& program, const std::vector<std::string>& arguments) {
    std::vector<char*> argv = {const_cast<char*>(program.c_str())};
    for (const std::string& word : arguments) argv.push_back(const_cast<char*>(word.c_str()));
    argv.push_back(nullptr);
    pid_t child = 0;
    if (posix_spawn(&child, program.c_str(), nullptr, nullptr, argv.data(), environ) != 0) return 1000;
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}
std::string line_of(const std::string& bytes) {
    const auto picture = open(bytes, "a");
    return picture ? "a picture" : to_line(picture.error());
}
// The line when another program stands where the darkroom should.
std::string line_with(const std::string& program, const std::vector<std::string>& arguments,
                      milliseconds patience = milliseconds(20000)) {
    const std::string png = encoded(".png", corners(8, 8));
    const auto header = admit(png, "a");
    DarkroomOptions options;
    options.program = program;
    options.arguments = arguments;
    options.patience = patience;
    const auto developed = develop(png, *header, "a", options);
    return developed ? "a picture" : to_line(developed.error());
}
std::size_t open_descriptors() {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::directory_iterator("/proc/self/fd")) count += entry.exists() ? 1 : 0;
    return count;
}
bool has_children() { return waitpid(-1, nullptr, WNOHANG) >= 0 || errno != ECHILD; }

constexpr const char* kHarm =
    "a: the photograph could not be decoded: its data are damaged, or made to do harm: save it anew as JPEG and "
    "send "
    "that";
constexpr const char* kTooLong =
    "a: decoding the photograph takes longer than is allowed: make a smaller copy and send that";
constexpr const char* kTooMuch =
    "a: decoding the photograph takes more memory than is allowed: make a smaller copy and send that";
constexpr const char* kTorn =
    "a: the photograph is torn: it ends too early, or its data are damaged: copy it from the camera again";

TEST(Darkroom, CanNeitherOpenNorConnectNorStartAnything) {
    for (const char* deed : {"open", "socket", "exec", "fork", "thread", "kill", "code", "memory", "write"}) {
        EXPECT_EQ(run(darkroom(), {"--try", deed}), 0) << deed;
        EXPECT_EQ(run(darkroom(), {"--try", std::string("bare-") + deed}), 1) << deed << " cannot be done anyway";
    }
    EXPECT_EQ(run(darkroom(), {"--try", "fly"}), 2);
}

TEST(Darkroom, RefusesToBeStartedByHand) {
    EXPECT_EQ(run("/bin/sh", {"-c", darkroom() + " </dev/null 2>/dev/null"}), 2);
}

TEST(Darkroom, IsKilledWhenItDoesNotEnd) {
    const auto began = std::chrono::steady_clock::now();
    EXPECT_EQ(line_with("/bin/sleep", {"60"}, milliseconds(200)), kTooLong);
    EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::seconds(10));
    EXPECT_FALSE(has_children());
}

TEST(Darkroom, MayDieInAnyWayWithOneSentence) {
    EXPECT_EQ(line_with("/bin/false", {}), kHarm);
    EXPECT_EQ(line_with("/bin/true", {}), kHarm);
    EXPECT_EQ(line_with("/bin/sh", {"-c", "kill -SEGV $$"}), kHarm);
    EXPECT_EQ(line_with("/bin/sh", {"-c", "kill -ABRT $$"}), kHarm);
    EXPECT_EQ(line_with("/bin/sh", {"-c", "kill -XCPU $$"}), kTooLong);  // its own limit of processor time
    EXPECT_EQ(
        line_with("/nowhere/footring-darkroom", {}),
        "a: /nowhere/footring-darkroom cannot be started (No such file or directory): try again; if it stays so, "
        "start footring anew, or build it again");
}

TEST(Darkroom, IsNotBelieved) {
    // An answer as a broken darkroom could write it: outcome, width, height, full width, full height.
    const auto liar = [](const std::string& numbers, const std::string& then = "pass") {
        return line_with("/usr/bin/python3",
                         {"-c", "import os, struct\nos.pwrite(1, struct.pack('<I4iId', " + numbers + ", 0, 0.0), " +
                                    std::to_string(darkroom::kAnswerAt) + ")\n" + then});
    };
    const std::string grow = "os.ftruncate(1, " + std::to_string(darkroom::kPixelsAt + 3 * 64) + ")";
    EXPECT_EQ(liar("1, 8, 8, 8, 8", grow), "a picture");
    EXPECT_EQ(liar("1, 8, 8, 8, 8"), kHarm);  // no pixels
    EXPECT_EQ(liar("1, 8, 9, 8, 9", grow), kHarm);
    EXPECT_EQ(liar("1, -8, -8, 8, 8", grow), kHarm);
    EXPECT_EQ(liar("1, 8, 8, 7, 8", grow), kHarm);
    EXPECT_EQ(liar("1, 0, 0, 0, 0", grow), kHarm);
    EXPECT_EQ(liar("1, 2147483647, 2147483647, 2147483647, 2147483647", grow), kHarm);
    EXPECT_EQ(liar("1, 8, 8, 8, 8", grow + "\nos._exit(3)"), kHarm);
    EXPECT_EQ(liar("77, 8, 8, 8, 8", grow), kHarm);
    EXPECT_EQ(liar("2, 8, 8, 8, 8", grow), kTorn);
}

TEST(Darkroom, InheritsNothing) {
    const int leak = fcntl(::open("/dev/null", O_RDONLY | O_CLOEXEC), F_DUPFD, 50);  // inheritable
    ASSERT_GE(leak, 50);
    setenv("FOOTRING_SECRET", "yes", 1);
    // What it finds of ours it tells by the way it dies.
    const std::string look = "[ -e /proc/self/fd/" + std::to_string(leak) + " ] && kill -XCPU $$; " +
                             "[ -n \"$FOOTRING_SECRET\" ] && kill -XCPU $$; exit 1";
    EXPECT_EQ(line_with("/bin/sh", {"-c", look}), kHarm);
    EXPECT_EQ(run("/bin/sh", {"-c", look}), -SIGXCPU) << "the look itself sees nothing";
    unsetenv("FOOTRING_SECRET");
    close(leak);
}

TEST(Darkroom, LeavesNoProcessAndNoDescriptorBehind) {
    const std::string png = encoded(".png", corners(40, 30));
    EXPECT_EQ(line_of(png), "a picture");
    const std::size_t before = open_descriptors();
    for (int i = 0; i < 20; ++i) {
        EXPECT_EQ(line_of(png), "a picture");
        EXPECT_EQ(line_of(png.substr(0, png.size() - 20)), kTorn);
        line_with("/bin/false", {});
        line_with("/nowhere", {});
        line_with("/bin/sleep", {"60"}, milliseconds(1));
    }
    EXPECT_EQ(open_descriptors(), before);
    EXPECT_FALSE(has_children());
}

TEST(Darkroom, ServesManyThreadsAtOnce) {
    std::vector<std::thread> threads;
    std::vector<int> right(8, 0);
    for (std::size_t i = 0; i < right.size(); ++i)
        threads.emplace_back([&right, i] {
            const cv::Mat mine(20 + static_cast<int>(i), 30, CV_8UC3,
                               cv::Scalar::all(20.0 * static_cast<double>(i)));
            const std::string png = encoded(".png", mine);
            for (int round = 0; round < 6; ++round) {
                const auto picture = open(png, "a");
                if (picture && picture->bgr.size() == mine.size() &&
                    cv::norm(picture->bgr, mine, cv::NORM_INF) == 0)
                    ++right[i];
            }
        });
    for (std::thread& thread : threads) thread.join();
    EXPECT_EQ(right, std::vector<int>(8, 6));
    EXPECT_FALSE(has_children());
}

// In a process of its own, whose surroundings are odd.
int in_a_child(const std::function<bool()>& holds) {
    const pid_t child = fork();
    if (child == 0) _exit(holds() ? 0 : 1);
    int status = 0;
    waitpid(child, &status, 0);
    return status;
}

TEST(Darkroom, WorksWithoutStandardDescriptorsAndWithSignalsSetOddly) {
    const std::string png = encoded(".png", corners(40, 30));
    EXPECT_EQ(in_a_child([&] {
                  for (const int standard : {0, 1, 2}) close(standard);
                  return open(png, "a").has_value() && open(png, "a").has_value();
              }),
              0);
    // A parent that lets the system reap its children never learns how one ended.
    EXPECT_EQ(in_a_child([&] {
                  std::signal(SIGCHLD, SIG_IGN);
                  std::signal(SIGPIPE, SIG_DFL);
                  sigset_t all;
                  sigfillset(&all);
                  sigprocmask(SIG_SETMASK, &all, nullptr);
                  return open(png, "a").has_value() && !open(png.substr(0, png.size() - 20), "a").has_value();
              }),
              0);
    // No descriptor to be had: our fault, said so, nothing worse.
    EXPECT_EQ(in_a_child([&] {
                  const rlimit few{3, 3};
                  setrlimit(RLIMIT_NOFILE, &few);
                  const auto picture = open(png, "a");
                  return !picture && picture.error().code == ProblemCode::kOurFault;
              }),
              0);
}

// A few bytes that unpack to very many zeros.
std::string zlib_zeros(std::size_t size) {
    // Fixed Huffman codes (RFC 1951, 3.2.6): a zero byte, then copies of 258 bytes from one byte back.
    std::string out = "\x78\x01";
    std::uint32_t bits = 0;
    int have = 0;
    const auto put = [&](std::uint32_t value, int count) {
        bits |= value << have;
        for (have += count; have >= 8; have -= 8, bits >>= 8) out += static_cast<char>(bits & 0xFF);
    };
    put(1, 1), put(1, 2);  // last block, fixed codes
    put(0x0C, 8);          // literal 0, code 00110000, first bit first
    for (std::size_t made = 1; made < size; made += 258) {
        put(0xA3, 8);  // length 258, code 11000101
        put(0, 5);     // distance 1
    }
    put(0, 7), put(0, 7);  // end of block, and out with the rest
    return out + big(0, 4);
}

TEST(Darkroom, SurvivesFilesThatUnpackToMuchMoreThanTheySayUnder600Megabytes) {
    // PNG: 4 x 4 pixels, and 30 MB behind them; the pixels are there, what follows is left.
    const auto ihdr = [](std::uint32_t width, std::uint32_t height, char bits, char interlaced) {
        return std::string("\x89PNG\r\n\x1A\n") +
               png_chunk("IHDR", big(width, 4) + big(height, 4) + bits + '\2' + '\0' + '\0' + interlaced);
    };
    const std::string much = zlib_zeros(30'000'000);
    ASSERT_LT(much.size(), 200'000u);
    const std::string end = png_chunk("IEND", "");
    EXPECT_EQ(line_of(ihdr(4, 4, 8, 0) + png_chunk("IDAT", much) + end), "a picture");
    // A profile of 30 MB is left aside.
    const std::string profile =
        png_with(encoded(".png", corners(8, 8)), png_chunk("iCCP", std::string("p\0\0", 3) + much));
    EXPECT_EQ(line_of(profile), "a picture");
    // 59 megapixels of nothing, in 16 bits and interlaced: 354 MB beside the picture of 177, of which 30 MB come.
    EXPECT_EQ(line_of(ihdr(10000, 5900, 16, 1) + png_chunk("IDAT", much) + end), kTorn);

    // TIFF: 40 x 40 pixels in a tile of a million by a million, and of more than there are numbers.
    const auto entry = [](std::uint32_t tag, std::uint32_t type, std::uint32_t value) {
        return little(tag, 2) + little(type, 2) + little(1, 4) + little(value, 4);
    };
    const auto tiff = [&](std::uint32_t tile_width, std::uint32_t tile_height) {
        constexpr std::uint32_t kShort = 3, kLong = 4;
        const std::string data = much.substr(0, 1000);
        return "II" + little(42, 2) + little(8 + 1000, 4) + data + little(10, 2) + entry(0x100, kLong, 40) +
               entry(0x101, kLong, 40) + entry(0x102, kShort, 8) + entry(0x103, kShort, 8) +
               entry(0x106, kShort, 1) + entry(0x115, kShort, 1) + entry(0x142, kLong, tile_width) +
               entry(0x143, kLong, tile_height) + entry(0x144, kLong, 8) + entry(0x145, kLong, 1000) + little(0, 4);
    };
    EXPECT_EQ(line_of(tiff(1'000'000, 1'000'000)), kTooMuch);
    EXPECT_EQ(line_of(tiff(0xFFFFFFF0, 0xFFFFFFF0)), kTorn);
    EXPECT_EQ(line_of(tiff(16, 0)), kTorn);

    // WebP: the header of a large picture before the data of a small one, and the reverse.
    const std::string webp = encoded(".webp", corners(96, 48)).substr(12);
    EXPECT_EQ(line_of(webp_file(webp_extended(0, 7000, 7000) + webp)), kTorn);
    EXPECT_EQ(line_of(webp_file(webp_extended(0, 4, 4) + webp)), kTorn);
    // JPEG: a frame of 55 megapixels over the data of a small one.
    std::string jpeg = encoded(".jpg", corners(64, 64));
    jpeg.replace(jpeg.find("\xFF\xC0") + 5, 4, big(5500, 2) + big(10000, 2));
    EXPECT_EQ(line_of(jpeg), kTorn);
    // A progressive one whose scans never end.
    std::string endless = encoded(".jpg", noise(64, 64), {cv::IMWRITE_JPEG_PROGRESSIVE, 1});
    const std::size_t scan = endless.rfind("\xFF\xDA"), last = endless.size() - 2;
    const std::string again = endless.substr(scan, last - scan);
    for (int i = 0; i < 300; ++i) endless.insert(last, again);
    EXPECT_EQ(line_of(endless), kTorn);
    // HEIC: the box says small, the coded picture is large.
    std::string heic = heic_of(corners(256, 128));
    heic.replace(heic.find("ispe") + 8, 8, big(64, 4) + big(64, 4));
    EXPECT_EQ(line_of(heic), kTorn);
    rusage children{};  // the largest of them
    getrusage(RUSAGE_CHILDREN, &children);
    EXPECT_LT(children.ru_maxrss, 600'000);  // kB
}

}  // namespace
}  // namespace footring::photo
