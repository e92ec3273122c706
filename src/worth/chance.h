// worth/chance.h - numbers drawn at random, the same on every machine for the same seed.
//   (The distributions of <random> may differ between libraries; the engine may not.)
//   source  splitmix64: Steele, Lea and Flood, OOPSLA 2014; normal numbers: Box and Muller, 1958
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>

namespace footring::worth {

class Chance {
  public:
    explicit Chance(std::uint64_t seed) : state_(seed) {}

    std::uint64_t bits() {
        std::uint64_t z = (state_ += 0x9E3779B97F4A7C15u);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
        return z ^ (z >> 31);
    }
    double uniform() { return (static_cast<double>(bits() >> 11) + 0.5) * 0x1p-53; }  // in (0, 1)
    double normal() {
        if (kept_) {
            kept_ = false;
            return other_;
        }
        const double r = std::sqrt(-2 * std::log(uniform())), angle = 2 * std::numbers::pi * uniform();
        other_ = r * std::sin(angle);
        kept_ = true;
        return r * std::cos(angle);
    }

  private:
    std::uint64_t state_;
    bool kept_ = false;
    double other_ = 0;
};

}  // namespace footring::worth
