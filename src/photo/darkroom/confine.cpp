// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/confine.h"

#include <sched.h>
#include <seccomp.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>

#include <algorithm>
#include <cerrno>
#include <memory>

namespace footring::photo::darkroom {

namespace {

constexpr std::uint64_t kSeconds = 20;
// Program and libraries (60 MB), heap, stack (8 MB) and what libheif's codecs keep in store.
constexpr std::uint64_t kBase = 160'000'000, kHeifBase = 320'000'000, kMostMemory = 1'000'000'000;

bool limit(__rlimit_resource what, std::uint64_t most) {
    const rlimit both{most, most};
    return setrlimit(what, &both) == 0;
}

bool filter(bool threads) {
    const std::unique_ptr<void, void (*)(void*)> context(seccomp_init(SCMP_ACT_ERRNO(EACCES)), [](void* c) {
        if (c != nullptr) seccomp_release(c);
    });
    if (!context) return false;
    bool ok = true;
    const auto allow = [&](std::initializer_list<int> calls) {
        for (const int call : calls) ok = ok && seccomp_rule_add(context.get(), SCMP_ACT_ALLOW, call, 0) == 0;
    };
    allow({SCMP_SYS(brk),
           SCMP_SYS(munmap),
           SCMP_SYS(mremap),
           SCMP_SYS(madvise),
           SCMP_SYS(ftruncate),
           SCMP_SYS(futex),
           SCMP_SYS(exit),
           SCMP_SYS(exit_group),
           SCMP_SYS(rt_sigreturn),
           SCMP_SYS(rt_sigprocmask),
           SCMP_SYS(clock_gettime),
           SCMP_SYS(gettimeofday),
           SCMP_SYS(time),
           SCMP_SYS(getpid),
           SCMP_SYS(gettid),
           SCMP_SYS(sched_yield),
           SCMP_SYS(sched_getaffinity),
           SCMP_SYS(getrandom),
           SCMP_SYS(sysinfo),
           SCMP_SYS(restart_syscall),
           SCMP_SYS(close)});
    // tgkill to itself, so that abort() ends it at once; to others it is refused by their owner or not there.
    allow({SCMP_SYS(tgkill)});
    // New memory never holds code.
    for (const int call : {SCMP_SYS(mmap), SCMP_SYS(mprotect)})
        ok = ok && seccomp_rule_add(context.get(), SCMP_ACT_ALLOW, call, 1,
                                    SCMP_A2(SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)) == 0;
    if (threads) {
        allow({SCMP_SYS(set_robust_list), SCMP_SYS(rseq)});
        ok = ok && seccomp_rule_add(context.get(), SCMP_ACT_ALLOW, SCMP_SYS(clone), 1,
                                    SCMP_A0(SCMP_CMP_MASKED_EQ, CLONE_THREAD, CLONE_THREAD)) == 0;
        // clone3 hides its flags in memory, where no filter can see them; told that there is no such call, the C
        // library takes clone.
        ok = ok && seccomp_rule_add(context.get(), SCMP_ACT_ERRNO(ENOSYS), SCMP_SYS(clone3), 0) == 0;
    }
    return ok && seccomp_load(context.get()) == 0;
}

}  // namespace

Limits limits_for(const Request& request, std::uint64_t input_size) {
    const auto pixels = static_cast<std::uint64_t>(std::max(request.width, 1)) *
                        static_cast<std::uint64_t>(std::max(request.height, 1));
    const bool heif = request.format == Format::kHeif;
    // Three bytes for the picture and eight to work with: the coefficients of a progressive JPEG in four inks, the
    // whole of an interlaced PNG in 16 bits, the planes of a HEIC beside its colours.
    const std::uint64_t wanted = (heif ? kHeifBase : kBase) + input_size + 11 * pixels;
    return {std::min(wanted, kMostMemory), kPixelsAt + 3 * pixels, kSeconds, heif};
}

bool confine(const Limits& limits) {
    if (prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0) return false;
    prctl(PR_SET_DUMPABLE, 0, 0, 0, 0);
    // Of processes the user may have many: zero forbids new ones, threads too, save to root, whom the filter stops.
    return limit(RLIMIT_CORE, 0) && limit(RLIMIT_CPU, limits.seconds) && limit(RLIMIT_FSIZE, limits.output) &&
           limit(RLIMIT_NOFILE, 0) && (limits.threads || limit(RLIMIT_NPROC, 0)) &&
           limit(RLIMIT_AS, limits.memory) && filter(limits.threads);
}

}  // namespace footring::photo::darkroom
