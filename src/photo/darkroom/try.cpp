// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/try.h"

#include <fcntl.h>
#include <pthread.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <functional>
#include <map>
#include <string>

#include "photo/darkroom/confine.h"

namespace footring::photo::darkroom {

namespace {

bool opens() { return open("/dev/null", O_RDONLY) >= 0; }
bool connects() { return socket(AF_UNIX, SOCK_STREAM, 0) >= 0; }
bool executes() {
    // `true` ends with 0; only a failed exec comes back, and then nothing was done.
    char name[] = "/bin/false";
    char* arguments[] = {name, nullptr};
    execv(name, arguments);
    return false;
}
bool forks() {
    const pid_t child = fork();
    if (child == 0) _exit(0);
    if (child > 0) waitpid(child, nullptr, 0);
    return child > 0;
}
bool starts_a_thread() {
    pthread_t thread;
    if (pthread_create(
            &thread, nullptr, [](void* nothing) { return nothing; }, nullptr) != 0)
        return false;
    pthread_join(thread, nullptr);
    return true;
}
bool signals_its_parent() { return kill(getppid(), 0) == 0; }
bool makes_code() {
    return mmap(nullptr, 4096, PROT_READ | PROT_WRITE | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0) !=
           MAP_FAILED;
}
bool takes_memory() {
    return mmap(nullptr, 2'000'000'000, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1,
                0) != MAP_FAILED;
}
bool writes() { return write(STDERR_FILENO, "", 0) == 0; }

std::map<std::string_view, std::function<bool()>> deeds() {
    return {{"open", opens},      {"socket", connects},        {"exec", executes},
            {"fork", forks},      {"thread", starts_a_thread}, {"kill", signals_its_parent},
            {"code", makes_code}, {"memory", takes_memory},    {"write", writes}};
}

}  // namespace

int try_deed(std::string_view deed) {
    constexpr std::string_view kBare = "bare-";
    const bool bare = deed.starts_with(kBare);
    if (bare) deed.remove_prefix(kBare.size());
    const auto all = deeds();
    const auto found = all.find(deed);
    if (found == all.end()) return 2;
    Request request;
    request.width = request.height = 100;
    if (!bare && !confine(limits_for(request, 1000))) return 2;
    return found->second() ? 1 : 0;
}

}  // namespace footring::photo::darkroom
