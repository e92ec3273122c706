// fuzz/holds.h - a law that a fuzz target checks: stops the run, and says which, when it does not hold.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdio>
#include <cstdlib>

#define HOLDS(law)                                             \
    do {                                                       \
        if (!(law)) {                                          \
            std::fprintf(stderr, "does not hold: %s\n", #law); \
            std::abort();                                      \
        }                                                      \
    } while (false)
