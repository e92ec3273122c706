// SPDX-License-Identifier: Apache-2.0
// footring-darkroom: decodes one photograph and ends. Started by photo/open.cpp, which says in photo/darkroom/
// exchange.h what it finds on its descriptors; it is of no use on a terminal, save to prove its confinement:
//   footring-darkroom --try DEED    ends with 0 when the deed was refused or stopped, 1 when it could be done
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <cstring>

#include "photo/darkroom/confine.h"
#include "photo/darkroom/decode.h"
#include "photo/darkroom/try.h"

using namespace footring::photo;
using namespace footring::photo::darkroom;

namespace {

struct Mapped {
    void* at = MAP_FAILED;
    std::size_t size = 0;
    explicit operator bool() const { return at != MAP_FAILED; }
};
Mapped map_input() {
    struct stat about {};
    if (fstat(kInput, &about) != 0 || about.st_size <= 0) return {};
    const auto size = static_cast<std::size_t>(about.st_size);
    return {mmap(nullptr, size, PROT_READ, MAP_PRIVATE, kInput, 0), size};
}
// Grows the answer's file so that the pixels fit, and maps them.
std::uint8_t* map_pixels(std::size_t bytes) {
    if (ftruncate(kOutput, static_cast<off_t>(kPixelsAt + bytes)) != 0) return nullptr;
    void* const at = mmap(nullptr, bytes, PROT_READ | PROT_WRITE, MAP_SHARED, kOutput, kPixelsAt);
    return at == MAP_FAILED ? nullptr : static_cast<std::uint8_t*>(at);
}

int develop() {
    prctl(PR_SET_PDEATHSIG, SIGKILL, 0, 0, 0);  // whoever waited for the answer is gone
    const Mapped input = map_input();
    void* const front = mmap(nullptr, kPixelsAt, PROT_READ | PROT_WRITE, MAP_SHARED, kOutput, 0);
    if (!input || front == MAP_FAILED) return 2;
    Request request;
    std::memcpy(&request, front, sizeof request);
    Answer answer;
    const bool ready = prepare(request.format) && confine(limits_for(request, input.size));
    if (ready) answer = decode(request, {static_cast<const char*>(input.at), input.size}, map_pixels);
    else answer.outcome = Outcome::kOurFault;
    std::memcpy(static_cast<std::uint8_t*>(front) + kAnswerAt, &answer, sizeof answer);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc == 3 && std::string_view(argv[1]) == "--try") return try_deed(argv[2]);
    const int status = argc == 1 ? develop() : 2;
    if (status != 0) std::fputs("footring-darkroom: it was started by hand: start footring instead\n", stderr);
    // Destructors of libraries would only give back memory that goes with the process.
    _exit(status);
}
