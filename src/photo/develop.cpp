// SPDX-License-Identifier: Apache-2.0
#include "photo/develop.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <spawn.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstring>
#include <thread>
#include <utility>

#include "photo/darkroom/exchange.h"

namespace footring::photo {

namespace {

using darkroom::Answer, darkroom::Outcome, darkroom::Request;
using Clock = std::chrono::steady_clock;

class Descriptor {
  public:
    explicit Descriptor(int number) : number_(number) {}
    ~Descriptor() {
        if (number_ >= 0) close(number_);
    }
    Descriptor(Descriptor&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    Descriptor& operator=(Descriptor&&) = delete;
    int number() const { return number_; }
    explicit operator bool() const { return number_ >= 0; }

  private:
    int number_;
};

std::unexpected<Problem> our_fault(std::string_view where, std::string what) {
    return fail(ProblemCode::kOurFault, std::string(where), std::move(what),
                "try again; if it stays so, start footring anew, or build it again");
}
std::unexpected<Problem> bad(std::string_view where, std::string what, std::string remedy) {
    return fail(ProblemCode::kBadInput, std::string(where), std::move(what), std::move(remedy));
}

// A file that lives in memory. Its number is above 2, so that it can be moved onto 0, 1 and 2 in any order even
// when the program was started without these.
Descriptor memory_file(const char* name) {
    const Descriptor any(memfd_create(name, MFD_CLOEXEC));
    return Descriptor(any ? fcntl(any.number(), F_DUPFD_CLOEXEC, 3) : -1);
}
bool write_all(int to, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = write(to, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

std::string program_beside_this_one() {
    std::string path(4096, '\0');
    const ssize_t length = readlink("/proc/self/exe", path.data(), path.size());
    path.resize(length > 0 ? static_cast<std::size_t>(length) : 0);
    return path.substr(0, path.rfind('/') + 1) + "footring-darkroom";
}

// Starts it with nothing of ours but the two files: no other descriptor, no environment, every signal as usual.
int spawn(pid_t& child, const std::string& program, const std::vector<std::string>& arguments, int input,
          int output) {
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    if (const int error = posix_spawn_file_actions_init(&actions); error != 0) return error;
    if (const int error = posix_spawnattr_init(&attributes); error != 0) {
        posix_spawn_file_actions_destroy(&actions);
        return error;
    }
    sigset_t all, none;
    sigfillset(&all);
    sigemptyset(&none);
    int error = 0;
    const auto step = [&](int status) {
        if (error == 0) error = status;
    };
    step(posix_spawn_file_actions_adddup2(&actions, input, darkroom::kInput));
    step(posix_spawn_file_actions_adddup2(&actions, output, darkroom::kOutput));
    step(posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0));
    step(posix_spawn_file_actions_addclosefrom_np(&actions, STDERR_FILENO + 1));
    step(posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSIGMASK));
    step(posix_spawnattr_setsigdefault(&attributes, &all));
    step(posix_spawnattr_setsigmask(&attributes, &none));
    std::string name = program;
    std::vector<std::string> words = arguments;
    std::vector<char*> argv = {name.data()};
    for (std::string& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    char* environment[] = {nullptr};
    if (error == 0) error = posix_spawn(&child, program.c_str(), &actions, &attributes, argv.data(), environment);
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return error;
}

// How a process ended, as waitpid(2) puts it; -1 when it had to be killed for being late.
int wait_for(pid_t child, Clock::time_point deadline) {
    const Descriptor ends(static_cast<int>(syscall(SYS_pidfd_open, child, 0)));
    int status = 0;
    for (;;) {
        const pid_t got = waitpid(child, &status, WNOHANG);
        if (got == child) return status;
        if (got < 0 && errno != EINTR) return 0;  // somebody else waited for it: the answer will tell
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(deadline - Clock::now()).count();
        if (left <= 0) break;
        // Where a container forbids pidfd_open(2), looking every millisecond does as well.
        pollfd watched{ends.number(), POLLIN, 0};
        if (ends) poll(&watched, 1, static_cast<int>(left) + 1);
        else std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    kill(child, SIGKILL);
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    return -1;
}

constexpr const char* kAnew = "save it anew as JPEG and send that";

std::unexpected<Problem> too_long(std::string_view where) {
    return bad(where, "decoding the photograph takes longer than is allowed", "make a smaller copy and send that");
}
std::unexpected<Problem> refused(Outcome outcome, int status, std::string_view where) {
    switch (outcome) {
        case Outcome::kTorn:
            return bad(where, "the photograph is torn: it ends too early, or its data are damaged",
                       "copy it from the camera again");
        case Outcome::kNoMemory:
            return bad(where, "decoding the photograph takes more memory than is allowed",
                       "make a smaller copy and send that");
        case Outcome::kMoving:
            return bad(where, "this is a moving picture", "send a still photograph");
        case Outcome::kNotRead:
            return bad(where, "the photograph keeps its colours in a way that is not read here", kAnew);
        case Outcome::kOurFault:
            return our_fault(where, "the system does not let footring-darkroom confine itself");
        case Outcome::kUnfinished:
        case Outcome::kDone:
            break;
    }
    if (WIFSIGNALED(status) && (WTERMSIG(status) == SIGXCPU || WTERMSIG(status) == SIGKILL)) return too_long(where);
    if (WIFEXITED(status) && WEXITSTATUS(status) == 127)
        return our_fault(where, "footring-darkroom could not be started");
    return bad(where, "the photograph could not be decoded: its data are damaged, or made to do harm", kAnew);
}

std::vector<std::string> sentences(std::uint32_t notes) {
    std::vector<std::string> out;
    if ((notes & darkroom::kFirstOfSeveral) != 0)
        out.emplace_back("The file holds several pictures: the first was taken.");
    if ((notes & darkroom::kProfileUnusable) != 0)
        out.emplace_back("The colour profile of the photograph cannot be used: its colours are taken for sRGB.");
    if ((notes & darkroom::kInksWithoutProfile) != 0)
        out.emplace_back(
            "The photograph is in printing inks without a usable profile: its colours are approximate.");
    return out;
}

// The pixels stay where the darkroom wrote them. It has ended: nobody else can write or cut the file.
Expected<Developed> take(int file, const ImageHeader& header, int status, std::string_view where) {
    Answer a;
    if (pread(file, &a, sizeof a, darkroom::kAnswerAt) != static_cast<ssize_t>(sizeof a)) a = {};
    if (a.outcome != Outcome::kDone || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
        return refused(a.outcome == Outcome::kDone ? Outcome::kUnfinished : a.outcome, status, where);
    struct stat about {};
    const bool sane = a.width >= 1 && a.height >= 1 && a.width <= a.full_width && a.height <= a.full_height &&
                      a.full_width <= kMostPixels / a.full_height && fstat(file, &about) == 0;
    const auto size = darkroom::kPixelsAt + std::size_t{3} * static_cast<std::size_t>(sane ? a.width : 0) *
                                                static_cast<std::size_t>(sane ? a.height : 0);
    if (!sane || static_cast<std::size_t>(about.st_size) < size) return refused(Outcome::kUnfinished, 0, where);
    void* const at = mmap(nullptr, size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_POPULATE, file, 0);
    if (at == MAP_FAILED)
        return our_fault(where, fmt::format("there is no memory for it ({})", std::strerror(errno)));
    Developed out;
    Picture& picture = out.picture;
    picture.keeps = std::shared_ptr<void>(at, [size](void* memory) { munmap(memory, size); });
    picture.bgr = cv::Mat(a.height, a.width, CV_8UC3, static_cast<char*>(at) + darkroom::kPixelsAt);
    picture.type = mime_of(header.format);
    picture.notes = sentences(a.notes);
    if (a.focal_35mm > 0) {
        constexpr double kDiagonal35 = 43.27;  // mm, of 36 x 24
        picture.focal_px = a.focal_35mm / kDiagonal35 * std::hypot(a.width, a.height);
    }
    out.full_width = a.full_width;
    out.full_height = a.full_height;
    return out;
}

}  // namespace

Expected<Developed> develop(std::string_view bytes, const ImageHeader& header, std::string_view where,
                            const DarkroomOptions& options) {
    const auto deadline = Clock::now() + options.patience;
    const Descriptor input = memory_file("photograph"), output = memory_file("pixels");
    Request request;
    request.format = header.format;
    request.width = static_cast<std::int32_t>(header.width);
    request.height = static_cast<std::int32_t>(header.height);
    request.orientation = header.orientation;
    request.longest = options.longest;
    const auto place = [&](std::string_view part, std::uint64_t& at, std::uint64_t& size) {
        if (!part.empty()) at = static_cast<std::uint64_t>(part.data() - bytes.data()), size = part.size();
    };
    place(header.exif, request.exif_at, request.exif_size);
    place(header.icc, request.icc_at, request.icc_size);
    std::string front(darkroom::kPixelsAt, '\0');
    std::memcpy(front.data(), &request, sizeof request);
    if (!input || !output || !write_all(input.number(), bytes) || !write_all(output.number(), front))
        return our_fault(where, fmt::format("there is no memory for it ({})", std::strerror(errno)));
    const std::string program = options.program.empty() ? program_beside_this_one() : options.program;
    pid_t child = -1;
    if (const int error = spawn(child, program, options.arguments, input.number(), output.number()); error != 0)
        return our_fault(where, fmt::format("{} cannot be started ({})", program, std::strerror(error)));
    const int status = wait_for(child, deadline);
    if (status == -1) return too_long(where);
    return take(output.number(), header, status, where);
}

}  // namespace footring::photo
