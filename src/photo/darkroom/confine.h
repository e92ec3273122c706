// photo/darkroom/confine.h - what the darkroom gives up before it reads a byte of a photograph.
//   Memory, time, files, processes and network are limited by setrlimit(2); an allow-list of system calls
//   (seccomp(2)) leaves memory, exit and little else: no open, no socket, no exec, no fork. A refused call fails
//   with EACCES instead of killing, as libraries ask for things that they can do without. errors  false when the
//   system does not grant a limit: then nothing may be read
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>

#include "photo/darkroom/exchange.h"

namespace footring::photo::darkroom {

struct Limits {
    std::uint64_t memory;   // bytes of address space, all told
    std::uint64_t output;   // bytes of the largest file it may make, which is its answer
    std::uint64_t seconds;  // of processor time
    bool threads = false;   // libheif's HEVC decoder starts one, and waits for ever when it may not
};
Limits limits_for(const Request&, std::uint64_t input_size);
bool confine(const Limits&);

}  // namespace footring::photo::darkroom
